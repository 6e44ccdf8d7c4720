"""The largest cutting force and power of each pass, from the deepest cut that the sweep has found."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from calc.contour import Point
from calc.cutting.chip import Edge
from calc.cutting.force import Chip, CutForce, chip_of, cutting_power, force_of
from calc.cutting.materials import Material
from calc.cutting.speed import spindle_at
from calc.language.working import recording
from calc.machining.machine import Done, Made
from calc.machining.passes import Piece

LEAST_DEPTH = 1e-6
"""mm: less than this is not cut."""

SAME_DEPTH = 1e-3
"""mm: depths that differ by less are one; so sure is the sweep."""


@dataclass(frozen=True, slots=True)
class PassForce:
    """A pass's deepest cut (mm), its largest force (N), its power (N mm/min) and spindle speed (1/min) at most.

    `high` is the force (N) by the highest published value.
    """

    name: str
    depth: float
    force: float
    high: float
    power: float | None
    rpm: float | None


def forces(done: Sequence[Done], work: Material, max_rpm: float | None) -> list[PassForce]:
    """A row for each pass of operations that have a feed; power and speed where there is a surface speed, too.

    The edge is taken as the nose led on straight: Kienzle's formula with the deepest cut of the pass, at the surface
    speed that is held; `max_rpm` (1/min) is the spindle's limit. Source: see `calc.cutting.force`.
    """
    rows = []
    with recording():
        for operation in done:
            cut = operation.operation.cut
            for each in operation.made if cut.feed is not None else ():
                depth, force, high = each.removal.depth, 0.0, 0.0
                if depth > LEAST_DEPTH and each.planned.feed is not None:
                    _, found = cut_of(depth, each.planned.feed, operation.operation.tool.nose, work)
                    force, high = found.force, found.high
                speed = cut.surface_speed
                power = None if speed is None else cutting_power(force, speed)
                rows.append(PassForce(each.planned.name, depth, force, high, power, _fastest(each, speed, max_rpm)))
    return rows


def cut_of(depth: float, feed: float, nose: float, work: Material) -> tuple[Chip, CutForce]:
    """Chip and force of a nose (mm) that is led on straight, at its deepest cut (mm) and its feed (mm/rev).

    Source: see `calc.cutting.force`.

    >>> from calc.cutting.materials import material
    >>> round(cut_of(1.0, 0.25, 6.0, material("C45"))[1].force)
    804
    """
    chip = chip_of(depth, feed, Edge(nose))
    return chip, force_of(chip, work)


def deepest(done: Sequence[Done]) -> Made | None:
    """The pass with the deepest cut of all, of several as deep the one farthest out; None where nothing is cut."""
    made = [each for operation in done for each in operation.made if each.removal.depth > LEAST_DEPTH]
    most = max((each.removal.depth for each in made), default=0.0)
    tied = [each for each in made if each.removal.depth > most - SAME_DEPTH]
    return max(tied, key=lambda each: max(map(_outermost, each.planned.pieces)), default=None)


def _outermost(piece: Piece) -> float:
    contact = piece.contact
    ends = (contact,) if isinstance(contact, Point) else (contact.start, contact.end)
    return max(abs(point.r) for point in ends)


def _fastest(made: Made, speed: float | None, max_rpm: float | None) -> float | None:
    """The highest spindle speed of a pass (1/min), None without a surface speed or with no limit on the axis."""
    least = min(_least_radius(piece) for piece in made.pieces)
    if speed is None or (max_rpm is None and least <= 0.0):
        return None
    return spindle_at(2.0 * least, speed, max_rpm).rpm


def _least_radius(piece: Piece) -> float:
    contact = piece.contact
    return abs(contact.r) if isinstance(contact, Point) else max(contact.bounds().r_min, 0.0)
