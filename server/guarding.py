"""What is turned away before it reaches a route: a foreign host's name, an address too long, a body in two lengths or
too slow; and what is broken off when the server ends. The answer is short, whatever was sent.
"""

from __future__ import annotations

import asyncio
import re
import time
from dataclasses import dataclass
from ipaddress import ip_address

from starlette.responses import JSONResponse, PlainTextResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

MOST_QUERY = 32 * 1024
SECONDS_FOR_A_BODY = 20.0
SECONDS_TO_RETURN = "5"
# Names that nobody can register for the world: RFC 6761, RFC 6762, RFC 8375, and the one reserved for private use.
PRIVATE_ENDINGS = ("localhost", "local", "internal", "home.arpa", "test", "example", "invalid", "lan")
_HOST = re.compile(r"(?P<name>\[[0-9A-Fa-f:.]+\]|[0-9A-Za-z._-]+)(:\d{1,5})?")


@dataclass(frozen=True, slots=True)
class TurnedAway(Exception):
    """A request that is not looked at, and why."""

    status: int
    sentence: str

    def answer(self, path: str) -> Response:
        """The short answer; the connection ends with it, for what follows in it cannot be trusted to be a request."""
        headers = {"Connection": "close", "Cache-Control": "no-store"}
        if path.startswith("/api/"):
            return JSONResponse({"errors": [{"field": "", "message": self.sentence}]}, self.status, headers)
        return PlainTextResponse(f"{self.sentence}\n", self.status, headers)


def is_own_name(host: str, names: tuple[str, ...]) -> bool:
    """Whether a server may be called so: by an address, by a name that only a private network has, by one of its own.

    Any other name could be a stranger's, who points it at this machine to be let in by a browser.

    >>> [is_own_name(name, ()) for name in ("10.0.0.2:8000", "lathe", "chuckside.local", "[::1]")]
    [True, True, True, True]
    >>> is_own_name("shop.example.com", ("shop.example.com",)), is_own_name("elsewhere.example.com", ())
    (True, False)
    """
    matched = _HOST.fullmatch(host)
    if matched is None:
        return False
    name = matched["name"].strip("[]").rstrip(".").lower()
    if name in names or "." not in name or name.endswith(tuple(f".{ending}" for ending in PRIVATE_ENDINGS)):
        return True
    try:
        ip_address(name)
    except ValueError:
        return False
    return True


ENDING = TurnedAway(503, "The server is being stopped, and this answer was not ready in time. Ask again in a moment.")


class Guard:
    """ASGI middleware that turns away, and gives a body its time."""

    def __init__(self, app: ASGIApp, names: tuple[str, ...] = ()) -> None:
        self.app = app
        self.names = names

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass the request on, or answer it at once."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        started = False

        async def send_and_note(message: Message) -> None:
            nonlocal started
            started = True
            await send(message)

        try:
            self._look(scope)
            await self.app(scope, _in_time(receive), send_and_note)
        except TurnedAway as reason:
            if started:
                raise
            await reason.answer(scope["path"])(scope, receive, send)
        except asyncio.CancelledError:  # the server ends, and breaks off what is not ready in its time
            if started:
                raise
            answer = ENDING.answer(scope["path"])
            answer.headers["Retry-After"] = SECONDS_TO_RETURN
            await answer(scope, receive, send)

    def _look(self, scope: Scope) -> None:
        """Raise `TurnedAway` for what is wrong with a request's head."""
        headers: dict[bytes, bytes] = dict(scope["headers"])
        if b"content-length" in headers and b"transfer-encoding" in headers:
            raise TurnedAway(400, "The request gives its length in two ways. Send it with one.")
        if len(scope["query_string"]) > MOST_QUERY:
            raise TurnedAway(
                414, f"This question is too long for an address: at most {MOST_QUERY // 1024} KiB. Use fewer rows."
            )
        host = headers.get(b"host", b"").decode("latin-1")
        if host and not is_own_name(host, self.names):
            raise TurnedAway(
                421, "This server does not go by that name. Whoever runs it can add the name to CHUCKSIDE_HOSTS."
            )


def _in_time(receive: Receive) -> Receive:
    """The body's parts as they come, for so long as a body may take; then `TurnedAway`."""
    ends = time.monotonic() + SECONDS_FOR_A_BODY
    whole = False

    async def receive_in_time() -> Message:
        nonlocal whole
        if whole:  # what is awaited now is the client's leaving, for which there is no hurry
            return await receive()
        try:
            message = await asyncio.wait_for(receive(), max(0.0, ends - time.monotonic()))
        except TimeoutError:
            raise TurnedAway(408, "The request did not come to its end in time.") from None
        whole = not message.get("more_body", False)
        return message

    return receive_in_time
