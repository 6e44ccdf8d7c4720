"""The rows of a measured part: what to change of each tool, and each check with what was found of it."""

from __future__ import annotations

from collections.abc import Sequence

from calc.cutting.materials import material
from calc.language.known import Known
from calc.language.messages import Phrase
from calc.measuring.temperature import Expanding
from calc.questions.measuring.first_part_fields import WHATS, FirstPartResults, ReadingRow, TemperatureInputs
from calc.questions.measuring.made_by import Maker
from calc.questions.measuring.over_knurl import Stage
from calc.questions.measuring.part_measured_fields import CheckedRow, PartMeasuredInputs, PartReading, ToolChangeRow
from calc.questions.part.checked import BLANK


def tool_row(maker: Maker, numbers: Sequence[int], found: FirstPartResults) -> ToolChangeRow:
    """What to change of a tool whose readings have these numbers (counted from 0), as the machine keys it (mm, rad).

    At the second end, turned round, Z and a taper count the other way.
    """
    x, z, nose, height = found.offset_x, found.offset_z, found.nose_radius_change, found.centre_height
    return ToolChangeRow(
        tool=maker.name,
        operations=f"{maker.number}",
        readings=", ".join(str(number + 1) for number in numbers),
        x_change=None if x is None else float(x),
        x_spread=_spread(x),
        z_change=None if z is None else maker.z_sign * float(z),
        z_spread=_spread(z),
        nose_change=None if nose is None else float(nose),
        nose_spread=_spread(nose),
        centre_height=None if height is None else float(height),
        taper=None if found.taper is None else maker.z_sign * float(found.taper),
        deflection=None if found.deflection is None else float(found.deflection),
        growth=None if found.growth is None else float(found.growth),
        not_told_apart=found.not_told_apart,
    )


def _spread(value: float | None) -> float | None:
    return value.spread if isinstance(value, Known) else None


def check_row(
    number: int, row: PartReading, found: tuple[str, ReadingRow] | None, stage: Stage | None = None
) -> CheckedRow:
    """A check of the list by its number (counted from 0) with what was `found`: its tool's name and row, or None.

    `stage` is the knurl that it is of.
    """
    where, size = "bore" if row.where == "inside" else "outside", WHATS[row.what].partition(":")[0]
    size = size if stage is None else STAGES[stage[0]]
    what: str = Phrase("{where}, {size}", where=where, size=size)
    if row.thread:
        what = Phrase("{thread}, {what}", thread=row.thread, what=what)
    if found is None:
        return CheckedRow(number=number + 1.0, what=what)
    tool, judged = found
    return CheckedRow(
        number=number + 1.0,
        what=what,
        tool=tool,
        wanted=judged.wanted,
        measured=judged.measured,
        deviation=judged.deviation,
        after_change=judged.after_change,
        verdict=judged.verdict,
        in_doubt=judged.in_doubt,
    )


STAGES = {"blank": BLANK, "rolled": WHATS["over_knurl"]}
"""What a size of a knurl is called."""

EXPANDS: dict[str, Expanding] = {
    "P": "steel",
    "M": "stainless",
    "K": "cast-iron",
    "N": "aluminium",
    "S": "titanium",
    "H": "steel",
}
"""What a material of each group of ISO 513 is taken as when it is warm."""


def temperature_of(inputs: PartMeasuredInputs) -> TemperatureInputs:
    """Temperatures and expansions, that of the part by the group of its material where it has none of its own."""
    warm, named = inputs.temperature, inputs.bar.material
    group = material(named).group if named else "P"
    return TemperatureInputs(
        part_temperature=warm.part_temperature,
        gauge_temperature=warm.gauge_temperature,
        material=EXPANDS.get(group, "steel"),
        part_expansion=warm.part_expansion,
        gauge_expansion=warm.gauge_expansion,
    )
