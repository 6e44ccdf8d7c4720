"""Errors by cause from the declared inputs."""

import math
from typing import Any

import pytest

from calc.language.problems import Impossible, Missing, Problem
from calc.questions.measuring.error_by_cause import ErrorInputs, WrongInputs, solve
from calc.shapes.chosen import given_by

STEM = given_by("s_x0_z0*f_x20*l_x24_z-20*t_z-40")


def asked(**wrong: Any) -> Any:
    return solve(ErrorInputs(contour=STEM, nose_radius=0.8, wrong=WrongInputs(**wrong)))


def test_the_largest_error_and_its_place_are_given() -> None:
    """Two nose radii along elements, up to the root of two of that at corners, where both sides come together."""
    found = asked(compensation="other")
    assert -1.6 * math.sqrt(2.0) - 0.1 <= found.results.largest <= -1.6
    assert found.results.most_deep == -found.results.largest
    assert found.tables["elements"][2].off == pytest.approx(-1.6, abs=1e-3)
    assert found.results.largest_element is not None
    assert "1.600 mm into the part" in found.cautions[0].message.say()


def test_nothing_wrong_says_so_by_zero_and_no_place() -> None:
    found = asked().results
    assert abs(found.largest) < 1e-6
    assert found.largest_x is None


def test_every_element_has_its_row_with_errors_as_gauges_show_them() -> None:
    """X 0.01 off: the cylinder is 0.02 too large on diameter, the face does not change."""
    face, slope, cylinder = asked(x_off=0.01).tables["elements"]
    assert face.off == pytest.approx(0.0, abs=1e-9)
    assert cylinder.on_diameter == pytest.approx(0.02, abs=1e-9)
    assert slope.on_diameter == pytest.approx(0.02, abs=1e-6)


def test_off_centre_there_is_a_pip_and_a_caution() -> None:
    assert asked(height=0.3).results.pip_diameter == pytest.approx(0.6)
    assert "rubs" in asked(height=0.3).cautions[0].message.say()
    assert "climb" in asked(height=-0.3).cautions[0].message.say()


def test_small_errors_are_drawn_larger_and_large_ones_as_they_are() -> None:
    small = asked(x_off=0.01)
    assert "times as large" in small.notes[0].say()
    assert small.drawn() is not None
    assert asked(x_read="radius").notes == ()


def test_a_radius_read_as_a_diameter_is_told_to_be_dangerous() -> None:
    assert "half the diameter" in asked(x_read="diameter").cautions[0].message.say()


def test_what_cannot_be_is_said() -> None:
    with pytest.raises(Impossible) as raised:
        asked(nose_change=-0.8)
    assert raised.value.faults[0].field == "nose_change"
    with pytest.raises(Missing):
        solve(ErrorInputs(nose_radius=0.8))


def test_a_thread_cut_with_the_tool_is_said_with_its_class() -> None:
    """M24x2-6g: Td2 0.17 (ISO 965-2); the tool off by 0.1 makes 0.2."""
    shaft = given_by("s_x24_z0*t_z-30")
    asked = ErrorInputs(contour=shaft, nose_radius=0.4, thread="M24x2-6g", wrong=WrongInputs(x_off=0.1))
    found = solve(asked).results
    assert found.thread_pitch_off == pytest.approx(0.2)
    assert found.thread_fits == "out of its class"
    for bad in ("M24x0", "NPT 1/2"):
        with pytest.raises(Problem) as caught:
            solve(ErrorInputs(contour=shaft, nose_radius=0.4, thread=bad))
        assert [fault.field for fault in caught.value.faults] == ["thread"]
