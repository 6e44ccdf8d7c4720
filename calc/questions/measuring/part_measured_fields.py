"""What is asked of a measured part and what is answered, declared."""

from __future__ import annotations

from typing import Literal

from calc.contour.text import ContourGiven
from calc.language.fields import Declared, choice, flag, given, part, result, rows, word
from calc.language.kinds import EXPANSION, FINE_RATIO, TEMPERATURE
from calc.language.quantities import COUNT, DIAMETER, LENGTH, UnitSystem, X, Z
from calc.measuring.runout import Surface
from calc.questions.measuring.first_part_fields import PARTS, PIPS, WHATS, CheckKind, Pip, WhichPart
from calc.questions.measuring.part_run import UNIT_WORDS
from calc.questions.measuring.runout_rows import SURFACES
from calc.questions.part.declared import BarInputs, OperationInputs, inside_of_print, outside_of_print
from calc.questions.part.left_on import LeftInputs

MeasuredAt = Literal["outside", "inside"]
WHERES: dict[MeasuredAt, str] = {"outside": "outside", "inside": "bore"}
ROW_HINT = (
    "One row for each size of the print that has limits; leave what was not measured blank. A reading belongs to the "
    "tool that cut its surface last."
)
PASTED_HINT = (
    "a line for each, or as CSV: the number of the check and its size, 12; 24.013. What stands in a check's row counts"
)


class PartReading(Declared):
    """One check of the part: where, what, the print's size with its limits, what the gauge showed, blank for nothing.

    `operation` is that which cut it, where it is not the last one whose rows reach there.
    """

    what: CheckKind = choice("What", WHATS, "diameter")
    where: MeasuredAt = choice("On the", WHERES, "outside")
    nominal: float | None = given(LENGTH, "Size on the print", least=-10_000.0)
    lower: float | None = given(LENGTH, "Lower limit", least=-10_000.0)
    upper: float | None = given(LENGTH, "Upper limit", least=-10_000.0)
    measured: float | None = given(LENGTH, "Measured", least=-10_000.0, blank="not yet")
    spread: float | None = given(LENGTH, "Spread", least=0.0)
    gauge_offset: float = given(LENGTH, "Gauge's error", least=-10_000.0, blank="none", default=0.0)
    at: float | None = given(Z, "At Z", least=-10_000.0, blank="where the print has this size")
    to_z: float | None = given(Z, "Second Z", least=-10_000.0, hint="of a taper")
    on_diameter: float | None = given(DIAMETER, "On diameter", least=0.0, hint="of a point touched along Z")
    ball_diameter: float | None = given(DIAMETER, "Ball", above=0.0, most=100.0, blank="a point of the surface")
    surface: Surface = choice("A runout's surface is", SURFACES, "")
    thread: str | None = word("Thread", hint="gives the size and its limits: M24x2-6g")
    wire: float | None = given(LENGTH, "Wire", above=0.0, hint="over three wires", blank="the best")
    operation: float | None = given(COUNT, "Cut by operation", above=0.0, most=100.0, blank="the last that reaches it")
    part: WhichPart = choice("On part", PARTS, "first")


class WarmInputs(Declared):
    """Temperatures of part and gauge; blank: 20 °C."""

    part_temperature: float | None = given(TEMPERATURE, "Part", "T_p", least=-50.0, most=300.0, brief="part")
    gauge_temperature: float | None = given(TEMPERATURE, "Gauge", "T_g", least=-50.0, most=300.0, brief="gauge")
    part_expansion: float | None = given(
        EXPANSION, "Expansion of the part", least=0.0, most=1e-4, blank="by the material's group"
    )
    gauge_expansion: float | None = given(EXPANSION, "Expansion of the gauge", least=0.0, most=1e-4, blank="steel")


class PartMeasuredInputs(Declared):
    """The readings of a part, its print, and the operations with their tools."""

    readings: tuple[PartReading, ...] = rows(PartReading, "Readings", one="Reading", begin=2, most=60, hint=ROW_HINT)
    pasted: str | None = word("Measured, pasted", hint=PASTED_HINT, lines=True)
    pasted_in: UnitSystem = choice("They are in", UNIT_WORDS, "mm")
    revision: str | None = word("Revision of the print", hint="which the readings belong to")
    usual_spread: float | None = given(
        LENGTH, "Spread of the others", above=0.0, hint="for readings without their own", blank="0.005 mm"
    )
    held_at: float | None = given(
        Z, "Held at Z", least=-10_000.0, hint="at the first end: asks whether the work springs away"
    )
    pip: Pip = choice(
        "Pip after facing to the axis", PIPS, "", hint="on the front: shows on which side of centre that tool stands"
    )
    second_held_at: float | None = given(
        Z, "Second end: held at Z", least=-10_000.0, hint="from the zero of that end, −Z toward the chuck"
    )
    second_pip: Pip = choice("Second end: pip", PIPS, "", hint="after facing it to the axis")
    outside: ContourGiven | None = outside_of_print()
    inside: ContourGiven | None = inside_of_print()
    plan: OperationInputs = part(OperationInputs, "Operations")
    bar: BarInputs = part(BarInputs, "Part, material and bar")
    later: LeftInputs = part(LeftInputs, "Left for grinding, hardening or plating")
    temperature: WarmInputs = part(WarmInputs, "Temperature")


class PartMeasuredResults(Declared):
    """The part as a whole."""

    state: str = word("Sizes")
    measured_count: float = result(COUNT, "Checks measured")
    tool_count: float = result(COUNT, "Tools with readings")
    part_named: str | None = word("Readings belong to")


class ToolChangeRow(Declared):
    """What to change of one tool, each with its spread; blank: its readings do not support a change."""

    tool: str = word("Tool")
    operations: str = word("operations")
    readings: str = word("readings")
    x_change: float | None = result(X, "add to X wear")
    x_spread: float | None = result(LENGTH, "± per side")
    z_change: float | None = result(Z, "add to Z wear")
    z_spread: float | None = result(LENGTH, "±")
    nose_change: float | None = result(LENGTH, "nose radius off by")
    nose_spread: float | None = result(LENGTH, "±")
    centre_height: float | None = result(LENGTH, "off centre height by")
    taper: float | None = result(FINE_RATIO, "taper of the work")
    deflection: float | None = result(LENGTH, "work springs away by")
    growth: float | None = result(LENGTH, "growth between the parts")
    not_told_apart: str | None = word("not told apart")


class CheckedRow(Declared):
    """One check judged: sizes in mm at 20 °C; blank while it is not measured."""

    number: float = result(COUNT, "No.")
    what: str = word("Check")
    tool: str | None = word("tool")
    wanted: float | None = result(LENGTH, "contour")
    measured: float | None = result(LENGTH, "measured", hint="at 20 °C")
    deviation: float | None = result(LENGTH, "off by")
    after_change: float | None = result(LENGTH, "after the change")
    verdict: str | None = word("verdict")
    in_doubt: bool | None = flag("in doubt")
