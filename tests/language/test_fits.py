"""Limits of size against the published tables."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.language.fits import (
    Limits,
    aimed_at,
    limits,
    read_class,
    scaled,
    standard_tolerance,
)
from calc.language.given import slack_of
from calc.language.problems import OutOfRange
from calc.language.quantities import DIAMETER
from calc.language.reading.classed import split_class

# DIN ISO 286, table of standard tolerances, µm, IT5 to IT11 for the ranges up to 500 mm
IT5_TO_IT11 = {
    3: (4, 6, 10, 14, 25, 40, 60),
    6: (5, 8, 12, 18, 30, 48, 75),
    10: (6, 9, 15, 22, 36, 58, 90),
    18: (8, 11, 18, 27, 43, 70, 110),
    30: (9, 13, 21, 33, 52, 84, 130),
    50: (11, 16, 25, 39, 62, 100, 160),
    80: (13, 19, 30, 46, 74, 120, 190),
    120: (15, 22, 35, 54, 87, 140, 220),
    180: (18, 25, 40, 63, 100, 160, 250),
    250: (20, 29, 46, 72, 115, 185, 290),
    315: (23, 32, 52, 81, 130, 210, 320),
    400: (25, 36, 57, 89, 140, 230, 360),
    500: (27, 40, 63, 97, 155, 250, 400),
}

# upper and lower deviations, µm, as the data of the package isofits 1.0 has them
CLASSES = ("H7", "H8", "f7", "g6", "h6", "js6", "k6", "m6", "n6", "p6", "r6")
DEVIATIONS = {
    6: "+12/0 +18/0 -10/-22 -4/-12 0/-8 +4/-4 +9/+1 +12/+4 +16/+8 +20/+12 +23/+15",
    10: "+15/0 +22/0 -13/-28 -5/-14 0/-9 +4.5/-4.5 +10/+1 +15/+6 +19/+10 +24/+15 +28/+19",
    18: "+18/0 +27/0 -16/-34 -6/-17 0/-11 +5.5/-5.5 +12/+1 +18/+7 +23/+12 +29/+18 +34/+23",
    30: "+21/0 +33/0 -20/-41 -7/-20 0/-13 +6.5/-6.5 +15/+2 +21/+8 +28/+15 +35/+22 +41/+28",
    50: "+25/0 +39/0 -25/-50 -9/-25 0/-16 +8/-8 +18/+2 +25/+9 +33/+17 +42/+26 +50/+34",
    65: "+30/0 +46/0 -30/-60 -10/-29 0/-19 +9.5/-9.5 +21/+2 +30/+11 +39/+20 +51/+32 +60/+41",
    80: "+30/0 +46/0 -30/-60 -10/-29 0/-19 +9.5/-9.5 +21/+2 +30/+11 +39/+20 +51/+32 +62/+43",
    100: "+35/0 +54/0 -36/-71 -12/-34 0/-22 +11/-11 +25/+3 +35/+13 +45/+23 +59/+37 +73/+51",
    120: "+35/0 +54/0 -36/-71 -12/-34 0/-22 +11/-11 +25/+3 +35/+13 +45/+23 +59/+37 +76/+54",
    140: "+40/0 +63/0 -43/-83 -14/-39 0/-25 +12.5/-12.5 +28/+3 +40/+15 +52/+27 +68/+43 +88/+63",
    160: "+40/0 +63/0 -43/-83 -14/-39 0/-25 +12.5/-12.5 +28/+3 +40/+15 +52/+27 +68/+43 +90/+65",
    180: "+40/0 +63/0 -43/-83 -14/-39 0/-25 +12.5/-12.5 +28/+3 +40/+15 +52/+27 +68/+43 +93/+68",
}

# ISO 286-1:2010 tables 2 to 5, from memory: holes that give way by delta, and the exceptions of the tables
HOLES_FROM_MEMORY = {
    ("K7", 25.0): (-15, 6),
    ("M7", 25.0): (-21, 0),
    ("N7", 25.0): (-28, -7),
    ("P7", 25.0): (-35, -14),
    ("P8", 25.0): (-55, -22),
    ("N9", 25.0): (-52, 0),
    ("M6", 300.0): (-41, -9),
    ("N9", 2.0): (-29, -4),
    ("J7", 25.0): (-9, 12),
    ("JS9", 25.0): (-26, 26),
    ("F8", 40.0): (25, 64),
    ("E9", 40.0): (50, 112),
    ("D10", 40.0): (80, 180),
    ("R7", 60.0): (-60, -30),
    ("R7", 70.0): (-62, -32),
}

SHAFTS_FROM_MEMORY = {
    ("j6", 25.0): (-4, 9),
    ("e8", 25.0): (-73, -40),
    ("d9", 25.0): (-117, -65),
    ("c11", 25.0): (-240, -110),
    ("a11", 25.0): (-430, -300),
    ("s6", 55.0): (53, 72),
    ("u8", 25.0): (48, 81),
    ("k8", 25.0): (0, 33),
    ("h11", 40.0): (-160, 0),
}


@pytest.mark.parametrize("size", IT5_TO_IT11)
def test_standard_tolerances_are_those_of_the_published_table(size: int) -> None:
    found = [standard_tolerance(float(size), grade) * 1000 for grade in range(5, 12)]
    assert found == pytest.approx(IT5_TO_IT11[size])


def test_a_standard_tolerance_of_a_worked_example_agrees() -> None:
    # IT14: 0.36 mm at 10 mm, 0.87 mm at 100 mm (an encyclopedia's article on IT grades)
    assert standard_tolerance(10.0, 14) == 0.36
    assert standard_tolerance(100.0, 14) == 0.87


@pytest.mark.parametrize("size", DEVIATIONS)
def test_deviations_are_those_of_the_published_tables(size: int) -> None:
    for name, pair in zip(CLASSES, DEVIATIONS[size].split(), strict=True):
        upper, lower = (float(part) for part in pair.split("/"))
        found = limits(float(size), read_class(name))
        assert (found.upper * 1000, found.lower * 1000) == pytest.approx((upper, lower)), name


@pytest.mark.parametrize(("name", "size"), [*HOLES_FROM_MEMORY, *SHAFTS_FROM_MEMORY])
def test_classes_with_rules_of_their_own_agree_with_the_tables(name: str, size: float) -> None:
    lower, upper = (HOLES_FROM_MEMORY | SHAFTS_FROM_MEMORY)[name, size]
    found = limits(size, read_class(name))
    assert (found.lower * 1000, found.upper * 1000) == pytest.approx((lower, upper))


def test_fits_of_the_worked_examples_come_out() -> None:
    # 25 H7/g6 clearance 7 to 41, 25 H7/p6 interference 1 to 35, 50 H7/k6 from -18 to +23 µm
    def clearance(size: float, hole: str, shaft: str) -> tuple[float, float]:
        a, b = limits(size, read_class(hole)), limits(size, read_class(shaft))
        return (round((a.lower - b.upper) * 1000, 6), round((a.upper - b.lower) * 1000, 6))

    assert clearance(25.0, "H7", "g6") == (7.0, 41.0)
    assert clearance(25.0, "H7", "p6") == (-35.0, -1.0)
    assert clearance(50.0, "H7", "k6") == (-18.0, 23.0)


def test_a_size_with_a_class_aims_at_the_middle_of_its_limits() -> None:
    aim = aimed_at(24.0, read_class("g6"))
    assert aim == pytest.approx(24.0 - 0.0135)
    assert aim.nominal == 24.0
    assert slack_of(aim) == pytest.approx(0.0065 + 0.0005)
    radius = scaled(aim, 0.5)
    assert radius == pytest.approx(aim / 2)
    assert radius.nominal == 12.0


@pytest.mark.parametrize(
    ("text", "size", "name"), [("24 g6", "24", "g6"), ("Ø 24,5 H7", "Ø 24,5", "H7"), ("3js9", "3", "js9")]
)
def test_a_size_with_its_class_is_split(text: str, size: str, name: str) -> None:
    found = split_class(text, DIAMETER)
    assert found is not None
    assert (found.size, str(found.tolerance)) == (size, name)


@pytest.mark.parametrize("text", ["24", "24 mm", "24 q6", "g6", "24 g61", "24 Js6", "", "1in"])
def test_what_is_no_size_with_a_class_is_left_alone(text: str) -> None:
    assert split_class(text, DIAMETER) is None


@pytest.mark.parametrize("text", ["", "g", "6", "gg6", "q6", "g0", "H01", "g19", "G6.5", "x" * 1000])
def test_an_unknown_class_is_refused(text: str) -> None:
    with pytest.raises(OutOfRange, match="not a tolerance class"):
        read_class(text, "diameter")


@pytest.mark.parametrize("size", [0.0, -1.0, 500.1, math.nan, math.inf])
def test_a_size_outside_the_tables_is_refused_at_its_field(size: float) -> None:
    with pytest.raises(OutOfRange) as error:
        limits(size, read_class("h7"), "diameter")
    assert error.value.faults[0].field == "diameter"


@pytest.mark.parametrize(("name", "size"), [("t6", 10.0), ("K9", 10.0), ("j8", 10.0), ("T7", 20.0)])
def test_a_class_that_the_standard_leaves_out_is_refused(name: str, size: float) -> None:
    with pytest.raises(OutOfRange):
        limits(size, read_class(name))


@given(st.floats(0.01, 500.0), st.integers(1, 18))
def test_the_tolerance_is_the_width_of_the_limits_and_zero_lines_hold(size: float, grade: int) -> None:
    shaft, hole = (limits(size, read_class(f"{letter}{grade}")) for letter in "hH")
    assert shaft.upper == hole.lower == 0.0
    assert shaft.tolerance == hole.tolerance == standard_tolerance(size, grade)


@given(st.floats(0.01, 500.0), st.integers(5, 11))
def test_letters_follow_each_other_from_loose_to_tight(size: float, grade: int) -> None:
    shafts = [limits(size, read_class(f"{letter}{grade}")).upper for letter in ("c", "d", "e", "f", "g", "h", "n", "p")]
    assert shafts == sorted(shafts)


@given(st.floats(3.01, 500.0), st.sampled_from(["P", "R", "S", "U"]))
def test_a_tight_hole_fits_a_basic_shaft_as_the_tight_shaft_fits_a_basic_hole(size: float, letter: str) -> None:
    # ISO 286-1: H7/p6 and P7/h6 have the same interference; that is what delta is for
    hole, shaft = limits(size, read_class(f"{letter}7")), limits(size, read_class(f"{letter.lower()}6"))
    assert -hole.lower - 0.0 == pytest.approx(shaft.upper)
    assert isinstance(hole, Limits)
