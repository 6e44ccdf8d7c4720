"""Flank, edge in use, tool height: first principles and limiting cases."""

import math
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as ShapelyPoint
from shapely.ops import unary_union

from calc.contour import Arc, Chain, Element, Line, Point, Vector
from calc.machining.reach.angles import margins_at
from calc.machining.reach.engagement import most_engaged
from calc.machining.reach.examine import Cutter, Reach, cutter_of, examine, held_cutter
from calc.machining.reach.findings import Finding
from calc.machining.reach.formulas import (
    diameter_off_centre,
    edge_in_use,
    least_bore,
    least_hollow_radius,
    pip_diameter,
)
from calc.machining.reach.limits import Flank, edge_finding, flank_finding, flank_remark, hollow_radius, round_finding
from calc.machining.reach.tool import Hold, make_tool
from calc.machining.reach.work import Work
from calc.tool.holder import read_holder
from calc.tool.insert import read_insert
from calc.tool.insert.tables import clearances, shapes
from tests.machining.reach.seats import cutter, seat_work


def finding_of(found: Reach, check: str) -> Finding:
    return next(each for each in found.findings if each.check == check)


@given(st.floats(0.5, 15.0), st.floats(math.radians(1.0), math.radians(30.0)))
def test_in_the_smallest_bore_the_heel_of_the_flank_just_touches_the_wall(s: float, alpha: float) -> None:
    """First principles: edge at (R, 0), heel at (R - s tan(alpha), -s); both as far from the centre."""
    R = least_hollow_radius.function(s, alpha)
    heel = math.hypot(R - s * math.tan(alpha), s)
    assert heel == pytest.approx(R, rel=1e-9)
    larger = 1.01 * R
    assert math.hypot(larger - s * math.tan(alpha), s) < larger


def test_a_dish_curves_around_the_flank_with_its_own_radius_everywhere_and_a_bore_with_its() -> None:
    arc = seat_work().cut.elements[0]
    for share in (0.0, 0.3, 0.7, 0.99):
        assert hollow_radius(arc, share * arc.length, True) == pytest.approx(75.0)
    assert hollow_radius(arc, arc.length, True) is None
    bore = Line(Point(0.0, 12.0), Point(-20.0, 12.0))
    assert hollow_radius(bore, 5.0, True) == 12.0
    cone = Line(Point(0.0, 12.0), Point(-20.0, 2.0))
    assert hollow_radius(cone, 0.0, True) == pytest.approx(12.0 / math.cos(math.atan2(10.0, 20.0)))
    crown = Arc(Point(-3.0, 20.0), Point(0.0, 0.0), Point(-68.16666666666667, 0.0), "cw")
    assert hollow_radius(crown, 1.0, True) is None


@pytest.mark.parametrize(("letter", "tilt", "degrees"), [("C", None, 7), ("N", None, 6), ("N", 8.0, 8), ("P", 2.0, 13)])
def test_the_clearance_at_work_is_the_inserts_and_the_holders(letter: str, tilt: float | None, degrees: float) -> None:
    clearance = clearances()[letter].angle
    assert clearance is not None
    found = Flank(4.76, clearance, None if tilt is None else math.radians(tilt)).angle
    assert math.degrees(found) == pytest.approx(degrees)
    special = Cutter(shapes()["C"], 0.4, 9.525, thickness=3.97, clearance=clearances()["O"])
    assert special.flank() is None


def test_a_thick_insert_is_stopped_by_a_small_hollow() -> None:
    found, least = flank_finding(seat_work(), Flank(4.7625, 0.0))
    assert found.verdict == "passes"
    assert least == pytest.approx(22.906, abs=5e-4)
    found, least = flank_finding(seat_work(), Flank(4.7625, 0.0, math.radians(1.5)))
    assert least is not None
    assert least > 75.0
    assert found.verdict == "stops"
    assert found.message is not None
    assert "R75.000 mm around the flank" in found.message.say()


BORES = [
    ("CCMT 060204", "S10K-SCLCR06", 14.0, 12.0),
    ("CCMT 09T304", "S16R-SCLCR09", 25.0, 19.0),
    ("CNMG 120408", "A25T-PCLNR12", 40.0, 29.5),
]


def bored(diameter: float) -> Work:
    return Work(Chain((Line(Point(0.0, diameter / 2), Point(-20.0, diameter / 2)),)), ("the bore",), range(1), "left")


@pytest.mark.parametrize(("insert", "holder", "bore", "least"), BORES)
def test_a_bar_bores_what_it_fits_into_though_its_tilt_is_not_known(
    insert: str, holder: str, bore: float, least: float
) -> None:
    """Bars are ground and tip their insert for their own smallest bore: common practice, no source."""
    held = held_cutter(read_insert(insert), read_holder(holder), 0.4)
    flank = held.flank()
    assert flank is not None
    assert (flank_finding(bored(bore), flank)[0].verdict, flank.bar_bore) == ("passes", least)
    assert f"Ø{least:.3f} mm, so that decides" in flank_remark(flank).say()
    assert flank_finding(bored(least - 0.5), flank)[0].verdict == "tight"


def test_a_tilt_that_is_known_decides_alone() -> None:
    """3.97 thick, 7 degrees and no tilt: 3.96875 / sin 14 degrees, a bore of 32.8; with 5 more, 3.96875 / sin 24."""
    held = held_cutter(read_insert("CCMT 09T304"), read_holder("S16R-SCLCR09"), 0.4)
    for tilt, verdict, bore in ((0.0, "stops", 32.810), (5.0, "passes", 19.515)):
        flank = held.flank(math.radians(tilt))
        assert flank is not None
        finding, least = flank_finding(bored(25.0), flank)
        assert finding.verdict == verdict
        assert 2 * (least or 0.0) == pytest.approx(bore, abs=5e-4)


def test_a_tilt_that_is_only_assumed_stops_no_holder() -> None:
    held = cutter_of(read_insert("CCMT 09T304"), 0.4, Hold(math.radians(95.0)), None)
    flank = held.flank()
    assert flank is not None
    finding, _ = flank_finding(bored(25.0), flank)
    assert finding.verdict == "tight"
    assert finding.message is not None
    assert "enter its tilt" in finding.message.say()
    assert "tipped by 0°, usual in holders" in flank_remark(flank).say()


SHOULDER = Chain((Line(Point(0.0, 15.0), Point(-50.0, 15.0)), Line(Point(-50.0, 15.0), Point(-50.0, 25.0))))


@pytest.mark.parametrize(
    ("insert", "holder"),
    [("CNMG 120408", "PCLNR 2525M12"), ("DNMG 150608", "PDJNR 2525M15"), ("VNMG 160404", "MVJNR 2525M16"),
     ("VBMT 160404", "SVJBR 2525M16")],
)  # fmt: skip
@pytest.mark.parametrize("shoulder", [25.0, 60.0])
def test_a_cylinder_up_to_a_shoulder_takes_the_depth_of_the_edge_and_no_more(
    insert: str, holder: str, shoulder: float
) -> None:
    """First principles: 2 mm deep along the cylinder, an edge at 95 or 93 degrees: 2 / sin of it."""
    high = Chain((SHOULDER.elements[0], Line(Point(-50.0, 15.0), Point(-50.0, shoulder))))
    work = Work(high, ("the cylinder", "the shoulder"), range(2), "right")
    held = cutter(insert, holder)
    assert held.hold is not None
    found = examine(work, held, 2.0)
    assert found.used_edge == pytest.approx(2.0 / math.sin(held.hold.entering_angle), abs=1e-9)
    assert finding_of(found, "edge length").verdict == "passes"
    assert found.stopped_by is None


@pytest.mark.parametrize(("depth", "verdict"), [(2.0, "passes"), (7.0, "tight"), (12.0, "stops")])
def test_the_edge_in_use_grows_with_the_depth_until_the_edge_ends(depth: float, verdict: str) -> None:
    """Depth over sine of the entering angle, 75 degrees. Usable half: common practice, no source."""
    work = Work(Chain((Line(Point(0.0, 30.0), Point(-50.0, 30.0)),)), ("the cylinder",), range(1), "right")
    tool = make_tool(shapes()["D"], 9.525, 0.4, Hold(math.radians(75.0)), None)
    finding, used = edge_finding(work, "D", 11.6, depth, most_engaged(work, tool, depth))
    assert used == pytest.approx(depth / math.sin(math.radians(75.0)))
    assert finding.verdict == verdict
    assert (finding.message is None) == (verdict == "passes")


def test_an_edge_that_stands_clear_nowhere_stops() -> None:
    finding, used = edge_finding(seat_work(), "D", 11.6, 1.0, None)
    assert finding.verdict == "stops"
    assert math.isinf(used)


@pytest.mark.parametrize("seed", range(20))
def test_the_edge_in_the_stock_is_what_a_geometry_library_cuts_out_of_the_layer(seed: int) -> None:
    """Shapely: the layer as an area between two fine polylines, the edge as a line from many places of the contour."""
    chance = Random(seed)
    chain = random_shaft(chance)
    work = Work(chain, tuple("x" * len(chain)), range(len(chain)), "right")
    tool = make_tool(shapes()[chance.choice("CDVS")], 12.7, 0.4, Hold(math.radians(chance.uniform(60.0, 100.0))), None)
    depth = chance.uniform(0.3, 2.0)
    found = most_engaged(work, tool, depth)
    assert found is not None
    assert tool.high is not None
    layer = unary_union([swept_up(element, depth) for element in chain]).buffer(1e-6)
    most = 0.0
    for element in chain:
        for share in range(41):
            s = element.length * share / 40
            if margins_at(tool, element.heading_at(s), "right")[0] > 1e-9:
                most = max(most, stays_in(layer, element.point_at(s), tool.high))
    assert found.length >= most - 2e-2
    element = chain.elements[found.of]
    near = [element.point_at(element.locate(found.at) + step) for step in (-1e-4, 0.0, 1e-4)]
    assert max(stays_in(layer, place, tool.high) for place in near) == pytest.approx(found.length, abs=1e-2)


def swept_up(element: Element, depth: float) -> Polygon:
    points = [element.point_at(element.length * share / 200) for share in range(201)]
    return Polygon([*points, *(point.shifted(0.0, depth) for point in reversed(points))]).buffer(0)


def stays_in(layer: Polygon, start: Point, heading: float) -> float:
    line = LineString([start, start.moved(Vector.at_angle(heading), 60.0)])
    inside = line.intersection(layer)
    parts = getattr(inside, "geoms", [inside])
    return max((part.length for part in parts if part.distance(ShapelyPoint(start)) < 1e-5), default=0.0)


def random_shaft(chance: Random) -> Chain:
    """Cylinders, tapers and arcs toward the chuck, rising and falling gently, with a shoulder now and then."""
    at = Point(0.0, chance.uniform(20.0, 30.0))
    made: list[Element] = []
    for _ in range(chance.randint(2, 6)):
        step = Point(at.z - chance.uniform(3.0, 15.0), at.r + chance.uniform(-2.0, 4.0))
        if chance.random() < 0.3:
            made.append(Arc.from_radius(at, step, 20.0 + 2.0 * at.distance_to(step), chance.choice(["cw", "ccw"])))
        else:
            made.append(Line(at, step))
        at = step
        if chance.random() < 0.4:
            made.append(Line(at, at.shifted(0.0, chance.uniform(1.0, 8.0))))
            at = made[-1].end
    return Chain(tuple(made))


def test_a_round_insert_goes_at_most_half_its_diameter_deep() -> None:
    assert [round_finding(12.0, depth).verdict for depth in (4.8, 4.9, 6.0, 6.1)] == [
        "passes", "tight", "tight", "stops",
    ]  # fmt: skip


@given(st.floats(0.001, 200.0), st.floats(-5.0, 5.0))
def test_off_the_centre_height_the_diameter_is_that_of_the_distance_from_the_axis(D: float, e: float) -> None:
    assert diameter_off_centre.function(D, e) == pytest.approx(2 * math.hypot(D / 2, e))
    assert pip_diameter.function(e) == pytest.approx(diameter_off_centre.function(0.0, e))
    assert diameter_off_centre.function(D, e) == diameter_off_centre.function(D, -e)


def test_the_bar_needs_its_offset_and_half_itself() -> None:
    assert least_bore.function(11.0, 16.0) == 19.0
    assert edge_in_use.function(2.0, math.pi / 2) == 2.0
