"""Which of the shop's tools an operation can be done with, which proven cuts speak for a question, best first."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from calc.cutting.materials import read as read_material
from calc.language.quantities import LENGTH, View
from calc.language.reading import ReadingError, read
from calc.questions.part.declared import KindAsked
from server.shop.entry import Entry
from server.shop.model import USED_FOR

ANY: KindAsked = ""


def tools_for(kinds: Iterable[KindAsked], tools: Iterable[Entry], wanted: Wanted | None = None) -> list[Entry]:
    """The tools that operations of these kinds are done with, the likeliest first, then by place in the turret.

    Those come first that begin as the insert or holder that is typed in `wanted`, and whose size is the nearest to it.

    >>> from server.shop.entry import Content
    >>> from server.shop.model import LISTS
    >>> drill, bar = (Entry(use, LISTS["tools"], 1, Content({"use": use}), 0) for use in ("drill", "boring"))
    >>> [each.key for each in tools_for(["bore"], [drill, bar])]
    ['boring']
    """
    uses = list(dict.fromkeys(use for kind in kinds for use in USED_FOR.get(kind, ())))
    fitting = [each for each in tools if each.content.texts.get("use") in uses]
    return sorted(
        fitting,
        key=lambda each: (
            0 if wanted is None else -_begins_alike(wanted, each),
            uses.index(each.content.texts["use"]),  # type: ignore[arg-type]
            0.0 if wanted is None else _apart(wanted, each),
            place_of(each),
        ),
    )


def _begins_alike(wanted: Wanted, tool: Entry) -> int:
    """How many of insert and holder begin as they are typed."""
    typed = ((plain(wanted.insert), "insert"), (plain(wanted.holder), "holder"))
    return sum(bool(text) and plain(tool.content.texts.get(name, "")).startswith(text) for text, name in typed)


def place_of(tool: Entry) -> float:
    """The place of a tool in the turret, beyond all others where it has none."""
    text = tool.content.texts.get("turret", "")
    return float(text) if text.isascii() and text.isdecimal() else float("inf")


@dataclass(frozen=True, slots=True)
class Wanted:
    """What a proven cut or a tool is looked for: designations as typed, "" where they are not given yet.

    `size` (mm) is that of a tool known by it, `tool` what its edge is made of.
    """

    kinds: Sequence[KindAsked]
    material: str = ""
    insert: str = ""
    holder: str = ""
    size: float | None = None
    tool: str = ""


def cuts_for(wanted: Wanted, cuts: Iterable[Entry]) -> list[Entry]:
    """The proven cuts on this material for one of these kinds, with a tool like this one or none named, best first.

    The same insert comes before one that differs in its nose alone, and that before none named; then the same holder,
    the nearest size, the very kind before any, a later one before an earlier. What is not given yet speaks against
    none.
    """
    found = [each for each in cuts if _fits(wanted, each)]
    return sorted(found, key=lambda each: _rank(wanted, each), reverse=True)


def _fits(wanted: Wanted, cut: Entry) -> bool:
    texts = cut.content.texts
    return (
        texts.get("kind", ANY) in (ANY, *wanted.kinds)
        and _likeness(wanted.insert, texts.get("insert", "")) > OTHER
        and _apart(wanted, cut) <= NEAR
        and (not wanted.tool or texts.get("tool", "") in ("", wanted.tool))
        and same_material(texts["material"], wanted.material)
    )


def _rank(wanted: Wanted, cut: Entry) -> tuple[int, int, float, bool, str, int]:
    texts = cut.content.texts
    return (
        _likeness(wanted.insert, texts.get("insert", "")),
        _likeness(wanted.holder, texts.get("holder", "")),
        -_apart(wanted, cut),
        texts.get("kind", ANY) != ANY,
        texts.get("proved_out", ""),
        cut.saved_at,
    )


OTHER, UNNAMED, AKIN, SAME = range(4)
OF_FAMILY = 8
"""Characters of a metric designation that say all but the nose and what comes behind it (ISO 1832)."""


def _likeness(wanted: str, other: str) -> int:
    """How like two designations are, one of which may not be given."""
    one, two = plain(wanted), plain(other)
    if not one or not two:
        return UNNAMED
    if one == two:
        return SAME
    return AKIN if len(one) >= OF_FAMILY and one[:OF_FAMILY] == two[:OF_FAMILY] else OTHER


NEAR = 1.25
"""Speeds and feeds speak for tools whose sizes differ by this factor at most (common practice, no source)."""


def _apart(wanted: Wanted, entry: Entry) -> float:
    """By which factor an entry's size differs from the one that is wanted; 1 where one is not given."""
    size = size_of(entry.content.texts.get("size", ""), entry.content.view())
    if not size or not wanted.size:
        return 1.0
    return max(size, wanted.size) / min(size, wanted.size)


def size_of(text: str, view: View) -> float | None:
    """A typed size in mm; None for a blank one or what is none.

    >>> size_of("8.5", View()), size_of("1/2", View("inch")), size_of("", View()), size_of("?", View())
    (8.5, 12.7, None, None)
    """
    try:
        found = read(text, LENGTH, view) if text.strip() else None
    except ReadingError:
        return None
    return float(found) if found is not None and found > 0.0 else None


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
