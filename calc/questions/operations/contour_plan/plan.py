"""The plan of a contour as it comes to be: stock, tool, operations one after the other."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from calc.contour import Chain, Side
from calc.contour.solving import GivenElement
from calc.language.messages import Message, Quantity, Value
from calc.language.problems import Fault, Impossible, Missing, OutOfRange, Problem
from calc.language.quantities import DIAMETER, LENGTH, METRIC, RADIUS, View
from calc.language.working import recording
from calc.machining.job import Contour, Cut, Operation, Setup, ToolPass, Where
from calc.machining.machine import Done, machine
from calc.machining.pass_words import written
from calc.machining.removal.judging import Judged
from calc.machining.removal.polygons import Area
from calc.machining.removal.region import Bar, in_front_of, on_the_wrong_side, work_of
from calc.machining.removal.stock import stock_of as stock_in
from calc.machining.removal.taking import Removal
from calc.machining.roughing.kept_chip import require_round
from calc.machining.roughing.planning import front_of, in_cutting_direction
from calc.machining.roughing.reachable import Reachable
from calc.machining.words import comment
from calc.questions.operations.contour_plan.inputs import ContourPlanInputs, StockInputs
from calc.questions.operations.contour_plan.tool import PlanTool, plan_tool
from calc.questions.operations.strategies import ROUGHING, led
from calc.shapes.chosen import BAR, unique
from calc.tool.point import STEPS

LONGEST = 10_000.0
"""mm: no contour is looked at that reaches farther, as no field takes a larger length."""

MOST_ELEMENTS = 1000

LONGEST_BACK = 40.0
"""mm: how much of the bar is looked at behind the contour."""


@dataclass(frozen=True)
class Plan:
    """A plan: the contour in the direction of cutting, the tool, what each operation did, the rows of the elements."""

    chain: Chain
    tool: PlanTool
    done: tuple[Done, ...]
    rows: tuple[int, ...]

    @property
    def last(self) -> Done:
        """The last operation, which finishes."""
        return self.done[-1]

    @property
    def removals(self) -> list[Removal]:
        """What each pass took."""
        return [removal for done in self.done for removal in done.removals]

    @property
    def judged(self) -> Judged:
        """What is left and what was cut too deep in the end."""
        return self.last.judged

    @property
    def reach(self) -> Reachable:
        """What the insert's edges get at."""
        return self.last.reach

    @property
    def passes(self) -> list[ToolPass]:
        """All passes with their moves."""
        return [removal.tool_pass for removal in self.removals]

    @property
    def hit(self) -> bool:
        """Whether a move hits what it should not."""
        return any(done.hits for done in self.done)

    def text(self, view: View) -> str:
        """The passes as words for a reader; a sentence instead where a move would hit something."""
        if self.hit:
            return comment("no words: a move hits the part or the stock, see the cautions")
        return self._written(view)[0]

    def worst_gap(self) -> float:
        """How badly an arc closes in the words at most, mm."""
        return self._written(METRIC)[1]

    def _written(self, view: View) -> tuple[str, float]:
        return self._in_metric if view == METRIC else self._words(view)

    @cached_property
    def _in_metric(self) -> tuple[str, float]:
        return self._words(METRIC)

    def _words(self, view: View) -> tuple[str, float]:
        return written(self.passes, STEPS[self.tool.tool.point].times(self.tool.tool.nose), view)


def plan_of(inputs: ContourPlanInputs, chain: Chain, side: Side, given: Sequence[GivenElement] = ()) -> Plan:
    """The operations, each on the stock of the one before. Raises `Missing` and `Impossible` for what cannot be."""
    where = inputs.where
    with recording():
        tool = plan_tool(inputs.tool, along=where == "bore")
    rows = rows_of(given, chain)
    part = Contour(*in_cutting_direction(chain, side, where))
    _require_bounds(part.chain)
    _require_side(part, where)
    _require_depth(inputs, tool)
    if part.chain.start != chain.start:
        rows = rows[::-1]
    stock = stock_in(stock_of(inputs.stock, part.chain, inputs.shape))
    run_in = inputs.passes.lead_in
    setup = Setup() if run_in is None else Setup(run_in)
    done: list[Done] = []
    for operation in _operations(inputs, tool, part, in_front_of(stock, part.chain.bounds.z_max)):
        done.append(machine(operation, stock, part, setup, sum(len(each.made) for each in done)))
        stock = done[-1].after
    if not any(each.made for each in done):
        raise Impossible(
            Fault(
                "holder",
                Message("On every pass over this contour the holder would run into the stock: take another tool."),
            )
        )
    return Plan(part.chain, tool, tuple(done), rows)


def rows_of(given: Sequence[GivenElement], chain: Chain) -> tuple[int, ...]:
    """The number of the row that each element came from; a broken corner has that of the element it ends."""
    rows = [number for number, each in enumerate(given, 1) for _ in range(1 + _in_corner(each))]
    return tuple(rows) if len(rows) == len(chain) else tuple(range(1, len(chain) + 1))


def _in_corner(given: GivenElement) -> int:
    return 0 if given.corner is None else given.corner.count


def _require_bounds(chain: Chain) -> None:
    """Raise `OutOfRange` for a contour longer than any part, or of more elements than any print."""
    if chain.bounds.size > LONGEST:
        values: dict[str, Value] = {
            "most": Quantity(LONGEST, LENGTH, brief=True),
            "size": Quantity(chain.bounds.size, LENGTH),
        }
        text = "This contour reaches {size} from zero; at most {most} is planned. Check for a missing decimal point."
        raise OutOfRange(Fault("contour", Message(text, values)))
    if len(chain) > MOST_ELEMENTS:
        text = "This contour has {count} elements; at most {most} are planned."
        raise OutOfRange(Fault("contour", Message(text, {"count": len(chain), "most": MOST_ELEMENTS})))


def _require_side(part: Contour, where: Where) -> None:
    if on_the_wrong_side(part.chain, part.side, where):
        text = "With the tool on this side of the contour it would stand in the part: take the other side."
        raise Impossible(Fault("side", Message(text)))


def _require_depth(inputs: ContourPlanInputs, tool: PlanTool) -> None:
    passes, nose = inputs.passes, tool.tool.nose
    if passes.roughing == "none":
        return
    if passes.pass_depth is None:
        raise Missing(Fault("pass_depth", Message("Roughing needs the depth per pass.")))
    if tool.bare and passes.pass_depth > 2.0 * nose:
        values: dict[str, Value] = {"nose": Quantity(nose, RADIUS), "most": Quantity(2.0 * nose, LENGTH)}
        text = "A round nose of {nose} alone clears at most {most} in a pass: give the insert, or a smaller depth."
        raise Impossible(Fault("pass_depth", Message(text, values)))


def _operations(
    inputs: ContourPlanInputs, tool: PlanTool, part: Contour, front: tuple[float, ...] | None
) -> Iterator[Operation]:
    """The face first, then the rest of the roughing, then the finish."""
    passes, cut, where = inputs.passes, inputs.cut, inputs.where
    rough = Cut(
        depth=passes.pass_depth,
        feed=cut.rough_feed if cut.rough_feed is not None else cut.feed,
        surface_speed=cut.rough_surface_speed if cut.rough_surface_speed is not None else cut.surface_speed,
        along_z=passes.allowance_z,
        along_x=passes.allowance_x,
    )
    rough = led(passes, rough, "rough")
    require_round(rough, tool.tool)
    if passes.roughing != "none":
        if front is not None and where != "bore":
            finished = where == "face" or front_of(part.chain, where) is not None
            yield Operation(tool.tool, rough if finished else replace(rough, along_z=0.0), "face", where)
        yield Operation(tool.tool, rough, ROUGHING[passes.roughing], where)
    yield Operation(tool.tool, led(passes, Cut(None, cut.feed, cut.surface_speed), "finish"), "finish", where)


def stock_of(inputs: StockInputs, chain: Chain, shape: str) -> Area:
    """The stock as an area: the bar, less what was turned before.

    Without a bar diameter that of the demonstration part named by `shape` holds. Raises `Missing` and `Impossible`.
    """
    diameter = inputs.bar_diameter or BAR.get(shape)
    if diameter is None:
        raise Missing(Fault("bar_diameter", Message("Give the bar's diameter.")))
    bounds = chain.bounds
    if diameter / 2 < bounds.r_max - 1e-9 * bounds.size:
        values = {"bar": Quantity(diameter, DIAMETER, brief=True), "needed": Quantity(2 * bounds.r_max, DIAMETER)}
        raise Impossible(Fault("bar_diameter", Message("The bar {bar} is smaller than the contour, {needed}.", values)))
    bore = inputs.stock_bore / 2
    if bore >= diameter / 2:
        raise Impossible(Fault("stock_bore", Message("The bore takes the whole bar away.")))
    face = bounds.z_max + inputs.face_stock
    bar = Bar(diameter / 2, face, bounds.z_min - LONGEST_BACK, bore, inputs.bore_depth).area()
    if not inputs.turned_before:
        return bar
    try:
        before, side = in_cutting_direction(unique(inputs.turned_before), "right", "outside")
        return work_of(bar, before, side).finished
    except Problem as problem:
        raise problem.renamed(lambda _: "turned_before") from problem
