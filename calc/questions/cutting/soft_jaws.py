"""Soft jaws bored for a part's first side: bore and depth, their boring ring, where they touch, how they open."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from math import pi, sin
from typing import Literal

from calc.answer.feature import Answer, Feature, Rows
from calc.cutting import nouns
from calc.cutting.limits import Case, limits
from calc.cutting.machine import Cut, LoadResults, Machine, Work, load_of
from calc.cutting.soft_jaws import closes_to, height_over_jaw, jaw_bore, jaw_gap, jaw_left, ledge, opens_to
from calc.language.checks import require
from calc.language.fields import Declared, choice, given, needed, part, result, word
from calc.language.kinds import ESTIMATED_LENGTH
from calc.language.limited import limited
from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.problems import Fault, Impossible
from calc.language.quantities import COUNT, DIAMETER, FORCE, LENGTH, RADIUS
from calc.questions.cutting.soft_jaws_sketch import jaw_sketch

USUAL_JAWS = 3.0
WIDE_GAP = 0.05  # mm beside a jaw above which it holds on lines only; common practice, no source
SMALL_LEDGE = 1.0  # mm of a ledge below which work hardly stands on it; common practice, no source
THIN_JAW = 5.0  # mm of solid jaw under the ledge; common practice, no source
NEAR_END = 0.2  # share of the stroke at either end where jaws are not to hold; common practice, no source
WHERE = {
    "even": "all over",
    "middle": "in their middle",
    "edges": "at their edges",
}


class BoringRingInputs(Declared):
    """What the jaws hold while they are bored, and their stroke."""

    boring_diameter: float | None = given(
        DIAMETER, "Jaws stand at, behind the step", "D_p", above=0.0, hint="on the disc or in the ring"
    )
    boring_width: float | None = given(LENGTH, "Disc or ring, width", "b_p", above=0.0)
    jaw_height: float | None = given(LENGTH, "Height of the jaws", "H", above=0.0, hint="along the axis")
    jaw_stroke: float | None = given(LENGTH, "Stroke of a jaw", "s", above=0.0, hint="radial; chuck's manual")
    stroke_used: float | None = given(
        LENGTH,
        "Stroke used on the ring",
        "s_p",
        least=0.0,
        blank="half of it",
        hint="from open, or in a bore from closed",
    )


class HeldInputs(Declared):
    """The cut that the jaws have to hold."""

    grip_force: float | None = nouns.GRIP_FORCE.given()
    cutting_force: float | None = given(FORCE, "Cutting force", "F_c", above=0.0)
    cut_diameter: float | None = given(DIAMETER, "Cutting diameter", "D", above=0.0, blank="where it is held")
    axial_force: float | None = given(FORCE, "Force along the axis", "F_a", least=0.0, hint="feed force or thrust")
    length_out: float | None = nouns.LENGTH_OUT.given(hint="for the tilt")


class SoftJawsInputs(Declared):
    """What is held, how deep, in which jaws."""

    work_diameter: float = nouns.WORK_DIAMETER.needed(hint="as turned on the first end: measured, or with its limits")
    gripped: Literal["outside", "inside"] = choice(
        "Held", {"outside": "from outside", "inside": "in a bore"}, "outside"
    )
    grip_length: float = nouns.GRIP_LENGTH.needed(hint="depth of the step")
    bore_play: float = given(
        LENGTH, "Jaws larger by, on the diameter", "e", least=-1.0, most=1.0, blank="0", default=0.0,
        hint="smaller: with a minus",
    )  # fmt: skip
    jaw_width: float = needed(LENGTH, "Width of a jaw where it holds", "b", above=0.0)
    jaw_count: float | None = given(COUNT, "Jaws", "i", least=2.0, most=12.0, blank="3")
    edge_break: float | None = given(LENGTH, "Smallest edge break of the work", "c", least=0.0, hint="at the ledge")
    nose_radius: float | None = nouns.NOSE_RADIUS.given(hint="of the tool that bores the jaws")
    ring: BoringRingInputs = part(BoringRingInputs, "Boring ring and stroke")
    held: HeldInputs = part(HeldInputs, "Will it hold?")


class SizeRow(Declared):
    """How a jaw sits on work of one size."""

    work: float = result(DIAMETER, "Work")
    touches: str = word("Touches")
    gap: float = result(ESTIMATED_LENGTH, "Largest gap beside it")


class SoftJawsResults(Declared):
    """How the jaws are bored, and what they leave."""

    jaw_bore: float = result(DIAMETER, "Bore the jaws to", "D_j")
    step_depth: float = result(LENGTH, "Depth of the step", "t_j")
    touches: str = word("Jaws touch")
    gap: float = result(ESTIMATED_LENGTH, "Largest gap beside that", "g")
    ledge: float | None = result(LENGTH, "Ledge the work stands on", "h_s")
    opening: float | None = result(DIAMETER, "Jaws open or close to", "D_o")
    jaw_left: float | None = result(LENGTH, "Solid jaw behind the step", "h_u", hint="to the ring")
    largest_nose: float | None = result(RADIUS, "Nose radius, largest", "r", hint="without an undercut in the corner")
    grip_needed: float | None = result(FORCE, "Grip force needed", hint="all jaws, smooth, with a safety of 1.5")
    grip_against_tilt: float | None = result(FORCE, "Grip against tilting", hint="cut at the free end")


def solve(inputs: SoftJawsInputs) -> Answer[SoftJawsResults]:
    """How to bore the jaws. Raises Missing, OutOfRange; Impossible for a ring that leaves no ledge and the like.

    >>> jaws = SoftJawsInputs(work_diameter=42.0, grip_length=12.0, jaw_width=20.0, bore_play=0.1)
    >>> found = solve(jaws).results
    >>> found.jaw_bore, found.touches, round(found.gap, 4)
    (42.1, 'in their middle', 0.0068)
    """
    require(inputs)
    if inputs.jaw_count is not None and inputs.jaw_count != round(inputs.jaw_count):
        raise Impossible(Fault("jaw_count", Message("The number of jaws must be a whole one.")))
    bore = jaw_bore(float(inputs.work_diameter), inputs.bore_play)
    if bore <= 0.0:
        raise Impossible(Fault("bore_play", Message("With jaws that much smaller no bore is left.")))
    load, too_little = _load(inputs)
    sits = _row(inputs, bore, float(inputs.work_diameter))
    results = SoftJawsResults(
        jaw_bore=bore,
        step_depth=inputs.grip_length,
        touches=sits.touches,
        gap=sits.gap,
        ledge=_ledge(inputs, bore),
        opening=_opening(inputs, bore),
        jaw_left=_jaw_left(inputs),
        largest_nose=inputs.edge_break,
        grip_needed=None if load is None else load.grip_needed,
        grip_against_tilt=None if load is None else load.grip_against_tilt,
    )
    return Answer(
        results=results,
        headline="jaw_bore",
        tables={"by_size": tuple(_rows(inputs, bore))},
        cautions=(*_cautions(inputs, results), *too_little),
        notes=(Message(_HOW[inputs.gripped]), Message(_ASSUMED)),
        drawing=partial(jaw_sketch, bore, inputs.grip_length, inputs.ring.boring_diameter, inputs.gripped),
    )


def _chord(inputs: SoftJawsInputs, bore: float) -> float:
    """How wide a jaw holds [mm]: its width, or as far as its neighbours leave it."""
    smallest = min(bore, _sizes(inputs)[0])
    jaws = USUAL_JAWS if inputs.jaw_count is None else inputs.jaw_count
    return min(inputs.jaw_width, smallest * sin(pi / jaws))


def _sizes(inputs: SoftJawsInputs) -> tuple[float, ...]:
    """The sizes of the work [mm]: its limits with the middle, or the one that is given."""
    ends = limited(inputs.work_diameter)
    return (float(inputs.work_diameter),) if ends is None else (ends.lower, ends.aimed, ends.upper)


def _row(inputs: SoftJawsInputs, bore: float, work: float) -> SizeRow:
    """How a jaw sits on `work` [mm]; for one that holds in a bore, middle and edges change places."""
    chord = _chord(inputs, bore)
    gap = jaw_gap(height_over_jaw.at("work")(work / 2, chord), height_over_jaw.at("jaw")(bore / 2, chord))
    looser = (bore > work) == (inputs.gripped == "outside")
    where = "even" if abs(bore - work) < 1e-9 else "middle" if looser else "edges"
    return SizeRow(work=work, touches=WHERE[where], gap=gap)


def _rows(inputs: SoftJawsInputs, bore: float) -> Iterator[SizeRow]:
    sizes = _sizes(inputs)
    if len(sizes) > 1:
        yield from (_row(inputs, bore, work) for work in sizes)


def _ledge(inputs: SoftJawsInputs, bore: float) -> float | None:
    stands = inputs.ring.boring_diameter
    if stands is None:
        return None
    if (stands >= bore) if inputs.gripped == "outside" else (stands <= bore):
        values = {"ring": Quantity(stands, DIAMETER), "bore": Quantity(bore, DIAMETER)}
        raise Impossible(Fault("boring_diameter", Message(_NO_LEDGE[inputs.gripped], values)))
    return ledge(bore, stands)


def _opening(inputs: SoftJawsInputs, bore: float) -> float | None:
    """To which diameter [mm] the jaws open, or close in a bore, from where they were bored."""
    stroke = inputs.ring.jaw_stroke
    if stroke is None:
        return None
    used = stroke / 2 if inputs.ring.stroke_used is None else inputs.ring.stroke_used
    if used > stroke:
        values = {"used": Quantity(used, LENGTH), "stroke": Quantity(stroke, LENGTH)}
        said = Message("{used} of a stroke of {stroke} cannot be used.", values)
        raise Impossible(Fault("stroke_used", said))
    return opens_to(bore, used) if inputs.gripped == "outside" else max(closes_to(bore, used), 0.0)


def _jaw_left(inputs: SoftJawsInputs) -> float | None:
    ring = inputs.ring
    if ring.jaw_height is None or ring.boring_width is None:
        return None
    left = jaw_left(ring.jaw_height, inputs.grip_length, ring.boring_width)
    if left <= 0.0:
        values = {"depth": Quantity(inputs.grip_length, LENGTH), "ring": Quantity(ring.boring_width, LENGTH)}
        values["jaw"] = Quantity(ring.jaw_height, LENGTH)
        raise Impossible(Fault("jaw_height", Message(_NO_JAW, values)))
    return left


def _load(inputs: SoftJawsInputs) -> tuple[LoadResults | None, tuple[Caution, ...]]:
    """The grip that the cut needs, and the one that there is held against it; nothing without a cutting force."""
    held, on = inputs.held, float(inputs.work_diameter)
    if held.cutting_force is None:
        return None, ()
    at = on if held.cut_diameter is None else held.cut_diameter
    cut = Cut(held.cutting_force, held.cutting_force, 0.0, at, None, held.axial_force)
    work = Work(work_diameter=on, length_out=held.length_out, grip_length=inputs.grip_length)
    load = load_of(cut, Machine(grip_force=0.0), work)  # what is needed does not hang on what there is
    return load, tuple(limits(Case(cut=cut, load=load), Machine(grip_force=held.grip_force), work))


def _cautions(inputs: SoftJawsInputs, found: SoftJawsResults) -> Iterator[Caution]:
    values: dict[str, Value] = {}
    if found.gap > WIDE_GAP:
        values = {"gap": Quantity(found.gap, ESTIMATED_LENGTH), "touches": found.touches}
        yield Caution(Message(_ON_LINES, values), 2, "bore_play")
    if found.ledge is not None and found.ledge < SMALL_LEDGE:
        yield Caution(Message(_SMALL_LEDGE, {"ledge": Quantity(found.ledge, LENGTH)}), 1, "boring_diameter")
    if found.jaw_left is not None and found.jaw_left < THIN_JAW:
        yield Caution(Message(_THIN_JAW, {"left": Quantity(found.jaw_left, LENGTH)}), 2, "jaw_height")
    if inputs.nose_radius is not None and inputs.edge_break is not None and inputs.nose_radius > inputs.edge_break:
        values = {"nose": Quantity(inputs.nose_radius, RADIUS), "edge": Quantity(inputs.edge_break, LENGTH)}
        yield Caution(Message(_CORNER, values), 2, "nose_radius")
    stroke, used = inputs.ring.jaw_stroke, inputs.ring.stroke_used
    if stroke is not None and used is not None and not NEAR_END <= used / stroke <= 1.0 - NEAR_END:
        values = {"used": Quantity(used, LENGTH), "stroke": Quantity(stroke, LENGTH)}
        yield Caution(Message(_NEAR_THE_END, values), 3, "stroke_used")
    yield Caution(Message(_BORE_SAFELY), 2, "jaw_bore")


_HOW = {
    "outside": (
        "Clamp a disc behind the step, with the pressure that will hold the work, and bore the jaws in front of it: "
        "they then stand as they will in use, with the play taken up in the same direction."
    ),
    "inside": (
        "Clamp the jaws outward into a ring behind the step, with the pressure that will hold the work, and turn "
        "them in front of it: they then stand as they will in use, with the play taken up in the same direction."
    ),
}
_ASSUMED = (
    "The gap is that of two arcs over the width of a jaw before it deflects; bored to the measured size a jaw bears "
    "all over. Mark the jaws with chuck, place and work; bore them anew whenever they have been off."
)
_NO_LEDGE = {
    "outside": "Jaws that stand at {ring} leave no ledge behind a bore of {bore}: take a smaller disc.",
    "inside": "Jaws that stand at {ring} leave no ledge behind a step of {bore}: take a larger ring.",
}
_NO_JAW = "A step of {depth} and a ring of {ring} take the whole jaw of {jaw}: take higher jaws or a thinner ring."
_ON_LINES = (
    "The jaws touch {touches}, with a gap of {gap} beside: they hold less, mark the work and press a thin wall out of "
    "round. Bore them to the measured size."
)
_SMALL_LEDGE = "The work stands on a ledge of {ledge} only: chips and burrs tilt it. Bore further in, or set a stop."
_THIN_JAW = "Only {left} of the jaw is left between step and ring: the tool may meet the ring. Take a thinner one."
_CORNER = (
    "A nose of {nose} leaves a corner that an edge break of {edge} does not clear: the work stands off the ledge. Cut "
    "an undercut into the corner."
)
_NEAR_THE_END = (
    "With {used} of {stroke} the jaws stand near the end of their stroke: they may not press the work at all and it "
    "may fly off. Clamp the ring near the middle of the stroke."
)
_BORE_SAFELY = (
    "Boring jaws is an interrupted cut with loose edges: keep to the speed marked on jaws and chuck, hold the disc "
    "with the full grip, and clear chips by hand only at rest."
)

FEATURE = Feature(
    path="speed-feed/soft-jaws",
    title="Soft jaws",
    summary="Bore and depth of soft jaws for a turned end, the ring they are bored on, how they touch, open and hold.",
    solve=solve,
    page="/soft-jaws",
    rows={"by_size": Rows(SizeRow, "The jaws on the smallest and the largest work")},
    supporting=("touches", "gap", "ledge", "opening"),
    blank=jaw_sketch(42.0, 12.0, 36.0, "outside").with_symbols_only(),
    example={
        "work_diameter": "42",
        "grip_length": "12",
        "bore_play": "0.02",
        "jaw_width": "30",
        "edge_break": "1",
        "nose_radius": "0.8",
        "boring_diameter": "36",
        "boring_width": "12",
        "jaw_height": "40",
        "jaw_stroke": "6",
        "grip_force": "15000",
        "cutting_force": "700",
        "length_out": "28",
    },
)
