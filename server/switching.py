"""What switches a page: its conventions, the near twins of its question, and numbers meant in the other unit."""

from __future__ import annotations

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
    here = links.with_text()
    for name, allowed in CONVENTIONS.items():
        label, words = SWITCH_WORDS[name]
        now = links.conventions[name]
        options = tuple(
            (words[code], here if code == now else links.switched(name, code), code == now) for code in allowed
        )
        found.append(SwitchView(name, label, options))
    return tuple(found)


def family_switch(links: Links) -> SwitchView | None:
    """The near twins of a page, each with what it has a field for of what was typed; None for a page without."""
    here = links.feature.page
    family = FAMILY_OF.get(here)
    if family is None:
        return None
    options = tuple((words, links.beside(twin.page), twin.page == here) for words, twin in family.members)
    return SwitchView("family", family.title, options)


def meant(links: Links) -> tuple[tuple[str, str], ...]:
    """Right after a switch of units: the bare numbers meant in the new ones, as an offer in words with its address."""
    units = links.query.view.units
    if links.query.marks.get("was") not in ("mm", "inch") or links.query.marks["was"] == units:
        return ()
    return (("I meant inches" if units == "inch" else "I meant millimetres", links.meant()),)


def conventions(view: View) -> str:
    """The conventions of a page in one line.

    >>> conventions(View("mm"))
    'mm, X is a diameter, +Z points out of the part.'
    """
    x = "X is a diameter" if view.x == "diameter" else "X is a radius"
    z = "+Z points out of the part" if view.zplus == "out" else "+Z points into the part"
    return f"{view.units}, {x}, {z}."
