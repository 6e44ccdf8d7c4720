"""A contour as one text: there and back, in other conventions, with every fault said at its field."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.contour.row_words import CORNERS
from calc.contour.text import (
    LETTERS,
    MOST_ROWS,
    MOST_TEXT,
    OF_ROW,
    BadWord,
    Row,
    RowKind,
    contour_rewritten,
    contour_stripped,
    read_rows,
    rows_of,
    text_of,
)
from calc.language.given import Given
from calc.language.quantities import View

METRIC, INCH = View(), View("inch")
TWELVE = (
    "s_x0_z0*f*c1*l_x22_z-22_tp1:10*f_x24 g6*t_dz-38*f_x31*t*a_r8_smooth*l_x41_z-90_ha30_smooth*e0.8*t_dz-20"
    "*f_x60*t_z-130"
)


def _texts(kind: RowKind) -> st.SearchStrategy[dict[str, str]]:
    typed = st.text("0123456789.+-/ *_Ø°'gmin", max_size=8).map(str.strip)
    return st.dictionaries(st.sampled_from(OF_ROW[kind]), typed.filter(bool), max_size=4)


def _row(kind: RowKind) -> st.SearchStrategy[Row]:
    flags = st.frozensets(st.sampled_from(["smooth", "cw", "down"]), max_size=2)
    if kind in CORNERS:
        return _texts(kind).map(lambda texts: Row(kind, {CORNERS[kind]: texts.get(CORNERS[kind], "")}))
    return st.builds(Row, st.just(kind), _texts(kind), flags)


ROWS = st.lists(st.sampled_from([*LETTERS.values()][1:]).flatmap(_row), max_size=12)


@settings(deadline=None)
@given(_row("start"), ROWS)
def test_what_was_typed_comes_back_from_the_text_to_the_digit(start: Row, rows: list[Row]) -> None:
    assert list(rows_of(text_of([start, *rows]))) == [start, *rows]


def test_each_element_is_one_readable_word() -> None:
    words = TWELVE.split("*")
    assert [word[0] for word in words] == list("sfclftftaletft")
    assert text_of(rows_of(TWELVE)) == TWELVE


@pytest.mark.parametrize(
    ("text", "position"), [("s_x0*q9", 2), ("s_x0*l_y3", 2), ("sx0", 1), ("s*f_z3", 2), ("s_x0*l*s_x3", 3)]
)
def test_a_word_that_nobody_knows_is_named_by_its_place(text: str, position: int) -> None:
    with pytest.raises(BadWord) as caught:
        rows_of(text)
    assert caught.value.position == position


def test_a_contour_is_never_cut_short_in_silence() -> None:
    rows_of("*".join(["s", *["l"] * (MOST_ROWS - 1)]))
    with pytest.raises(BadWord):
        rows_of("*".join(["s", *["l"] * MOST_ROWS]))
    with pytest.raises(BadWord):
        rows_of("s_x" + "0" * (MOST_TEXT + 1))


def test_faces_keep_z_and_cylinders_keep_x() -> None:
    found, _ = read_rows(rows_of("s_x0_z0*f_x20*t_z-5"), METRIC)
    assert (found.elements[0].dz, found.elements[0].r, found.elements[1].dr, found.elements[1].z) == (0, 10, 0, -5)


@pytest.mark.parametrize(
    ("word", "degrees"),
    [("l_tp1:10", 180 - 2.862405226), ("l_ha30", 150), ("l_ha30_down", 210), ("l_at45", 45), ("l_at-45", -45)],
)
def test_a_line_leans_as_its_taper_half_angle_or_angle_says(word: str, degrees: float) -> None:
    """A taper of 1:10 on diameter leans by atan(1/20) = 2.862405 degrees (ISO 3040: C = 2 tan(alpha / 2))."""
    found, _ = read_rows(rows_of(f"s_x0_z0*{word}"), METRIC)
    assert found.elements[0].angle == pytest.approx(math.radians(degrees), abs=1e-10)


@pytest.mark.parametrize(
    ("text", "degrees"),
    [
        ("s_x40_z0*l_x30_ha20", 200),
        ("s_x40_z0*l_x39_z-0.5_ha45", 225),
        ("s_x40_z0*t_z-5*l_x30_tp1:10", 182.862405226),
        ("s_x40_z0*l_dx-4_ha20", 200),
        ("s_x30_z-9*l_x40_z0_ha20", 20),
        ("s_x40_z-9*l_x30_z0_ha20", 340),
        ("s_x40_z0*f_x30*l_x41_ha20", 160),
        ("s_x40_z0*l*l_x30_ha20_down", 200),
    ],
)
def test_a_half_angle_leans_to_where_the_ends_say_the_line_goes(text: str, degrees: float) -> None:
    found, _ = read_rows(rows_of(text), METRIC)
    assert math.degrees(found.elements[-1].angle or 0.0) == pytest.approx(degrees, abs=1e-8)


def test_an_angle_given_twice_is_a_fault_and_not_passed_over() -> None:
    _, faults = read_rows(rows_of("s_x0_z0*l_x20_ha30_tp1:10"), METRIC)
    assert [fault.field for fault in faults] == ["rows.1.tp"]


def test_a_tolerance_class_aims_at_the_middle_of_its_limits() -> None:
    """24 g6 is 23.980 to 23.993 (ISO 286-1:2010, IT6 13 um and deviation g -7 um for sizes above 18 to 24)."""
    found, faults = read_rows(rows_of("s_x0_z0*f_x24 g6"), METRIC)
    aimed = found.elements[0].r
    assert faults == ()
    assert isinstance(aimed, Given)
    assert 2 * aimed == pytest.approx((23.980 + 23.993) / 2, abs=1e-12)
    assert aimed.nominal == 12.0


@pytest.mark.parametrize("typed", ["24 g6", "Ø24 g6", "24mm g6", "R12 g6", "24g6"])
def test_a_class_of_an_x_is_that_of_the_diameter_however_it_is_typed(typed: str) -> None:
    found, _ = read_rows(rows_of(f"s_x0_z0*f_x{typed}"), METRIC)
    assert found.elements[0].r == pytest.approx(11.99325, abs=1e-12)


@pytest.mark.parametrize("typed", ["24 zz99", "24 q6", "900 g6", "0 g6", "g6"])
def test_a_class_without_limits_is_said_at_its_field(typed: str) -> None:
    _, faults = read_rows(rows_of(f"s_x0_z0*f_x{typed}"), METRIC)
    assert [fault.field for fault in faults] == ["rows.1.x"]


@pytest.mark.parametrize("new", [INCH, View(x="radius"), View(zplus="in"), View("inch", "radius", "in")])
def test_a_contour_in_other_conventions_means_the_same_and_keeps_its_digits(new: View) -> None:
    before, _ = read_rows(rows_of(TWELVE), METRIC)
    after, faults = read_rows(rows_of(contour_rewritten(TWELVE, METRIC, new)), new)
    assert faults == ()
    for one, other in zip(before.elements, after.elements, strict=True):
        for name in ("z", "r", "dz", "dr", "angle", "length", "radius", "centre_z", "centre_r"):
            assert getattr(one, name) == pytest.approx(getattr(other, name), abs=1e-12), name
        assert one.corner == other.corner


def test_bare_numbers_are_one_step_from_a_switch_of_units() -> None:
    switched = contour_rewritten("s_x0_z0*f_x24 g6*t_dz-38", METRIC, INCH)
    assert switched == "s_x0mm_z0mm*f_x24mm g6*t_dz-38mm"
    assert contour_stripped(switched, INCH) == "s_x0_z0*f_x24 g6*t_dz-38"


@pytest.mark.parametrize(
    ("text", "field"),
    [
        ("s_x0_z0*l_xabc", "rows.1.x"),
        ("s_x0_z0*c1", "rows.1.size"),
        ("s_x0_z0*f_x20*c1*e1*t_z-5", "rows.3.size"),
        ("s_x0_z0*f_x20*c-1*t_z-5", "rows.2.size"),
        ("s_x0_z0*f_x20*c0*t_z-5", "rows.2.size"),
        ("s_x1,500_z0*f_x20", "rows.0.x"),
        ("s_x20_z0*t_z-5*g_w2_dep1_br0*t_z-9", "rows.2.br"),
    ],
)
def test_what_is_wrong_is_said_at_its_field(text: str, field: str) -> None:
    _, faults = read_rows(rows_of(text), METRIC)
    assert [fault.field for fault in faults] == [field]


def test_of_a_groove_each_size_that_cannot_be_is_said_once() -> None:
    _, faults = read_rows(rows_of("s_x20_z0*t_z-5*g_w0_dep0_r0*t_z-9"), METRIC)
    assert sorted(fault.field for fault in faults) == ["rows.2.dep", "rows.2.r", "rows.2.w"]


def test_a_corner_without_a_size_is_unfinished_and_not_wrong() -> None:
    found, faults = read_rows(rows_of("s_x0_z0*f_x20*c*t_z-5"), METRIC)
    assert faults == ()
    assert [fault.field for fault in found.unfinished] == ["rows.2.size"]


def test_what_the_solver_says_of_an_element_is_found_at_its_row() -> None:
    found, _ = read_rows(rows_of("s_x0_z0*f_x20*c1*l_x30_ha20*a_r5_smooth"), METRIC)
    said = ["start.z", "elements.0.corner.size", "elements.1.angle", "elements.2.centre_x", "elements.2.tangent"]
    assert [found.field(name) for name in said] == [
        "rows.0.z",
        "rows.2.size",
        "rows.3.ha",
        "rows.4.cx",
        "rows.4.smooth",
    ]
    assert found.field("elements") == "elements"
    groove, _ = read_rows(rows_of("s_x20_z0*t_z-5*g_w2_dep1_br0.2*t_z-9"), METRIC)
    assert [groove.field(f"elements.{index}.corner.size") for index in (0, 3)] == ["rows.2.br", "rows.2.br"]
    plain, _ = read_rows(rows_of("s_x20_z0*t_z-5*g_w2_dep1*t_z-9"), METRIC)
    assert plain.field("elements.3.corner.size") != "rows.2.br"
