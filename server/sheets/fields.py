"""How a saved document is declared: texts, choices, marks, numbers, parts and rows, each said once.

Reading, limits, the JSON schema, the words of a difference and the forms are made from these declarations.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal

Role = Literal["key", "text", "lines", "address", "length", "choice", "flag", "whole", "part", "rows"]

LINE = 120  # characters of a text in one line
LINES = 2000  # characters of a note
ADDRESS = 16_000  # characters of a page's address: a whole part with its notes is one
KEY = 12


@dataclass(frozen=True, slots=True)
class Declared:
    """One field: `most` is the longest text, the largest number or the most rows; `of` is a part's or row's class.

    A "length" is a text that must read as a length in the document's units; it is kept as it was typed.
    """

    name: str
    role: Role
    label: str
    hint: str = ""
    most: int = 0
    choices: Mapping[str, str] = dataclasses.field(default_factory=dict)
    of: type[Any] | None = None


def key() -> Any:
    """Declare what tells a row from its neighbours over all revisions; the server gives one where it is missing."""
    return _field(Declared("", "key", "Key", most=KEY), "")


def text(label: str, *, hint: str = "", most: int = LINE) -> Any:
    """Declare a text in one line."""
    return _field(Declared("", "text", label, hint, most), "")


def lines(label: str, *, hint: str = "", most: int = LINES) -> Any:
    """Declare a text that may have several lines."""
    return _field(Declared("", "lines", label, hint, most), "")


def address(label: str, *, hint: str = "") -> Any:
    """Declare the address of one of our own pages, with its question."""
    return _field(Declared("", "address", label, hint, ADDRESS), "")


def length(label: str, *, hint: str = "") -> Any:
    """Declare a length as typed: `60`, `2-1/4`, `60mm`."""
    return _field(Declared("", "length", label, hint, 40), "")


def choice(label: str, choices: Mapping[str, str], start: str, *, hint: str = "") -> Any:
    """Declare a choice among `choices` (code: words)."""
    return _field(Declared("", "choice", label, hint, choices=choices), start)


def flag(label: str, *, hint: str = "") -> Any:
    """Declare a yes or no."""
    return _field(Declared("", "flag", label, hint), False)


def whole(label: str, most: int, *, hint: str = "") -> Any:
    """Declare a whole number from 0 to `most`, or None."""
    return _field(Declared("", "whole", label, hint, most), None)


def part(of: type[Any], label: str) -> Any:
    """Declare a part with fields of its own."""
    return dataclasses.field(default_factory=of, metadata={"declared": Declared("", "part", label, of=of)})


def rows(of: type[Any], label: str, most: int) -> Any:
    """Declare a list of at most `most` rows, each with a key."""
    return _field(Declared("", "rows", label, most=most, of=of), ())


def _field(declared: Declared, default: Any) -> Any:
    return dataclasses.field(default=default, metadata={"declared": declared})


def declarations(of: type[Any]) -> tuple[Declared, ...]:
    """The declarations of a class in order.

    >>> @dataclass(frozen=True)
    ... class Note:
    ...     title: str = text("Title")
    >>> [(each.name, each.role, each.most) for each in declarations(Note)]
    [('title', 'text', 120)]
    """
    return _declarations(of)  # type: ignore[arg-type]  # classes hash; the checker takes type[Any] for an instance


@cache
def _declarations(of: type[object]) -> tuple[Declared, ...]:
    items: Any = of
    return tuple(
        dataclasses.replace(item.metadata["declared"], name=item.name)
        for item in dataclasses.fields(items)
        if "declared" in item.metadata
    )
