"""Which tool reaches a contour: the pairs of insert and holder that do, the strongest first; how the first stands."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from calc.answer.feature import Answer, Feature, Rows
from calc.contour import Side
from calc.contour.text import ContourGiven
from calc.cutting import nouns
from calc.language.checks import require
from calc.language.fields import Declared, choice, contour, flag, given, result, word
from calc.language.messages import Message, Phrase, as_text
from calc.language.problems import Fault, Missing
from calc.language.quantities import COUNT, DIAMETER, RADIUS
from calc.machining.finding import Found, Hand, Wanted, find_tools
from calc.machining.reach.examine import examine
from calc.machining.reach.work import contour_work
from calc.questions.shapes.contour_side import can_be_drawn, drawing
from calc.questions.shapes.contour_so_far import asked_chain, showing_contour
from calc.questions.tools.reach import tool_drawn
from calc.shapes.chosen import OWN, SHAPES, TOOL_SIDE, ShapeName
from calc.tool.catalogue import Place

WorksAt = Literal["outside", "inside"]
PLACES: dict[WorksAt, str] = {"outside": "outside", "inside": "in a bore"}
HandAsked = Literal["", "right", "left"]
HANDS: dict[HandAsked, str] = {"": "either hand", "right": "right hand", "left": "left hand"}
SIDES: dict[str, tuple[Side, Place]] = {"outside": ("right", "outside"), "inside": ("left", "bore")}
HAND_OF: dict[str, Hand] = {"": "either", "right": "R", "left": "L"}


class ToolFinderInputs(Declared):
    """A contour, where the tool works, and what is wanted of it."""

    shape: ShapeName = choice("Contour", SHAPES, OWN)
    contour: ContourGiven | None = contour("Contour", hint="my own, in the direction of travel")
    where: WorksAt = choice("The tool works", PLACES, "outside")
    tool_hand: HandAsked = choice("Hand", HANDS, "")
    ra: float | None = nouns.RA.given()
    entry_diameter: float | None = given(
        DIAMETER, "Hole that a bar goes into", above=0.0, blank="the smallest of the contour"
    )

    @property
    def side(self) -> Side:
        """Where the tool stands."""
        return TOOL_SIDE.get(self.shape, SIDES[self.where][0])


class ToolFinderResults(Declared):
    """The strongest tool; without one there is no answer."""

    insert: str = word("Insert")
    holder: str = word("Holder or bar")
    reaches: bool = flag("One tool reaches all")
    nose_radius: float = result(RADIUS, "Nose radius", "r_n")
    count: float = result(COUNT, "Tools found")


class FoundRow(Declared):
    """One tool, the strongest first."""

    insert: str = word("Insert")
    holder: str = word("Holder")
    nose_radius: float = result(RADIUS, "nose")
    reach: str = word("reaches")
    reason: str = word("why it stands here")


@showing_contour()
def solve(inputs: ToolFinderInputs) -> Answer[ToolFinderResults]:
    """Look through the common pairs. Raises `Missing` without a contour, and where no tool reaches anything.

    >>> found = solve(ToolFinderInputs(shape="stem", tool_hand="right")).results
    >>> found.insert, found.holder, found.reaches
    ('CNMG 120416', 'PCLNR 2525M12', True)
    """
    require(inputs)
    wanted = _wanted(inputs)
    found = find_tools(wanted)
    if not found:
        text = "No common tool reaches this contour: look at its smallest inside radius and its steepest wall."
        raise Missing(Fault("contour", Message(text)))
    first = found[0]
    work = contour_work(wanted.chain, wanted.side)
    reach = examine(work, first.cutter, None, 0.0)
    drawn = can_be_drawn(wanted.chain)
    return Answer(
        results=ToolFinderResults(
            insert=first.insert,
            holder=first.holder,
            reaches=first.reaches,
            nose_radius=first.cutter.nose,
            count=len(found),
        ),
        headline="insert",
        contour=wanted.chain,
        notes=(Message(COMMON),),
        tables={"tools": _rows(found)},
        drawing=(lambda: tool_drawn(drawing(wanted.chain, wanted.side, None), work, reach)) if drawn else None,
    )


COMMON = (
    "Searched among common pairs of insert and holder. Outlines of holders are simplified, edges keep 2° off walls: "
    "check the real tool against the part."
)


def _wanted(inputs: ToolFinderInputs) -> Wanted:
    chain = asked_chain(inputs)
    _, place = SIDES[inputs.where]
    hole = None
    if place == "bore":
        hole = chain.bounds.r_min if inputs.entry_diameter is None else inputs.entry_diameter / 2.0
    return Wanted(chain, inputs.side, place, inputs.ra, HAND_OF[inputs.tool_hand], hole)


def _rows(found: Sequence[Found]) -> list[FoundRow]:
    return [
        FoundRow(
            insert=each.insert,
            holder=each.holder,
            nose_radius=each.cutter.nose,
            reach="all"
            if each.reaches
            else Phrase("elements {number} to {last}", number=each.first + 1, last=each.last + 1),
            reason=as_text(each.reason),
        )
        for each in found
    ]


FEATURE = Feature(
    path="nose-radius/tools",
    page="/tool-finder",
    title="Find a tool",
    summary="A contour in; inserts in holders or bars that reach all of it, the strongest first, or two that do.",
    solve=solve,
    supporting=("holder", "reaches", "nose_radius", "count"),
    rows={"tools": Rows(FoundRow, "Tools, the strongest first", "Tools")},
    example={"shape": "stem", "tool_hand": "right"},
    leads_to={
        "/reach-contour": "See what one insert and holder cannot do here",
        "/part": "Take this into a part",
    },
    unfolded=("Tools",),
)
