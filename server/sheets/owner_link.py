"""The owner's link: it gives the browser a cookie and leads on at once, so that its secret is in no page's address."""

from __future__ import annotations

from fastapi import FastAPI, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from starlette.concurrency import run_in_threadpool

from server.context import FaultView
from server.sheets.desk import Desk
from server.sheets.refusals import Refusal
from server.sheets.requests import give_cookies
from server.site import Site


class OwnerLink:
    """`/sheet/{id}/own/{secret}`."""

    def __init__(self, desk: Desk, site: Site) -> None:
        self.desk = desk
        self.site = site

    def mount(self, app: FastAPI) -> None:
        """Give the app the route."""
        path = "/sheet/{sheet}/own/{secret}"
        app.add_api_route(path, self.own, methods=["GET"], include_in_schema=False, response_model=None)

    async def own(self, request: Request) -> Response:
        """Exchange the secret for cookies."""
        sheet, secret = str(request.path_params["sheet"]), str(request.path_params["secret"])
        try:
            owned = await run_in_threadpool(self.desk.own, sheet, secret)
        except Refusal as error:
            return refusal_page(self.site, error)
        response = RedirectResponse(f"/sheet/{owned}/edit", 303, {"Cache-Control": "no-store"})
        give_cookies(request, response, owned, secret)
        return response


def refusal_page(site: Site, error: Refusal) -> Response:
    """The page that says in plain words what was not done."""
    page = FaultView(error.status, error.title, error.faults[0].message)
    html = site.templates.get_template("error.html").render(page=page)
    return HTMLResponse(html, error.status, {"Cache-Control": "no-store", **error.headers})
