"""The page on which a trainee practises a step: a question in the address, as everywhere, so a result is a link."""

from __future__ import annotations

from fastapi import FastAPI, Request
from fastapi.responses import Response

from server.computing.weight import is_heavy_address
from server.languages import language_of
from server.sheets.attempts import NothingToPractise
from server.sheets.lanes import READING
from server.sheets.pages import SheetPages, sheet_of
from server.sheets.reading import stored_sheet
from server.sheets.requests import secret_of


class PractisingPages(SheetPages):
    """`/sheet/{sheet}/practise/{step}`."""

    def mount(self, app: FastAPI) -> None:
        """Give the app the route."""
        self.route(app, "GET", "/sheet/{sheet}/practise/{step}", self.practise)

    async def practise(self, request: Request) -> Response:
        """The givens with the answers hidden, what was typed judged, the hints that were asked for."""
        revision, _ = await READING.run(self.desk.read, sheet_of(request), secret_of(request))
        key = str(request.path_params["step"])
        step = next((each for each in stored_sheet(revision.document).steps if each.key == key), None)
        if step is None or not step.practice:
            raise NothingToPractise("This step is not there for practice any more. Ask for the sheet's link again.")
        path = f"/sheet/{revision.sheet}/practise/{step.key}"
        asked = step, path, dict(request.query_params), self.site.base(request), language_of(request)
        return await self.computed(request, is_heavy_address(step.address), "practise", *asked)
