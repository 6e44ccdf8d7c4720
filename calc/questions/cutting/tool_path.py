"""The path of a tool along a face, a dish or a chain of lines, as a person gives it."""

from __future__ import annotations

from itertools import pairwise
from math import hypot
from typing import Literal

from calc.contour import Chain, Line, Point
from calc.contour.tolerance import ROUNDING
from calc.cutting import nouns
from calc.language.fields import Declared, give, given
from calc.language.messages import Message, Quantity
from calc.language.problems import Fault, Impossible, Missing, Problem
from calc.language.quantities import DIAMETER, LENGTH, RADIUS, X, Z
from calc.language.working import recording
from calc.machining.passes import Piece, trace
from calc.shapes.dish.bowl import DishInputs, EdgeInputs
from calc.shapes.dish.geometry import Dish, solve_dish
from calc.tool.nose_path import nose_path

PathShape = Literal["face", "dish", "lines", "bore"]
SHAPES: dict[PathShape, str] = {"face": "face", "dish": "dish", "lines": "lines outside", "bore": "lines in a bore"}
SAME_PLACE = 1e-6  # mm


class ShapeInputs(Declared):
    """The dimensions of a face, or of a dish."""

    outer_diameter: float | None = nouns.OUTER_DIAMETER.given(hint="of a face")
    inner_diameter: float = nouns.INNER_DIAMETER.given(default=0.0, blank="to the axis")
    radius: float | None = given(RADIUS, "Dish radius", "R", above=0.0)
    depth: float | None = given(LENGTH, "Depth", "h", above=0.0, hint="of the dish")


class PointsInputs(Declared):
    """The points of a chain of lines, in the order of travel."""

    x_1: float | None = given(X, "X of point 1", least=0.0)
    z_1: float | None = given(Z, "Z of point 1")
    x_2: float | None = given(X, "X of point 2", least=0.0)
    z_2: float | None = given(Z, "Z of point 2")
    x_3: float | None = given(X, "X of point 3", least=0.0)
    z_3: float | None = given(Z, "Z of point 3")
    x_4: float | None = given(X, "X of point 4", least=0.0)
    z_4: float | None = given(Z, "Z of point 4")
    x_5: float | None = given(X, "X of point 5", least=0.0)
    z_5: float | None = given(Z, "Z of point 5")


def chain_of(shape: str, sizes: ShapeInputs, points: PointsInputs) -> Chain:
    """What is cut, in the order of travel. Raises Missing and Impossible, and what the dish raises.

    >>> chain_of("face", ShapeInputs(outer_diameter=60.0), PointsInputs()).length
    30.0
    """
    inner = sizes.inner_diameter
    if shape in ("lines", "bore"):
        return _lines(points)
    if shape == "dish":
        _require(sizes.radius, "radius", "Dish radius")
        _require(sizes.depth, "depth", "Depth of the dish")
        return _dish(DishInputs(radius=sizes.radius, depth=sizes.depth, edge=EdgeInputs(hole_diameter=inner))).cut
    outer = _require(sizes.outer_diameter, "outer_diameter", "Outer diameter")
    if outer - inner < SAME_PLACE:
        values = {"inner": Quantity(inner, DIAMETER), "outer": Quantity(outer, DIAMETER)}
        said = Message("The inner diameter {inner} must be smaller than the outer one, {outer}.", values)
        raise Impossible(Fault("inner_diameter", said))
    return Chain((Line(Point(0.0, outer / 2), Point(0.0, inner / 2)),))


def _dish(inputs: DishInputs) -> Dish:
    """The dish, whose hole is an inner diameter here."""
    try:
        with recording():
            return solve_dish(inputs)
    except Problem as problem:
        raise problem.renamed(lambda name: "inner_diameter" if name == "hole_diameter" else name) from problem


def require_fit(shape: str, sizes: ShapeInputs, nose: float | None) -> None:
    """Raise Impossible for a nose radius [mm] that does not fit into the dish.

    >>> require_fit("dish", ShapeInputs(radius=75.0, depth=4.5), 6.0)
    """
    radius = sizes.radius
    if shape == "dish" and nose is not None and radius is not None and nose >= radius * (1 - ROUNDING):
        values = {"nose": Quantity(nose, RADIUS), "dish": Quantity(radius, RADIUS)}
        said = Message("A nose of {nose} does not fit into the concave {dish}.", values)
        raise Impossible(Fault("nose_radius", said))


def is_on_the_left(shape: str, chain: Chain) -> bool:
    """Whether the tool, which comes from the free end, stands on the left of travel.

    >>> is_on_the_left("face", Chain((Line(Point(0.0, 50.0), Point(0.0, 0.0)),)))
    True
    """
    dz, dr = chain.end.z - chain.start.z, chain.end.r - chain.start.r
    return -dr - dz > 0.0 if shape == "bore" else dz - dr > 0.0


def traced_on_its_side(shape: str, chain: Chain, nose: float | None, feed: float) -> list[Piece]:
    """The pieces of the path of a nose of radius `nose` [mm] on its side of the chain, at `feed` [mm/rev].

    >>> face = Chain((Line(Point(0.0, 50.0), Point(0.0, 0.0)),))
    >>> [piece.contact_length for piece in traced_on_its_side("face", face, 0.8, 0.2)]
    [50.0]
    """
    if nose is None:
        return trace(chain, nose, feed)
    path = nose_path(chain, nose, "left" if is_on_the_left(shape, chain) else "right")
    if not path.steps:
        said = Message("A nose of {nose} touches no place of this contour.", {"nose": Quantity(nose, RADIUS)})
        raise Impossible(Fault("nose_radius", said))
    return [Piece(step.contact, step.element, feed) for step in path.steps]


def _require(value: float | None, name: str, label: str) -> float:
    if value is None:
        raise Missing(Fault(name, give(label)))
    return value


def _lines(points: PointsInputs) -> Chain:
    pairs = [(getattr(points, f"x_{n}"), getattr(points, f"z_{n}"), n) for n in range(1, 6)]
    for x, z, number in pairs:
        if (x is None) != (z is None):
            said = Message("Give both X and Z of point {n}, or neither.", {"n": number})
            raise Missing(Fault(f"{'z' if z is None else 'x'}_{number}", said))
    known = [(Point(z, x), number) for x, z, number in pairs if x is not None]
    if len(known) < 2:
        raise Missing(Fault(f"x_{len(known) + 1}", Message("Give X and Z of at least two points.")))
    elements = []
    for (start, _), (end, number) in pairwise(known):
        if hypot(end.z - start.z, end.r - start.r) < SAME_PLACE:
            said = Message("Point {n} is the same as the one before it.", {"n": number})
            raise Impossible(Fault(f"x_{number}", said))
        elements.append(Line(start, end))
    return Chain(tuple(elements))
