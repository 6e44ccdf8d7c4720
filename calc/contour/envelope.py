"""The lower envelope: of many lines and arcs, at each radius the one with the smallest z.

What several swept cuts leave of a face, seen from +Z, is the lowest of them at each radius.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterable, Sequence
from itertools import pairwise

from calc.contour.elements import Element
from calc.contour.errors import NotFinite
from calc.contour.intersect import intersections, same_carrier
from calc.contour.line import Line
from calc.contour.points import Point
from calc.contour.tolerance import ROUNDING


def lower_envelope(pieces: Iterable[Element], r_from: float, r_to: float) -> list[Element]:
    """The parts of ``pieces`` with the smallest z at each radius between ``r_from`` and ``r_to`` (mm), exact.

    The result runs from ``r_from`` to ``r_to``, each element too. Where no piece covers a radius there is a gap, where
    one piece ends above another a step: neither is bridged. A piece that bends back in r counts as several; one that
    keeps its radius (a cylinder) covers none. Pieces that lie on one another count once.

    Raises `NotFinite` for a limit that is NaN or infinite.

    >>> wide = Line(Point(0.0, 0.0), Point(0.0, 20.0))
    >>> notch = Line(Point(-2.0, 8.0), Point(2.0, 12.0))
    >>> [(part.start.r, part.end.r) for part in lower_envelope([wide, notch], 20.0, 0.0)]
    [(20.0, 10.0), (10.0, 8.0), (8.0, 0.0)]
    """
    for name, limit in (("r_from", r_from), ("r_to", r_to)):
        if not math.isfinite(limit):
            raise NotFinite(name, str(limit))
    low, high = sorted((r_from, r_to))
    pieces = list(pieces)
    tolerance = ROUNDING * max((piece.size for piece in pieces), default=0.0)
    rising = [part for piece in pieces for part in _rising_parts(piece, low, high, tolerance)]
    lowest = _meeting(_lowest(rising, tolerance), tolerance)
    return lowest if r_from < r_to else [part.reversed() for part in reversed(lowest)]


def _rising_parts(piece: Element, low: float, high: float, tolerance: float) -> list[Element]:
    """The piece between the limits, cut where r turns and travelled so that r rises."""
    parts: list[Element] = []
    for part in piece.split_where_r_turns():
        rising = part if part.start.r < part.end.r else part.reversed()
        parts += _cut(rising, max(low, rising.start.r), min(high, rising.end.r), tolerance)
    return parts


def _lowest(rising: list[Element], tolerance: float) -> list[Element]:
    """Halve, take the lowest of each half, merge: the number of comparisons stays near the number of pieces."""
    if len(rising) <= 1:
        return rising
    middle = len(rising) // 2
    return _merged(_lowest(rising[:middle], tolerance), _lowest(rising[middle:], tolerance), tolerance)


def _merged(some: list[Element], others: list[Element], tolerance: float) -> list[Element]:
    cuts = sorted({end.r for part in (*some, *others) for end in (part.start, part.end)})
    merged: list[Element] = []
    for low, high in pairwise(cuts):
        if high - low > tolerance:
            here = [*_covering(some, low, high, tolerance), *_covering(others, low, high, tolerance)]
            for part in _lower_parts(here, tolerance):
                _append(merged, part, tolerance)
    return merged


def _covering(rising: Sequence[Element], low: float, high: float, tolerance: float) -> list[Element]:
    """The one part over the middle of the interval, cut to it; none in a gap."""
    middle = (low + high) / 2.0
    place = bisect_right(rising, middle, key=lambda part: part.start.r) - 1
    if place < 0 or rising[place].end.r < middle:
        return []
    return _cut(rising[place], low, high, tolerance)


def _lower_parts(here: list[Element], tolerance: float) -> list[Element]:
    """Of at most two elements over one interval, the lower at each radius."""
    if len(here) < 2:
        return here
    a, b = here
    inner = [p for p in intersections(a, b) if a.start.r + tolerance < p.r < a.end.r - tolerance]
    parts = []
    for start, end in pairwise((None, *inner, None)):
        options = [piece.with_ends(start or piece.start, end or piece.end) for piece in (a, b)]
        parts.append(_lower(options, tolerance))
    return parts


def _lower(options: list[Element], tolerance: float) -> Element:
    a, b = options
    middle = (a.start.r + a.end.r) / 2.0
    return a if _z_at(a, middle) <= _z_at(b, middle) + tolerance else b


def _append(merged: list[Element], part: Element, tolerance: float) -> None:
    """Add a part; if it carries on where the last one ends, make them one."""
    if merged and merged[-1].end.distance_to(part.start) <= tolerance and same_carrier(merged[-1], part):
        merged[-1] = merged[-1].with_ends(merged[-1].start, part.end)
    else:
        merged.append(part)


def _cut(rising: Element, low: float, high: float, tolerance: float) -> list[Element]:
    """The part between two radii; none if that is no wider than rounding."""
    if high - low <= tolerance:
        return []
    return [rising.with_ends(_point_at_r(rising, low, tolerance), _point_at_r(rising, high, tolerance))]


def _point_at_r(rising: Element, r: float, tolerance: float) -> Point:
    """The point at radius ``r``; an end that is as near as rounding stays as it is."""
    for end in (rising.start, rising.end):
        if abs(end.r - r) <= tolerance:
            return end
    return Point(_z_at(rising, r), r)


def _z_at(rising: Element, r: float) -> float:
    if isinstance(rising, Line):
        share = (r - rising.start.r) / (rising.end.r - rising.start.r)
        return rising.start.z + share * (rising.end.z - rising.start.z)
    aside = abs(r - rising.centre.r)
    half_chord = math.sqrt(max((rising.radius - aside) * (rising.radius + aside), 0.0))
    return rising.centre.z + math.copysign(half_chord, rising.point_at(rising.length / 2.0).z - rising.centre.z)


def _meeting(rising: list[Element], tolerance: float) -> list[Element]:
    """Neighbours that meet within rounding get one common end."""
    for index, (before, after) in enumerate(pairwise(rising), 1):
        if before.end != after.start and after.distance_to(before.end) <= 4.0 * tolerance:
            rising[index] = after.with_ends(before.end, after.end)
    return rising
