"""The print as it is written, in the rows of a contour: limits of lengths, chamfers, diameters, a thread."""

import math

import pytest

from calc.contour import Arc, Line, Point
from calc.contour.callouts import rewritten
from calc.contour.corner import chamfer_at
from calc.contour.errors import ChamferTooLarge
from calc.contour.text import contour_rewritten, read_rows, rows_of
from calc.language.given import Given
from calc.language.quantities import LENGTH, View, Z
from calc.shapes.chosen import given_by, unique

FACE, SIDE = Line(Point(0.0, 0.0), Point(0.0, 20.0)), Line(Point(0.0, 20.0), Point(-30.0, 20.0))


def _points(text: str) -> list[tuple[float, float]]:
    return [(2.0 * element.end.r, element.end.z) for element in unique(given_by(text))]


@pytest.mark.parametrize(("zplus", "text"), [("out", "-28 +0.1/0"), ("in", "28 +0.1/0")])
@pytest.mark.parametrize("name", ["z", "dz"])
def test_limits_of_a_length_belong_to_the_length_whichever_way_z_points(name: str, zplus: str, text: str) -> None:
    """ISO 129-1: the limits stand behind the size; a length 28 +0.1/0 is 28.0 to 28.1 and ends at Z-28.1 to Z-28.0."""
    view = View(zplus=zplus)  # type: ignore[arg-type]  # a literal
    given, faults = read_rows(rows_of(f"s_x20_z0*t_{name}{text}"), view)
    aimed = getattr(given.elements[0], name)
    assert not faults
    assert isinstance(aimed, Given)
    assert (float(aimed), aimed.nominal, aimed.lower, aimed.upper) == pytest.approx((-28.05, -28.0, -28.1, -28.0))


def test_the_length_keeps_its_limits_when_the_page_turns_its_z() -> None:
    there = contour_rewritten("s_x20_z0*t_z-28 +0.1/0", View(), View(zplus="in"))
    assert there == "s_x20_z0*t_z28 +0.1/0"
    assert contour_rewritten(there, View(zplus="in"), View()) == "s_x20_z0*t_z-28 +0.1/0"
    assert rewritten("-28mm +0.1/0", Z, View(), View("inch")) == "-28mm +0.1/0"


def test_a_chamfer_of_1x45_on_a_face_to_a_1_to_10_taper_is_as_the_print_has_it() -> None:
    """Taper 1:10 of 22 from Ø22: Ø19.8 at the face. 1 along Z: Ø19.9 at Z-1, Ø17.9 on the face; equal legs: Ø17.8."""
    for callout in ("1x45°", "1x45", "1 X 45°", "1×45°", "C1"):
        assert _points(f"s_x0_z0*f*c{callout}*l_x22_z-22_tp1:10")[:2] == [
            pytest.approx((17.9, 0.0)), pytest.approx((19.9, -1.0)),
        ]  # fmt: skip
    assert _points("s_x0_z0*f*c1*l_x22_z-22_tp1:10")[0] == pytest.approx((17.8, 0.0))


def test_a_chamfer_of_2x30_is_2_long_and_30_degrees_to_the_axis() -> None:
    """2 tan 30° = 1.1547 on the radius, by hand."""
    assert _points("s_x0_z0*f*c2x30°*t_x40_z-20")[:2] == [
        pytest.approx((40.0 - 2.0 * 2.0 * math.tan(math.radians(30.0)), 0.0)), pytest.approx((40.0, -2.0)),
    ]  # fmt: skip
    assert chamfer_at(SIDE.reversed(), FACE.reversed(), 2.0, math.radians(30.0)).between.start == Point(-2.0, 20.0)


def test_a_chamfer_can_be_measured_along_the_element() -> None:
    taper = Line(Point(0.0, 9.9), Point(-22.0, 11.0))
    cut = chamfer_at(Line(Point(0.0, 0.0), Point(0.0, 9.9)), taper, 1.0, math.radians(45.0), "element").between
    assert cut.end.distance_to(Point(0.0, 9.9)) == pytest.approx(1.0)
    turn = abs(math.remainder(cut.start_heading - taper.start_heading, math.tau))
    assert turn == pytest.approx(math.radians(45.0))


def test_a_chamfer_ends_on_an_arc_where_its_z_says() -> None:
    """The arc about (-5, 10) of R5 is met at Z-1: its X there is 10 + 3 (3-4-5 triangle)."""
    crown = Arc(Point(0.0, 10.0), Point(-5.0, 15.0), Point(-5.0, 10.0), "ccw")
    cut = chamfer_at(Line(Point(8.0, 10.0), Point(0.0, 10.0)), crown, 1.0, math.radians(45.0)).between
    assert min(cut.start.z, cut.end.z) <= 0.0


def test_a_chamfer_longer_than_the_element_is_refused() -> None:
    with pytest.raises(ChamferTooLarge):
        chamfer_at(FACE, SIDE, 31.0, math.radians(45.0))
    with pytest.raises(ChamferTooLarge):
        chamfer_at(FACE, SIDE, 15.0, math.radians(60.0))


def test_a_cylinder_takes_its_own_diameter_with_the_face_before_it_left_blank() -> None:
    assert _points("s_x0_z0*f*t_x16_z-20*f_x30") == [(16.0, 0.0), (16.0, -20.0), (30.0, -20.0)]
    assert _points("s_x0_z0*f*t_xØ16_z-20") == [(16.0, 0.0), (16.0, -20.0)]
    assert _points("s_x0_z0*f*t_x24 g6_z-20")[1][0] == pytest.approx(23.9865)  # ISO 286-2: -0.007/-0.020
    assert _points("s_x0_z0*f*t_xM10_z-20")[0] == (10.0, 0.0)
    assert _points("s_x0_z0*f*t_xM12x1.5_z-20")[0] == (12.0, 0.0)


def test_what_no_part_can_have_is_refused_at_its_field_with_the_limit() -> None:
    for text, field in (("s_x20_z0*t_z-99999", "rows.1.z"), ("s_x1e5_z0*t_z-9", "rows.0.x")):
        _, faults = read_rows(rows_of(text), View())
        assert [fault.field for fault in faults] == [field]
        assert "at most 3000 mm" in faults[0].message.say()


def test_a_unit_goes_to_the_size_of_a_chamfer_not_behind_its_angle() -> None:
    assert rewritten("1x45°", LENGTH, View(), View("inch")) == "1mmx45°"
    assert _points("s_x0_z0*f*c1mmx45°*t_x40_z-20")[0] == (38.0, 0.0)
