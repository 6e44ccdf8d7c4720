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


def test_a_contour_leads_on_with_the_side_that_it_was_solved_for(client: TestClient) -> None:
    page = client.get("/contour?contour=s_x40_z0*t_z-30").text
    links = [link for link in page.split('"') if link.startswith(("/nose?", "/reach-contour?", "/plan?"))]
    assert len(links) == 3
    assert all("side=right" in link for link in links)


def test_a_question_of_ones_own_is_no_example(client: TestClient) -> None:
    assert "not of your part" not in client.get(address("/dish", dict(PAGES["/dish"].example))).text
