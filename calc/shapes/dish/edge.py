"""The edge at the mouth of a dish: sharp, a chamfer or an edge radius, with the points where it begins and ends."""

from __future__ import annotations

import math
from typing import NamedTuple

from calc.contour import Arc, Element, Line, Point, Vector
from calc.language.messages import Message, Quantity
from calc.language.problems import Fault, Impossible, Missing
from calc.language.quantities import ANGLE, LENGTH
from calc.shapes.dish import formulas
from calc.shapes.dish.bowl import Bowl, EdgeInputs


class Edge(NamedTuple):
    """The element between face and arc (None: sharp), where the arc begins, and a chamfer's angle from the face."""

    element: Element | None
    arc_start: Point
    angle: float | None = None


def solve_edge(inputs: EdgeInputs, bowl: Bowl) -> Edge:
    """The edge that the print asks for. Raises `Missing` without a size, `Impossible` when it cannot meet the dish."""
    if inputs.break_kind == "none":
        return Edge(None, bowl.corner)
    size = inputs.break_size
    if size is None:
        kind = "edge radius" if inputs.break_kind == "radius" else "chamfer"
        raise Missing(Fault("break_size", Message("How large is the {kind}?", {"kind": kind})))
    if inputs.break_kind == "radius":
        return _edge_radius(size, bowl)
    if inputs.break_angle is None:
        return _equal_chamfer(size, bowl)
    return _angled_chamfer(size, inputs.break_angle, bowl)


def _edge_radius(size: float, bowl: Bowl) -> Edge:
    R, h = bowl.radius, bowl.depth
    face = formulas.edge_face_diameter(R, h, size)
    meeting = Point(formulas.edge_arc_z(R, h, size), formulas.edge_arc_diameter(face, R, size) / 2)
    return Edge(Arc(Point(0.0, face / 2), meeting, Point(-size, face / 2), "cw"), meeting)


def _equal_chamfer(leg: float, bowl: Bowl) -> Edge:
    """Equal legs lean by (theta + theta_a) / 4, so beyond theta_a = theta / 3 the line would lie over the dish."""
    longest = 2 * bowl.radius * math.sin(bowl.slope / 3)
    if leg > longest:
        raise _over_the_dish(leg, longest)
    inner = formulas.chamfer_end_slope(bowl.slope, leg, bowl.radius)
    meeting = bowl.centre.moved(Vector(-math.cos(inner), math.sin(inner)), bowl.radius)
    line = Line(Point(0.0, bowl.corner.r + leg), meeting)
    return Edge(line, meeting, formulas.equal_leg_angle(bowl.slope, inner))


def _angled_chamfer(leg: float, angle: float, bowl: Bowl) -> Edge:
    """A chamfer at a given angle from the face; its leg lies on the face, outside the sharp corner.

    Of the two places where its line cuts the dish's circle the nearer one counts. The product of the two ways there
    from its outer end is leg × (leg + mouth diameter), as along the face: so no digit is lost on a shallow dish.
    """
    if angle >= bowl.slope:
        raise _too_steep(angle, bowl.slope)
    R, lean, below = bowl.radius, bowl.slope - angle, leg * math.sin(angle)
    halfway = R * math.sin(lean) + leg * math.cos(angle)
    half_chord_squared = (R * math.sin(lean)) ** 2 - below * (2 * R * math.cos(lean) + below)
    if half_chord_squared < 0.0:
        raise too_large()
    length = leg * (leg + bowl.mouth_diameter) / (halfway + math.sqrt(half_chord_squared))
    outer = Point(0.0, bowl.corner.r + leg)
    meeting = outer.moved(Vector(-math.sin(angle), -math.cos(angle)), length)
    return Edge(Line(outer, meeting), meeting, angle)


def _over_the_dish(leg: float, longest: float) -> Impossible:
    values = {"leg": Quantity(leg, LENGTH, brief=True), "longest": Quantity(longest, LENGTH)}
    text = (
        "A chamfer with equal legs of {leg} is steeper than the dish where it would meet it. "
        "The longest leg here is {longest}."
    )
    return Impossible(Fault("break_size", Message(text, values)))


def _too_steep(angle: float, slope: float) -> Impossible:
    values = {"angle": Quantity(angle, ANGLE), "slope": Quantity(slope, ANGLE)}
    text = (
        "A chamfer of {angle} is steeper than the dish, which leaves the face at {slope}: it cannot meet the arc. "
        "Take a flatter angle, or leave it blank for equal legs."
    )
    return Impossible(Fault("break_angle", Message(text, values)))


def too_large(end: str = "the axis") -> Impossible:
    """The error for an edge that reaches past the end of the dish."""
    text = "This edge break is so large that nothing is left of the dish before {end}."
    return Impossible(Fault("break_size", Message(text, {"end": end})))
