"""What a saved document declares besides: texts with their longest, keys, addresses; its parts and rows as they nest.

The declarations are those of the pages (`calc.language.fields`). Reading, limits, the JSON schema, the words of a
difference and the forms are made from them.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from functools import cache, partial
from typing import Any

from calc.language.fields import given, word
from calc.language.quantities import COUNT
from calc.language.spec import Repeated, Spec

LINE = 120  # characters of a text in one line
LINES = 2000  # characters of a note
ADDRESS = 16_000  # characters of a page's address: a whole part with its notes is one
KEY = 12
LENGTH = 40

text = partial(word, longest=LINE, default="")
lines = partial(word, lines=True, longest=LINES, default="")
address = partial(word, longest=ADDRESS, written="address", default="")
length = partial(word, longest=LENGTH, written="length", default="")
"""A length as typed, which is kept so: `60`, `2-1/4`, `60mm`."""


def key() -> Any:
    """Declare what tells a row from its neighbours over all revisions; the server gives one where it is missing."""
    return word("Key", longest=KEY, written="key", default="")


def whole(label: str, most: int) -> Any:
    """Declare a whole number called `label`, from 0 to `most`, or None."""
    return given(COUNT, label, least=0.0, most=float(most))


def declarations(of: type[Any]) -> tuple[Spec, ...]:
    """The declarations of a class in order; a part is one of them, and `repeated.row` its class.

    >>> @dataclasses.dataclass(frozen=True)
    ... class Note:
    ...     title: str = text("Title")
    >>> [(each.name, each.role, each.longest) for each in declarations(Note)]
    [('title', 'word', 120)]
    """
    return _declarations(of)  # type: ignore[arg-type]  # classes hash; the checker takes type[Any] for an instance


@cache
def _declarations(of: type[object]) -> tuple[Spec, ...]:
    return tuple(_nested(of))


def _nested(of: Any) -> Iterator[Spec]:
    for item in dataclasses.fields(of):
        if "part" in item.metadata:
            inputs, title = item.metadata["part"]
            yield Spec(item.name, "part", title, rows=Repeated(inputs, title))
        elif "spec" in item.metadata:
            yield dataclasses.replace(item.metadata["spec"], name=item.name)
