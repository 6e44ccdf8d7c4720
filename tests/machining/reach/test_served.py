"""The pages and calls about insert, holder and reach as they are served."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from starlette.testclient import TestClient

from server.app import create_app
from tests.tries import tries

CLIENT = TestClient(create_app(), base_url="http://shop.example")
SEAT = {"radius": "75", "depth": "4.5"}
CALLS = {
    "nose-radius/insert": {"designation": "CNMG 120408"},
    "nose-radius/holder": {"holder": "PCLNR 2525M12", "insert": "CNMG 120408"},
    "nose-radius/reach": {"insert": "CNMG 120408", "holder": "PCLNR 2525M12", **SEAT},
}


def ask(path: str, **query: str) -> Any:
    return CLIENT.get(f"/api/{path}", params=query)


def test_the_insert_call_has_the_results_that_its_callers_rely_on() -> None:
    """CNMG 120408 by ISO 1832: rhombus 80 degrees, no clearance, 12.7, 4.76, 0.8."""
    results = ask("nose-radius/insert", **CALLS["nose-radius/insert"]).json()["results"]
    assert results["shape"] == "C: rhombus, 80°"
    assert results["included_angle"] == {"value": pytest.approx(80.0), "unit": "deg"}
    assert results["clearance"] == {"value": 0.0, "unit": "deg"}
    assert results["size"] == {"value": 12.7, "unit": "mm"}
    assert results["thickness"]["value"] == pytest.approx(4.7625)
    assert results["nose_radius"] == {"value": 0.8, "unit": "mm"}


def test_an_inch_reader_gets_the_same_insert_in_inches() -> None:
    results = ask("nose-radius/insert", designation="CNMG 432", units="inch").json()["results"]
    assert (results["size"], results["nose_radius"]) == (
        {"value": pytest.approx(0.5), "unit": "in"},
        {"value": pytest.approx(1 / 32), "unit": "in"},
    )


@pytest.mark.parametrize("path", CALLS)
@pytest.mark.parametrize("units", ["mm", "inch"])
def test_every_call_shows_its_working_in_both_systems(path: str, units: str) -> None:
    query = {name: f"{text}mm" if name in SEAT else text for name, text in CALLS[path].items()}
    body = ask(path, units=units, **query).json()
    assert body["working"]
    assert all(step["text"] and step["source"] for step in body["working"])


def test_reach_tells_its_checks_slopes_and_what_would_pass() -> None:
    body = ask("nose-radius/reach", **CALLS["nose-radius/reach"]).json()
    assert body["results"]["stopped_by"] == "the dish"
    assert {row["check"] for row in body["checks"]} >= {"edge behind the nose", "insert", "holder"}
    assert body["slopes"][0]["from_face"]["value"] == pytest.approx(19.948, abs=5e-4)
    assert any(row["shape"].startswith("R") for row in body["passing"])


@pytest.mark.parametrize("path", CALLS)
def test_a_blank_call_asks_at_a_field_of_its_own(path: str) -> None:
    answer = ask(path)
    assert answer.status_code == 422
    assert all(error["field"] and error["message"].endswith(".") for error in answer.json()["errors"])


@pytest.mark.parametrize("page", ["insert", "holder", "reach"])
def test_the_pages_show_their_answer_without_scripts(page: str) -> None:
    answer = CLIENT.get(f"/{page}", params=CALLS[f"nose-radius/{page}"])
    assert answer.status_code == 200
    assert "Position by position" in answer.text or "Edges against slopes" in answer.text
    assert ('class="sketch"' in answer.text) == (page != "holder")


def test_a_wrong_letter_is_said_beside_its_field_on_the_page() -> None:
    answer = CLIENT.get("/insert", params={"designation": "CQMG 120408"})
    assert answer.status_code == 422
    assert "Position 2, clearance: “Q” is not one of" in answer.text


@settings(deadline=None, max_examples=tries(60))
@given(st.sampled_from(sorted(CALLS)), st.text(max_size=30), st.text(max_size=30))
def test_any_text_is_answered_with_an_answer_or_with_what_is_wrong(path: str, first: str, second: str) -> None:
    names = list(CALLS[path])[:2]
    query = {**CALLS[path], **dict(zip(names, (first, second), strict=False))}
    assert ask(path, **query).status_code in (200, 422)
