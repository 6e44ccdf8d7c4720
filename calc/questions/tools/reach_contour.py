"""Does it reach along any contour: an insert in a holder, held against every element that is entered."""

from __future__ import annotations

from collections.abc import Mapping

from calc.answer.feature import Answer, Feature
from calc.contour import Chain
from calc.contour.text import ContourGiven, contour_text
from calc.cutting import nouns
from calc.language.checks import require
from calc.language.fields import Declared, choice, contour, part
from calc.language.quantities import View
from calc.machining.reach.examine import examine
from calc.machining.reach.work import contour_work
from calc.questions.shapes.contour_side import can_be_drawn, drawing
from calc.questions.shapes.contour_so_far import asked_chain, showing_contour
from calc.questions.tools.reach import (
    ROWS,
    ReachResults,
    reach_cautions,
    reach_notes,
    reach_remarks,
    reach_results,
    reach_tables,
    tool_drawn,
)
from calc.questions.tools.reach_asked import HoldInputs, PlainInsertInputs, ReachInputs, cutter_asked, require_nose
from calc.shapes.chosen import OWN, SHAPES, SIDES, TOOL_SIDE, ShapeName, SideAsked
from calc.tool.holder import misfits, read_holder
from calc.tool.insert import read_insert


class ReachContourInputs(Declared):
    """A contour, an insert, a holder; the depth of a pass (mm)."""

    insert: str | None = nouns.INSERT.given()
    holder: str | None = nouns.HOLDER.given(hint="such as SDJCR 2020K11")
    shape: ShapeName = choice("Contour", SHAPES, OWN)
    contour: ContourGiven | None = contour("Contour", hint="my own, in the direction of travel")
    side: SideAsked = choice("Tool stands", SIDES, "")
    pass_depth: float | None = nouns.PASS_DEPTH.given(hint="along X or Z, across the feed")
    hold: HoldInputs = part(HoldInputs, "How it is held")
    plain: PlainInsertInputs = part(PlainInsertInputs, "Insert by its measures")


@showing_contour()
def solve(inputs: ReachContourInputs) -> Answer[ReachResults]:
    """Hold the tool against every element. Raises `Problem` for what is missing, cannot be, or disagrees.

    >>> pad = ReachContourInputs(insert="DCMT 11T304", holder="SDJCR 2020K11", shape="pad")
    >>> solve(pad).results.verdict
    'passes'
    """
    require(inputs)
    insert = read_insert(inputs.insert, "insert") if inputs.insert else None
    holder = read_holder(inputs.holder) if inputs.holder else None
    asked = ReachInputs(insert=inputs.insert, holder=inputs.holder, hold=inputs.hold, plain=inputs.plain)
    cutter = cutter_asked(asked, insert, holder)
    require_nose(cutter)
    chain = asked_chain(inputs)
    side = inputs.side or TOOL_SIDE.get(inputs.shape, "right")
    work = contour_work(chain, side)
    work = work.reversed() if inputs.hold.travel == "out" else work
    reach = examine(work, cutter, inputs.pass_depth, inputs.hold.tilt)
    against = list(misfits(insert, holder)) if insert and holder else None
    results = reach_results(inputs.hold, cutter, reach, None, holder, fits=None if against is None else not against)
    return Answer(
        results=results,
        headline="verdict",
        contour=chain,
        cautions=tuple(reach_cautions(reach, against or [], results, inputs.hold)),
        notes=tuple(reach_notes(insert, holder, cutter)),
        sentences={"Checks": tuple(reach_remarks(reach))},
        tables=reach_tables(work, reach, cutter),
        drawing=(lambda: tool_drawn(drawing(chain, side, None), work, reach)) if can_be_drawn(chain) else None,
    )


def dish_as_rows(texts: Mapping[str, str], found: Chain | None, view: View) -> Mapping[str, str]:
    """What is taken of a page without contour rows: the dish as rows, from the mouth in, the tool on their left.

    >>> from calc.contour import Line, Point
    >>> found = Chain((Line(Point(0.0, 10.0), Point(-5.0, 0.0)),))
    >>> dish_as_rows({"insert": "RCMT 1204M0"}, found, View())["contour"]
    's_x20_z0*l_x0_z-5'
    """
    if found is None or "contour" in texts:
        return texts
    return {**texts, "contour": contour_text(found, view, by_radius=True), "side": "left"}


FEATURE = Feature(
    path="nose-radius/reach-contour",
    page="/reach-contour",
    title="Reach along a contour",
    summary="Does it reach? An insert in its holder against every element of any contour, rising and falling.",
    solve=solve,
    rows=ROWS,
    supporting=("stopped_by", "margin_ahead", "margin_behind", "tool_point"),
    takes=dish_as_rows,
    example={"insert": "DCMT 11T304", "holder": "SDJCR 2020K11", "shape": "stem"},
)
