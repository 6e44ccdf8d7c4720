"""What switches a page: its conventions, the near twins of its question, and numbers meant in the other unit."""

from __future__ import annotations

from calc.contour import Chain
from calc.language.messages import say_text
from calc.language.quantities import View
from server.context import SwitchView
from server.families import FAMILY_OF
from server.links import Links
from server.query import CONVENTIONS

SWITCH_WORDS = {
    "units": ("Units", {"mm": "mm", "inch": "inch"}),
    "x": ("X means", {"diameter": "X diameter", "radius": "X radius"}),
    "zplus": ("+Z points", {"out": "+Z out", "in": "+Z in"}),
}


def switches(links: Links) -> tuple[SwitchView, ...]:
    """A switch for each convention, with the addresses of the same question in the others."""
    found = []
    here, view = links.with_text(), links.query.view
    for name, allowed in CONVENTIONS.items():
        label, words = SWITCH_WORDS[name]
        now = links.conventions[name]
        options = tuple(
            (say_text(words[code], view), here if code == now else links.switched(name, code), code == now)
            for code in allowed
        )
        found.append(SwitchView(name, say_text(label, view), options))
    return tuple(found)


def family_switch(links: Links, found: Chain | None = None) -> SwitchView | None:
    """The near twins of a page, each with what it has a field for of what was typed; None for a page without.

    `found` is the contour of the answer, for a twin that takes it.
    """
    here = links.feature.page
    family = FAMILY_OF.get(here)
    if family is None:
        return None
    view = links.query.view
    options = tuple(
        (say_text(words, view), links.beside(twin.page, found), twin.page == here) for words, twin in family.members
    )
    return SwitchView("family", say_text(family.title, view), options)


def meant(links: Links) -> tuple[tuple[str, str], ...]:
    """Right after a switch of units: the bare numbers meant in the new ones, as an offer in words with its address."""
    units = links.query.view.units
    if links.query.marks.get("was") not in ("mm", "inch") or links.query.marks["was"] == units:
        return ()
    words = say_text("I meant inches" if units == "inch" else "I meant millimetres", links.query.view)
    return ((words, links.meant()),)


def conventions(view: View) -> str:
    """The conventions of a page in one line.

    >>> conventions(View("mm"))
    'mm, X is a diameter, +Z points out of the part.'
    """
    x = "X is a diameter" if view.x == "diameter" else "X is a radius"
    z = "+Z points out of the part" if view.zplus == "out" else "+Z points into the part"
    return f"{say_text(view.units, view)}, {say_text(x, view)}, {say_text(z, view)}."
