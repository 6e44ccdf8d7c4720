"""The tools of a part in turret order: what makes one tool another, and the place of each."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import count
from math import degrees

from calc.language.messages import Digits, Message, Phrase
from calc.language.problems import Fault, Impossible
from calc.questions.part.done import OperationDone, PartDone
from calc.questions.part.job import (
    AnyTool,
    CentreDrill,
    Counterbore,
    Countersink,
    Drill,
    Grooving,
    Operation,
    Reamer,
    Roll,
    Tap,
    Turning,
)
from calc.shapes.knurls import forms

ToolKey = tuple[str, str, float]


def tool_key(operation: Operation) -> ToolKey:
    """What makes one tool another: insert or kind of tool, holder, nose radius or size (mm)."""
    tool = operation.tool
    if isinstance(tool, Turning):
        return tool.insert, tool.holder, tool.tool.nose
    if isinstance(tool, Drill | Reamer | Counterbore | Countersink):
        return name_on_axis(tool), "", tool.diameter
    if isinstance(tool, Grooving):
        return "grooving blade", "", tool.width
    if isinstance(tool, Roll):
        return Phrase("knurling rolls, {form}", form=forms()[tool.form].title), "", tool.pitch
    if tool is None or isinstance(tool, CentreDrill):
        return Phrase("centre drill {form} {size}", form=tool.form, size=tool.size) if tool else "", "", 0.0
    text = "tap {thread}" if isinstance(tool, Tap) else "threading tool {thread}"
    return Phrase(text, thread=tool.designation), "", 0.0


def name_on_axis(tool: Drill | Reamer | Counterbore | Countersink) -> str:
    """What a tool on the axis is called, without its size; its angle where that is not the usual one.

    >>> name_on_axis(Drill(12.0)), name_on_axis(Drill(16.0, None, "coated carbide")), name_on_axis(Countersink(14.0))
    ('twist drill', 'carbide drill', 'countersink 90°')
    """
    if isinstance(tool, Reamer):
        return "reamer"
    if isinstance(tool, Counterbore):
        return "counterbore"
    if isinstance(tool, Countersink):
        return Phrase("countersink {angle}°", angle=_degrees(tool.angle))
    name = {"HSS": "twist drill", "coated carbide": "carbide drill", "indexable": "drill with inserts"}[tool.made_of]
    return name if tool.point_angle is None else Phrase("{name} {angle}°", name=name, angle=_degrees(tool.point_angle))


def _degrees(angle: float) -> Digits:
    return Digits(f"{degrees(angle):.4g}")


def places_of(done: PartDone) -> dict[ToolKey, int]:
    """The place of each tool in the turret, in the order of first use; a stop to measure needs none."""
    return places_in([each.operation for each in done.operations])


def places_in(operations: Sequence[Operation]) -> dict[ToolKey, int]:
    """The place of each tool: the one that an operation gives it, else the first that is free.

    Raises `Impossible` where two tools are given one place, or one tool two.
    """
    used = [each for each in operations if each.tool is not None]
    found: dict[ToolKey, int] = {}
    for each in used:
        if each.place is not None:
            _give(found, each, each.place)
    free = (place for place in count(1) if place not in found.values())
    return {key: found[key] if key in found else next(free) for key in dict.fromkeys(map(tool_key, used))}


def _give(found: dict[ToolKey, int], operation: Operation, place: int) -> None:
    key = tool_key(operation)
    other = next((each for each, taken in found.items() if taken == place and each != key), None)
    if other is not None or found.get(key, place) != place:
        text = "Place {place} is another tool's already." if other else "This tool stands at another place already."
        raise Impossible(Fault(f"{operation.field}.turret".lstrip("."), Message(text, {"place": place})))
    found[key] = place


def place_of(one: OperationDone, places: Mapping[ToolKey, int]) -> str:
    """The place of an operation's tool; "" for a stop."""
    place = places.get(tool_key(one.operation))
    return "" if place is None else f"T{place}"


def tools_of(done: PartDone) -> list[tuple[AnyTool, list[int]]]:
    """Each tool once, in turret order, with the numbers of the operations that it does."""
    found: dict[ToolKey, tuple[AnyTool, list[int]]] = {}
    for number, each in enumerate(done.operations, 1):
        if each.operation.tool is not None:
            found.setdefault(tool_key(each.operation), (each.operation.tool, []))[1].append(number)
    return list(found.values())
