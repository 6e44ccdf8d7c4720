"""What stands around the finish: small feeds, wipers, grades, feed over nose, the sentence of the hard seat."""

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import minimize_scalar

from calc.cutting.finish import Surface, finish
from calc.cutting.finish_limits import peak_with_pressing, pressing_caution, smoothest_feed
from calc.cutting.finish_tables import feeds_and_noses, grades_for
from calc.language.problems import OutOfRange
from calc.language.quantities import View
from calc.questions.cutting.finish import FinishInputs
from calc.questions.cutting.finish import solve as leaves
from calc.questions.cutting.finish_feed import FinishFeedInputs
from calc.questions.cutting.finish_feed import solve as feed_for

SEAT: dict[str, Any] = {"nose_radius": 6.0, "surface": "concave", "surface_radius": 75.0}


@given(st.floats(0.2, 6.0), st.floats(0.001, 0.02))
def test_the_smoothest_feed_is_where_the_published_peak_height_is_least(r: float, h_min: float) -> None:
    # Die Entstehung der Oberflächenrauheit beim Feindrehen (1961), from memory; the minimum by scipy
    found = minimize_scalar(
        lambda f: peak_with_pressing(f, r, h_min), bounds=(0.01, 2.0), method="bounded", options={"xatol": 1e-7}
    )
    assert smoothest_feed(r, h_min) == pytest.approx(float(found.x), rel=1e-3)
    assert peak_with_pressing(smoothest_feed(r, h_min), r, h_min) == pytest.approx(h_min)


@given(st.floats(0.2, 6.0), st.floats(0.05, 0.5))
def test_without_a_smallest_chip_the_peaks_are_those_of_the_rule(r: float, feed: float) -> None:
    assert peak_with_pressing(feed, r, 0.0) == pytest.approx(feed**2 / (8 * r))
    assert peak_with_pressing(feed, r, 0.005) > feed**2 / (8 * r)


def test_a_feed_below_the_smoothest_is_told_on_both_pages() -> None:
    # 0.03 rounding: smallest chip 0.009, smoothest feed with nose 0.8 is 0.12
    fine = leaves(FinishInputs(feed=0.08, nose_radius=0.8, edge_rounding=0.03))
    assert fine.results.least_feed == pytest.approx(0.12)
    assert any("pressed aside" in c.message.say(View("inch")) for c in fine.cautions)
    assert leaves(FinishInputs(feed=0.2, nose_radius=0.8, edge_rounding=0.03)).cautions == ()
    assert pressing_caution(0.12, 0.12, 0.009) is None  # at the smoothest feed itself the model holds
    wanted = feed_for(FinishFeedInputs(ra=0.0002, nose_radius=0.8, edge_rounding=0.03))
    assert wanted.results.least_feed == pytest.approx(0.12)
    assert {c.about for c in wanted.cautions} == {"ra", "feed"}


def test_a_wiper_halves_ra_and_is_said_to_be_approximate() -> None:
    # printed turning guides, from memory
    flat = leaves(FinishInputs(feed=0.2, nose_radius=0.8, edge="wiper"))
    assert flat.results.ra_wiper == pytest.approx(flat.results.ra / 2)
    assert "approximation" in flat.cautions[0].message.say()
    curved = leaves(FinishInputs(feed=0.2, **SEAT, edge="wiper"))
    assert "the plain nose decides" in curved.cautions[-1].message.say()
    assert curved.results.ra_wiper is None
    assert leaves(FinishInputs(feed=0.2, nose_radius=0.8)).results.ra_wiper is None


def test_the_exact_finish_of_a_common_cut_stands_beside_the_rule() -> None:
    # computed at high precision: f 0.2, r 0.8
    found = leaves(FinishInputs(feed=0.2, nose_radius=0.8)).results
    assert [1000 * v for v in (found.peak_height, found.peak_height_rule, found.ra, found.ra_rule)] == pytest.approx(
        [6.274607, 6.25, 1.608794, 1.603751], abs=5e-7
    )
    assert found.ra_both == "1.61 µm, 63.3 µin"


def test_a_hundred_microinches_of_a_thirty_second_nose() -> None:
    # .010 in/rev and 1/32 in: exactly 102.640 by the parabola's constant, 100.0 by f^2/32r
    found = leaves(FinishInputs(feed=0.254, nose_radius=25.4 / 32)).results
    assert found.ra_rule / 25.4e-6 == pytest.approx(102.640, abs=5e-4)
    assert found.ra_both == "2.62 µm, 103 µin"


@pytest.mark.parametrize("surface", [Surface(), Surface("concave", 75.0), Surface("convex", 75.0)])
def test_each_grade_is_reached_by_its_feed_and_missed_by_more(surface: Surface) -> None:
    for row in grades_for(0.8, surface):
        if row.feed is not None:
            assert finish(row.feed, 0.8, surface).ra * 1000 == pytest.approx(float(row.micrometres))
            assert finish(row.feed, 0.8, surface).grade == row.grade
    reached = [row.feed for row in grades_for(0.8, surface) if row.feed is not None]
    assert reached == sorted(reached)
    assert reached[-1] <= 0.4


def test_the_grades_are_those_of_iso_1302_in_both_systems() -> None:
    rows = list(grades_for(0.8))
    assert ",".join(row.micrometres for row in rows) == "0.025,0.05,0.1,0.2,0.4,0.8,1.6,3.2,6.3,12.5,25,50"
    assert ",".join(row.microinches for row in rows) == "1,2,4,8,16,32,63,125,250,500,1000,2000"


def test_the_table_of_feed_and_nose_agrees_with_the_finish_and_stops_at_half_the_nose() -> None:
    for row in feeds_and_noses(6.0):
        for nose, value in zip((0.2, 0.4, 0.8, 1.2, 1.6, 2.4, 6.0), _values(row), strict=True):
            assert (value is None) == (row.feed > nose / 2)
            assert value is None or value == pytest.approx(finish(row.feed, nose).ra)


def _values(row: Any) -> tuple[float | None, ...]:
    return row.nose_02, row.nose_04, row.nose_08, row.nose_12, row.nose_16, row.nose_24, row.this


@pytest.mark.parametrize(
    ("nose", "printed"), [(0.8, 0.22), (1.2, 0.27), (1.6, 0.32), (4.0, 0.50), (5.0, 0.57), (6.0, 0.62)]
)
def test_feeds_for_peaks_of_8_um_are_those_of_the_printed_guide_page_19(nose: float, printed: float) -> None:
    # 'Heat resistant super alloys' (printed guide), p. 19: pointed noses, and round inserts of 8, 10, 12 mm
    found = feed_for(FinishFeedInputs(peak_height=0.008, nose_radius=nose)).results
    assert found.finish_feed == pytest.approx(printed, abs=0.01)


def test_on_the_hard_seat_at_ra_04_a_sentence_says_that_the_depth_decides() -> None:
    answer = feed_for(FinishFeedInputs(ra=0.0004, depth=0.15, **SEAT))
    assert answer.results.limited_by == "depth"
    said = answer.notes[0].say()
    assert said == (
        "The finish formula alone would allow 0.285 mm/rev for Ra 0.40 µm, as a nose of R6.000 mm leaves such low "
        "peaks; but the depth of cut decides, since a finishing feed is not set above it: 0.150 mm/rev."
    )


@pytest.mark.parametrize("bad", [math.nan, math.inf, -1.0, 0.0, 5.0])
def test_an_edge_rounding_that_cannot_be_meant_is_refused(bad: float) -> None:
    for ask in (
        lambda: leaves(FinishInputs(feed=0.2, nose_radius=0.8, edge_rounding=bad)),
        lambda: feed_for(FinishFeedInputs(ra=0.0016, nose_radius=0.8, edge_rounding=bad)),
    ):
        with pytest.raises(OutOfRange) as raised:
            ask()
        assert raised.value.faults[0].field == "edge_rounding"
