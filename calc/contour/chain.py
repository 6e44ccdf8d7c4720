"""A chain: lines and arcs, each starting where the one before it ends."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property, reduce
from itertools import pairwise
from typing import NamedTuple

from calc.contour.crossings import Crossing, crossings
from calc.contour.elements import Element
from calc.contour.errors import BelowAxis, BrokenChain, ChainError, CrossesItself, EmptyChain
from calc.contour.parallels import Parallel, parallels
from calc.contour.points import Bounds, Point
from calc.contour.sides import Side
from calc.contour.tolerance import GAP
from calc.language.messages import Phrase


class Joint(NamedTuple):
    """Where two elements join: ``turn`` is the change of heading there, rad, counter-clockwise positive."""

    point: Point
    turn: float


@dataclass(frozen=True)
class Chain:
    """Contiguous elements, in order of travel.

    Raises `EmptyChain` without elements and `BrokenChain` where an element starts farther from the end of the one
    before it than `GAP` times the size of the chain.

    >>> from calc.contour.line import Line
    >>> chain = Chain((Line(Point(0.0, 0.0), Point(0.0, 3.0)), Line(Point(0.0, 3.0), Point(-4.0, 3.0))))
    >>> chain.length
    7.0
    >>> round(math.degrees(chain.joints[0].turn)), chain.called(1)
    (90, 'element 2')
    """

    elements: tuple[Element, ...]
    names: tuple[str, ...] = field(default=(), compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "elements", tuple(self.elements))
        if not self.elements:
            raise EmptyChain
        for index, (before, after) in enumerate(pairwise(self.elements), 1):
            gap = before.end.distance_to(after.start)
            if gap and gap > self.gap_tolerance:
                raise BrokenChain(index, gap)

    def name_of(self, index: int) -> str:
        """How element `index` is called: as its row on the page, else by its number counted from 1."""
        return self.names[index] if self.names else str(index + 1)

    def called(self, index: int) -> str:
        """The same in a sentence: `element 2`, `the chamfer after 2`."""
        name = self.name_of(index)
        return Phrase("element {name}", name=name) if name.isdecimal() else Phrase("the {name}", name=name)

    def __iter__(self) -> Iterator[Element]:
        return iter(self.elements)

    def __len__(self) -> int:
        return len(self.elements)

    @property
    def start(self) -> Point:
        """Where the chain starts."""
        return self.elements[0].start

    @property
    def end(self) -> Point:
        """Where the chain ends."""
        return self.elements[-1].end

    @property
    def length(self) -> float:
        """Length of the path, mm."""
        return math.fsum(element.length for element in self.elements)

    @cached_property
    def bounds(self) -> Bounds:
        """The smallest upright rectangle around the chain, mm."""
        return reduce(Bounds.joined, (element.bounds() for element in self.elements))

    @cached_property
    def gap_tolerance(self) -> float:
        """The gap, mm, below which two ends are one joint."""
        return GAP * self.bounds.size

    @property
    def is_closed(self) -> bool:
        """Whether the chain comes back to its start."""
        return self.start.distance_to(self.end) <= self.gap_tolerance

    @cached_property
    def joints(self) -> tuple[Joint, ...]:
        """The joints between the elements, and of a closed chain the one at its start last."""
        pairs = list(pairwise(self.elements))
        if self.is_closed:
            pairs.append((self.elements[-1], self.elements[0]))
        return tuple(Joint(after.start, heading_change(before, after)) for before, after in pairs)

    def reversed(self) -> Chain:
        """The chain travelled the other way."""
        return Chain(tuple(element.reversed() for element in reversed(self.elements)), self.names[::-1])

    def shifted(self, dz: float, dr: float) -> Chain:
        """The chain moved by ``dz`` and ``dr`` mm."""
        return Chain(tuple(element.shifted(dz, dr) for element in self.elements), self.names)

    def mirrored(self) -> Chain:
        """The chain on the other side of the axis."""
        return Chain(tuple(element.mirrored() for element in self.elements), self.names)

    def scaled(self, factor: float) -> Chain:
        """The chain ``factor`` (above 0) times as large, about z = r = 0."""
        return Chain(tuple(element.scaled(factor) for element in self.elements), self.names)

    def self_intersections(self) -> list[Crossing]:
        """The points, other than joints, that the chain passes or touches twice; the ends of stretches run twice."""
        return crossings(self.elements, self.gap_tolerance)

    def faults(self) -> list[ChainError]:
        """Why the chain cannot be the contour of a part: it runs beyond the axis, or crosses or touches itself."""
        low = ((index, element.bounds().r_min) for index, element in enumerate(self.elements))
        beyond = [BelowAxis(index, r) for index, r in low if r < -self.gap_tolerance]
        return [*beyond, *(CrossesItself(*crossing) for crossing in self.self_intersections())]

    def offset_elements(self, distance: float, side: Side) -> list[Parallel]:
        """The raw parallel ``distance`` mm to the ``side`` of travel, with arcs around convex joints, not trimmed.

        Arcs too small for a parallel toward their centre leave none.
        """
        return parallels(self.elements, [joint.turn for joint in self.joints], distance, side)

    def distance_to(self, point: Point) -> float:
        """Distance of ``point`` from the chain, mm."""
        return min(element.distance_to(point) for element in self.elements)


def heading_change(before: Element, after: Element) -> float:
    """The turn from the end of one element to the start of the next, rad, counter-clockwise positive, -pi to pi.

    >>> from calc.contour.line import Line
    >>> side, face = Line(Point(-9.0, 5.0), Point(0.0, 5.0)), Line(Point(0.0, 5.0), Point(0.0, 0.0))
    >>> round(math.degrees(heading_change(side, face)))
    -90
    """
    out, into = before.tangent_at(before.length), after.tangent_at(0.0)
    return math.atan2(out.cross(into), out.dot(into))
