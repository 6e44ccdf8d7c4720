"""Connections that send nothing whole, too many of them, and a server that is told to end: over real sockets."""

from __future__ import annotations

import json
import logging
import os
import signal
import socket
import subprocess
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import httpx
import pytest

from server.app import create_app
from server.connections import APART, room
from server.settings import Settings
from server.sheets.access_log import MOST_ALIKE, Seldom
from tests.sheets.serving import Serving, served
from tests.ui.live import live

DESCRIPTORS = APART + 40
HALF = b"GET /spindle HTTP/1.1\r\nHost: shop.example\r\n"


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Serving]:
    """A server that the system gives few descriptors."""
    resource = pytest.importorskip("resource")
    folder = tmp_path_factory.mktemp("connections")
    before = resource.getrlimit(resource.RLIMIT_NOFILE)
    with served(Settings(data=folder / "data"), folder / "log") as serving:
        resource.prlimit(serving.process.pid, resource.RLIMIT_NOFILE, (DESCRIPTORS, before[1]))
        yield serving


@pytest.fixture(scope="module", autouse=True)
def half(server: Serving) -> Iterator[socket.socket]:
    """A connection that sends half a head before the other tests begin; its end is looked at after them."""
    with connected(server) as client:
        client.sendall(HALF)
        yield client


def connected(serving: Serving) -> socket.socket:
    at = urlsplit(serving.address)
    return socket.create_connection((at.hostname, at.port), timeout=60)


def asked(serving: Serving, sent: bytes) -> bytes:
    """All that the server answers to some bytes, until it closes."""
    with connected(serving) as client:
        client.sendall(sent)
        return b"".join(iter(lambda: client.recv(65536), b""))


def test_there_are_fewer_connections_than_descriptors() -> None:
    resource = pytest.importorskip("resource")
    assert room() + APART <= resource.getrlimit(resource.RLIMIT_NOFILE)[0]


def test_two_lengths_are_refused_over_the_wire(server: Serving) -> None:
    """RFC 9112, section 6.1: what a request smuggler would send."""
    head = b"POST /api/geometry/contour HTTP/1.1\r\nHost: shop.example\r\nContent-Length: 4\r\n"
    sent = head + b"Transfer-Encoding: chunked\r\n\r\n0\r\n\r\n"
    answer = asked(server, sent)
    assert answer.startswith(b"HTTP/1.1 400")
    assert answer.count(b"HTTP/1.1") == 1


def test_an_address_of_seventy_kilobytes_gets_a_short_answer(server: Serving) -> None:
    answer = asked(server, b"GET /contour?contour=" + b"s" * 70_000 + b" HTTP/1.1\r\nHost: a\r\n\r\n")
    assert answer[:12] in (b"HTTP/1.1 400", b"HTTP/1.1 414", b"HTTP/1.1 431", b"")
    assert len(answer) < 2000


def test_a_light_question_is_answered_between_a_thousand_half_sent_ones(tmp_path: Path) -> None:
    """More half-sent requests than descriptors: the ones that have waited longest make room."""
    resource = pytest.importorskip("resource")
    soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
    if hard < 1400:
        pytest.skip("this system gives a process fewer descriptors than the test opens")
    resource.setrlimit(resource.RLIMIT_NOFILE, (max(soft, 1400), hard))
    with served(Settings(data=tmp_path / "data"), tmp_path / "log") as serving:
        opened = []
        try:
            for _ in range(1150):
                opened.append(connected(serving))
                opened[-1].sendall(HALF)
            assert httpx.get(f"{serving.address}/health", timeout=30).status_code == 200
            assert httpx.get(f"{serving.address}/spindle", timeout=30).status_code == 200
        finally:
            for each in opened:
                each.close()
    assert (tmp_path / "log").stat().st_size < 100_000


@pytest.mark.skipif(os.name == "nt", reason="there are no such signals")
def test_what_runs_is_finished_before_the_end(tmp_path: Path) -> None:
    """SIGTERM amid heavy questions: each is answered whole, and the process ends by itself."""
    plan = b"GET /api/plan/contour?shape=pad&insert=CNMG120408&feed=0.2&pass_depth=1 HTTP/1.1\r\nHost: a\r\n\r\n"
    with served(Settings(data=tmp_path / "data"), tmp_path / "log", CHUCKSIDE_SECONDS="5") as serving:
        clients = [connected(serving) for _ in range(6)]
        for client in clients:
            client.sendall(plan)
        # once a later request is answered, the earlier ones have been read
        assert httpx.get(f"{serving.address}/health", timeout=60).status_code == 200
        serving.process.send_signal(signal.SIGTERM)
        for client in clients:
            answer = b"".join(iter(lambda client=client: client.recv(65536), b""))  # type: ignore[misc]  # bound now
            head, _, body = answer.partition(b"\r\n\r\n")
            assert head[9:12] in (b"200", b"422", b"503")
            assert json.loads(body)
            client.close()
        try:
            serving.process.wait(10)
        except subprocess.TimeoutExpired:
            pytest.fail("it did not end")


def test_a_question_after_a_fault_of_the_program_does_not_meet_a_closed_connection(tmp_path: Path) -> None:
    """RFC 9112, section 9.6: who closes says so, else the client sends the next question into a closed connection."""
    app = create_app(Settings(data=tmp_path))

    async def broken() -> None:
        raise RuntimeError("a fault")

    app.add_api_route("/broken", broken)
    with live(tmp_path, app) as address, httpx.Client(base_url=address) as client:
        for _ in range(20):
            answer = client.get("/broken")
            assert (answer.status_code, answer.headers["connection"]) == (500, "close")
            assert client.get("/health").status_code == 200


def test_a_head_that_does_not_come_to_its_end_is_not_waited_for(half: socket.socket) -> None:
    assert b"".join(iter(lambda: half.recv(65536), b"")).startswith(b"HTTP/1.1 408")


def test_the_same_line_is_written_a_few_times_and_then_counted() -> None:
    clock = [0.0]
    guard = Seldom(lambda: clock[0])
    record = logging.LogRecord("any", logging.ERROR, "", 0, "it is broken: %s", ("text",), None)
    assert sum(guard.filter(record) for _ in range(1000)) == MOST_ALIKE
    clock[0] = 61.0
    assert guard.filter(record)
    assert "995 more like this" in record.getMessage()
