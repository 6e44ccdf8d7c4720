"""A heavy question at the server's door: its time, its sentence, and what it costs everybody else."""

from __future__ import annotations

import asyncio
import threading
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from starlette.requests import Request
from starlette.responses import Response
from starlette.testclient import TestClient

from calc.questions.tools.nose_contour import FEATURE as NOSE
from server.answering import Answering
from server.answers import json_stopped
from server.app import create_app
from server.computing import asking
from server.computing import workers as computing
from server.computing.workers import Job, Workers
from server.settings import Settings
from tests.computing.trials import Prompt, Trials

PLAN = "/plan?shape=pad&nose_radius=10&units=inch"
CONTOUR = {"start": {"x": 20, "z": 0}, "elements": [{"kind": "arc", "x": 30, "z": -5, "radius": 7.25}]}


class Slow(Trials):
    """Every question takes longer than anybody waits."""

    def __getattr__(self, name: str) -> Any:
        if name == "named":
            return lambda *_: self.wait(600)
        raise AttributeError(name)


@pytest.fixture
def slow(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Iterator[TestClient]:
    """A server whose heavy questions come to no end, and whose patience is short."""
    settings = Settings(data=tmp_path)
    workers = Workers(settings.templates, settings.static, made_by=Slow)
    monkeypatch.setattr(asking, "workers_for", lambda *_: workers)
    monkeypatch.setattr(asking, "SECONDS", 0.5)
    yield TestClient(create_app(settings))
    workers.close()


def test_a_page_is_given_with_the_question_and_a_sentence_when_there_is_no_time(slow: TestClient) -> None:
    answer = slow.get(PLAN)
    assert answer.status_code == 503
    assert int(answer.headers["Retry-After"]) > 0
    assert answer.headers["Cache-Control"] == "no-store"
    assert 'value="10"' in answer.text
    assert "<form" in answer.text
    assert "This question was stopped" in answer.text or "server is busy" in answer.text


def test_a_call_is_refused_in_json(slow: TestClient) -> None:
    for answer in (slow.get("/api/plan/contour?shape=pad"), slow.post("/api/geometry/contour", json=CONTOUR)):
        assert answer.status_code == 503
        assert int(answer.headers["Retry-After"]) > 0
        (error,) = answer.json()["errors"]
        assert error["field"] == ""
        assert error["message"].endswith(".")


def test_a_file_is_refused_in_plain_words(slow: TestClient) -> None:
    answer = slow.get("/plan/points.csv?shape=pad")
    assert (answer.status_code, answer.headers["Content-Type"]) == (503, "text/plain; charset=utf-8")
    assert answer.text.endswith(".\n")


def test_a_light_question_needs_no_process(slow: TestClient) -> None:
    assert slow.get("/spindle?surface_speed=220&diameter=56").status_code == 200
    assert slow.get("/plan").status_code == 200
    assert slow.get("/api/geometry/dish?radius=75&depth=4.5").status_code == 200


def test_the_first_question_on_a_loaded_machine_is_answered(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Its process takes longer to start than anybody waits for an answer."""
    settings, start = Settings(data=tmp_path), computing._started

    def late(*made_with: Any) -> Any:
        end = time.monotonic() + 0.7
        while time.monotonic() < end:
            pass
        return start(*made_with)

    monkeypatch.setattr(asking, "SECONDS", 0.5)
    monkeypatch.setattr(computing, "_started", late)
    workers = Workers(settings.templates, settings.static, made_by=Prompt)
    monkeypatch.setattr(asking, "workers_for", lambda *_: workers)
    answer = TestClient(create_app(settings)).get("/api/plan/contour?shape=pad")
    assert (answer.status_code, answer.text.split()[0]) == (200, "prompt")
    workers.close()


def test_no_later_start_keeps_a_question_beyond_its_time(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """The machine has so much to do that no process comes into being: a sentence comes all the same."""
    settings, start, begin = Settings(data=tmp_path), computing._started, threading.Event()
    workers = Workers(settings.templates, settings.static, most=1, made_by=Prompt)
    monkeypatch.setattr(asking, "workers_for", lambda *_: workers)
    client = TestClient(create_app(settings))
    assert client.get("/api/plan/contour?shape=pad").status_code == 200
    monkeypatch.setattr(computing, "_started", lambda *made_with: begin.wait() and start(*made_with))
    monkeypatch.setattr(asking, "SECONDS", 0.2)
    dying = Job("die", (), time.monotonic() + 60)
    workers.submit(dying)
    assert dying.future.exception(60)
    answer = client.get("/api/plan/contour?shape=pad")
    assert (answer.status_code, int(answer.headers["Retry-After"]) > 0) == (503, True)
    assert "busy" in answer.text
    begin.set()
    workers.close()


def test_a_question_whose_asker_leaves_is_ended(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    settings = Settings(data=tmp_path)
    workers = Workers(settings.templates, settings.static, most=1, made_by=Slow)
    monkeypatch.setattr(asking, "workers_for", lambda *_: workers)

    async def leaving() -> dict[str, str]:
        while not workers.processes():
            await asyncio.sleep(0)
        return {"type": "http.disconnect"}

    async def ask() -> Response:
        request = Request({"type": "http", "headers": []}, leaving)
        return await asking.Asking(settings).heavy(request, json_stopped, "named", "api", "plan/contour", [])

    assert asyncio.run(ask()).status_code == 503  # which nobody gets to see
    job = Job("say", ("next",), time.monotonic() + 60)
    workers.submit(job)
    assert job.future.result(60)[2].startswith(b"next")
    workers.close()


def test_both_kinds_of_answer_are_the_same_question(tmp_path: Path) -> None:
    """What a process answers is what the server itself would have answered."""
    settings = Settings(data=tmp_path)
    app = create_app(settings)
    client = TestClient(app, base_url="http://shop.example")
    typed = "shape=pad&nose_radius=0.4&tool_point=3&bar_diameter=60"
    from_process = client.get(f"/api/nose-radius/path?{typed}")
    here = Answering(settings.templates, settings.static).api(
        NOSE, [(name, text) for name, _, text in (each.partition("=") for each in typed.split("&"))]
    )
    assert from_process.status_code == here.status_code
    assert from_process.content == bytes(here.body)
    assert from_process.headers["Content-Type"] == "application/json"
