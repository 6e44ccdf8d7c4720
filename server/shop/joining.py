"""Two changes of one entry joined: each field is taken from whom changed it; where both did, the saved one stands."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from calc.language.fields import specs
from calc.language.quantities import View
from calc.language.reading import rewrite_for_switch
from server.shop.entry import Content
from server.shop.model import Listed


@dataclass(frozen=True, slots=True)
class Joined:
    """The content with both changes, and what I had put into the fields that both changed, by field."""

    content: Content
    mine: Mapping[str, str]


def joined(listed: Listed, base: Content, saved: Content, mine: Content) -> Joined:
    """What was saved meanwhile with my own changes; both began with `base`.

    >>> from server.shop.model import LISTS
    >>> base, saved, mine = Content({"size": "8"}), Content({"size": "8", "note": "new"}), Content({"size": "8.5"})
    >>> joined(LISTS["tools"], base, saved, mine).content.texts
    {'size': '8.5', 'note': 'new'}
    """
    of_base, of_mine = (in_units(listed, each, saved).texts for each in (base, mine))
    texts, clashing = {}, {}
    for spec in specs(listed.row):
        before, theirs, own = (each.get(spec.name, "") for each in (of_base, saved.texts, of_mine))
        texts[spec.name] = own if theirs == before else theirs
        if theirs not in (before, own) and own != before:
            clashing[spec.name] = own
    return Joined(Content({name: text for name, text in texts.items() if text}, saved.units), clashing)


def in_units(listed: Listed, content: Content, other: Content) -> Content:
    """The content with every number as one in the other's units, to the digit."""
    return Content(texts_in(listed, content, View(other.units)), other.units)


def texts_in(listed: Listed, content: Content, view: View) -> dict[str, str]:
    """The texts of a content as a page of other conventions takes them.

    >>> from server.shop.model import LISTS
    >>> texts_in(LISTS["cuts"], Content({"material": "C45", "feed": "0.25"}), View("inch"))
    {'material': 'C45', 'feed': '0.25mm/rev'}
    """
    own = View(content.units)
    kinds = {spec.name: spec.kind for spec in specs(listed.row) if spec.kind is not None}
    return {
        name: rewrite_for_switch(text, kinds[name], own, view) if name in kinds and own != view else text
        for name, text in content.texts.items()
    }
