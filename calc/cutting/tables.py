"""The data tables as they lie in `data/`, and the sentences that name their sources."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

from calc.language.messages import Phrase
from calc.language.tables import read_table

DATA = Path(__file__).parent / "data"


def read(name: str) -> dict[str, Any]:
    """The table `data/NAME.toml` for one use; raises FileNotFoundError for a name that there is not.

    >>> "practice" in read("sources")
    True
    """
    return read_table(DATA / f"{name}.toml")


@cache
def table(name: str) -> dict[str, Any]:
    """The table `data/NAME.toml`, kept for the next use; raises FileNotFoundError for a name that there is not.

    >>> "practice" in table("sources")
    True
    """
    return read(name)


@cache
def source(key: str) -> str:
    """The sentence of a source; `"key: detail"` fills its place. Raises KeyError for a key that is not listed.

    >>> source("vdi-2022: 14")
    'VDI 3323 group 14 in a printed catalogue of 2022'
    >>> source("practice")
    'common practice, from memory'
    """
    name, _, detail = key.partition(": ")
    sentence: str = table("sources")[name]
    return Phrase(sentence, detail=detail) if detail else sentence
