"""The path of a groove: every place cut, ribs between whole plunges, walls on size, corners broken."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import box
from shapely.ops import unary_union

from calc.cutting.groove_path import GrooveAsked, groove_moves, plunge_places
from calc.cutting.plunging import plunges
from calc.language.problems import Impossible, Missing, OutOfRange
from calc.questions.operations.grooving_cut import GroovingInputs, solve
from tests.asking import asked

GROOVE: dict[str, Any] = {
    "material": "C45",
    "start_diameter": 60.0,
    "bottom_diameter": 52.0,
    "groove_width": 8.0,
    "insert_width": 3.0,
}


def grooved(**values: Any) -> Any:
    return solve(asked(GroovingInputs, **{**GROOVE, **values}))


@given(width=st.floats(3.0, 40.0), left=st.floats(0.0, 0.5))
def test_the_plunges_take_the_whole_groove_and_each_only_what_is_left(width: float, left: float) -> None:
    """Held against areas of a geometry library."""
    groove = GrooveAsked(30.0, 26.0, -5.0, width + 2 * left, 3.0, 0.1, on_walls=left)
    places = plunge_places(groove, round(plunges(width, 3.0, 0.8)))
    cut: Any = unary_union([])
    for place in places:
        slot = box(place.z - 3.0, 0.0, place.z, 1.0)
        assert slot.difference(cut).area == pytest.approx(place.chip_width, abs=1e-6)
        cut = unary_union([cut, slot])
    wanted = box(-5.0 - left - width, 0.0, -5.0 - left, 1.0)
    assert cut.symmetric_difference(wanted).area == pytest.approx(0.0, abs=1e-6)


def test_whole_plunges_come_first_and_the_ribs_between_them_after() -> None:
    rows = grooved(groove_width=11.0).tables["order"]
    assert [round(row.chip_width, 3) for row in rows] == [3.0, 3.0, 3.0, 1.0, 1.0]
    assert [round(row.z, 3) for row in rows] == [0.0, -4.0, -8.0, -2.0, -6.0]


def test_what_is_left_on_walls_and_bottom_is_taken_last_from_both_walls_to_the_middle() -> None:
    answer = grooved(left_on_walls=0.2, left_on_bottom=0.1, corner_break=0.3)
    moves = answer.tables["moves"]
    assert [move.x for move in moves if move.move.startswith("plunge")] == [pytest.approx(26.1)] * 3
    walls = [move for move in moves if move.move.startswith("wall")]
    assert [(move.x, move.z) for move in walls] == [(26.0, 0.0), (26.0, -5.0)]
    breaks = [move for move in moves if move.move == "corner break"]
    assert [(move.x, move.z) for move in breaks] == [(pytest.approx(29.7), 0.0), (pytest.approx(29.7), -5.0)]
    meets = [move.z for move in moves if move.move == "along the bottom"]
    assert meets[0] < meets[1]  # they overlap
    assert answer.results.finish_time > 0.0


def test_a_break_runs_at_45_degrees_from_air_in() -> None:
    groove = GrooveAsked(30.0, 26.0, 0.0, 8.0, 3.0, 0.1, corner_break=0.3)
    moves = list(groove_moves(groove, ()))
    for before, after in pairwise(moves):
        if after.why == "corner break":
            assert abs(before.z - after.z) == pytest.approx(before.r - after.r)
            assert before.r > 30.0


def test_in_a_bore_everything_goes_outward() -> None:
    moves = grooved(start_diameter=40.0, bottom_diameter=46.0, left_on_walls=0.1).tables["moves"]
    assert min(move.x for move in moves) == pytest.approx(19.0)
    assert max(move.x for move in moves) == pytest.approx(23.0)


def test_a_groove_as_wide_as_its_insert_is_one_plunge_without_a_finish() -> None:
    answer = grooved(groove_width=3.0)
    assert [row.move for row in answer.tables["moves"]] == ["to plunge 1", "plunge 1", "out"]
    assert answer.results.finish_time is None
    assert "left_on_walls" not in [caution.about for caution in answer.cautions]
    assert "left_on_walls" in [caution.about for caution in grooved().cautions]


@pytest.mark.parametrize(
    ("width", "bottom", "left", "chosen", "why"),
    [  # what a setter takes: common practice, no source
        (
            1.3,
            37.5,
            0.0,
            1.2,
            "widest usual one",
        ),  # the groove of DIN 471 for a shaft of 40 is 1.85 wide; a narrower one
        (3.0, 52.0, 0.0, 3.0, "as wide as the groove"),
        (3.6, 52.0, 0.2, 3.0, "widest usual one"),
        (8.0, 52.0, 0.2, 4.0, "chatter sooner"),
        (12.0, 4.0, 0.0, 6.0, "5 widths"),
    ],
)
def test_the_insert_for_a_groove_is_chosen_with_its_reason(
    width: float, bottom: float, left: float, chosen: float, why: str
) -> None:
    answer = grooved(insert_width=None, groove_width=width, bottom_diameter=bottom, left_on_walls=left)
    assert answer.results.insert == chosen
    assert why in answer.notes[0].say()
    given_it = grooved(insert_width=chosen, groove_width=width, bottom_diameter=bottom, left_on_walls=left)
    assert given_it.results.insert is None
    assert replace(answer.results, insert=None) == given_it.results


@pytest.mark.parametrize(("width", "widest"), [(8.0, 8.0), (3.2, 3.0), (2.15, 2.0), (1.1, 1.0)])
def test_the_widest_usual_insert_fits(width: float, widest: float) -> None:
    assert grooved(groove_width=width, insert_width=0.8).results.widest_insert == widest


@pytest.mark.parametrize(
    ("values", "problem"),
    [
        ({"insert_width": None, "groove_width": None}, Missing),
        ({"insert_width": None, "groove_width": 0.6}, Impossible),
        ({"corner_break": 4.0}, Impossible),
        ({"left_on_bottom": 4.0}, Impossible),
        ({"left_on_walls": 2.6}, Impossible),
        ({"left_on_walls": -0.1}, OutOfRange),
        ({"left_on_bottom": float("nan")}, OutOfRange),
    ],
)
def test_what_cannot_be_is_refused(values: dict[str, float], problem: type[Exception]) -> None:
    with pytest.raises(problem):
        grooved(**values)
