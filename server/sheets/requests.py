"""What a request to the sheets brings: its body within a limit, whether it is from our own page, the owner's secret."""

from __future__ import annotations

from urllib.parse import urlsplit

from fastapi import Request, Response

from calc.language.messages import Phrase
from server.sheets.clients import client_mark
from server.sheets.keys import read_id
from server.sheets.refusals import ForeignSite, TooLarge

OWNER_COOKIE = "sheet-owner"
HERE_COOKIE = "sheets-here"
MOST_HERE = 12
COOKIE_SECONDS = 400 * 24 * 3600  # what browsers keep at most
MOST_DRAINED = 32 * 1024 * 1024
_OWN_SITES = ("same-origin", "none")


async def body_within(request: Request, most: int) -> bytes:
    """The whole body. Raises `TooLarge` for a larger one, of which no more than `most` is ever held.

    The rest of a large one is let run past, up to a bound: a client that is still sending would not see the answer.
    """
    body = bytearray()
    size = 0
    async for chunk in request.stream():
        size += len(chunk)
        if size <= most:
            body += chunk
        elif size > MOST_DRAINED:
            break
    if size > most:
        raise TooLarge(Phrase("This is more than fits in one request: at most {most} KiB.", most=most // 1024))
    return bytes(body)


def check_site(request: Request) -> None:
    """Raise `ForeignSite` for a change that another site's page asked the browser for.

    Browsers say where a request is from in Sec-Fetch-Site (over HTTPS) or in Origin; a program says neither and has no
    cookies that somebody else could use.
    """
    site = request.headers.get("Sec-Fetch-Site")
    if site is not None:
        if site not in _OWN_SITES:
            raise ForeignSite
        return
    origin = request.headers.get("Origin")
    if origin is not None and urlsplit(origin).netloc != request.headers.get("Host"):
        raise ForeignSite


def secret_of(request: Request) -> str:
    """The owner's secret that came along: in the header of a program, or in the cookie of a browser."""
    scheme, _, token = request.headers.get("Authorization", "").partition(" ")
    return token.strip() if scheme.lower() == "bearer" else request.cookies.get(OWNER_COOKIE, "")


def give_owner(request: Request, response: Response, secret: str, *paths: str) -> None:
    """Let this browser be the owner at these paths: a cookie for each, sent nowhere else."""
    for path in paths:
        response.set_cookie(
            OWNER_COOKIE,
            secret,
            max_age=COOKIE_SECONDS,
            path=path,
            secure=request.url.scheme == "https",
            httponly=True,
            samesite="strict",
        )


def give_cookies(request: Request, response: Response, sheet: str, secret: str) -> None:
    """Let this browser be the sheet's owner, on its page and at its API, and know that it is."""
    give_owner(request, response, secret, f"/sheet/{sheet}", f"/api/sheets/{sheet}")
    here = list(dict.fromkeys([sheet, *sheets_here(request)]))[:MOST_HERE]
    secure = request.url.scheme == "https"
    response.set_cookie(
        HERE_COOKIE, ".".join(here), COOKIE_SECONDS, path="/sheet", secure=secure, httponly=True, samesite="strict"
    )


def sheets_here(request: Request) -> list[str]:
    """The reading ids of the sheets that this browser owns, newest first; no secret is among them."""
    found = map(read_id, request.cookies.get(HERE_COOKIE, "").split("."))
    return [sheet for sheet in found if sheet][:MOST_HERE]


def client_of(request: Request) -> str:
    """The mark under which this client's saves are counted."""
    return client_mark(request.client.host if request.client else "")
