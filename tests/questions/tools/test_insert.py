"""The insert question from its declared inputs."""

import math

import pytest

from calc.language.fields import build
from calc.language.problems import Missing
from calc.questions.tools.insert import FEATURE, InsertInputs, solve


def test_the_designation_gives_shape_angle_clearance_size_thickness_and_nose() -> None:
    """ISO 1832:2017, DCMT 11T304, as printed in catalogues."""
    found = solve(InsertInputs(designation="DCMT 11T304"))
    results = found.results
    assert results.shape == "D: rhombus, 55°"
    assert math.degrees(results.included_angle or 0.0) == pytest.approx(55.0)
    assert math.degrees(results.clearance or 0.0) == pytest.approx(7.0)
    assert (results.size, results.nose_radius, results.nose_radius_exact) == (9.525, 0.4, 0.396875)
    assert results.thickness == pytest.approx(3.97, abs=0.005)
    assert found.headline == "nose_radius"
    assert [row.code for row in found.tables["positions"]] == ["D", "C", "M", "T", "11", "T3", "04"]


def test_nominal_or_exact_is_the_readers_choice_and_is_told() -> None:
    exact = solve(InsertInputs(designation="CNMG 120408", nose_as="exact"))
    assert exact.results.nose_radius == pytest.approx(25.4 / 32)
    assert any("yours to choose" in note.say() for note in exact.notes)
    assert solve(InsertInputs(designation="RCMT 1204M0")).notes == ()


def test_a_part_of_a_designation_answers_with_what_it_tells() -> None:
    assert solve(InsertInputs(designation="D")).headline == "included_angle"
    assert solve(InsertInputs(designation="R")).headline == "shape"
    assert solve(InsertInputs(designation="DCMT 11")).headline == "size"
    assert solve(InsertInputs(designation="DCMT 11")).drawing is None


def test_the_working_has_edge_length_and_nose_height() -> None:
    _, steps = FEATURE.answer(InsertInputs(designation="CNMG 120408"))
    assert [step.formula.symbols[0] for step in steps] == ["l", "m"]
    _, steps = FEATURE.answer(InsertInputs(designation="RCMT 1204M0"))
    assert [(step.formula.symbols[0], step.value) for step in steps] == [("r", 6.0)]


@pytest.mark.parametrize(
    ("designation", "height"),
    [("TNMG 160408", 13.494), ("TNMG 220408", 18.256), ("CNMG 120408", 3.088), ("SNMG 120408", 2.301)],
)
def test_the_nose_height_of_a_triangle_is_from_the_opposite_edge(designation: str, height: float) -> None:
    """ISO 3364, dimension m, for noses of 1/32 in; from memory. ISO 1832: odd-sided inserts are measured across."""
    found = solve(InsertInputs(designation=designation, nose_as="exact")).results
    assert found.nose_height == pytest.approx(height, abs=6e-4)


def test_a_blank_question_asks_for_the_designation() -> None:
    with pytest.raises(Missing) as raised:
        build(InsertInputs, {})
    assert [fault.field for fault in raised.value.faults] == ["designation"]
