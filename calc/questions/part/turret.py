"""The tools of a part in turret order: what makes one tool another, and the place of each."""

from __future__ import annotations

from collections.abc import Mapping

from calc.questions.part.done import OperationDone, PartDone
from calc.questions.part.job import AnyTool, Drill, Grooving, Reamer, Roll, Tap, Turning

ToolKey = tuple[str, str, float]


def tool_key(one: OperationDone) -> ToolKey:
    """What makes one tool another: insert or kind of tool, holder, nose radius or size (mm)."""
    tool = one.operation.tool
    if isinstance(tool, Turning):
        return tool.insert, tool.holder, tool.tool.nose
    if isinstance(tool, Drill | Reamer):
        return "drill" if isinstance(tool, Drill) else "reamer", "", tool.diameter
    if isinstance(tool, Grooving):
        return "grooving blade", "", tool.width
    if isinstance(tool, Roll):
        return f"knurling rolls, {tool.form}", "", tool.pitch
    if tool is None:
        return "", "", 0.0
    return f"{'tap' if isinstance(tool, Tap) else 'threading tool'} {tool.designation}", "", 0.0


def places_of(done: PartDone) -> dict[ToolKey, int]:
    """The place of each tool in the turret: in the order of first use; a stop to measure needs none."""
    keys = dict.fromkeys(tool_key(each) for each in done.operations if each.operation.tool is not None)
    return {key: place for place, key in enumerate(keys, 1)}


def place_of(one: OperationDone, places: Mapping[ToolKey, int]) -> str:
    """The place of an operation's tool; "" for a stop."""
    place = places.get(tool_key(one))
    return "" if place is None else f"T{place}"


def tools_of(done: PartDone) -> list[tuple[AnyTool, list[int]]]:
    """Each tool once, in turret order, with the numbers of the operations that it does."""
    found: dict[ToolKey, tuple[AnyTool, list[int]]] = {}
    for number, each in enumerate(done.operations, 1):
        if each.operation.tool is not None:
            found.setdefault(tool_key(each), (each.operation.tool, []))[1].append(number)
    return list(found.values())
