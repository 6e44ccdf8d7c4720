"""The path of a parting edge: a first plunge, chamfers on both sides, on to the axis and past it, or through a tube.

The edge is set by its corner on the part's side. Z is that of the part's finished end on the chuck side.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from calc.language.messages import Phrase

CLEAR = 1.0  # mm in air; common practice, no source
BEYOND = 0.5  # mm that the first plunge goes deeper than the chamfers; common practice, no source


@dataclass(frozen=True, slots=True)
class Move:
    """A move of the corner on the part's side to radius and z [mm]; `feed` [mm/rev] None for a rapid one."""

    why: str
    r: float
    z: float
    feed: float | None = None


@dataclass(frozen=True, slots=True)
class Parting:
    """What is parted [mm]: outer radius, radius at which the feed ends (below 0: past the axis), end of the part, edge.

    `slow_from` is the radius from which on the feed is `slow_feed` [mm/rev], None for nowhere.
    """

    outer: float
    end: float
    z: float
    width: float
    feed: float
    slow_from: float | None = None
    slow_feed: float | None = None
    part_chamfer: float = 0.0
    bar_chamfer: float = 0.0


def parting_moves(asked: Parting) -> Iterator[Move]:
    """The moves in their order; chamfers are cut before the part hangs on a thin core.

    >>> for move in parting_moves(Parting(20.0, -0.3, -40.0, 3.0, 0.1, 2.0, 0.05)):
    ...     print(move.why, move.r, move.z, move.feed)
    to the start 21.0 -40.0 None
    feed in 2.0 -40.0 0.1
    feed less, on past the axis -0.3 -40.0 0.05
    out along X 21.0 -40.0 None
    """
    above = asked.outer + CLEAR
    yield Move("to the start", above, asked.z)
    if asked.part_chamfer or asked.bar_chamfer:
        yield from _chamfers(asked, above)
    yield from _through(asked)
    yield Move("out along X", above, asked.z)


def _chamfers(asked: Parting, above: float) -> Iterator[Move]:
    """A first plunge, then each chamfer from outside in, with the corner of its own side."""
    deepest = max(asked.part_chamfer, asked.bar_chamfer) + BEYOND
    yield Move("first plunge, below the chamfers", asked.outer - deepest, asked.z, asked.feed)
    yield Move("out", above, asked.z)
    for size, sign, words in (
        (asked.part_chamfer, 1.0, "chamfer of the part"),
        (asked.bar_chamfer, -1.0, "chamfer of the bar"),
    ):
        if size:
            yield Move(Phrase("beside the {what}", what=words), above, asked.z + sign * (size + CLEAR))
            yield Move(words, asked.outer - size, asked.z, asked.feed)
            yield Move("out", above, asked.z)


def _through(asked: Parting) -> Iterator[Move]:
    is_past = asked.end < 0.0
    slow = asked.slow_from
    if slow is None or slow <= asked.end or asked.slow_feed is None:
        yield Move("feed in past the axis" if is_past else "feed in to the end", asked.end, asked.z, asked.feed)
        return
    if slow < asked.outer:
        yield Move("feed in", slow, asked.z, asked.feed)
    yield Move(
        "feed less, on past the axis" if is_past else "feed less, on to the end", asked.end, asked.z, asked.slow_feed
    )
