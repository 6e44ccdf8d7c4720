"""The chip from its declared inputs: the printed guide's round inserts, straight edges, limits."""

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.language.problems import Missing, OutOfRange, Problem
from calc.language.quantities import View
from calc.questions.cutting.chip import FEATURE, ChipInputs, solve
from tests.asking import asked

anything = st.none() | st.floats(allow_nan=True, allow_infinity=True) | st.floats(0.005, 50.0)
ROUND: dict[str, Any] = {"depth": 0.9, "feed": 0.14, "nose_radius": 3.0}


@pytest.mark.parametrize(
    ("share", "angle", "factor", "for_01", "for_035"),
    [
        (0.25, 60, 1.16, 0.12, 0.41),
        (0.20, 53, 1.25, 0.13, 0.44),
        (0.10, 37, 1.66, 0.17, 0.58),
        (0.05, 26, 2.3, 0.23, 0.81),
    ],
)
def test_round_inserts_are_those_of_the_printed_guide_page_19(
    share: float, angle: float, factor: float, for_01: float, for_035: float
) -> None:
    # 'Heat resistant super alloys' (printed guide), p. 19: depth over diameter, angle, feed over chip, feeds
    for chip, feed in ((0.1, for_01), (0.35, for_035)):
        found = solve(ChipInputs(depth=share * 12.0, feed=0.2, nose_radius=6.0, wanted_chip=chip)).results
        assert math.degrees(found.thickest_at) == pytest.approx(angle, abs=0.5)
        assert found.feed_over_chip == pytest.approx(factor, abs=0.01)
        assert found.feed_for_chip == pytest.approx(feed, abs=0.01)


def test_the_worked_example_of_the_printed_guide_page_19() -> None:
    # a 6 mm insert at 0.9 mm: 46 degrees; 0.14 mm/rev for a chip of 0.1, 0.49 for 0.35
    found = solve(ChipInputs(**ROUND, wanted_chip=0.1)).results
    assert math.degrees(found.thickest_at) == pytest.approx(46, abs=0.5)
    assert found.feed_for_chip == pytest.approx(0.14, abs=0.005)
    assert solve(ChipInputs(**ROUND, wanted_chip=0.35)).results.feed_for_chip == pytest.approx(0.49, abs=0.005)


def test_thickness_and_width_of_a_straight_edge_follow_iso_3002_3() -> None:
    found = solve(ChipInputs(depth=3.0, feed=0.3, entering_angle=math.radians(95.0))).results
    assert found.mean_chip == pytest.approx(0.2988584, abs=5e-8)
    assert found.chip_width == pytest.approx(3.0114595, abs=5e-8)
    right = solve(ChipInputs(depth=3.0, feed=0.3, entering_angle=math.pi / 2)).results
    assert (right.chip_thickness, right.mean_chip, right.chip_width) == (0.3, 0.3, 3.0)


def test_past_a_right_angle_a_sharp_edge_is_no_thicker_than_its_own_chip() -> None:
    found = solve(ChipInputs(depth=3.0, feed=0.3, entering_angle=math.radians(95.0))).results
    assert found.chip_thickness == pytest.approx(found.mean_chip)


@pytest.mark.parametrize("angle", [45.0, 75.0, 90.0, 107.5])
def test_nose_and_edge_agree_with_the_edge_measured_piece_by_piece(angle: float) -> None:
    """An edge drawn as 20000 chords: its length, and the area f a that it takes off."""
    r, depth, kappa = 0.8, 3.0, math.radians(angle)
    found = solve(ChipInputs(depth=depth, feed=0.3, nose_radius=r, entering_angle=kappa)).results
    arc = sum(
        math.dist((r * math.sin(u), r * math.cos(u)), (r * math.sin(u + s), r * math.cos(u + s)))
        for s in [kappa / 20000]
        for u in [kappa * k / 20000 for k in range(20000)]
    )
    straight = (depth - r * (1 - math.cos(kappa))) / math.sin(kappa)
    assert found.chip_width == pytest.approx(arc + straight, rel=1e-7)
    assert found.mean_chip * found.chip_width == pytest.approx(0.3 * depth)


def test_inside_the_nose_and_beyond_it_the_answer_is_one_at_the_border() -> None:
    kappa = math.radians(75.0)
    border = 0.8 * (1 - math.cos(kappa))
    inside, beyond = (
        solve(ChipInputs(depth=border * share, feed=0.2, nose_radius=0.8, entering_angle=kappa)).results
        for share in (1 - 1e-9, 1 + 1e-9)
    )
    assert inside.chip_thickness == pytest.approx(beyond.chip_thickness)
    assert inside.chip_width == pytest.approx(beyond.chip_width)


@given(st.floats(0.01, 5.9), st.floats(0.01, 1.0), st.floats(1.01, 3.0))
def test_a_deeper_cut_or_more_feed_makes_a_thicker_chip(depth: float, feed: float, more: float) -> None:
    deeper = min(depth * more, 6.0)
    base = solve(ChipInputs(depth=depth, feed=feed, nose_radius=6.0)).results
    assert (
        solve(ChipInputs(depth=deeper, feed=feed, nose_radius=6.0)).results.chip_thickness > base.chip_thickness - 1e-12
    )
    fed = solve(ChipInputs(depth=depth, feed=feed * more, nose_radius=6.0)).results
    assert base.chip_thickness <= fed.chip_thickness <= min(base.chip_thickness * more, depth) * (1 + 1e-9)
    assert base.mean_chip < base.chip_thickness or feed > depth


@given(st.floats(0.1, 3.0), st.floats(0.02, 0.5), st.floats(0.02, 0.3))
def test_the_feed_for_a_thickness_gives_that_thickness(depth: float, feed: float, wanted: float) -> None:
    found = solve(ChipInputs(depth=depth, feed=feed, nose_radius=6.0, wanted_chip=wanted)).results
    assert found.feed_for_mean is not None
    if found.feed_for_chip_exact is None:
        assert wanted >= depth
        return
    largest = solve(ChipInputs(depth=depth, feed=found.feed_for_chip_exact, nose_radius=6.0)).results.chip_thickness
    mean = solve(ChipInputs(depth=depth, feed=found.feed_for_mean, nose_radius=6.0)).results.mean_chip
    assert (largest, mean) == pytest.approx((wanted, wanted))


def test_a_round_insert_is_told_at_other_depths_and_a_pointed_one_is_not() -> None:
    rows = solve(ChipInputs(**ROUND, wanted_chip=0.1)).tables["depths"]
    assert rows[1].feed_over_chip == pytest.approx(1.66, abs=0.01)
    assert rows[4].feed == pytest.approx(0.1155, abs=5e-5)
    assert not solve(ChipInputs(**ROUND, entering_angle=math.radians(75.0))).tables["depths"]


def test_a_chip_thinner_than_the_edge_can_take_off_is_told() -> None:
    # minimum chip thickness 0.2 to 0.4 of the edge's rounding, from memory; 0.3 is used
    sharp = solve(ChipInputs(**ROUND, edge_rounding=0.03))
    assert sharp.results.least_chip == pytest.approx(0.009)
    assert sharp.cautions == ()
    rubs = solve(ChipInputs(**{**ROUND, "feed": 0.01}, edge_rounding=0.05))
    assert "it rubs" in rubs.cautions[0].message.say()
    partly = solve(ChipInputs(**{**ROUND, "feed": 0.025}, edge_rounding=0.05))
    assert "part of the edge rubs" in partly.cautions[0].message.say(View("inch"))


def test_deep_cuts_with_a_round_insert_are_told() -> None:
    assert [c.severity for c in solve(ChipInputs(**{**ROUND, "depth": 2.0})).cautions] == [1]
    assert [c.severity for c in solve(ChipInputs(**{**ROUND, "depth": 3.5})).cautions] == [3]


def test_each_missing_value_is_asked_for() -> None:
    with pytest.raises(Missing, match=r"Give the depth of cut.*Give the feed"):
        solve(asked(ChipInputs))
    with pytest.raises(Missing, match="entering angle, or the nose radius"):
        solve(asked(ChipInputs, depth=1.0, feed=0.2))


@pytest.mark.parametrize("name", ["depth", "feed", "nose_radius", "entering_angle", "wanted_chip", "edge_rounding"])
@pytest.mark.parametrize("bad", [math.nan, math.inf, -1.0, 1e9])
def test_a_value_that_cannot_be_meant_is_refused_at_its_field(name: str, bad: float) -> None:
    with pytest.raises(OutOfRange) as raised:
        solve(ChipInputs(**{**ROUND, name: bad}))
    assert raised.value.faults[0].field == name


@given(anything, anything, anything, anything, anything, anything)
def test_any_values_give_a_right_answer_or_a_sentence(
    depth: Any, feed: Any, nose: Any, angle: Any, wanted: Any, edge: Any
) -> None:
    try:
        answer = solve(
            asked(
                ChipInputs,
                depth=depth,
                feed=feed,
                nose_radius=nose,
                entering_angle=angle,
                wanted_chip=wanted,
                edge_rounding=edge,
            )
        )
    except Problem:
        return
    found = answer.results
    assert found.mean_chip * found.chip_width == pytest.approx(depth * feed)
    assert 0.0 < found.chip_thickness <= feed * (1 + 1e-12)
    for message in (*answer.notes, *(caution.message for caution in answer.cautions)):
        assert "{" not in message.say(View("inch"))


def test_the_working_shows_engagement_and_chip() -> None:
    _, steps = FEATURE.answer(ChipInputs(**ROUND, wanted_chip=0.1, edge_rounding=0.03))
    assert [step.symbols[0] for step in steps] == [
        "phi",
        "b",
        "s",
        "h_max",
        "h_m",
        "h_min",
        "q_f",
        "f_chip",
        "f_chip",
        "f_mean",
        "f_chip",
    ]
