"""The passes over a dish: facing the stock off, roughing with allowances, finishing along the print."""

from __future__ import annotations

from collections.abc import Iterator

from calc.contour import Point
from calc.language.messages import Message, Quantity, Value
from calc.language.problems import Fault, Impossible, Missing, OutOfRange
from calc.language.quantities import LENGTH, RADIUS
from calc.machining.job import Contour, Cut, Operation, Setup, Slower, Strategy, Tool
from calc.machining.machine import Done, machine
from calc.machining.passes import depths
from calc.machining.removal.region import Bar, work_of
from calc.machining.removal.stock import Stock, stock_of
from calc.machining.removal.sweep import Outline, round_nose
from calc.machining.roughing.allowance import kept
from calc.questions.operations.dish_plan.cutting import Settled, finishing_depth
from calc.questions.operations.dish_plan.inputs import DishPlanInputs, PassInputs
from calc.shapes.dish.geometry import Dish

WIDER = 1.5
"""A bar that is not given is taken to be so many times the mouth: no run-in may count on less."""

LEAST_NOSE = 1e-3
"""mm: as sure as the sweep is of a depth; a nose below that is none to it."""

THIN = 1e-6
"""mm: half as wide is the core of a nose that is led on straight, at least."""

SLENDER = 1e-8
"""Half the width of that core to its length, at least: on a thinner one the sweep loses its edges."""

BEHIND = 10.0
"""mm: so much of the bar is looked at behind the dish."""

STRATEGIES: dict[str, Strategy] = {"contour": "rough along the contour", "facing": "rough along x"}


def done_over(inputs: DishPlanInputs, dish: Dish, settled: Settled, feed: float | None) -> tuple[Done, ...]:
    """What each operation does with the tool's nose: facing, roughing, then finishing at `feed` (mm/rev).

    Nothing without a nose. Raises `Impossible`, `OutOfRange` and `Missing` for what the passes' fields cannot mean.
    """
    passes, nose = inputs.passes, inputs.tool.nose()
    _require(passes, dish, nose)
    if nose is None or (passes.pass_depth is None and feed is None):
        return ()
    if nose < LEAST_NOSE:
        values: dict[str, Value] = {"nose": Quantity(nose, RADIUS), "least": Quantity(LEAST_NOSE, RADIUS)}
        text = "A nose of {nose} is too small for passes to be swept: give at least {least}, or leave it blank."
        raise OutOfRange(Fault("nose_radius", Message(text, values)))
    tool = Tool(_outline(inputs, dish, nose), None, int(inputs.tool.tool_point))
    part, stock = Contour(dish.cut, "left"), _stock(inputs, dish)
    done: list[Done] = []
    for operation in _operations(inputs, tool, settled, feed):
        done.append(machine(operation, stock, part, Setup(passes.lead_in), sum(len(each.made) for each in done)))
        stock = done[-1].after
        _require_a_pass(operation, done[-1])
    return tuple(done)


def _outline(inputs: DishPlanInputs, dish: Dish, nose: float) -> Outline:
    """The round nose; led on straight away from the face where passes are deeper than it is wide."""
    depth, finishing = inputs.passes.pass_depth, finishing_depth(dish, inputs.passes)
    deepest = finishing if depth is None else max(depth, finishing)
    if deepest <= 2.0 * nose:
        return round_nose(nose)
    out = dish.bowl.depth + inputs.work.face_stock + nose
    half = max(THIN, SLENDER * out)
    return Outline((Point(0.0, 0.0), Point(out, -half), Point(out, half)), nose)


def _require_a_pass(operation: Operation, done: Done) -> None:
    """Raise `Impossible` for allowances that leave roughing no pass."""
    cut, roughs = operation.cut, operation.strategy in STRATEGIES.values()
    if roughs and not done.made and not done.dropped and (cut.along_z or cut.along_x):
        raise Impossible(Fault("allowance_z", Message("The allowances leave this nose nothing to rough.")))


def _operations(inputs: DishPlanInputs, tool: Tool, settled: Settled, feed: float | None) -> Iterator[Operation]:
    passes, cut = inputs.passes, inputs.cut
    depth, split = passes.pass_depth, passes.pass_split
    if depth is not None:
        faced = Cut(depth, cut.rough_feed, settled.rough_surface_speed, split=split)
        yield Operation(tool, faced, "face", "face")
        rough = Cut(depth, cut.rough_feed, settled.rough_surface_speed, passes.allowance_z, passes.allowance_x, split)
        yield Operation(tool, rough, STRATEGIES[passes.roughing], "face")
    slower = Slower(cut.inner_feed, cut.inner_feed_diameter) if cut.inner_feed and cut.inner_feed_diameter else None
    yield Operation(tool, Cut(None, feed, settled.surface_speed, slower=slower), "finish", "face")


def _stock(inputs: DishPlanInputs, dish: Dish) -> Stock:
    """The bar; where no roughing is planned, the dish with its allowances in it."""
    given = inputs.work.bar_diameter
    radius = given / 2.0 if given else WIDER * dish.cut.start.r
    is_faced = inputs.passes.pass_depth is None or not given
    back = dish.cut.bounds.z_min - max(BEHIND, dish.cut.bounds.size)
    bar = Bar(radius, 0.0 if is_faced else inputs.work.face_stock, back, dish.hole_radius).area()
    if inputs.passes.pass_depth is not None:
        return stock_of(bar)
    roughed = kept(dish.cut, "left", inputs.passes.allowance_z, inputs.passes.allowance_x)
    return stock_of(bar if roughed is None else work_of(bar, roughed, "left", faced=True).finished)


def _require(passes: PassInputs, dish: Dish, nose: float | None) -> None:
    """Raise the problem of allowances larger than the dish, of too many passes, of levels without a nose."""
    if passes.pass_depth is None:
        return
    deepest, room = -dish.arc.end.z, dish.bowl.corner.r - dish.hole_radius
    if passes.allowance_z >= deepest:
        raise Impossible(Fault("allowance_z", _too_much(passes.allowance_z, deepest, "deep")))
    if passes.allowance_x >= room:
        raise Impossible(Fault("allowance_x", _too_much(passes.allowance_x, room, "wide, from the mouth inward")))
    depths(deepest - passes.allowance_z, passes.pass_depth, passes.pass_split)  # raises for too many of them
    if passes.roughing == "facing" and nose is None:
        raise Missing(Fault("nose_radius", Message("Roughing level by level needs the nose radius.")))


def _too_much(allowance: float, stock: float, how: str) -> Message:
    values: dict[str, Value] = {
        "allowance": Quantity(allowance, LENGTH, brief=True),
        "stock": Quantity(stock, LENGTH),
        "how": how,
    }
    return Message("The allowance of {allowance} is larger than the stock: the dish is {stock} {how}.", values)
