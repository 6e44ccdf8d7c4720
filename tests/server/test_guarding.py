"""What is turned away at the door, each with a short sentence."""

from __future__ import annotations

import asyncio
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from server import guarding
from server.app import create_app
from server.assets import KEEP, version_of
from server.guarding import MOST_QUERY, Guard, is_own_name
from server.headers import HEADERS
from server.settings import STATIC, Settings, settings_from


@pytest.fixture(scope="module")
def client(tmp_path_factory: pytest.TempPathFactory) -> TestClient:
    settings = Settings(data=tmp_path_factory.mktemp("data"), hosts=("shop.example.com",))
    return TestClient(create_app(settings), raise_server_exceptions=False, follow_redirects=False)


@pytest.mark.parametrize("host", ["elsewhere.example.com", "evil.com:80", "a b", "shop.example.com.evil.com", "x@y"])
def test_a_strangers_name_is_not_the_servers(client: TestClient, host: str) -> None:
    """A browser that a stranger's name leads here must find nothing to talk to (DNS rebinding; common practice)."""
    for path in ("/spindle", "/qr/dish?radius=75", "/sheet", "/health"):
        answer = client.get(path, headers={"Host": host})
        assert answer.status_code == 421
        assert host not in answer.text
    assert client.get("/api/speed-feed/spindle", headers={"Host": host}).json()["errors"]


@pytest.mark.parametrize(
    "host", ["192.168.1.20:8000", "[fd00::1]:8000", "lathe", "chuckside.local", "shop.example.com"]
)
def test_what_only_the_shop_can_mean_is_let_in(client: TestClient, host: str) -> None:
    assert client.get("/spindle", headers={"Host": host}).status_code == 200


def test_the_names_are_a_setting_and_the_address_for_links_is_one_of_them() -> None:
    told = {"CHUCKSIDE_HOSTS": "A.example.com, b.example.com.", "CHUCKSIDE_ADDRESS": "https://c.example.com:8443/"}
    hosts = settings_from(told).hosts
    assert hosts == ("a.example.com", "b.example.com", "c.example.com")
    assert is_own_name("B.example.com:8443", hosts)


@pytest.mark.parametrize("path", ["/api/measure/arc", "/api/plan/part", "/api/sheets", "/sheet"])
def test_whoever_leaves_amid_a_body_is_no_fault_of_ours(client: TestClient, path: str) -> None:
    """A connection that breaks, or a body that is no HTTP after its first piece."""
    pieces = iter([{"type": "http.request", "body": b"{", "more_body": True}, {"type": "http.disconnect"}])
    statuses: list[int] = []

    async def receive() -> Any:
        return next(pieces)

    async def send(message: Any) -> None:
        statuses.extend([message["status"]] if message["type"] == "http.response.start" else [])

    headers = [(b"host", b"lathe"), (b"content-type", b"application/x-www-form-urlencoded")]
    scope = {"type": "http", "method": "POST", "path": path, "raw_path": path.encode(), "query_string": b"",
             "headers": headers, "client": ("127.0.0.1", 1), "server": ("lathe", 80), "scheme": "http",
             "http_version": "1.1", "root_path": ""}  # fmt: skip
    asyncio.run(client.app(scope, receive, send))  # type: ignore[arg-type]  # a fault would be raised
    assert statuses in ([400], [])


@pytest.mark.parametrize("path", ["/contour", "/api/geometry/contour", "/static/page.css"])
def test_a_question_of_sixty_kilobytes_gets_a_short_answer(client: TestClient, path: str) -> None:
    answer = client.get(f"{path}?contour={'s' * 60_000}")
    assert answer.status_code == 414
    assert len(answer.content) < 500
    assert answer.headers["Content-Security-Policy"] == HEADERS["Content-Security-Policy"]


def test_a_long_contour_still_fits() -> None:
    """A thousand rows as people type them: 24 characters each."""
    assert len("*l_x123.456_z-1234.567_ha") * 1000 < MOST_QUERY


def test_a_body_in_two_lengths_is_refused(client: TestClient) -> None:
    """RFC 9112, section 6.1: such a message ought to be handled as an error."""
    headers = {"Content-Length": "2", "Transfer-Encoding": "chunked"}
    answer = client.post("/api/geometry/contour", content=b"{}", headers=headers)
    assert answer.status_code == 400
    assert answer.headers["Connection"] == "close"


def test_a_body_that_does_not_come_to_its_end_is_not_waited_for(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(guarding, "SECONDS_FOR_A_BODY", 0.01)
    sent: list[Any] = []

    async def reading(scope: Any, receive: Any, send: Any) -> None:
        while (await receive()).get("more_body"):
            pass

    async def receive() -> dict[str, Any]:
        if not sent_some:
            sent_some.append(True)
            return {"type": "http.request", "body": b"{", "more_body": True}
        await asyncio.Event().wait()
        raise AssertionError

    async def send(message: Any) -> None:
        sent.append(message)

    sent_some: list[bool] = []
    scope = {"type": "http", "headers": [], "query_string": b"", "path": "/api/x", "method": "POST"}
    asyncio.run(Guard(reading)(scope, receive, send))
    assert sent[0]["status"] == 408
    assert (b"connection", b"close") in sent[0]["headers"]


@pytest.mark.parametrize(
    ("method", "path", "allowed"),
    [
        ("DELETE", "/spindle", {"GET", "HEAD"}),
        ("PUT", "/api/plan/contour", {"GET", "HEAD", "POST"}),
        ("PATCH", "/api/sheets/abc", {"GET", "PUT", "DELETE"}),
        ("POST", "/health", {"GET"}),
    ],
)
def test_a_wrong_method_is_told_the_right_ones(client: TestClient, method: str, path: str, allowed: set[str]) -> None:
    """RFC 9110, section 15.5.6: the answer must have `Allow`."""
    answer = client.request(method, path)
    assert answer.status_code == 405
    assert set(answer.headers["Allow"].split(", ")) >= allowed


def test_only_a_files_own_version_is_kept_for_good(client: TestClient) -> None:
    """While one server is replaced by the next, the old one is asked for the new one's file."""
    own = version_of(STATIC / "page.css")
    assert client.get(f"/static/page.css?v={own}").headers["Cache-Control"] == KEEP
    for other in ("v=anything", f"v={own[:-1]}", f"v={own}&x=1", ""):
        assert client.get(f"/static/page.css?{other}").headers["Cache-Control"] == "no-cache"


def test_an_answer_is_for_this_site_alone(client: TestClient) -> None:
    headers = client.get("/spindle").headers
    assert headers["Cross-Origin-Resource-Policy"] == headers["Cross-Origin-Opener-Policy"] == "same-origin"


def test_only_a_question_in_the_address_is_said_to_be_there(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    app = create_app(Settings(data=tmp_path))

    async def broken() -> None:
        raise RuntimeError("made for this test")

    app.add_api_route("/broken", broken, methods=["GET", "POST"])
    client = TestClient(app, raise_server_exceptions=False)
    assert "still in the address" in client.get("/broken").text
    assert "still in the address" not in client.post("/broken").text


@pytest.mark.parametrize("path", ["/plan", "/api/plan/contour"])
def test_what_is_broken_off_when_the_server_ends_says_so_and_when_to_ask_again(path: str) -> None:
    sent: list[Any] = []

    async def endless(*_: Any) -> None:
        await asyncio.Event().wait()

    async def send(message: Any) -> None:
        sent.append(message)

    async def broken_off() -> None:
        scope = {"type": "http", "path": path, "headers": [], "query_string": b""}
        asked = asyncio.create_task(Guard(endless)(scope, asyncio.Event().wait, send))  # type: ignore[arg-type]
        await asyncio.sleep(0)
        asked.cancel()
        await asked

    asyncio.run(broken_off())
    assert sent[0]["status"] == 503
    assert dict(sent[0]["headers"])[b"retry-after"] == b"5"
    assert b"is being stopped" in sent[1]["body"]
