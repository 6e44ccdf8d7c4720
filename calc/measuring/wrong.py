"""What comes out when something is set wrong: the surface that the true nose cuts, and how far it is off the print."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from calc.contour import Arc, Chain, Element, Point, Side, Vector, other_side
from calc.machining.removal.polygons import places_of
from calc.tool.nose_measures import led_by_the_print
from calc.tool.nose_path import nose_path
from calc.tool.point import STEPS

Compensation = Literal["right", "none", "other"]
Places = NDArray[np.complex128]
FINE = 3e-6
"""mm: arcs are followed in steps whose chords leave them by this, small arcs in larger steps than large ones."""
ALONG = 24
"""Places on each element at which the surface is compared with the print."""
INSET = 0.01
"""Share of an element's length that is left out at each end: at a corner nothing says which way to measure."""
STRAIGHT = 64
"""Pieces into which a line is cut where the error bends it."""


@dataclass(frozen=True, slots=True)
class Wrong:
    """What is not as it should be; the defaults are.

    `nose_change`: true nose radius less the one believed (mm). `x`, `z`: the tool stands off by (mm, radius, ISO
    signs). `height`: above or below the axis (mm). `tool_point_given`: the number that the control has, None for the
    right one. `compensation`: on the right side, none (the tool point follows the print), on the other side.
    `x_factor`: 2 where the control reads a diameter as a radius, 0.5 the other way round.
    """

    nose_change: float = 0.0
    x: float = 0.0
    z: float = 0.0
    height: float = 0.0
    tool_point_given: int | None = None
    compensation: Compensation = "right"
    x_factor: float = 1.0

    @property
    def bends(self) -> bool:
        """Whether lines and arcs come out as other curves."""
        return self.height != 0.0 or self.x_factor != 1.0


def turned(chain: Chain, side: Side, nose: float, number: int, wrong: Wrong) -> tuple[Chain, ...]:
    """What a nose believed to be `nose` (mm) turns with tool point `number` (0 to 9), before height and a misread X.

    The centre's path is planned for the believed nose; the true one goes where the tool point was set, and cuts all
    that it passes over. Empty where nothing is cut. Source: disc led by its tool point.

    >>> from calc.contour import Line
    >>> shaft = Chain((Line(Point(0.0, 9.0), Point(-20.0, 9.0)),))
    >>> turned(shaft, "right", 0.8, 3, Wrong(x=0.01))[0].start.r
    9.01
    >>> round(turned(shaft, "right", 0.8, 3, Wrong(compensation="other"))[0].start.r, 6)
    7.4
    """
    true = nose + wrong.nose_change
    other = other_side(side)
    found: list[Chain] = []
    for path in _centres(chain, side, other, nose, number, wrong):
        found.extend(nose_path(path.shifted(wrong.z, wrong.x), true, other).centre_chains)
    return tuple(found)


def _centres(chain: Chain, side: Side, other: Side, nose: float, number: int, wrong: Wrong) -> Iterator[Chain]:
    """Where the centre of the true nose really goes."""
    true = nose + wrong.nose_change
    if wrong.compensation == "none":
        yield led_by_the_print(chain, true, number)
        return
    given = STEPS[number if wrong.tool_point_given is None else wrong.tool_point_given]
    stands = STEPS[number]
    shift = Vector(given.z * nose - stands.z * true, given.r * nose - stands.r * true)
    for run in nose_path(chain, nose, side if wrong.compensation == "right" else other).centre_chains:
        yield run.shifted(shift.z, shift.r)


class Surface(tuple[Places, ...]):
    """The surface that comes out: runs of places z + i r (mm) in order, joined by straight pieces."""

    def near(self, spot: Point, reach: float) -> tuple[Places, Places]:
        """Where the pieces start and end that may come within `reach` (mm) of a place, and some more of their blocks.

        >>> shaft = Surface([np.linspace(9j, -20 + 9j, 201)])
        >>> len(shaft.near(Point(-1.0, 9.0), 0.5)[0]) < 200
        True
        """
        starts, ends, low, high = self._blocks
        z, r = spot
        inside = (low.real <= z + reach) & (high.real >= z - reach) & (low.imag <= r + reach) & (high.imag >= r - reach)
        return starts[inside].ravel(), ends[inside].ravel()

    @cached_property
    def _blocks(self) -> tuple[Places, Places, Places, Places]:
        """The pieces in rows of neighbours, and the low and the high corner of each row's box."""
        if not self:
            return (np.empty((0, BLOCK), dtype=complex),) * 2 + (np.empty(0, dtype=complex),) * 2
        starts, ends = (np.concatenate([places[cut] for places in self]) for cut in (slice(-1), slice(1, None)))
        filling = -len(starts) % BLOCK  # pieces without length, which nothing meets
        starts, ends = (
            np.pad(each, (0, filling), constant_values=ends[-1]).reshape(-1, BLOCK) for each in (starts, ends)
        )
        both = np.concatenate([starts, ends], axis=1)
        low, high = (end(both.real, axis=1) + 1j * end(both.imag, axis=1) for end in (np.min, np.max))
        return starts, ends, low, high


BLOCK = 64
"""Pieces that are looked at or left out together."""


def bent(chains: Sequence[Chain], wrong: Wrong) -> Surface:
    """The surface as places z + i r (mm) in order, bent by height and a misread X; a pip is not cut.

    Source: a tool at the height h that goes to the radius x cuts at sqrt(x2 + h2).

    >>> from calc.contour import Line
    >>> shaft = Chain((Line(Point(0.0, 3.0), Point(-20.0, 3.0)),))
    >>> float(bent([shaft], Wrong(height=4.0))[0][0].imag)
    5.0
    """
    found = []
    for chain in chains:
        places = np.concatenate([_followed(element, bent=wrong.bends) for element in chain])
        places = places[places.imag >= 0.0]
        if len(places) > 1:
            r = np.hypot(places.imag * wrong.x_factor, wrong.height)
            found.append(places.real + 1j * r)
    return Surface(found)


def _followed(element: Element, *, bent: bool) -> Places:
    """Places along an element, a line that is bent in pieces."""
    if bent and not isinstance(element, Arc):
        return np.linspace(complex(*element.start), complex(*element.end), STRAIGHT + 1, dtype=np.complex128)
    return places_of(element, FINE)


@dataclass(frozen=True, slots=True)
class Off:
    """A place of the print and how far the surface is off there (mm): above 0 metal is left, below it is cut too deep.

    `normal` points to the tool. `across` is the same on diameter, `along` along Z; each None where the surface is not
    met that way; `off` too, where nothing is turned near the place.
    """

    of: int
    spot: Point
    normal: Vector
    off: float | None
    across: float | None = None
    along: float | None = None

    @property
    def by(self) -> float:
        """How far the surface is off; a TypeError where nothing is turned near the place."""
        if self.off is None:
            raise TypeError("nothing is turned near this place")
        return self.off


def compare(chain: Chain, side: Side, surface: Surface, reach: float) -> list[Off]:
    """How far the surface is off at places along each element of the print; farther than `reach` (mm) is not met.

    >>> from calc.contour import Line
    >>> shaft = Chain((Line(Point(0.0, 9.0), Point(-20.0, 9.0)),))
    >>> surface = bent(turned(shaft, "right", 0.8, 3, Wrong(x=0.01)), Wrong())
    >>> first = compare(shaft, "right", surface, 1.0)[0]
    >>> round(first.off, 9), round(measured(first, surface, 1.0).across, 9)
    (0.01, 0.02)
    """
    found = []
    for index, element in enumerate(chain):
        for share in np.linspace(INSET, 1.0 - INSET, ALONG):
            s = float(share) * element.length
            left = element.tangent_at(s).left()
            normal = left if side == "left" else left.times(-1.0)
            spot = element.point_at(s)
            found.append(Off(index, spot, normal, _met(spot, normal, surface, reach)))
    return found


def reach_of(chain: Chain, nose: float, wrong: Wrong) -> float:
    """How far (mm) from the print its surface can lie at most, with room, for a nose believed to be `nose` (mm).

    >>> from calc.contour import Line
    >>> reach_of(Chain((Line(Point(0.0, 9.0), Point(-20.0, 9.0)),)), 0.8, Wrong(x=0.5))
    1.01
    """
    shifted = wrong.compensation != "right" or wrong.tool_point_given is not None
    moved = 3.0 * abs(wrong.nose_change) + math.hypot(wrong.x, wrong.z) + abs(wrong.height)
    misread = abs(wrong.x_factor - 1.0) * chain.bounds.r_max
    return 2.0 * (moved + misread + (3.0 * nose if shifted else 0.0)) + ROOM


ROOM = 0.01


def measured(off: Off, surface: Surface, reach: float) -> Off:
    """The same place with its errors on diameter and along Z, as a gauge shows them; `reach` (mm) as in `compare`."""
    up, right = (
        _met(off.spot, way, surface, reach / LEANS) if abs(off.normal.dot(way)) > LEANS else None
        for way in (Vector(0.0, 1.0), Vector(1.0, 0.0))
    )
    return replace(off, across=None if up is None else 2.0 * up, along=right)


LEANS = 0.05


def _met(spot: Point, way: Vector, surface: Surface, reach: float) -> float | None:
    """How far along `way` (either sense) the surface is met first, None beyond reach."""
    turn = complex(way.z, -way.r)
    starts, ends = surface.near(spot, reach)
    a, b = (starts - complex(*spot)) * turn, (ends - complex(*spot)) * turn
    crosses = (np.minimum(a.imag, b.imag) <= 0.0) & (np.maximum(a.imag, b.imag) >= 0.0) & (a.imag != b.imag)
    if not crosses.any():
        return None
    a, b = a[crosses], b[crosses]
    at = a.real - a.imag * (b.real - a.real) / (b.imag - a.imag)
    nearest = float(at[np.abs(at).argmin()])
    return nearest if abs(nearest) <= reach else None
