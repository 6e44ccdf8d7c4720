"""The taper: handbook tables, standards, 50 digits, and every refusal."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from mpmath import mp, mpf

from calc.language.fields import build, specs
from calc.language.given import Given
from calc.language.problems import Contradiction, Impossible, Missing, OutOfRange, Problem
from calc.language.quantities import METRIC
from calc.language.reading import read
from calc.questions.shapes.taper import FEATURE, TaperResults, solve
from calc.shapes.taper.formulas import PER_FOOT
from calc.shapes.taper.geometry import ByNameInputs, TaperInputs
from tests.tries import tries

INCH = 25.4
SPECS = {spec.name: spec for spec in specs(TaperInputs)}
NUMBERS = [name for name, spec in SPECS.items() if spec.role == "quantity"]


def results(**values: Any) -> TaperResults:
    return solve(build(TaperInputs, values)).results


def refused(**values: Any) -> Problem:
    with pytest.raises(Problem) as caught:
        solve(build(TaperInputs, values))
    return caught.value


def seconds(degrees: int, minutes: int, secs: float) -> float:
    return math.radians(degrees + minutes / 60 + secs / 3600)


@pytest.mark.parametrize(
    ("per_foot", "included", "half"),
    [
        (1 / 8, (0, 35, 48.57), (0, 17, 54.29)),
        (1 / 4, (1, 11, 37.03), (0, 35, 48.51)),
        (3 / 8, (1, 47, 25.25), (0, 53, 42.63)),
        (1 / 2, (2, 23, 13.12), (1, 11, 36.56)),
        (5 / 8, (2, 59, 0.53), (1, 29, 30.27)),
        (3 / 4, (3, 34, 47.36), (1, 47, 23.68)),
        (1, (4, 46, 18.80), (2, 23, 9.40)),
        (2, (9, 31, 38.22), (4, 45, 49.11)),
        (3, (14, 15, 0.12), (7, 7, 30.06)),
        (3.5, (16, 35, 39.44), (8, 17, 49.72)),
        (6, (28, 4, 20.95), (14, 2, 10.48)),
    ],
)
def test_the_handbook_table_of_tapers_per_foot_is_met(
    per_foot: float, included: tuple[int, int, float], half: tuple[int, int, float]
) -> None:
    """Machinery's Handbook, "Tapers per Foot and Corresponding Angles": an old print within 5", its formula exactly."""
    found = results(taper_per_foot=PER_FOOT.internal(per_foot))
    assert found.included_angle == pytest.approx(seconds(*included), abs=math.radians(0.006 / 3600))
    assert found.half_angle == pytest.approx(seconds(*half), abs=math.radians(0.006 / 3600))
    assert PER_FOOT.shown(found.taper_per_foot) == pytest.approx(per_foot)


@pytest.mark.parametrize(
    ("number", "gauge", "small", "half_angle", "one_in"),
    [
        (0, 0.3561, 0.252, 1.490786, 19.212),
        (1, 0.475, 0.369, 1.428708, 20.047),
        (2, 0.700, 0.572, 1.430689, 20.020),
        (3, 0.938, 0.778, 1.4377, 19.922),
        (4, 1.231, 1.020, 1.487589, 19.254),
        (5, 1.748, 1.475, 1.5073, 19.002),
        (6, 2.494, 2.116, 1.493291, 19.180),
        (7, 3.270, 2.750, 1.489355, 19.231),
    ],
)
def test_a_morse_taper_by_name_has_its_ends(
    number: int, gauge: float, small: float, half_angle: float, one_in: float
) -> None:
    """ASME B5.10 ends in inches; 1:x of ISO 296 (3, 5 and 7 and the 1:x from memory)."""
    found = results(standard=f"Morse {number}")
    assert found.large_diameter == pytest.approx(gauge * INCH, abs=0.0006 * INCH)
    assert found.small_diameter == pytest.approx(small * INCH, abs=0.0006 * INCH)
    assert math.degrees(found.half_angle) == pytest.approx(half_angle, abs=5e-5)
    assert found.one_in == pytest.approx(one_in, abs=6e-4)


@pytest.mark.parametrize(
    ("name", "large", "small", "length"),
    [
        ("Jarno 8", 1.000, 0.800, 4.0),
        ("Jarno 2", 0.250, 0.200, 1.0),
        ("Jarno 20", 2.5, 2.0, 10.0),
        ("Brown & Sharpe 7", 0.7201, 0.6000, 2.875),
        ("Brown & Sharpe 9", 1.0775, 0.9001, 4.25),
        ("Brown & Sharpe 10", 1.2597, 1.0447, 5.0),
        ("Brown & Sharpe 12", 1.7968, 1.5001, 7.125),
        ("Jacobs 2", 0.5590, 0.4876, 0.875),
        ("Jacobs 33", 0.6240, 0.5605, 1.0),
        ("Jacobs 6", 0.6760, 0.6241, 1.0),
        ("Morse 4 1/2", 1.500, 1.266, 4.5),
    ],
)
def test_other_named_tapers_have_their_ends(name: str, large: float, small: float, length: float) -> None:
    """Machinery's Handbook: the rule of the Jarno tapers, Brown & Sharpe shanks; ASME B5.10: Jacobs, Morse 4 1/2."""
    found = results(standard=name)
    assert found.large_diameter == pytest.approx(large * INCH, abs=6e-5 * INCH)
    assert found.small_diameter == pytest.approx(small * INCH, abs=6e-5 * INCH)
    assert found.length == pytest.approx(length * INCH)


@pytest.mark.parametrize(
    ("name", "half_angle", "gauge"),
    [
        ("7/24 30", 8.297145, 31.75),
        ("7/24 40", 8.297145, 44.45),
        ("7/24 50", 8.297145, 69.85),
        ("metric 80", 1.432096, 80.0),
        ("Jarno 5", 1.432096, 15.875),
        ("1:16", 1.789911, None),
        ("1:5", 5.710593, None),
        ("1:10", 2.862405, None),
        ("1:12", 2.385944, None),
        ("1:40", 0.716160, None),
        ("1:50", 0.572939, None),
        ("1:100", 0.286476, None),
        ("7/24 35", 8.297145, 38.1),
        ("7/24 55", 8.297145, 88.9),
    ],
)
def test_a_standard_slope_has_its_half_angle(name: str, half_angle: float, gauge: float | None) -> None:
    """ISO 7388-1, ISO 296, ISO 1119, ISO 3040, ISO 7-1; the angles follow from the ratios."""
    found = results(standard=name)
    assert math.degrees(found.half_angle) == pytest.approx(half_angle, abs=6e-7)
    assert found.large_diameter == gauge


def test_worked_examples_of_training_books() -> None:
    """NAVEDTRA 14076 (US Navy training manual), p. 9-31; Modern Machine-Shop Practice I (set-over 1-1/2 in)."""
    found = results(length=2 * INCH, small_diameter=INCH, large_diameter=2 * INCH)
    assert PER_FOOT.shown(found.taper_per_foot) == pytest.approx(6.0)
    found = results(taper_per_foot=PER_FOOT.internal(1.0), work_length=36 * INCH)
    assert found.set_over == pytest.approx(1.5 * INCH)


@pytest.mark.parametrize(("included", "printed"), [(1, 0.20952), (2, 0.41880), (3, 0.62832)])
def test_an_old_book_of_tapers_agrees_to_its_digits(included: int, printed: float) -> None:
    """Colvin, Turning and Boring Tapers (1902): taper per foot of an included angle, from a five-digit table."""
    found = results(included_angle=math.radians(included))
    assert PER_FOOT.shown(found.taper_per_foot) == pytest.approx(printed, abs=2e-4)


def test_the_stems_taper_of_one_in_ten() -> None:
    """1:10 over 22 with the large end 22: common practice, no source; by hand 22 - 2.2 and atan(1/20)."""
    found = results(large_diameter=22.0, length=22.0, taper_ratio=0.1)
    assert found.small_diameter == pytest.approx(19.8)
    assert math.degrees(found.half_angle) == pytest.approx(2.862405, abs=5e-7)


cones = st.tuples(st.floats(0.5, 500.0), st.floats(0.05, 0.98), st.floats(0.05, 20.0)).map(
    lambda t: (t[0], t[0] * t[1], t[0] * t[2])
)
SLOPE_NAMES = ("taper_ratio", "half_angle", "included_angle", "taper_per_foot")


@settings(max_examples=tries(120), deadline=None)
@given(cones, st.sampled_from(SLOPE_NAMES), st.sampled_from(["large_diameter", "small_diameter", "length", None]))
def test_any_sufficient_set_gives_the_same_taper(
    cone: tuple[float, float, float], slope: str, blank: str | None
) -> None:
    D, d, L = cone
    mp.dps = 50
    whole = results(large_diameter=D, small_diameter=d, length=L)
    assert abs(mpf(whole.half_angle) - mp.atan((mpf(D) - mpf(d)) / 2 / mpf(L))) < 1e-13
    sizes = {"large_diameter": D, "small_diameter": d, "length": L}
    asked = {name: value for name, value in sizes.items() if blank and name != blank}
    if not asked:
        return
    again = results(**asked, **{slope: getattr(whole, slope)})
    for name, value in sizes.items():
        assert getattr(again, name) == pytest.approx(value, rel=1e-9, abs=1e-9)


def test_everything_on_the_print_at_once_is_fine_within_its_rounding() -> None:
    found = results(
        large_diameter=Given(22.0),
        small_diameter=Given(19.8, slack=0.05),
        length=Given(22.0),
        taper_ratio=Given(0.1, slack=5e-6),
        half_angle=Given(math.radians(2.86), slack=math.radians(0.005)),
        included_angle=Given(math.radians(5.72), slack=math.radians(0.005)),
        taper_per_foot=Given(0.1, slack=5e-6),
    )
    assert found.small_diameter == pytest.approx(19.8)
    assert found.taper_ratio == pytest.approx(0.1, abs=1e-12)


def test_a_contradiction_names_all_that_take_part_and_what_each_would_be() -> None:
    values = {"large_diameter": 22.0, "small_diameter": 20.0, "length": 22.0, "taper_ratio": 0.1}
    problem = refused(**values)
    assert isinstance(problem, Contradiction)
    assert problem.fields == tuple(values)
    assert problem.faults[0].message.say() == (
        "A large diameter of Ø22 mm, a small diameter of Ø20 mm and a length of 22 mm give a taper of 0.09091; "
        "0.1 differs from that by 0.00909. Leave out the one that is not on the print."
    )
    for name, becomes in problem.otherwise.items():
        assert getattr(results(**(values | {name: None})), name) == pytest.approx(becomes.value)


def test_two_slopes_that_disagree_leave_the_sizes_in_peace() -> None:
    problem = refused(large_diameter=22.0, length=22.0, taper_ratio=0.1, half_angle=math.radians(3.0))
    assert isinstance(problem, Contradiction)
    assert problem.fields == ("taper_ratio", "half_angle")


def test_a_standard_that_disagrees_with_a_slope_is_among_those_to_let_go() -> None:
    problem = refused(standard="Morse 3", taper_ratio=0.05)
    assert isinstance(problem, Contradiction)
    assert set(problem.fields) == {"taper_ratio", "standard"}


def test_a_printed_ratio_of_a_standard_agrees_with_it() -> None:
    printed = read("1:19.922", SPECS["taper_ratio"].quantity, METRIC)
    assert results(standard="MT3", taper_ratio=printed).one_in == pytest.approx(19.922, abs=1e-3)


def test_the_gauge_diameter_stands_back_for_a_diameter_of_the_print() -> None:
    found = results(standard="Morse 3", large_diameter=30.0, length=40.0)
    assert found.large_diameter == 30.0
    assert found.small_diameter == pytest.approx(30.0 - 40.0 * 0.60235 / 12)
    found = results(standard="7/24 40", length=60.0)
    assert found.large_diameter == 44.45
    assert found.small_diameter == pytest.approx(44.45 - 17.5)


def test_too_little_says_what_would_do() -> None:
    problem = refused()
    assert isinstance(problem, Missing)
    assert problem.faults[0].message.say().startswith("Give a taper (ratio, angle, per foot or a standard's name)")
    problem = refused(large_diameter=22.0, length=22.0)
    assert {fault.field for fault in problem.faults} == {"small_diameter", *SLOPE_NAMES, "standard"}


def test_a_slope_alone_gives_every_angle_and_asks_for_the_ends() -> None:
    answer = solve(TaperInputs(taper_ratio=0.1))
    assert answer.results.large_diameter is None
    assert answer.points == ()
    assert "large diameter, small diameter and length" in answer.notes[0].say()


@pytest.mark.parametrize(
    ("values", "field", "words"),
    [
        ({"large_diameter": 20.0, "small_diameter": 22.0, "length": 5.0}, "small_diameter", "Are the two swapped?"),
        ({"large_diameter": 20.0, "length": 300.0, "taper_ratio": 0.1}, "length", "comes to a point after 200.000 mm"),
        ({"small_diameter": 20.0, "large_diameter": 20.0, "taper_ratio": 0.1}, "small_diameter", "must be smaller"),
        ({"standard": "Moose 3"}, "standard", "not a taper that is listed here. Near it: Morse 3"),
        ({"half_angle": math.radians(90.0)}, "half_angle", "at most"),
    ],
)
def test_what_cannot_be_says_why_at_its_field(values: dict[str, Any], field: str, words: str) -> None:
    problem = refused(**values)
    assert isinstance(problem, (Impossible, OutOfRange))
    assert [fault.field for fault in problem.faults] == [field]
    assert words in problem.faults[0].message.say()


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan, math.inf, 1e9])
def test_a_value_that_cannot_be_meant_is_refused_at_its_field(bad: float) -> None:
    problem = refused(large_diameter=bad, taper_ratio=0.1)
    assert isinstance(problem, OutOfRange)
    assert problem.faults[0].field == "large_diameter"


wild = st.one_of(st.floats(), st.floats(-6.0, 4.0).map(lambda power: 10.0**power))


@settings(max_examples=tries(120), deadline=None)
@given(st.fixed_dictionaries({name: st.none() | wild for name in NUMBERS}))
def test_any_floats_give_a_right_taper_or_a_sentence(values: dict[str, Any]) -> None:
    try:
        found = results(**values)
    except Problem as problem:
        said = [fault.message.say() for fault in problem.faults if fault.field in SPECS]
    else:
        assert_right(found)
        return
    assert said
    assert all(said)


def assert_right(found: TaperResults) -> None:
    """The slopes are one in 50 digits, and lead from end to end."""
    mp.dps = 50
    C = mpf(found.taper_ratio)
    assert abs(mp.atan(C / 2) - mpf(found.half_angle)) < 1e-12
    assert found.included_angle == pytest.approx(2 * found.half_angle)
    assert found.taper_per_foot == pytest.approx(found.taper_ratio)
    if found.large_diameter is not None and found.small_diameter is not None and found.length is not None:
        D, d, L = mpf(found.large_diameter), mpf(found.small_diameter), mpf(found.length)
        assert d >= 0
        assert abs(D - d - C * L) < 1e-9 * max(1.0, D, C * L)


def test_a_bore_is_listed_from_its_mouth_and_an_outside_from_its_small_end() -> None:
    outside = solve(TaperInputs(large_diameter=22.0, length=22.0, taper_ratio=0.1))
    bore = solve(TaperInputs(large_diameter=22.0, length=22.0, taper_ratio=0.1, more=ByNameInputs(where="bore")))
    assert [(p.label, p.spot.z, round(p.spot.r, 9)) for p in outside.points] == [
        ("small end", 0.0, 9.9),
        ("large end", -22.0, 11.0),
    ]
    assert [(p.label, p.spot.z, round(p.spot.r, 9)) for p in bore.points] == [
        ("large end", 0.0, 11.0),
        ("small end", -22.0, 9.9),
    ]
    assert outside.points_note is not None
    assert "right of travel, G42" in outside.points_note.say()


def test_the_example_is_the_stems_taper() -> None:
    assert dict(FEATURE.example) == {"large_diameter": "22", "length": "22", "taper_ratio": "1:10"}
