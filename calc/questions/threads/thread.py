"""The sizes of a thread from its designation, and how to check it: limits, drill, over wires, gauge plane."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from math import radians

from calc.answer.drawing import Drawing
from calc.answer.feature import Answer, Feature
from calc.contour import Chain, Line, Point
from calc.language.checks import require
from calc.language.limited import Limited, aimed
from calc.language.messages import Caution, Digits, Message, Phrase, Quantity, Value, joined
from calc.language.problems import Contradiction, Fault, Impossible
from calc.language.quantities import ANGLE, DIAMETER, LENGTH
from calc.questions.threads.thread_fields import (
    GaugeResults,
    ThreadInputs,
    ThreadResults,
    WiresResults,
)
from calc.threads.checking import (
    FITS,
    Verdict,
    Wires,
    change_by_turns,
    change_of_x,
    pitch_measured,
    plating_on_pitch,
    turns_verdict,
    verdict,
    wires_for,
)
from calc.threads.designation import standard_pitches
from calc.threads.drills import TapDrill, share_left, tap_drill
from calc.threads.metric import class_note, engagement
from calc.threads.outline import profile_of, wire_centre
from calc.threads.sizes import Diameters
from calc.threads.thread import Thread, thread_of

STEEP = radians(7.0)  # from here on wires and plain inserts meet the flanks unevenly; practice
FULL_SHARE = 0.83  # of the thread: above it a tap breaks easily in tough material; common practice, no source


@dataclass(frozen=True, slots=True)
class _Asked:
    """The thread with what is made of the blanks."""

    inputs: ThreadInputs
    thread: Thread
    cut: Diameters
    wires: Wires | None
    drill: TapDrill | None
    measured: float | None
    verdict: Verdict | None
    x_change: float | None

    @property
    def engagement(self) -> tuple[float | None, float | None]:
        """The normal length of engagement, of metric threads."""
        named = self.thread.named
        return engagement(named.diameter, named.pitch) if named.family == "M" else (None, None)


def solve(inputs: ThreadInputs) -> Answer[ThreadResults]:
    """The thread. Raises Missing, OutOfRange, Contradiction for a side that the class excludes, Impossible.

    >>> found = solve(ThreadInputs(designation="M24x2-6g")).results
    >>> found.major_diameter.lower, found.pitch_diameter.upper, round(found.thread_depth, 4), found.tap_drill
    (23.682, 22.663, 1.2269, 22.0)
    """
    require(inputs)
    asked = _asked(inputs)
    return Answer(
        results=_results(asked),
        headline="pitch_diameter_measured" if asked.measured is not None else "pitch_diameter",
        cautions=tuple(_cautions(asked)),
        notes=tuple(_notes(asked)),
        drawing=partial(_drawing, asked),
    )


def _asked(inputs: ThreadInputs) -> _Asked:
    thread = thread_of(inputs.designation, inputs.where)
    cut = _before_plating(thread, inputs.plating)
    over = inputs.over
    wires = wires_for(thread, over.wire, cut, over.wires, over.major_measured)
    measured = _measured(inputs, thread, wires)
    judged, change = _judged(inputs, thread, cut, measured)
    drill = TapDrill(inputs.drill) if inputs.drill is not None else tap_drill(thread)
    return _Asked(inputs, thread, cut, wires, drill, measured, judged, change)


def _measured(inputs: ThreadInputs, thread: Thread, wires: Wires | None) -> float | None:
    """The pitch diameter that was measured, over wires or itself; refused where both say something."""
    over, direct = inputs.over, inputs.otherwise.pitch_measured
    if over.over_wires_measured is None:
        return direct
    if direct is not None:
        both = ("over_wires_measured", "pitch_measured")
        said = Message("Give one measure, over the wires or of the pitch diameter itself, not both.")
        raise Contradiction(Fault("pitch_measured", said), fields=both)
    if wires is None:
        raise Impossible(Fault("over_wires_measured", Message(_NO_WIRES)))
    return pitch_measured(thread, wires.wire, over.over_wires_measured, over.wires, over.major_measured)


def _judged(
    inputs: ThreadInputs, thread: Thread, cut: Diameters, measured: float | None
) -> tuple[Verdict | None, float | None]:
    """What was measured means, and how far to move X."""
    short = inputs.otherwise.turns_short
    if short is not None:
        judged = turns_verdict(thread, short)
        if judged is None or thread.plane is None:
            raise Impossible(Fault("turns_short", Message(_NO_PLANE)))
        side = 1.0 if thread.sizes.outside else -1.0
        return judged, change_by_turns(short, thread.named.pitch, thread.plane.taper, side)
    if measured is None:
        return None, None
    return verdict(cut, measured, outside=thread.sizes.outside), change_of_x(aimed(cut), measured)


def _before_plating(thread: Thread, plating: float | None) -> Diameters:
    """The pitch diameter to cut: that of the class, less what the plating adds."""
    sizes = thread.sizes
    if not plating:
        return sizes.pitch
    return _shifted(sizes.pitch, plating_on_pitch(plating, sizes.alpha), outside=sizes.outside)


def _shifted(size: Diameters, by: float, *, outside: bool) -> Diameters:
    step = -by if outside else by
    if isinstance(size, Limited):
        return Limited(size.value + step, size.aimed + step, size.lower + step, size.upper + step)
    return size + step


def _results(asked: _Asked) -> ThreadResults:
    thread, sizes = asked.thread, asked.thread.sizes
    return ThreadResults(
        pitch_diameter=sizes.pitch,
        major_diameter=sizes.major,
        minor_diameter=sizes.minor,
        pitch=sizes.pitch_length,
        lead=thread.lead,
        starts=float(thread.named.starts),
        lead_angle=thread.lead_angle,
        thread_depth=sizes.depth,
        tolerance_class=sizes.tolerance or None,
        hand="left" if thread.named.left else "right",
        turned_diameter=_blank_size(asked) if sizes.outside else None,
        bore_diameter=None if sizes.outside else _blank_size(asked),
        pitch_before_plating=asked.cut if asked.inputs.plating else None,
        tap_drill=asked.drill.diameter if asked.drill else None,
        tap_drill_name=(asked.drill.name or None) if asked.drill else None,
        thread_share=_share(asked),
        basic_minor_diameter=sizes.basic.minor,
        flank_angle=sizes.alpha,
        crest_width=sizes.crest,
        root_width=sizes.root,
        root_radius=sizes.root_radius,
        least_root_radius=sizes.least_root_radius,
        engagement_from=asked.engagement[0],
        engagement_to=asked.engagement[1],
        over=_over_results(asked),
        gauge=_gauge_results(thread),
    )


def _blank_size(asked: _Asked) -> Diameters:
    """What is turned or bored before the thread: its crest, less what the plating adds to both surfaces."""
    sizes, plating = asked.thread.sizes, asked.inputs.plating
    crest = sizes.major if sizes.outside else sizes.minor
    return _shifted(crest, 2 * plating, outside=sizes.outside) if plating else crest


def _share(asked: _Asked) -> float | None:
    if asked.drill is None or asked.thread.named.family not in ("M", "UN"):
        return None
    return share_left(asked.thread, asked.drill.diameter)


def _over_results(asked: _Asked) -> WiresResults:
    wires = asked.wires
    judged = asked.verdict.word if asked.verdict else None
    if wires is None:
        return WiresResults(pitch_diameter_measured=asked.measured, verdict=judged, x_change=asked.x_change)
    return WiresResults(
        best_wire=wires.best,
        smallest_wire=wires.smallest,
        largest_wire=wires.largest,
        wire_used=wires.wire,
        over_wires=wires.over,
        over_wires_simple=wires.simple,
        wire_correction=wires.correction,
        pitch_diameter_measured=asked.measured,
        verdict=judged,
        x_change=asked.x_change,
    )


def _gauge_results(thread: Thread) -> GaugeResults:
    plane, pitch = thread.plane, thread.sizes.pitch
    if plane is None:
        if not isinstance(pitch, Limited):
            return GaugeResults()
        go, no_go = (pitch.upper, pitch.lower) if thread.sizes.outside else (pitch.lower, pitch.upper)
        return GaugeResults(go_pitch_diameter=go, no_go_pitch_diameter=no_go)
    return GaugeResults(
        gauge_length=plane.length,
        gauge_turns=plane.turns,
        end_pitch_diameter=plane.end_pitch,
        useful_length=plane.useful,
        pipe_diameter=plane.pipe,
    )


def _notes(asked: _Asked) -> Iterator[Message]:
    thread, sizes = asked.thread, asked.thread.sizes
    if sizes.tolerance:
        yield class_note(sizes)
    yield from sizes.notes
    pitches = joined((_pitch_said(thread, pitch) for pitch in standard_pitches(thread.named)), "; ")
    if pitches:
        yield Message("Standard pitches of this diameter: {pitches}.", {"pitches": pitches})
    if asked.verdict is not None and asked.verdict.word == FITS:
        yield asked.verdict.sentence
    if asked.inputs.plating:
        yield Message(_PLATED, {"t": Quantity(asked.inputs.plating, LENGTH, brief=True)})


def _pitch_said(thread: Thread, pitch: float) -> str:
    if thread.named.per_inch:
        return Phrase("{pitch} per inch", pitch=Digits(f"{25.4 / pitch:g}"))
    return Digits(f"{pitch:g}")


def _cautions(asked: _Asked) -> Iterator[Caution]:
    thread, named = asked.thread, asked.thread.named
    if asked.verdict is not None and asked.verdict.word != FITS:
        yield Caution(asked.verdict.sentence, 3, "verdict")
    if named.own and not standard_pitches(named):
        values: dict[str, Value] = {"text": named.text}
        yield Caution(Message(_OWN_SIZE, values), 1, "designation")
    elif named.own:
        values = {"pitch": Quantity(named.pitch, LENGTH, brief=True), "text": named.text}
        yield Caution(Message(_OWN_PITCH, values), 1, "designation")
    if thread.lead_angle > STEEP:
        values = {"angle": Quantity(thread.lead_angle, ANGLE)}
        yield Caution(Message(_STEEP, values), 2, "lead_angle")
    share = _share(asked)
    if share is not None and share > FULL_SHARE and asked.drill is not None:
        values = {"drill": Quantity(asked.drill.diameter, DIAMETER), "share": Digits(f"{share:.0%}")}
        yield Caution(Message(_FULL, values), 2, "tap_drill")
    if asked.inputs.over.wires == "two":
        yield Caution(Message(_TWO), 1, "wires")


def _drawing(asked: _Asked) -> Drawing:
    sizes, wires = asked.thread.sizes, asked.wires
    wire = None
    if wires is not None and asked.inputs.over.wires != "one":
        wire = (wire_centre(sizes, aimed(wires.over), wires.wire), wires.wire)
    return _sheet(asked.thread, wire)


def _sheet(thread: Thread, wire: tuple[Point, float] | None) -> Drawing:
    sizes = thread.sizes
    text = "Profile of {thread} outside" if sizes.outside else "Profile of {thread} inside"
    return Drawing(
        title=Phrase(text, thread=thread.named.text),
        description=(
            "Section through the axis, to scale, the axis below. Solid line: the most metal that the class allows, "
            "dashed: the least; in the groove the measuring wire."
        ),
        part=Chain((Line(Point(0.0, 1.0), Point(0.0, 0.0)),)),
        profile=profile_of(sizes, wire),
    )


_NO_WIRES = "Wires are for outside parallel threads: measure this one with a gauge, or give the pitch diameter itself."
_NO_PLANE = "Only taper threads have a gauge plane: for this one give the measure over wires or the pitch diameter."
_PLATED = (
    "With {t} of plating on each surface the limits of the class are those after plating; turn, cut and measure to the "
    "sizes before plating."
)
_OWN_PITCH = (
    "A pitch of {pitch} is not in the standard's series for this diameter: gauges and taps for {text} are specials. "
    "Check the print."
)
_OWN_SIZE = "{text} is in no series of the standard: gauges and taps for it are specials. Check the print."
_STEEP = (
    "The lead angle is {angle}: a plain shim lets the insert rub on one flank, and over wires the helix matters. Take "
    "a shim for this angle, and measure with the value that includes the helix."
)
_FULL = (
    "A drill of {drill} leaves {share} of the thread: the tap needs more torque and breaks more easily, for hardly "
    "any more strength. A larger drill within the limits of the minor diameter is easier on the tap."
)
_TWO = (
    "Two wires hold no angle: keep the anvils square to the axis, or the micrometer tilts over half a pitch and reads "
    "too much."
)

BLANK = _sheet(thread_of("M24x3-6g"), None).with_symbols_only()

FEATURE = Feature(
    path="geometry/thread",
    title="Thread",
    summary="Sizes and limits of a thread from its designation, drill, profile, and what to read over wires.",
    solve=solve,
    page="/thread",
    supporting=("x_change", "turned_diameter", "bore_diameter", "over_wires"),
    blank=BLANK,
    example={"designation": "M24x2-6g"},
    leads_to={"/thread-passes": "Passes on the lathe", "/tapping": "Tapping", "/part": "Take this into a part"},
    examples={
        "M30x1.5-6H inside": {"designation": "M30x1.5-6H"},
        "3/4-16 UNF-2A": {"designation": "3/4-16 UNF-2A"},
    },
)
