"""A whole part as it is called: each operation on the stock of the one before."""

import copy
import math
from itertools import pairwise
from typing import Any

import pytest

from calc.language.problems import Problem
from calc.language.quantities import View
from server.part_api import answer
from tests.server.whole_parts import STEM


def line(x: float, z: float) -> dict[str, Any]:
    return {"kind": "line", "x": x, "z": z}


SLEEVE = {"start": {"x": 0, "z": 0}, "elements": [line(42, 0), line(42, -28), line(36, -28), line(36, -40)]}
TOOL = {"insert": "DCMT 11T304", "holder": "SDJCR 2020K11"}
CUT = {"surface_speed": 200, "feed": 0.2, "depth": 1.5}


def part(*kinds: str, end: str = "first", **more: Any) -> dict[str, Any]:
    """The plain sleeve's outside, from the demo's scenario."""
    operations = [{"kind": kind, "tool": TOOL, "cut": dict(CUT), **more} for kind in kinds]
    return {
        "part": {"material": "C45", "outside": copy.deepcopy(SLEEVE)},
        "stock": {"bar_diameter": 45, "face_stock": 1, "length": 42},
        "machine": {"max_rpm": 2500},
        "setups": [{"end": end, "operations": operations}],
    }


def cylinder(diameter: float, length: float) -> float:
    return math.pi / 4 * diameter**2 * length


def test_volumes_chain_and_are_those_of_cylinders() -> None:
    """By hand: the bar, the bar faced, and the outside of Ø42 turned to Z-28 of it."""
    found = answer(part("face", "rough", "finish", to=2), View())
    rows = found["operations"]
    assert rows[0]["volume_before"]["value"] == pytest.approx(cylinder(45, 42))
    assert rows[0]["volume_after"]["value"] == pytest.approx(cylinder(45, 41))
    for one, after in pairwise(rows):
        assert after["volume_before"] == one["volume_after"]
    # by Pappus: 0.4 nose and the edge leaning 3 degrees stand past Z-28, 1.5 high
    area = 0.4 * 1.5 - 0.4**2 * (1 - math.pi / 4) - 1.1**2 / 2 * math.tan(math.radians(3))
    beyond = 2 * math.pi * 21.75 * area
    taken = cylinder(45, 28) - cylinder(42, 28)
    assert rows[-1]["volume_after"]["value"] == pytest.approx(cylinder(45, 41) - taken - beyond, abs=1)
    assert rows[-1]["cut_too_deep"]["value"] == 0.0
    assert found["results"]["total_time"]["value"] == pytest.approx(sum(row["time"]["value"] for row in rows))
    assert found["tools"][0]["operations"] == [1, 2, 3]
    assert found["collisions"] == []
    assert found["left_out"] == []


def test_an_allowance_asked_of_a_finish_is_said_not_to_be_left() -> None:
    """It used to be dropped without a word, with nothing said to be left."""
    body = part("face", "rough", "finish", to=2)
    assert not any("does not leave" in said for said in answer(body, View())["cautions"])
    body["setups"][0]["operations"][2]["cut"]["allowance_x"] = 0.3
    (said,) = (said for said in answer(body, View())["cautions"] if "does not leave" in said)
    assert "does not leave the 0.300 mm" in said
    assert "leave the finish" in said


def test_passes_that_no_clear_path_leads_to_are_counted_in_a_caution() -> None:
    """A round insert of 6 mm nose cannot come down a wall into a dish from the outside: nothing is hit, it is said."""
    dish = {"kind": "arc", "x": 51.1762, "z": 0, "radius": 75, "centre_x": 0, "centre_z": 70.5, "turn": "cw"}
    body = part("rough")
    body["part"]["outside"] = {"start": {"x": 0, "z": -4.5}, "elements": [dish, line(58, 0), line(58, -20)]}
    body["stock"]["bar_diameter"] = 60
    body["setups"][0]["operations"][0]["tool"] = {
        "insert": "RCMT 1204M0",
        "holder": "SRDCN 2525M12",
        "shank": "across",
    }
    found = answer(body, View())
    assert found["collisions"] == []
    assert found["left_out"]
    assert (
        f"passes left out, since no path clear of stock and holder leads to them: {len(found['left_out'])}."
        in found["cautions"][0]
    )


def test_the_second_end_is_faced_from_its_own_zero() -> None:
    """By hand: 42 long, 1 off the first face, 1 off the second: 40 stays."""
    body = part("face", to=2)
    body["part"]["outside"]["elements"].append(line(0, -40))
    other = part("face", end="second", **{"from": 4, "to": 5})
    body["setups"] += other["setups"]
    rows = answer(body, View())["operations"]
    assert [row["volume_after"]["value"] for row in rows] == pytest.approx([cylinder(45, 41), cylinder(45, 40)])


def test_a_stretch_up_to_a_shoulder_stops_at_it_and_leaves_the_nose_in_its_corner() -> None:
    """The nose 0.4 in the corner of row 2: it leaves (sqrt 2 - 1) 0.4 to the corner, 0.117 square to the walls."""
    body = part("face", "rough", "finish", to=2)
    body["part"]["outside"]["elements"] = [line(36, 0), line(36, -28), line(42, -28), line(42, -40)]
    rows = answer(body, View())["operations"]
    assert max(row["cut_too_deep"]["value"] for row in rows) == 0.0
    assert rows[-1]["material_left"]["value"] == pytest.approx(0.4 * (1.0 - math.sqrt(0.5)), abs=0.002)


def test_a_stretch_in_the_middle_leaves_the_rows_around_it_alone() -> None:
    """By hand: Ø42 turned from Z0, then the step of Ø36 alone from Z-28 on, by its own operations."""
    body = part("face", "rough", "finish", to=2)
    more: Any = part("rough", "finish", to=4)
    for each in more["setups"][0]["operations"]:
        each["from"] = 3
    body["setups"][0]["operations"] += more["setups"][0]["operations"]
    rows = answer(body, View())["operations"]
    step = cylinder(45, 12) - cylinder(36, 12)
    taken = rows[2]["volume_after"]["value"] - rows[-1]["volume_after"]["value"]
    assert 0.8 * step < taken < 1.02 * step
    assert [row["cut_too_deep"]["value"] for row in rows] == [0.0] * 5


@pytest.mark.parametrize(
    ("path", "value", "field"),
    [
        ("setups.0.operations.0.tool", None, "setups.0.operations.0.tool"),
        ("setups.0.operations.0.kind", ["face"], "setups.0.operations.0.kind"),
        ("setups.0.operations.0.kind", "hob", "setups.0.operations.0.kind"),
        ("setups.0.operations.0.kind", "drill", "setups.0.operations.0.tool.diameter"),
        ("setups.0.operations.0.from", 9, "setups.0.operations.0.from"),
        ("setups.0.operations.0.cut.feed", math.nan, "setups.0.operations.0.cut.feed"),
        ("setups.0.operations.0.cut.feed", None, "setups.0.operations.0.cut.feed"),
        ("setups.0.operations.0.kind", "bore", "part.inside"),
        ("stock.bar_diameter", 1e9, "stock.bar_diameter"),
        ("stock.bar_diameter", 20, "stock.bar_diameter"),
        ("stock.length", 30, "stock.length"),
        ("part.material", "cheese", "part.material"),
        ("part.outside", None, "part.outside"),
        ("setups", [], "setups"),
    ],
)
def test_what_is_wrong_is_said_at_its_field(path: str, value: Any, field: str) -> None:
    body: Any = part("face", to=2)
    *way, last = path.split(".")
    at = body
    for name in way:
        at = at[int(name)] if name.isdigit() else at[name]
    at[last] = value
    with pytest.raises(Problem) as caught:
        answer(body, View())
    assert field in [fault.field for fault in caught.value.faults]


def test_finishing_from_the_raw_bar_is_planned_and_named_not_a_fault_of_the_library() -> None:
    """Areas that touch themselves are mended before they are held to the print."""
    body = copy.deepcopy(STEM)
    body["setups"][0]["operations"] = [body["setups"][0]["operations"][2]]
    rows = answer(body, View())["operations"]
    assert rows[0]["volume_after"]["value"] < rows[0]["volume_before"]["value"]


def test_more_passes_pecks_or_plunges_than_anybody_waits_for_are_refused_at_their_field() -> None:
    pecked = part("face", to=2)
    pecked["setups"][0]["operations"] = [
        {"kind": "drill", "tool": {"diameter": 10}, "depth": 30, "cut": {"depth": 0.01}},
    ]
    grooved = part("face", to=2)
    grooved["setups"][0]["operations"] = [{"kind": "groove", "tool": {"width": 0.2}, "from": 2, "to": 2}]
    thin = part("face", to=2)
    thin["setups"][0]["operations"][0]["cut"]["depth"] = 1e-9
    for body, field in ((pecked, "cut.depth"), (grooved, "tool.width"), (thin, "cut.depth")):
        with pytest.raises(Problem) as caught:
            answer(body, View())
        assert [fault.field for fault in caught.value.faults] == [f"setups.0.operations.0.{field}"]


def test_after_a_broken_edge_only_the_rest_runs_and_its_words_begin_there() -> None:
    """What still runs takes what the broken operation and those after it take, less the passes before the break."""
    whole = answer({**STEM, "words": True}, View())
    again = answer({**STEM, "words": True, "restart": {"operation": 2, "pass": 3}}, View())
    runs = again["to_run"]
    assert whole["to_run"] == []
    assert [row["operation"] for row in runs[:1]] == [2]
    assert sorted({row["operation"] for row in runs}) == [2, 3, 4]
    assert again["operations"] == whole["operations"], "the part's own numbers stay"
    taken = [row["volume_before"]["value"] - row["volume_after"]["value"] for row in whole["operations"]]
    later = sum(row["volume"]["value"] for row in runs if row["operation"] > 2)
    assert later == pytest.approx(sum(taken[2:]), rel=1e-6)
    assert 0.0 < sum(row["volume"]["value"] for row in runs if row["operation"] == 2) < taken[1]
    assert "operation 1" not in again["words"]
    assert any("change the edge" in note for note in again["notes"])


@pytest.mark.parametrize(
    ("restart", "field"),
    [
        ({"operation": 9}, "restart.operation"),
        ({"operation": 2, "pass": 99}, "restart.pass"),
        ({"operation": 1.5}, "restart.operation"),
        ({"pass": 2}, "restart.operation"),
        ({"operation": "two"}, "restart.operation"),
        ({"from": 2}, "restart.from"),
    ],
)
def test_a_restart_that_is_none_is_refused_at_its_field(restart: dict[str, Any], field: str) -> None:
    with pytest.raises(Problem) as caught:
        answer({**STEM, "restart": restart}, View())
    assert [fault.field for fault in caught.value.faults] == [field]


@pytest.mark.parametrize("value", [0, False, [], "x"])
@pytest.mark.parametrize("name", ["machine", "cut", "start"])
def test_what_must_be_an_object_is_not_taken_as_blank(name: str, value: object) -> None:
    body = part("face")
    holder, field = {
        "machine": (body, "machine"),
        "cut": (body["setups"][0]["operations"][0], "setups.0.operations.0.cut"),
        "start": (body["part"]["outside"], "part.outside.start"),
    }[name]
    holder[name] = value
    with pytest.raises(Problem) as refused:
        answer(body, View())
    assert refused.value.faults[0].field == field
    assert "object" in refused.value.faults[0].message.say()


def test_a_machine_of_which_nothing_is_known_may_be_null_or_left_out() -> None:
    known = part("face", end="first")
    for body in ({**known, "machine": None}, {name: value for name, value in known.items() if name != "machine"}):
        assert answer(body, View())["results"]["total_time"]["value"] > 0.0
