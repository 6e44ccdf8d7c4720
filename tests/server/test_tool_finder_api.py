"""The search for a tool as it is called."""

from typing import Any

import pytest
from starlette.testclient import TestClient

from calc.language.problems import Problem
from calc.language.quantities import View
from server.tool_finder_api import answer


def contour(*ends: tuple[float, float], corner: float | None = None) -> dict[str, Any]:
    elements: list[dict[str, Any]] = [{"kind": "line", "x": x, "z": z} for x, z in ends[1:]]
    if corner is not None:
        elements[0]["corner"] = {"kind": "chamfer", "size": corner}
    return {"start": {"x": ends[0][0], "z": ends[0][1]}, "elements": elements}


SHOULDER = contour((0, 0), (30, 0), (30, -50), (50, -50), (50, -60), corner=1)
NECK = contour((30, 0), (30, -20), (20, -20), (20, -40), (30, -40), (30, -60))
BORE = contour((40, 0), (40, -20), (28, -20), (28, -40))


def ask(view: View | None = None, **body: Any) -> Any:
    return answer(body, view or View())


def test_the_call_is_served(client: TestClient) -> None:
    body = {"contour": contour((30, 0), (30, -20)), "hand": "right", "where": "outside", "roughness": 1.6}
    found = client.post("/api/plan/tools", json=body)
    assert found.status_code in (200, 503)
    if found.status_code == 200:
        assert found.json()["tools"][0]["reaches"] is True


def test_the_strongest_tool_for_a_shoulder_stands_first_and_reaches_all() -> None:
    found = ask(contour=SHOULDER, stock={"bar_diameter": 52}, roughness=1.6, hand="right", where="outside")
    first = found["tools"][0]
    assert (first["insert"], first["holder"], first["reaches"]) == ("CNMG 120416", "PCLNR 2525M12", True)
    assert (first["from"], first["to"]) == (None, None)
    assert "0.282 mm/rev" in first["reason"]
    assert found["results"] == {"reaches": True, "count": len(found["tools"])}
    assert first["nose_radius"] == {"value": 1.6, "unit": "mm"}


def test_where_no_tool_reaches_all_two_do_and_say_where_they_meet() -> None:
    found = ask(contour=NECK, roughness=1.6)
    fore, back = found["tools"]
    assert not found["results"]["reaches"]
    assert (fore["from"], back["to"]) == (1, 5)
    assert fore["to"] >= back["from"]
    assert "they meet at X20.000" in fore["reason"]
    assert fore["to_place"]["x"] == pytest.approx(20.0)


def test_a_bar_for_a_bore_goes_into_the_hole_of_the_stock() -> None:
    found = ask(contour=BORE, where="bore", hand="right", stock={"bar_diameter": 60, "bore_diameter": 25})
    assert found["tools"][0]["holder"].startswith(("S", "A"))
    assert all(tool["reaches"] for tool in found["tools"])


def test_an_inch_reader_gets_the_same_tools() -> None:
    mm = ask(contour=NECK, roughness=1.6)
    inch = contour(*((x / 25.4, z / 25.4) for x, z in [(30, 0), (30, -20), (20, -20), (20, -40), (30, -40), (30, -60)]))
    found = ask(View("inch"), contour=inch, roughness="1.6um")
    assert [each["insert"] for each in found["tools"]] == [each["insert"] for each in mm["tools"]]


@pytest.mark.parametrize(
    ("change", "field", "said"),
    [
        ({"contour": None}, "contour", "object with start"),
        ({"roughness": 0}, "roughness", "more than 0"),
        ({"roughness": "x"}, "roughness", "x"),
        ({"hand": "both"}, "hand", "one of"),
        ({"where": "face"}, "where", "one of"),
        ({"stock": 5}, "stock", "object with bar_diameter"),
        ({"stock": {"bar_diameter": -1}}, "stock.bar_diameter", "more than 0"),
        ({"stock": {"bar": 1}}, "stock.bar", "no such name"),
        ({"stock": {"bar_diameter": 40}}, "stock.bar_diameter", "smaller than the contour"),
        ({"tools": 1}, "tools", "no such name"),
    ],
)
def test_what_is_wrong_is_said_at_its_field(change: Any, field: str, said: str) -> None:
    with pytest.raises(Problem) as raised:
        ask(**({"contour": SHOULDER} | change))
    (fault,) = raised.value.faults
    assert fault.field == field
    assert said in fault.message.say()
