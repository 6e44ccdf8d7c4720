"""The plan of any contour as a question: passes, what they remove, what is left, time, words, pictures."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property, partial
from typing import cast

from calc.answer.drawing import Drawing, Outline, Path
from calc.answer.feature import Answer, Feature, Rows
from calc.contour import Chain, Element, Side
from calc.cutting.finish import Finish, finish
from calc.language.checks import require
from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.problems import Fault, Impossible, Missing, Problem
from calc.language.quantities import AREA, DIAMETER, LENGTH, METRIC, View
from calc.language.working import recording
from calc.machining.passes import Pass, Referral, Spindle, pass_row
from calc.machining.removal.polygons import Area
from calc.machining.removal.region import Bar, work_of
from calc.machining.removal.simulating import Removal, Simulation, ToolPass, simulate
from calc.machining.roughing.levels import Keeping, Where
from calc.machining.roughing.planning import Job, Planned, Roughing, in_cutting_direction, plan_passes, with_rapids
from calc.machining.roughing.reachable import Reachable, reachable
from calc.machining.words import CLOSES, Fed, Named, written
from calc.questions.operations.contour_plan.inputs import ContourPlanInputs, StockInputs
from calc.questions.operations.contour_plan.pictures import chain_of_ring, pictures_of
from calc.questions.operations.contour_plan.results import (
    ChipRow,
    ContourPlanResults,
    LeftResults,
    PlaceRow,
    RemovalResults,
    RemovalRow,
    ShadowRow,
    TimeResults,
    WordsResults,
)
from calc.questions.operations.contour_plan.tool import PlanTool, margin_of, plan_tool
from calc.shapes.chosen import BAR, TOOL_SIDE, given_by, shape_chain, unique
from calc.tool.point import STEPS

LONGEST_BACK = 40.0
"""mm: how much of the bar is looked at behind the contour."""


@dataclass(frozen=True)
class Planning:
    """A plan as it comes to be: the contour, the tool, the passes; what they remove is found when it is asked for."""

    chain: Chain
    side: Side
    stock: Area
    tool: PlanTool
    reach: Reachable
    job: Job
    planned: tuple[Planned, ...]
    number: int

    @cached_property
    def tool_passes(self) -> list[ToolPass]:
        """The passes with the rapid moves between them."""
        return with_rapids(self.planned, self.job)

    @cached_property
    def simulation(self) -> Simulation:
        """What the passes remove, by the tool's true outline."""
        work = work_of(self.stock, self.chain, self.side, self.tool.nose)
        return simulate(work, self.tool.outline, self.tool_passes, self.chain)

    def named(self) -> list[Named]:
        """The passes as ways of the tool point."""
        step = STEPS[self.number].times(self.tool.nose)
        return [
            Named(each.name, tuple(Fed(_shifted(move.elements, step.z, step.r), move.feed) for move in each.moves))
            for each in self.tool_passes
        ]

    def text(self, view: View) -> str:
        """The passes as words for a reader."""
        return written(self.named(), view)[0]


def _shifted(elements: Sequence[Element], dz: float, dr: float) -> tuple[Element, ...]:
    return tuple(element.shifted(dz, dr) for element in elements)


def solve(inputs: ContourPlanInputs) -> Answer[ContourPlanResults]:
    """The plan. Raises `Missing` for what it cannot do without, and what contour, tool and passes raise."""
    require(inputs)
    chain = shape_chain(inputs.shape, inputs.contour)
    side = cast("Side", inputs.side or TOOL_SIDE.get(inputs.shape, "right"))
    return answer_of(inputs, chain, side)


def answer_of(inputs: ContourPlanInputs, chain: Chain, side: Side) -> Answer[ContourPlanResults]:
    """The plan for a contour that is known."""
    with recording():
        plan = planning(inputs, chain, side)
        found = plan.simulation
    finished = _finish(inputs, plan)
    rows = _passes(inputs, plan)
    return Answer(
        results=ContourPlanResults(
            left=_left(plan),
            removal=_removal(found),
            times=_times(rows, plan, finished),
            closing=WordsResults(worst_gap=written(plan.named(), METRIC)[1]),
        ),
        headline="proud_most",
        contour=chain,
        cautions=(*plan.tool.cautions, *_cautions(plan)),
        sentences=_sentences(rows),
        tables={
            "passes": rows,
            "removals": [_removal_row(each) for each in found.removals],
            "chips": list(_chip_rows(found)),
            "places": list(_places(found)),
            "shadows": list(_shadows(plan.reach)),
        },
        drawing=partial(_drawing, plan),
        pictures=partial(pictures_of, found, plan.tool.outline, chain),
        words=plan.text,
    )


def planning(inputs: ContourPlanInputs, chain: Chain, side: Side) -> Planning:
    """The plan's passes. Raises `Missing` and `Impossible` for stock, tool, passes that are not told or cannot be."""
    where = cast("Where", inputs.where)
    tool = plan_tool(inputs.tool, along=where == "bore")
    chain, side = in_cutting_direction(chain, side, where)
    stock = stock_of(inputs.stock, chain, inputs.shape)
    edges = tool.edges.kept_off(margin_of(inputs.tool)) if tool.edges else None
    reach = reachable(chain, side, edges)
    passes, cut = inputs.passes, inputs.cut
    if passes.pass_depth is None and passes.roughing != "none":
        raise Missing(Fault("pass_depth", Message("Roughing needs the depth per pass.")))
    job = Job(
        chain=reach.chain,
        side=side,
        stock=stock,
        where=where,
        nose=tool.nose,
        depth=passes.pass_depth or 1.0,
        feed=cut.rough_feed or cut.feed or 0.2,
        finish_feed=cut.feed or 0.2,
        keeping=Keeping(passes.allowance_z or 0.0, passes.allowance_x or 0.0),
        before=2.0 if passes.lead_in is None else passes.lead_in,
    )
    planned = tuple(plan_passes(job, cast("Roughing", passes.roughing)))
    return Planning(chain, side, stock, tool, reach, job, planned, int(inputs.tool.tool_point))


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
    bore = (inputs.bore_diameter or 0.0) / 2
    if bore >= diameter / 2:
        raise Impossible(Fault("bore_diameter", Message("The bore takes the whole bar away.")))
    face = bounds.z_max + (inputs.face_stock or 0.0)
    bar = Bar(diameter / 2, face, bounds.z_min - LONGEST_BACK, bore, inputs.bore_depth).area()
    if not inputs.turned_before:
        return bar
    try:
        before, side = in_cutting_direction(unique(given_by(inputs.turned_before)), "right", "outside")
    except Problem as problem:
        raise problem.renamed(lambda _: "turned_before") from problem
    return work_of(bar, before, side).finished


def _passes(inputs: ContourPlanInputs, plan: Planning) -> list[Pass]:
    """The rows of the passes, where speeds and feeds are told."""
    cut = inputs.cut
    speeds = {"finish": cut.surface_speed, "rough": cut.rough_surface_speed or cut.surface_speed}
    feeds = {"finish": cut.feed, "rough": cut.rough_feed or cut.feed}
    referral = Referral(plan.tool.nose, plan.number)
    rows = []
    with recording():
        for each in plan.planned:
            speed = speeds[each.kind]
            if speed is not None and feeds[each.kind] is not None:
                rows.append(pass_row(each.name, each.pieces, referral, Spindle(speed, cut.max_rpm), each.depth))
    return rows


def _left(plan: Planning) -> LeftResults:
    found = plan.simulation
    return LeftResults(
        proud_most=max((place.depth for place in found.proud), default=0.0),
        gouged_most=max((place.depth for place in found.gouged), default=0.0),
        over_area=found.over.area if found.proud else 0.0,
        out_of_reach=float(len(plan.reach.shadows)),
    )


def _removal(found: Simulation) -> RemovalResults:
    chips = [chip for removal in found.removals for chip in removal.chips]
    return RemovalResults(
        pass_count=float(len(found.removals)),
        volume=sum(removal.volume for removal in found.removals),
        thickest_chip=max((chip.width for chip in chips), default=0.0),
        largest_section=max((chip.section for chip in chips), default=0.0),
    )


def _times(rows: Sequence[Pass], plan: Planning, finished: Finish | None) -> TimeResults:
    kinds = {each.name: each.kind for each in plan.planned}
    rough = [row.time for row in rows if kinds[row.name] == "rough"]
    finishing = [row.time for row in rows if kinds[row.name] == "finish"]
    return TimeResults(
        finish_time=sum(finishing) if finishing else None,
        rough_time=sum(rough) if rough else None,
        total_time=sum([*rough, *finishing]) if rows else None,
        ra_reached=finished.ra if finished else None,
        grade=finished.grade if finished else None,
    )


def _finish(inputs: ContourPlanInputs, plan: Planning) -> Finish | None:
    """The finish of a straight stretch, None without a feed or for one that is wider than the nose."""
    feed = inputs.cut.feed
    return finish(feed, plan.tool.nose) if feed is not None and feed < plan.tool.nose else None


def _removal_row(removal: Removal) -> RemovalRow:
    hits = [
        words
        for area, words in (
            (removal.gouged, "the part"),
            (removal.rapid, "stock at rapid"),
            (removal.holder, "with the holder"),
        )
        if area
    ]
    return RemovalRow(
        name=removal.name,
        area=removal.area,
        volume=removal.volume,
        chip_width=removal.thickest,
        chip_section=max((chip.section for chip in removal.chips), default=0.0),
        hit=", ".join(hits) or "nothing",
    )


def _chip_rows(found: Simulation) -> Iterator[ChipRow]:
    """The chips of the pass that takes the widest one, and of the last."""
    widest = max(found.removals, key=lambda removal: removal.thickest, default=None)
    for removal in dict.fromkeys([widest, *found.removals[-1:]]):
        for chip in removal.chips if removal else ():
            yield ChipRow(
                name=removal.name if removal else "",
                place=chip.place,
                length=chip.length,
                width=chip.width,
                section=chip.section,
            )


def _places(found: Simulation) -> Iterator[PlaceRow]:
    for what, places in (("stands proud", found.proud), ("cut too deep", found.gouged)):
        for place in places:
            yield PlaceRow(element=f"{place.of + 1}", what=what, depth=place.depth, x=place.spot.r, z=place.spot.z)


def _shadows(reach: Reachable) -> Iterator[ShadowRow]:
    for number, shadow in enumerate(reach.shadows, 1):
        yield ShadowRow(
            number=f"{number}",
            from_x=shadow.start.r,
            from_z=shadow.start.z,
            to_x=shadow.end.r,
            to_z=shadow.end.z,
        )


def _cautions(plan: Planning) -> Iterator[Caution]:
    found = plan.simulation
    yield from _hits(found)
    if plan.reach.shadows:
        first = plan.reach.shadows[0]
        values: dict[str, Value] = {"place": first.start, "area": Quantity(found.over.area, AREA)}
        text = (
            "Behind {place} an edge of the insert cannot get to the contour: what stays there, {area} in all, is for "
        )
        yield Caution(Message(text + "another tool.", values), 2, "insert")
    elif found.proud:
        worst = max(found.proud, key=lambda place: place.depth)
        values = {"depth": Quantity(worst.depth, LENGTH), "element": worst.of + 1, "spot": worst.spot}
        text = "In the end {depth} stands proud of element {element}, at {spot}."
        yield Caution(Message(text, values), 1, "proud_most")


def _hits(found: Simulation) -> Iterator[Caution]:
    if found.gouged:
        worst = max(found.gouged, key=lambda place: place.depth)
        values: dict[str, Value] = {"depth": Quantity(worst.depth, LENGTH), "spot": worst.spot}
        yield Caution(Message("The tool cuts {depth} into the part, at {spot}.", values), 3, "gouged_most")
    rapid = next((removal for removal in found.removals if removal.rapid), None)
    if rapid is not None:
        text = "A rapid move before pass “{name}” runs into the stock: see the pictures, and lead it round."
        yield Caution(Message(text, {"name": rapid.name}), 3, "roughing")
    holder = next((removal for removal in found.removals if removal.holder), None)
    if holder is not None:
        text = "In pass “{name}” the holder runs into what is left of the stock."
        yield Caution(Message(text, {"name": holder.name}), 3, "holder")


def _sentences(rows: Sequence[Pass]) -> dict[str, tuple[Message, ...]]:
    counted = Message("Time in feed with run-ins. Rapid moves, tool changes and measuring are not in it.")
    missing = () if rows else (Message("Times need the surface speed and the feed."),)
    closes = Message(
        "Rounded to {decimals} decimals each arc still closes; {allowed} is allowed here. The words are points with "
        "moves, not a program to run.",
        {"decimals": 3, "allowed": Quantity(CLOSES["mm"], LENGTH)},
    )
    judged = Message(
        "Found by sweeping the insert's true outline over the stock, within 0.001 mm. Around the ends of the contour "
        "the tool comes and goes; there nothing is judged."
    )
    return {"Time and finish": (*missing, counted), "Words": (closes,), "What is left": (judged,)}


def _drawing(plan: Planning) -> Drawing:
    """The sketch: the print, what stays for another tool, the tool where it ends, the ways of the passes."""
    chain = plan.chain
    part_chain = chain if chain.start.r >= chain.end.r else chain.reversed()
    centre = plan.planned[-1].moves[-2].elements[-1].end
    ways = [Path("pass", Chain(tuple(each.moves[-2].elements))) for each in plan.planned]
    outline = chain_of_ring(plan.tool.outline.rim, centre)
    return Drawing(
        title="The passes over the contour",
        description="Section with the axis across the page, the chuck at the left; the ways of the nose centre.",
        part=part_chain,
        bar_radius=plan.stock.bounds[3],
        hole_radius=0.0,
        stock_face=plan.stock.bounds[2] if plan.stock.bounds[2] > chain.bounds.z_max else None,
        paths=tuple(ways),
        outlines=(Outline("insert", outline),),
    )


FEATURE = Feature(
    path="plan/contour",
    page="/plan",
    title="Plan of a contour",
    summary="Passes over any contour, taken off the stock by the insert's true shape: what is left, time, words.",
    inputs=ContourPlanInputs,
    results=ContourPlanResults,
    solve=solve,
    supporting=("gouged_most", "total_time", "pass_count", "out_of_reach"),
    rows={
        "places": Rows(PlaceRow, "Where the part differs from the print", "What is left"),
        "shadows": Rows(ShadowRow, "Out of reach of the insert's edges", "What is left"),
        "removals": Rows(RemovalRow, "What each pass takes", "Pass by pass"),
        "chips": Rows(ChipRow, "Chip along the way: in the pass with the widest one, and in the last", "Pass by pass"),
        "passes": Rows(Pass, "Passes", "Time and finish"),
    },
    example={
        "shape": "stem",
        "where": "outside",
        "bar_diameter": "42",
        "face_stock": "1",
        "insert": "DCMT 11T304",
        "holder": "SDJCR 2020K11",
        "tool_point": "3",
        "roughing": "along z",
        "pass_depth": "1.5",
        "allowance_z": "0.1",
        "allowance_x": "0.3",
        "lead_in": "2",
        "surface_speed": "180",
        "rough_surface_speed": "150",
        "feed": "0.12",
        "rough_feed": "0.25",
        "max_rpm": "2500",
    },
)
