"""Which limit decides the feed, on the scenario's seats and in general."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.cutting.chip import Edge, engagement
from calc.cutting.feed_limits import decide, default_largest_chip, feed_limits
from calc.cutting.finish import Surface, feed_for_mean_roughness
from calc.cutting.thin_chips import rubbing
from calc.language.messages import Message, Quantity
from calc.language.quantities import ROUGHNESS, View

DISH = Surface("concave", 75.0)


def of_the_seat(ra: float, depth: float):  # type: ignore[no-untyped-def]
    cut = engagement(depth, Edge(6.0))
    limits = feed_limits(
        6.0,
        finish_feed=feed_for_mean_roughness(ra, 6.0, DISH),
        cut=cut,
        largest_chip=default_largest_chip(6.0),
    )
    return decide(limits, 6.0, Message("Ra {ra}", {"ra": Quantity(ra, ROUGHNESS)})), cut


def test_on_the_hard_seat_the_formula_would_allow_0_285_and_the_depth_decides() -> None:
    decision, _cut = of_the_seat(0.0004, 0.15)
    assert decision.finish_feed == pytest.approx(0.285, abs=0.0005)
    assert (decision.feed, decision.limited_by, decision.feed_limit) == (0.15, "depth", 0.15)
    said = decision.why.say()
    assert "0.285 mm/rev" in said
    assert "the depth of cut decides" in said
    assert "0.150 mm/rev" in said
    assert "Ra 0.40 µm" in said
    assert decision.why.say(View("inch")).count(" in/rev") == 2


def test_on_the_seat_every_limit_is_told_with_its_feed() -> None:
    cut = engagement(0.3, Edge(6.0))
    limits = feed_limits(6.0, finish_feed=0.57, cut=cut, largest_chip=0.10)
    assert {limit.name: round(limit.feed, 4) for limit in limits} == {
        "finish": 0.57,
        "depth": 0.3,
        "chip": 0.3503,
        "nose": 3.0,
        "ceiling": 0.5,
    }
    assert all(limit.meaning and limit.source for limit in limits)


def test_a_chip_too_thin_on_average_is_told_and_does_not_decide() -> None:
    decision, cut = of_the_seat(0.0004, 0.15)
    mean, caution = rubbing(decision.feed, cut, decision)
    assert mean == pytest.approx(0.15 * 0.15 / (6 * 0.22407), rel=1e-3)
    assert caution is not None
    said = caution.message.say()
    assert "0.269 mm/rev" in said
    assert "which the depth does not allow" in said
    assert rubbing(0.3, engagement(0.3, Edge(6.0)), decision)[1] is None


def test_a_feed_of_ones_own_that_rubs_is_told_the_feed_that_the_limits_allow() -> None:
    """0.3 deep with a nose of 0.8 the edge in cut is 0.8 acos(0.5 / 0.8) = 0.716 long: 0.03 thick at 0.072 mm/rev."""
    cut = engagement(0.3, Edge(0.8))
    decision = decide(feed_limits(0.8, cut=cut), 0.8)
    _, caution = rubbing(0.02, cut, decision)
    assert caution is not None
    assert "Feed 0.072 mm/rev or a little more" in caution.message.say()
    assert "does not allow" not in caution.message.say()


def test_without_a_wanted_finish_the_other_limits_decide() -> None:
    decision = decide(feed_limits(6.0), 6.0)
    assert (decision.limited_by, decision.finish_feed) == ("ceiling", None)
    assert decision.why.say() == "The ceiling decides: nothing is fed faster than 0.500 mm/rev."


def test_a_pointed_insert_has_no_largest_chip_of_its_own() -> None:
    assert default_largest_chip(0.8) is None


@given(st.floats(0.05, 8.0), st.floats(0.01, 2.0), st.floats(0.02, 5.0), st.floats(0.01, 0.5), st.floats(0.01, 2.0))
def test_the_smallest_limit_decides_and_every_limit_is_kept(
    nose: float, finish_feed: float, depth: float, chip: float, ceiling: float
) -> None:
    cut = engagement(depth, Edge(nose))
    limits = feed_limits(nose, finish_feed=finish_feed, cut=cut, largest_chip=chip, ceiling=ceiling)
    decision = decide(limits, nose)
    feeds = {limit.name: limit.feed for limit in limits}
    assert decision.feed == min(feeds.values()) == feeds[decision.limited_by]
    assert decision.feed_limit == min(feed for name, feed in feeds.items() if name != "finish")
    for view in (View("mm"), View("inch")):
        assert "{" not in decision.why.say(view)
