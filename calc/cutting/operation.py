"""What every question about an operation asks of the material: the speed to start with, and whether one is unusual."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from calc.cutting.materials import Material, SpeedRange
from calc.cutting.tables import table
from calc.cutting.tools import operations, tool_materials
from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.problems import Fault, Missing
from calc.language.quantities import SURFACE_SPEED

TOOLS = {"": "the usual one"} | {tool.name: tool.title for tool in tool_materials()}


NEARLY = 0.1  # a range of starting speeds is no sharper than a tenth; common practice, no source
FAR_ABOVE = 1.5  # times the highest starting speed, from which an edge does not last; common practice, no source


@dataclass(frozen=True, slots=True)
class StartingSpeed:
    """A surface speed [mm/min], and the note that says where it comes from when nobody gave it."""

    speed: float
    notes: tuple[Message, ...] = ()


def starting_speed(work: Material, operation: str, tool: str, given: float | None) -> StartingSpeed:
    """The `given` surface speed [mm/min], or the usual one of the material for this operation and tool material.

    `tool` "" is the usual one. Raises Missing, at `surface_speed`, where the material has none. Source: the material's.

    >>> from calc.cutting.materials import material
    >>> starting_speed(material("C45"), "drill", "HSS", None).speed
    24000.0
    """
    if given is not None:
        return StartingSpeed(given, work.notes)
    found = work.speed(operation, tool or None)
    if found is None:
        raise Missing(Fault("surface_speed", _none_listed(work, operation, tool)))
    return StartingSpeed(found.usual, (*work.notes, speed_started_from(work, found)))


def material_cautions(work: Material) -> Iterator[Caution]:
    """What the material does that metal in general does not: springs, burns, gives off fumes.

    >>> from calc.cutting.materials import material
    >>> [caution.severity for caution in material_cautions(material("PTFE"))][0]
    3
    """
    for key in work.cautions:
        row = table("cautions")[key]
        yield Caution(Message(row["text"], {"material": work.title}), row["severity"], "material")


def unusual_speed(work: Material, names: Sequence[str], tool: str, v: float) -> Iterator[Caution]:
    """A caution when `v` [mm/min] is outside what is started with, for operations `names` and a tool material.

    Far above it the edge does not live long enough to see; a little outside it is a choice.

    >>> from calc.cutting.materials import material
    >>> [caution.about for caution in unusual_speed(material("C45"), ("rough", "finish"), "", 900_000.0)]
    ['surface_speed']
    """
    used = tool or work.tools[0]
    ranges = [one for one in work.speeds if one.tool == used and one.operation in names]
    if not ranges:
        return
    low, high = min(one.low for one in ranges), max(one.high for one in ranges)
    if (1 - NEARLY) * low <= v <= (1 + NEARLY) * high:
        return
    values: dict[str, Value] = {
        "speed": Quantity(v, SURFACE_SPEED),
        "low": Quantity(low, SURFACE_SPEED),
        "high": Quantity(high, SURFACE_SPEED),
        "times": f"{v / high:.1f}",
        "material": work.code,
        "tool": used,
    }
    if v > FAR_ABOVE * high:
        yield Caution(Message(_FAR_ABOVE, values), 3, "surface_speed")
    else:
        yield Caution(Message(_ABOVE if v > high else _BELOW, values), 2, "surface_speed")


def speed_started_from(work: Material, found: SpeedRange) -> Message:
    """The sentence that says from which range a starting speed is."""
    values: dict[str, Value] = {
        "operation": operations()[found.operation].title,
        "material": work.title,
        "speed": Quantity(found.usual, SURFACE_SPEED),
        "low": Quantity(found.low, SURFACE_SPEED),
        "high": Quantity(found.high, SURFACE_SPEED),
        "tool": found.tool,
        "source": found.source,
    }
    return Message(_STARTED, values)


def _none_listed(work: Material, operation: str, tool: str) -> Message:
    values: dict[str, Value] = {"material": work.title, "operation": operations()[operation].title}
    if not tool:
        return Message("There is no starting speed for {operation} in {material}: give the surface speed.", values)
    text = "There is no starting speed for {operation} in {material} with {tool}: give the surface speed."
    return Message(text, {**values, "tool": tool})


_ABOVE = (
    "{speed} is above the {low} to {high} usual for {material} with {tool}: the edge wears sooner than the "
    "tables give. Start in that range, or test it."
)
_BELOW = (
    "{speed} is below the {low} to {high} usual for {material} with {tool}: the force is higher and chips may "
    "weld to the edge. Turn faster where machine and chuck allow it."
)
_FAR_ABOVE = (
    "{speed} is {times} times the {high} usual for {material} with {tool}: the edge burns or breaks. "
    "Check for a slipped digit; start between {low} and {high}."
)
_STARTED = (
    "Surface speed for {operation} in {material}: {speed} to start with, from the range {low} to {high} with {tool} "
    "({source})."
)
