"""The app: pages, API, static files, documentation, health."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

from fastapi import FastAPI
from starlette.middleware.gzip import GZipMiddleware

from calc.language.edition import TABLES
from server.api import mount_api
from server.assets import Assets
from server.catalogue import FEATURES, POSTS
from server.computing.asking import Asking
from server.docs import mount_docs
from server.guarding import Guard
from server.headers import SecurityHeaders
from server.lean import save_memory
from server.line.call import mount_line
from server.posting import mount_posts
from server.settings import Settings, settings_from
from server.sheets.mounting import Sheets
from server.site import Site
from server.watched import watched


def create_app(settings: Settings | None = None) -> FastAPI:
    """The whole application; settings come from the environment unless they are given.

    >>> create_app().title
    'Chuckside'
    """
    save_memory()  # before the database's packages are loaded, which then take the room
    settings = settings or settings_from()
    asking = Asking(settings)
    sheets = Sheets(settings)

    @asynccontextmanager
    async def lifespan(app: FastAPI) -> AsyncIterator[None]:
        async with sheets.lifespan(app), watched():
            yield
        asking.close()

    app = FastAPI(
        title="Chuckside",
        summary="A shop calculator for turned parts",
        version=TABLES,
        docs_url=None,
        redoc_url=None,
        openapi_url="/api/openapi.json",
        lifespan=lifespan,
        telemetry={"tracing": False, "metrics": False, "logs": False, "auto_configure": False},
    )
    _wrap(app, settings)
    mount_api(app, FEATURES, asking)
    mount_posts(app, POSTS, asking)
    _mount_health(app)
    site = Site(app, settings, asking, sheets.shelf)
    sheets.mount(app, site)
    mount_line(app, site)
    mount_docs(app, site.templates)
    app.mount("/static", Assets(settings.static), name="static")
    return app


def _wrap(app: FastAPI, settings: Settings) -> None:
    app.add_middleware(GZipMiddleware, minimum_size=500, compresslevel=8)
    app.add_middleware(Guard, names=settings.hosts)
    app.add_middleware(SecurityHeaders)


def _mount_health(app: FastAPI) -> None:
    # Without a model of its answer, for which the framework would load a second edition of its models, 2 MB.
    app.add_api_route(
        "/health",
        health,
        response_model=None,
        tags=["server"],
        summary="Whether the server answers",
        description="Whether the server answers, and with which edition of its tables.",
    )


async def health() -> dict[str, str]:
    """Whether the server answers, and with which edition of its tables."""
    return {"status": "ok", "edition": TABLES}
