"""A whole part on a job sheet: its address, longer than that of a single question, is a step like any other."""

from __future__ import annotations

from starlette.testclient import TestClient

from calc.questions.part.examples import SLEEVE
from server.links import address


def test_a_part_with_long_notes_is_a_step_of_a_sheet(client: TestClient) -> None:
    operations = SLEEVE["operations"].replace("kind:face", f"kind:face~note:{'mind the chips ' * 120}")
    step = {"title": "Sleeve", "address": address("/part", {**SLEEVE, "operations": operations})}
    assert len(step["address"]) > 2500
    made = client.post("/api/sheets", json={"format": "chuckside sheet", "version": 1, "steps": [step]})
    assert made.status_code == 201, made.text
    kept = client.get(f"/api/sheets/{made.json()['id']}").json()["sheet"]["steps"][0]
    assert kept["address"] == step["address"]
    assert "1. Sleeve" in client.get(f"/sheet/{made.json()['id']}").text
