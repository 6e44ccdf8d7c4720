"""The passes over a dish: how many, how deep, what they leave, and nothing touched in air."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.contour import Arc
from calc.language.problems import Impossible, Missing, OutOfRange
from calc.machining.machine import Done, Made
from calc.questions.operations.dish_plan.cutting import finish_part, finishing_depth, settle
from calc.questions.operations.dish_plan.inputs import CutInputs, DishPlanInputs, PassInputs, ToolInputs, WorkInputs
from calc.questions.operations.dish_plan.passes import done_over
from calc.shapes.dish.bowl import DishInputs, EdgeBreak, EdgeInputs
from calc.shapes.dish.geometry import Dish, solve_dish
from calc.shapes.dish.nose import nose_on_dish
from tests.bench.random_plans import Report, operation_again
from tests.drawn import mostly, mostly_answered
from tests.shapes.dish.strategies import dishes

SURE = 1e-3
"""mm: as sure as the sweep is of a depth."""


def seat(**edge: Any) -> Dish:
    return solve_dish(DishInputs(radius=75.0, depth=4.5, edge=EdgeInputs(**edge)))


def asked(**values: Any) -> PassInputs:
    return PassInputs(**({"pass_depth": 1.0, "allowance_z": 0.3, "allowance_x": 0.0, "lead_in": 2.0} | values))


def planned(
    dish: Dish,
    passes: PassInputs,
    nose: float | None = 6.0,
    work: WorkInputs | None = None,
    cut: CutInputs | None = None,
) -> tuple[Done, ...]:
    tool, cut = ToolInputs(nose_radius=nose), cut or CutInputs(rough_feed=0.25)
    inputs = DishPlanInputs(work=work or WorkInputs(), tool=tool, cut=cut, passes=passes)
    return done_over(inputs, dish, settle(inputs), 0.2)


def roughed(dish: Dish, passes: PassInputs, nose: float = 6.0) -> list[Made]:
    return list(planned(dish, passes, nose)[1].made)


def ends(made: list[Made]) -> list[float]:
    found = [each.planned.pieces[-1].contact for each in made]
    assert all(isinstance(arc, Arc) for arc in found)
    return [arc.end.z for arc in found if isinstance(arc, Arc)]


# --- how many, how deep


def test_the_seat_with_an_allowance_of_0_3_takes_five_equal_passes_of_0_84() -> None:
    """4.5 less 0.3 in passes of at most 1, by division."""
    made = roughed(seat(), asked())
    assert [each.planned.name for each in made] == [f"rough {n}" for n in range(1, 6)]
    assert [each.removal.depth for each in made] == pytest.approx([0.84] * 5, abs=SURE)
    assert ends(made) == pytest.approx([-0.84, -1.68, -2.52, -3.36, -4.2], rel=1e-9)


@pytest.mark.parametrize("roughing", ["contour", "facing"])
def test_full_passes_leave_the_rest_to_the_last_one(roughing: str) -> None:
    made = roughed(seat(), asked(pass_split="rest", roughing=roughing))
    assert [each.removal.depth for each in made[:4]] == pytest.approx([1.0] * 4, abs=SURE)
    assert len(made) == 5


# --- what cannot be


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
        planned(seat(), asked(**values))
    (fault,) = caught.value.faults
    assert fault.field == field
    assert all(word in fault.message.say() for word in words), fault.message.say()


def test_too_many_passes_are_refused_however_small_the_depth() -> None:
    for depth in (0.01, 1e-300, 5e-324):
        with pytest.raises(OutOfRange, match="200"):
            planned(seat(), asked(pass_depth=depth))


def test_levels_need_the_nose_and_without_one_nothing_is_swept() -> None:
    with pytest.raises(Missing):
        planned(seat(), asked(roughing="facing"), None)
    assert planned(seat(), asked(), None) == ()


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


# --- the whole plan, swept again


def again(done: tuple[Done, ...]) -> tuple[Report, Any]:
    """All moves by an independent sweep: what is touched in air, what is left, both volumes."""
    report, left = Report(), done[0].regions.stock
    for each in done:
        left = operation_again(each, left, report)
    gone = 2 * math.pi * (_moment(done[0].regions.stock) - _moment(left))
    ours = sum(removal.volume for each in done for removal in each.removals)
    assert ours == pytest.approx(gone, rel=1e-4)
    return report, left


def _moment(area: Any) -> float:
    return float(area.centroid.y * area.area)


CASES = [(75.0, 4.5, 6.0, 60.0, 1.0, 2.0), (95.0, 7.2, 10.0, 80.0, 1.5, 2.0), (200.0, 3.0, 12.5, 90.0, 3.0, 1.0)]
"""Dish radius and depth, nose, bar, stock on the face, run-in, mm."""


@pytest.mark.parametrize("roughing", ["contour", "facing"])
@pytest.mark.parametrize(("case", "edge"), list(zip(CASES, ["none", "radius", "chamfer"], strict=True)))
def test_no_rapid_approach_or_return_touches_stock(case: tuple[float, ...], roughing: Any, edge: EdgeBreak) -> None:
    radius, depth, nose, bar, stock, run_in = case
    given = EdgeInputs(break_kind=edge, break_size=None if edge == "none" else 0.8)
    dish = solve_dish(DishInputs(radius=radius, depth=depth, edge=given))
    work = WorkInputs(bar_diameter=bar, face_stock=stock)
    done = planned(dish, asked(lead_in=run_in, roughing=roughing), nose, work)
    report, _ = again(done)
    assert report.faults == []
    first = done[0].moves[1].elements[0]
    assert first.start.r == pytest.approx(bar / 2 + nose + run_in), "facing begins outside the bar by the run-in"


@pytest.mark.parametrize("roughing", ["contour", "facing"])
@pytest.mark.parametrize(
    ("given", "nose", "room"),
    [
        (DishInputs(radius=12.0, depth=12.0), 2.0, 0.2),
        (DishInputs(radius=20.0, depth=4.0, edge=EdgeInputs(hole_diameter=6.0)), 1.2, 0.0),
        (DishInputs(radius=30.0, depth=1.0, edge=EdgeInputs(break_kind="chamfer", break_size=0.5)), 5.0, 0.1),
    ],
)
def test_whatever_the_dish_its_passes_leave_the_print_and_touch_nothing_in_air(
    given: DishInputs, nose: float, room: float, roughing: str
) -> None:
    dish = solve_dish(given)
    passes = asked(pass_depth=dish.bowl.depth / 4.0, allowance_z=room, allowance_x=room, roughing=roughing)
    work = WorkInputs(bar_diameter=2.0 * dish.cut.start.r + 4.0, face_stock=0.5)
    report, left = again(planned(dish, passes, nose, work))
    assert report.faults == []
    inside = shapely.box(-dish.bowl.depth - 1.0, dish.hole_radius, 1.0, dish.arc.start.r)
    differs = left.symmetric_difference(_print(dish)).intersection(inside)
    assert differs.buffer(-1e-3).is_empty


def _print(dish: Dish) -> Any:
    """The part behind the dish as a polygon, by angle about the dish's centre."""
    first, last = math.asin(dish.hole_radius / dish.bowl.radius), math.asin(dish.arc.start.r / dish.bowl.radius)
    angles = np.linspace(first, last, 4000)
    bowl = [(dish.bowl.centre.z - dish.bowl.radius * math.cos(a), dish.bowl.radius * math.sin(a)) for a in angles]
    return shapely.Polygon([(-1e3, dish.hole_radius), *bowl, (-1e3, dish.arc.start.r)])


@pytest.mark.parametrize("roughing", ["contour", "facing"])
def test_passes_deeper_than_the_nose_is_wide_clear_what_is_above_it(roughing: str) -> None:
    """A ball of 5, its nose 0.3125 wide: the flank behind the nose takes the rest of 1.25."""
    dish = solve_dish(DishInputs(radius=5.0, depth=5.0))
    done = planned(dish, asked(pass_depth=1.25, roughing=roughing), 0.3125, WorkInputs(bar_diameter=14.0))
    report, left = again(done)
    assert report.faults == []
    inside = shapely.box(-6.0, 0.0, 1.0, 4.99)
    assert left.symmetric_difference(_print(dish)).intersection(inside).buffer(-1e-3).is_empty


@pytest.mark.parametrize("hole", [14.0, 20.0, 30.0])
def test_from_a_hole_that_holds_the_nose_each_level_starts_in_the_hole_and_goes_outward(hole: float) -> None:
    done = planned(seat(hole_diameter=hole), asked(roughing="facing", lead_in=0.5))
    assert again(done)[0].faults == []
    for each in done[1].made:
        if each.planned.name.startswith("rough"):
            path = each.planned.pieces[0].path
            assert 0.0 <= path.start.r < hole / 2
            assert path.end.r > path.start.r
            assert {move.kind for move in each.removal.tool_pass.moves if move.why == "approach"} == {"rapid"}


@pytest.mark.parametrize("hole", [0.0, 3.0, 8.0, 12.0])
def test_without_room_for_the_nose_in_a_hole_each_level_is_entered_by_a_ramp_at_half_the_feed(hole: float) -> None:
    for each in planned(seat(hole_diameter=hole), asked(roughing="facing"))[1].made:
        if each.planned.name.startswith("rough"):
            ramp, across = [move for move in each.removal.tool_pass.moves if move.why == "cut"]
            (down,) = ramp.elements
            assert down.start.r > down.end.r
            assert (ramp.feed, across.feed) == (0.125, 0.25)


# --- facing and finishing


@pytest.mark.parametrize("stock", [0.3, 1.0, 2.5])
@pytest.mark.parametrize("split", ["equal", "rest"])
@pytest.mark.parametrize("hole", [0.0, 10.0])
def test_facing_takes_the_stock_off_exactly_from_the_bar_to_the_middle(stock: float, split: str, hole: float) -> None:
    work = WorkInputs(bar_diameter=60.0, face_stock=stock)
    faced = planned(seat(hole_diameter=hole), asked(pass_split=split), work=work)[0]
    assert sum(each.removal.depth for each in faced.made) == pytest.approx(stock, abs=SURE)
    assert max(each.removal.depth for each in faced.made) <= 1.0 + SURE
    for each in faced.made:
        air, cut = each.planned.pieces
        assert air.in_air
        assert (cut.path.start.r, cut.path.end.r) == (30.0, hole / 2)
        assert air.contact_length == 8.0, "the run-in of 2, and the nose of 6 clear of the bar"
    assert faced.after.bounds[2] == pytest.approx(0.0, abs=1e-9)
    assert sum(each.volume for each in faced.removals) == pytest.approx(math.pi * (30.0**2 - (hole / 2) ** 2) * stock)


def test_without_stock_or_bar_there_is_nothing_to_face() -> None:
    for work in (
        WorkInputs(bar_diameter=60.0),
        WorkInputs(face_stock=1.0),
        WorkInputs(bar_diameter=60.0, face_stock=0.0),
    ):
        assert planned(seat(), asked(), work=work)[0].made == ()


def test_the_finishing_pass_follows_edge_and_dish_and_is_slower_in_the_middle() -> None:
    cut = CutInputs(inner_feed=0.1, inner_feed_diameter=8.0)
    (finish,) = planned(seat(break_kind="radius", break_size=0.8), asked(), cut=cut)[2].made
    edge, outer, inner = finish.planned.pieces
    assert (edge.feed, outer.feed, inner.feed) == (0.2, 0.2, 0.1)
    assert isinstance(inner.contact, Arc)
    assert inner.contact.start.r == pytest.approx(4.0, rel=1e-12)
    assert inner.contact.end.r == 0.0
    assert finish.removal.depth == pytest.approx(0.3, abs=SURE)


# --- whatever the fields admit

anything = st.one_of(
    st.floats(0.0, 10_000.0),
    st.floats(-12.0, 4.0).map(lambda power: 10.0**power),
    st.sampled_from([5e-324, 1e-300, 1e-7, 1e-6, 0.3, 4.5, 10_000.0]),
)


@mostly_answered
@settings(max_examples=30, deadline=None)
@given(
    st.data(),
    dishes(holes=True),
    mostly(st.floats(0.05, 0.9), st.floats(1e-7, 1.0, exclude_max=True)),
    st.sampled_from(["contour", "facing"]),
)
def test_values_in_range_give_passes_of_finite_length_or_a_problem_and_nothing_else(
    data: st.DataObject, dish: Dish, share: float, roughing: Any
) -> None:
    def of_the_depth(least: float, most: float) -> float:
        usual = st.floats(least, most).map(lambda share: share * dish.bowl.depth)
        return float(data.draw(mostly(usual, anything)))

    values = {name: of_the_depth(0.0, 0.4) for name in ("allowance_z", "allowance_x", "lead_in")}
    split: Any = data.draw(st.sampled_from(["equal", "rest"]))
    passes = PassInputs(roughing=roughing, pass_split=split, pass_depth=of_the_depth(0.05, 1.0) or 1.0, **values)
    cut = CutInputs(inner_feed_diameter=of_the_depth(0.0, 2.0) or None, inner_feed=0.1, rough_feed=0.25)
    work = WorkInputs(bar_diameter=3 * dish.bowl.mouth_diameter, face_stock=of_the_depth(0.0, 1.0))
    nose = nose_on_dish(dish, share * dish.bowl.radius, 3).radius
    done = planned(dish, passes, nose, work, cut)
    for each in (made for one in done for made in one.made):
        assert each.planned.pieces
        assert each.removal.depth >= 0.0
        assert all(math.isfinite(piece.contact_length) for piece in each.pieces)


def test_a_tool_led_on_by_a_metre_still_takes_the_bowl_alone() -> None:
    """A quarter disc of R 5 in the half plane: pi 25 / 4 mm2, however much stock is said to stand before the face."""
    dish = solve_dish(DishInputs(radius=5.0, depth=5.0))
    done = planned(dish, PassInputs(pass_depth=50.0), 1.6, WorkInputs(face_stock=1000.0), CutInputs(rough_feed=0.25))
    taken = sum(made.removal.area for one in done for made in one.made)
    assert taken == pytest.approx(math.pi * 25.0 / 4.0, rel=1e-4)


def test_allowances_that_leave_nearly_equal_outlines_are_planned() -> None:
    dish = solve_dish(DishInputs(radius=5.0, depth=5.0))
    passes = PassInputs(pass_depth=1.0, allowance_z=2.1, allowance_x=2.4)
    done = planned(dish, passes, 1.6, WorkInputs(face_stock=1.0, bar_diameter=14.0), CutInputs(rough_feed=0.25))
    assert all(math.isfinite(made.removal.area) for one in done for made in one.made)


@pytest.mark.parametrize(("nose", "rough_feed", "least"), [(6.0, 0.25, None), (0.8, 0.25, 0.2), (0.8, 0.19, None)])
def test_a_ring_that_is_faced_too_coarse_is_named(nose: float, rough_feed: float, least: float | None) -> None:
    """A nose of 6 leaves Ra 0.33 at 0.25 on the flat ring, so that it may stay at the roughing feed; one of 0.8 leaves
    2.5 where 1.6 is asked. Ra of arcs side by side is f^2/(18 sqrt(3) r): 1.6 um takes 0.2 with 0.8.
    """
    cut = CutInputs(rough_feed=rough_feed, feed=0.1, ra=1.6e-3)
    work = WorkInputs(bar_diameter=60.0, face_stock=1.0)
    inputs = DishPlanInputs(work=work, tool=ToolInputs(nose_radius=nose), cut=cut, passes=asked())
    said = [each.message.say() for each in finish_part(inputs, seat()).cautions if each.about == "rough_feed"]
    assert len(said) == (least is not None)
    if least is not None:
        by_hand = math.sqrt(1.6e-3 * 18.0 * math.sqrt(3.0) * nose)
        assert by_hand == pytest.approx(least, abs=5e-4)
        assert float(said[0].split("last pass at ")[1].split()[0]) == pytest.approx(by_hand, rel=0.01)
