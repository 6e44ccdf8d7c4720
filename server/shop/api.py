"""The JSON API of the shop's lists: each route reads its request, asks the desk, and answers."""

from __future__ import annotations

import secrets
from collections.abc import Callable
from functools import partial
from typing import Any

from fastapi import FastAPI, Request
from fastapi.responses import Response

from server.sheets.api import add_route, as_json, object_in
from server.sheets.desk import whole_number
from server.sheets.lanes import READING, WRITING
from server.sheets.limits import Limits
from server.sheets.reading import read_json
from server.sheets.requests import body_within, client_of, secret_of
from server.shop.desk import ShopDesk, list_named
from server.shop.entry import Whole
from server.shop.json_entries import entry_json, given_in, list_json, whole_json
from server.shop.model import LISTS, Listed
from server.shop.schema import OPERATIONS

Json = dict[str, Any]
ASKED_AGAIN = {"Cache-Control": "no-cache"}
"""A program may keep the lists, and asks each time whether they are still the same."""
_START = secrets.token_hex(4)
"""Another start may be of another program, which reads the same texts otherwise, or of older data."""


class ShopApi:
    """The routes under `/api/shop`."""

    def __init__(self, desk: ShopDesk, limits: Limits, base: Callable[[Request], str]) -> None:
        self.desk, self.limits, self.base = desk, limits, base

    def mount(self, app: FastAPI) -> None:
        """Give the app the routes."""
        handlers = {
            ("GET", ""): self.list,
            ("POST", ""): self.add,
            ("PUT", "/{key}"): self.change,
            ("DELETE", "/{key}"): self.remove,
            ("POST", "/{key}/bring-back"): self.bring_back,
            ("GET", "/{key}/revisions"): self.revisions,
        }
        add_route(app, OPERATIONS, "GET", "/api/shop", self.read, "shop")
        add_route(app, OPERATIONS, "POST", "/api/shop", self.begin, "shop")
        for name in LISTS:
            for (method, path), handler in handlers.items():
                add_route(app, OPERATIONS, method, f"/api/shop/{name}{path}", handler, "shop")

    async def read(self, request: Request) -> Response:
        """Both lists."""
        return await self._unless_known(request, whole_json)

    async def begin(self, request: Request) -> Response:
        """Begin the lists, and give the owner's secret."""
        secret = await WRITING.run(self.desk.begin, client_of(request))
        body = {"owner_address": f"{self.base(request)}/shop/own/{secret}", "secret": secret}
        return as_json(body, 201, {"Location": "/api/shop"})

    async def list(self, request: Request) -> Response:
        """One list."""
        return await self._unless_known(request, partial(list_json, _listed(request)))

    async def _unless_known(self, request: Request, shown: Callable[[Whole], Json]) -> Response:
        """What stands in the lists; no more than that it is the same for a program that has it."""
        tag = _tag(await READING.run(self.desk.change))
        if tag in request.headers.get("If-None-Match", "").replace(",", " ").split():
            return Response(status_code=304, headers={"ETag": tag, **ASKED_AGAIN})
        whole = await READING.run(self.desk.whole)
        return as_json(shown(whole), headers={"ETag": _tag(whole.change), **ASKED_AGAIN})

    async def add(self, request: Request) -> Response:
        """Keep a new entry."""
        listed, secret = _listed(request), secret_of(request)
        await READING.run(self.desk.own, secret)
        given = given_in(listed, read_json(await body_within(request, self.limits.body)))
        kept = await WRITING.run(self.desk.save, listed, given, secret, client_of(request))
        return as_json(entry_json(kept), 201, {"Location": f"/api/shop/{listed.name}"})

    async def change(self, request: Request) -> Response:
        """Keep the next revision of an entry."""
        listed, secret = _listed(request), secret_of(request)
        await READING.run(self.desk.own, secret)
        body = object_in(read_json(await body_within(request, self.limits.body)), "based_on", "entry")
        given = given_in(listed, body["entry"], _key(request), whole_number(body["based_on"], "based_on"))
        return as_json(entry_json(await WRITING.run(self.desk.save, listed, given, secret, client_of(request))))

    async def remove(self, request: Request) -> Response:
        """Take an entry out of its list."""
        based_on = whole_number(request.query_params.get("based_on", ""), "based_on")
        asked = _listed(request), _key(request), based_on, secret_of(request), client_of(request)
        return as_json(entry_json(await WRITING.run(self.desk.remove, *asked)))

    async def bring_back(self, request: Request) -> Response:
        """Put a removed entry into its list again."""
        asked = _listed(request), _key(request), secret_of(request), client_of(request)
        return as_json(entry_json(await WRITING.run(self.desk.bring_back, *asked)))

    async def revisions(self, request: Request) -> Response:
        """The revisions of an entry."""
        found = await READING.run(self.desk.revisions, _listed(request), _key(request))
        return as_json({"revisions": [entry_json(each) for each in found]})


def _tag(change: int) -> str:
    """What marks the lists as they stand, as this start of this server shows them."""
    return f'W/"{_START}-{change}"'


def _listed(request: Request) -> Listed:
    return list_named(request.url.path.split("/")[3])


def _key(request: Request) -> str:
    return str(request.path_params["key"])
