"""From the shop's entries to the typed contexts of its pages."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from calc.language.messages import say_text
from calc.language.quantities import View
from calc.language.translating import Language
from calc.language.worded import worded_specs
from server.form import Form
from server.sheets.showing import said_when
from server.shop.entry import Content, Entry, Whole, remarks
from server.shop.model import LISTS, Listed
from server.shop.views import CardView, EntryView, ListView, OlderView
from server.shop.words import NAMED_BY, facts, title_of

MOST_SHOWN = 40
MOST_REMOVED = 30


def card(entry: Entry, language: Language) -> CardView:
    """An entry as its list shows it."""
    given = facts(entry.listed, entry.content, language)
    told = tuple(fact for name, fact in given.items() if name not in NAMED_BY[entry.listed.name])
    return CardView(
        entry.key,
        entry.revision,
        title_of(entry.listed, entry.content, language),
        told,
        _remarks(entry.content, language),
    )


def _remarks(content: Content, language: Language) -> tuple[str, ...]:
    return tuple(each.message.say(content.view(language)) for each in remarks(content))


def list_views(whole: Whole, search: str, language: Language) -> tuple[ListView, ...]:
    """Both lists; of a search those entries in which every word of it stands."""
    return tuple(_list_view(listed, whole, search.lower().split(), language) for listed in LISTS.values())


def _list_view(listed: Listed, whole: Whole, words: Sequence[str], language: Language) -> ListView:
    standing = [each for each in _in_order(whole.standing(listed)) if _has(each, words)]
    removed = whole.removed(listed)[:MOST_REMOVED]
    return ListView(
        listed.name,
        say_text(listed.title, View(language=language)),
        say_text(listed.one, View(language=language)),
        tuple(card(each, language) for each in standing[:MOST_SHOWN]),
        len(standing),
        max(0, len(standing) - MOST_SHOWN),
        tuple(card(each, language) for each in removed),
    )


def _in_order(entries: Iterable[Entry]) -> list[Entry]:
    """Tools by their places in the turret, then as they were added; cuts the newest first."""
    found = list(entries)
    if found and found[0].listed.name == "cuts":
        return found[::-1]
    return sorted(found, key=lambda each: _place(each.content.texts.get("turret", "")))


def _place(text: str) -> float:
    return float(text) if text.isascii() and text.isdecimal() else float("inf")


def _has(entry: Entry, words: Sequence[str]) -> bool:
    text = " ".join(entry.content.texts.values()).lower()
    return all(word in text for word in words)


def entry_view(
    listed: Listed,
    content: Content,
    language: Language,
    *,
    key: str = "",
    errors: tuple[tuple[str, str], ...] = (),
    **more: Any,
) -> EntryView:
    """The form of an entry, with what was typed though it is wrong; `more` are further parts of the view."""
    view = content.view(language)
    form = Form(listed.row, content.query(listed, language), bare=False, errors=dict(reversed(errors)))
    return EntryView(
        list=listed.name,
        one=say_text(listed.one, view),
        key=key,
        title=title_of(listed, content, language) if key else say_text(listed.new, view),
        group=form.groups()[0],
        units=content.units,
        errors=errors,
        remarks=_remarks(content, language),
        **more,
    )


def against(listed: Listed, mine: Mapping[str, str], view: View) -> tuple[tuple[str, str], ...]:
    """What I had put into fields that somebody else changed too, with their labels."""
    labels = {spec.name: spec.label for spec in worded_specs(listed.row, view)}
    return tuple((labels[name], text or say_text("blank", view)) for name, text in mine.items())


def older_views(entries: Iterable[Entry], language: Language) -> tuple[OlderView, ...]:
    """Earlier revisions of an entry, to look at and to restore."""
    found = ((each, facts(each.listed, each.content, language)) for each in entries)
    return tuple(OlderView(each.revision, said_when(each.saved_at), tuple(given.values())) for each, given in found)
