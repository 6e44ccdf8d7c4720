"""What was measured, sent as JSON."""

import pytest
from starlette.testclient import TestClient


def test_the_call_takes_the_published_points_and_any_convention(client: TestClient) -> None:
    """Gander, Golub, Strebel, BIT 34 (1994): centre (4.739782, 2.983533), radius 4.714226."""
    points = [(1, 7), (2, 6), (5, 8), (7, 7), (9, 5), (3, 7)]
    body = {"readings": [{"x": x, "z": z} for x, z in points]}
    found = client.post("/api/measure/arc?x=radius&units=inch", json=body).json()
    assert found["results"]["radius"] == {"value": pytest.approx(4.714226, abs=5e-7), "unit": "in"}
    assert found["results"]["centre_x"]["value"] == pytest.approx(4.739782, abs=5e-7)
    assert found["results"]["centre_z"]["value"] == pytest.approx(2.983533, abs=5e-7)
    doubled = {"readings": [{"x": 2 * x, "z": -z} for x, z in points]}
    turned = client.post("/api/measure/arc?zplus=in", json=doubled).json()["results"]
    assert turned["centre_x"]["value"] == pytest.approx(2 * 4.739782, abs=1e-6)
    assert turned["centre_z"]["value"] == pytest.approx(-2.983533, abs=5e-7)


def test_the_call_names_what_is_wrong_in_a_reading(client: TestClient) -> None:
    body = {"readings": [{"x": 1, "z": 2}, {"x": "abc", "z": 1}, {"x": 3}]}
    answer = client.post("/api/measure/arc", json=body)
    assert answer.status_code == 422
    assert {error["field"] for error in answer.json()["errors"]} & {"readings.1.x", "readings.2.z"}
