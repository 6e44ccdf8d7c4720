"""Work materials: their names, density, specific cutting force and starting speeds, from `data/materials.toml`."""

from __future__ import annotations

import difflib
import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from calc.messages import Message
from calc.problems import Fault, OutOfRange
from calc.quantities import DENSITY, SURFACE_SPEED

TABLE = Path(__file__).parent / "data" / "materials.toml"
GROUPS = {
    "P": "steel",
    "M": "stainless steel",
    "K": "cast iron",
    "N": "non-ferrous metal",
    "S": "heat-resistant and titanium alloys",
    "H": "hardened steel",
}
"""The material groups of ISO 513."""


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
    """A work material in one condition; `density` in kg/mm3. The first of `forces` is used, all are the spread."""

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

    def speed(self, operation: str, tool: str | None = None) -> SpeedRange | None:
        """The starting speeds for an operation ("rough", "finish"), with a tool material or the first that is listed.

        >>> material("C45").speed("finish").usual
        220000.0
        """
        fits = (one for one in self.speeds if one.operation == operation and tool in (None, one.tool))
        return next(fits, None)


@cache
def materials() -> tuple[Material, ...]:
    """Every material, in the order of ISO 513's groups; read on first use.

    >>> len(materials()) >= 14
    True
    """
    with TABLE.open("rb") as file:
        rows = tomllib.load(file)["material"]
    return tuple(_material(row) for row in rows)


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
    """The materials with a name that contains `text`, those that begin with it first; all of them for a blank text.

    >>> [found.code for found in search("45")]
    ['C45']
    >>> [found.code for found in search("cr6")]
    ['100Cr6', '100Cr6-60HRC']
    """
    key = _key(text)
    fits = [one for one in materials() if any(key in name for name in _keys(one))]
    return tuple(sorted(fits, key=lambda one: not any(name.startswith(key) for name in _keys(one))))


def _material(row: Mapping[str, Any]) -> Material:
    return Material(
        code=row["code"],
        title=row["title"],
        group=row["group"],
        condition=row["condition"],
        names=tuple(row["names"]),
        hardness=Hardness(**row["hardness"]),
        density=DENSITY.internal(row["density"]["value"]),
        density_source=row["density"]["source"],
        forces=tuple(SpecificForce(float(one["kc11"]), one["mc"], one["source"]) for one in row["force"]),
        speeds=tuple(_speed(one) for one in row["speed"]),
    )


def _speed(row: Mapping[str, Any]) -> SpeedRange:
    low, usual, high = (SURFACE_SPEED.internal(row[name]) for name in ("low", "usual", "high"))
    return SpeedRange(row["tool"], row["operation"], low, usual, high, row["source"])


def _key(name: str) -> str:
    """A name without what people write differently: case, spaces, dots, hyphens, the standard's letters in front."""
    bare = re.sub(r"[^0-9a-z]", "", name.casefold())
    return re.sub(r"^(aisi|uns|astm|en(?=gj|aw))", "", bare)


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
