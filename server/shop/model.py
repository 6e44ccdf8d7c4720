"""What the shop keeps: a tool, a proven cut. Each is declared once, in the terms of the pages that they fill."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final, Literal

from calc.cutting import nouns
from calc.language.fields import Declared, choice, word
from calc.questions.part.declared import KINDS, KindAsked, OperationRow, ReleaseInputs
from server.sheets.fields import LINE, LINES

VERSION: Final = 1
ListName = Literal["tools", "cuts"]

ToolUse = Literal[
    "", "turning", "boring", "centre", "drill", "sink", "reamer", "tap", "groove", "part-off", "thread", "knurl"
]
USES: Mapping[ToolUse, str] = {
    "": "choose",
    "turning": "turning and facing",
    "boring": "boring bar",
    "centre": "centre drill",
    "drill": "drill",
    "sink": "countersink or counterbore",
    "reamer": "reamer",
    "tap": "tap",
    "groove": "grooving",
    "part-off": "parting off",
    "thread": "threading",
    "knurl": "knurling",
}
USED_FOR: Mapping[KindAsked, tuple[ToolUse, ...]] = {
    "face": ("turning",),
    "rough": ("turning",),
    "finish": ("turning",),
    "bore": ("boring",),
    "centre": ("centre",),
    "drill": ("drill",),
    "counterbore": ("sink",),
    "countersink": ("sink",),
    "ream": ("reamer",),
    "tap": ("tap",),
    "groove": ("groove", "part-off"),
    "part-off": ("part-off", "groove"),
    "thread": ("thread",),
    "knurl": ("knurl",),
}
"""Which tools an operation of a kind is done with, the likeliest first."""

CUT_KINDS: Mapping[KindAsked, str] = {
    **{kind: words for kind, words in KINDS.items() if kind != "measure"},
    "": "any operation",
}
Hand = Literal["", "right", "left", "neutral"]
HANDS: Mapping[Hand, str] = {"": "by the designation", "right": "right", "left": "left", "neutral": "neutral"}
TOOL_POINTS: Mapping[str, str] = {"": "not said", **{str(code): words for code, words in nouns.POINTS.items()}}


def _as_in(of: type[Any], name: str) -> Any:
    """The field as another class declares it, so that both mean the same."""
    found = next(each for each in dataclasses.fields(of) if each.name == name)
    return dataclasses.field(default=found.default, metadata=found.metadata)


class ShopTool(Declared):
    """One of the shop's tools. Its fields are called what the pages call theirs, so that they can be filled from it."""

    use: ToolUse = choice("Kind of tool", USES, "")
    name: str | None = word("Called", hint="as the shop calls it, such as: finishing left", longest=LINE)
    insert: str | None = nouns.INSERT.given()
    holder: str | None = nouns.HOLDER.given()
    nose_radius: float | None = nouns.NOSE_RADIUS.given(blank="by the designation")
    hand: Hand = choice("Hand", HANDS, "")
    tool_point: str = choice(
        "Tool point", TOOL_POINTS, "", hint="seen from the nose centre, chuck to the left; controls differ"
    )
    size: float | None = _as_in(OperationRow, "size")
    point_angle: float | None = _as_in(OperationRow, "point_angle")
    thread: str | None = _as_in(OperationRow, "thread")
    tool: str = nouns.TOOL.chosen()
    tool_bar_diameter: float | None = nouns.TOOL_BAR_DIAMETER.given()
    stick_out: float | None = nouns.STICK_OUT.given()
    turret: float | None = _as_in(OperationRow, "turret")
    offset_x: float | None = _as_in(OperationRow, "offset_x")
    offset_z: float | None = _as_in(OperationRow, "offset_z")
    note: str | None = word("Note", lines=True, longest=LINES)


class ProvenCut(Declared):
    """Speed and feed that a good part was made with: on which material, with which tool, when."""

    material: str | None = nouns.MATERIAL.given()
    kind: KindAsked = choice("Operation", CUT_KINDS, "")
    insert: str | None = nouns.INSERT.given()
    holder: str | None = nouns.HOLDER.given()
    size: float | None = _as_in(OperationRow, "size")
    tool: str = nouns.TOOL.chosen()
    surface_speed: float | None = nouns.SURFACE_SPEED.given(brief="at")
    feed: float | None = nouns.FEED_RATE.given(brief="feed")
    depth: float | None = nouns.PASS_DEPTH.given(brief="depth")
    machine_name: str | None = _as_in(ReleaseInputs, "machine_name")
    proved_out: str | None = word("Proved on", hint="the date, as 2026-11-03", longest=LINE)
    proved_by: str | None = word("Proved by", hint="the role, such as lead", longest=LINE)
    note: str | None = word("Note", lines=True, longest=LINES)


@dataclass(frozen=True, slots=True)
class Listed:
    """One of the two lists: what it is called, what an entry of it is declared as, how many fit."""

    name: ListName
    title: str
    one: str
    new: str
    row: type[Any]
    format: str
    most: int


LISTS: Mapping[str, Listed] = {
    "tools": Listed("tools", "Tools", "tool", "New tool", ShopTool, "chuckside tool", 1000),
    "cuts": Listed(
        "cuts", "Proven speeds and feeds", "proven cut", "New proven cut", ProvenCut, "chuckside proven cut", 2000
    ),
}
