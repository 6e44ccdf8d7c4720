"""For whoever runs the server: what the shop's lists hold, their export, a new owner's link."""

from __future__ import annotations

import json
from collections.abc import Iterator

from sqlalchemy import Engine

from server.settings import Settings
from server.sheets.migrating import migrate
from server.sheets.store import Store
from server.shop.entry import Whole
from server.shop.json_entries import whole_json
from server.shop.model import LISTS
from server.shop.store import ShopStore


def held(engine: Engine, settings: Settings) -> Iterator[str]:
    """How much the lists hold."""
    whole = _whole(engine, settings)
    if whole.change == 0:
        yield "Nobody has begun the shop's lists yet."
        return
    for listed in LISTS.values():
        standing, removed = len(whole.standing(listed)), len(whole.removed(listed))
        yield f"{standing} of {listed.most} {listed.title.lower()}, {removed} removed that can be brought back"


def exported(engine: Engine, settings: Settings) -> str:
    """Both lists as one JSON document, as the API gives them."""
    return json.dumps(whole_json(_whole(engine, settings)), ensure_ascii=False, indent=1)


def owner_link(engine: Engine, settings: Settings, *, sure: bool) -> Iterator[str]:
    """A new owner's link, after which the old one no longer opens."""
    if not sure:
        yield "The owner's link that is in use would no longer open. To make a new one: --sure"
        return
    secret = _store(engine, settings).owned_anew()
    yield f"{settings.address}/shop/own/{secret}"


def _whole(engine: Engine, settings: Settings) -> Whole:
    change, entries = _store(engine, settings).entries()
    return Whole(change, tuple(entries))


def _store(engine: Engine, settings: Settings) -> ShopStore:
    migrate(engine)  # the data may be of a server from before the shop's lists
    return ShopStore(Store(engine, settings.limits))
