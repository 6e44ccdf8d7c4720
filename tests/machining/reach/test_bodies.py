"""Insert and holder against the whole part, on both sides of the axis: closed forms and shapely's areas."""

import math
from itertools import pairwise
from random import Random

import pytest
from shapely.geometry import Point as ShapelyPoint
from shapely.geometry import Polygon
from shapely.ops import unary_union

from calc.contour import Arc, Chain, Line, Point
from calc.machining.reach.bodies import body_findings, nose_finding, ride_along
from calc.machining.reach.examine import Cutter, examine
from calc.machining.reach.findings import Finding
from calc.machining.reach.work import Work, dish_work
from calc.shapes.dish.bowl import DishInputs, EdgeInputs
from calc.shapes.dish.geometry import solve_dish
from tests.machining.reach.seats import cutter, seat, seat_work

TOOLS = [
    ("CNMG 120408", "PCLNR 2525M12", False),
    ("RCMT 1204M0", "SRDCN 2525M12", True),
    ("RCMT 1204M0", "SRDCN 2525M12", False),
    ("DCMT 11T304", "S16R-SDUCR11", False),
    ("DCMT 070204", "S16R-SDUCR07", False),
    ("DCMT 11T304", "SDUCR 2020K11", False),
    ("VBMT 160404", "SVJBR 2525M16", False),
    ("DCMT 11T304", "SDJCL 2020K11", True),
]


def finding(findings: tuple[Finding, ...], check: str) -> Finding:
    return next(each for each in findings if each.check == check)


def part_polygon(work: Work) -> Polygon:
    """The section of the turned part, both sides of the axis, from a fine polyline."""
    upper = [tuple(element.point_at(element.length * i / 2000)) for element in work.boundary for i in range(2001)]
    lower = [(z, -r) for z, r in reversed(upper)]
    return Polygon([*upper, *lower]).buffer(0)


def overlaps(work: Work, held: Cutter) -> dict[str, float]:
    """The largest area (mm2) that insert and holder, a hair smaller than they are, share with the part on the way."""
    part, found = part_polygon(work), {"insert": 0.0, "holder": 0.0}
    for centre in ride_along(work, held.nose).centres:
        core = [tuple(corner.shifted(*centre)) for corner in held.tool.core]
        rounded = (Polygon(core) if len(core) > 2 else ShapelyPoint(core[0])).buffer(held.nose - 1e-3, quad_segs=100)
        bodies = [Polygon([tuple(corner.shifted(*centre)) for corner in body]) for body in held.tool.holder]
        found["insert"] = max(found["insert"], rounded.intersection(part).area)
        found["holder"] = max(found["holder"], unary_union(bodies).buffer(-1e-3).intersection(part).area)
    return found


@pytest.mark.parametrize(("insert", "holder", "along"), TOOLS)
@pytest.mark.parametrize("edge", [None, 0.8])
def test_a_body_is_stopped_exactly_where_it_overlaps_the_section_of_the_part(
    insert: str, holder: str, along: bool, edge: float | None
) -> None:
    """Shapely: area that insert or holder share with the part at the same places of the nose."""
    work, held = seat_work(edge), cutter(insert, holder, along=along)
    found = list(body_findings(held.tool, work, ride_along(work, held.nose)))
    for what, area in overlaps(work, held).items():
        stopped = any(each.check.startswith(what) and each.verdict == "stops" for each in found)
        assert stopped == (area > 1e-6), what


@pytest.mark.parametrize(("insert", "holder", "hits"), [("DCMT 11T304", "S16R-SDUCR11", True),
                                                        ("DCMT 070204", "S16R-SDUCR07", False)])  # fmt: skip
def test_a_93_degree_bar_hits_the_far_wall_when_its_edge_is_longer_than_the_chord(
    insert: str, holder: str, hits: bool
) -> None:
    """The edge leaves the lowest point of the dish at 3 degrees and meets the wall again after the chord 2 R sin 3."""
    chord = 2 * 75.0 * math.sin(math.radians(3.0))
    held = cutter(insert, holder)
    assert held.edge is not None
    assert (held.edge > chord) == hits
    far = finding(examine(seat_work(), held).findings, "insert, far side of the axis")
    assert far.verdict == ("stops" if hits else "passes")
    if hits:
        assert far.element == "the dish on the far side"
        assert far.at is not None
        assert far.at.r == pytest.approx(0.0, abs=1e-9)


def test_a_round_insert_along_the_axis_passes_the_seat() -> None:
    assert examine(seat_work(0.8), cutter("RCMT 1204M0", "SRDCN 2525M12", along=True), 1.0).verdict == "passes"


def test_turning_round_the_direction_of_travel_changes_no_body() -> None:
    work, held = seat_work(0.8), cutter("DCMT 11T304", "S16R-SDUCR11")
    there, back = examine(work, held), examine(work.reversed(), held)
    for check in ("insert", "holder", "holder, far side of the axis", "insert, far side of the axis"):
        one, other = finding(there.findings, check), finding(back.findings, check)
        assert (one.verdict, one.element) == (other.verdict, other.element)
        if one.length is not None:
            assert one.length == pytest.approx(other.length, abs=1e-9)


def test_a_nose_larger_than_the_hollow_is_stopped_by_it() -> None:
    work = dish_work(seat(0.8), 30.0)
    found = nose_finding(work, 80.0, ride_along(work, 80.0))
    assert found.verdict == "stops"
    assert found.element == "the dish"


def test_a_groove_narrower_than_the_nose_stops_it_and_a_concave_corner_is_left_with_stock() -> None:
    """A groove 1 wide and 3 deep in a cylinder of radius 10; a nose of 0.4 fits it, one of 0.6 does not."""
    corners = [
        Point(-20.0, 10.0),
        Point(-6.0, 10.0),
        Point(-6.0, 7.0),
        Point(-5.0, 7.0),
        Point(-5.0, 10.0),
        Point(0.0, 10.0),
    ]
    chain = Chain(tuple(Line(a, b) for a, b in pairwise(corners)))
    names = ("the cylinder", "the left wall", "the floor", "the right wall", "the end")
    work = Work(chain, names, range(5), "left")
    fits, large = (nose_finding(work, nose, ride_along(work, nose)) for nose in (0.4, 0.6))
    assert (fits.verdict, large.verdict, large.element) == ("tight", "stops", "the left wall")


def test_a_groove_with_upright_walls_admits_no_turning_insert_and_says_which_wall() -> None:
    corners = [Point(-20.0, 10.0), Point(-16.0, 10.0), Point(-16.0, 7.0), Point(-5.0, 7.0)]
    chain = Chain(tuple(Line(a, b) for a, b in pairwise(corners)))
    work = Work(chain, ("the cylinder", "the left wall", "the floor"), range(3), "left")
    held = cutter("DCMT 11T304", "SDJCR 2020K11")
    found = examine(work.reversed(), held)
    assert found.stopped_by is None
    ahead = finding(found.findings, "edge ahead of the nose")
    assert ahead.angle == pytest.approx(math.radians(3.0))
    left_handed = cutter("DCMT 11T304", "SDJCL 2020K11")
    stop = examine(work, left_handed).stopped_by
    assert stop is not None
    assert stop.element == "the left wall"


def test_an_insert_known_by_its_angle_alone_has_edges_and_no_body() -> None:
    held = cutter("CNMG 120408", "PCLNR 2525M12")
    bare = Cutter(held.shape, held.nose, hold=held.hold)
    checks = [each.check for each in examine(seat_work(), bare).findings]
    assert checks == ["edge ahead of the nose", "edge behind the nose", "nose radius"]


@pytest.mark.parametrize("seed", range(12))
def test_on_any_dish_a_body_is_stopped_exactly_where_it_overlaps_the_part(seed: int) -> None:
    """Shapely again, on dishes of many sizes, with and without a hole, in both mounts."""
    chance = Random(seed)
    radius = chance.uniform(15.0, 120.0)
    hole = chance.choice([0.0, 0.1 * radius])
    edge = EdgeInputs(hole_diameter=hole)
    dish = solve_dish(DishInputs(radius=radius, depth=radius * chance.uniform(0.02, 0.9), edge=edge))
    work = dish_work(dish, dish.cut.start.r * chance.uniform(1.01, 1.5))
    insert, holder, _ = chance.choice(TOOLS)
    held = cutter(insert, holder, along=chance.random() < 0.5)
    found = list(body_findings(held.tool, work, ride_along(work, held.nose)))
    for what, overlap in overlaps(work, held).items():
        stopped = any(each.check.startswith(what) and each.verdict == "stops" for each in found)
        assert stopped == (overlap > 1e-6), what


def _fillet(radius: float) -> Work:
    """A cylinder, a fillet and a shoulder, the tool outside."""
    corner, over = Point(-20.0 + radius, 10.0), Point(-20.0, 10.0 + radius)
    arc = Arc(corner, over, Point(-20.0 + radius, 10.0 + radius), "cw")
    chain = Chain((Line(Point(0.0, 10.0), corner), arc, Line(over, Point(-20.0, 20.0))))
    return Work(chain, ("the cylinder", "the fillet", "the shoulder"), range(3), "right")


@pytest.mark.parametrize("off", [0.0, -1e-6, -1e-9, 1e-12, 1e-9, 1e-6])
def test_a_fillet_of_the_nose_s_own_radius_is_touched_all_at_once(off: float) -> None:
    """From first principles: the nose stands in the fillet as the same circle; rounded radii differ by nothing here."""
    work = _fillet(0.8 + off)
    assert nose_finding(work, 0.8, ride_along(work, 0.8)).verdict == "passes"


def test_a_fillet_smaller_than_the_nose_stops_it() -> None:
    work = _fillet(0.7)
    found = nose_finding(work, 0.8, ride_along(work, 0.8))
    assert (found.verdict, found.element) == ("stops", "the fillet")
