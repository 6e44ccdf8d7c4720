"""Work materials: names, density, specific cutting force, unit power, starting speeds, from `data/materials/`."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from calc.cutting.tables import DATA, source, table
from calc.cutting.tools import operations
from calc.language.messages import Message
from calc.language.problems import Fault, OutOfRange
from calc.language.quantities import DENSITY, SURFACE_SPEED

TABLE = DATA / "materials"
GROUPS = {
    "P": "steel",
    "M": "stainless steel",
    "K": "cast iron",
    "N": "non-ferrous metal",
    "S": "heat-resistant and titanium alloys",
    "H": "hardened steel",
}
"""The material groups of ISO 513."""

FILES = ("steel", "stainless", "cast_iron", "non_ferrous", "heat_resistant", "hardened")


@dataclass(frozen=True, slots=True)
class Hardness:
    """A range of hardness on a scale (HB, HRC), with its source."""

    low: float
    high: float
    scale: str
    source: str


@dataclass(frozen=True, slots=True)
class SpecificForce:
    """A published pair: specific force [N/mm2] of a chip 1 mm thick and 1 mm wide, its exponent, its source."""

    kc11: float
    mc: float
    source: str


@dataclass(frozen=True, slots=True)
class SpeedRange:
    """Starting surface speeds [mm/min] for a tool material and an operation, with their source."""

    tool: str
    operation: str
    low: float
    usual: float
    high: float
    source: str


@dataclass(frozen=True, slots=True)
class Material:
    """A work material in one condition; `density` in kg/mm3. The first of `forces` is used, all are the spread.

    `unit_power` names its class in the table of unit power, None where the handbook has none.
    """

    code: str
    title: str
    group: str
    condition: str
    names: tuple[str, ...]
    hardness: Hardness
    density: float
    density_source: str
    forces: tuple[SpecificForce, ...]
    speeds: tuple[SpeedRange, ...]
    unit_power: str | None = None

    def speed(self, operation: str, tool: str | None = None) -> SpeedRange | None:
        """The starting speeds for an operation ("rough", "finish"), with a tool material or the first that is listed.

        >>> material("C45").speed("finish").usual
        220000.0
        >>> material("C45").speed("drill", "HSS").usual
        24000.0
        """
        fits = (one for one in self.speeds if one.operation == operation and tool in (None, one.tool))
        return next(fits, None)

    @property
    def tools(self) -> tuple[str, ...]:
        """The tool materials that have starting speeds, the usual one first.

        >>> material("C45").tools[0]
        'coated carbide'
        """
        return tuple(dict.fromkeys(one.tool for one in self.speeds))


@cache
def materials() -> tuple[Material, ...]:
    """Every material, in the order of ISO 513's groups; read on first use.

    >>> len(materials()) >= 45
    True
    """
    tables = [table(f"{TABLE.name}/{name}") for name in FILES]
    return tuple(_material(row, found["group"]) for found in tables for row in found["material"])


def material(name: str) -> Material:
    """The material that has this name (any of its names; case, spaces, dots and hyphens do not matter).

    Raises OutOfRange at the field `material` for a name that none has, with the nearest names.

    >>> material("aisi 1045").code, material("1045").code, material("ck 45").code
    ('C45', 'C45', 'C45')
    """
    found = _by_name().get(_key(name))
    if found is None:
        raise OutOfRange(Fault("material", _unknown(name)))
    return found


def search(text: str) -> tuple[Material, ...]:
    """The materials with a name that contains `text`, all of them for a blank text.

    Those of which a name begins with it come first, then those with it in the name they go by here, then the others.

    >>> [found.code for found in search("ck45")]
    ['C45']
    >>> [found.code for found in search("100cr6")]
    ['100Cr6', '100Cr6-60HRC']
    """
    key = _key(text)
    fits = [one for one in materials() if any(key in name for name in _keys(one))]
    return tuple(sorted(fits, key=lambda one: _rank(key, one)))


def _rank(key: str, one: Material) -> int:
    if any(name.startswith(key) for name in _keys(one)):
        return 0
    return 1 if key in _key(one.code) else 2


def _material(row: Mapping[str, Any], group: str) -> Material:
    return Material(
        code=row["code"],
        title=row["title"],
        group=group,
        condition=row["condition"],
        names=tuple(row["names"]),
        hardness=Hardness(**{**row["hardness"], "source": source(row["hardness"]["source"])}),
        density=DENSITY.internal(row["density"]["value"]),
        density_source=source(row["density"]["source"]),
        forces=tuple(SpecificForce(float(one["kc11"]), one["mc"], source(one["source"])) for one in row["force"]),
        speeds=tuple(_speeds(row["speed"])),
        unit_power=row.get("unit_power"),
    )


def _speeds(rows: Mapping[str, Mapping[str, Any]]) -> Iterator[SpeedRange]:
    """The told starting speeds, and those that follow from them by the rules of the operations."""
    for tool, told in rows.items():
        for name in (name for name in operations() if name in told):
            low, usual, high = (SURFACE_SPEED.internal(value) for value in told[name])
            yield SpeedRange(tool, name, low, usual, high, source(told["source"]))
        for name, operation in operations().items():
            for rule in (rule for rule in operation.rules if tool in rule.tools and rule.base in told):
                low, usual, high = (SURFACE_SPEED.internal(value) * rule.factor for value in told[rule.base])
                words = f"{rule.factor:g} times {operations()[rule.base].title}; {rule.source}"
                yield SpeedRange(tool, name, low, usual, high, words)


def _key(name: str) -> str:
    """A name without what people write differently: case, spaces, dots, hyphens, the standard's letters in front."""
    bare = re.sub(r"[^0-9a-z]", "", name.casefold())
    return re.sub(r"^(aisi|uns|astm|en(?=gj|aw|ac))", "", bare)


@cache
def _keys(one: Material) -> tuple[str, ...]:
    return tuple(_key(name) for name in (one.code, *one.names))


@cache
def _by_name() -> dict[str, Material]:
    return {key: one for one in reversed(materials()) for key in _keys(one)}


def _unknown(name: str) -> Message:
    near = [_by_name()[key].code for key in difflib.get_close_matches(_key(name), _by_name(), n=3, cutoff=0.5)]
    if not near:
        return Message("No material here is called “{name}”.", {"name": name[:40]})
    values = {"name": name[:40], "near": ", ".join(dict.fromkeys(near))}
    return Message("No material here is called “{name}”; near to it: {near}.", values)
