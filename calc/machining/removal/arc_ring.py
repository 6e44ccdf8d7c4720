"""What a convex outline passes over along an arc, as one ring: outer side, front, inner side, back.

On the outer side corner after corner of the core leads, each along an arc of its own about the path's centre. On the
inner side a straight edge that comes to lead would make the side cross itself; where that is so, where the path is
tighter than the nose or turns by half a turn or more, there is no such ring and the pieces have to be united.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from calc.contour import Arc
from calc.machining.removal.polygons import FINE, Area, Places, polygon, steps_of

TINY = 1e-9


def ring_along(core: Sequence[complex], nose: float, rim: Places, arc: Arc) -> Area | None:
    """The area that an outline about the nose's centre passes over; None where it is not one simple ring.

    `core` are its corners, counter-clockwise, `nose` (mm) is the radius about each, `rim` are points along it all.

    >>> from calc.contour import Point
    >>> disc = np.exp(1j * np.linspace(0.0, math.tau, 4000, endpoint=False))
    >>> quarter = Arc(Point(0.0, 3.0), Point(-3.0, 0.0), Point(0.0, 0.0), "ccw")
    >>> area = ring_along([0j], 1.0, disc, quarter)
    >>> round(area.area, 3), round(math.pi * (16.0 - 4.0) / 4.0 + math.pi, 3)
    (12.566, 12.566)
    """
    if arc.radius < nose - TINY or arc.angle >= math.pi:
        return None
    centre, ray = complex(*arc.centre), complex(*arc.start) - complex(*arc.centre)
    if arc.turn == "cw":  # as its mirror image
        core, rim = [corner.conjugate() for corner in core[::-1]], rim[::-1].conj()
        centre, ray = centre.conjugate(), ray.conjugate()
    ring = _ring(core, nose, rim, (centre, ray, arc.angle))
    if ring is None:
        return None
    area = polygon(ring.conj() if arc.turn == "cw" else ring)
    return area if area.is_valid else None


def _ring(core: Sequence[complex], nose: float, rim: Places, path: tuple[complex, complex, float]) -> Places | None:
    """The ring along a path that turns counter-clockwise: its centre, the ray to its start, by how much it turns."""
    centre, ray, angle = path
    last = ray * cmath.exp(1j * angle)
    edges = [b - a for a, b in zip(core, [*core[1:], core[0]], strict=True) if a != b]
    inner = [cut for cut in _headings(edges, -1j * ray) if TINY < cut < angle - TINY]
    if inner:
        return None
    cuts = [0.0, *sorted(cut for cut in _headings(edges, 1j * ray) if cut < angle), angle]
    radius = abs(ray)
    outer = [
        _leading(core, ray * cmath.exp(1j * start), end - start, (radius + nose) / radius)
        for start, end in pairwise(cuts)
    ]
    back = _leading(core, ray, angle, (radius - nose) / radius, inward=True)[::-1]
    front, behind = _ahead(rim, core, 1j * last), _ahead(rim, core, -1j * ray)
    return np.concatenate([centre + each for each in (*outer, last + front, back, ray + behind)])


def _headings(edges: Sequence[complex], first: complex) -> list[float]:
    """By how much (rad) a heading has turned from the `first` one when it is that of an edge."""
    return [cmath.phase(edge / first) % math.tau for edge in edges]


def _leading(core: Sequence[complex], ray: complex, angle: float, far: float, *, inward: bool = False) -> Places:
    """The arc of the corner that leads while a ray turns, `far` times as far out as the ray is long."""
    middle = ray * cmath.exp(0.5j * angle)
    middle = -middle if inward else middle
    corner = max(core, key=lambda each: (each * middle.conjugate()).real)
    return corner + turned(ray * far, angle)


def turned(ray: complex, angle: float) -> Places:
    """Points along an arc about 0 from a ray (mm) on over an `angle` (rad, + for counter-clockwise).

    Both ends are on it, the points between them so far out that the chords keep its area.
    """
    if abs(ray) < TINY or abs(angle) < TINY:
        return np.array([ray])
    step = angle / steps_of(max(abs(ray), FINE), abs(angle), FINE)
    found = ray * np.exp(1j * step * np.arange(round(angle / step) + 1))
    found[1:-1] *= math.sqrt(step / math.sin(step))  # of three chords or more none turns by half a turn
    return np.asarray(found)


def from_to(ring: Places, first: int, last: int) -> Places:
    """The points of a ring from one index on to another, that one too.

    >>> [from_to(np.array([0j, 1j, 2j]), first, last).tolist() for first, last in ((2, 0), (0, 1), (1, 1))]
    [[2j, 0j], [0j, 1j], [1j]]
    """
    return ring[first : last + 1] if first <= last else np.concatenate([ring[first:], ring[: last + 1]])


def _ahead(rim: Places, core: Sequence[complex], way: complex) -> Places:
    """The points of a rim from its right to its left that are ahead of both, seen along a `way` of any length."""
    seen = rim * way.conjugate()
    left, right = int(seen.imag.argmax()), int(seen.imag.argmin())
    corners = [corner * way.conjugate() for corner in core]
    least = min(corners, key=lambda each: each.imag).real, max(corners, key=lambda each: each.imag).real
    around = from_to(rim, right, left)
    first = int(seen[right].real < least[0])
    end = len(around) - int(seen[left].real < least[1])
    return np.asarray(around[first:end])
