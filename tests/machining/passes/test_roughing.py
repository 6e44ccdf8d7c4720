"""Roughing and facing: what each pass takes, what is left, and where the nose may never be."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Any, TypeAlias

import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from calc.contour import Arc, Line
from calc.language.problems import Impossible, Missing, OutOfRange, Problem
from calc.machining.passes import Piece, depths
from calc.questions.operations.dish_plan.dish_passes import (
    PlannedPass,
    facing_passes,
    finish_pass,
    finishing_depth,
    rough_passes,
)
from calc.questions.operations.dish_plan.inputs import CutInputs, PassInputs, WorkInputs
from calc.shapes.dish.bowl import DishInputs, EdgeInputs
from calc.shapes.dish.geometry import Dish, solve_dish
from calc.shapes.dish.nose import nose_on_dish
from tests.shapes.dish.strategies import dishes

from .strategies import nose_shares
from .swept import swept

Rows: TypeAlias = NDArray[np.float64]


def seat(**edge: Any) -> Dish:
    return solve_dish(DishInputs(radius=75.0, depth=4.5, edge=EdgeInputs(**edge)))


def asked(**values: Any) -> PassInputs:
    return PassInputs(**({"pass_depth": 1.0, "allowance_z": 0.3, "allowance_x": 0.0, "lead_in": 2.0} | values))


def cut_arc(planned: PlannedPass) -> Arc:
    (arc,) = (piece.contact for piece in planned.pieces if not piece.in_air)
    assert isinstance(arc, Arc)
    return arc


# --- how many, how deep


def test_the_seat_with_an_allowance_of_0_3_takes_five_equal_passes_of_0_84() -> None:
    planned = rough_passes(seat(), asked(), 6.0, 0.25)
    assert [each.name for each in planned] == [f"rough {n}" for n in range(1, 6)]
    assert [each.depth for each in planned] == pytest.approx([0.84] * 5, rel=1e-12)
    assert [cut_arc(each).end.z for each in planned] == pytest.approx([-0.84, -1.68, -2.52, -3.36, -4.2], rel=1e-12)
    assert cut_arc(planned[-1]).centre.z == pytest.approx(70.8)


def test_full_passes_leave_the_rest_to_the_last_one() -> None:
    planned = rough_passes(seat(), asked(pass_split="rest"), 6.0, 0.25)
    assert [each.depth for each in planned] == pytest.approx([1.0, 1.0, 1.0, 1.0, 0.2], rel=1e-9)


@settings(max_examples=200, deadline=None)
@given(st.floats(1e-6, 1000.0), st.floats(1e-3, 100.0), st.sampled_from(["equal", "rest"]))
def test_passes_add_up_to_the_total_and_none_takes_more_than_asked(total: float, most: float, split: Any) -> None:
    assume(total / most < 500)
    levels = depths(total, most, split)
    taken = np.diff([0.0, *levels])
    assert levels[-1] == total
    assert np.all(taken > 0.0)
    assert np.max(taken) <= most * (1 + 1e-9)
    assert len(levels) - 1 < total / most * (1 + 1e-9)  # one pass fewer would not do
    if split == "equal":
        assert np.ptp(taken) <= 1e-9 * total
    else:
        assert taken[:-1] == pytest.approx(most, rel=1e-9)


def test_nothing_to_take_takes_no_pass() -> None:
    assert depths(0.0, 1.0, "equal") == []


# --- the allowances


@pytest.mark.parametrize(
    ("values", "field", "words"),
    [
        ({"allowance_z": 4.5}, "allowance_z", ["4.5", "larger than the stock"]),
        ({"allowance_z": 7.0}, "allowance_z", ["7", "larger than the stock", "4.5"]),
        ({"allowance_x": 25.6}, "allowance_x", ["25.6", "larger than the stock", "25.588"]),
        ({"allowance_z": 4.0, "allowance_x": 20.0}, "allowance_z", ["nothing to rough"]),
    ],
)
def test_an_allowance_larger_than_the_stock_says_so_at_its_field(
    values: dict[str, float], field: str, words: list[str]
) -> None:
    with pytest.raises(Impossible) as caught:
        rough_passes(seat(), asked(**values), 6.0, 0.25)
    (fault,) = caught.value.faults
    assert fault.field == field
    assert all(word in fault.message.say() for word in words), fault.message.say()


def test_too_many_passes_are_refused_however_small_the_depth() -> None:
    for depth in (0.01, 1e-300, 5e-324):
        with pytest.raises(OutOfRange, match="200"):
            rough_passes(seat(), asked(pass_depth=depth), 6.0, 0.25)


def test_passes_need_their_depth_and_levels_the_nose() -> None:
    with pytest.raises(Missing):
        rough_passes(seat(), asked(pass_depth=None), 6.0, 0.25)
    with pytest.raises(Missing):
        rough_passes(seat(), asked(roughing="facing"), None, 0.25)


@settings(max_examples=80, deadline=None)
@given(dishes(holes=True), st.floats(0.0, 0.5), st.floats(0.0, 0.5))
def test_the_deepest_finishing_cut_is_the_thickest_place_that_the_allowances_leave(
    dish: Dish, z_share: float, x_share: float
) -> None:
    along_z, along_x = z_share * dish.bowl.depth * 0.1, x_share * dish.bowl.depth * 0.1
    # shift each place of the print by the allowances and see how far it then lies along its normal from there
    first, last = math.asin(dish.hole_radius / dish.bowl.radius), dish.bowl.slope
    slopes = np.linspace(first, last, 4001)
    thickness = along_z * np.cos(slopes) + along_x * np.sin(slopes)
    found = finishing_depth(dish, asked(allowance_z=along_z, allowance_x=along_x))
    assert found == pytest.approx(float(np.max(thickness)), rel=1e-5, abs=1e-12)


# --- passes that follow the dish

noses = st.none() | nose_shares


@settings(max_examples=80, deadline=None)
@given(dishes(holes=True), noses, st.floats(0.0, 0.8), st.floats(0.0, 0.3), st.floats(0.05, 0.9))
def test_passes_that_follow_the_dish_lie_one_above_the_other_and_end_at_the_allowances(
    dish: Dish, share: float | None, z_share: float, x_share: float, depth_share: float
) -> None:
    nose = None if share is None else share * dish.bowl.radius
    along_z, along_x = -dish.arc.end.z * z_share, (dish.bowl.corner.r - dish.hole_radius) * x_share
    passes = asked(allowance_z=along_z, allowance_x=along_x, pass_depth=depth_share * dish.bowl.depth)
    try:
        planned = rough_passes(dish, passes, nose, 0.25)
    except Impossible:
        return
    arcs = [cut_arc(each) for each in planned]
    for arc in arcs:
        assert abs(arc.start.z) < 1e-9
        assert arc.radius == pytest.approx(dish.bowl.radius, rel=1e-9)
        assert arc.centre.r == -along_x
    assert arcs[-1].centre.z == pytest.approx(dish.bowl.centre.z + along_z, rel=1e-12, abs=1e-9)
    falls = np.diff([arc.centre.z for arc in arcs])
    assert np.all(falls < 0.0)
    assert np.all(np.abs(falls) <= depth_share * dish.bowl.depth * (1 + 1e-9))
    if nose is not None:
        for each in planned:
            assert_keeps_off(dish, each.pieces, nose, along_z, along_x)


def assert_keeps_off(dish: Dish, pieces: list[Piece], nose: float, along_z: float, along_x: float) -> None:
    """At no place, run-in included, does the disc reach past the roughed dish or into the face beside the mouth.

    The roughed dish below the face is a ball's part on each side of the axis: the disc must lie in it as far as it is
    below the face. Tried are its points below the face.
    """
    around = np.linspace(0.0, math.tau, 241)
    for piece in pieces:
        assert piece.centre is not None
        for i in range(21):
            centre = piece.centre.point_at(piece.centre.length * i / 20)
            z = centre.z + nose * np.cos(around)
            r = np.abs(centre.r + nose * np.sin(around))
            beside = np.hypot(z - dish.bowl.centre.z - along_z, r + along_x) - dish.bowl.radius
            below_face = z < -1e-9 * dish.bowl.radius
            over_hole = r < dish.hole_radius
            assert np.all(beside[below_face & ~over_hole] < 1e-7 * dish.bowl.radius), (piece, centre)


# --- level by level


def level_passes(dish: Dish, nose: float, **values: Any) -> list[PlannedPass]:
    return rough_passes(dish, asked(roughing="facing", **values), nose, 0.25)


@settings(max_examples=60, deadline=None)
@given(dishes(holes=True), st.floats(0.01, 0.8), st.floats(0.01, 0.8), st.floats(0.0, 0.2), st.floats(0.06, 0.9))
def test_level_passes_never_reach_past_the_roughed_dish(
    dish: Dish, share: float, z_share: float, x_share: float, depth_share: float
) -> None:
    nose = share * dish.bowl.radius
    along_z, along_x = -dish.arc.end.z * z_share, (dish.bowl.corner.r - dish.hole_radius) * x_share
    values = {"allowance_z": along_z, "allowance_x": along_x, "pass_depth": depth_share * dish.bowl.depth}
    try:
        planned = level_passes(dish, nose, **values)
    except Impossible:
        return
    for each in planned:
        assert_keeps_off(dish, each.pieces, nose, along_z, along_x)


@pytest.mark.parametrize(
    ("dish", "nose", "values"),
    [
        (seat(), 6.0, {}),
        (seat(), 0.8, {"pass_depth": 0.5}),
        (seat(), 6.0, {"allowance_x": 0.4}),
        (seat(hole_diameter=20.0), 6.0, {}),
        (seat(hole_diameter=8.0), 6.0, {}),
        (seat(hole_diameter=30.0), 2.0, {"allowance_x": 0.2}),
        (solve_dish(DishInputs(radius=20.0, depth=20.0)), 6.0, {"pass_depth": 3.0}),
        (solve_dish(DishInputs(radius=20.0, depth=12.0, edge=EdgeInputs(hole_diameter=20.0))), 16.0, {}),
    ],
)
def test_level_passes_leave_the_allowance_and_no_more_than_the_nose_must(
    dish: Dish, nose: float, values: dict[str, float]
) -> None:
    along_z, along_x = values.get("allowance_z", 0.3), values.get("allowance_x", 0.0)
    R, centre_z = dish.bowl.radius, dish.bowl.centre.z + along_z
    outer = math.sqrt(R**2 - centre_z**2) - along_x
    radii = np.linspace(dish.hole_radius, 0.97 * outer, 400)
    floor = lowest_discs(level_passes(dish, nose, **values), nose, radii)
    wanted = centre_z - np.sqrt(R**2 - (radii + along_x) ** 2)
    # an allowance in X makes the roughed dish pointed on the axis: there the nose, centred, touches all round
    touching = along_x * nose / (R - nose)
    bottom = centre_z - math.sqrt((R - nose) ** 2 - along_x**2)
    round_bottom = bottom - np.sqrt(np.maximum(nose**2 - radii**2, 0.0))
    wanted = np.where(radii < touching, round_bottom, wanted)
    assert np.max(np.abs(floor - wanted)) < 1e-3


def lowest_discs(planned: list[PlannedPass], nose: float, radii: Rows) -> Rows:
    """The lowest place of the discs at each radius on either side of the axis; the nose goes out along Z."""
    centres = [
        piece.centre.point_at(piece.centre.length * i / 2000)
        for each in planned
        for piece in each.pieces
        if piece.centre is not None and not piece.in_air
        for i in range(2001)
    ]
    z, r = np.array([point.z for point in centres]), np.array([abs(point.r) for point in centres])
    level: Rows = np.full(radii.shape, np.inf)
    for side in (radii, -radii):
        for chunk in np.array_split(np.arange(len(z)), max(1, len(z) // 1000)):
            under = nose**2 - (side[:, None] - r[None, chunk]) ** 2
            bottom = np.where(under >= 0.0, z[None, chunk] - np.sqrt(np.maximum(under, 0.0)), np.inf)
            level = np.minimum(level, bottom.min(axis=1))
    return level


def test_the_last_level_of_the_seat_touches_the_roughed_dish_on_the_axis() -> None:
    planned = level_passes(seat(), 6.0)
    assert [each.depth for each in planned] == pytest.approx([0.84] * 5, rel=1e-9)
    last = planned[-1].pieces[-1].centre
    assert last is not None
    assert last.end.z == pytest.approx(-4.2 + 6.0)
    assert last.end.r == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("hole", [14.0, 20.0, 30.0])
def test_from_a_hole_that_holds_the_nose_each_level_starts_in_the_hole_and_goes_outward(hole: float) -> None:
    for each in level_passes(seat(hole_diameter=hole), 6.0):
        across = next(piece for piece in each.pieces if not piece.in_air)
        first = each.pieces[0].centre
        assert first is not None
        assert first.start.r >= 0.0
        assert first.start.r + 6.0 <= hole / 2 + 1e-9
        assert across.centre is not None
        assert across.centre.start.r + 6.0 == pytest.approx(hole / 2)
        assert across.centre.end.r > across.centre.start.r


@pytest.mark.parametrize("hole", [0.0, 3.0, 8.0, 12.0])
def test_without_room_for_the_nose_in_a_hole_each_level_is_entered_down_the_wall_at_half_the_feed(hole: float) -> None:
    for each in level_passes(seat(hole_diameter=hole), 6.0):
        air, ramp, *across = each.pieces
        assert air.in_air
        assert isinstance(air.contact, Line)
        assert air.contact.end.r == air.contact.start.r  # straight along Z
        assert air.contact.end.z == pytest.approx(air.contact.start.z - 2.0)
        assert ramp.feed == 0.125
        assert all(piece.feed == 0.25 for piece in across)


@settings(max_examples=60, deadline=None)
@given(dishes(holes=True), st.floats(0.01, 0.8), st.floats(0.05, 0.8))
def test_the_pieces_of_a_level_hang_together_and_end_one_depth_lower(dish: Dish, share: float, depth: float) -> None:
    nose = share * dish.bowl.radius
    try:
        planned = level_passes(dish, nose, allowance_z=0.01 * dish.bowl.depth, pass_depth=depth * dish.bowl.depth)
    except Problem:
        return
    lowest = 0.0
    for each in planned:
        centres = [piece.centre for piece in each.pieces if piece.centre is not None]
        for before, after in pairwise(centres):
            assert before.end.distance_to(after.start) < 1e-9 * dish.bowl.radius
        level = min(element.bounds().z_min for element in centres) - nose
        assert level == pytest.approx(lowest - each.depth, abs=1e-9 * dish.bowl.radius)
        lowest = level


# --- facing and finishing


@pytest.mark.parametrize("stock", [0.3, 1.0, 2.5])
@pytest.mark.parametrize("split", ["equal", "rest"])
@pytest.mark.parametrize("hole", [0.0, 10.0])
def test_facing_takes_the_stock_off_exactly_from_the_bar_to_the_middle(stock: float, split: str, hole: float) -> None:
    dish = seat(hole_diameter=hole)
    work = WorkInputs(bar_diameter=60.0, face_stock=stock)
    planned = facing_passes(work, asked(pass_split=split), dish, 6.0, 0.25)
    assert sum(each.depth for each in planned) == pytest.approx(stock)
    assert max(each.depth for each in planned) <= 1.0 + 1e-12
    levels = []
    for each in planned:
        air, cut = each.pieces
        assert air.in_air
        assert isinstance(cut.contact, Line)
        assert (cut.contact.start.r, cut.contact.end.r) == (30.0, hole / 2)
        assert cut.contact.start.z == cut.contact.end.z
        assert air.contact_length == 8.0, "the run-in of 2, and the nose of 6 clear of the bar"
        assert cut.contact_length == 30.0 - hole / 2
        levels.append(cut.contact.start.z)
    assert levels[-1] == 0.0
    gone = shapely.union_all([swept(each.pieces, 6.0) for each in planned])
    stock_left = shapely.box(0.0, hole / 2, stock, 30.0).difference(gone.buffer(1e-9))
    assert stock_left.area < 1e-3
    assert gone.bounds[0] == pytest.approx(0.0, abs=1e-9)


def test_without_stock_or_bar_there_is_nothing_to_face() -> None:
    for work in (
        WorkInputs(bar_diameter=60.0),
        WorkInputs(face_stock=1.0),
        WorkInputs(bar_diameter=60.0, face_stock=0.0),
    ):
        assert facing_passes(work, asked(), seat(), 6.0, 0.25) == []


def test_the_finishing_pass_follows_edge_and_dish_and_is_slower_in_the_middle() -> None:
    dish = seat(break_kind="radius", break_size=0.8)
    cut = CutInputs(inner_feed=0.1, inner_feed_diameter=8.0)
    planned = finish_pass(dish, asked(), cut, 6.0, 0.2)
    air, edge, outer, inner = planned.pieces
    assert air.in_air
    assert (edge.feed, outer.feed, inner.feed) == (0.2, 0.2, 0.1)
    assert isinstance(inner.contact, Arc)
    assert inner.contact.start.r == pytest.approx(4.0, rel=1e-12)
    assert inner.contact.end.r == 0.0
    assert planned.depth == pytest.approx(0.3)


# --- whatever the fields admit

anything = st.one_of(
    st.floats(0.0, 10_000.0),
    st.floats(-12.0, 4.0).map(lambda power: 10.0**power),
    st.sampled_from([5e-324, 1e-300, 1e-7, 1e-6, 0.3, 4.5, 10_000.0]),
)


@settings(max_examples=300, deadline=None)
@given(st.data(), dishes(holes=True), st.floats(1e-7, 1.0, exclude_max=True), st.sampled_from(["contour", "facing"]))
def test_values_in_range_give_passes_of_finite_length_or_a_problem_and_nothing_else(
    data: st.DataObject, dish: Dish, share: float, roughing: str
) -> None:
    values = {name: data.draw(anything) for name in ("allowance_z", "allowance_x", "lead_in")}
    scale = data.draw(st.sampled_from([1.0, dish.bowl.depth / 10_000]))
    passes = PassInputs(
        roughing=roughing,
        pass_split=data.draw(st.sampled_from(["equal", "rest"])),
        pass_depth=data.draw(anything) * scale or 1.0,
        **{name: value * scale for name, value in values.items()},
    )
    cut = CutInputs(inner_feed_diameter=data.draw(anything) or None, inner_feed=0.1)
    work = WorkInputs(bar_diameter=3 * dish.bowl.mouth_diameter, face_stock=data.draw(anything) * scale)
    try:
        nose = nose_on_dish(dish, share * dish.bowl.radius, 3).radius
        planned = [
            *facing_passes(work, passes, dish, nose, 0.25),
            *rough_passes(dish, passes, nose, 0.25),
            finish_pass(dish, passes, cut, nose, 0.2),
        ]
    except Problem as problem:
        assert all(fault.message.say() for fault in problem.faults)  # noqa: PT017 - a problem is one right answer of two
        return
    for each in planned:
        assert each.pieces
        assert each.depth >= 0.0
        assert all(math.isfinite(piece.contact_length) for piece in each.pieces)
