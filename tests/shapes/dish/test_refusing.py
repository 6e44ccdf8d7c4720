"""What cannot be a dish, and what is said about it, each at its own field."""

from __future__ import annotations

import dataclasses
import math
from typing import Any

import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st
from mpmath import mp

from calc.language.fields import build, specs
from calc.language.given import Given
from calc.language.problems import Contradiction, Impossible, Missing, OutOfRange, Problem
from calc.language.quantities import View
from calc.questions.operations.dish_plan.inputs import ToolInputs
from calc.shapes.dish.bowl import DishInputs, EdgeInputs
from calc.shapes.dish.geometry import Dish, solve_dish
from calc.shapes.dish.nose import nose_on_dish
from calc.shapes.dish.uncompensated import uncompensated
from tests.tries import tries

from .reference import exact

SPECS = {spec.name: spec for spec in specs(DishInputs)}
NUMBERS = [name for name, spec in SPECS.items() if spec.role == "quantity"]


def refused(**values: Any) -> Problem:
    """The problem of a dish that must have one."""
    with pytest.raises(Problem) as caught:
        solve_dish(build(DishInputs, values))
    return caught.value


def sentence(problem: Problem, field: str) -> str:
    """What is said at a field, which must be the only one."""
    assert {fault.field for fault in problem.faults} == {field}
    return problem.faults[0].message.say()


def test_a_mouth_that_disagrees_is_told_what_it_would_be_and_by_how_much() -> None:
    problem = refused(radius=90.0, depth=4.5, mouth_diameter=60.0)
    said = sentence(problem, "mouth_diameter")
    assert "56.205" in said
    assert "3.795" in said
    assert isinstance(problem, Contradiction)
    assert problem.fields == ("radius", "depth", "mouth_diameter")


def test_leaving_any_one_of_three_that_disagree_gives_what_is_said_it_would_be() -> None:
    values = {"radius": 90.0, "depth": 4.5, "mouth_diameter": 60.0}
    problem = refused(**values)
    assert isinstance(problem, Contradiction)
    for name in values:
        bowl = solve_dish(build(DishInputs, values | {name: None})).bowl
        assert problem.otherwise[name].value == pytest.approx(getattr(bowl, name), rel=1e-13)
    assert problem.otherwise["radius"].value == pytest.approx((60.0**2 + 4 * 4.5**2) / (8 * 4.5), rel=1e-13)


def test_the_contradiction_is_told_in_inches_to_who_reads_inches() -> None:
    problem = refused(radius=90.0, depth=4.5, mouth_diameter=60.0)
    assert "2.2128 in" in problem.faults[0].message.say(View("inch"))
    assert ".1494 in" in problem.faults[0].message.say(View("inch"))


@pytest.mark.parametrize(
    ("mouth", "slack", "agrees"),
    [(56.2, 0.05, True), (56.2, 0.0005, False), (56.205, 0.0005, True), (56.3, 0.05, False)],
)
def test_a_rounded_mouth_agrees_within_half_of_its_last_decimal(mouth: float, slack: float, agrees: bool) -> None:
    typed = DishInputs(
        radius=Given(90.0, slack=0.0005), depth=Given(4.5, slack=0.0005), mouth_diameter=Given(mouth, slack=slack)
    )
    if agrees:
        assert solve_dish(typed).bowl.solved == ""
    else:
        with pytest.raises(Contradiction):
            solve_dish(typed)


def test_three_of_which_the_depth_is_more_than_the_radius_disagree() -> None:
    problem = refused(radius=10.0, depth=12.0, mouth_diameter=30.0)
    assert isinstance(problem, Contradiction)
    assert set(problem.otherwise) <= {"radius", "depth", "mouth_diameter"}
    for name, quantity in problem.otherwise.items():
        values = {"radius": 10.0, "depth": 12.0, "mouth_diameter": 30.0} | {name: quantity.value}
        assert solve_dish(build(DishInputs, values)).bowl.solved == ""


@pytest.mark.parametrize(
    ("values", "field", "words"),
    [
        ({"radius": 90.0, "depth": 91.0}, "depth", ["91", "90", "deeper than its radius"]),
        ({"radius": 20.0, "mouth_diameter": 40.5}, "mouth_diameter", ["40.5", "40", "wider than the whole ball"]),
        ({"depth": 20.0, "mouth_diameter": 39.0}, "depth", ["20", "19.5", "half the mouth"]),
        ({"radius": 9000.0, "mouth_diameter": 0.05}, "mouth_diameter", ["0.05", "9000", "flat"]),
        ({"depth": 0.0001, "mouth_diameter": 200.0}, "depth", ["200", "flat"]),
        ({"radius": 1e-9, "depth": 1e-9}, "radius", ["more than 0"]),
    ],
)
def test_each_impossible_pair_has_its_own_sentence_at_its_field(
    values: dict[str, float], field: str, words: list[str]
) -> None:
    said = sentence(refused(**values), field)
    assert all(word in said for word in words), said


SEAT: dict[str, Any] = {"radius": 75.0, "depth": 4.5}


@pytest.mark.parametrize(
    ("values", "field", "words"),
    [
        ({"break_kind": "radius"}, "break_size", ["How large", "edge radius"]),
        ({"break_kind": "chamfer"}, "break_size", ["How large", "chamfer"]),
        ({"break_kind": "chamfer", "break_size": 18.0}, "break_size", ["18", "steeper", "17.369"]),
        ({"break_kind": "chamfer", "break_size": 16.0, "hole_diameter": 30.0}, "break_size", ["so large", "hole"]),
        ({"break_kind": "radius", "break_size": 2000.0, "hole_diameter": 20.0}, "break_size", ["so large", "hole"]),
        (
            {"break_kind": "chamfer", "break_size": 1.0, "break_angle": 0.5},
            "break_angle",
            ["steeper", "28.648°", "19.9"],
        ),
        ({"break_kind": "chamfer", "break_size": 9.0, "break_angle": 0.3}, "break_size", ["so large"]),
        ({"hole_diameter": 51.5}, "hole_diameter", ["51.5", "51.176", "smaller than the mouth"]),
    ],
)
def test_an_edge_or_hole_that_does_not_fit_says_why_at_its_field(
    values: dict[str, Any], field: str, words: list[str]
) -> None:
    said = sentence(refused(**SEAT, **values), field)
    assert all(word in said for word in words), said


def test_too_little_names_at_each_blank_what_would_do() -> None:
    problem = refused()
    assert isinstance(problem, Missing)
    assert [fault.field for fault in problem.faults] == ["radius", "depth", "mouth_diameter"]
    problem = refused(depth=4.5)
    assert [fault.field for fault in problem.faults] == ["radius", "mouth_diameter"]
    assert all("radius" in fault.message.say() and "mouth" in fault.message.say() for fault in problem.faults)


@pytest.mark.parametrize("nose", [75.0, 80.0, 10_000.0, math.nextafter(75.0, 0.0)])
def test_a_nose_must_be_smaller_than_the_dish(nose: float) -> None:
    with pytest.raises(Impossible) as caught:
        nose_on_dish(solve_dish(DishInputs(**SEAT)), nose, 3)
    said = sentence(caught.value, "nose_radius")
    assert "75" in said
    assert "56.25" in said


def test_a_nose_of_almost_nothing_is_none() -> None:
    with pytest.raises(OutOfRange):
        nose_on_dish(solve_dish(DishInputs(**SEAT)), 1e-200, 3)


wild = st.one_of(
    st.floats(),
    st.sampled_from([0.0, -0.0, -1.0, 5e-324, 1e-300, 1e-7, 1e-6, 9999.0, 10_000.0, 1e9, 1e308, math.inf, math.nan]),
)


@settings(max_examples=tries(300), deadline=None)
@given(st.sampled_from(NUMBERS), wild)
def test_a_value_is_either_in_the_range_of_its_field_or_refused_there(name: str, value: float) -> None:
    spec = SPECS[name]
    fault = spec.fault(value)
    most = spec.most if spec.most is not None else 10_000.0
    positive = value >= 0.0 if name == "hole_diameter" else value > 0.0
    assert (fault is None) == (positive and value <= most)
    if fault is not None:
        assert fault.field == name
        assert spec.label in fault.message.say()


sizes = st.one_of(
    st.floats(5e-324, 10_000.0),
    st.floats(-12.0, 4.0).map(lambda power: 10.0**power),
    st.sampled_from([5e-324, 1e-300, 1e-9, 1e-6, 1e-5, 0.5, 1.0, 45.0, 90.0, 10_000.0]),
)
angles = st.one_of(st.floats(5e-324, math.pi / 2), st.sampled_from([5e-324, 1e-12, 0.1, math.pi / 4, math.pi / 2]))
prints = st.fixed_dictionaries(
    {"radius": st.none() | sizes, "depth": st.none() | sizes, "mouth_diameter": st.none() | sizes},
    optional={
        "break_kind": st.sampled_from(["none", "chamfer", "radius"]),
        "break_size": st.none() | sizes,
        "break_angle": st.none() | angles,
        "hole_diameter": st.none() | st.just(0.0) | sizes,
    },
)


BLANKS: dict[str, Any] = {"radius": None, "depth": None, "mouth_diameter": None}


@st.composite
def likely_prints(draw: st.DrawFn) -> dict[str, Any]:
    """Two or three dimensions of a dish that there is, with any edge and hole from nothing to more than it holds."""
    radius = 10.0 ** draw(st.floats(-6.0, 4.0))
    depth = radius * draw(st.one_of(st.floats(0.0, 1.0), st.floats(-12.0, 0.0).map(lambda power: 10.0**power)))
    mouth = 2 * math.sqrt(depth * (2 * radius - depth))
    values: dict[str, Any] = {"radius": radius, "depth": depth, "mouth_diameter": mouth}
    values[draw(st.sampled_from([*values, "nothing"]))] = None
    share = st.one_of(st.floats(0.0, 1.0), st.floats(-9.0, 1.0).map(lambda power: 10.0**power), st.just(1.0))
    values["break_kind"] = draw(st.sampled_from(["none", "chamfer", "radius"]))
    values["break_size"] = mouth / 2 * draw(share)
    values["break_angle"] = draw(st.none() | share.map(lambda part: part * math.asin(min(mouth / 2 / radius, 1.0))))
    values["hole_diameter"] = mouth * draw(st.just(0.0) | share)
    return BLANKS | {name: value for name, value in values.items() if in_range(name, value)}


def in_range(name: str, value: float | str | None) -> bool:
    return isinstance(value, str) or (value is not None and SPECS[name].fault(value) is None)


@settings(max_examples=tries(600), deadline=None)
@given(prints | likely_prints())
@example({"radius": 5e-324, "depth": 5e-324, "mouth_diameter": None})
@example({"radius": None, "depth": 5e-324, "mouth_diameter": 10_000.0})
@example({"radius": 10_000.0, "depth": None, "mouth_diameter": 1e-3})
@example({"radius": 90.0, "depth": 4.5, "mouth_diameter": None, "break_kind": "chamfer", "break_size": 1e-300})
@example({"radius": 90.0, "depth": 4.5, "mouth_diameter": None, "hole_diameter": 56.204981985585576})
@example({"radius": 90.0, "depth": 90.0, "mouth_diameter": 180.0, "break_kind": "radius", "break_size": 10_000.0})
def test_values_in_range_give_a_right_dish_or_a_problem_and_nothing_else(values: dict[str, Any]) -> None:
    assert all(SPECS[name].fault(v) is None for name, v in values.items() if isinstance(v, float))
    try:
        dish = solve_dish(build(DishInputs, values))
    except Problem as problem:
        said = [fault.message.say() for fault in problem.faults if fault.field in SPECS]
    else:
        said = []
        assert_right(dish, values)
        return
    assert said
    assert all(said)


def assert_right(dish: Dish, values: dict[str, Any]) -> None:
    """The dish keeps what was given, within the slack of three, and closes in 50 digits."""
    bowl = dish.bowl
    given_three = all(values[name] is not None for name in ("radius", "depth", "mouth_diameter"))
    for name in ("radius", "depth", "mouth_diameter"):
        if values[name] is not None:
            assert abs(getattr(bowl, name) - values[name]) <= (0.0005 if given_three else 0.0)
    R, h, a = exact(bowl.radius), exact(bowl.depth), exact(bowl.mouth_diameter) / 2
    near = 1e-9 * max(1.0, bowl.radius / 10_000)
    assert 0 < h <= R * (1 + exact(1e-15))
    assert abs(mp.hypot(a, R - h) - R) < near
    for point in (dish.arc.start, dish.arc.end):
        assert abs(mp.hypot(exact(point.z) - (R - h), exact(point.r)) - R) < near
    assert dish.hole_radius == pytest.approx((values.get("hole_diameter") or 0.0) / 2, abs=1e-6)
    assert dish.hole_radius < dish.arc.start.r
    outside = 2 * dish.cut.start.r
    dish.part(outside)
    assert_edge(dish, values, near)


def assert_edge(dish: Dish, values: dict[str, Any], near: float) -> None:
    kind, size = values.get("break_kind", "none"), values.get("break_size")
    assert (dish.edge.element is None) == (kind == "none")
    if kind == "none":
        assert dish.arc.start == dish.bowl.corner
        return
    assert size is not None
    start, end = dish.edge.element.start, dish.edge.element.end  # type: ignore[union-attr]
    assert start.z == 0.0
    if kind == "radius":
        assert abs(mp.hypot(exact(end.z) + exact(size), exact(end.r) - exact(start.r)) - exact(size)) < near
        return
    a = exact(dish.bowl.mouth_diameter) / 2
    assert abs(exact(start.r) - a - exact(size)) < near
    halfway = dish.edge.element.point_at(dish.edge.element.length / 2)  # type: ignore[union-attr]
    R, h = exact(dish.bowl.radius), exact(dish.bowl.depth)
    assert mp.hypot(exact(halfway.z) - (R - h), exact(halfway.r)) > R - near  # it lies in the part, not over the dish
    if values.get("break_angle") is None:
        assert abs(mp.hypot(exact(end.z), exact(end.r) - a) - exact(size)) < near
    else:
        angle = exact(values["break_angle"])
        assert abs(-exact(end.z) * mp.cos(angle) - (exact(start.r) - exact(end.r)) * mp.sin(angle)) < near


@settings(max_examples=tries(200), deadline=None)
@given(likely_prints(), sizes, st.integers(0, 9))
def test_a_nose_in_range_gives_its_stands_and_what_is_left_or_a_problem(
    values: dict[str, Any], nose_radius: float, number: int
) -> None:
    spec = next(spec for spec in specs(ToolInputs) if spec.name == "nose_radius")
    assume(spec.fault(nose_radius) is None)
    try:
        dish = solve_dish(build(DishInputs, values))
        nose = nose_on_dish(dish, nose_radius, number)
    except Problem:
        return
    stands = nose.stands()
    numbers = [value for stand in stands for value in dataclasses.astuple(stand) if isinstance(value, float)]
    assert all(map(math.isfinite, numbers))
    assert math.isfinite(nose.tool_path.length)
    left = uncompensated(nose)
    assert (left is None) == (dish.hole_radius > 0.0)
    if left is not None:
        assert left.pip_height >= 0.0
        assert math.isfinite(left.mouth_diameter + left.axis_z)


def test_the_edge_is_not_asked_for_what_it_does_not_need() -> None:
    edge = EdgeInputs(break_kind="none", break_size=None, break_angle=None)
    assert solve_dish(DishInputs(**SEAT, edge=edge)).edge.element is None
