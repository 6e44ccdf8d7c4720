"""The path of a grooving edge: plunges in an order that keeps the blade straight, then walls, corners and bottom.

The edge is set by its corner on the side away from the chuck. Every second plunge cuts on its whole width; those
between them take the ribs that are left, so that the blade is not pushed to one side where that can be helped.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from calc.cutting.parting_path import CLEAR, Move
from calc.language.messages import Phrase

OVERLAP = 0.1  # mm by which the two finishing passes along the bottom meet; common practice, no source


@dataclass(frozen=True, slots=True)
class GrooveAsked:
    """A groove [mm]: radius of surface and bottom, z of the wall away from the chuck, widths of groove and insert.

    What is left on walls and bottom for finishing, and the leg of a 45 degree break at both edges, are 0 for none.
    """

    surface: float
    bottom: float
    z: float
    width: float
    insert: float
    feed: float
    on_walls: float = 0.0
    on_bottom: float = 0.0
    corner_break: float = 0.0

    @property
    def inward(self) -> float:
        """Which way the radius goes as the edge goes in: -1 outside, 1 in a bore."""
        return 1.0 if self.bottom > self.surface else -1.0

    @property
    def clear(self) -> float:
        """The radius at which the edge is in air."""
        return self.surface - self.inward * CLEAR

    @property
    def is_finished(self) -> bool:
        """Whether walls and bottom are passed over again."""
        return self.on_walls > 0.0 or self.on_bottom > 0.0 or self.corner_break > 0.0


@dataclass(frozen=True, slots=True)
class PlungePlace:
    """A plunge: z of its corner away from the chuck, and how much of its width still cuts [mm]."""

    z: float
    chip_width: float


def plunge_places(asked: GrooveAsked, count: int) -> tuple[PlungePlace, ...]:
    """The places of `count` plunges in the order in which they are made.

    >>> groove = GrooveAsked(30.0, 26.0, 0.0, 8.0, 3.0, 0.1)
    >>> [(round(each.z, 3), round(each.chip_width, 3)) for each in plunge_places(groove, 3)]
    [(0.0, 3.0), (-5.0, 3.0), (-2.5, 2.0)]
    """
    first = asked.z - asked.on_walls
    span = asked.width - 2 * asked.on_walls - asked.insert
    step = span / (count - 1) if count > 1 else 0.0
    order = [*range(0, count, 2), *range(1, count, 2)]
    places: list[PlungePlace] = []
    for index in order:
        z = first - index * step
        places.append(PlungePlace(z, _uncut(z, asked.insert, [each.z for each in places])))
    return tuple(places)


def _uncut(z: float, insert: float, others: Sequence[float]) -> float:
    """How much of an edge at z is not over a slot that is cut already; slots are as wide as the edge."""
    from_right = max((other - insert for other in others if z <= other < z + insert), default=z)
    from_left = min((other for other in others if z - insert < other < z), default=z - insert)
    return max(min(z, max(from_right, z - insert)) - max(from_left, z - insert), 0.0)


def groove_moves(asked: GrooveAsked, places: Sequence[PlungePlace]) -> Iterator[Move]:
    """The plunges at `places`, then the finish of walls and bottom where there is one.

    >>> groove = GrooveAsked(30.0, 26.0, 0.0, 3.0, 3.0, 0.1)
    >>> [(move.why, move.r) for move in groove_moves(groove, plunge_places(groove, 1))]
    [('to plunge 1', 31.0), ('plunge 1', 26.0), ('out', 31.0)]
    """
    floor = asked.bottom - asked.inward * asked.on_bottom
    for number, place in enumerate(places, start=1):
        yield Move(Phrase("to plunge {number}", number=number), asked.clear, place.z)
        yield Move(Phrase("plunge {number}", number=number), floor, place.z, asked.feed)
        yield Move("out", asked.clear, place.z)
    if asked.is_finished:
        yield from _finish(asked)


def _finish(asked: GrooveAsked) -> Iterator[Move]:
    """Each wall from its corner break inward, then along the bottom to the middle, where both passes meet."""
    slack = asked.width - asked.insert
    middle = asked.z - slack / 2
    for side, wall, words in ((1.0, asked.z, "away from the chuck"), (-1.0, asked.z - slack, "on the chuck's side")):
        out = asked.corner_break + CLEAR if asked.corner_break else 0.0
        yield Move(Phrase("beside the wall {words}", words=words), asked.clear, wall + side * out)
        if asked.corner_break:
            yield Move("corner break", asked.surface + asked.inward * asked.corner_break, wall, asked.feed)
        yield Move(Phrase("wall {words}", words=words), asked.bottom, wall, asked.feed)
        meet = middle - side * min(OVERLAP, slack / 2) if slack > 0.0 else wall
        if slack > 0.0:
            yield Move("along the bottom", asked.bottom, meet, asked.feed)
        yield Move("out", asked.clear, meet)
