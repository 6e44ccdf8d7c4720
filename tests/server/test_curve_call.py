"""`POST /api/geometry/fit-curve`: the table of points and the formula in, elements and the largest error out."""

import math

import pytest

from calc.contour.text import read_rows, rows_of
from calc.language.problems import OutOfRange
from calc.language.quantities import View
from calc.shapes.chosen import unique
from server.curve_api import answer

ELLIPSE = {"curve": {"kind": "ellipse", "semi_axis_x": 10, "semi_axis_z": 15}, "tolerance": 0.001}


def test_points_come_back_as_full_elements_in_the_readers_units() -> None:
    points = [{"x": 2 * 20 * math.sin(0.01 * i), "z": 20 * math.cos(0.01 * i) - 20} for i in range(100)]
    found = answer({"points": points, "tolerance": 0.001}, View())
    (arc,) = found["elements"]
    assert (arc["kind"], arc["turn"]) == ("arc", "ccw")
    assert (arc["radius"], arc["centre_x"], arc["centre_z"]) == pytest.approx((20.0, 0.0, -20.0), abs=1e-6)
    assert found["results"]["largest_error"]["unit"] == "mm"
    assert found["results"]["largest_error"]["value"] <= 0.001
    inch = answer({"points": [{k: v / 25.4 for k, v in p.items()} for p in points], "tolerance": 4e-5}, View("inch"))
    assert inch["elements"][0]["radius"] == pytest.approx(20.0 / 25.4, abs=1e-6)


def test_the_ellipse_30_by_20_by_its_formula_reaches_both_its_axes() -> None:
    found = answer(ELLIPSE, View())
    first, last = found["elements"][0], found["elements"][-1]
    assert (first["x1"], first["z1"]) == pytest.approx((0.0, 0.0), abs=1e-9)
    assert (last["x2"], last["z2"]) == pytest.approx((20.0, -15.0), abs=1e-9)
    assert found["results"]["largest_error"]["value"] <= 0.001


def test_the_elements_can_be_used_as_the_rows_of_a_contour() -> None:
    found = answer({**ELLIPSE, "tolerance": 0.01}, View())
    given, faults = read_rows(rows_of(found["contour"]), View())
    assert not faults
    chain = unique(given)
    assert len(chain) == len(found["elements"])
    assert (2.0 * chain.end.r, chain.end.z) == pytest.approx((20.0, -15.0), abs=1e-8)


@pytest.mark.parametrize(
    ("body", "field"),
    [
        ({"tolerance": 0.001}, "points"),
        ({"points": [{"x": 1, "z": 0}], "tolerance": 0.001}, "points"),
        ({"points": [{"x": 1, "z": 0}, {"x": None, "z": 0}], "tolerance": 0.001}, "points.1"),
        ({"points": [{"x": 1, "z": 0}, {"x": 2, "z": 0}]}, "tolerance"),
        ({"points": [{"x": 1, "z": 0}] * 10_001, "tolerance": 1}, "points"),
        ({"points": [{"x": 1, "z": 0}, {"x": 99999, "z": 0}], "tolerance": 1}, "points.1.x"),
        ({"curve": {"kind": "helix"}, "tolerance": 1}, "curve.kind"),
        ({"curve": {"kind": "parabola"}, "tolerance": 1}, "curve.radius"),
        ({"point": [], "tolerance": 1}, "point"),
    ],
)
def test_what_is_wrong_is_said_at_its_field(body: dict[str, object], field: str) -> None:
    with pytest.raises(OutOfRange) as error:
        answer(body, View())
    assert field in [fault.field for fault in error.value.faults]
