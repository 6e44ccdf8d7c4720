"""An example says that it is one, also after somebody typed over a part of it."""

from __future__ import annotations

from starlette.testclient import TestClient

from server.catalogue import PAGES
from server.links import address


def test_an_example_is_marked_and_a_changed_one_says_so(client: TestClient) -> None:
    example = {**PAGES["/dish"].example, "example": "1"}
    whole = client.get(address("/dish", example)).text
    changed = client.get(address("/dish", {**example, "radius": "80"})).text
    assert "the numbers are not of your part" in whole
    assert "what you did not type is not of your part" in changed


def test_a_question_of_ones_own_is_no_example(client: TestClient) -> None:
    assert "not of your part" not in client.get(address("/dish", dict(PAGES["/dish"].example))).text
