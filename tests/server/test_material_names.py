"""A material's name on every call and page: the same grade, and what can be tapped when it is not one."""

import pytest
from starlette.testclient import TestClient


@pytest.mark.parametrize("typed", ["6061", "17-4", "S235", "2205", "C360", "mild steel", "EN24T", "Delrin"])
def test_one_name_means_the_same_on_every_call(client: TestClient, typed: str) -> None:
    cut = {"material": typed, "surface_speed": "100"}
    calls = {
        "speed-feed/force": {"depth": "1", "feed": "0.2", "entering_angle": "95"},
        "speed-feed/drilling": {"drill_diameter": "10", "hole_depth": "20"},
        "speed-feed/parting": {"outer_diameter": "40", "insert_width": "3"},
        "speed-feed/grooving-cut": {"start_diameter": "60", "bottom_diameter": "52", "insert_width": "3"},
    }
    for path, fields in calls.items():
        response = client.get(f"/api/{path}", params={**cut, **fields})
        assert response.status_code == 200, (path, response.text[:300])
    assert client.get("/api/speed-feed/material", params={"material": typed}).json()["results"]["title"]


def test_a_refused_word_can_be_tapped(client: TestClient) -> None:
    asked = {"material": "brass", "depth": "1", "feed": "0.2", "surface_speed": "200", "entering_angle": "90"}
    error = client.get("/api/speed-feed/force", params=asked).json()["errors"][0]
    assert (error["field"], error["offers"][0]) == ("material", "CuZn39Pb3")
    page = client.get("/force", params=asked).text
    assert 'class="offer" href="/force?material=CuZn39Pb3&amp;depth=1' in page
    listed = client.get("/material", params={"material": "brass"}).text
    assert '<a href="/material?material=CuZn36Pb3' in listed


def test_a_page_says_how_a_name_was_read_and_what_the_material_does(client: TestClient) -> None:
    asked = {"material": "Teflon", "depth": "1", "feed": "0.2", "surface_speed": "200", "entering_angle": "90"}
    answer = client.get("/api/speed-feed/force", params=asked).json()
    assert any("poisonous fumes" in caution for caution in answer["cautions"])
    assert "PTFE polytetrafluoroethylene" in answer["notes"][0]
    drilled = {"material": "EN8", "drill_diameter": "10", "hole_depth": "20"}
    assert "calculated with those of C45" in client.get("/api/speed-feed/drilling", params=drilled).json()["notes"][0]
