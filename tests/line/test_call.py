"""The line as a page and as a call."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from server.app import create_app
from server.settings import Settings


@pytest.fixture(scope="module")
def client(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    data: Path = tmp_path_factory.mktemp("data")
    with TestClient(create_app(Settings(data=data))) as asked:
        yield asked


def test_the_call_gives_question_page_fields_and_headline(client: TestClient) -> None:
    body = client.get("/api/ask", params={"q": "R90 4.5 deep"}).json()
    reading = body["readings"][0]
    assert (reading["question"], reading["fields"]) == ("Dish", {"radius": "90", "depth": "4.5"})
    assert reading["headline"]["value"] == pytest.approx(56.20498198558558)
    assert reading["headline"]["unit"] == "mm"


def test_the_page_of_a_reading_gives_the_same_number(client: TestClient) -> None:
    reading = client.get("/api/ask", params={"q": "24 g6"}).json()["readings"][0]
    page = client.get(reading["page"])
    assert page.status_code == 200
    assert reading["headline"]["text"].removeprefix("Ø").split()[0] in page.text


@pytest.mark.parametrize(("params", "field"), [({}, "q"), ({"q": " "}, "q"), ({"q": "x" * 200}, "q")])
def test_no_line_is_refused_at_its_field(client: TestClient, params: dict[str, str], field: str) -> None:
    answer = client.get("/api/ask", params=params)
    assert answer.status_code == 422
    assert answer.json()["errors"][0]["field"] == field


def test_the_page_lists_readings_without_any_script(client: TestClient) -> None:
    page = client.get("/ask", params={"q": "R75 Ø51"}).text
    assert page.index("Dish</strong>") < page.index("Crown</strong>")
    assert 'value="R75 Ø51"' in page


def test_the_page_escapes_what_was_typed(client: TestClient) -> None:
    page = client.get("/ask", params={"q": "<script>alert(1)</script>"}).text
    assert "<script>alert" not in page


def test_every_page_has_the_line_in_its_head(client: TestClient) -> None:
    for path in ("/", "/dish", "/ask", "/sheet", "/nowhere"):
        assert 'action="/ask"' in client.get(path).text
