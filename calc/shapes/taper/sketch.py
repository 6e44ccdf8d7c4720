"""What the sketch of a taper shows: both ends, the length and the half angle, on the outside or in a bore."""

from __future__ import annotations

from collections.abc import Iterator

from calc.answer.drawing import Dimension, Drawing
from calc.contour import Chain, Line, Point
from calc.language.quantities import ANGLE, DIAMETER, LENGTH


def taper_drawing(large: float, small: float, length: float, half_angle: float, *, in_bore: bool) -> Drawing:
    """The drawing of a taper; its free end is Z 0.

    `large` and `small` are diameters, `length` runs along the axis (mm), `half_angle` in radians; `in_bore` has the
    large end at the free one.
    """
    ends = (
        (Point(0.0, large / 2), Point(-length, small / 2))
        if in_bore
        else (Point(-length, large / 2), Point(0.0, small / 2))
    )
    return Drawing(
        title="The taper in the bore" if in_bore else "The taper on the part",
        description="Section with the axis across the page, the chuck at the left and the free end at the right.",
        part=_bored(*ends) if in_bore else _turned(*ends),
        bar_radius=0.7 * large if in_bore else large / 2,
        hole_radius=small / 2 if in_bore else 0.0,
        dimensions=tuple(_dimensions(*ends, half_angle)),
        spots=tuple((f"P{number}", point) for number, point in enumerate(sorted(ends, reverse=True), 1)),
    )


def _turned(start: Point, end: Point) -> Chain:
    cone = Line(start, end)
    return Chain((cone, Line(end, Point(0.0, 0.0))) if end.r > 0.0 else (cone,))


def _bored(mouth: Point, end: Point) -> Chain:
    face = Line(Point(0.0, 1.4 * mouth.r), mouth)
    on = (Line(end, Point(1.4 * end.z, end.r)),) if end.r > 0.0 else ()
    return Chain((face, Line(mouth, end), *on))


def _dimensions(start: Point, end: Point, half_angle: float) -> Iterator[Dimension]:
    thin, thick = sorted((start, end), key=lambda point: point.r)
    for name, symbol, point in (("large_diameter", "D", thick), ("small_diameter", "d", thin)):
        yield Dimension("diameter", point, point.mirrored(), 2 * point.r, DIAMETER, name, symbol)
    yield Dimension("length", start, end, abs(start.z - end.z), LENGTH, "length", "L")
    yield Dimension("angle", Point(thick.z, thin.r), thick, half_angle, ANGLE, "half_angle", "α", vertex=thin)
