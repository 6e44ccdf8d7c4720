"""The demo's parts from the bar to the finished piece by the call, and their words read back."""

from __future__ import annotations

import copy
import itertools
import math
import re
from typing import Any

import pytest

from calc.language.quantities import View
from calc.questions.part.run import run
from server.part_api import answer
from server.part_reading import PartReading
from tests.server.whole_parts import (
    FINE,
    PARTS,
    SEAT,
    SLEEVE,
    STEM,
    WHOLE,
)


@pytest.mark.parametrize("name", PARTS)
def test_a_part_of_the_demo_is_done_without_a_hit_and_with_nothing_left_out(name: str) -> None:
    body, view = PARTS[name]
    found = answer(copy.deepcopy(body), view)
    assert (found["collisions"], found["left_out"]) == ([], [])
    rows = found["operations"]
    assert [row["cut_too_deep"]["value"] for row in rows] == [0.0] * len(rows)
    assert found["results"]["total_time"]["value"] == pytest.approx(sum(row["time"]["value"] for row in rows))
    assert found["working"]


@pytest.mark.parametrize(("name", "operation", "left"), [("seat", 2, 0.0), ("pad", 2, 0.0), ("stem", 2, 0.118)])
def test_what_is_left_in_the_end_is_the_nose_in_its_sharp_corners(name: str, operation: int, left: float) -> None:
    """(1 - sqrt 1/2) of the nose 0.4, square to the walls of a corner; the seat and the pad have none."""
    body, view = PARTS[name]
    found = answer(copy.deepcopy(body), view)["operations"][operation]["material_left"]
    assert found["value"] == pytest.approx(left, abs=0.001)


def test_the_whole_sleeve_comes_out_of_the_bar_with_knurl_grooves_undercut_and_thread_on_both_sides() -> None:
    """The volume of its print by frustums, to what noses and blades leave in the corners: 0.5 % of it."""
    found = answer(copy.deepcopy(WHOLE), View())
    assert len(found["operations"]) == 15
    knurled = next(row for row in found["operations"] if row["name"].startswith("knurl"))
    assert knurled["volume_before"] == knurled["volume_after"]
    assert knurled["time"]["value"] > 0.0
    assert not [each for each in found["cautions"] if "needs a blank" in each]
    printed = sum(frustums(WHOLE["part"]["outside"], 40.0)) - sum(frustums(WHOLE["part"]["inside"], 40.0))
    assert found["operations"][-1]["volume_after"]["value"] == pytest.approx(printed, rel=0.005)


def frustums(contour: dict[str, Any], long: float) -> list[float]:
    """Volumes below a contour of straight lines, sharp corners, down to the end at Z of minus `long`."""
    points = [(contour["start"]["x"], contour["start"]["z"])]
    points += [(each["x"], each["z"]) for each in contour["elements"]]
    assert points[-1][1] == -long
    return [math.pi / 12 * (a * a + a * b + b * b) * (one - two) for (a, one), (b, two) in itertools.pairwise(points)]


def test_the_finished_seat_has_the_volume_of_its_print() -> None:
    """By hand: cylinder less the cap of the sphere R75, plus what the edge radius rounds off (below 30 mm3)."""
    rows = answer(copy.deepcopy(SEAT), View())["operations"]
    cap = math.pi * 4.5**2 * (75.0 - 4.5 / 3.0)
    whole = math.pi * 30.0**2 * (20.0 + 40.0) - cap
    assert rows[2]["volume_after"]["value"] == pytest.approx(whole, abs=30.0)


NUMBER = r"(-?\d*\.?\d+|-?\d+\.)"


def read_back(text: str) -> list[tuple[float, float]]:
    """The places (x, z) that the words go to, operation by operation in one run."""
    found = []
    for each in text.splitlines():
        place = re.match(rf"G(?:0|1|2|3|33) X{NUMBER} Z{NUMBER}", each)
        if place:
            found.append((float(place[1]), float(place[2])))
    return found


def test_the_words_of_a_part_lead_where_its_moves_lead() -> None:
    """An interpreter of its own reads the words; the moves are the path of the nose."""
    body = {**copy.deepcopy(SLEEVE), "words": True}
    text = answer(body, View())["words"]
    spots = read_back(text)
    done = run(PartReading(copy.deepcopy(SLEEVE), View()).job)
    drilled = done.operations[1]
    tips = [move.elements[-1].end.z for move in drilled.moves]
    assert [z for x, z in spots if x == 0.0 and z in (round(tip, 3) for tip in tips)] != []
    threads = [row.row.start_x for row in done.operations[9].passes if row.row is not None]
    for radius in threads:
        assert any(abs(x - 2.0 * radius) < 1e-3 for x, _ in spots)
    face = next(z for x, z in spots if abs(x + 1.6) < 1e-3)
    assert face == 0.0, "the tool point of the nose 0.8 stands at X-1.6 when its centre is on the axis"


def test_the_words_say_what_they_are_and_name_speeds_limits_and_tools() -> None:
    text = answer({**copy.deepcopy(SLEEVE), "words": True}, View())["words"]
    head = text.splitlines()[0]
    assert "not a program to run" in head
    for words in (
        "G92 S2500",
        "G96 S200",
        "G97 S",
        "G33 X",
        "(t2: twist drill 24 mm)",
        "(turn the part round: second end)",
    ):
        assert words in text, words


def test_a_cut_beyond_the_motor_and_a_limit_above_the_chuck_are_said() -> None:
    body = copy.deepcopy(STEM)
    body["machine"] = {"max_rpm": 4000, "motor_power": 2, "chuck_limit": 3200}
    rough = answer(body, View())["operations"][1]["cautions"]
    assert any("it stalls" in words for words in rough)
    assert any("marked on the chuck" in words for words in rough)
    assert any("3.6 diameters" in words for words in _out(body, 150.0))


def _out(body: dict[str, Any], length: float) -> list[str]:
    body["setups"][0]["length_out"] = length
    return list(answer(body, View())["operations"][1]["cautions"])


def test_a_second_tool_cuts_only_what_the_first_has_left() -> None:
    """The same roughing again finds nothing; a finer one takes what the first one's nose and edge could not."""
    body = copy.deepcopy(STEM)
    first = body["setups"][0]["operations"][:2]
    finer = {**first[1], "tool": FINE}
    body["setups"][0]["operations"] = [*first, copy.deepcopy(first[1]), finer]
    rows = answer(body, View())["operations"]
    again = rows[2]["volume_before"]["value"] - rows[2]["volume_after"]["value"]
    more = rows[3]["volume_before"]["value"] - rows[3]["volume_after"]["value"]
    roughed = rows[1]["volume_before"]["value"] - rows[1]["volume_after"]["value"]
    assert again == pytest.approx(0.0, abs=1.0)
    assert again <= more < 0.01 * roughed
    assert rows[3]["material_left"]["value"] <= rows[1]["material_left"]["value"]


def test_the_chuck_s_marking_holds_without_a_material_too() -> None:
    body = copy.deepcopy(STEM)
    body["part"].pop("material")
    body["machine"] = {"chuck_limit": 1500}
    body["setups"][0]["operations"] = body["setups"][0]["operations"][:1]
    found = answer(body, View())
    assert found["operations"][0]["force_max"] is None
    assert any("chuck" in words for words in found["cautions"])
