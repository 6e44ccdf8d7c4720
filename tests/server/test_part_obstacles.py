"""Jaws, a centre and the ends of the travel: what runs into them is named, what clears them is not."""

from __future__ import annotations

import copy
from typing import Any

import pytest

from calc.language.quantities import View
from server.part_api import answer
from tests.server.test_whole_parts import STEM


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


def test_a_centre_is_in_the_way_of_facing_and_not_of_turning() -> None:
    found = stem(length_out=130, tailstock_diameter=12)
    assert (1, "tailstock centre") in hit(found)
    assert (4, "tailstock centre") not in hit(found)


@pytest.mark.parametrize(("limit", "operations"), [({"z_min": -60}, {2, 3, 4}), ({"x_max": 30}, {1, 2, 3, 4})])
def test_what_lies_beyond_the_travel_is_named(limit: dict[str, float], operations: set[int]) -> None:
    found = stem(travel=limit)
    assert {number for number, what in hit(found) if what == "end of the travel"} == operations
