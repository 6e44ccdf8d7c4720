"""The lists of a material's page: speeds, forces, chips, unit power and Taylor's values, each with its source."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from calc.cutting.force import specific_force
from calc.cutting.materials import Material
from calc.cutting.tools import operations, taylor_constant, tool_material
from calc.cutting.unit_power import UNIT_POWER, unit_power_of
from calc.language.fields import Declared, result, word
from calc.language.messages import Digits, Phrase
from calc.language.quantities import (
    LENGTH,
    PRESSURE,
    RATIO,
    SURFACE_SPEED,
    TIME,
)

OPERATIONS = {name: operation.title for name, operation in operations().items()}
CHIPS = (0.05, 0.1, 0.15, 0.2, 0.3, 0.4, 0.6, 1.0)  # mm


class SpeedRow(Declared):
    """Starting speeds for a tool material and an operation."""

    tool: str = word("Tool material")
    operation: str = word("Operation")
    low: float = result(SURFACE_SPEED, "From")
    usual: float = result(SURFACE_SPEED, "Usual")
    high: float = result(SURFACE_SPEED, "Up to")
    source: str = word("Source")


class ForceRow(Declared):
    """A published pair of the specific cutting force."""

    use: str = word("Use")
    kc11: float = result(PRESSURE, "kc1.1")
    mc: float = result(RATIO, "mc")
    source: str = word("Source")


class ChipRow(Declared):
    """The specific cutting force of a chip thickness, by the pair that is used and by the others."""

    chip: float = result(LENGTH, "Chip thickness")
    used: float = result(PRESSURE, "Used here")
    low: float = result(PRESSURE, "Lowest")
    high: float = result(PRESSURE, "Highest")


class UnitRow(Declared):
    """Unit power over the material's hardness."""

    hardness: str = word("Brinell hardness")
    value: float = result(UNIT_POWER, "Unit power")
    source: str = word("Source")


class TaylorRow(Declared):
    """Taylor's equation for a tool material: exponent, its range, the constant for roughing."""

    tool: str = word("Tool material")
    n: float = result(RATIO, "n")
    range: str = word("n from, to")
    life: float = result(TIME, "Life at the usual speed")
    constant: float | None = result(SURFACE_SPEED, "C")
    source: str = word("Source")


def tables_of(work: Material) -> dict[str, tuple[Any, ...]]:
    """All lists of a material by their names.

    >>> from calc.cutting.materials import material
    >>> sorted(tables_of(material("C45")))
    ['chips', 'forces', 'speeds', 'taylor', 'unit_power']
    """
    return {
        "speeds": tuple(_speeds(work)),
        "forces": tuple(_forces(work)),
        "chips": tuple(_chips(work)),
        "unit_power": tuple(_unit_power(work)),
        "taylor": tuple(_taylor(work)),
    }


def _speeds(work: Material) -> Iterator[SpeedRow]:
    for one in work.speeds:
        yield SpeedRow(
            tool=one.tool,
            operation=OPERATIONS[one.operation],
            low=one.low,
            usual=one.usual,
            high=one.high,
            source=one.source,
        )


def _forces(work: Material) -> Iterator[ForceRow]:
    for index, one in enumerate(work.forces):
        yield ForceRow(use="for the spread" if index else "used here", kc11=one.kc11, mc=one.mc, source=one.source)


def _chips(work: Material) -> Iterator[ChipRow]:
    for chip in CHIPS:
        values = [specific_force.function(one.kc11, chip, one.mc) for one in work.forces]
        yield ChipRow(chip=chip, used=values[0], low=min(values), high=max(values))


def _unit_power(work: Material) -> Iterator[UnitRow]:
    hardness = work.hardness
    for brinell in dict.fromkeys((hardness.low, (hardness.low + hardness.high) / 2, hardness.high)):
        unit = unit_power_of(work, brinell)
        if unit is not None:
            yield UnitRow(
                hardness=f"{brinell:g} HB",
                value=unit.usual,
                source=Phrase("{title}: {source}", title=unit.title, source=unit.source),
            )


def _taylor(work: Material) -> Iterator[TaylorRow]:
    for name in work.tools:
        tool, start = tool_material(name), work.speed("rough", name)
        yield TaylorRow(
            tool=name,
            n=tool.taylor.usual,
            range=Phrase("{low} to {high}", low=Digits(f"{tool.taylor.low:g}"), high=Digits(f"{tool.taylor.high:g}")),
            life=tool.life,
            constant=taylor_constant.function(start.usual, tool.life, tool.taylor.usual) if start else None,
            source=tool.taylor.source,
        )
