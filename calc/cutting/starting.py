"""The feed and the depth to start turning with: by material group, operation, nose and insert, with the reason."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from calc.cutting.chip import Edge
from calc.cutting.feed_limits import SMALLEST_ROUND_INSERT
from calc.cutting.materials import GROUPS, Material
from calc.cutting.tables import source, table
from calc.cutting.thickest_chip import feed_for_thickest_chip
from calc.language.messages import Message, Quantity, Value
from calc.language.quantities import FEED, LENGTH, RADIUS


@dataclass(frozen=True, slots=True)
class Start:
    """A range to start in [mm or mm/rev] and why it is that one."""

    low: float
    usual: float
    high: float
    why: Message


@dataclass(frozen=True, slots=True)
class StartingCut:
    """Feed [mm/rev] and depth [mm] to start with."""

    feed: Start
    depth: Start


def starting_cut(
    work: Material, operation: str, nose_radius: float, edge_length: float | None = None
) -> StartingCut | None:
    """Feed and depth to start with; None for an `operation` other than "rough", "finish" and "bore".

    `nose_radius` [mm, above 0] of at least 2.5 mm is taken for a round insert; `edge_length` [mm] None for one of
    12 mm. Source: common practice, from memory.

    >>> from calc.cutting.materials import material
    >>> cut = starting_cut(material("C45"), "rough", 0.8)
    >>> [round(value, 2) for value in (cut.feed.low, cut.feed.usual, cut.feed.high)]
    [0.2, 0.32, 0.44]
    >>> [round(value, 2) for value in (cut.depth.low, cut.depth.usual, cut.depth.high)]
    [0.8, 2.4, 4.8]
    """
    told = table("starting")
    if operation not in told["pointed"] or nose_radius <= 0.0:
        return None
    if nose_radius >= SMALLEST_ROUND_INSERT:
        return _round(told, work, operation, nose_radius)
    return _pointed(told, work, operation, nose_radius, edge_length or told["edge_length"])


def _pointed(told: dict[str, Any], work: Material, operation: str, nose: float, edge: float) -> StartingCut:
    row, group = told["pointed"][operation], told["group"][work.group]
    shares = [share * group["feed"] for share in row["feed"]]
    feeds = _ordered(_between(share * nose, told["least_feed"], group["most"][operation]) for share in shares)
    usual, high = (share * edge * group["depth"] for share in row["depth_edge"])
    least = min(row["depth_nose"] * nose, high)
    depths = _ordered(max(depth, told["least_depth"]) for depth in (least, usual, high))
    values: dict[str, Value] = {
        **_group(work, group),
        "from": f"{shares[0]:.2g}",
        "to": f"{shares[2]:.2g}",
        "nose": Quantity(nose, RADIUS),
        "most": Quantity(group["most"][operation], FEED),
        "edge": Quantity(edge, LENGTH, brief=True),
        "share": f"{row['depth_edge'][1] * group['depth']:.2g}",
    }
    return StartingCut(Start(*feeds, Message(_FEED, values)), Start(*depths, Message(_DEPTH, values)))


def _round(told: dict[str, Any], work: Material, operation: str, nose: float) -> StartingCut:
    row, group = told["round"][operation], told["group"][work.group]
    most = group["most"][operation]
    depths = _ordered(max(share * 2 * nose * group["depth"], told["least_depth"]) for share in row["depth"])
    chips = [chip * min(group["feed"], 1.0) for chip in row["chip"]]
    edge = Edge(nose)
    for_chips = (feed_for_thickest_chip(chip, depths[1], edge) or most for chip in chips)
    feeds = _ordered(_between(feed, told["least_feed"], most) for feed in for_chips)
    values: dict[str, Value] = {
        **_group(work, group),
        "chip": Quantity(chips[2], LENGTH),
        "depth": Quantity(depths[1], LENGTH),
        "nose": Quantity(nose, RADIUS),
        "share": f"{row['depth'][2] * group['depth']:.2g}",
        "most": Quantity(most, FEED),
    }
    return StartingCut(Start(*feeds, Message(_ROUND_FEED, values)), Start(*depths, Message(_ROUND_DEPTH, values)))


def _group(work: Material, group: dict[str, Any]) -> dict[str, Value]:
    return {"group": GROUPS[work.group], "why": group["why"], "source": source(table("starting")["source"])}


def _between(value: float, least: float, most: float) -> float:
    return min(max(value, least), most)


def _ordered(values: Iterable[float]) -> tuple[float, float, float]:
    low, usual, high = sorted(values)
    return low, usual, high


_FEED = (
    "Feed: {from} to {to} times the nose of {nose}, at most {most} here; more than half the nose cuts a "
    "thread, less than the edge's rounding rubs ({source})."
)
_DEPTH = (
    "Depth: from about the nose, so that the edge behind it takes the chip, to {share} of an edge of {edge}; "
    "{why} ({source})."
)
_ROUND_FEED = (
    "Feed: what keeps the largest chip at or below {chip} with a round insert of {nose} at {depth}, at most {most} "
    "here ({source})."
)
_ROUND_DEPTH = "Depth: up to {share} of the round insert's diameter, beyond which it is pushed out; {why} ({source})."
