"""A feed held against what is fed: a nose, an edge, an insert's width, a drill; a slipped decimal is found here."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from calc.cutting import drilling
from calc.cutting.chip import Edge
from calc.cutting.feed_limits import SMALLEST_ROUND_INSERT
from calc.cutting.finish_formulas import feed_for_nose
from calc.cutting.materials import GROUPS, Material
from calc.cutting.plunging import plunge_feed
from calc.cutting.tables import table
from calc.cutting.thickest_chip import thickest_chip
from calc.cutting.tools import habits
from calc.language.messages import Caution, Digits, Message, Quantity, Value, worst_first
from calc.language.quantities import DIAMETER, FEED, LENGTH, RADIUS
from calc.language.working import recording

HARD = 1.5  # times the highest usual feed, from which an edge is fed hard; common practice, no source
SLIPPED = 3.0  # times it, from which a decimal point has rather slipped; common practice, no source
ROUND_SHARE = 0.1  # of a round insert's diameter that it is fed at most; common practice, from memory
NEARLY_NOSE = 0.8  # of the nose radius: above it an edge leaves a thread; common practice, no source


@dataclass(frozen=True, slots=True, kw_only=True)
class Fed:
    """A feed [mm/rev], the highest usual one of what is fed, which is called `what` with its `values`.

    `chip` [mm] stands for the feed where the edge lies so flat that its chip is thinner; `nose` [mm] is a pointed
    insert's, None where there is none; `about` is the input that the feed stands in.
    """

    feed: float
    most: float
    what: str
    values: dict[str, Value] = field(default_factory=dict)
    chip: float | None = None
    nose: float | None = None
    about: str = "feed"


def fed_edge(
    feed: float,
    work: Material | None = None,
    edge: Edge | None = None,
    depth: float | None = None,
    about: str = "feed",
) -> Fed:
    """A turning edge, in `work` or any material, with its nose where it is known; `depth` [mm] for a round insert.

    Source: highest feeds to start roughing with, by material group; common practice, from memory.

    >>> fed_edge(0.3, edge=Edge(0.4)).most
    0.7
    """
    groups = table("starting")["group"]
    found = (group["most"]["rough"] for name, group in groups.items() if work is None or name == work.group)
    most, nose = max(found), None if edge is None else edge.nose_radius
    what = "a turning edge" if work is None else "an edge in {group}"
    values: dict[str, Value] = {} if work is None else {"group": GROUPS[work.group]}
    if nose is not None and nose >= SMALLEST_ROUND_INSERT:
        by_size = _fed_round(feed, nose, about)
        chip = _chip(feed, edge, depth)
        if chip is None or chip / most < feed / by_size.most:
            return by_size
        return Fed(feed=feed, most=most, what=what, values=values, chip=chip, about=about)
    return Fed(feed=feed, most=most, what=what, values=values, nose=nose or None, about=about)


def _fed_round(feed: float, nose: float, about: str) -> Fed:
    what, values = "a round insert of {nose}", {"nose": Quantity(nose, RADIUS)}
    return Fed(feed=feed, most=ROUND_SHARE * 2 * nose, what=what, values={**values}, about=about)


def _chip(feed: float, edge: Edge | None, depth: float | None) -> float | None:
    if edge is None or depth is None:
        return None
    with recording():
        return thickest_chip(feed, depth, edge)


def fed_drill(feed: float, work: Material, diameter: float, share: float = 1.0) -> Fed:
    """A drill of `diameter` [mm] in `work`, fed by `share` of a twist drill. Source: the group's usual feeds.

    >>> from calc.cutting.materials import material
    >>> round(fed_drill(0.2, material("C45"), 10.0).most, 3)
    0.25
    """
    most = drilling.starting_feed.function(share * habits(work.group).drill_feed.high, diameter)
    return Fed(feed=feed, most=most, what="a drill of {d}", values={"d": Quantity(diameter, DIAMETER)})


def fed_plunge(feed: float, work: Material, width: float) -> Fed:
    """A grooving or parting insert of `width` [mm] in `work`. Source: the group's usual feeds.

    >>> from calc.cutting.materials import material
    >>> fed_plunge(3.0, material("C45"), 2.0).most < 0.2
    True
    """
    most = plunge_feed.function(habits(work.group).plunge_feed.high, width)
    values: dict[str, Value] = {"w": Quantity(width, LENGTH)}
    return Fed(feed=feed, most=most, what="an insert {w} wide", values=values)


def feed_cautions(fed: Fed) -> Iterator[Caution]:
    """What a feed triggers: beyond the nose, or beyond what the tool bears; the graver of the two alone.

    >>> [caution.severity for caution in feed_cautions(fed_edge(5.0, edge=Edge(0.4)))]
    [3]
    >>> list(feed_cautions(fed_edge(0.25, edge=Edge(0.4))))
    []
    """
    yield from worst_first((*_beyond_nose(fed), *_too_hard(fed)))[:1]


def inside_cautions(inside: float, outside: float, about: str) -> Iterator[Caution]:
    """A feed toward the axis [mm/rev] that is meant to be less than the one `outside` [mm/rev], and is not.

    >>> [len(list(inside_cautions(feed, 0.2, "slow_feed"))) for feed in (0.1, 1.0)]
    [0, 1]
    """
    if inside > outside:
        values: dict[str, Value] = {
            "inside": Quantity(inside, FEED),
            "outside": Quantity(outside, FEED),
            "times": _times(inside / outside),
        }
        yield Caution(Message(_FASTER_INSIDE, values), 2, about)


def _beyond_nose(fed: Fed) -> Iterator[Caution]:
    if fed.nose is None or fed.feed <= NEARLY_NOSE * fed.nose:
        return
    values: dict[str, Value] = {
        "feed": Quantity(fed.feed, FEED),
        "nose": Quantity(fed.nose, RADIUS),
        "times": _times(fed.feed / fed.nose),
        "most": Quantity(feed_for_nose.function(fed.nose), FEED),
    }
    slipped = fed.feed > fed.nose
    yield Caution(Message(_BEYOND_NOSE if slipped else _NEAR_NOSE, values), 3 if slipped else 2, fed.about)


def _too_hard(fed: Fed) -> Iterator[Caution]:
    over = (fed.feed if fed.chip is None else fed.chip) / fed.most
    if over <= HARD:
        return
    values: dict[str, Value] = {
        "what": Message(fed.what, fed.values),
        "feed": Quantity(fed.feed, FEED),
        "most": Quantity(fed.most, FEED),
        "times": _times(over),
        "chip": Quantity(fed.feed if fed.chip is None else fed.chip, LENGTH),
    }
    texts = (_HARD, _SLIPPED) if fed.chip is None else (_THICK, _FAR_TOO_THICK)
    slipped = over > SLIPPED
    yield Caution(Message(texts[slipped], values), 3 if slipped else 2, fed.about)


def _times(ratio: float) -> Digits:
    return Digits(f"{ratio:.0f}" if ratio >= 10.0 else f"{ratio:.1f}")


_BEYOND_NOSE = (
    "{feed} is {times} times the {nose} nose: the edge breaks, or cuts a thread. Check for a slipped decimal "
    "point; feed no more than about half the nose, {most}."
)
_NEAR_NOSE = (
    "{feed} is {times} times the {nose} nose: it leaves a thread and loads the tip. Feed no more than about half "
    "the nose, {most}, or take a larger one."
)
_FASTER_INSIDE = (
    "{inside} near the axis is {times} times the {outside} outside, but should be less there, where the surface "
    "speed drops. Check for a slipped decimal point."
)
_HARD = "{feed} is {times} times the {most} usual for {what}: it may break. Feed less."
_SLIPPED = "{feed} is {times} times the {most} usual for {what}: it breaks. Check for a slipped decimal point."
_THICK = (
    "At {feed} the chip is {chip} thick, {times} times the {most} that {what} usually takes: it may break. Feed "
    "less, or cut less deep."
)
_FAR_TOO_THICK = (
    "At {feed} the chip is {chip} thick, {times} times the {most} that {what} usually takes: it breaks. Check "
    "for a slipped decimal point."
)
