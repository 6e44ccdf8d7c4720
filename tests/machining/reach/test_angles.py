"""Edges against slopes: published tool tips, first principles, symmetry."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.contour import Arc, Chain, Line, Point, Vector
from calc.machining.reach.angles import Opening, element_margins, margins_at, opening_of
from calc.machining.reach.tool import Cuts, Hold, Tool, make_tool
from calc.tool.insert.tables import shapes
from tests.machining.reach.seats import cutter, seat, seat_work

HOLDS = st.builds(
    Hold,
    st.floats(math.radians(40.0), math.radians(120.0)),
    st.sampled_from(["side", "end"]),
    st.sampled_from(["R", "L"]),
    st.booleans(),
)
ANGLES = st.sampled_from([math.radians(angle) for angle in (35, 55, 60, 80, 90)])


def wedge(hold: Hold, angle: float) -> Tool:
    return Tool(0.0, hold.low(angle), angle, (Point(0.0, 0.0),))


@pytest.mark.parametrize(
    ("angle", "entering", "dx", "dz"),
    [(80, 95.0, 0.100, 0.100), (55, 93.0, 0.866, 0.099), (55, 107.5, 0.531, 0.531), (35, 95.0, 2.072, 0.273),
     (90, 75.0, 0.225, -0.293)],
)  # fmt: skip
def test_the_insert_stands_so_that_its_sharp_corner_is_where_the_printed_factors_put_it(
    angle: float, entering: float, dx: float, dz: float
) -> None:
    """Printed catalogue 2016-17, p. R32: shift of the tip per mm of corner radius; PCLN, PDJN, PDHN, PVLN, PSBN."""
    epsilon = math.radians(angle)
    low = Hold(math.radians(entering)).low(epsilon)
    sharp = Point(0.0, 0.0).moved(Vector.at_angle(low + epsilon / 2), -1.0 / math.sin(epsilon / 2))
    tangents = Point(-1.0, -1.0)
    assert tangents.r - sharp.r == pytest.approx(dx, abs=6e-4)
    assert tangents.z - sharp.z == pytest.approx(dz, abs=6e-4)


def test_an_80_degree_insert_held_to_face_at_95_is_refused_at_the_mouth_of_the_seat() -> None:
    """Mouth slope asin(25.589 / 75) = 19.95 degrees; 5 degrees stand behind the nose: 14.95 too few."""
    slope = math.asin(math.sqrt(4.5 * (150.0 - 4.5)) / 75.0)
    assert math.degrees(slope) == pytest.approx(19.95, abs=0.005)
    tool = cutter("CNMG 120408", "PCLNR 2525M12").tool
    margins = element_margins(tool, seat().arc, "left")
    assert margins.behind == pytest.approx(math.radians(5.0) - slope, abs=1e-12)
    assert margins.behind_at == seat().arc.start
    assert tool.point_number == 3


@pytest.mark.parametrize(
    ("insert", "holder", "number"),
    [
        ("CNMG 120408", "PCLNR 2525M12", 3),
        ("DCMT 11T304", "SDJCR 2020K11", 3),
        ("VBMT 160404", "SVJBR 2525M16", 3),
        ("DCMT 11T304", "SDJCL 2020K11", 4),
        ("DCMT 11T304", "S16R-SDUCR11", 2),
        ("DCMT 11T304", "S16R-SDUCL11", 3),
        ("DCMT 11T304", "SDNCN 2020K11", 8),
    ],
)
def test_the_tool_point_is_the_one_in_use_for_such_a_tool(insert: str, holder: str, number: int) -> None:
    """Tool-point numbers: common practice, no source."""
    assert cutter(insert, holder).tool.point_number == number


@given(HOLDS, ANGLES, st.floats(-math.pi, math.pi), st.sampled_from(["left", "right"]))
def test_no_margin_is_below_zero_exactly_when_both_edges_point_away_from_the_wall(
    hold: Hold, angle: float, heading: float, side: str
) -> None:
    """First principles: an edge is in the air when it has no share toward the material."""
    tool = wedge(hold, angle)
    ahead, behind = margins_at(tool, heading, "left" if side == "left" else "right")
    air = Vector.at_angle(heading).left().times(1.0 if side == "left" else -1.0)
    low = hold.low(angle)
    shares = [Vector.at_angle(edge).dot(air) for edge in (low, low + angle)]
    if min(abs(share) for share in shares) > 1e-9:
        assert (min(ahead, behind) > 0.0) == (min(shares) > 0.0)
    assert ahead + behind + angle == pytest.approx(math.pi)
    leading = Vector.at_angle(low if side == "left" else low + angle)
    assert math.cos(ahead) == pytest.approx(leading.dot(Vector.at_angle(heading)), abs=1e-9)


@given(HOLDS, ANGLES, st.floats(-math.pi, math.pi))
def test_travelling_the_other_way_swaps_what_is_ahead_and_what_is_behind(
    hold: Hold, angle: float, heading: float
) -> None:
    tool = wedge(hold, angle)
    there, back = margins_at(tool, heading, "left"), margins_at(tool, heading + math.pi, "right")
    assert math.remainder(there[0] - back[1], math.tau) == pytest.approx(0.0, abs=1e-9)


@given(ANGLES, st.floats(math.radians(40.0), math.radians(120.0)), st.sampled_from(["side", "end"]), st.booleans())
def test_a_left_hand_tool_is_the_mirror_image_of_the_right_hand_one(
    angle: float, entering: float, cuts: str, along: bool
) -> None:
    feed: Cuts = "side" if cuts == "side" else "end"
    right = Hold(entering, feed, "R", along).low(angle)
    left = Hold(entering, feed, "L", along).low(angle)
    axis = 0.0 if along else math.pi / 2
    assert math.remainder(left - axis + (right + angle - axis), math.tau) == pytest.approx(0.0, abs=1e-9)


@given(HOLDS, ANGLES, st.floats(0.05, 1.4), st.floats(-math.pi, math.pi))
def test_the_opening_admits_what_keeps_the_margin_at_every_point(
    hold: Hold, angle: float, sweep: float, heading: float
) -> None:
    """A hollow arc: its opening against the margins at many headings along it."""
    centre = Point(0.0, 100.0)
    arc = Arc.from_angles(centre, 50.0, heading - math.pi / 2, heading - math.pi / 2 + sweep, "ccw")
    opening = opening_of(Chain((arc,)), "left")
    assert opening.width == pytest.approx(math.pi - sweep)
    tool = wedge(hold, angle)
    least = min(min(margins_at(tool, arc.heading_at(arc.length * step / 40), "left")) for step in range(41))
    if abs(least - 0.03) > 1e-6:
        assert opening.admits(hold, angle, 0.03) == (least > 0.03)


def test_a_convex_corner_takes_nothing_from_the_opening_but_a_concave_one_does() -> None:
    face, side = Line(Point(-9.0, 5.0), Point(0.0, 5.0)), Line(Point(0.0, 5.0), Point(0.0, 0.0))
    assert math.degrees(opening_of(Chain((face, side)), "left").width) == pytest.approx(90.0)
    assert math.degrees(opening_of(Chain((side.reversed(), face.reversed())), "left").width) == pytest.approx(90.0)


def test_a_round_insert_has_no_edges_that_could_cut() -> None:
    tool = make_tool(shapes()["R"], 12.0, 6.0, None, None)
    assert margins_at(tool, 1.0, "left") == (math.pi, math.pi)


def test_an_opening_narrower_than_the_insert_admits_it_in_no_hold() -> None:
    narrow = Opening(0.0, math.radians(50.0))
    assert not any(narrow.admits(Hold(math.radians(k)), math.radians(55.0), 0.0) for k in range(1, 180))


def test_the_seat_leaves_160_degrees() -> None:
    assert math.degrees(opening_of(seat_work().cut, "left").width) == pytest.approx(180.0 - 19.95, abs=0.005)
