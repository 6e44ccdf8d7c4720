"""What an entry is called, and what is given of it, in words for whoever reads."""

from __future__ import annotations

from collections.abc import Mapping

from calc.language.quantities import View
from calc.language.reading import says_unit
from calc.language.spec import Spec
from calc.language.translating import Language, marked_typed
from calc.language.worded import worded_specs
from server.shop.entry import Content
from server.shop.model import Listed

NAMED_BY: Mapping[str, tuple[str, ...]] = {
    "tools": ("name", "insert", "holder"),
    "cuts": ("material", "kind", "insert", "holder"),
}
"""The fields that an entry is called by, in order."""


def said(spec: Spec, text: str, view: View) -> str:
    """A typed text with its unit, or a choice in words.

    >>> from calc.language.quantities import LENGTH
    >>> said(Spec("size", "quantity", "Size", kind=LENGTH), "8.5", View()), said(Spec("a", "word", "A"), "8.5", View())
    ('8.5 mm', '8.5')
    """
    if spec.kind is None:
        return spec.choices.get(text, text)
    unit, typed = spec.kind.unit(view).label, marked_typed(text, view.language)
    return typed if not unit or says_unit(text, spec.kind, view) else f"{typed} {unit}"


def facts(listed: Listed, content: Content, language: Language = "en") -> dict[str, tuple[str, str]]:
    """What is given of an entry, by field: label and text."""
    view = content.view(language)
    declared = worded_specs(listed.row, view)
    given = ((spec, content.texts[spec.name]) for spec in declared if spec.name in content.texts)
    return {spec.name: (spec.label, said(spec, text, view)) for spec, text in given}


def title_of(listed: Listed, content: Content, language: Language = "en") -> str:
    """What an entry is called in its list.

    >>> from server.shop.model import LISTS
    >>> title_of(LISTS["tools"], Content({"use": "drill", "size": "8.5"}))
    'Drill, 8.5 mm'
    >>> title_of(LISTS["tools"], Content({"use": "turning", "turret": "3", "insert": "CNMG 120408"}))
    'T3, CNMG 120408'
    """
    given = {name: text for name, (_, text) in facts(listed, content, language).items()}
    named = [given[name] for name in NAMED_BY[listed.name] if name in given]
    if not named or listed.name == "cuts":
        named += [given[name] for name in ("size", "thread") if name in given]
    if listed.name == "tools" and not any(name in given for name in NAMED_BY["tools"]):
        named.insert(0, given.get("use", ""))
    if "turret" in given:
        named.insert(0, f"T{given['turret']}")
    title = ", ".join(filter(None, named))
    return title[:1].upper() + title[1:]
