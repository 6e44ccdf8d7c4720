"""The start page: seven questions of a day at the lathe with a sketch each, the most asked pages first."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from calc.answer.feature import Feature
from calc.language.messages import say_text
from calc.language.quantities import METRIC, View
from server.catalogue import GROUPS
from server.families import FAMILY_OF
from server.start_context import StartView, TileGroup, TileView

SKETCHES = dict(zip(GROUPS, ("part", "shape", "tool", "speed", "hold", "thread", "measure", "hand"), strict=True))
"""The sketch beside each question's words, by its name in `templates/parts/questions.html`."""
SAVED = (TileView("/sheet", "Job sheets"), TileView("/shop", "The shop's tools and proven cuts"))
FIRST = 4
"""How many pages of a question stand open on a tablet; the others unfold."""


def start_view(view: View = METRIC) -> StartView:
    """What the start page shows to a reader with `view`.

    >>> [group.title for group in start_view().groups][:3]
    ['From the bar to the finished piece', 'What shape is it?', 'Which tool, and does it reach?']
    """
    groups = (
        TileGroup(say_text(title, view), SKETCHES[title], tuple(_tiles(features, view)))
        for title, features in GROUPS.items()
    )
    *others, last = groups
    saved = (TileView(each.path, say_text(each.title, view)) for each in SAVED)
    return StartView((*others, TileGroup(last.title, last.sketch, (*saved, *last.tiles))), FIRST)


def _tiles(features: tuple[Feature[Any, Any], ...], view: View) -> Iterator[TileView]:
    """A tile for each page; for a family of near twins the first one's page, under the family's name."""
    for feature in features:
        family = FAMILY_OF.get(feature.page)
        if feature.page and (family is None or feature is family.first):
            yield TileView(feature.page, say_text(feature.title if family is None else family.title, view))
