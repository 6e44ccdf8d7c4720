"""Which of the shop's tools an operation can be done with, which proven cuts speak for a question, best first."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from calc.cutting.materials import read as read_material
from calc.questions.part.declared import KindAsked
from server.shop.entry import Entry
from server.shop.model import USED_FOR

ANY: KindAsked = ""


def tools_for(kinds: Iterable[KindAsked], tools: Iterable[Entry]) -> list[Entry]:
    """The tools that operations of these kinds are done with, the likeliest use first, then by place in the turret.

    >>> from server.shop.entry import Content
    >>> from server.shop.model import LISTS
    >>> drill, bar = (Entry(use, LISTS["tools"], 1, Content({"use": use}), 0) for use in ("drill", "boring"))
    >>> [each.key for each in tools_for(["bore"], [drill, bar])]
    ['boring']
    """
    uses = list(dict.fromkeys(use for kind in kinds for use in USED_FOR.get(kind, ())))
    fitting = (each for each in tools if each.content.texts.get("use") in uses)
    return sorted(fitting, key=lambda each: (uses.index(each.content.texts["use"]), place_of(each)))  # type: ignore[arg-type]


def place_of(tool: Entry) -> float:
    """The place of a tool in the turret, beyond all others where it has none."""
    text = tool.content.texts.get("turret", "")
    return float(text) if text.isascii() and text.isdecimal() else float("inf")


@dataclass(frozen=True, slots=True)
class Wanted:
    """What a proven cut is looked for: material and insert as typed, "" where they are not given yet."""

    kinds: Sequence[KindAsked]
    material: str = ""
    insert: str = ""


def cuts_for(wanted: Wanted, cuts: Iterable[Entry]) -> list[Entry]:
    """The proven cuts on this material for one of these kinds, with this insert or with none named, best first.

    One with the same insert comes before one that names none, one of the very kind before one of any kind, a later one
    before an earlier. Where the insert is not given yet, those with any insert are found.
    """
    found = [each for each in cuts if _fits(wanted, each)]
    return sorted(found, key=lambda each: _rank(wanted, each), reverse=True)


def _fits(wanted: Wanted, cut: Entry) -> bool:
    texts = cut.content.texts
    insert, kind = plain(texts.get("insert", "")), texts.get("kind", ANY)
    return (
        (kind == ANY or kind in wanted.kinds)
        and (not insert or not wanted.insert or insert == plain(wanted.insert))
        and same_material(texts["material"], wanted.material)
    )


def _rank(wanted: Wanted, cut: Entry) -> tuple[bool, bool, str, int]:
    texts = cut.content.texts
    same = bool(wanted.insert) and plain(texts.get("insert", "")) == plain(wanted.insert)
    return same, texts.get("kind", ANY) != ANY, texts.get("proved_out", ""), cut.saved_at


def plain(designation: str) -> str:
    """A designation without the blanks, dots, dashes and small letters in which boxes differ.

    >>> plain("cnmg 12 04 08") == plain("CNMG-120408")
    True
    """
    return "".join(letter for letter in designation.upper() if letter.isalnum())


def same_material(one: str, other: str) -> bool:
    """Whether two names mean one material.

    >>> same_material("42CrMo4", "1.7225"), same_material("the blue bar", "The Blue Bar"), same_material("C45", "")
    (True, True, False)
    """
    return bool(other.strip()) and _known(one) == _known(other)


@lru_cache(maxsize=1000)
def _known(name: str) -> str:
    """What a name is compared by: the material's own, or the name as it is."""
    found = read_material(name).one
    return name.strip().casefold() if found is None else found.code
