"""What a turned contour is like as a whole: of several with the same dimensions, the likeliest comes first.

Common practice, no source: a contour is designed from the end toward the chuck, at round angles; it leaves the axis
square, keeps inside corners beside arcs rounded, and goes into the material rather than out of it where two cylinders
of one diameter are joined.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from calc.contour.arc import Arc
from calc.contour.chain import heading_change
from calc.contour.elements import Element
from calc.contour.line import Line
from calc.contour.solving.given import GivenElement
from calc.contour.tolerance import GAP, SMOOTH

LARGER_THAN_BAR = 50.0
SPIKE_ON_AXIS = 4.0
TURNS_BACK_ALONG_Z = 1.0
SHARP_INSIDE_AT_ARC = 0.5
STANDS_OUT = 1.0
FALLS = 0.3
MISSES_CROWN = 1.0
ALMOST_SMOOTH = 0.6
ROUND = 0.5

_ROUND_ANGLE, _NEAR_ANGLE = math.radians(5.0), math.radians(0.01)
_ALMOST = math.radians(6.0)


@dataclass(frozen=True, slots=True)
class Habits:
    """On which side of travel the tool stands (toward the chuck, right is outside), and the bar's radius, mm."""

    side: Literal["right", "left"] = "right"
    bar_radius: float | None = None

    def fits_bar(self, contour: Sequence[Element]) -> bool:
        """Whether a contour lies inside the bar.

        >>> from calc.contour.points import Point
        >>> Habits(bar_radius=20.0).fits_bar([Line(Point(0.0, 5.0), Point(-9.0, 21.0))])
        False
        """
        return self.bar_radius is None or max(e.bounds().r_max for e in contour) <= self.bar_radius * (1.0 + GAP)

    def cost(self, sharp: Sequence[Element], given: Sequence[GivenElement]) -> float:
        """What speaks against a contour: the lower, the likelier."""
        cost = 0.0 if self.fits_bar(sharp) else LARGER_THAN_BAR
        cost += sum(_cost_on_axis(element, i == 0) for i, element in enumerate(sharp))
        cost += sum(_cost_of_turning_back(element) for element in sharp)
        cost += sum(self._cost_of_falling(element) for element in sharp)
        between_arcs = zip(sharp, sharp[1:], sharp[2:], given[1:], strict=False)
        cost += sum(_cost_of_crown(*each) for each in between_arcs)
        cost += sum(self._cost_of_joint(*pair) for pair in pairwise(sharp))
        cost += sum(self._cost_of_arc(*three) for three in zip(sharp, sharp[1:], sharp[2:], strict=False))
        return cost - ROUND * sum(map(_is_round, _solved_angles(sharp, given)))

    def _outward(self, turn: float) -> float:
        """A turn that is positive where it goes round the material."""
        return turn if self.side == "right" else -turn

    def _cost_of_falling(self, element: Element) -> float:
        """How steeply an element runs into the material: parts grow toward the chuck, and bores get narrower."""
        step = element.start.to(element.end)
        return FALLS * max(-self._outward(step.r) / step.length, 0.0) if step.length > 0.0 else 0.0

    def _cost_of_joint(self, before: Element, after: Element) -> float:
        if not isinstance(before, Arc) and not isinstance(after, Arc):
            return 0.0
        turn = self._outward(heading_change(before, after))
        if abs(turn) <= SMOOTH:
            return 0.0
        cost = ALMOST_SMOOTH if abs(turn) < _ALMOST else 0.0
        return cost + (SHARP_INSIDE_AT_ARC if turn < 0.0 else 0.0)

    def _cost_of_arc(self, before: Element, arc: Element, after: Element) -> float:
        """An arc between two cylinders of one diameter is a groove, not a bead."""
        if not isinstance(arc, Arc) or not (_is_cylinder(before) and _is_cylinder(after)):
            return 0.0
        is_level = abs(arc.start.r - arc.end.r) <= GAP * arc.size
        return STANDS_OUT if is_level and self._outward(arc.sweep) > 0.0 else 0.0


def _cost_of_crown(before: Element, arc: Element, after: Element, given: GivenElement) -> float:
    """Of three arcs the middle one whose centre's X alone is given comes to the diameter that this gives it."""
    if not (isinstance(before, Arc) and isinstance(arc, Arc) and isinstance(after, Arc)):
        return 0.0
    if given.centre_r is None or given.centre_z is not None:
        return 0.0
    crowns = (arc.centre.shifted(0.0, side * arc.radius) for side in (1.0, -1.0))
    return 0.0 if any(arc.spans(crown) for crown in crowns) else MISSES_CROWN


def _is_cylinder(element: Element) -> bool:
    return isinstance(element, Line) and abs(element.start.r - element.end.r) <= GAP * element.size


def _cost_on_axis(element: Element, is_first: bool) -> float:
    """An arc that starts or ends on the axis does so square to it: otherwise the part has a spike or a dimple."""
    if not isinstance(element, Arc):
        return 0.0
    ends = [(element.end, element.end_heading)] + ([(element.start, element.start_heading)] if is_first else [])
    on_axis = [heading for point, heading in ends if abs(point.r) <= GAP * element.size]
    return sum(SPIKE_ON_AXIS for heading in on_axis if abs(math.cos(heading)) > 0.02)


def _cost_of_turning_back(element: Element) -> float:
    """How much of the element travels away from the chuck, as a share of its reach along Z."""
    bounds = element.bounds()
    back = max(element.end.z, bounds.z_max) - element.start.z if isinstance(element, Arc) else 0.0
    back = max(back, element.end.z - element.start.z, element.end.z - bounds.z_min)
    reach = max(bounds.z_max - bounds.z_min, GAP * element.size)
    return TURNS_BACK_ALONG_Z * min(max(back, 0.0) / reach, 1.0) if element.size else 0.0


def _solved_angles(sharp: Sequence[Element], given: Sequence[GivenElement]) -> Iterator[float]:
    """The angles of lines that the print leaves out."""
    for element, one in zip(sharp, given, strict=True):
        if isinstance(element, Line) and one.angle is None:
            yield element.start_heading


def _is_round(angle: float) -> bool:
    return abs(math.remainder(angle, _ROUND_ANGLE)) <= _NEAR_ANGLE
