"""A drawing with what every view of it needs to know: the end of the part, what must be seen, what goes to a detail."""

from __future__ import annotations

from functools import cached_property, reduce

from calc.answer.drawing import Detail, Dimension, Drawing
from calc.contour import Bounds, Element, Point

DETAIL_SHARE = 0.3
"""A detail that takes more than this share of the main view is no enlargement worth a view of its own."""

NOSE_SHARE = 0.9
"""How far a large nose may widen the view, as a share of the part's radius."""


FEW = 1
"""More named points than this within a detail stand in the detail alone."""


class Scene:
    """One drawing, and what follows from it once for all its views."""

    def __init__(self, drawing: Drawing) -> None:
        self.drawing = drawing

    @cached_property
    def face(self) -> tuple[Element, ...]:
        """The elements that make the end of the part: without the cylinders that lead to it and into the hole."""
        elements = list(self.drawing.part.elements)
        while len(elements) > 1 and _is_cylinder(elements[0]):
            del elements[0]
        while len(elements) > 1 and _is_cylinder(elements[-1]):
            del elements[-1]
        return tuple(elements)

    @cached_property
    def bounds(self) -> Bounds:
        """The smallest rectangle around the end of the part, mm."""
        return reduce(Bounds.joined, (element.bounds() for element in self.face))

    @property
    def is_open(self) -> bool:
        """Whether no bar is known, so that the outside of the part is left open."""
        return not self.drawing.bar_radius

    @cached_property
    def outer_radius(self) -> float:
        """The radius up to which the part is drawn: the bar's, or a little beyond the contour without a bar."""
        reach = self.bounds.r_max
        return max(self.drawing.bar_radius, reach) if self.drawing.bar_radius else 1.15 * reach

    @cached_property
    def shown(self) -> Bounds:
        """What must be seen: the end of the part, the raw face, the far wall of a hole, passes, noses within reason."""
        part, outer = self.bounds, self.outer_radius
        z_max = max(part.z_max, self.drawing.stock_face or part.z_max, 0.0)
        z_min = min(part.z_min, 0.0)
        extent = reduce(Bounds.joined, self._around(), Bounds(z_min, z_max, -self.face[-1].end.r, outer))
        reach = NOSE_SHARE * outer
        return Bounds(
            min(z_min, max(extent.z_min, z_min - reach / 2.0)),
            min(extent.z_max, z_max + reach),
            max(extent.r_min, -reach / 2.0),
            min(extent.r_max, 1.2 * outer),
        )

    def _around(self) -> list[Bounds]:
        ways = [way.chain.bounds for way in self.drawing.paths if way.role in ("pass", "left", "turned")]
        cut = [bounds._replace(r_max=min(bounds.r_max, self.outer_radius)) for bounds in ways]
        cut += [outline.chain.bounds for outline in self.drawing.outlines if outline.role == "insert"]
        for nose in self.drawing.noses:
            (z, r), size = nose.centre, nose.radius
            cut.append(Bounds(z - size, z + size, r - size, r + size))
        return cut

    @cached_property
    def details(self) -> tuple[Detail, ...]:
        """The details that show something clearly larger than the main view does."""
        most = DETAIL_SHARE * max(self.shown.z_max - self.shown.z_min, self.shown.r_max - self.shown.r_min)
        return tuple(detail for detail in self.drawing.details if 0.0 < detail.size <= most)

    @cached_property
    def spots(self) -> list[tuple[str, Point]]:
        """The named points of the main view: where a detail has several of them, it alone shows them."""
        crowds = [[s for s in self.drawing.spots if is_inside(s[1], detail)] for detail in self.details]
        hidden = [spot for crowd in crowds if len(crowd) > FEW for spot in crowd]
        return [spot for spot in self.drawing.spots if spot not in hidden]

    @cached_property
    def dimensions(self) -> list[Dimension]:
        """The dimensions of the main view: all that no drawn detail shows."""
        elsewhere = {detail.label for detail in self.details}
        return [dimension for dimension in self.drawing.dimensions if dimension.detail not in elsewhere]


def is_inside(spot: Point, detail: Detail) -> bool:
    """Whether a detail's window shows the spot with room for its name."""
    return spot.distance_to(detail.spot) < 0.46 * detail.size


def _is_cylinder(element: Element) -> bool:
    return not element.curvature and element.start.r == element.end.r
