"""The drilled bottom: the handbook's point lengths, exact triangles, and every refusal."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from mpmath import mp, mpf

from calc.language.fields import build, specs
from calc.language.given import Given
from calc.language.problems import Contradiction, Impossible, Missing, OutOfRange, Problem
from calc.questions.shapes.drill_point import DrillPointInputs, DrillPointResults, solve, solve_hole
from tests.tries import tries

SPECS = {spec.name: spec for spec in specs(DrillPointInputs)}
A118 = math.radians(118.0)


def results(**values: Any) -> DrillPointResults:
    return solve(build(DrillPointInputs, values)).results


def refused(**values: Any) -> Problem:
    with pytest.raises(Problem) as caught:
        solve(build(DrillPointInputs, values))
    return caught.value


@pytest.mark.parametrize(
    ("angle", "share"),
    [
        (60, 0.8660254),
        (82, 0.5751842),
        (90, 0.5),
        (118, 0.3004303),
        (130, 0.2331538),
        (135, 0.2071068),
        (140, 0.1819851),
    ],
)
def test_the_point_of_each_usual_angle_is_the_handbooks_share_of_the_diameter(angle: int, share: float) -> None:
    """Machinery's Handbook prints 0.300 for 118 and 0.207 for 135 degrees (from memory); the digits are D/(2 tan)."""
    found = results(diameter=10.0, point_angle=math.radians(angle), full_depth=25.0)
    assert found.point_length == pytest.approx(10.0 * share, abs=5e-7)
    assert found.total_depth == pytest.approx(25.0 + 10.0 * share, abs=5e-7)


def test_a_countersink_of_90_degrees_is_half_as_deep_as_wide() -> None:
    """Right triangle; full diameter is reached at the surface only."""
    found = results(diameter=12.0, point_angle=math.radians(90.0), full_depth=0.0)
    assert found.total_depth == pytest.approx(6.0)
    back = results(point_length=6.0, point_angle=math.radians(90.0))
    assert back.diameter == pytest.approx(12.0)


def test_a_flat_bottom_has_no_point() -> None:
    found = results(diameter=12.0, point_angle=math.pi, full_depth=20.0)
    assert found.point_length == 0.0
    assert found.total_depth == 20.0
    assert found.volume == pytest.approx(math.pi * 36.0 * 20.0)


def test_the_way_through_a_part_is_thickness_point_and_run_out() -> None:
    found = results(diameter=10.0, point_angle=A118, thickness=20.0, run_out=1.0)
    assert found.through_depth == pytest.approx(20.0 + 1.0 + 3.004303, abs=1e-6)
    assert found.total_depth is None


sizes = st.floats(0.2, 200.0)
angles = st.floats(20.0, 175.0).map(math.radians)


@settings(max_examples=tries(120), deadline=None)
@given(sizes, angles, sizes)
def test_any_sufficient_set_gives_the_same_bottom(D: float, angle: float, full: float) -> None:
    whole = results(diameter=D, point_angle=angle, full_depth=full)
    mp.dps = 50
    assert abs(mpf(whole.point_length) - mpf(D) / (2 * mp.tan(mpf(angle) / 2))) < 1e-9
    assert whole.total_depth is not None
    for asked in (
        {"diameter": D, "full_depth": full, "total_depth": whole.total_depth},
        {"point_angle": angle, "full_depth": full, "total_depth": whole.total_depth},
        {"diameter": D, "point_length": whole.point_length, "total_depth": whole.total_depth},
    ):
        again = results(**asked)
        assert again.diameter == pytest.approx(D, rel=1e-6)
        assert again.point_angle == pytest.approx(angle, rel=1e-6)
        assert again.full_depth == pytest.approx(full, abs=1e-6)


@settings(max_examples=tries(50), deadline=None)
@given(sizes, angles, sizes)
def test_the_volume_is_cylinder_and_cone(D: float, angle: float, full: float) -> None:
    found = results(diameter=D, point_angle=angle, full_depth=full)
    assert found.volume == pytest.approx(math.pi * D**2 / 4 * (full + found.point_length / 3), rel=1e-9)


def test_the_points_are_rim_corner_and_tip() -> None:
    answer = solve(DrillPointInputs(diameter=10.0, point_angle=math.radians(90.0), full_depth=20.0))
    assert [(p.label, round(p.spot.z, 9), p.spot.r) for p in answer.points] == [
        ("rim", 0.0, 5.0),
        ("point begins", -20.0, 5.0),
        ("tip", -25.0, 0.0),
    ]


def test_without_a_depth_the_point_is_told_and_the_depth_is_asked_for() -> None:
    answer = solve(DrillPointInputs(diameter=10.0, point_angle=A118))
    assert answer.headline == "point_length"
    assert answer.points == ()
    assert "depth" in answer.notes[0].say()


def test_a_rounded_print_agrees_and_a_wrong_one_is_named() -> None:
    typed = {
        "diameter": Given(10.0),
        "point_angle": Given(A118),
        "full_depth": Given(20.0),
        "total_depth": Given(23.0, slack=0.05),
    }
    assert results(**typed).total_depth == pytest.approx(23.0043, abs=5e-5)
    problem = refused(**(typed | {"total_depth": Given(24.0)}))
    assert isinstance(problem, Contradiction)
    assert problem.fields == ("diameter", "point_angle", "full_depth", "total_depth")
    assert problem.otherwise["full_depth"].value == pytest.approx(20.9957, abs=5e-5)


def test_too_little_says_what_would_do() -> None:
    problem = refused(diameter=10.0)
    assert isinstance(problem, Missing)
    assert {fault.field for fault in problem.faults} == {"point_angle", "point_length"}
    assert refused().faults[0].message.say() == "Give the diameter and the point angle (or the length of the point)."


@pytest.mark.parametrize(
    ("values", "field", "words"),
    [
        (
            {"diameter": 10.0, "point_angle": A118, "total_depth": 2.0},
            "total_depth",
            "less than the point alone, 3.004",
        ),
        ({"diameter": 10.0, "full_depth": 20.0, "total_depth": 18.0}, "full_depth", "Are the two swapped?"),
        ({"point_length": 3.0, "point_angle": math.pi}, "diameter", "no point that gives the diameter"),
    ],
)
def test_what_cannot_be_says_why_at_its_field(values: dict[str, float], field: str, words: str) -> None:
    problem = refused(**values)
    assert isinstance(problem, Impossible)
    assert [fault.field for fault in problem.faults] == [field]
    assert words in problem.faults[0].message.say()


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan, math.inf, 1e9])
def test_a_value_that_cannot_be_meant_is_refused_at_its_field(bad: float) -> None:
    problem = refused(diameter=bad, point_angle=A118)
    assert isinstance(problem, OutOfRange)
    assert problem.faults[0].field == "diameter"


wild = st.one_of(st.floats(), st.floats(-5.0, 3.5).map(lambda power: 10.0**power), st.just(math.pi), st.just(0.0))


@settings(max_examples=tries(120), deadline=None)
@given(st.fixed_dictionaries({name: st.none() | wild for name in SPECS}))
def test_any_floats_give_a_right_bottom_or_a_sentence(values: dict[str, Any]) -> None:
    try:
        found = results(**values)
    except Problem as problem:
        said = [fault.message.say() for fault in problem.faults if fault.field in SPECS]
    else:
        half = found.diameter / 2
        assert found.point_length * math.tan(found.point_angle / 2) == pytest.approx(half, rel=1e-3, abs=1e-3) or (
            found.point_angle > 3.1
        )
        if found.total_depth is not None and found.full_depth is not None:
            assert found.total_depth - found.full_depth == pytest.approx(found.point_length, abs=1e-6)
        return
    assert said
    assert all(said)


@pytest.mark.parametrize("diameter", [1.0, 3.0, 6.3, 10.0, 12.7])
def test_a_hole_may_be_as_deep_as_its_point_of_90_degrees(diameter: float) -> None:
    # half the diameter: the tangent of 45 degrees is not quite 1 in a computer, and the hole was refused
    hole = solve_hole(DrillPointInputs(diameter=diameter, point_angle=math.radians(90.0), total_depth=diameter / 2))
    assert hole["full_depth"] == pytest.approx(0.0, abs=1e-12)
