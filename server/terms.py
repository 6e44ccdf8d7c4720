"""The glossary: words of the trade that stand on the pages, each explained once, and which of them a page uses."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

from markupsafe import Markup

from calc.answer.feature import Feature
from calc.language.fields import specs
from calc.language.messages import say_text
from calc.language.quantities import METRIC, View
from calc.language.tables import read_table
from server.row_labels import LABELS, TITLES
from server.sketch.boxes import level_text
from server.sketch.markup import path

WIDE, HIGH = 140, 80
"""Size of the picture of a term, px."""

FILE = Path(__file__).parent / "terms.toml"


@dataclass(frozen=True, slots=True)
class Term:
    """A term with what it means; `marks` are the words of a label by which a page is found to use it.

    `picture` are the lines of a sketch, each its class and path data, `marked` the letters in it with their places.
    """

    key: str
    term: str
    means: str
    marks: tuple[str, ...]
    picture: tuple[str, ...] = ()
    marked: tuple[tuple[float, float, str], ...] = ()

    @property
    def sketch(self) -> str:
        """The picture as SVG, with the lines of all sketches, blank without one; the words beside it say it too."""
        if not self.picture:
            return ""
        lines = "".join(path(*line.split(" ", 1)) for line in self.picture)
        texts = "".join(level_text(text, x, y) for x, y, text in self.marked)
        size = f"{WIDE} {HIGH}"
        head = f'<svg class="sketch" viewBox="0 0 {size}" width="{WIDE}" height="{HIGH}" aria-hidden="true">'
        return Markup(f"{head}{lines}{texts}</svg>")

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
        Term(
            key,
            row["term"],
            row["means"],
            tuple(row.get("also", (row["term"].lower(),))),
            tuple(row.get("picture", ())),
            tuple((x, y, text) for x, y, text in row.get("marked", ())),
        )
        for key, row in read.items()
    )
    return tuple(sorted(terms, key=lambda term: term.term.lower()))


@lru_cache(maxsize=256)  # a page has always the same labels
def used_in(labels: tuple[str, ...]) -> tuple[Term, ...]:
    """The terms that stand in any of the labels.

    >>> [term.term for term in used_in(("Nose radius", "Feed, finishing"))]
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
    """The terms of a question's fields, rows and results, as (words, address), for a reader with `view`."""
    declared = (*specs(feature.inputs), *specs(feature.results))
    labels = [spec.label for spec in declared]
    contours = sum(spec.role == "contour" and not spec.typed for spec in declared)
    if contours == 1:
        labels += [*TITLES.values(), *(label for label, _ in LABELS.values())]
    if contours <= 1:  # a part's page has no room for more
        labels += [spec.hint for spec in declared]
        labels += [each.label for spec in declared if spec.rows is not None for each in specs(spec.rows.row)]
    return tuple((say_text(term.term, view), term.address) for term in used_in(tuple(labels)))
