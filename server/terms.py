"""The glossary: words of the trade that stand on the pages, each explained once, and which of them a page uses."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any

from calc.answer.feature import Feature
from calc.language.fields import specs
from calc.language.messages import say_text
from calc.language.quantities import METRIC, View
from calc.language.tables import read_table

FILE = Path(__file__).parent / "terms.toml"


@dataclass(frozen=True, slots=True)
class Term:
    """A term with what it means; `marks` are the words of a label by which a page is found to use it."""

    key: str
    term: str
    means: str
    marks: tuple[str, ...]

    @property
    def address(self) -> str:
        """Where it is explained."""
        return f"/terms#{self.key}"


@dataclass(frozen=True, slots=True)
class TermsView:
    """The page of the glossary."""

    terms: tuple[Term, ...]


@cache
def glossary() -> tuple[Term, ...]:
    """All terms, in the order of the alphabet."""
    read = read_table(FILE)
    terms = (
        Term(key, row["term"], row["means"], tuple(row.get("also", (row["term"].lower(),))))
        for key, row in read.items()
    )
    return tuple(sorted(terms, key=lambda term: term.term.lower()))


def used_in(labels: Iterable[str]) -> tuple[Term, ...]:
    """The terms that stand in any of the labels.

    >>> [term.term for term in used_in(["Nose radius", "Feed, finishing"])]
    ['Feed', 'Nose radius']
    """
    lowered = [f"{label.lower()} " for label in labels]
    return tuple(term for term in glossary() if any(mark in label for mark in term.marks for label in lowered))


def named_in(line: str) -> tuple[Term, ...]:
    """The terms that a typed line names.

    >>> [term.term for term in named_in("what is a nose radius")]
    ['Nose radius']
    """
    return tuple(term for term in glossary() if term.term.lower() in line.lower())


def glossary_for(view: View) -> tuple[Term, ...]:
    """All terms in the language of a reader with `view`, in the order of its alphabet."""
    if view.language == "en":
        return glossary()
    said = (replace(each, term=say_text(each.term, view), means=say_text(each.means, view)) for each in glossary())
    return tuple(sorted(said, key=lambda term: term.term.casefold()))


def terms_of(feature: Feature[Any, Any], view: View = METRIC) -> tuple[tuple[str, str], ...]:
    """The terms of a question's fields and results, as (words, address), for a reader with `view`."""
    labels = [spec.label for spec in (*specs(feature.inputs), *specs(feature.results))]
    return tuple((say_text(term.term, view), term.address) for term in used_in(labels))
