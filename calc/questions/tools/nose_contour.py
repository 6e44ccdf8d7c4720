"""The round nose on a contour as a question: its path, the points to key in, what it leaves, compensation."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from functools import partial

from calc.answer.feature import Answer, Feature, Rows
from calc.contour import Chain
from calc.contour.text import ContourGiven
from calc.cutting import nouns
from calc.cutting.nouns import PointNumber
from calc.language.checks import require
from calc.language.fields import Declared, choice, contour, given, part, result, word
from calc.language.messages import Caution, Message, Phrase, Quantity, Value
from calc.language.problems import Fault, Impossible
from calc.language.quantities import ANGLE, AREA, COUNT, LENGTH, RADIUS, X, Z
from calc.questions.shapes.contour_so_far import asked_chain, showing_contour
from calc.questions.tools.nose_contour_drawing import blank_drawing, drawing_of
from calc.questions.tools.nosed_contour import Question
from calc.shapes.chosen import OWN, SHAPES, TOOL_SIDE, ShapeName, SideAsked
from calc.tool.compensation import (
    CompensationResults,
    cancel_advice,
    compensation_cautions,
    compensation_results,
    lead_to,
)
from calc.tool.nose_measures import MeasureRow, measure_rows
from calc.tool.nose_path import Gouge, NosePath, Unreached, nose_path, span_of
from calc.tool.nose_shift import KeyRow, cut_beyond_corners, key_rows, record_rules
from calc.tool.point import STEPS

SIDES: dict[SideAsked, str] = {
    "": "by the example; of my own: left of travel",
    "left": "left of travel",
    "right": "right of travel",
}
REASONS = {
    "corner": "concave corner",
    "radius": "radius smaller than the nose",
    "narrow": "too narrow for the nose",
    "axis": "too near to the axis for the nose",
}


class LeadInputs(Declared):
    """How the tool comes to the start of the contour."""

    lead_in: float = nouns.LEAD_IN.given(default=0.0, hint="straight, onto the start of the contour")
    lead_heading: float | None = given(
        ANGLE,
        "Lead-in direction",
        "",
        hint="counter-clockwise from the axis away from the chuck; 180° runs toward it",
        least=-math.tau,
    )


class NoseInputs(Declared):
    """A contour, a nose, and what the control knows of it."""

    shape: ShapeName = choice("Contour", SHAPES, OWN)
    contour: ContourGiven | None = contour("Contour", hint="my own, in the direction of travel")
    nose_radius: float = nouns.NOSE_RADIUS.needed(start=(0.8, 0.03125))
    tool_point: PointNumber = nouns.TOOL_POINT.chosen(hint="controls differ")
    side: SideAsked = choice("Tool stands", SIDES, "")
    lead: LeadInputs = part(LeadInputs, "Lead-in")


class UnreachedRow(Declared):
    """A stretch of the contour that the nose does not touch, and what stays there."""

    elements: str = word("Elements")
    why: str = word("Why")
    left: float | None = result(LENGTH, "material left", hint="at most, square to the nearest wall")
    size: float = result(LENGTH, "to the print's farthest point", hint="of a corner: to the sharp corner")
    area: float | None = result(AREA, "area that stays")
    centre_x: float | None = result(X, "nose centre X")
    centre_z: float | None = result(Z, "nose centre Z")


class GougeRow(Declared):
    """What a nose would cut that followed an element to its end all the same."""

    element: str = word("Along element")
    into: str = word("into element")
    depth: float = result(LENGTH, "deep")
    at_x: float = result(X, "at X")
    at_z: float = result(Z, "at Z")


class WayResults(Declared):
    """How far the nose comes."""

    largest_left: float = result(LENGTH, "Material left by the nose", hint="at most, square to the nearest wall")
    largest_unreached: float = result(LENGTH, "to the sharp corner")
    unreached_count: float = result(COUNT, "Places not reached")
    way_length: float = result(LENGTH, "Path of the nose centre")
    runs: float = result(
        COUNT, "separate runs", hint="more than one: it cannot pass from one to the next along the contour"
    )


class UnshiftedResults(Declared):
    """What happens when the print's points are keyed in and nothing compensates."""

    most_left: float = result(LENGTH, "Metal left without compensation", hint="square to the print, at most")
    most_deep: float = result(LENGTH, "Cut too deep without compensation", hint="at most")
    worst_element: str | None = word("Worst at element")


class NoseContourResults(Declared):
    """The nose on the contour."""

    way: WayResults = part(WayResults, "Nose and tool point")
    unshifted: UnshiftedResults = part(UnshiftedResults, "Without compensation")
    compensation: CompensationResults = part(CompensationResults, "Compensation on the control")


@showing_contour("left")
def solve(inputs: NoseInputs) -> Answer[NoseContourResults]:
    """The nose on the contour. Raises `Missing` without contour or nose, and what the contour's solver raises.

    >>> pad = solve(NoseInputs(shape="pad", nose_radius=0.4, tool_point="3"))
    >>> round(pad.results.unshifted.most_left, 6)
    0.165685
    """
    require(inputs)
    chain = asked_chain(inputs, "left")
    side = inputs.side or TOOL_SIDE.get(inputs.shape, "left")
    heading = inputs.lead.lead_heading
    return answer_of(
        Question(
            chain,
            inputs.nose_radius,
            int(inputs.tool_point),
            side,
            inputs.lead.lead_in,
            math.pi if heading is None else heading,
        )
    )


def answer_of(asked: Question) -> Answer[NoseContourResults]:
    """The answer for a contour that is known. Raises `Impossible` for a nose that touches nothing of it.

    >>> from calc.shapes.chosen import shape_chain
    >>> chain = shape_chain("stem", None)
    >>> answer_of(Question(chain, 0.8, 3, "right")).results.way.unreached_count
    2.0
    """
    path = nose_path(asked.chain, asked.nose, asked.side)
    if not path.steps:
        text = "A nose of {nose} touches no place of this contour on that side: take a smaller one, or the other side."
        raise Impossible(Fault("nose_radius", Message(text, {"nose": Quantity(asked.nose, RADIUS)})))
    record_rules(path)
    lead = lead_to(asked.chain.start, asked.lead_in, asked.lead_heading)
    measured = measure_rows(asked.chain, asked.nose, asked.side, asked.number)
    keyed = key_rows(path, asked.number)
    results = NoseContourResults(
        way=_way(path), unshifted=_unshifted(measured), compensation=compensation_results(path, lead)
    )
    headline = _headline(results)
    return Answer(
        results=results,
        headline=headline,
        contour=asked.chain,
        cautions=(*_cut_beyond(path), *compensation_cautions(path, lead), *_beyond_axis(path, asked.number)),
        notes=tuple(_notes(asked)),
        sentences=_sentences(asked),
        tables={
            "key_points": keyed,
            "measured": measured,
            "unreached": [unreached_row(asked.chain, gap) for gap in path.unreached],
            "gouges": [_gouge_row(asked.chain, gouge) for gouge in path.gouges],
        },
        drawing=partial(drawing_of, asked, path),
    )


def _headline(results: NoseContourResults) -> str:
    """What the nose does to a print that is keyed in as it stands; where that comes out right, what the nose leaves."""
    unshifted = results.unshifted
    if max(unshifted.most_left, unshifted.most_deep) <= 0.0:
        return "largest_left"
    return "most_left" if unshifted.most_left >= unshifted.most_deep else "most_deep"


def _way(path: NosePath) -> WayResults:
    return WayResults(
        largest_left=max((gap.size if gap.left is None else gap.left for gap in path.unreached), default=0.0),
        largest_unreached=max((gap.size for gap in path.unreached), default=0.0),
        unreached_count=float(len(path.unreached)),
        way_length=sum(chain.length for chain in path.centre_chains),
        runs=float(len(path.runs)),
    )


def _unshifted(measured: Iterable[MeasureRow]) -> UnshiftedResults:
    rows = list(measured)
    worst = max(rows, key=lambda row: max(row.left, row.deep))
    return UnshiftedResults(
        most_left=max(row.left for row in rows),
        most_deep=max(row.deep for row in rows),
        worst_element=Phrase("{element}, {what}", element=worst.element, what=worst.is_)
        if max(worst.left, worst.deep) > 0.0
        else None,
    )


def unreached_row(chain: Chain, gap: Unreached) -> UnreachedRow:
    """A place that is not reached, as it stands on the page; elements are called as its rows are."""
    return UnreachedRow(
        elements=span_of(chain, gap),
        why=REASONS[gap.reason],
        left=gap.left,
        size=gap.size,
        area=gap.area,
        centre_x=gap.centre and gap.centre.r,
        centre_z=gap.centre and gap.centre.z,
    )


def _gouge_row(chain: Chain, gouge: Gouge) -> GougeRow:
    return GougeRow(
        element=chain.name_of(gouge.of),
        into=chain.name_of(gouge.into),
        depth=gouge.depth,
        at_x=gouge.contact.r,
        at_z=gouge.contact.z,
    )


def _cut_beyond(path: NosePath) -> Iterator[Caution]:
    """Corners past which the points to key in do not lead the nose on, as it would cut a wall there."""
    for cut in cut_beyond_corners(path):
        values: dict[str, Value] = {
            "at": cut.at,
            "depth": Quantity(cut.depth, LENGTH),
            "wall": path.chain.called(cut.into),
            "nose": Quantity(path.nose_radius, RADIUS, brief=True),
        }
        text = (
            "At {at} key in the arc {nose} round the corner, as listed: led on to where the two lines meet the nose "
            "would cut {depth} into {wall}."
        )
        yield Caution(Message(text, values), 2, "key_points")


def _beyond_axis(path: NosePath, number: int) -> Iterator[Caution]:
    """What stands beyond the axis while the nose is nearest to it: the tool point, the nose's own edge."""
    nearest = min(chain.bounds.r_min for chain in path.centre_chains)
    nose = path.nose_radius
    beyond = -(nearest + STEPS[number].r * nose)
    if path.chain.bounds.r_min > 1e-9 * nose or max(beyond, nose - nearest) <= 1e-9 * nose:
        return
    values: dict[str, Value] = {
        "number": number,
        "beyond": Quantity(beyond, LENGTH),
        "nose": Quantity(nose - nearest, LENGTH),
    }
    text = "The nose reaches {nose} past the axis: see that insert and holder clear the far side, and retract along Z."
    if beyond > 1e-9 * nose:
        text = (
            "The nose reaches {nose} past the axis, tool point {number} ends {beyond} beyond it: see that insert and "
            "holder clear the far side, and retract along Z."
        )
    yield Caution(Message(text, values), 2, "tool_point")


def _notes(asked: Question) -> Iterator[Message]:
    if asked.chain.bounds.r_min < -1e-9 * asked.chain.bounds.size:
        yield Message("The contour runs beyond the axis: the far side of the turning part is not taken into account.")


def _sentences(asked: Question) -> dict[str, tuple[Message, ...]]:
    keyed = Message(
        "Keyed in like this, tool point {number} leads the nose along the print without compensation. At convex "
        "corners the elements are led on to where they meet, unless the nose would touch something there.",
        {"number": asked.number},
    )
    unshifted = Message(
        "This is what comes out when the print's own points are keyed in for tool point {number}. Faces and cylinders "
        "are right for the tool points 1 to 4 on their sides; slopes and arcs are not.",
        {"number": asked.number},
    )
    axes = Message("For +X up and +Z to the right, away from the chuck. Seen from the other side, G41 and G42 swap.")
    return {
        "Nose and tool point": (keyed,),
        "Without compensation": (unshifted,),
        "Compensation on the control": (cancel_advice(asked.nose), axes),
    }


FEATURE = Feature(
    path="nose-radius/path",
    page="/nose",
    title="Nose on a contour",
    summary="What a round nose really cuts: its path, the points to key in without compensation, what stays.",
    solve=solve,
    supporting=("largest_left", "largest_unreached", "side_word", "least_lead_in", "worst_element"),
    rows={
        "key_points": Rows(KeyRow, "Points to key in without compensation", "Nose and tool point"),
        "unreached": Rows(UnreachedRow, "Places that the nose does not touch", "Nose and tool point"),
        "gouges": Rows(GougeRow, "What a nose that followed them would cut", "Nose and tool point"),
        "measured": Rows(MeasureRow, "What each element would measure", "Without compensation"),
    },
    blank=blank_drawing(),
    example={"shape": "pad", "nose_radius": "0.4", "tool_point": "3", "lead_in": "2", "lead_heading": "270"},
)
