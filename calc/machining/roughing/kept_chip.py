"""The chip of a round insert kept as thick in shallow passes as at the full depth: they are fed faster."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from calc.cutting.chip import Edge
from calc.cutting.feed_limits import CEILING
from calc.cutting.thickest_chip import feed_for_thickest_chip, thickest_chip
from calc.language.messages import Message
from calc.language.problems import Fault, OutOfRange
from calc.machining.job import Cut, Move, Operation, Tool
from calc.machining.removal.taking import Removal
from calc.machining.roughing.planning import Planned


class Fed(NamedTuple):
    """A pass, its moves and what it took, at its feed."""

    planned: Planned
    moves: list[Move]
    removal: Removal


def feed_at_depth(feed: float, full: float, depth: float, nose: float) -> float:
    """The feed (mm/rev) in a pass `depth` (mm) deep at which the chip is as thick as with `feed` at the `full` depth.

    It is never less than `feed`, and of what is above that never more than `CEILING`. Source: `thickest_chip`.

    >>> round(feed_at_depth(0.2, 2.0, 1.0, 6.0), 3)
    0.275
    >>> feed_at_depth(0.2, 2.0, 3.0, 6.0)
    0.2
    """
    if not 0.0 < depth < full:
        return feed
    edge = Edge(nose)
    same = feed_for_thickest_chip(thickest_chip(feed, full, edge), depth, edge)
    return max(feed, CEILING if same is None else min(same, CEILING))


def require_round(cut: Cut, tool: Tool) -> None:
    """Raise `OutOfRange` at `feed_rule` where the chip of an insert with straight edges is to be kept."""
    if cut.chip_kept and tool.edges is not None:
        text = "Only a round insert's chip gets thinner with the depth: leave the feed as given, or take a round one."
        raise OutOfRange(Fault("feed_rule", Message(text)))


def fed_by_depth(operation: Operation, planned: Planned, moves: Sequence[Move], found: Removal) -> Fed:
    """A roughing pass, its moves and what it took, at the feed for the depth that it was swept to take."""
    cut = operation.cut
    if not cut.chip_kept or planned.kind == "finish" or cut.depth is None or cut.feed is None:
        return Fed(planned, list(moves), found)
    feed = feed_at_depth(cut.feed, cut.depth, found.depth, operation.tool.nose)
    share = feed / cut.feed
    led = [each if each.feed is None else replace(each, feed=each.feed * share) for each in moves]
    pieces = tuple(replace(piece, feed=piece.feed * share) for piece in planned.pieces)
    bites = tuple(bite if bite.feed is None else replace(bite, feed=bite.feed * share) for bite in found.bites)
    return Fed(replace(planned, pieces=pieces, feed=feed), led, replace(found, bites=bites))
