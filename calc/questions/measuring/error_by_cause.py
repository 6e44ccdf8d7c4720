"""Errors by cause: the shape that comes out when something is set wrong, over the print."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import partial
from itertools import groupby, pairwise
from typing import Any, Literal

from calc.answer.drawing import Drawing, Path
from calc.answer.feature import Answer, Feature, Rows
from calc.contour import Chain, Line, Point
from calc.contour.text import ContourGiven
from calc.cutting import nouns
from calc.cutting.nouns import POINTS, PointNumber
from calc.language.checks import require
from calc.language.fields import Declared, choice, contour, given, part, result, word
from calc.language.messages import Caution, Message, Quantity
from calc.language.problems import Fault, Impossible, OutOfRange, Problem
from calc.language.quantities import ANGLE, COUNT, DIAMETER, LENGTH, X, Z
from calc.measuring.places import tool_side
from calc.measuring.wrong import Compensation, Off, Surface, Wrong, bent, compare, measured, reach_of, turned
from calc.measuring.wrong_thread import thread_off
from calc.questions.shapes.contour_so_far import asked_chain, showing_contour
from calc.shapes.chosen import OWN, SHAPES, ShapeName, SideAsked
from calc.threads.thread import thread_of

SIDES: dict[SideAsked, str] = {"": "by its tool point", "left": "left of travel", "right": "right of travel"}
COMPENSATIONS: dict[Compensation, str] = {
    "right": "on the right side",
    "none": "none: the tool point follows the print",
    "other": "on the wrong side",
}
NumberGiven = Literal["", PointNumber]
NUMBERS: dict[NumberGiven, str] = {"": "the right number", **dict[NumberGiven, str](POINTS.items())}
XRead = Literal["right", "radius", "diameter"]
X_READ: dict[XRead, str] = {
    "right": "as it is meant",
    "radius": "a diameter read as a radius",
    "diameter": "a radius read as a diameter",
}
FACTORS = {"right": 1.0, "radius": 2.0, "diameter": 0.5}
STEPS = (1000, 500, 200, 100, 50, 20, 10, 5, 2)
SHOWN = 0.05
"""Share of the part's size up to which small errors are drawn larger."""
NOTHING = 1e-6
"""mm: an error that is none."""


class WrongInputs(Declared):
    """What is set wrong; blank is right."""

    nose_change: float = given(
        LENGTH, "Nose larger by", least=-100.0, brief="nose", hint="true minus assumed", blank="right", default=0.0
    )
    x_off: float = given(
        X, "Tool stands off in X", least=-1000.0, brief="X", hint="+ away from the axis", blank="right", default=0.0
    )
    z_off: float = given(Z, "Tool stands off in Z", least=-1000.0, brief="Z", blank="right", default=0.0)
    height: float = given(
        LENGTH, "Tool off centre height", least=-100.0, brief="height", hint="+ above", blank="right", default=0.0
    )
    number_given: NumberGiven = choice("Tool point in the control", NUMBERS, "")
    compensation: Compensation = choice("Nose compensation", COMPENSATIONS, "right")
    x_read: XRead = choice("X is read", X_READ, "right")


class ErrorInputs(Declared):
    """The print's contour, the tool as it should be, and what is wrong."""

    shape: ShapeName = choice("Contour", SHAPES, OWN)
    contour: ContourGiven | None = contour("Contour", hint="my own, in the direction of travel")
    nose_radius: float = nouns.NOSE_RADIUS.needed(hint="as assumed")
    tool_point: PointNumber = nouns.TOOL_POINT.chosen()
    side: SideAsked = choice("Tool stands", SIDES, "")
    thread: str | None = word("Thread cut with it", hint="what becomes of it: M24x2-6g", blank="none")
    wrong: WrongInputs = part(WrongInputs, "What is wrong")


class ErrorResults(Declared):
    """How far the part is off the print, square to it, and where."""

    largest: float = result(LENGTH, "Largest error", hint="+ metal left, - cut too deep; square to the print")
    largest_x: float | None = result(X, "at X")
    largest_z: float | None = result(Z, "at Z")
    largest_element: str | None = word("at")
    most_left: float = result(LENGTH, "Most metal left")
    most_deep: float = result(LENGTH, "Cut too deep by")
    pip_diameter: float | None = result(DIAMETER, "Pip on the axis", hint="what the tool cannot reach off centre")
    not_turned: float = result(COUNT, "Places not turned", hint="elements that the tool nowhere comes near")
    thread_pitch_off: float | None = result(LENGTH, "Thread’s pitch diameter off by")
    thread_flank_off: float | None = result(ANGLE, "Thread’s flanks off by", hint="each, at the pitch diameter")
    thread_fits: str | None = word("The thread")


class ErrorRow(Declared):
    """The largest error on one element (mm)."""

    element: str = word("Element")
    off: float | None = result(LENGTH, "off by", hint="+ metal left")
    at_x: float | None = result(X, "at X")
    at_z: float | None = result(Z, "at Z")
    on_diameter: float | None = result(LENGTH, "on diameter")
    along_z: float | None = result(LENGTH, "along Z")


@showing_contour()
def solve(inputs: ErrorInputs) -> Answer[ErrorResults]:
    """The shape that comes out. Raises what the contour raises, Impossible where nothing is cut.

    >>> from calc.shapes.chosen import given_by
    >>> shaft = ErrorInputs(contour=given_by("s_x18_z0*t_z-30"), nose_radius=0.8, wrong=WrongInputs(x_off=0.01))
    >>> round(solve(shaft).results.largest, 9)
    0.01
    """
    require(inputs)
    chain = asked_chain(inputs)
    number = int(inputs.tool_point)
    side = inputs.side or tool_side(chain, number)
    wrong = wrong_of(inputs.wrong)
    if inputs.nose_radius + wrong.nose_change <= 0.0:
        raise Impossible(Fault("nose_change", Message("The true nose would have no radius left.")))
    surface = bent(turned(chain, side, inputs.nose_radius, number, wrong), wrong)
    if not surface:
        raise Impossible(Fault("", Message("Set like this the tool cuts nothing of the contour.")))
    reach = reach_of(chain, inputs.nose_radius, wrong)
    places = compare(chain, side, surface, reach)
    table = [_row(chain, list(found), surface, reach) for _, found in groupby(places, key=lambda place: place.of)]
    return Answer(
        results=replace(_results(chain, places, table, wrong), **_thread_results(inputs.thread, wrong)),
        headline="largest",
        cautions=tuple(_cautions(inputs, wrong)),
        notes=tuple(_notes(chain, places, wrong)),
        tables={"elements": table},
        contour=chain,
        drawing=partial(_drawing, chain, places, surface),
    )


def _thread_results(text: str | None, wrong: Wrong) -> dict[str, Any]:
    """The results of a thread. Raises OutOfRange at its field for none, or a taper thread."""
    if text is None:
        return {}
    try:
        thread = thread_of(text)
    except Problem as problem:
        raise problem.renamed(lambda _: "thread") from problem
    if thread.plane is not None:
        raise OutOfRange(Fault("thread", Message("Give a parallel thread: a taper one is set by its gauge plane.")))
    off = thread_off(thread, wrong)
    fits = {True: "within its class", False: "out of its class", None: "without limits"}[off.fits]
    return {"thread_pitch_off": off.pitch, "thread_flank_off": off.flank, "thread_fits": fits}


def wrong_of(inputs: WrongInputs) -> Wrong:
    """What is wrong, as the calculation takes it."""
    return Wrong(
        inputs.nose_change,
        inputs.x_off,
        inputs.z_off,
        inputs.height,
        int(inputs.number_given) if inputs.number_given else None,
        inputs.compensation,
        FACTORS[inputs.x_read],
    )


def _worst(places: Sequence[Off]) -> Off | None:
    return max((place for place in places if place.off is not None), key=lambda place: abs(place.by), default=None)


def _row(chain: Chain, places: Sequence[Off], surface: Surface, reach: float) -> ErrorRow:
    worst, name = _worst(places), chain.called(places[0].of)
    if worst is None:
        return ErrorRow(element=name)
    worst = measured(worst, surface, reach)
    return ErrorRow(
        element=name,
        off=worst.off,
        at_x=worst.spot.r,
        at_z=worst.spot.z,
        on_diameter=worst.across,
        along_z=worst.along,
    )


def _results(chain: Chain, places: Sequence[Off], table: Sequence[ErrorRow], wrong: Wrong) -> ErrorResults:
    worst = _worst(places)
    offs = [place.off for place in places if place.off is not None]
    shown = worst is not None and abs(worst.by) > NOTHING
    touches_axis = min(chain.start.r, chain.end.r) < abs(wrong.height)
    return ErrorResults(
        largest=worst.by if worst else 0.0,
        largest_x=worst.spot.r if worst and shown else None,
        largest_z=worst.spot.z if worst and shown else None,
        largest_element=chain.called(worst.of) if worst and shown else None,
        most_left=max(0.0, *offs, 0.0),
        most_deep=max(0.0, *(-off for off in offs), 0.0),
        pip_diameter=2.0 * abs(wrong.height) if wrong.height and touches_axis else None,
        not_turned=float(sum(row.off is None for row in table)),
    )


def _cautions(inputs: ErrorInputs, wrong: Wrong) -> Iterator[Caution]:
    if wrong.compensation == "other":
        text = (
            "On the wrong side the tool cuts {deep} into the part and may run into the chuck: read G41 and G42 against "
            "the direction of travel, and prove out above the part."
        )
        deep = 2.0 * inputs.nose_radius + wrong.nose_change
        yield Caution(Message(text, {"deep": Quantity(deep, LENGTH)}), 3, "compensation")
    if wrong.x_factor < 1.0:
        text = (
            "A radius read as a diameter sends the tool to half the diameter at rapid: prove out one block at a time, "
            "without the part."
        )
        yield Caution(Message(text), 3, "x_read")
    if wrong.height > 0.0:
        text = "Above centre the flank has less clearance and rubs: expect heat, a poor finish, chatter in thin work."
        yield Caution(Message(text), 2, "height")
    if wrong.height < 0.0:
        text = (
            "Below centre the work can climb onto the tool when it is faced or parted: set the tool to centre before "
            "anything is cut to the axis."
        )
        yield Caution(Message(text), 2, "height")


def _notes(chain: Chain, places: Sequence[Off], wrong: Wrong) -> Iterator[Message]:
    factor = _factor(chain, places)
    if factor > 1:
        yield Message("On the sketch the errors are drawn {factor} times as large.", {"factor": factor})
    if wrong.x_factor != 1.0 and any(element.curvature for element in chain):
        yield Message("A control that checks the ends of arcs stops at the first arc, where its radius does not fit.")
    if wrong.height and wrong.bends:
        yield Message(
            "A straight taper comes out hollow where the tool is off centre height, and so does a thread’s flank."
        )


def _factor(chain: Chain, places: Sequence[Off]) -> int:
    """How many times as large the errors are drawn."""
    worst = _worst(places)
    most = abs(worst.by) if worst else 0.0
    if most <= NOTHING:
        return 1
    return next((step for step in STEPS if most * step <= SHOWN * chain.bounds.size), 1)


def _drawing(chain: Chain, places: Sequence[Off], surface: Surface) -> Drawing:
    factor = _factor(chain, places)
    return Drawing(
        title="The print and what comes out",
        description="The print with the axis across the page, and over it the surface that is turned.",
        part=chain,
        paths=tuple(Path("turned", each) for each in (_enlarged(places, factor) if factor > 1 else _true(surface))),
    )


def _enlarged(places: Sequence[Off], factor: int) -> Iterator[Chain]:
    for _, group in groupby(places, key=lambda place: place.of):
        spots = [place.spot.moved(place.normal, factor * place.off) for place in group if place.off is not None]
        yield from _through(spots)


def _true(surface: Surface) -> Iterator[Chain]:
    for places in surface:
        thinned = places[:: max(1, len(places) // MOST)]
        yield from _through([Point(float(place.real), float(place.imag)) for place in [*thinned, places[-1]]])


MOST = 200
"""Places of a surface that a sketch shows."""


def _through(spots: Sequence[Point]) -> Iterator[Chain]:
    lines = tuple(Line(a, b) for a, b in pairwise(spots) if a != b)
    if lines:
        yield Chain(lines)


FEATURE = Feature(
    path="measure/error-by-cause",
    page="/error-by-cause",
    title="Errors by cause",
    summary="The shape that comes out when nose, offsets, centre height, tool point, compensation or X are wrong.",
    solve=solve,
    supporting=("largest_x", "largest_z", "most_left", "most_deep", "pip_diameter"),
    guessed=("nose_change", "x_off", "z_off", "height"),
    rows={"elements": Rows(ErrorRow, "The largest error on each element")},
    example={"shape": "seat", "nose_radius": "6mm", "nose_change": "-0.1mm", "x_off": "0.02mm"},
    examples={
        "compensation on the wrong side": {"shape": "pad", "nose_radius": "0.4mm", "compensation": "other"},
        "tool above centre": {"shape": "seat", "nose_radius": "6mm", "height": "0.5mm"},
        "tool-point number 2 instead of 3": {"shape": "stem", "nose_radius": "0.8mm", "number_given": "2"},
    },
)
