"""A knurl that the print carries: its blank is turned, it is proposed, and its sizes are those of the standard."""

from __future__ import annotations

import math

import pytest

from calc.language.problems import Problem
from calc.language.quantities import View
from calc.language.reading import ReadingError
from calc.questions.part.asking import prints_of
from calc.questions.part.declared import PartInputs
from calc.questions.part.feature import FEATURE
from calc.shapes.knurls_on_print import knurl_called
from server.query import read_query

BAR = {"material": "C45", "bar_diameter": "45", "face_stock": "1", "max_rpm": "2500"}
KNURLED = {"outside": "s_x0_z0*f*c1*t_x42_z-3*t_x42 DIN 82-RKE 1_z-13*t_z-40", **BAR}


def inputs_of(texts: dict[str, str]) -> PartInputs:
    query = read_query(texts.items(), FEATURE.inputs)
    assert not query.faults, query.faults
    found = query.inputs(FEATURE.inputs)
    assert isinstance(found, PartInputs)
    return found


def proposed(texts: dict[str, str]) -> str:
    with pytest.raises(Problem) as caught:
        FEATURE.answer(inputs_of(texts))
    return str(caught.value.faults[0].offers[0])


@pytest.mark.parametrize(
    ("text", "size", "form", "pitch"),
    [
        ("42 DIN 82-RKE 1", "42", "crossed", 1.0),
        ("Ø42 DIN 82 - RGE 0,8", "Ø42", "diamond", 0.8),  # the standard's own spelling of its designation
        ("1.65in knurl RAA 1.2", "1.65in", "straight", 1.2),
        ("42 h11, DIN 82-RBL 0.6", "42 h11", "diagonal-left", 0.6),
    ],
)
def test_a_knurl_is_read_as_a_print_has_it(text: str, size: str, form: str, pitch: float) -> None:
    found = knurl_called(text)
    assert found is not None
    assert (found.size, found.form, found.pitch) == (size, form, pitch)


def test_an_unknown_form_says_which_there_are() -> None:
    with pytest.raises(ReadingError) as caught:
        knurl_called("42 DIN 82-RXY 1")
    assert "RKE" in caught.value.message.say(View())


def test_the_row_is_turned_to_a_blank_that_the_teeth_close_round_and_drawn_over_its_crests() -> None:
    """DIN 82 has 42 - 0.67 = 41.33 before the knurl; 130 teeth of 1 mm close on 130 / pi = 41.380."""
    outside, _ = prints_of(inputs_of(KNURLED))
    assert outside.drawn is not None
    assert 2.0 * outside.drawn.chain.bounds.r_max == pytest.approx(42.0)
    row = [each for each, number in zip(outside.chain, outside.numbers, strict=True) if number == 3]
    blank = 2.0 * row[1].start.r
    assert blank == pytest.approx(130.0 / math.pi, rel=1e-12)
    assert abs(blank - 41.33) < 1.0 / math.pi
    assert [row[0].start.z, row[-1].end.z] == pytest.approx([-3.0, -13.0])


def test_it_is_proposed_after_what_is_turned_and_runs_on_the_blank_that_the_finish_has_left() -> None:
    operations = proposed(KNURLED)
    kinds = [row.split("~")[0].removeprefix("kind:") for row in operations.split("*")]
    assert kinds.index("finish") < kinds.index("knurl") < kinds.index("part-off")
    assert "groove" not in kinds, "its blank is turned, not plunged"
    answer = FEATURE.answer(inputs_of({**KNURLED, "operations": operations}))[0]
    said = [caution.message.say() for caution in answer.cautions]
    assert not any("needs a blank" in each or "Do not run" in each for each in said)
    assert answer.results.cut_too_deep == 0.0
    finish = next(row for row in answer.tables["done"] if "finish" in row.operation)
    assert finish.material_left < 0.05


def test_an_inch_page_reads_the_diameter_in_inches_and_the_pitch_as_the_standard_has_it() -> None:
    texts = {**BAR, "outside": "s_x0_z0*f*t_x1.65 DIN 82-RGE 0.8_z-1", "bar_diameter": "1.75", "units": "inch"}
    outside, _ = prints_of(inputs_of({**texts, "face_stock": "0.04"}))
    assert outside.drawn is not None
    assert 2.0 * outside.drawn.chain.bounds.r_max == pytest.approx(1.65 * 25.4)


def test_a_row_that_is_too_short_for_its_blank_is_refused_at_its_field() -> None:
    with pytest.raises(Problem) as caught:
        prints_of(inputs_of({**BAR, "outside": "s_x0_z0*f*t_x42_z-3*t_x42 DIN 82-RKE 1_z-4*t_z-40"}))
    assert [fault.field for fault in caught.value.faults] == ["rows.3.x"]
