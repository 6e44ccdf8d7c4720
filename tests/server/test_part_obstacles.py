"""Jaws, a centre and the ends of the travel: what runs into them is named, what clears them is not."""

from __future__ import annotations

import copy
import re
from typing import Any

import pytest

from calc.language.problems import Problem
from calc.language.quantities import View
from server.part_api import answer
from tests.server.whole_parts import SLEEVE, STEM, STRONG, cut, line


def stem(**setup: Any) -> dict[str, Any]:
    body = copy.deepcopy(STEM)
    body["setups"][0] |= setup
    return answer(body, View())


def hit(found: dict[str, Any]) -> set[tuple[int, str]]:
    return {(each["operation"], each["hits"]) for each in found["collisions"]}


def test_a_part_that_stands_out_far_enough_hits_nothing() -> None:
    """90 long, parted off with 4 behind it, 1 in front: 110 out of jaws of Ø120."""
    found = stem(length_out=110, jaw_diameter=120, travel={"x_max": 300, "z_min": -200})
    assert found["collisions"] == []


def test_parting_off_beyond_the_jaws_runs_into_them() -> None:
    """The blade stands at Z-90 to Z-94, the jaws' face at Z-92: by hand."""
    found = stem(length_out=93)
    assert (4, "jaws") in hit(found)
    assert any("runs into the jaws" in words for words in found["operations"][3]["cautions"])
    assert any("the tool runs into the jaws. Do not run it" in words for words in found["cautions"])


def test_a_centre_is_in_the_way_of_facing_and_not_of_turning() -> None:
    found = stem(length_out=130, tailstock_diameter=12)
    assert (1, "tailstock centre") in hit(found)
    assert (4, "tailstock centre") not in hit(found)


@pytest.mark.parametrize(("limit", "operations"), [({"z_min": -60}, {2, 3, 4}), ({"x_max": 30}, {1, 2, 3, 4})])
def test_what_lies_beyond_the_travel_is_named(limit: dict[str, float], operations: set[int]) -> None:
    found = stem(travel=limit)
    assert {number for number, what in hit(found) if what == "end of the travel"} == operations


def test_a_steady_rest_is_in_the_way_of_the_cut_that_passes_it() -> None:
    """At Z-40 the stem is turned to Ø24 by roughing: a rest of 20 stands there in the bar, at Z-30 to Z-50."""
    assert {number for number, what in hit(stem(steady_rest={"z": -40, "width": 20})) if what == "steady rest"} >= {2}
    assert hit(stem(steady_rest={"z": -130, "width": 20})) == set()


def test_the_turret_turns_where_the_tool_is_clear_of_the_bar() -> None:
    """The bar is Ø42 with 1 mm in front: at X20 Z-10 the tool stands in it, at X200 Z100 nowhere near."""
    found = stem(turning_at={"x": 20, "z": -10})
    assert (1, "stock") in hit(found)
    assert any("Where the turret indexes" in words for words in found["operations"][0]["cautions"])
    assert hit(stem(turning_at={"x": 200, "z": 100})) == set()


def test_the_chucks_body_is_behind_its_jaws() -> None:
    """Jaws of Ø60 that stand out by 5: the blade is wider than what clears them and meets the chuck at Z-98."""
    assert (4, "chuck") in hit(stem(length_out=92, jaw_diameter=60, jaw_length=0.1))


@pytest.mark.parametrize(
    ("setup", "words"),
    [
        ({"length_out": 100, "collet": {"from": 40, "to": 42}}, None),
        ({"length_out": 100, "collet": {"from": 20, "to": 36}}, "take another collet"),
        ({"length_out": 100, "soft_jaw_diameter": 42}, None),
        ({"length_out": 100, "soft_jaw_diameter": 41.5}, "does not go in"),
        ({"length_out": 100, "soft_jaw_diameter": 43}, "held on edges"),
    ],
)
def test_what_holds_the_work_fits_it(setup: dict[str, Any], words: str | None) -> None:
    """The bar is Ø42: by hand."""
    cautions = stem(**setup)["cautions"]
    said = [each for each in cautions if "collet" in each or "soft jaws" in each]
    assert (words is None and not said) or (words is not None and any(words in each for each in said))


def test_soft_jaws_hold_what_the_first_side_made() -> None:
    """The sleeve, parted off with 0.5 to face, is 40.5 long: Ø42 goes 20 deep into jaws bored to 42; 25 out of them,
    it stands 4.5 off their ledge. By hand.
    """

    def second(**jaws: Any) -> list[str]:
        body = copy.deepcopy(SLEEVE)
        body["setups"][1] |= jaws
        return [words for words in answer(body, View())["cautions"] if "soft jaws" in words]

    assert second(soft_jaw_diameter=42, soft_jaw_depth=20) == []
    assert any("does not go in" in words for words in second(soft_jaw_diameter=38, soft_jaw_depth=10))
    assert any("off their ledge" in words for words in second(soft_jaw_diameter=42, soft_jaw_depth=20, length_out=25))


@pytest.mark.parametrize(
    ("setup", "field"),
    [
        ({"collet": {"from": 20}}, "setups.0.collet.to"),
        ({"steady_rest": {"z": -20}}, "setups.0.steady_rest.width"),
        ({"turning_at": {"x": 90}}, "setups.0.turning_at.z"),
        ({"jaw_length": -1}, "setups.0.jaw_length"),
        ({"collet": 5}, "setups.0.collet"),
    ],
)
def test_half_of_what_is_asked_is_refused_at_its_field(setup: dict[str, Any], field: str) -> None:
    with pytest.raises(Problem) as caught:
        stem(**setup)
    assert caught.value.faults[0].field == field


def turned_behind(**setup: Any) -> dict[str, Any]:
    """The stem roughed, then clamped anew, and its last row finished: a straight way there leads past a rest."""
    body = copy.deepcopy(STEM)
    operations = {each["kind"]: each for each in body["setups"][0]["operations"]}
    last = len(body["part"]["outside"]["elements"])
    finish = {**operations["finish"], "from": last, "to": last}
    body["setups"] = [
        {"end": "first", "operations": [operations["face"], operations["rough"]]},
        {"end": "first", "operations": [finish], "length_out": 130} | setup,
    ]
    return answer({**body, "words": True}, View())


def test_a_rapid_move_is_led_round_a_steady_rest_and_refused_only_where_no_path_is_left() -> None:
    """Z-40, 20 wide: reaching to Ø90 it is passed in X, then in Z; endless it is not."""
    free, led, barred = (
        turned_behind(),
        turned_behind(steady_rest={"z": -40, "width": 20, "outer_diameter": 90}),
        turned_behind(steady_rest={"z": -40, "width": 20}),
    )
    assert hit(free) == hit(led) == set()
    assert led["operations"][2]["volume_after"] == free["operations"][2]["volume_after"]
    highest = [
        max(map(float, re.findall(r"G0 X([\d.]+)", found["words"].split("operation 3")[1]))) for found in (free, led)
    ]
    assert highest[0] < 90.0 < highest[1]
    assert {what for _, what in hit(barred)} == {"steady rest"}


def test_with_a_centre_the_outside_is_turned_as_without_and_only_the_face_is_barred() -> None:
    free, held = stem(length_out=130), stem(length_out=130, tailstock_diameter=30)
    assert {number for number, _ in hit(held)} == {1}
    for index in (1, 2):
        assert held["operations"][index]["volume_after"] == free["operations"][index]["volume_after"]


REST = {"z": -20, "width": 16}


def behind_the_rest(kind: str, **setup: Any) -> dict[str, Any]:
    """A groove of 3 at Z-60 or a thread from Z-50 to its relief at Z-78, on a shaft that is turned already."""
    grooved = [line(30, 0), line(30, -60), line(26, -60), line(26, -63), line(30, -63), line(30, -90)]
    turned = [line(24, 0), line(24, -50), line(24, -78), line(20, -78), line(20, -86), line(30, -86), line(30, -90)]
    groove = {"kind": "groove", "tool": {"width": 3}, "from": 3, "to": 5}
    thread = {"kind": "thread", "tool": {"thread": "M24x2-6g"}, "from": 3, "to": 3}
    body = {
        "part": {
            "material": "C45",
            "outside": {"start": {"x": 0, "z": 0}, "elements": grooved if kind == "groove" else turned},
        },
        "stock": {"bar_diameter": 30},
        "machine": {"max_rpm": 2500},
        "setups": [
            {"operations": [{"kind": "rough", "tool": STRONG, "cut": cut(180, 0.2, 1.5)}]},
            {"operations": [groove if kind == "groove" else thread], "length_out": 130} | setup,
        ],
    }
    return answer({**body, "words": True}, View())


@pytest.mark.parametrize("kind", ["groove", "thread"])
def test_blades_and_threading_tools_are_led_round_a_rest_too(kind: str) -> None:
    """Reaching to Ø70 it is passed in X; endless it is in the way and named."""
    free, led = behind_the_rest(kind), behind_the_rest(kind, steady_rest={**REST, "outer_diameter": 70})
    assert hit(free) == hit(led) == set()
    assert led["operations"][1]["volume_after"] == free["operations"][1]["volume_after"]
    assert led["operations"][1]["time"] == free["operations"][1]["time"]
    highest = [
        max(map(float, re.findall(r"G0 X([\d.]+)", found["words"].split("operation 2")[1]))) for found in (free, led)
    ]
    assert highest[0] < 70.0 < highest[1]
    assert {what for _, what in hit(behind_the_rest(kind, steady_rest=REST))} == {"steady rest"}


def test_a_drill_stays_on_the_axis_where_a_rest_is_no_matter_and_a_centre_cannot_be_passed() -> None:
    body = copy.deepcopy(SLEEVE)
    drill = {"operations": [body["setups"][0]["operations"][1]], "length_out": 80}

    def found(**setup: Any) -> set[str]:
        return {what for _, what in hit(answer({**body, "setups": [drill | setup]}, View()))}

    assert found(steady_rest={"z": -20, "width": 10}) == set()
    assert found(tailstock_diameter=12) == {"tailstock centre"}
