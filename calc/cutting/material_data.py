"""What a work material is, and those that have numbers of their own, as they stand in `data/materials/`."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache
from itertools import pairwise
from math import sqrt
from typing import Any

from calc.cutting.tables import DATA, read, source
from calc.cutting.tools import SpeedRule, operations
from calc.language.messages import Digits, Message, Phrase, Value
from calc.language.quantities import DENSITY, SURFACE_SPEED

TABLE = DATA / "materials"
GROUPS = {
    "P": "steel",
    "M": "stainless steel",
    "K": "cast iron",
    "N": "non-ferrous metal",
    "S": "heat-resistant and titanium alloys",
    "H": "hardened steel",
    "plastic": "plastics, which ISO 513 counts with N",
}
"""The material groups of ISO 513, and plastics as one of their own."""

PLASTIC = "plastic"
FILES = ("steel", "stainless", "cast_iron", "non_ferrous", "heat_resistant", "hardened", "plastics")

# ISO 18265, table A.1, from memory: Rockwell C and Brinell of unalloyed and low-alloy steel.
ROCKWELL = (
    (20, 228),
    (25, 253),
    (30, 286),
    (35, 327),
    (40, 371),
    (45, 421),
    (50, 475),
    (55, 547),
    (60, 627),
    (65, 710),
)
VICKERS_TO_BRINELL = 0.95  # ISO 18265, from memory


@dataclass(frozen=True, slots=True)
class Hardness:
    """A range of hardness on a scale (HB, HRC), with its source."""

    low: float
    high: float
    scale: str
    source: str

    @property
    def brinell(self) -> float:
        """The middle of the range in Brinell; 0 on a scale of plastics, which has no Brinell. Source: ISO 18265.

        >>> Hardness(28.0, 32.0, "HRC", "typed").brinell
        286.0
        """
        middle = (self.low + self.high) / 2
        if self.scale == "HRC":
            return _brinell(middle)
        return middle * {"HB": 1.0, "HV": VICKERS_TO_BRINELL}.get(self.scale, 0.0)

    @property
    def said(self) -> Phrase:
        """The range as it stands in a table.

        >>> Hardness(170.0, 210.0, "HB", "typed").said, Hardness(60.0, 60.0, "HRC", "typed").said
        ('170 to 210 HB', '60 HRC')
        """
        low, high = (Digits(f"{end:g}") for end in (self.low, self.high))
        text = "{low} {unit}" if low == high else "{low} to {high} {unit}"
        return Phrase(text, low=low, high=high, unit=self.scale)


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

    `unit_power` names its class in the table of unit power, None where the handbook has none. `cautions` are keys of
    `data/cautions.toml`. `notes` say how a name was read and which other grade lends its numbers; `others` are the
    codes that the same word may mean.
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
    cautions: tuple[str, ...] = ()
    notes: tuple[Message, ...] = ()
    others: tuple[str, ...] = ()

    def speed(self, operation: str, tool: str | None = None) -> SpeedRange | None:
        """The starting speeds for an operation ("rough", "finish"), with a tool material or the first that is listed.

        >>> steel = next(one for one in tabled() if one.code == "C45")
        >>> steel.speed("finish").usual, steel.speed("drill", "HSS").usual
        (220000.0, 24000.0)
        """
        fits = (one for one in self.speeds if one.operation == operation and tool in (None, one.tool))
        return next(fits, None)

    @property
    def tools(self) -> tuple[str, ...]:
        """The tool materials that have starting speeds, the usual one first.

        >>> tabled()[0].tools[0]
        'coated carbide'
        """
        return tuple(dict.fromkeys(one.tool for one in self.speeds))


@cache
def tabled() -> tuple[Material, ...]:
    """Every material with numbers of its own, in the order of ISO 513's groups; read on first use.

    >>> len(tabled()) >= 90
    True
    """
    found = [read(f"{TABLE.name}/{name}") for name in FILES]
    rows = {row["code"]: (row, one["group"]) for one in found for row in one["material"]}
    return tuple(_material(row, group, rows) for row, group in rows.values())


def names_in(text: str) -> tuple[str, ...]:
    """The names of a list with semicolons between them.

    >>> names_in("C45; 1.0503")
    ('C45', '1.0503')
    """
    return tuple(name for part in text.split(";") if (name := part.strip()))


def with_hardness(work: Material, hardness: Hardness) -> Material:
    """The same material harder or softer: its forces with the square root of the hardness, its speeds against it.

    The handbook's unit powers of steels grow so over a class, within a tenth (Machinery's Handbook 31, Table 1b); the
    speeds: common practice, no source. A material or a hardness without Brinell stays as it is.

    >>> steel = next(one for one in tabled() if one.code == "C45")
    >>> hard = with_hardness(steel, Hardness(230.0, 250.0, "HB", "typed"))
    >>> round(hard.forces[0].kc11 / steel.forces[0].kc11, 3), hard.speed("rough").usual
    (1.124, 140000.0)
    """
    share = hardness.brinell / work.hardness.brinell if work.hardness.brinell else 0.0
    if not share:
        return replace(work, hardness=hardness)
    text = "{source}, for {hardness}"
    forces = (
        replace(one, kc11=one.kc11 * sqrt(share), source=Phrase(text, source=one.source, hardness=hardness.said))
        for one in work.forces
    )
    speeds = slower(work.speeds, 1 / share, text, hardness=hardness.said)
    return replace(work, hardness=hardness, forces=tuple(forces), speeds=speeds)


def slower(speeds: tuple[SpeedRange, ...], factor: float, text: str, **values: Value) -> tuple[SpeedRange, ...]:
    """The speeds times `factor`, in two figures as a start deserves; `text` with `values` says so beside the source.

    >>> halved = slower((SpeedRange("HSS", "rough", 10.0, 20.0, 30.0, "shop"),), 0.5, "{source}, halved")[0]
    >>> halved.usual, halved.source
    (10.0, 'shop, halved')
    """
    told = {source: Phrase(text, source=source, **values) for source in {one.source for one in speeds}}
    two = [[float(f"{speed * factor:.2g}") for speed in (one.low, one.usual, one.high)] for one in speeds]
    return tuple(
        replace(one, low=low, usual=usual, high=high, source=told[one.source])
        for one, (low, usual, high) in zip(speeds, two, strict=True)
    )


@cache
def _by_rule(rule: SpeedRule) -> str:
    """The source of a speed that follows from another, one text for all materials."""
    factor, title = Digits(f"{rule.factor:g}"), operations()[rule.base].title
    return Phrase("{factor} times {operation}; {source}", factor=factor, operation=title, source=rule.source)


def _brinell(rockwell: float) -> float:
    (c0, b0), (c1, b1) = next((pair for pair in pairwise(ROCKWELL) if rockwell <= pair[1][0]), ROCKWELL[-2:])
    return b0 + (b1 - b0) * (rockwell - c0) / (c1 - c0)


def _material(row: Mapping[str, Any], group: str, rows: Mapping[str, tuple[Mapping[str, Any], str]]) -> Material:
    names = row["names"]
    return Material(
        code=row["code"],
        title=row["title"],
        group=group,
        condition=row["condition"],
        names=tuple(dict.fromkeys((row["code"], *names_in(names)))) if isinstance(names, str) else tuple(names),
        hardness=_hardness(row),
        density=DENSITY.internal(row["density"]["value"]),
        density_source=source(row["density"]["source"]),
        forces=tuple(_force(one, row, rows) for one in row["force"]),
        speeds=tuple(_speeds(row["speed"])),
        unit_power=row.get("unit_power"),
        cautions=tuple(row.get("cautions", ())),
    )


def _hardness(row: Mapping[str, Any]) -> Hardness:
    return Hardness(**{**row["hardness"], "source": source(row["hardness"]["source"])})


def _force(
    one: Mapping[str, Any], row: Mapping[str, Any], rows: Mapping[str, tuple[Mapping[str, Any], str]]
) -> SpecificForce:
    """A published pair, or that of another grade (`of`) brought to this one's hardness."""
    if "of" not in one:
        return SpecificForce(float(one["kc11"]), one["mc"], source(one["source"]))
    other, _ = rows[one["of"]]
    lent = _force(other["force"][0], other, rows)
    share = sqrt(_hardness(row).brinell / _hardness(other).brinell)
    return SpecificForce(round(lent.kc11 * share, -1), lent.mc, source(f"hardness-rule: {one['of']}"))


def _speeds(rows: Mapping[str, Mapping[str, Any]]) -> Iterator[SpeedRange]:
    """The given starting speeds, and those that follow from them by the rules of the operations."""
    for tool, told in rows.items():
        for name in (name for name in operations() if name in told):
            low, usual, high = (SURFACE_SPEED.internal(value) for value in told[name])
            yield SpeedRange(tool, name, low, usual, high, source(told["source"]))
        for name, operation in operations().items():
            for rule in (rule for rule in operation.rules if tool in rule.tools and rule.base in told):
                low, usual, high = (SURFACE_SPEED.internal(value) * rule.factor for value in told[rule.base])
                yield SpeedRange(tool, name, low, usual, high, _by_rule(rule))
