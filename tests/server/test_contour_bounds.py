"""Contours in JSON as the print has them, and what no part can have refused before work starts."""

import math

import pytest

from calc.language.problems import OutOfRange, Problem
from calc.language.quantities import View
from server.contour_api import answer

TAPER = {"kind": "line", "x": 22, "z": -22, "angle": 180 - math.degrees(math.atan(0.05))}


@pytest.mark.parametrize(
    ("corner", "x"),
    [
        ({"kind": "chamfer", "size": 1, "angle": 45, "along": "z"}, 17.9),
        ({"kind": "chamfer", "size": 1, "angle": 45}, 17.9),
        ({"kind": "chamfer", "size": 1}, 17.8),
    ],
)
def test_a_chamfer_on_a_taper_is_along_z_or_of_equal_legs(corner: dict[str, object], x: float) -> None:
    """1x45° on a face to a taper 1:10 that is Ø22 at Z-22: Ø19.8 at the sharp corner."""
    face = {"kind": "line", "z": 0, "angle": 90, "corner": corner}
    first = answer({"start": {"x": 0, "z": 0}, "elements": [face, TAPER]}, View())["solutions"][0]["elements"][0]
    assert first["x2"] == pytest.approx(x, abs=1e-9)


@pytest.mark.parametrize(("x", "sentence"), [(1e308, "too large"), (1e200, "3000 mm"), (-7000.0, "3000 mm")])
def test_a_body_refuses_what_no_part_can_have(x: float, sentence: str) -> None:
    with pytest.raises(OutOfRange) as error:
        answer({"start": {"x": 20, "z": 0}, "elements": [{"kind": "line", "x": x, "z": -5}]}, View())
    assert error.value.faults[0].field == "elements.0.x"
    assert sentence in str(error.value)


def test_more_rows_than_a_part_can_have_are_refused_before_they_are_read() -> None:
    line = {"kind": "line", "x": 20, "z": -5}
    with pytest.raises(OutOfRange) as error:
        answer({"start": {"x": 20, "z": 0}, "elements": [line] * 1001}, View())
    assert "at most 1000" in str(error.value)


def test_numbers_of_a_body_are_rounded_as_they_are_written() -> None:
    """R8 with its ends to two decimals: the line before and the arc join smoothly within the rounding."""
    rows = [
        {"kind": "line", "x": 31.0, "z": -20.0},
        {"kind": "arc", "x": 33.14, "z": -24.0, "radius": 8.0, "tangent": True},
    ]
    found = answer({"start": {"x": 31.0, "z": 0.0}, "elements": rows}, View())["solutions"][0]["elements"][1]
    assert (found["x2"], found["z2"]) == pytest.approx((33.14, -24.0), abs=0.006)


def test_limits_of_a_length_in_json_are_those_of_the_length() -> None:
    rows = [{"kind": "line", "x": 20, "z": "-28 +0.1/0"}]
    found = answer({"start": {"x": 20, "z": 0}, "elements": rows}, View())
    assert found["solutions"][0]["elements"][0]["z2"] == pytest.approx(-28.05)
    assert any("Z-28.1" in note and "Z-28" in note for note in found["notes"])


def test_a_radius_has_no_angle() -> None:
    corner = {"kind": "radius", "size": 1, "angle": 45}
    rows = [{"kind": "line", "x": 20, "z": 0, "corner": corner}, {"kind": "line", "x": 20, "z": -5}]
    with pytest.raises(Problem):
        answer({"start": {"x": 0, "z": 0}, "elements": rows}, View())


def test_a_contour_larger_than_its_bar_says_so_and_comes_last() -> None:
    """A line 25 long from Ø40 to Z-20 ends at Ø70 or at Ø10 (3-4-5 triangle): a bar of Ø45 decides."""
    line, body = {"kind": "line", "z": -20, "length": 25}, {"start": {"x": 40, "z": 0}, "bar_diameter": 45}
    found = answer({**body, "elements": [line]}, View())
    assert [round(one["elements"][0]["x2"], 6) for one in found["solutions"]] == [10.0, 70.0]
    assert not any("more than the bar" in caution for caution in found["cautions"])
    wide = answer({**body, "elements": [{**line, "x": 70}]}, View())
    assert any("more than the bar of Ø45" in caution for caution in wide["cautions"])
