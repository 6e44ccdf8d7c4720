"""How an operation's passes are led: from its row on the page and from a body, to the sweep and onto the sheet."""

from __future__ import annotations

import copy
from itertools import pairwise
from typing import Any

import pytest

from calc.answer.feature import Answer
from calc.language.problems import Problem
from calc.language.quantities import View
from calc.questions.part.declared import PartInputs
from calc.questions.part.examples import DCMT, SEAT, SLEEVE, STEM
from calc.questions.part.feature import FEATURE
from calc.questions.part.results import PartResults
from server.part_api import answer as call
from server.query import read_query
from tests.server.test_part_api import part


def asked(texts: dict[str, str], *operations: str) -> Answer[PartResults]:
    """The answer to a demonstration part with other operations."""
    query = read_query({**texts, "operations": "*".join(operations)}.items(), PartInputs)
    assert query.faults == ()
    return FEATURE.answer(query.inputs(PartInputs))[0]


FACE, ROUGH, FINISH = STEM["operations"].split("*")
LED = "spring_passes:2~cut_direction:back~lead_form:arc~lead_size:1"


@pytest.mark.parametrize("roughing", ["along z", "along x", "contour"])
def test_a_stem_is_roughed_by_every_strategy_with_easing_depths(roughing: str) -> None:
    """Nothing hits, nothing is cut too deep, and the sheet says how the passes are led where that is not as usual."""
    answer = asked(dict(STEM), FACE, f"{ROUGH}~roughing:{roughing}~pass_split:easing", FINISH)
    assert not [each for each in answer.cautions if "runs into" in each.message.text]
    assert answer.results.cut_too_deep == 0.0
    said = {"along z": "", "along x": "along X, ", "contour": "along the contour, "}[roughing] + "depths ease to half"
    assert [each.led for each in answer.tables["cuts"]] == [None, said, None]


def test_easing_levels_take_less_and_less() -> None:
    answer = asked(dict(SLEEVE), *SLEEVE["operations"].split("*")[:1], f"kind:rough~{DCMT}~surface_speed:180~feed:0.2"
                   "~depth:0.6~pass_split:easing~to_row:2")  # fmt: skip
    depths = [each.depth for each in answer.tables["passes"][1:-1]]
    assert len(depths) >= 3
    assert all(a > b for a, b in pairwise(depths))


def test_a_finish_is_led_as_its_row_says_and_leaves_the_same() -> None:
    plain, led = (asked(dict(STEM), FACE, ROUGH, FINISH + more) for more in ("", "~" + LED))
    assert led.tables["cuts"][2].led == "2 spring passes, away from the chuck, leads on arcs"
    assert [each.operation for each in led.tables["passes"]][-2:] == ["3 finish, spring 1", "3 finish, spring 2"]
    assert led.results.cut_too_deep == 0.0
    assert led.results.material_left == pytest.approx(plain.results.material_left, abs=2e-3)
    assert any("cut in that direction" in each.say() for each in led.notes)


def test_a_round_insert_is_fed_faster_in_shallow_passes_and_another_is_refused() -> None:
    face, rough, finish = SEAT["operations"].split("*")
    kept = asked(dict(SEAT), face, rough + "~feed_rule:chip", finish).tables["passes"]
    plain = asked(dict(SEAT), face, rough, finish).tables["passes"]
    for with_rule, without in zip(kept, plain, strict=True):
        assert (with_rule.depth, with_rule.removed) == (without.depth, without.removed)
    faster = [each for each, other in zip(kept, plain, strict=True) if each.feed > other.feed + 1e-9]
    assert faster
    assert all(each.feed <= 0.5 for each in faster)
    with pytest.raises(Problem, match="Only a round insert") as caught:
        asked(dict(STEM), FACE, ROUGH + "~feed_rule:chip", FINISH)
    assert caught.value.faults[0].field == "operations.1.feed_rule"


def test_a_body_says_the_same_by_the_same_names() -> None:
    body = part("face", "rough", "finish", to=2)
    _, rough, finish = body["setups"][0]["operations"]
    rough["roughing"] = "along x"
    rough["cut"]["pass_split"] = "easing"
    finish["cut"] |= {"spring_passes": 1, "cut_direction": "back", "lead_form": "tangent", "lead_size": 1}
    found = call({**body, "words": True}, View())
    assert found["collisions"] == []
    assert found["version"] == 3
    assert "finish, spring 1" in str(found["words"])
    assert (
        found["operations"][1]["volume_after"]
        != call(part("face", "rough", to=2), View())["operations"][1]["volume_after"]
    )


@pytest.mark.parametrize(
    ("name", "value", "said"),
    [
        ("pass_split", "halves", "one of"),
        ("lead_form", 3, "one of"),
        ("spring_passes", 11, "at most 10"),
        ("spring_passes", -1, "negative"),
        ("lead_size", 0, "more than 0"),
        ("lead_size", 1e6, "at most 100 mm"),
        ("feed_rule", "chip", "Only a round insert"),
    ],
)
def test_a_bad_value_is_refused_at_its_field(name: str, value: Any, said: str) -> None:
    body = copy.deepcopy(part("rough", to=2))
    body["setups"][0]["operations"][0]["cut"][name] = value
    with pytest.raises(Problem, match=said) as caught:
        call(body, View())
    assert caught.value.faults[0].field == f"setups.0.operations.0.cut.{name}"


@pytest.mark.parametrize("version", [4, 99, 0, -1, "3", 2.5, True])
def test_a_version_that_is_not_known_is_refused_in_words(version: Any) -> None:
    with pytest.raises(Problem, match="reads versions 1 to 3") as caught:
        call({**part("face"), "version": version}, View())
    assert caught.value.faults[0].field == "version"


@pytest.mark.parametrize("version", [1, 2, 3])
def test_every_version_up_to_ours_is_read(version: int) -> None:
    assert call({**part("face"), "version": version}, View())["version"] == 3
