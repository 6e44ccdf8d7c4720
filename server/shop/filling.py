"""What a page's fields become when a tool or a proven cut is taken from the shop's lists: texts, never a reference."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping, Sequence

from calc.cutting import nouns
from calc.language.fields import Spec, specs
from calc.language.problems import Problem
from calc.language.quantities import View
from calc.questions.part.declared import KindAsked
from calc.tool.holder import read_holder
from calc.tool.insert import nose_of
from server.query import view_of
from server.row_texts import ACTION, FILL
from server.shop.entry import Entry, Whole
from server.shop.joining import texts_in

BELONGING = (
    "insert",
    "holder",
    "nose_radius",
    "size",
    "stick_out",
    "offset_x",
    "offset_z",
    "turret",
    "tool_bar_diameter",
)
"""What belongs to a tool: left blank where the tool taken has none of it, so that nothing of the one before stays."""

OWN = ("use", "name", "hand", "note")
"""What a tool has for the list alone."""

ROUGHING: tuple[KindAsked, ...] = ("face", "rough")
TAKE = "take"
_WISH = re.compile(r"(?P<list>[a-z_]+)\.(?P<row>\d{1,3})\.(?P<what>tool|cut)-(?P<key>[a-z0-9]{1,12})")

Items = Sequence[tuple[str, str]]


def tool_filling(tool: Entry, names: Collection[str], view: View) -> dict[str, str]:
    """The texts that a tool gives fields with these `names`, in the conventions of their page.

    >>> from server.shop.entry import Content
    >>> from server.shop.model import LISTS
    >>> bar = Entry("a", LISTS["tools"], 1, Content({"holder": "S16R-SDUCR11", "insert": "DCMT 11T304"}), 0)
    >>> tool_filling(bar, ["insert", "nose_radius", "turret"], View())
    {'insert': 'DCMT 11T304', 'nose_radius': '', 'turret': ''}
    >>> tool_filling(bar, ["nose_radius", "tool_bar_diameter"], View("inch"))
    {'nose_radius': '0.4mm', 'tool_bar_diameter': '16mm'}
    """
    texts = texts_in(tool.listed, tool.content, view)
    found = {name: texts.get(name, "") for name in BELONGING if name in names}
    found |= {name: text for name, text in texts.items() if name in names and name not in OWN}
    if "insert" not in names and not found.get("nose_radius", "x"):
        found["nose_radius"] = _nose(texts.get("insert", ""))
    if "holder" not in names and not found.get("tool_bar_diameter", "x"):
        found["tool_bar_diameter"] = _bar(texts.get("holder", ""))
    return found


def _nose(insert: str) -> str:
    try:
        return f"{nose_of(insert):g}mm"
    except Problem:
        return ""


def _bar(holder: str) -> str:
    try:
        found = read_holder(holder).bar_diameter
    except Problem:
        return ""
    return f"{found:g}mm" if found else ""


def cut_filling(cut: Entry, declared: Mapping[str, Spec], view: View, given: Mapping[str, str]) -> dict[str, str]:
    """The texts that a proven cut gives the declared fields; what it was made with is filled in where it is blank.

    A page that asks roughing and finishing apart gets them by the operation that is proven.
    """
    texts = texts_in(cut.listed, cut.content, view)
    roughing = texts.get("kind", "") in ROUGHING
    places = {
        "surface_speed": "rough_surface_speed" if roughing and "rough_surface_speed" in declared else "surface_speed",
        "feed": "rough_feed" if roughing and "rough_feed" in declared else "feed",
        "depth": _depth_of(declared),
    }
    found = {to: texts[name] for name, to in places.items() if name in texts and to in declared}
    blank = ("material", "insert", "holder", "size", "tool")
    return found | {name: texts[name] for name in blank if name in texts and name in declared and not given.get(name)}


def _depth_of(declared: Mapping[str, Spec]) -> str:
    """The field that asks a depth of cut; others called `depth` are of the part."""
    if "pass_depth" in declared:
        return "pass_depth"
    own = declared.get("depth")
    cuts = (nouns.DEPTH_OF_CUT.spec.label, nouns.PASS_DEPTH.spec.label)
    return "depth" if own is not None and own.label in cuts else ""


def with_taken(items: Items, lists: Mapping[str, Spec], whole: Whole) -> Items:
    """The items of a request with what a button or a list of the shop asked for filled into its row."""
    wish = next((found for name, text in items if (found := _wish(name, text)) and found["list"] in lists), None)
    if wish is None:
        return [(name, text) for name, text in items if not name.endswith(f".{TAKE}")]
    row = f"{wish['list']}.{wish['row']}."
    entry = next((each for each in whole.entries if each.key == wish["key"] and each.removed_at is None), None)
    filled = {} if entry is None else _filling(entry, lists[wish["list"]], _row_texts(items, row), dict(items))
    kept = [pair for pair in items if pair[0] != ACTION and not pair[0].endswith(f".{TAKE}")]
    others = [(name, text) for name, text in kept if name.removeprefix(row) not in filled or not name.startswith(row)]
    return [*others, *((f"{row}{name}", text) for name, text in filled.items()), (ACTION, f"{row}{FILL}")]


def _wish(name: str, text: str) -> re.Match[str] | None:
    """What a button `do`, or the list of a row, asks for."""
    if name == ACTION:
        return _WISH.fullmatch(text)
    return _WISH.fullmatch(f"{name.removesuffix(TAKE)}{text}") if name.endswith(f".{TAKE}") and text else None


def _row_texts(items: Iterable[tuple[str, str]], row: str) -> dict[str, str]:
    return {name.removeprefix(row): text for name, text in items if name.startswith(row)}


def _filling(entry: Entry, of: Spec, given: Mapping[str, str], asked: Mapping[str, str]) -> dict[str, str]:
    declared = {spec.name: spec for spec in specs(of.repeated.row)}
    view = view_of(asked, [])
    if entry.listed.name == "tools":
        return tool_filling(entry, declared, view)
    return cut_filling(entry, declared, view, given)
