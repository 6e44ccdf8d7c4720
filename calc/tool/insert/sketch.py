"""What the sketch of an insert shows: its outline from above, inscribed circle, nose and dimensions."""

from __future__ import annotations

from collections.abc import Iterator
from math import pi, tan

from calc.answer.drawing import Dimension, Drawing, Nose, Outline
from calc.contour import Point, Vector
from calc.language.messages import Phrase
from calc.language.quantities import ANGLE, DIAMETER, LENGTH, RADIUS
from calc.tool.insert.model import Insert
from calc.tool.insert.outline import insert_outline
from calc.tool.insert.tables import shapes


def insert_drawing(insert: Insert, nose: float | None) -> Drawing | None:
    """The insert, its lower edge level and its middle on the axis; None where size, width or nose is not known.

    >>> from calc.tool.insert.reading import read_insert
    >>> drawing = insert_drawing(read_insert("DCMT 11T304"), 0.4)
    >>> round(drawing.part.bounds.r_min, 4), [dimension.field for dimension in drawing.dimensions]
    (-4.7625, ['size', 'nose_radius', 'included_angle', 'edge_length'])
    """
    size, angle = insert.size, insert.angle
    if size is None or nose is None or insert.shape.kind == "parallelogram":
        return None
    level = nose - size / 2
    middle = 0.0 if angle is None else -level / tan(angle / 2)
    outline = insert_outline(insert.shape, size, nose, 0.0 if angle is None else angle / 2).shifted(0.0, level)
    circle = insert_outline(shapes()["R"], size, size / 2).shifted(middle, 0.0)
    centre = Point(0.0, level)
    return Drawing(
        title=Phrase("The insert seen from above, {words}", words=insert.shape.words),
        description="Outline with the cutting nose at the lower left; thin: the inscribed circle.",
        part=outline,
        seen_from_above=True,
        dimensions=tuple(_dimensions(insert, size, nose, centre, outline.bounds.z_max)),
        noses=() if angle is None or nose == 0.0 else (Nose(centre, nose, centre),),
        outlines=() if angle is None else (Outline("inscribed circle", circle),),
    )


def _dimensions(insert: Insert, size: float, nose: float, centre: Point, right: float) -> Iterator[Dimension]:
    top = Point(right, size / 2)
    yield Dimension("diameter", top, top.mirrored(), size, DIAMETER, "size", "d")
    if insert.angle is None:
        at_edge = centre.moved(Vector.at_angle(0.75 * pi), nose)
        yield Dimension("radius", at_edge, centre, nose, RADIUS, "nose_radius", "r")
        return
    if nose:
        tip = centre.moved(Vector.at_angle(insert.angle / 2 + pi), nose)
        yield Dimension("radius", tip, centre, nose, RADIUS, "nose_radius", "r")
    sharp = Point(-nose / tan(insert.angle / 2), -size / 2)
    level, rising = sharp.moved(Vector(1.0, 0.0)), sharp.moved(Vector.at_angle(insert.angle))
    yield Dimension("angle", level, rising, insert.angle, ANGLE, "included_angle", "ε", vertex=sharp)
    if insert.edge_length:
        end = sharp.shifted(insert.edge_length, 0.0)
        yield Dimension("length", sharp, end, insert.edge_length, LENGTH, "edge_length", "l")
