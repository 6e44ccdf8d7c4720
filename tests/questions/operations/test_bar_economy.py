"""Parts from a bar, held to counting by hand and to exact fractions."""

from __future__ import annotations

from fractions import Fraction
from math import floor

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.language.fields import build, specs
from calc.language.problems import Impossible, Missing, OutOfRange, Problem
from calc.language.quantities import DENSITY, MASS
from calc.language.working import recording
from calc.questions.operations.bar_economy import BarEconomyInputs, BarEconomyResults, solve


def asked(**values: float | str) -> BarEconomyResults:
    return solve(build(BarEconomyInputs, values)).results


def test_a_three_metre_bar_of_sleeves() -> None:
    """Counted by hand: 2880 mm can be used, 44 mm each, 65 parts take 2860 mm."""
    found = asked(bar_length=3000.0, part_length=40.0, face_stock=1.0, blade_width=3.0, remnant=120.0, batch=200.0)
    assert (found.parts, found.length_per_part, found.rest, found.bars) == (65, 44.0, 140.0, 4.0)


def test_a_bar_that_divides_exactly_loses_no_part_to_rounding() -> None:
    """0.1 mm cannot be held exactly in a float: 30 parts of 0.1 + 0.2 are still 30 in a bar of 9."""
    assert asked(bar_length=9.0, part_length=0.1, face_stock=0.0, blade_width=0.2).parts == 30


@given(
    bar=st.integers(500, 6000),
    part=st.integers(1, 4000),
    stock=st.integers(0, 30),
    blade=st.integers(10, 60),
    remnant=st.integers(0, 200),
)
def test_parts_equal_exact_fractions(bar: int, part: int, stock: int, blade: int, remnant: int) -> None:
    """Tenths of a millimetre as exact fractions."""
    each = Fraction(part + stock + blade, 10)
    parts = floor((bar - remnant) / each)
    values = {"bar_length": float(bar), "part_length": part / 10, "face_stock": stock / 10, "blade_width": blade / 10}
    if parts < 1:
        with pytest.raises(Impossible):
            asked(**values, remnant=float(remnant))
        return
    found = asked(**values, remnant=float(remnant))
    assert found.parts == parts
    assert found.rest == pytest.approx(float(bar - parts * each), abs=1e-9)


def test_the_mass_of_a_bar_as_a_steel_table_prints_it() -> None:
    """Round steel Ø45 at 7.85 kg/dm3 is 12.5 kg/m: steel tables, from memory."""
    found = asked(
        bar_length=1000.0, part_length=99.0, blade_width=1.0, stock_diameter=45.0, density=DENSITY.internal(7.85)
    )
    assert found.bar_mass is not None
    assert found.mass_per_part is not None
    assert MASS.shown(found.bar_mass) == pytest.approx(12.5, abs=0.05)
    assert found.mass_per_part == pytest.approx(found.bar_mass / 10)


def test_a_price_is_shared_by_the_parts() -> None:
    assert asked(bar_length=3000.0, part_length=47.0, blade_width=3.0, bar_price=120.0).price_per_part == 2.0


def test_a_part_that_is_nearly_there_is_pointed_out() -> None:
    """100 mm: three parts of 30 + 3 take 99; from 129 on the fourth lacks no more than its blade."""
    answer = solve(BarEconomyInputs(bar_length=131.0, part_length=30.0, blade_width=3.0, face_stock=0.0))
    assert answer.results.parts == 3
    assert answer.cautions == ()
    near = solve(BarEconomyInputs(bar_length=128.0, part_length=30.0, blade_width=3.0, face_stock=0.0))
    assert "only 1.000 mm short" in near.cautions[0].message.say()


@pytest.mark.parametrize(
    ("values", "problem", "field"),
    [
        ({"part_length": 40.0, "blade_width": 3.0}, Missing, "bar_length"),
        ({"bar_length": 3000.0, "part_length": 0.0, "blade_width": 3.0}, OutOfRange, "part_length"),
        ({"bar_length": 3000.0, "part_length": float("nan"), "blade_width": 3.0}, OutOfRange, "part_length"),
        ({"bar_length": 100.0, "part_length": 99.0, "blade_width": 3.0}, Impossible, "bar_length"),
        ({"bar_length": 100.0, "part_length": 9.0, "blade_width": 1.0, "remnant": 95.0}, Impossible, "bar_length"),
        (
            {
                "bar_length": 99.0,
                "part_length": 9.0,
                "blade_width": 1.0,
                "stock_diameter": 20.0,
                "stock_bore": 20.0,
                "density": 1.0,
            },
            Impossible,
            "stock_bore",
        ),
    ],
)
def test_what_cannot_be_is_refused_at_its_field(values: dict[str, float], problem: type[Exception], field: str) -> None:
    with pytest.raises(problem) as caught:
        asked(**values)
    assert field in str(caught.value)


@pytest.mark.parametrize(
    ("section", "flats", "corners", "kg"),
    # across corners: s / cos(180 / n); area 0.866025 s^2 and s^2 (Machinery's Handbook, areas of plane figures)
    [("hexagon", 24.0, 27.71281, 11.747461), ("square", 20.0, 28.28427, 9.42)],
)
def test_a_bar_with_flats_has_its_corners_its_mass_and_a_caution(
    section: str, flats: float, corners: float, kg: float
) -> None:
    given_ = {"bar_length": 3000.0, "part_length": 40.0, "blade_width": 3.0, "density": DENSITY.internal(7.85)}
    answer = solve(build(BarEconomyInputs, {**given_, "bar_section": section, "across_flats": flats}))
    assert answer.results.across_corners == pytest.approx(corners)
    assert answer.results.bar_mass is not None
    assert MASS.shown(answer.results.bar_mass) == pytest.approx(kg, rel=1e-6)
    assert [each.severity for each in answer.cautions if "struck" in each.message.say()] == [2]
    parts = answer.results.parts
    assert parts == solve(build(BarEconomyInputs, {**given_, "stock_diameter": flats})).results.parts


def test_a_symbol_stands_for_one_thing_in_the_working_of_a_hexagon() -> None:
    """The width across flats was s, as what is faced off; the sides were n, as the parts."""
    symbols = [spec.symbol for spec in specs(BarEconomyInputs) if spec.symbol]
    assert len(symbols) == len(set(symbols))
    with recording() as steps:
        asked(
            bar_length=3e3, part_length=40.0, face_stock=1.0, blade_width=3.0, bar_section="hexagon", across_flats=17.0
        )
    shown = [str(step.plain()) for step in steps]
    assert "l = L + s + b = 40 + 1 + 3 = 44.000 mm" in shown
    assert "e = w / cos((180 / i)°) = 17 / cos((180 / 6)°) = 19.630 mm" in shown


def test_a_bar_with_flats_of_no_known_width_has_its_caution_too() -> None:
    given_ = {"bar_length": 3000.0, "part_length": 40.0, "blade_width": 3.0, "bar_section": "square"}
    found = solve(build(BarEconomyInputs, given_))
    assert [each.about for each in found.cautions if "Guard the corners" in each.message.say()] == ["bar_section"]


@pytest.mark.parametrize(
    ("given_", "field"),
    [
        ({"bar_section": "hexagon", "stock_diameter": 24.0}, "stock_diameter"),
        ({"across_flats": 24.0}, "across_flats"),
        ({"bar_section": "square", "across_flats": 20.0, "stock_bore": 20.0, "density": 7.85e-6}, "stock_bore"),
    ],
)
def test_the_width_of_another_section_is_refused_at_its_field(given_: dict[str, object], field: str) -> None:
    values = {"bar_length": 3000.0, "part_length": 40.0, "blade_width": 3.0, **given_}
    with pytest.raises(Problem) as refused:
        solve(build(BarEconomyInputs, values))
    assert refused.value.faults[0].field == field
