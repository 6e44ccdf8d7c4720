"""Puts the sheets and the shop's lists on an app: the APIs, the pages, and what they need while the server runs."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import AbstractAsyncContextManager
from typing import Any

from fastapi import FastAPI
from fastapi.responses import JSONResponse

from server.settings import Settings
from server.sheets.access_log import guard_logs
from server.sheets.api import SheetsApi
from server.sheets.desk import Desk
from server.sheets.editing import EditingPages
from server.sheets.lanes import PROBING
from server.sheets.opening import Opening
from server.sheets.pages import SheetPages
from server.sheets.practising import PractisingPages
from server.sheets.refusals import Unavailable
from server.sheets.saved_parts import SavedParts
from server.sheets.schema import SECURITY_SCHEMES
from server.shop.api import ShopApi
from server.shop.desk import ShopDesk
from server.shop.pages import ShopPages
from server.shop.shelf import Shelf
from server.site import Site

NOT_READY = 503


class Sheets:
    """The sheets of one app."""

    def __init__(self, settings: Settings) -> None:
        guard_logs()
        self.settings = settings
        self.opening = Opening(settings)
        self.desk = Desk(self.opening)
        self.shop = ShopDesk(self.opening)
        self.shelf = Shelf(self.shop)

    @property
    def lifespan(self) -> Callable[[FastAPI], AbstractAsyncContextManager[None]]:
        """What runs while the server does."""
        return self.opening.lifespan

    async def ready(self) -> JSONResponse:
        """Whether saved work can be had and changed, with one word and a sentence where it cannot."""
        try:
            state = await PROBING.run(self.opening.look)
        except Unavailable as silent:
            state = silent
        if state is None:
            return JSONResponse({"status": "ready"})
        return JSONResponse({"status": state.state, "message": str(state)}, NOT_READY, dict(state.headers))

    def mount(self, app: FastAPI, site: Site) -> None:
        """Give the app the routes, and its API's description the ways in which an owner shows the secret."""
        app.add_api_route(
            "/ready",
            self.ready,
            tags=["server"],
            summary="Whether saved work can be had and changed",
            description="Whether saved work can be had and changed, with one word and a sentence where it cannot.",
        )
        SheetsApi(self.desk, self.settings.limits, site.asking, site.base).mount(app)
        SheetPages(self.desk, site).mount(app)
        PractisingPages(self.desk, site).mount(app)
        SavedParts(self.desk, site, self.settings.limits).mount(app)
        EditingPages(self.desk, site, self.settings.limits).mount(app)
        ShopApi(self.shop, self.settings.limits, site.base).mount(app)
        ShopPages(self.desk, self.shop, site, self.settings.limits).mount(app)
        described = app.openapi

        def with_security() -> dict[str, Any]:
            schema = described()
            schema.setdefault("components", {})["securitySchemes"] = SECURITY_SCHEMES
            return schema

        app.openapi = with_security  # type: ignore[method-assign]  # the framework's documented way to extend it
