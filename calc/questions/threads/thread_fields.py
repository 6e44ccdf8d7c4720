"""What is asked of a thread and what is answered, declared."""

from __future__ import annotations

from typing import Literal

from calc.cutting import nouns
from calc.language.fields import Declared, choice, given, part, result, word
from calc.language.limited import Limited
from calc.language.quantities import ANGLE, COUNT, DIAMETER, LENGTH, RATIO
from calc.threads.checking import COUNTS, WireCount

ThreadAt = Literal["", "outside", "inside"]
SIDES: dict[ThreadAt, str] = {"": "as the designation says", "outside": "outside", "inside": "inside"}


class WiresInputs(Declared):
    """Measuring over wires: what is at hand, and what was read."""

    wire: float | None = given(LENGTH, "Wire at hand", "w", above=0.0, most=60.0, blank="the best wire")
    wires: WireCount = choice("Wires", COUNTS, "three")
    over_wires_measured: float | None = given(
        LENGTH, "Measured over the wires", "M", above=0.0, hint="gives pitch diameter and move of X"
    )
    major_measured: float | None = given(
        DIAMETER, "Major diameter, measured", "d", above=0.0, hint="for one wire", blank="middle of its limits"
    )


class MeasuredInputs(Declared):
    """What else was measured: the pitch diameter itself, or how a taper gauge stands."""

    pitch_measured: float | None = given(
        DIAMETER, "Pitch diameter, measured", "d_2", above=0.0, hint="with thread anvils, outside or inside"
    )
    turns_short: float | None = given(
        RATIO, "Taper gauge stands short by", least=-20.0, most=20.0, hint="turns; negative when it goes on too far"
    )


class ThreadInputs(Declared):
    """A thread as the print writes it, and where it is cut."""

    designation: str = nouns.THREAD.needed()
    where: ThreadAt = choice("It is cut", SIDES, "")
    plating: float | None = given(
        LENGTH, "Plating per surface", "t", least=0.0, most=0.5, hint="added after cutting", blank="none"
    )
    drill: float | None = given(DIAMETER, "Drill at hand", "d_t", above=0.0, blank="the standard tap drill")
    over: WiresInputs = part(WiresInputs, "Over wires")
    otherwise: MeasuredInputs = part(MeasuredInputs, "Measured otherwise")


class WiresResults(Declared):
    """What to read over wires, and what a reading means."""

    best_wire: float | None = result(LENGTH, "Best wire", "w_best")
    smallest_wire: float | None = result(LENGTH, "Smallest wire that works", "w_min")
    largest_wire: float | None = result(LENGTH, "Largest wire that works", "w_max")
    wire_used: float | None = result(LENGTH, "Wire used", "w")
    over_wires: float | Limited | None = result(LENGTH, "Over wires, with the helix", "M")
    over_wires_simple: float | Limited | None = result(LENGTH, "Over three wires, without the helix", "M_0")
    wire_correction: float | None = result(LENGTH, "Reads more than with the best wire by")
    pitch_diameter_measured: float | None = result(DIAMETER, "Pitch diameter measured", "d_2")
    verdict: str | None = word("It is")
    x_change: float | None = result(LENGTH, "Move X on diameter by", hint="to the middle of the limits, straight in")


class GaugeResults(Declared):
    """The pitch diameters of GO and NO-GO gauges, or where the gauge plane of a taper thread lies."""

    go_pitch_diameter: float | None = result(DIAMETER, "GO gauge, pitch diameter", hint="must go on or in")
    no_go_pitch_diameter: float | None = result(DIAMETER, "NO-GO gauge, pitch diameter", hint="two turns at most")

    gauge_length: float | Limited | None = result(LENGTH, "Gauge plane from the end")
    gauge_turns: float | None = result(RATIO, "Tolerance of the gauge plane, turns each way")
    end_pitch_diameter: float | None = result(DIAMETER, "Pitch diameter at the end")
    useful_length: float | None = result(LENGTH, "Useful thread")
    pipe_diameter: float | None = result(DIAMETER, "Outside diameter of the pipe", "D")


class ThreadResults(Declared):
    """The thread's sizes; those that its class limits come with both limits."""

    pitch_diameter: float | Limited = result(DIAMETER, "Pitch diameter")
    major_diameter: float | Limited = result(DIAMETER, "Major diameter")
    minor_diameter: float | Limited = result(DIAMETER, "Minor diameter")
    pitch: float = result(LENGTH, "Pitch", "P")
    lead: float = result(LENGTH, "Lead", "P_h")
    starts: float = result(COUNT, "Starts", "n")
    lead_angle: float = result(ANGLE, "Lead angle at the pitch diameter", "φ")
    thread_depth: float = result(LENGTH, "Depth of the thread", hint="per side, crest to root")
    tolerance_class: str | None = word("Class")
    hand: str = word("Hand")
    turned_diameter: float | Limited | None = result(DIAMETER, "Turn to before threading")
    bore_diameter: float | Limited | None = result(DIAMETER, "Bore to before threading")
    pitch_before_plating: float | Limited | None = result(DIAMETER, "Pitch diameter before plating")
    tap_drill: float | None = result(DIAMETER, "Tap drill")
    tap_drill_name: str | None = word("Tap drill, by name")
    thread_share: float | None = result(RATIO, "Share of the thread that the drill leaves", hint="of 3/4 H per side")
    basic_minor_diameter: float = result(DIAMETER, "Basic minor diameter", "D_1")
    flank_angle: float = result(ANGLE, "Flank to the normal", "α")
    crest_width: float = result(LENGTH, "Flat at the crest", hint="0: rounded")
    root_width: float | None = result(LENGTH, "Flat at the root")
    root_radius: float | None = result(LENGTH, "Radius at the root", "R")
    least_root_radius: float | None = result(LENGTH, "Smallest radius at the root")
    engagement_from: float | None = result(LENGTH, "Normal engagement from about", hint="shorter is group S")
    engagement_to: float | None = result(LENGTH, "Normal engagement to about", hint="longer is group L")
    over: WiresResults = part(WiresResults, "Over wires")
    gauge: GaugeResults = part(GaugeResults, "Gauges")
