"""A hole on the axis as a contour: counterbore, countersink, wall, bottom."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from calc.contour import Chain, Element, Line, Point
from calc.cutting.drilling import point_length

_SMALL = 1e-9  # mm


@dataclass(frozen=True, slots=True)
class HoleShape:
    """A hole from the face at z = 0 inward [mm, rad]: wall diameter, full depth, point angle of its bottom (pi: flat).

    A through hole has the bottom None. Counterbore and countersink are 0 where there is none.
    """

    diameter: float
    depth: float
    point_angle: float | None
    countersink: float = 0.0
    countersink_angle: float = 0.0
    counterbore: float = 0.0
    counterbore_depth: float = 0.0

    @property
    def tip(self) -> float:
        """The depth of its tip [mm].

        >>> from math import pi, radians
        >>> HoleShape(10.0, 20.0, pi).tip, round(HoleShape(10.0, 20.0, radians(118.0)).tip, 4)
        (20.0, 23.0043)
        """
        if self.point_angle is None:
            return self.depth
        point = point_length.function(self.diameter, self.point_angle)
        return self.depth + (point if point > _SMALL else 0.0)


def outline(hole: HoleShape) -> tuple[Chain, tuple[str, ...]]:
    """The contour of a hole from its mouth to the axis, or to the far end of a through one, with a name for each point.

    >>> from math import pi
    >>> chain, names = outline(HoleShape(10.0, 20.0, pi, counterbore=18.0, counterbore_depth=5.0))
    >>> names, [round(2 * element.end.r, 3) for element in chain]
    (('mouth', 'bottom of the counterbore', 'rim', 'bottom', 'axis'), [18.0, 10.0, 10.0, 0.0])
    """
    spots: list[tuple[Point, str]] = []
    z, rim = 0.0, hole.diameter / 2
    if hole.counterbore:
        spots.append((Point(0.0, hole.counterbore / 2), "mouth"))
        z = -hole.counterbore_depth
        spots.append((Point(z, hole.counterbore / 2), "bottom of the counterbore"))
    if hole.countersink:
        spots.append((Point(z, hole.countersink / 2), "countersink" if spots else "mouth"))
        z -= point_length.function(hole.countersink - hole.diameter, hole.countersink_angle)
    spots.append((Point(z, rim), "rim" if spots else "mouth"))
    if hole.depth + z > _SMALL:
        spots.append((Point(-hole.depth, rim), "far end" if hole.point_angle is None else "bottom"))
    if hole.point_angle is not None:
        spots.append((Point(-hole.tip, 0.0), "tip" if hole.tip > hole.depth else "axis"))
    kept = [spots[0], *(there for here, there in pairwise(spots) if here[0] != there[0])]
    lines: list[Element] = [Line(here, there) for (here, _), (there, _) in pairwise(kept)]
    return Chain(tuple(lines)), tuple(name for _, name in kept)
