"""The plan of any contour as a question: passes, what they remove, what is left, time, words, pictures."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

from calc.answer.drawing import Drawing, Outline, Path
from calc.answer.feature import Answer, Feature, Rows
from calc.contour import Chain, Side
from calc.contour.solving import GivenElement
from calc.cutting.finish import Finish, finish
from calc.language.checks import require
from calc.language.messages import Caution, Message, Quantity
from calc.language.quantities import LENGTH
from calc.language.working import recording
from calc.machining.passes import Pass, Referral
from calc.machining.pictures import BESIDE_PASSES, chain_of_ring, pictures
from calc.machining.reach.limits import flank_finding, flank_remark
from calc.machining.reach.work import contour_work
from calc.machining.times import times
from calc.machining.words import CLOSES, Style
from calc.questions.operations.contour_plan.inputs import ContourPlanInputs
from calc.questions.operations.contour_plan.limited import limits_of
from calc.questions.operations.contour_plan.plan import Plan, plan_of
from calc.questions.operations.contour_plan.results import (
    ChipRow,
    ContourPlanResults,
    PlaceRow,
    RemovalRow,
    ShadowRow,
    WordsResults,
)
from calc.questions.operations.contour_plan.shown import (
    chip_rows,
    left_results,
    place_rows,
    plan_cautions,
    removal_results,
    removal_row,
    shadow_rows,
    time_results,
)
from calc.questions.operations.contour_plan.starting import settled, with_starting_values
from calc.questions.operations.contour_plan.tool import PlanTool
from calc.questions.operations.strategies import led_otherwise
from calc.questions.shapes.contour_so_far import asked_chain, showing_contour
from calc.shapes.chosen import TOOL_SIDE


@showing_contour()
def solve(inputs: ContourPlanInputs) -> Answer[ContourPlanResults]:
    """The plan. Raises `Missing` for what it cannot do without, and what contour, tool and passes raise."""
    require(inputs)
    chain = asked_chain(inputs)
    side = inputs.side or TOOL_SIDE.get(inputs.shape, "right")
    return answer_of(inputs, chain, side, inputs.contour.elements if inputs.contour else ())


def answer_of(
    inputs: ContourPlanInputs, chain: Chain, side: Side, given: Sequence[GivenElement] = ()
) -> Answer[ContourPlanResults]:
    """The plan for a contour that is known; `given` are the elements of the print that it came from."""
    asked = settled(inputs)
    inputs = asked.inputs
    plan = plan_of(inputs, chain, side, given)
    finished = _finish(inputs, plan)
    rows = times(plan.done, Referral(plan.tool.tool.nose, plan.tool.tool.point), inputs.cut.max_rpm)
    answer = Answer(
        results=ContourPlanResults(
            left=left_results(plan),
            removal=removal_results(plan.removals),
            times=time_results(plan, rows, finished),
            closing=WordsResults(worst_gap=plan.worst_gap()),
        ),
        headline="proud_most",
        contour=chain,
        cautions=(*limits_of(inputs, plan, asked.work), *_of_tool(plan.tool, chain, side), *plan_cautions(plan)),
        notes=(*asked.notes, *(note for one in plan.done for note in led_otherwise(one))),
        sentences=_sentences(rows, plan.tool),
        tables={"passes": rows, **_tables(plan)},
        drawing=partial(_drawing, plan),
        pictures=partial(pictures, plan.done),
        picture_count=BESIDE_PASSES + len(plan.removals),
        words=plan.text,
    )
    return with_starting_values(answer, asked, plan.tool.tool.nose)


def _finish(inputs: ContourPlanInputs, plan: Plan) -> Finish | None:
    """The finish of a straight stretch, None without a feed or for one that is wider than the nose."""
    feed = inputs.cut.feed
    return finish(feed, plan.tool.tool.nose) if feed is not None and feed < plan.tool.tool.nose else None


def _tables(plan: Plan) -> dict[str, Sequence[object]]:
    return {
        "removals": [removal_row(each) for each in plan.removals],
        "chips": list(chip_rows(plan.removals)),
        "places": list(place_rows(plan)),
        "shadows": list(shadow_rows(plan.reach)),
    }


def _of_tool(tool: PlanTool, chain: Chain, side: Side) -> Iterator[Caution]:
    """What the tool triggers, and the hollow of the turning part at the insert's flank, as the page of reach has it."""
    yield from tool.cautions
    if tool.flank is not None:
        with recording():
            finding, _ = flank_finding(contour_work(chain, side), tool.flank)
        if finding.message is not None:
            yield Caution(finding.message, 2, "holder")


def _sentences(rows: Sequence[Pass], tool: PlanTool) -> dict[str, tuple[Message, ...]]:
    counted = Message("Time in feed with run-ins. Rapid moves, tool changes and measuring are not in it.")
    missing = () if rows else (Message("Times need the feed, and the surface speed or the material."),)
    closes = Message(
        "Rounded to the last decimal of the words each arc still closes within {allowed}. The words are points with "
        "moves, not a program to run.",
        {"allowed": Quantity(CLOSES * Style().step, LENGTH)},
    )
    flank = (flank_remark(tool.flank),) if tool.flank is not None and tool.flank.is_bar_ground else ()
    judged = Message(
        "Found by sweeping the insert's true outline over the stock, within 0.001 mm. Around the ends of the "
        "contour, where the tool comes and goes, nothing is checked."
    )
    return {"Time and finish": (*missing, counted), "Words": (closes,), "What is left": (judged, *flank)}


def _drawing(plan: Plan) -> Drawing:
    """The sketch: the print, the tool where it ends, the paths of the nose centre in the passes."""
    chain = plan.chain
    made = [each for done in plan.done for each in done.made]
    paths = [Path("pass", Chain(tuple(p.centre for p in each.planned.pieces if p.centre))) for each in made]
    outline = chain_of_ring(plan.tool.tool.outline.rim, paths[-1].chain.end)
    _, _, z_high, r_high = plan.done[0].regions.stock.bounds
    return Drawing(
        title="The passes over the contour",
        description="Section with the axis across the page, the chuck at the left; the paths of the nose centre.",
        part=chain if chain.start.r >= chain.end.r else chain.reversed(),
        bar_radius=r_high,
        hole_radius=0.0,
        stock_face=z_high if z_high > chain.bounds.z_max else None,
        paths=tuple(paths),
        outlines=(Outline("insert", outline),),
    )


FEATURE = Feature(
    path="plan/contour",
    page="/plan",
    title="Plan of a contour",
    summary="Passes over any contour, taken off the stock by the insert's true shape: what is left, time, words.",
    solve=solve,
    leads_to={"/part": "Take this into a part"},
    supporting=("gouged_most", "total_time", "pass_count", "out_of_reach"),
    rows={
        "places": Rows(PlaceRow, "Where the part differs from the print", "What is left"),
        "shadows": Rows(ShadowRow, "Out of reach of the insert's edges", "What is left"),
        "removals": Rows(RemovalRow, "What each pass takes", "Pass by pass"),
        "chips": Rows(ChipRow, "Chip along the path: in the pass with the widest one, and in the last", "Pass by pass"),
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
