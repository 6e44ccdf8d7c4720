"""What the templates of the shop's pages may rely on."""

from __future__ import annotations

from dataclasses import dataclass

from server.context import GroupView


@dataclass(frozen=True, slots=True)
class CardView:
    """An entry in its list: its name, what is given of it (label, text), what is not known of it."""

    key: str
    revision: int
    title: str
    facts: tuple[tuple[str, str], ...]
    remarks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ListView:
    """One of the lists: those of its entries that are shown, how many more there are, those that were removed."""

    name: str
    title: str
    one: str
    cards: tuple[CardView, ...]
    count: int
    more: int
    removed: tuple[CardView, ...] = ()


@dataclass(frozen=True, slots=True)
class NoticeView:
    """What was just done to an entry, and the form that undoes it: where it posts to, and its hidden fields."""

    said: str
    undo: str = ""
    hidden: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class ShopView:
    """The page of the shop."""

    begun: bool
    owner: bool
    lists: tuple[ListView, ...] = ()
    search: str = ""
    owner_address: str = ""
    notice: NoticeView | None = None
    errors: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class OlderView:
    """A revision of an entry: its number, when it was saved, what was given then."""

    number: int
    saved: str
    facts: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class EntryView:
    """The form of one entry; a new one has no key. `mine` is what stands against what somebody else saved."""

    list: str
    one: str
    key: str
    title: str
    group: GroupView
    units: str
    revision: int = 0
    back: str = ""
    errors: tuple[tuple[str, str], ...] = ()
    remarks: tuple[str, ...] = ()
    said: str = ""
    mine: tuple[tuple[str, str], ...] = ()
    older: tuple[OlderView, ...] = ()
