"""The way of the nose centre along a contour: exact lines and arcs, nowhere nearer than the nose's radius."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from calc.contour import Bounds, Chain, Element, Point, Side
from calc.language.checks import require_positive
from calc.tool.nose_path.distances import Distances
from calc.tool.nose_path.linking import linked
from calc.tool.nose_path.raw import raw_way
from calc.tool.nose_path.stretches import Stretch, clear_stretches
from calc.tool.nose_path.unreached import Gaps, Gouge, Unreached
from calc.tool.point import STEPS

JOINED = 4e-9
"""Ends nearer than this share of the contour's size are joined."""


@dataclass(frozen=True, slots=True)
class Step:
    """One element of the nose centre's way, and what the nose touches meanwhile.

    `of` is the index of the contour's element; round a convex joint `contact` is that joint, and `of` the element that
    ends there.
    """

    element: Element
    of: int
    contact: Element | Point


@dataclass(frozen=True)
class NosePath:
    """Where the nose centre goes, in runs that follow each other without a gap; what it cannot reach.

    `pockets` are ways of a nose that would be behind a place too narrow to get through.
    """

    chain: Chain
    nose_radius: float
    side: Side
    runs: tuple[tuple[Step, ...], ...]
    pockets: tuple[tuple[Step, ...], ...]
    unreached: tuple[Unreached, ...]

    @cached_property
    def gouges(self) -> tuple[Gouge, ...]:
        """What would happen to a nose that followed each element to its end all the same."""
        return tuple(Gaps(self.chain, self.nose_radius, self.side).gouges(self.unreached))

    @cached_property
    def _boxes(self) -> NDArray[np.float64]:
        return np.array([element.bounds() for element in self.chain])

    def elements_near(self, bounds: Bounds, margin: float) -> list[int]:
        """The indices of the contour's elements whose bounds come within `margin` (mm) of these bounds."""
        low, high = self._boxes[:, [0, 2]] - margin, self._boxes[:, [1, 3]] + margin
        near = (low <= [bounds.z_max, bounds.r_max]) & (high >= [bounds.z_min, bounds.r_min])
        found: list[int] = np.flatnonzero(near.all(axis=1)).tolist()
        return found

    @property
    def steps(self) -> tuple[Step, ...]:
        """All steps, in order of travel."""
        return tuple(step for run in self.runs for step in run)

    @property
    def centre_chains(self) -> tuple[Chain, ...]:
        """The nose centre's way, one chain for each run."""
        return tuple(Chain(tuple(step.element for step in run)) for run in self.runs)

    def tool_point_chains(self, number: int) -> tuple[Chain, ...]:
        """The way of the tool point of that number (0 to 9): that of the nose centre, shifted."""
        step = STEPS[number].times(self.nose_radius)
        return tuple(chain.shifted(step.z, step.r) for chain in self.centre_chains)

    @property
    def is_whole(self) -> bool:
        """Whether the nose touches every place of the contour."""
        return not self.unreached


def nose_path(chain: Chain, nose_radius: float, side: Side) -> NosePath:
    """The way of the centre of a nose of `nose_radius` (mm) that rolls along `chain` on the `side` of travel.

    It is trimmed at concave corners, swings round convex ones, and leaves out every loop, also those across several
    elements. Each of its points is one nose radius from the contour and nowhere nearer. Places that the nose cannot
    touch, or cannot get into, are `unreached`.

    Raises OutOfRange unless the radius is above 0. Source: parallels of lines and circles; a disc that rolls.

    >>> from calc.contour import Line
    >>> corner = Chain((Line(Point(0.0, 20.0), Point(0.0, 10.0)), Line(Point(0.0, 10.0), Point(9.0, 10.0))))
    >>> path = nose_path(corner, 2.0, "left")
    >>> [(step.element.start, step.element.end) for step in path.steps]
    [(Point(z=2.0, r=20.0), Point(z=2.0, r=12.0)), (Point(z=2.0, r=12.0), Point(z=9.0, r=12.0))]
    >>> round(path.unreached[0].size, 6)
    0.828427
    """
    require_positive(nose_radius=nose_radius)
    distances = Distances(chain.elements)
    behind = raw_way(chain, nose_radius, "right" if side == "left" else "left")
    stretches = clear_stretches(raw_way(chain, nose_radius, side), behind, chain, nose_radius, distances)
    if chain.is_closed:
        stretches = _from_the_outside(stretches)
    near = JOINED * max(chain.bounds.size, nose_radius)
    found = linked(stretches, near)
    gaps = Gaps(chain, nose_radius, side)
    runs = [_by_position(run, chain) for run in found.runs] if chain.is_closed else found.runs
    return NosePath(
        chain,
        nose_radius,
        side,
        tuple(tuple(_steps(run, gaps)) for run in found.runs),
        tuple(tuple(_steps(run, gaps)) for run in found.pockets),
        tuple(gaps.of(runs)),
    )


def _from_the_outside(stretches: list[Stretch]) -> list[Stretch]:
    """The stretches of a closed contour from one that is surely not inside a pocket: the outermost."""
    if not stretches:
        return []
    outermost = max(range(len(stretches)), key=lambda index: stretches[index].element.bounds().r_max)
    return [*stretches[outermost:], *stretches[:outermost]]


def _by_position(run: list[Stretch], chain: Chain) -> list[Stretch]:
    """The stretches of a run in the order of the contour's elements."""
    return sorted(run, key=lambda stretch: (stretch.piece, chain.elements[stretch.raw.of].locate(stretch.start)))


def _steps(run: Sequence[Stretch], gaps: Gaps) -> list[Step]:
    """The stretches as steps that join exactly."""
    steps: list[Step] = []
    for stretch in run:
        element = stretch.element
        if steps and element.start != steps[-1].element.end:
            element = element.with_ends(steps[-1].element.end, element.end)
        steps.append(Step(element, stretch.raw.of, _contact(stretch, gaps)))
    return steps


def _contact(stretch: Stretch, gaps: Gaps) -> Element | Point:
    raw = stretch.raw
    if raw.around is not None:
        return raw.around
    element = gaps.chain.elements[raw.of]
    start, end = gaps.spot(stretch, stretch.start).s, gaps.spot(stretch, stretch.end).s
    if start <= 0.0 and end >= element.length:
        return element
    return element.between(start, end) if end > start else element.point_at(start)
