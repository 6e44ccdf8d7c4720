"""Tool materials, operations and what goes by the group of the work, from the data tables."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from calc.cutting.tables import source, table
from calc.language.quantities import Ratio, SurfaceSpeed, Time
from calc.language.working import formula

one_minute: Time = 1.0  # the edge life that Taylor's constant belongs to [min]


@dataclass(frozen=True, slots=True)
class Spread:
    """A value with the range in which published or usual ones lie, and its source."""

    low: float
    usual: float
    high: float
    source: str


@dataclass(frozen=True, slots=True)
class ToolMaterial:
    """A tool material: n of Taylor's v T^n = C, and the edge life [min] that starting speeds are meant for."""

    name: str
    title: str
    taylor: Spread
    life: float
    life_source: str


@dataclass(frozen=True, slots=True)
class SpeedRule:
    """The starting speed of an operation as a share of another one's, with the tool materials that do it."""

    base: str
    factor: float
    tools: tuple[str, ...]
    source: str


@dataclass(frozen=True, slots=True)
class Operation:
    """An operation: its factor on the cutting force of outside turning, and the rules of its starting speed."""

    name: str
    title: str
    force_factor: float
    force_source: str
    rules: tuple[SpeedRule, ...]


@dataclass(frozen=True, slots=True)
class GroupHabits:
    """What goes by ISO 513 group: thrust over cutting force, feed over drill diameter, feed over insert width."""

    thrust: Spread
    drill_feed: Spread
    plunge_feed: Spread


@formula(source="Taylor's equation of tool life", means="surface speed for an edge life of 1 min", result="C")
def taylor_constant(v: SurfaceSpeed, T: Time, n: Ratio) -> SurfaceSpeed:
    """C [mm/min] of Taylor's equation from a surface speed `v` [mm/min] with its edge life `T` [min] and exponent `n`.

    Source: Taylor's equation v T^n = C.

    >>> round(taylor_constant(50_000.0, 14.758, 0.125) / 1000, 1)
    70.0
    """
    return v * (T / one_minute) ** n  # type: ignore[no-any-return]  # a broken power may be complex to a checker


@cache
def tool_materials() -> tuple[ToolMaterial, ...]:
    """Every tool material, from the toughest to the hardest.

    >>> [tool.name for tool in tool_materials()][:3]
    ['HSS', 'uncoated carbide', 'coated carbide']
    """
    return tuple(_tool(row) for row in table("tools")["tool"])


def tool_material(name: str) -> ToolMaterial:
    """The tool material of this name; raises KeyError for any other.

    >>> tool_material("HSS").taylor.usual
    0.125
    """
    return {tool.name: tool for tool in tool_materials()}[name]


@cache
def operations() -> Mapping[str, Operation]:
    """Every operation by its name.

    >>> list(operations())
    ['rough', 'finish', 'bore', 'groove', 'part', 'thread', 'drill']
    """
    rows: dict[str, list[dict[str, Any]]] = {}
    for row in table("operations")["operation"]:
        rows.setdefault(row["name"], []).append(row)
    return {name: _operation(listed) for name, listed in rows.items()}


@cache
def habits(group: str) -> GroupHabits:
    """What goes by the ISO 513 group of the work, a letter; raises KeyError for any other.

    >>> habits("P").thrust.usual
    0.7
    """
    row = next(row for row in table("operations")["group"] if row["name"] == group)
    return GroupHabits(*(_spread(row[name]) for name in ("thrust", "drill_feed", "plunge_feed")))


def _spread(row: Mapping[str, Any]) -> Spread:
    return Spread(row["low"], row["usual"], row["high"], source(row["source"]))


def _tool(row: Mapping[str, Any]) -> ToolMaterial:
    life = row["life"]
    return ToolMaterial(row["name"], row["title"], _spread(row["taylor"]), life["value"], source(life["source"]))


def _operation(rows: list[dict[str, Any]]) -> Operation:
    first = rows[0]
    rules = (SpeedRule(r["base"], r["factor"], tuple(r["tools"]), source(r["source"])) for r in rows if "base" in r)
    force = first["force"]
    return Operation(first["name"], first["title"], force["factor"], source(force["source"]), tuple(rules))
