"""The check list of a part has the sizes that its print leaves blank, with the limits that carry through to them."""

from __future__ import annotations

import math

import pytest

from calc.contour.solving.habits import Habits
from calc.contour.text import ContourGiven, read_rows, rows_of
from calc.language.quantities import View
from calc.machining.removal.region import Bar
from calc.machining.removal.stock import stock_of
from calc.questions.part.carried_checks import carried_blanks
from calc.questions.part.checked import check_rows
from calc.questions.part.declared import PartInputs
from calc.questions.part.job import Job, Print
from calc.questions.part.left_on import Rest, turned_print
from calc.shapes.chosen import given_by, shape_chain

SEAT = "s_x0_z-4.5±0.05*a_r75±0.1_z0_cx0*f_x60*t_z-20"


def given(text: str) -> ContourGiven:
    return read_rows(rows_of(text), View())[0]


def mouth(radius: float, depth: float) -> float:
    """2 sqrt(2 R h - h2): the chord of a circle."""
    return 2.0 * math.sqrt(2.0 * radius * depth - depth**2)


def test_the_mouth_of_the_seat_is_checked_between_its_exact_extremes() -> None:
    """It grows with radius and depth: both smallest, both largest."""
    job = Job(Print(shape_chain("own", given_by(SEAT))), stock_of(Bar(31.0, 1.0, -30.0).area()), ())
    rows = check_rows(PartInputs(outside=given(SEAT)), job)
    (row,) = [each for each in rows if "by the other limits" in each.what]
    assert row.what == "outside, row 1, diameter, by the other limits"
    assert row.nominal == pytest.approx(mouth(75.0, 4.5), abs=1e-9)
    assert (row.lower, row.upper) == pytest.approx((mouth(74.9, 4.45), mouth(75.1, 4.55)), abs=1e-9)


@pytest.mark.parametrize(
    "text",
    [
        "s_x0_z-4.5*a_r75_z0_cx0*f_x60",  # no limits
        "s_x0_z0*f*t_x24 g6_z-28 +0.1/0*f_x31*t_z-60",  # blanks that are sizes of other rows
        "s_x0_z-4.5±0.05*a_r75±0.1_z0_cx0*e0.8*f_x60",  # the sharp mouth is taken away
    ],
)
def test_nothing_is_carried_where_nothing_is_left_blank_that_limits_move(text: str) -> None:
    assert carried_blanks(given(text), Habits("right", None)) == {}


def test_a_cone_with_limits_on_its_length_has_a_small_end_with_limits() -> None:
    """1:10 over 22 ±0.1 from Ø22: 19.8 less or more by 0.01."""
    found = carried_blanks(given("s_z0*l_x22_z-22±0.1_tp1:10*t_z-40"), Habits("right", None))
    both = found["rows.0.x"]
    assert [2.0 * each for each in (both.value, both.lower, both.upper)] == pytest.approx(
        [19.8, 19.79, 19.81], abs=1e-9
    )


@pytest.mark.parametrize(
    ("lean", "low", "high"),
    [
        ("ha2.8±0.1", 22.0 - 44.0 * math.tan(math.radians(2.9)), 22.0 - 44.0 * math.tan(math.radians(2.7))),
        ("tp0.1±0.002", 22.0 - 22.0 * 0.102, 22.0 - 22.0 * 0.098),
    ],
)
def test_the_limits_of_a_half_angle_and_of_a_ratio_carry_through_though_both_are_held_as_an_angle(
    lean: str, low: float, high: float
) -> None:
    """The small end of a cone of Ø22 over 22: 22 less twice 22 tan of the half angle, and less 22 times the taper."""
    both = carried_blanks(given(f"s_z0*l_x22_z-22_{lean}*t_z-40"), Habits("right", None))["rows.0.x"]
    assert [2.0 * both.lower, 2.0 * both.upper] == pytest.approx([low, high], abs=1e-9)


def test_the_limits_of_a_groove_s_depth_and_width_hold_on_both_its_walls() -> None:
    """Behind a groove of 3 ±0.1 from Z-9, the far wall is at 12 ±0.1; the length behind it is the print's own."""
    shaft = given("s_x0_z0*f_x42*t_z-9*g_w3±0.1_dep1.5±0.05*t_dz-5*f_x44*t_z-40")
    both = carried_blanks(shaft, Habits("right", None))["rows.4.z"]
    assert [-both.upper, -both.lower] == pytest.approx([16.9, 17.1], abs=1e-9)


def test_chamfers_and_edge_radii_are_checked_with_their_limits() -> None:
    text = "s_x0_z0*f_x42*c1±0.2x45°*t_z-20*f_x50*e0.8*t_z-40"
    job = Job(Print(shape_chain("own", given_by(text))), stock_of(Bar(31.0, 1.0, -50.0).area()), ())
    rows = {row.what: row for row in check_rows(PartInputs(outside=given(text)), job)}
    chamfer, edge = rows["outside, after row 1, chamfer"], rows["outside, after row 3, edge radius"]
    assert [chamfer.nominal, chamfer.lower, chamfer.upper] == pytest.approx([1.0, 0.8, 1.2])
    assert (edge.nominal, edge.lower, edge.measured_with) == (0.8, None, "radius gauge")


def test_a_groove_is_checked_by_its_width_and_depth_and_a_step_by_its_length() -> None:
    """Of an own bush: its grooves stood in no row of the list. The first is turned 0.1 deeper where 0.1 is left."""
    text = "s_x0_z0*f_x50*t_z-15*g_w3±0.1_dep2.5*t_dz-10±0.2*g_w3_x45*t_z-45"
    drawn = Print(shape_chain("own", given_by(text)))
    on_first = turned_print(drawn, "right", (Rest(0.1, first=2, last=2),))
    for print_, depth in ((drawn, 2.5), (on_first, 2.6)):
        job = Job(print_, stock_of(Bar(31.0, 1.0, -50.0).area()), ())
        rows = {row.what: row for row in check_rows(PartInputs(outside=given(text)), job)}
        width, deep = (rows[f"outside, row 5, {each} of the groove"] for each in ("width", "depth"))
        step, bottom = rows["outside, row 6, length"], "diameter at the bottom of the groove"
        assert [width.nominal, width.lower, width.upper, width.measured_with] == [3.0, 2.9, 3.1, "gauge blocks"]
        assert (deep.nominal, step.nominal, step.lower) == pytest.approx((depth, 10.0, 9.8))
        assert rows[f"outside, row 9, {bottom}"].nominal == 45.0


def test_an_extreme_between_the_limits_is_searched_for() -> None:
    """A depth of 74.5 to 75.5 in R75: the widest is 150, at a depth of 75, between the limits."""
    both = carried_blanks(given("s_x0_z-75±0.5*a_r75_z0_cx0*f_x160"), Habits("right", None))["rows.1.x"]
    assert 2.0 * both.upper == pytest.approx(150.0, abs=1e-9)
    assert 2.0 * both.lower == pytest.approx(mouth(75.0, 74.5), abs=1e-6)


def test_where_a_limit_has_no_contour_the_list_stays_as_the_print_has_it() -> None:
    """A depth of 150.1 in R75: there is no such dish."""
    assert carried_blanks(given("s_x0_z-149.9±0.2*a_r75_z0_cx0*f_x160"), Habits("right", None)) == {}


def test_the_corners_of_a_groove_are_no_blanks_of_a_row() -> None:
    """A groove 3 wide and 1.5 deep is one row of three elements, with limits before and behind it."""
    shaft = given("s_x0_z0*f*t_x42±0.1_z-19.5*g_w3_dep1.5*t_z-28*f_x36 h9*t_z-40")
    assert all(field.startswith("rows.3.") for field in carried_blanks(shaft, Habits("right", None)))
