"""The plan of a dish, end to end: from what the print gives to points, passes, times, finish and cautions."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from calc.answer.drawing import Drawing
from calc.answer.feature import Answer, Feature, Rows
from calc.contour import Chain, Element, Point
from calc.cutting.feed_limits import FeedLimit
from calc.language.messages import Caution, Message
from calc.language.working import recording
from calc.machining.cautions import dropped_cautions, hit_cautions
from calc.machining.machine import Done
from calc.machining.passes import Pass, Referral, Spindle, approach, pass_row, slowed_inside, trace
from calc.machining.roughing.planning import Planned
from calc.machining.times import KindTimes, times, times_of_kinds
from calc.questions.operations.dish_plan.cutting import (
    FinishPart,
    Settled,
    finish_part,
    finishing_depth,
    settle,
    speed_cautions,
    speed_results,
)
from calc.questions.operations.dish_plan.inputs import DishPlanInputs
from calc.questions.operations.dish_plan.passes import done_over
from calc.questions.operations.dish_plan.results import (
    DishPlanResults,
    LeftResults,
    NoseResults,
    SpeedResults,
    TimeResults,
    WorkResults,
)
from calc.questions.operations.dish_plan.rough_force import ForcePart, force_part
from calc.questions.operations.dish_plan.starting import with_starting_values
from calc.questions.operations.dish_plan.tool import (
    TouchOff,
    left_results,
    left_sentences,
    nose_cautions,
    nose_results,
    touch_offs,
)
from calc.questions.operations.dish_plan.work import check_bar, chips_mass
from calc.questions.operations.dish_plan.zero import with_zero_moved, zero_notes
from calc.questions.shapes.dish import DishResults, both_ways, dish_results, points_of
from calc.shapes.dish.bowl import rounding_notes
from calc.shapes.dish.geometry import Dish, solve_dish
from calc.shapes.dish.nose import NoseOnDish, Stand, nose_on_dish
from calc.shapes.dish.sketch import blank_drawing, dish_drawing
from calc.shapes.dish.uncompensated import Uncompensated, uncompensated

ROWS = {
    "stands": Rows(Stand, "Where the nose stands", "Nose and tool point"),
    "touch_off": Rows(TouchOff, "Touched off, each tool point reads", "Nose and tool point"),
    "limits": Rows(FeedLimit, "What limits the finishing feed", "Finish and feed"),
    "passes": Rows(Pass, "Passes", "Passes and time"),
}


@dataclass(frozen=True, slots=True)
class Cut:
    """The passes: rows where speed and feed are known, what each operation does, times, and what is still missing."""

    rows: tuple[Pass, ...]
    done: tuple[Done, ...]
    times: TimeResults
    open_points: tuple[Message, ...]


@dataclass(frozen=True, slots=True)
class Found:
    """What is found out about a dish's plan: where the nose stands, speeds, finish, passes, force."""

    nose: NoseOnDish | None
    nose_shown: NoseResults
    stands: tuple[Stand, ...]
    left: Uncompensated | None
    settled: Settled
    speed: SpeedResults
    finish: FinishPart
    cut: Cut
    force: ForcePart


def solve(inputs: DishPlanInputs) -> Answer[DishPlanResults]:
    """The plan as far as the inputs carry it. Raises `Problem` for a dish, nose or allowance that cannot be.

    >>> from calc.shapes.dish.bowl import DishInputs
    >>> from calc.cutting.machine import Machine
    >>> from calc.questions.operations.dish_plan.inputs import CutInputs
    >>> plan = solve(DishPlanInputs(
    ...     dish=DishInputs(radius=90.0, depth=4.5),
    ...     cut=CutInputs(surface_speed=220_000.0, feed=0.15),
    ...     machine=Machine(max_rpm=2000.0),
    ... ))
    >>> round(plan.results.times.finish_time, 6)
    0.106383
    """
    dish = solve_dish(inputs.dish)
    shown = dish_results(dish)
    check_bar(inputs.work, dish)
    found = _found(inputs, dish)
    nose, finish, cut = found.nose, found.finish, found.cut
    answer = Answer(
        results=_results(shown, found),
        headline=dish.bowl.solved or "mouth_diameter",
        points=points_of(dish),
        points_note=both_ways(dish),
        contour=dish.cut,
        cautions=tuple(_cautions(inputs, dish, found)),
        notes=(*rounding_notes(inputs.dish, dish.bowl), *zero_notes(inputs.work), *found.settled.notes),
        sentences={
            **_sentences(inputs, nose, found.left, finish, cut),
            "Force and power": found.force.sentences,
        },
        tables=_tables(inputs, found.stands, finish, cut),
        drawing=partial(_drawing, inputs, dish, nose, found.stands, found.left, cut),
    )
    stock = inputs.work.face_stock
    moved = with_zero_moved(answer, -stock if inputs.work.z_zero == "raw" else 0.0)
    return with_starting_values(moved, inputs, found.settled.material)


def _found(inputs: DishPlanInputs, dish: Dish) -> Found:
    nose, stands, left = _nose(inputs, dish)
    settled = settle(inputs)
    shown = nose_results(nose, stands, inputs.work.bar_diameter) if nose else NoseResults()
    speed = speed_results(inputs, settled, 2 * dish.arc.start.r, stands[-2] if stands else None)
    finish = finish_part(inputs, dish)
    cut = _cut(inputs, dish, settled, finish)
    force = force_part(inputs, settled, cut.done[:-1], _referral(inputs))
    return Found(nose, shown, stands, left, settled, speed, finish, cut, force)


def _results(shown: DishResults, found: Found) -> DishPlanResults:
    return DishPlanResults(
        dish=shown,
        work=WorkResults(dish_mass=chips_mass(shown.volume, found.settled.material)),
        nose=found.nose_shown,
        uncompensated=left_results(found.left) if found.nose else LeftResults(),
        speed=found.speed,
        finish=found.finish.results,
        force=found.force.results,
        machine_load=found.force.load,
        times=found.cut.times,
    )


def _cautions(inputs: DishPlanInputs, dish: Dish, found: Found) -> Iterator[Caution]:
    yield from _hits(found.cut)
    yield from speed_cautions(inputs, found.speed, found.settled, dish)
    yield from found.force.cautions
    if found.nose:
        yield from nose_cautions(found.nose, found.nose_shown)
    yield from found.finish.cautions


def _hits(cut: Cut) -> Iterator[Caution]:
    """What the sweep finds that a pass should not touch."""
    if cut.done:
        yield from hit_cautions(cut.done)
        yield from dropped_cautions(cut.done)


def _nose(inputs: DishPlanInputs, dish: Dish) -> tuple[NoseOnDish | None, tuple[Stand, ...], Uncompensated | None]:
    radius = inputs.tool.nose()
    if radius is None:
        return None, (), None
    nose = nose_on_dish(dish, radius, int(inputs.tool.tool_point))
    return nose, nose.stands(), uncompensated(nose)


def _cut(inputs: DishPlanInputs, dish: Dish, settled: Settled, finish: FinishPart) -> Cut:
    feed, referral = finish.results.feed, _referral(inputs)
    with recording():
        done = done_over(inputs, dish, settled, feed)
    rows = times(done, referral, inputs.machine.max_rpm)
    if inputs.tool.nose() is None and feed is not None and settled.surface_speed is not None:
        rows = [_without_a_nose(inputs, dish, feed, Spindle(settled.surface_speed, inputs.machine.max_rpm))]
        found = KindTimes(None, None, rows[0].time)
    else:
        found = times_of_kinds(done, rows)
    shown = TimeResults(finish_time=found.finish, rough_time=found.rough, face_time=found.face, total_time=found.total)
    return Cut(tuple(rows), done, shown, tuple(_missing(inputs, settled, finish)))


def _without_a_nose(inputs: DishPlanInputs, dish: Dish, feed: float, spindle: Spindle) -> Pass:
    """The finishing pass of an edge whose nose is not known, as a point that goes along the print."""
    pieces = slowed_inside(trace(dish.cut, None, feed), inputs.cut.inner_feed_diameter, inputs.cut.inner_feed)
    depth = finishing_depth(dish, inputs.passes)
    return pass_row("finish", approach(pieces, inputs.passes.lead_in), _referral(inputs), spindle, depth)


def _referral(inputs: DishPlanInputs) -> Referral:
    return Referral(
        inputs.tool.nose(),
        int(inputs.tool.tool_point),
        "point" if inputs.cut.speed_at == "point" else "contact",
        "centre" if inputs.cut.feed_at == "centre" else "contour",
    )


def _missing(inputs: DishPlanInputs, settled: Settled, finish: FinishPart) -> Iterator[Message]:
    if settled.surface_speed is None:
        yield Message("Times need the surface speed: give it, or the material.")
    if finish.results.feed is None:
        yield Message("The finishing pass needs its feed: give it, or the Ra that is wanted.")
    if inputs.passes.pass_depth is None:
        yield Message("Roughing needs the depth per pass.")
    elif inputs.tool.nose() is None:
        yield Message(_NO_NOSE)
    elif inputs.cut.rough_feed is None:
        yield Message("The time for roughing needs its feed.")


def _sentences(
    inputs: DishPlanInputs, nose: NoseOnDish | None, left: Uncompensated | None, finish: FinishPart, cut: Cut
) -> dict[str, tuple[Message, ...]]:
    counted = Message("Time in feed with its run-ins. Rapid moves, tool changes and measuring are not in it.")
    return {
        "Without compensation": left_sentences(nose, left, inputs.work.bar_diameter) if nose else (),
        "Finish and feed": (finish.decision.why,) if finish.decision else (),
        "Passes and time": (*cut.open_points, *(_ways(inputs, nose) if cut.rows else ()), counted),
    }


def _ways(inputs: DishPlanInputs, nose: NoseOnDish | None) -> Iterator[Message]:
    """What the list of passes leaves unsaid: whose X and Z they are, and how a level is entered."""
    if nose is None:
        yield Message("From and to are where the edge touches: without a nose radius no tool point is known.")
    else:
        yield Message("From and to are the X and Z of tool point {number}, run-in included.", {"number": nose.number})
    if inputs.passes.roughing == "facing":
        yield Message(
            "Each level is entered by a ramp at half the roughing feed, or from the hole where the nose has room in "
            "it, then runs at one Z; the last pass goes along the allowances."
        )


def _tables(
    inputs: DishPlanInputs, stands: tuple[Stand, ...], finish: FinishPart, cut: Cut
) -> dict[str, tuple[object, ...]]:
    bar, nose = inputs.work.bar_diameter, inputs.tool.nose()
    return {
        "stands": stands,
        "touch_off": touch_offs(bar, nose) if bar and nose else (),
        "limits": finish.limits,
        "passes": cut.rows,
    }


def _drawing(
    inputs: DishPlanInputs,
    dish: Dish,
    nose: NoseOnDish | None,
    stands: tuple[Stand, ...],
    left: Uncompensated | None,
    cut: Cut,
) -> Drawing:
    bar = inputs.work.bar_diameter
    return dish_drawing(
        dish,
        bar_radius=bar / 2 if bar else None,
        stock_face=inputs.work.face_stock or None,
        nose=nose,
        stands=stands,
        left=left,
        passes=tuple(_touched(each.planned) for done in cut.done[:-1] for each in done.made),
    )


def _touched(planned: Planned) -> Chain:
    """What a pass touches, as one chain, without its run-in; where the contact jumps, the chain ends."""
    elements: list[Element] = []
    for piece in planned.pieces:
        if piece.in_air or isinstance(piece.contact, Point):
            continue
        if elements and elements[-1].end.distance_to(piece.contact.start) > 1e-9:
            break
        elements.append(piece.contact)
    return Chain(tuple(elements))


_NO_NOSE = (
    "Only the finishing pass is timed, as if by a sharp point along the print: give the nose radius to time facing and "
    "roughing."
)

FEATURE = Feature(
    path="plan/dish",
    page="/dish",
    title="Dish",
    summary="A concave arc in a face: the missing dimension, every point, where the nose stands, passes, time, finish.",
    solve=solve,
    rows=ROWS,
    carries=lambda inputs: dish_results(solve_dish(inputs.dish)),
    leads_to={"/reach": "Do insert and holder reach?", "/part": "Take this into a part"},
    supporting=("arc_centre_z", "tool_x_at_mouth", "tool_x_at_end", "rpm_at_mouth", "total_time"),
    blank=blank_drawing(),
    example={
        "radius": "75",
        "depth": "4.5",
        "break_kind": "radius",
        "break_size": "0.8",
        "bar_diameter": "60",
        "material": "C45",
        "length_out": "60",
        "face_stock": "1",
        "nose_radius": "6",
        "tool_point": "3",
        "surface_speed": "220",
        "rough_surface_speed": "180",
        "feed": "0.2",
        "rough_feed": "0.25",
        "inner_feed": "0.1",
        "inner_feed_diameter": "8",
        "ra": "1.6",
        "pass_depth": "1",
        "allowance_z": "0.3",
        "allowance_x": "0",
        "lead_in": "2",
        "max_rpm": "2000",
        "motor_power": "11",
        "chuck_limit": "3200",
    },
)
