"""The chamfers of a parting: cut by the blade's own corners on both sides of its slot, before the part comes free."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import sqrt

from calc.contour import Line, Point
from calc.machining.blades import Blade


@dataclass(frozen=True, slots=True)
class Chamfer:
    """A chamfer under 45 degrees: its name, the line that is cut, the path of the blade's reference corner."""

    name: str
    cut: Line
    path: Line


def chamfers(blade: Blade, surface: Point, part: float, bar: float, lead: float) -> Iterator[Chamfer]:
    """The chamfers of the sizes `part` and `bar` [mm, 0: none] beside the slot of `blade`, begun `lead` [mm] in air.

    `surface` is the edge of the part at its parted face: its radius, its z.

    >>> one, other = chamfers(Blade(3.0, 0.2, "outside"), Point(-40.0, 21.0), 1.0, 0.5, 0.5)
    >>> one.name, round(one.cut.end.r, 3), round(other.cut.end.z, 3)
    ('chamfer of the part', 20.0, -43.0)
    """
    if part > 0.0:
        yield _chamfer("chamfer of the part", blade, surface, part, 1.0, lead)
    if bar > 0.0:
        yield _chamfer("chamfer of the bar", blade, Point(surface.z - blade.width, surface.r), bar, -1.0, lead)


def _chamfer(name: str, blade: Blade, edge: Point, size: float, side: float, lead: float) -> Chamfer:
    """From `lead` above the surface down to the face: the corner's arc touches the line a radius off it."""
    away = blade.corner / sqrt(2.0)
    up = away + (blade.lead if side > 0.0 else 0.0)  # the part's corner leads
    begin = Point(edge.z + side * (size + lead), edge.r + lead)
    cut = Line(begin, Point(edge.z, edge.r - size))
    back = 0.0 if side < 0.0 else blade.width - 2.0 * blade.corner  # the part's side is cut by the other corner
    return Chamfer(name, cut, cut.shifted(-side * away - back, up))
