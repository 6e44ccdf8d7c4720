"""From what the print gives of a dish to the whole of it: radius, depth, mouth, edge, hole, and the contour to cut.

The face is Z 0, the part lies behind it (Z below zero), and the arc's centre stands on the axis in front of it.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from calc.contour import Arc, Chain, Element, Line, Point
from calc.language.messages import Message, Quantity
from calc.language.problems import Fault, Impossible
from calc.language.quantities import DIAMETER
from calc.shapes.dish import formulas
from calc.shapes.dish.bowl import Bowl, DishInputs, solve_bowl
from calc.shapes.dish.edge import Edge, solve_edge, too_large
from calc.shapes.dish.sizes import SMALLEST


@dataclass(frozen=True)
class Dish:
    """A dish complete (mm, radius, ISO signs): bowl, edge, and the arc from the edge to the axis or the hole."""

    bowl: Bowl
    edge: Edge
    arc: Arc

    @property
    def hole_radius(self) -> float:
        """Radius of the centre hole, 0 without one."""
        return self.arc.end.r

    @cached_property
    def cut(self) -> Chain:
        """What the finishing tool follows, from the face to the axis or the hole."""
        return Chain((self.edge.element, self.arc) if self.edge.element else (self.arc,))

    def part(self, outside: float) -> Chain:
        """The part's end from the radius `outside` on the face to the axis, or down the wall of the hole."""
        elements: list[Element] = []
        if outside > self.cut.start.r:
            elements.append(Line(Point(0.0, outside), self.cut.start))
        elements.extend(self.cut)
        if self.hole_radius:
            end = self.arc.end
            elements.append(Line(end, Point(end.z - self.bowl.depth, end.r)))
        return Chain(tuple(elements))


def solve_dish(inputs: DishInputs) -> Dish:
    """The dish that the print describes.

    Raises `Missing` when fewer than two of radius, depth and mouth are given, `Contradiction` when three disagree,
    `Impossible` when no dish (or no such edge or hole) has these dimensions, `OutOfRange` for one practically zero.

    >>> dish = solve_dish(DishInputs(radius=90.0, depth=4.5))
    >>> dish.arc.centre, round(dish.arc.start.r, 5)
    (Point(z=85.5, r=0.0), 28.10249)
    """
    bowl = solve_bowl(inputs)
    hole = _hole_radius(inputs.edge.hole_diameter, bowl)
    edge = solve_edge(inputs.edge, bowl)
    if edge.arc_start.r < hole + SMALLEST:
        raise too_large("the hole" if hole else "the axis")
    end_z = formulas.z_on_dish(bowl.centre.z, bowl.radius, 2 * hole) if hole else -bowl.depth
    return Dish(bowl, edge, Arc(edge.arc_start, Point(end_z, hole), bowl.centre, "ccw"))


def _hole_radius(hole: float, bowl: Bowl) -> float:
    if hole < SMALLEST:
        return 0.0
    if hole < bowl.mouth_diameter - 2 * SMALLEST:
        return hole / 2
    values = {"hole": Quantity(hole, DIAMETER), "mouth": Quantity(bowl.mouth_diameter, DIAMETER)}
    text = "The hole {hole} takes the whole dish away: it must be smaller than the mouth, {mouth}."
    raise Impossible(Fault("hole_diameter", Message(text, values)))
