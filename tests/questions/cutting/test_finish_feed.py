"""The feed for a finish from its declared inputs."""

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.language.problems import Missing, OutOfRange, Problem
from calc.language.quantities import View
from calc.questions.cutting.finish_feed import FEATURE, FinishFeedInputs, solve
from tests.asking import asked

anything = st.none() | st.floats(allow_nan=True, allow_infinity=True) | st.floats(0.005, 50.0)
finishes = st.none() | st.floats(0.00001, 0.1)
SEAT: dict[str, Any] = {"nose_radius": 6.0, "surface": "concave", "surface_radius": 75.0}


def test_on_the_hard_seat_the_depth_decides_and_says_why() -> None:
    found = solve(FinishFeedInputs(ra=0.0004, depth=0.15, **SEAT))
    assert found.results.finish_feed == pytest.approx(0.285, abs=0.0005)
    assert (found.results.feed, found.results.limited_by, found.results.feed_limit) == (0.15, "depth", 0.15)
    assert "0.285 mm/rev" in found.notes[0].say()
    assert [caution.about for caution in found.cautions] == ["ra", "feed"]


def test_on_the_seat_at_ra_1_6_the_depth_decides_far_below_the_formula() -> None:
    found = solve(FinishFeedInputs(ra=0.0016, depth=0.3, **SEAT))
    assert found.results.finish_feed == pytest.approx(0.5703, abs=5e-5)
    assert (found.results.feed, found.results.limited_by) == (0.3, "depth")
    assert [row.name for row in found.tables["limits"]] == ["finish", "depth", "chip", "nose", "ceiling"]


def test_with_a_small_nose_the_finish_decides_and_leaves_exactly_the_wanted_ra() -> None:
    found = solve(FinishFeedInputs(ra=0.0016, nose_radius=0.8))
    assert found.results.limited_by == "finish"
    assert found.results.ra == pytest.approx(0.0016, rel=1e-9)
    assert found.results.grade == "N7"
    assert found.results.feed_limit == 0.4
    assert "depth of cut is not given" in found.notes[1].say()


def test_63_microinches_are_met_exactly() -> None:
    found = solve(FinishFeedInputs(ra=63 * 25.4e-6, nose_radius=25.4 / 32))
    assert found.results.ra == pytest.approx(63 * 25.4e-6, rel=1e-9)
    assert found.results.grade == "N7"


def test_a_peak_height_gives_the_feed_of_the_printed_guide() -> None:
    # 'Heat resistant super alloys' (printed guide), p. 19: nose 1.2, peaks of 8 um
    assert solve(FinishFeedInputs(peak_height=0.008, nose_radius=1.2)).results.feed == pytest.approx(0.27, abs=0.01)


def test_of_two_wanted_finishes_the_stricter_decides_and_the_other_is_told() -> None:
    found = solve(FinishFeedInputs(ra=0.0016, peak_height=0.004, nose_radius=0.8))
    assert found.results.peak_height == pytest.approx(0.004, rel=1e-9)
    assert found.results.ra < 0.0016
    note = found.notes[1].say()
    assert "peaks of 4.00 µm asks for less feed than Ra 1.60 µm" in note
    assert "0.199 mm/rev" in note


def test_a_given_largest_chip_and_ceiling_are_kept() -> None:
    low_chip = FinishFeedInputs(ra=0.0063, nose_radius=0.8, depth=0.8, largest_chip=0.1)
    assert solve(low_chip).results.limited_by == "chip"
    assert solve(low_chip).results.feed == pytest.approx(0.1)
    assert solve(FinishFeedInputs(ra=0.0063, nose_radius=1.6, ceiling=0.3)).results.limited_by == "ceiling"
    assert solve(FinishFeedInputs(ra=0.05, nose_radius=0.4)).results.limited_by == "nose"


def test_an_entering_angle_limits_where_the_chip_is_thickest() -> None:
    slanted = FinishFeedInputs(ra=0.0063, nose_radius=0.8, depth=2.0, largest_chip=0.1, entering_angle=math.radians(30))
    assert solve(slanted).results.feed == pytest.approx(0.2)


def test_without_a_finish_one_is_asked_for() -> None:
    with pytest.raises(Missing, match="wanted Ra or the wanted peak height"):
        solve(asked(FinishFeedInputs, nose_radius=0.8))
    with pytest.raises(Missing, match="Give the nose radius"):
        solve(asked(FinishFeedInputs, ra=0.0016))


@pytest.mark.parametrize(
    "name", ["ra", "peak_height", "nose_radius", "depth", "entering_angle", "largest_chip", "ceiling"]
)
@pytest.mark.parametrize("bad", [math.nan, math.inf, -1.0, 0.0])
def test_a_value_that_cannot_be_meant_is_refused_at_its_field(name: str, bad: float) -> None:
    values: dict[str, Any] = {"ra": 0.0016, "nose_radius": 0.8}
    with pytest.raises(OutOfRange) as raised:
        solve(FinishFeedInputs(**{**values, name: bad}))
    assert raised.value.faults[0].field == name


@settings(deadline=None)
@given(
    finishes | anything,
    finishes,
    anything,
    st.sampled_from(["flat", "concave", "convex"]),
    anything,
    anything,
    anything,
)
def test_any_floats_give_a_feed_that_keeps_every_limit_or_a_sentence(
    ra: Any, peak: Any, nose: Any, surface: str, radius: Any, depth: Any, chip: Any
) -> None:
    try:
        found = solve(
            asked(
                FinishFeedInputs,
                ra=ra,
                peak_height=peak,
                nose_radius=nose,
                surface=surface,
                surface_radius=radius,
                depth=depth,
                largest_chip=chip,
            )
        )
    except Problem:
        return
    results = found.results
    assert 0.0 < results.feed <= min(nose / 2, 0.5, depth or 1.0)
    assert ra is None or results.ra <= ra * (1 + 1e-9)
    assert peak is None or results.peak_height <= peak * (1 + 1e-9)
    for message in (*found.notes, *(caution.message for caution in found.cautions)):
        assert "{" not in message.say(View("inch"))


def test_the_working_ends_in_the_feed_and_what_it_leaves() -> None:
    _, steps = FEATURE.answer(FinishFeedInputs(ra=0.0016, depth=0.3, **SEAT))
    means = [step.formula.means for step in steps]
    assert "feed for a Ra by the rule" in means
    assert means.index("feed for a Ra, exact") < means.index("feed to take") < means.index("Ra, exact")
