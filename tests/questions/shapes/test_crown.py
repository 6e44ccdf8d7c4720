"""The crown: a print's pad and washers, a geometry library, 50 digits, and every refusal."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from mpmath import mp, mpf
from scipy.integrate import quad
from sympy import Circle as SymCircle
from sympy import Line as SymLine
from sympy import Point as SymPoint
from sympy import Rational

from calc.contour import Arc, Line, Point, enclosed_volume
from calc.contour.tolerance import SMOOTH
from calc.language.fields import build, specs
from calc.language.given import Given
from calc.language.problems import Contradiction, Impossible, Missing, OutOfRange, Problem
from calc.questions.shapes.crown import FEATURE, solve
from calc.shapes.crown import Crown, CrownInputs, crown_results, solve_crown
from tests.tries import tries

INCH = 25.4
SPECS = {spec.name: spec for spec in specs(CrownInputs)}
# DIN 6319 form C, spherical washers, from memory: bolt, hole, outside, thickness, spherical radius (mm).
WASHERS = [
    ("M6", 6.4, 12.0, 2.3, 9.0),
    ("M8", 8.4, 17.0, 3.2, 12.0),
    ("M10", 10.5, 21.0, 4.0, 15.0),
    ("M12", 13.0, 24.0, 4.6, 17.0),
    ("M16", 17.0, 30.0, 5.3, 22.0),
    ("M20", 21.0, 36.0, 6.3, 27.0),
    ("M24", 25.0, 44.0, 8.2, 32.0),
    ("M30", 31.0, 56.0, 11.2, 41.0),
]


def refused(**values: Any) -> Problem:
    with pytest.raises(Problem) as caught:
        solve_crown(CrownInputs(**values))
    return caught.value


def test_the_pad_has_the_height_and_tangent_points_of_its_print() -> None:
    """R 2.9375 on a diameter of 2.000 with an edge radius of 1/32, inch; worked by hand with 6 digits."""
    inputs = CrownInputs(radius=2.9375 * INCH, edge_diameter=2.0 * INCH, edge_radius=INCH / 32)
    found = crown_results(solve_crown(inputs))
    assert found.height / INCH == pytest.approx(0.17545, abs=5e-6)
    assert found.edge_arc_diameter is not None
    assert found.edge_arc_diameter / INCH == pytest.approx(1.95833, abs=5e-6)
    assert found.edge_arc_z == pytest.approx(-0.16800 * INCH, abs=5e-6 * INCH)
    assert found.edge_cylinder_z == pytest.approx(-0.19746 * INCH, abs=5e-6 * INCH)


@pytest.mark.parametrize(("name", "hole", "outside", "thickness", "radius"), WASHERS)
def test_each_spherical_washer_keeps_a_rim_under_its_crown(
    name: str, hole: float, outside: float, thickness: float, radius: float
) -> None:
    """DIN 6319 form C, from memory: the sphere from hole to outside leaves a cylinder of 8 to 30 % of the thickness."""
    found = crown_results(solve_crown(CrownInputs(radius=radius, edge_diameter=outside, hole_diameter=hole)))
    assert found.hole_z is not None
    rim = (thickness - (found.hole_z + found.height)) / thickness
    assert 0.08 < rim < 0.35, name


@pytest.mark.parametrize(
    ("degrees", "height", "chord"),
    [(10, 0.00380530, 0.17431149), (60, 0.13397460, 1.0), (90, 0.29289322, 1.41421356), (180, 1.0, 2.0)],
)
def test_the_handbook_table_of_segments_is_met(degrees: int, height: float, chord: float) -> None:
    """Machinery's Handbook, "Segments of Circles for Radius = 1"; the 8 digits are recomputed from its formulas."""
    found = crown_results(solve_crown(CrownInputs(radius=100.0, edge_diameter=100.0 * chord)))
    assert found.height == pytest.approx(100.0 * height, abs=1e-6 if degrees < 180 else 1e-2)
    assert found.arc_length == pytest.approx(100.0 * math.radians(degrees) / 2, rel=1e-4 if degrees == 180 else 1e-7)


def test_the_edge_arc_touches_crown_and_outside_in_exact_arithmetic() -> None:
    """By sympy: R 15 on a diameter of 18 with an edge radius of 1 has its edge centre at radius 8, 14 away."""
    edge = solve_crown(CrownInputs(radius=15.0, edge_diameter=18.0, edge_radius=1.0)).edge
    assert edge is not None
    centres = SymCircle(SymPoint(-15, 0), 14).intersection(SymLine(SymPoint(0, 8), SymPoint(1, 8)))
    centre = max(centres, key=lambda point: point.x)
    meeting = SymPoint(-15, 0) + (centre - SymPoint(-15, 0)) * Rational(15, 14)
    assert edge.start.z == pytest.approx(float(centre.x), abs=1e-12)
    assert (edge.end.z, edge.end.r) == pytest.approx((float(meeting.x), float(meeting.y)), abs=1e-12)


radii = st.floats(math.log10(0.5), 3.6).map(lambda power: 10.0**power)
shares = st.floats(5e-3, 0.999)


@settings(max_examples=tries(120), deadline=None)
@given(radii, shares, st.floats(0.01, 0.95))
def test_the_contour_is_smooth_from_the_outside_to_the_apex(radius: float, share: float, edge_share: float) -> None:
    half = radius * share
    crown = solve_crown(CrownInputs(radius=radius, edge_diameter=2 * half, edge_radius=half * edge_share))
    assert crown.edge is not None
    assert crown.edge.tangent_at(0.0) == pytest.approx((1.0, 0.0), abs=1e-9)
    assert abs(crown.cut.joints[0].turn) <= SMOOTH
    assert crown.arc.tangent_at(crown.arc.length) == pytest.approx((0.0, -1.0), abs=1e-9)
    mp.dps = 50
    centre = (mpf(crown.edge.centre.z) + mpf(radius), mpf(crown.edge.centre.r))
    assert abs(mp.hypot(*centre) - (mpf(radius) - mpf(half * edge_share))) < 1e-9 * max(1.0, radius / 1000)


@settings(max_examples=tries(60), deadline=None)
@given(radii, shares)
def test_any_two_dimensions_give_the_third_back(radius: float, share: float) -> None:
    first = solve_crown(CrownInputs(radius=radius, edge_diameter=2 * radius * share))
    again = solve_crown(CrownInputs(radius=radius, height=first.height))
    other = solve_crown(CrownInputs(height=first.height, edge_diameter=first.edge_diameter))
    assert again.edge_diameter == pytest.approx(first.edge_diameter, rel=1e-9)
    assert other.radius == pytest.approx(radius, rel=1e-9)
    assert (first.solved, again.solved, other.solved) == ("height", "edge_diameter", "radius")


@settings(max_examples=tries(50), deadline=None)
@given(radii, shares)
def test_the_volume_is_that_of_its_slices(radius: float, share: float) -> None:
    crown = solve_crown(CrownInputs(radius=radius, edge_diameter=2 * radius * share))
    slices, _ = quad(lambda z: math.pi * (radius**2 - (radius - z) ** 2), 0.0, crown.height, epsrel=1e-12)
    assert crown_results(crown).volume == pytest.approx(slices, rel=1e-6)


def test_the_same_crown_in_any_size_is_the_same_crown() -> None:
    small = crown_results(solve_crown(CrownInputs(radius=10.0, edge_diameter=8.0, edge_radius=0.5)))
    large = crown_results(solve_crown(CrownInputs(radius=250.0, edge_diameter=200.0, edge_radius=12.5)))
    assert large.height == pytest.approx(25 * small.height)
    assert large.volume == pytest.approx(25**3 * small.volume)
    assert large.edge_angle == pytest.approx(small.edge_angle)


def test_a_rounded_height_agrees_with_the_other_two_within_half_of_its_last_decimal() -> None:
    typed = CrownInputs(radius=Given(75.0), height=Given(4.7, slack=0.05), edge_diameter=Given(52.3, slack=0.05))
    crown = solve_crown(typed)
    assert crown.solved == ""
    assert crown.height == pytest.approx(4.7, abs=0.05)
    assert crown.edge_diameter == pytest.approx(2 * math.sqrt(crown.height * (150 - crown.height)))


def test_three_that_disagree_are_all_named_with_what_each_would_be() -> None:
    problem = refused(radius=75.0, height=4.5, edge_diameter=60.0)
    assert isinstance(problem, Contradiction)
    assert problem.fields == ("radius", "height", "edge_diameter")
    assert problem.faults[0].field == "edge_diameter"
    assert problem.faults[0].message.say() == (
        "R75 mm and a height of 4.5 mm give an edge of Ø51.176 mm; Ø60 mm differs from that by 8.824 mm. "
        "Leave out the one that is not on the print."
    )
    for name, becomes in problem.otherwise.items():
        values: dict[str, Any] = {"radius": 75.0, "height": 4.5, "edge_diameter": 60.0} | {name: None}
        assert getattr(solve_crown(CrownInputs(**values)), name) == pytest.approx(becomes.value)


def test_too_little_says_at_each_blank_what_would_do() -> None:
    problem = refused()
    assert isinstance(problem, Missing)
    assert {fault.message.say() for fault in problem.faults} == {"Give any two of radius, height and edge diameter."}
    problem = refused(radius=75.0)
    assert [(fault.field, fault.message.say()) for fault in problem.faults] == [
        (name, "With the radius, one more is needed: the height or the edge diameter.")
        for name in ("height", "edge_diameter")
    ]


@pytest.mark.parametrize(
    ("values", "field", "words"),
    [
        ({"radius": 20.0, "height": 21.0}, "height", "higher than its radius: 21 mm is more than R20 mm"),
        ({"radius": 20.0, "edge_diameter": 41.0}, "edge_diameter", "wider than the whole ball"),
        ({"height": 21.0, "edge_diameter": 40.0}, "height", "past the half ball: at most half the edge, 20.000 mm"),
        ({"radius": 9000.0, "edge_diameter": 0.05}, "edge_diameter", "practically flat"),
        ({"height": 0.0001, "edge_diameter": 200.0}, "height", "practically flat"),
        ({"radius": 20.0, "height": 20.0, "edge_radius": 1.0}, "edge_radius", "joins the outside smoothly"),
        ({"radius": 20.0, "height": 2.0, "edge_radius": 9.0}, "edge_radius", "smaller than half the edge, 8.718 mm"),
        ({"radius": 20.0, "height": 2.0, "hole_diameter": 18.0}, "hole_diameter", "takes the whole crown away"),
    ],
)
def test_what_cannot_be_says_why_at_its_field(values: dict[str, float], field: str, words: str) -> None:
    problem = refused(**values)
    assert isinstance(problem, Impossible)
    assert [fault.field for fault in problem.faults] == [field]
    assert words in problem.faults[0].message.say()


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan, math.inf, 1e9, 1e-9])
def test_a_value_that_cannot_be_meant_is_refused_at_its_field(bad: float) -> None:
    problem = refused(radius=bad, edge_diameter=20.0)
    assert isinstance(problem, OutOfRange)
    assert problem.faults[0].field == "radius"


sizes = st.one_of(st.floats(), st.floats(-7.0, 4.0).map(lambda power: 10.0**power))


@settings(max_examples=tries(120), deadline=None)
@given(st.fixed_dictionaries({name: st.none() | sizes for name in SPECS}))
@example({"radius": 10.0, "height": None, "edge_diameter": 20.0, "edge_radius": None, "hole_diameter": None})
@example({"radius": 1e4, "height": 1e4, "edge_diameter": None, "edge_radius": 1e4, "hole_diameter": 0.0})
def test_any_floats_give_a_right_crown_or_a_sentence(values: dict[str, Any]) -> None:
    try:
        crown = solve_crown(build(CrownInputs, values))
    except Problem as problem:
        said = [fault.message.say() for fault in problem.faults if fault.field in SPECS]
    else:
        assert_right(crown)
        return
    assert all(said)
    assert said


def assert_right(crown: Crown) -> None:
    """The crown closes in 50 digits."""
    mp.dps = 50
    R, h, half = mpf(crown.radius), mpf(crown.height), mpf(crown.edge_diameter) / 2
    near = 1e-9 * max(1.0, crown.radius / 1000)
    assert abs(mp.hypot(R - h, half) - R) < near
    for point in (crown.arc.start, crown.arc.end):
        assert abs(mp.hypot(mpf(point.z) + R, mpf(point.r)) - R) < near
    assert crown.arc.end.r < crown.arc.start.r <= crown.edge_diameter / 2


def test_the_feature_lists_its_points_from_the_outside_to_the_apex() -> None:
    answer = solve(CrownInputs(radius=75.0, height=4.5, edge_radius=0.8))
    assert [point.label for point in answer.points] == ["edge radius begins", "edge radius meets the crown", "apex"]
    assert [point.move for point in answer.points] == ["", "cw", "cw"]
    assert answer.headline == "edge_diameter"
    assert answer.contour is not None
    assert isinstance(answer.contour.elements[0], Arc)
    back = answer.contour.elements
    assert back[-1].end == (0.0, 0.0)


def test_the_working_shows_each_step_once() -> None:
    _, steps = FEATURE.answer(CrownInputs(radius=75.0, height=4.5, edge_diameter=51.176))
    assert len({str(step.plain()) for step in steps}) == len(steps) == 4


def test_the_volume_of_the_contour_is_that_of_the_formula() -> None:
    crown = solve_crown(CrownInputs(radius=75.0, height=4.5))
    corner = Point(-4.5, crown.edge_diameter / 2)
    closed = [*crown.cut, Line(Point(0.0, 0.0), Point(-4.5, 0.0)), Line(Point(-4.5, 0.0), corner)]
    assert enclosed_volume(closed) == pytest.approx(crown_results(crown).volume, rel=1e-12)
