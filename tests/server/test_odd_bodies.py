"""Bodies that no program of goodwill sends: each gets a sentence, none a fault of the server."""

from __future__ import annotations

import json
from typing import Any

import pytest
from starlette.testclient import TestClient

from server.catalogue import POSTS

LINE = {"kind": "line", "x": 20, "z": -5}
ODD: tuple[Any, ...] = (10**310, -(10**310), 1e308, "\ud800", [1], {"a": 1}, True, "1e308", "9" * 310)
EVERY = pytest.mark.parametrize("post", POSTS, ids=lambda post: post.path)


@EVERY
@pytest.mark.parametrize("odd", ODD, ids=lambda odd: repr(odd)[:12])
def test_an_odd_value_in_any_place_is_refused_in_words(client: TestClient, post: Any, odd: Any) -> None:
    contour = {"start": {"x": odd, "z": 0}, "elements": [LINE]}
    end = {"start": {"x": 20, "z": 0}, "elements": [{**LINE, "z": odd}]}
    for body in (
        dict.fromkeys(post.body, odd),
        {"contour": contour, **contour, "nose_radius": 0.8, "bar_diameter": 33, "pass_depth": 1, "feed": 0.2},
        {"contour": end, **end, "nose_radius": 0.8, "bar_diameter": 33, "pass_depth": 1, "feed": 0.2},
    ):
        answer = client.post(post.path, content=json.dumps(body))
        assert answer.status_code == 422
        assert all(error["message"].endswith((".", "?")) for error in answer.json()["errors"])


@EVERY
def test_half_a_pair_as_a_name_is_refused_in_words(client: TestClient, post: Any) -> None:
    answer = client.post(post.path, content=b'{"\\ud800": 1}')
    assert answer.status_code == 422
    assert "half of a pair" in answer.json()["errors"][0]["message"]


def test_half_a_pair_is_refused_by_the_sheets_too(client: TestClient) -> None:
    answer = client.post("/api/sheets", content=b'{"format": "chuckside sheet", "version": 1, "\\udfff": 1}')
    assert answer.status_code == 422
    assert "half of a pair" in answer.json()["errors"][0]["message"]


@pytest.mark.parametrize("beyond", [10**310, -1e308, 1e-300])
def test_a_number_beyond_all_sense_is_not_called_none(client: TestClient, beyond: float) -> None:
    body = {"contour": {"start": {"x": 20, "z": 0}, "elements": [LINE]}, "nose_radius": beyond}
    (error,) = client.post("/api/nose-radius/path", content=json.dumps(body)).json()["errors"]
    assert error["field"] == "nose_radius"
    assert error["message"].endswith("” is too large or too small to compute with.")
