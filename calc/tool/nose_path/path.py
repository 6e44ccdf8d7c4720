"""The path of the nose centre along a contour: exact lines and arcs, nowhere nearer than the nose's radius."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np
from numpy.typing import NDArray

from calc.contour import Chain, Element, Point, Side, other_side
from calc.contour.boxes import grown, overlapping
from calc.contour.closest import closest
from calc.contour.many import Many, as_point, element_between, many, many_of
from calc.language.checks import require_positive
from calc.tool.nose_path.linking import Linked, linked
from calc.tool.nose_path.raw import Raw, joint_turns, raw_path
from calc.tool.nose_path.stretches import Ground, Stretches, clear_stretches
from calc.tool.nose_path.unreached import Gaps, Gouge, Spot, Touched, Unreached
from calc.tool.point import STEPS

JOINED = 4e-9
"""Ends nearer than this share of the contour's size are joined."""


@dataclass(frozen=True, slots=True)
class Step:
    """One element of the nose centre's path, and what the nose touches meanwhile.

    `of` is the index of the contour's element; round a convex joint `touched` is that joint, and `of` the element that
    ends there. Along an element the nose touches it between the positions of `stretch` (mm).
    """

    element: Element
    of: int
    touched: Element | Point
    stretch: tuple[float, float]

    @property
    def contact(self) -> Element | Point:
        """What the nose touches: the part of the contour's element, or the joint that it swings round."""
        if isinstance(self.touched, Point):
            return self.touched
        start, end = self.stretch
        if start <= 0.0 and end >= self.touched.length:
            return self.touched
        return self.touched.between(start, end) if end > start else self.touched.point_at(start)


@dataclass(frozen=True)
class NosePath:
    """Where the nose centre goes, in runs that follow each other without a gap; what it cannot reach.

    `pockets` are paths of a nose that would be behind a place too narrow to get through.
    """

    chain: Chain
    nose_radius: float
    side: Side
    runs: tuple[tuple[Step, ...], ...]
    pockets: tuple[tuple[Step, ...], ...]
    touched: tuple[tuple[Touched, ...], ...]

    @cached_property
    def unreached(self) -> tuple[Unreached, ...]:
        """The stretches of the contour that the nose does not touch, in order of travel."""
        return tuple(Gaps(self.chain, self.nose_radius, self.side).of(self.touched))

    @cached_property
    def gouges(self) -> tuple[Gouge, ...]:
        """What would happen to a nose that followed each element to its end all the same."""
        return tuple(Gaps(self.chain, self.nose_radius, self.side).gouges(self.unreached))

    @cached_property
    def _shape(self) -> Many:
        return many_of(self.chain.elements)

    @cached_property
    def _boxes(self) -> NDArray[np.float64]:
        return self._shape.boxes()

    def cut_by(self, centre_path: Element) -> tuple[float, int]:
        """How deep (mm) a nose led along an element cuts into the contour at most, and into which element.

        Below 0 by what it stays off; only elements within its reach are looked at, (0, 0) where there is none.
        """
        path = many_of([centre_path])
        _, near = overlapping(grown(path.boxes(), self.nose_radius), self._boxes)
        if not len(near):
            return 0.0, 0
        apart, _ = closest(path[np.zeros(len(near), dtype=np.intp)], self._shape[near])
        first = int(apart.argmin())
        return self.nose_radius - float(apart[first]), int(near[first])

    @property
    def steps(self) -> tuple[Step, ...]:
        """All steps, in order of travel."""
        return tuple(step for run in self.runs for step in run)

    @property
    def centre_chains(self) -> tuple[Chain, ...]:
        """The nose centre's path, one chain for each run."""
        return tuple(Chain(tuple(step.element for step in run)) for run in self.runs)

    def tool_point_chains(self, number: int) -> tuple[Chain, ...]:
        """The path of the tool point of that number (0 to 9): that of the nose centre, shifted."""
        step = STEPS[number].times(self.nose_radius)
        return tuple(chain.shifted(step.z, step.r) for chain in self.centre_chains)

    @property
    def is_whole(self) -> bool:
        """Whether the nose touches every place of the contour."""
        return not self.unreached


def nose_path(chain: Chain, nose_radius: float, side: Side) -> NosePath:
    """The path of the centre of a nose of `nose_radius` (mm) that rolls along `chain` on the `side` of travel.

    It is trimmed at concave corners, swings round convex ones, and leaves out every loop, also those across several
    elements. Each of its points is one nose radius from the contour and nowhere nearer. Places that the nose cannot
    touch, or cannot get into, are `unreached`.

    Raises OutOfRange unless the radius is above 0. Source: parallels of lines and circles; a disc that rolls.

    >>> from calc.contour import Line
    >>> corner = Chain((Line(Point(0.0, 20.0), Point(0.0, 10.0)), Line(Point(0.0, 10.0), Point(9.0, 10.0))))
    >>> path = nose_path(corner, 2.0, "left")
    >>> [(step.element.start, step.element.end) for step in path.steps]
    [(Point(z=2.0, r=20.0), Point(z=2.0, r=12.0)), (Point(z=2.0, r=12.0), Point(z=9.0, r=12.0))]
    >>> round(path.unreached[0].size, 6), round(path.unreached[0].left, 6)
    (0.828427, 0.585786)
    """
    require_positive(nose_radius=nose_radius)
    return _path(chain, chain.names, nose_radius, side)


@lru_cache(maxsize=2)
def _path(chain: Chain, _: tuple[str, ...], nose_radius: float, side: Side) -> NosePath:
    """The path; operations that follow each other often ask for the same, of a chain of the same names."""
    shape = many_of(chain.elements)
    boxes = shape.boxes()
    size = max(float(np.abs(boxes).max()), nose_radius)
    ground = Ground(shape, boxes, size, chain.is_closed)
    turns = joint_turns(shape, is_closed=chain.is_closed)
    raw = raw_path(shape, turns, nose_radius, side)
    behind = raw_path(shape, turns, nose_radius, other_side(side))
    stretches = clear_stretches(raw, behind, ground, nose_radius)
    if chain.is_closed:
        stretches = _from_the_outside(raw.pieces, stretches)
    found = linked(stretches, JOINED * size)
    if chain.is_closed:
        found = _round_the_outside(found, stretches, JOINED * size)
    made = _Made(chain, shape, raw, stretches)
    return NosePath(
        chain,
        nose_radius,
        side,
        tuple(made.steps(run) for run in found.runs),
        tuple(made.steps(run) for run in found.pockets),
        tuple(made.touched(run) for run in found.runs),
    )


def _from_the_outside(pieces: Many, stretches: Stretches) -> Stretches:
    """The stretches of a closed contour from one that is surely not inside a pocket: the outermost."""
    if not len(stretches):
        return stretches
    outermost = int(_cut_out(pieces, stretches).boxes()[:, 3].argmax())
    return stretches[np.roll(np.arange(len(stretches)), -outermost)]


def _round_the_outside(found: Linked, stretches: Stretches, near: float) -> Linked:
    """Behind a first run that comes back to its own start lie pockets alone."""
    first, others = found.runs[:1], found.runs[1:]
    if not others or abs(stretches.end[first[0][-1]] - stretches.start[first[0][0]]) > near:
        return found
    return Linked(first, [*found.pockets, *others])


def _cut_out(pieces: Many, stretches: Stretches) -> Many:
    of = pieces[stretches.piece]
    return many(stretches.start, stretches.end, of.centre, of.sign)


class _Made:
    """Steps from stretches, and what they touch."""

    def __init__(self, chain: Chain, shape: Many, raw: Raw, stretches: Stretches) -> None:
        self.chain = chain
        pieces = raw.pieces[stretches.piece]
        of = raw.of[stretches.piece]
        around = raw.around[stretches.piece]
        elements = shape[of]
        first, last = (
            np.where(around, elements.length, np.clip(elements.locate(ends), 0.0, elements.length))
            for ends in (stretches.start, stretches.end)
        )
        self.of: list[int] = of.tolist()
        self.around: list[bool] = around.tolist()
        self.piece: list[int] = stretches.piece.tolist()
        self.sign: list[float] = pieces.sign.tolist()
        self.centre: list[complex] = pieces.centre.tolist()
        self.start: list[complex] = stretches.start.tolist()
        self.end: list[complex] = stretches.end.tolist()
        self.first: list[float] = first.tolist()
        self.last: list[float] = last.tolist()

    def steps(self, run: list[int]) -> tuple[Step, ...]:
        """The stretches as steps that join exactly."""
        made: list[Step] = []
        for index in run:
            start = made[-1].element.end if made else as_point(self.start[index])
            end, of = as_point(self.end[index]), self.of[index]
            element = element_between(start, end, self.centre[index], self.sign[index])
            touched = self.chain.elements[of]
            contact = touched.end if self.around[index] else touched
            made.append(Step(element, of, contact, (self.first[index], self.last[index])))
        return tuple(made)

    def touched(self, run: list[int]) -> tuple[Touched, ...]:
        """What the stretches touch, in the order of the contour's elements."""
        found = [
            Touched(
                (self.piece[index], self.first[index]),
                Spot(self.of[index], self.first[index]),
                Spot(self.of[index], self.last[index]),
                as_point(self.start[index]),
                as_point(self.end[index]),
            )
            for index in run
        ]
        return tuple(sorted(found, key=lambda each: each.order)) if self.chain.is_closed else tuple(found)
