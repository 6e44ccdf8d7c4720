"""Which feed to take: the finish formula is only one of several named limits, and with a large nose seldom the lowest.

Each limit is a row that says what it is and where it comes from; the lowest decides. A floor stands beside them: a chip
that is too thin on average rubs. It never decides, but a caution says so.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias, cast

from calc.cutting.chip import Engagement
from calc.cutting.finish_formulas import feed_for_nose
from calc.cutting.thickest_chip import feed_for_thickest_chip
from calc.language.fields import Declared, result, word
from calc.language.messages import Capital, Message, Quantity, Value
from calc.language.quantities import FEED, RADIUS, Feed, Length
from calc.language.working import formula

LimitName: TypeAlias = Literal["finish", "depth", "chip", "nose", "ceiling"]

COMMON = "common practice, no source"
LARGEST_CHIP = 0.10  # mm, for a round insert that finishes; common practice, no source
LEAST_MEAN_CHIP = 0.03  # mm; common practice, no source
CEILING = 0.5  # mm/rev; common practice, no source
SMALLEST_ROUND_INSERT = 2.5  # nose radius [mm]; ISO 1832: pointed inserts have noses below it, but for rare ones


@formula(source=COMMON, means="largest finishing feed for the depth", result="f_depth")
def feed_for_depth(a: Length) -> Feed:
    """Largest finishing feed [mm/rev] for a depth of cut `a` [mm]: not above it. Source: common practice.

    >>> feed_for_depth(0.15)
    0.15
    """
    return a


@formula(source="every limit holds at once", means="feed to take", result="f")
def smaller_feed(f_finish: Feed, f_limit: Feed) -> Feed:
    """The smaller of what the finish and what the other limits allow [mm/rev]. Source: all limits hold at once.

    >>> smaller_feed(0.285, 0.15)
    0.15
    """
    return min(f_finish, f_limit)


class FeedLimit(Declared):
    """One limit: its name, what it says, the feed up to which it is kept, its source."""

    name: str = word("Limit")
    meaning: str = word("What it says")
    feed: float = result(FEED, "Feed up to", "f")
    source: str = word("Source")


@dataclass(frozen=True, slots=True)
class FeedDecision:
    """The feed that keeps every limit, which one decided, and why, in a sentence.

    `finish_feed` is what the finish alone would allow [mm/rev; None: no finish is wanted], `feed_limit` what all others
    allow.
    """

    feed: float
    limited_by: LimitName
    finish_feed: float | None
    feed_limit: float
    why: Message


MEANINGS: dict[LimitName, tuple[str, str]] = {
    "finish": ("peaks and Ra stay within the wanted finish", "geometry of the nose; definition of Ra (ISO 21920-2)"),
    "depth": ("a finishing feed is not above the depth of cut", COMMON),
    "chip": ("the chip at the depth line is not thicker than the edge can take", COMMON),
    "nose": ("the feed is at most half the nose radius", COMMON),
    "ceiling": ("no feed above this", COMMON),
}

LIMIT_WORDS: dict[LimitName, str] = {
    "finish": "the finish",
    "depth": "the depth",
    "chip": "the largest chip",
    "nose": "the nose",
    "ceiling": "the ceiling",
}

_WHY: dict[LimitName, str] = {
    "finish": "The finish decides: {finish} is the most for {wanted}, and no other limit is lower.",
    "depth": "the depth of cut decides, since a finishing feed is not set above it: {feed}.",
    "chip": "the chip decides, since beyond {feed} it is too thick at the depth line.",
    "nose": "the nose decides, since a feed is not set above half its radius: {feed}.",
    "ceiling": "the ceiling decides: nothing is fed faster than {feed}.",
}
_ABSURD = (
    "The finish formula alone would allow {finish} for {wanted}, as a nose of {nose} leaves such low peaks; but {why}"
)


def default_largest_chip(nose_radius: float) -> float | None:
    """The largest chip [mm] for a round insert by its nose radius [mm]; None for a pointed one.

    Source: common practice.

    >>> default_largest_chip(6.0), default_largest_chip(0.8)
    (0.1, None)
    """
    return None if nose_radius < SMALLEST_ROUND_INSERT else LARGEST_CHIP


def feed_limits(
    nose_radius: float,
    *,
    finish_feed: float | None = None,
    cut: Engagement | None = None,
    largest_chip: float | None = None,
    ceiling: float = CEILING,
) -> tuple[FeedLimit, ...]:
    """The limits that apply, in their order.

    `nose_radius` [mm]; `finish_feed` [mm/rev] is what the finish alone allows; `cut` how the edge stands in the cut, if
    the depth is known; `largest_chip` [mm] None leaves that limit out; `ceiling` [mm/rev]. Source: see `MEANINGS`.

    >>> [(limit.name, limit.feed) for limit in feed_limits(0.8, finish_feed=0.2)]
    [('finish', 0.2), ('nose', 0.4), ('ceiling', 0.5)]
    """
    feeds: dict[LimitName, float | None] = {
        "finish": finish_feed,
        "depth": feed_for_depth(cut.depth) if cut else None,
        "chip": feed_for_thickest_chip(largest_chip, cut.depth, cut.edge) if cut and largest_chip is not None else None,
        "nose": feed_for_nose(nose_radius),
        "ceiling": ceiling,
    }
    return tuple(_limit(name, feed) for name, feed in feeds.items() if feed is not None)


def _limit(name: LimitName, feed: float) -> FeedLimit:
    meaning, source = MEANINGS[name]
    return FeedLimit(name=name, meaning=meaning, feed=feed, source=source)


def decide(limits: Sequence[FeedLimit], nose_radius: float, wanted: Message | None = None) -> FeedDecision:
    """The lowest of `limits` and a sentence that says why; `wanted` says the finish ("Ra {ra}") that was asked for.

    `nose_radius` [mm] is only said. Raises ValueError when there is no limit but the finish. Source: all limits hold.

    >>> decision = decide(feed_limits(0.8, finish_feed=0.6), 0.8, Message("Ra 12.5 um"))
    >>> decision.feed, decision.limited_by, decision.feed_limit
    (0.4, 'nose', 0.4)
    """
    finish_feed = next((limit.feed for limit in limits if limit.name == "finish"), None)
    lowest = min((limit for limit in limits if limit.name != "finish"), key=lambda limit: limit.feed)
    feed = lowest.feed if finish_feed is None else smaller_feed(finish_feed, lowest.feed)
    name = cast("LimitName", "finish" if finish_feed is not None and finish_feed <= lowest.feed else lowest.name)
    return FeedDecision(feed, name, finish_feed, lowest.feed, _why(name, feed, finish_feed, nose_radius, wanted))


def _why(name: LimitName, feed: float, finish_feed: float | None, nose: float, wanted: Message | None) -> Message:
    if finish_feed is None:
        return Message("{why}", {"why": Capital(Message(_WHY[name], {"feed": Quantity(feed, FEED)}))})
    values: dict[str, Value] = {
        "finish": Quantity(finish_feed, FEED),
        "feed": Quantity(feed, FEED),
        "nose": Quantity(nose, RADIUS),
        "wanted": wanted or Message("the wanted finish"),
    }
    why = Message(_WHY[name], values)
    return why if name == "finish" else Message(_ABSURD, {**values, "why": why})
