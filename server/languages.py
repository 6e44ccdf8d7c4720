"""The reader's language: what the browser asks for at first, then what was chosen on a page and is kept in a cookie."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from itertools import product
from pathlib import Path
from typing import cast
from urllib.parse import parse_qs, urlsplit

from fastapi import FastAPI, Request, Response
from starlette.responses import PlainTextResponse, RedirectResponse

from calc.language.translating import LANGUAGES, Language
from server.assets import KEEP
from server.rendering import SPOKEN, script_address, script_names, script_texts, spoken_script
from server.sheets.requests import COOKIE_SECONDS, body_within

COOKIE = "language"
MOST_CHOICE = 64 * 1024
VARY = "Accept-Language, Cookie"
"""What a page in the reader's language depends on."""


def language_of(request: Request) -> Language:
    """The language of whoever asks."""
    return chosen(request.cookies.get(COOKIE, ""), request.headers.get("Accept-Language", ""))


def chosen(kept: str, accepted: str) -> Language:
    """The language that was kept, else the first of ours that the browser accepts, else English.

    >>> chosen("es", "de"), chosen("", "fr-CH, de;q=0.8, en;q=0.9"), chosen("xx", "de-AT"), chosen("", "")
    ('es', 'en', 'de', 'en')
    """
    if kept in LANGUAGES:
        return cast("Language", kept)
    wanted = sorted(map(_weighed, accepted.split(",")), key=lambda one: -one[0])
    found = (name for weight, name in wanted if weight > 0.0 and name in LANGUAGES)
    return cast("Language", next(found, "en"))


def _weighed(part: str) -> tuple[float, str]:
    """A language of `Accept-Language` with its weight, RFC 9110, 12.5.4; one that cannot be read has none."""
    name, _, weight = part.partition(";")
    try:
        return (float(weight.strip().removeprefix("q=")) if weight else 1.0), name.strip().lower().partition("-")[0]
    except ValueError:
        return 0.0, ""


def mount_languages(app: FastAPI, static: Path) -> None:
    """Give the choice, and each script that speaks a language, their addresses."""

    async def choose(request: Request) -> Response:
        form = parse_qs((await body_within(request, MOST_CHOICE)).decode("utf-8", "replace"))
        language, back = (form.get(name, [""])[0] for name in ("to", "back"))
        if language not in LANGUAGES:
            return PlainTextResponse("There is no such language here.\n", 422)
        response = RedirectResponse(own_path(back), 303)
        secure = request.url.scheme == "https"
        response.set_cookie(COOKIE, language, COOKIE_SECONDS, path="/", secure=secure, httponly=True, samesite="lax")
        return response

    app.add_route("/language", choose, methods=["POST"])
    speaking = [name for name in script_names(static) if script_texts(static, name)]
    for language, name in product((each for each in LANGUAGES if each != "en"), speaking):
        address = SPOKEN.format(script=name.removesuffix(".js"), language=language)
        app.add_route(address, _spoken(static, name, language), methods=["GET", "HEAD"])


def _spoken(static: Path, name: str, language: Language) -> Callable[[Request], Awaitable[Response]]:
    """What gives a script in a language."""

    async def give(request: Request) -> Response:
        is_own = str(request.url).endswith(script_address(static, name, language))
        headers = {"Cache-Control": KEEP if is_own else "no-cache"}
        return Response(spoken_script(static, name, language), media_type="text/javascript", headers=headers)

    return give


def own_path(address: str) -> str:
    """The path and question of an address of ours; the start page for any other, so that nobody is led elsewhere.

    >>> own_path("/dish?radius=75"), own_path("//elsewhere.example/"), own_path("https://elsewhere.example/x")
    ('/dish?radius=75', '/', '/')
    """
    try:
        parts = urlsplit(address)
    except ValueError:
        return "/"
    is_own = not parts.scheme and not parts.netloc and address.startswith("/") and "\\" not in address
    return address if is_own and address.isprintable() else "/"
