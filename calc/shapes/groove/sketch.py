"""How a groove is drawn: in its part, enlarged where it is small, with its dimensions."""

from __future__ import annotations

from collections.abc import Iterator

from calc.answer.drawing import Detail, Dimension, Drawing
from calc.contour import Arc, Chain, Line, Point
from calc.language.quantities import DIAMETER, LENGTH, RADIUS
from calc.shapes.groove.geometry import Groove

GROOVE = "groove"


def is_bottom(groove: Groove, line: Line) -> bool:
    """Whether a line of the groove lies along its bottom."""
    step = line.start.to(line.end)
    across = step.z if groove.where == "face" else step.r
    return abs(across) < 1e-9 * line.length


def groove_drawing(groove: Groove) -> Drawing:
    """The drawing of a groove in its part, enlarged where it is small."""
    sizes = groove.sizes
    middle = groove.spot(sizes["width"] / 2, sizes["depth"] / 2)
    chain, bar, hole = _part(groove)
    points = [groove.cut.start, *(element.end for element in groove.cut)]
    return Drawing(
        title="The groove in the part",
        description="Section with the axis across the page, the chuck at the left and the free end at the right.",
        part=chain,
        bar_radius=bar,
        hole_radius=hole,
        dimensions=tuple(_dimensions(groove)),
        spots=tuple((f"P{number}", point) for number, point in enumerate(points, 1)),
        details=(Detail(middle, 1.8 * max(sizes["width"], sizes["depth"]), GROOVE),),
    )


def _part(groove: Groove) -> tuple[Chain, float, float]:
    """The part's end from the outside to the axis or into the bore, the radius outside, that of the bore."""
    surface, size = groove.sizes["diameter"] / 2, groove.sizes["width"]
    cut = groove.cut
    if groove.where == "face":
        outside = surface + max(size, cut.start.r - surface) * 1.5
        face = Line(Point(0.0, outside), cut.start)
        rest = (Line(cut.end, Point(0.0, 0.0)),) if cut.end.r > 0.0 else ()
        return Chain((face, *cut, *rest)), outside, 0.0
    end_z = 0.0 if groove.from_end > 0.0 and cut.start.z < 0.0 else max(cut.start.z, 0.0) + size
    end = Point(end_z, surface)
    if groove.where == "outside":
        back = cut.reversed()
        on = Line(back.end, end)
        return Chain((*back, on, Line(end, Point(end_z, 0.0)))), surface, 0.0
    outside = 1.3 * groove.sizes["bottom_diameter"] / 2
    inner = Line(cut.end, cut.end.shifted(-size, 0.0))
    return Chain((Line(Point(end_z, outside), end), Line(end, cut.start), *cut, inner)), outside, surface


def _dimensions(groove: Groove) -> Iterator[Dimension]:
    sizes, spot = groove.sizes, groove.spot
    first, last = spot(0.0, 0.0), spot(sizes["width"], 0.0)
    low = next((e for e in groove.cut if isinstance(e, Line) and is_bottom(groove, e)), groove.cut.elements[0]).end
    second = last if groove.where == "face" else Point(low.z, sizes["bottom_diameter"] / 2)
    for name, symbol, point in (("diameter", "D", first), ("bottom_diameter", "d", second)):
        yield Dimension("diameter", point, point.mirrored(), 2 * point.r, DIAMETER, name, symbol)
    if groove.where == "face":
        yield Dimension("length", first, low, sizes["depth"], LENGTH, "depth", "t", detail=GROOVE)
    else:
        yield Dimension("length", first, last, sizes["width"], LENGTH, "width", "w", detail=GROOVE)
        if groove.from_end:
            end = Point(0.0, first.r)
            yield Dimension("length", first, end, groove.from_end, LENGTH, "from_end", "L")
    yield from _radii(groove)


def _radii(groove: Groove) -> Iterator[Dimension]:
    """The radius at an edge and the one at the bottom, each once."""
    seen = set()
    for element in groove.cut:
        if isinstance(element, Arc):
            at_edge = element in (groove.cut.elements[0], groove.cut.elements[-1])
            name, symbol = ("edge_radius", "e") if at_edge else ("bottom_radius", "r")
            if name not in seen:
                seen.add(name)
                middle = element.point_at(element.length / 2)
                yield Dimension("radius", middle, element.centre, element.radius, RADIUS, name, symbol, detail=GROOVE)
