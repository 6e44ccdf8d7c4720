"""What the sketch of a dish shows: the print's dimensions, the nose where it stands, its ways, the passes."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from calc.answer.drawing import Detail, Dimension, Drawing, Nose, Path
from calc.contour import Arc, Chain, Point
from calc.language.quantities import ANGLE, DIAMETER, LENGTH, RADIUS
from calc.shapes.dish.bowl import Bowl
from calc.shapes.dish.edge import Edge
from calc.shapes.dish.geometry import Dish
from calc.shapes.dish.nose import NoseOnDish, Stand
from calc.shapes.dish.uncompensated import Uncompensated

MOUTH = "mouth"
CENTRE = "centre"


def dish_drawing(
    dish: Dish,
    *,
    bar_radius: float | None = None,
    stock_face: float | None = None,
    nose: NoseOnDish | None = None,
    stands: Sequence[Stand] = (),
    left: Uncompensated | None = None,
    passes: Sequence[Chain] = (),
) -> Drawing:
    """The drawing of a dish; what is not known yet is left out.

    `bar_radius` is that of the raw bar, `stock_face` the Z of its raw face, both mm.
    """
    outside = bar_radius or 1.15 * dish.cut.start.r
    return Drawing(
        title="The dish in the face of the bar",
        description="Section with the axis across the page, the chuck at the left and the face at the right.",
        part=dish.part(outside),
        bar_radius=bar_radius,
        hole_radius=dish.hole_radius,
        stock_face=stock_face,
        dimensions=tuple(_dimensions(dish, bar_radius, stock_face)),
        paths=tuple(_paths(nose, left, passes)),
        noses=tuple(_noses(nose, stands)),
        spots=tuple(_spots(dish)),
        details=tuple(_details(dish, nose)),
    )


def _dimensions(dish: Dish, bar_radius: float | None, stock_face: float | None) -> Iterator[Dimension]:
    bowl, deepest = dish.bowl, Point(-dish.bowl.depth, 0.0)
    corner = bowl.corner
    yield Dimension("diameter", corner, corner.mirrored(), bowl.mouth_diameter, DIAMETER, "mouth_diameter", "D")
    yield Dimension("length", Point(0.0, dish.cut.start.r), deepest, bowl.depth, LENGTH, "depth", "h")
    halfway = dish.arc.point_at(dish.arc.length / 2)
    yield Dimension("radius", halfway, bowl.centre, bowl.radius, RADIUS, "radius", "R")
    if bar_radius:
        bar = Point(0.0, bar_radius)
        yield Dimension("diameter", bar, bar.mirrored(), 2 * bar_radius, DIAMETER, "bar_diameter", "B")
    if dish.hole_radius:
        hole = dish.arc.end
        yield Dimension("diameter", hole, hole.mirrored(), 2 * hole.r, DIAMETER, "hole_diameter", "d")
    if stock_face and bar_radius:
        yield Dimension(
            "length", Point(0.0, bar_radius), Point(stock_face, bar_radius), stock_face, LENGTH, "face_stock", "s"
        )
    yield from _edge_dimensions(dish)


def _edge_dimensions(dish: Dish) -> Iterator[Dimension]:
    edge = dish.edge.element
    if edge is None:
        return
    for name, point in (("break_face_diameter", edge.start), ("break_arc_diameter", edge.end)):
        yield Dimension("diameter", point, point.mirrored(), 2 * point.r, DIAMETER, name, detail=MOUTH)
    if isinstance(edge, Arc):
        middle = edge.point_at(edge.length / 2)
        yield Dimension("radius", middle, edge.centre, edge.radius, RADIUS, "break_size", "e", detail=MOUTH)
    elif dish.edge.angle is not None:
        on_face = edge.start.shifted(0.0, -1.0)
        yield Dimension(
            "angle", on_face, edge.end, dish.edge.angle, ANGLE, "break_angle", "β", vertex=edge.start, detail=MOUTH
        )


def _paths(nose: NoseOnDish | None, left: Uncompensated | None, passes: Sequence[Chain]) -> Iterator[Path]:
    yield from (Path("pass", chain) for chain in passes)
    if nose is not None:
        yield Path("nose centre", nose.centre_path)
        yield Path("tool point", nose.tool_path)
    if left is not None:
        yield Path("left", left.profile)


def _noses(nose: NoseOnDish | None, stands: Sequence[Stand]) -> Iterator[Nose]:
    if nose is None:
        return
    for stand, label in zip(stands[-2:], ("mouth", "hole" if nose.dish.hole_radius else "axis"), strict=True):
        yield Nose(stand.centre, nose.radius, stand.tool_point, label)


def _spots(dish: Dish) -> Iterator[tuple[str, Point]]:
    points = [dish.cut.start, *(element.end for element in dish.cut)]
    return ((f"P{number}", point) for number, point in enumerate(points, 1))


def _details(dish: Dish, nose: NoseOnDish | None) -> Iterator[Detail]:
    edge = dish.edge.element
    if edge is not None:
        yield Detail(edge.point_at(edge.length / 2), 3.0 * edge.length, MOUTH)
    if nose is not None and not dish.hole_radius:
        yield Detail(Point(-dish.bowl.depth + nose.radius / 2, 0.0), 3.2 * nose.radius, CENTRE)


def blank_drawing() -> Drawing:
    """The drawing while nothing is known: a dish of no particular size, its dimensions as symbols."""
    bowl = Bowl(40.0, 10.0, 2 * math.sqrt(700.0), Point(30.0, 0.0), math.atan2(math.sqrt(700.0), 30.0), "")
    dish = Dish(bowl, Edge(None, bowl.corner), Arc(bowl.corner, Point(-10.0, 0.0), bowl.centre, "ccw"))
    drawing = dish_drawing(dish, bar_radius=32.0)
    unknown = tuple(replace(dimension, value=None) for dimension in drawing.dimensions)
    return replace(drawing, dimensions=unknown, spots=(), description="The symbols stand at the fields of this page.")
