"""The crown: a convex arc on the end of a part, centred on the axis, with an edge radius where it meets the outside.

The apex is Z 0, the part lies behind it (Z below zero), and the arc's centre stands on the axis inside the part.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from math import asin, sqrt

from calc.contour import Arc, Chain, Point
from calc.language.checks import require
from calc.language.fields import Declared, given, result
from calc.language.messages import Message, Quantity
from calc.language.problems import Fault, Impossible
from calc.language.quantities import (
    ANGLE,
    DIAMETER,
    LENGTH,
    RADIUS,
    VOLUME,
    Angle,
    Diameter,
    Length,
    Radius,
    Z,
    ZCoordinate,
)
from calc.language.working import formula
from calc.shapes.dish.sizes import SMALLEST, require_sizes
from calc.shapes.segment import SEGMENT, Segment, Sentences, arc_length, cap_volume

TOUCHING = "two circles that touch inside: their centres are the difference of the radii apart"


@formula(means="edge diameter from radius and height", source=SEGMENT, result="D")
def edge_from_radius_and_height(R: Radius, h: Length) -> Diameter:
    """Diameter (mm) at the edge of a crown of radius R and height h (mm).

    Source: chord of a circular segment, Machinery's Handbook 31, p. 83.

    >>> edge_from_radius_and_height(5.0, 2.0)
    8.0
    """
    return 2 * sqrt(h * (2 * R - h))


@formula(means="height from radius and edge diameter", source=SEGMENT, result="h")
def height_from_radius_and_edge(R: Radius, D: Diameter) -> Length:
    """Height (mm) of a crown of radius R on the diameter D (mm).

    Source: height of a circular segment, Machinery's Handbook 31, p. 83.

    >>> round(height_from_radius_and_edge(2.9375, 2.0), 5)
    0.17545
    """
    return R - sqrt(R**2 - (D / 2) ** 2)


@formula(means="crown radius from height and edge diameter", source=SEGMENT, result="R")
def radius_from_height_and_edge(h: Length, D: Diameter) -> Radius:
    """Radius (mm) of the crown that is h high on the diameter D (mm).

    Source: radius of a circular segment, Machinery's Handbook 31, p. 83.

    >>> radius_from_height_and_edge(5.0, 10.0)
    5.0
    """
    return (D**2 + 4 * h**2) / (8 * h)


@formula(
    means="slope of the crown at its edge, from the face", source="the tangent is square to the radius", result="theta"
)
def edge_slope(D: Diameter, R: Radius) -> Angle:
    """Angle (rad) between a face and the tangent of a crown of radius R at the diameter D (mm).

    Source: the tangent is square to the radius.

    >>> round(edge_slope(10.0, 10.0), 6)
    0.523599
    """
    return asin(D / 2 / R)


@formula(means="diameter where the edge radius meets the crown", source=TOUCHING, result="D_a")
def edge_arc_diameter(D: Diameter, R: Radius, r_e: Radius) -> Diameter:
    """Diameter (mm) at which an edge radius r_e, tangent to the outside D, meets the crown of radius R (mm).

    Source: similar triangles along the line of the two centres.

    >>> round(edge_arc_diameter(2.0, 2.9375, 1 / 32), 5)
    1.95833
    """
    return (D - 2 * r_e) * R / (R - r_e)


@formula(means="Z where the edge radius begins on the outside", source=TOUCHING, result="Z_c")
def edge_cylinder_z(D: Diameter, R: Radius, r_e: Radius) -> ZCoordinate:
    """Z (mm, apex 0) at which an edge radius r_e leaves the outside D of a crown of radius R (mm).

    Source: right triangle through the two arc centres.

    >>> round(edge_cylinder_z(2.0, 2.9375, 1 / 32), 5)
    -0.19746
    """
    return sqrt((R - r_e) ** 2 - (D / 2 - r_e) ** 2) - R


@formula(means="Z where the edge radius meets the crown", source=TOUCHING, result="Z_a")
def edge_arc_z(Z_c: ZCoordinate, R: Radius, r_e: Radius) -> ZCoordinate:
    """Z (mm, apex 0) where the edge radius r_e meets the crown of radius R; Z_c is where it leaves the outside (mm).

    Source: similar triangles along the line of the two centres.

    >>> round(edge_arc_z(-0.19746, 2.9375, 1 / 32), 5)
    -0.168
    """
    return (Z_c + r_e) * R / (R - r_e)


@formula(means="Z on the crown at a diameter", source="circle about the arc centre", result="Z")
def z_on_crown(R: Radius, D: Diameter) -> ZCoordinate:
    """Z (mm, apex 0) of a crown of radius R at the diameter D (mm).

    Source: circle about the arc centre.

    >>> z_on_crown(5.0, 8.0)
    -2.0
    """
    return sqrt(R**2 - (D / 2) ** 2) - R


CROWN = Segment(
    height="height",
    across="edge_diameter",
    across_noun="edge diameter",
    across_told="an edge of {edge_diameter}",
    across_of=edge_from_radius_and_height,
    height_of=height_from_radius_and_edge,
    radius_of=radius_from_height_and_edge,
    sentences=Sentences(
        higher_than_radius="A crown cannot be higher than its radius: {height} is more than {radius}. What goes on "
        "past the half ball is a ball on a neck.",
        wider_than_ball="The edge {across} is wider than the whole ball of this radius, {widest}.",
        closing_in="A crown that is {height} high would be past the half ball: at most half the edge, {half}.",
    ),
)


class CrownInputs(Declared):
    """What a print gives of a crown (mm): any two of radius, height and edge diameter; its edge radius; its hole."""

    radius: float | None = given(RADIUS, "Crown radius", "R", above=0.0)
    height: float | None = given(LENGTH, "Height", "h", above=0.0, hint="from the sharp edge to the apex")
    edge_diameter: float | None = given(
        DIAMETER, "Edge diameter", "D", above=0.0, hint="where the arc would meet the outside"
    )
    edge_radius: float | None = given(RADIUS, "Edge radius", "e", least=0.0, blank="sharp")
    hole_diameter: float = given(DIAMETER, "Hole in the middle", "d", least=0.0, blank="none", default=0.0)


class CrownResults(Declared):
    """A crown complete. Height, slope, arc length and volume are those of the sharp edge."""

    radius: float = result(RADIUS, "Crown radius", "R")
    height: float = result(LENGTH, "Height", "h")
    edge_diameter: float = result(DIAMETER, "Edge diameter, sharp", "D")
    arc_centre_z: float = result(Z, "Arc centre Z")
    edge_angle: float = result(ANGLE, "Slope at the edge, from the face", "θ")
    edge_arc_diameter: float | None = result(DIAMETER, "Edge radius meets the crown")
    edge_arc_z: float | None = result(Z, "Edge radius meets the crown, Z")
    edge_cylinder_z: float | None = result(Z, "Edge radius leaves the outside, Z")
    hole_z: float | None = result(Z, "Arc ends at the hole, Z")
    arc_length: float = result(LENGTH, "Arc length, edge to end")
    volume: float = result(VOLUME, "Volume of the crown", "V", hint="above the sharp edge, without the hole")


@dataclass(frozen=True, slots=True)
class Crown:
    """A crown complete (mm, radius, ISO signs): its edge arc (None: sharp) and the arc to the apex or the hole."""

    radius: float
    height: float
    edge_diameter: float
    solved: str
    slope: float
    edge: Arc | None
    arc: Arc
    notes: tuple[Message, ...] = ()

    @property
    def cut(self) -> Chain:
        """What the finishing tool follows, from the outside to the axis or the hole."""
        return Chain((self.edge, self.arc) if self.edge else (self.arc,))


def solve_crown(inputs: CrownInputs) -> Crown:
    """The crown that the print describes.

    Raises `Missing`, `Contradiction`, `Impossible` when no crown (or no such edge or hole) has these dimensions,
    `OutOfRange` for a value that cannot be meant.

    >>> pad = solve_crown(CrownInputs(radius=2.9375, edge_diameter=2.0))
    >>> round(pad.height, 5), pad.arc.centre
    (0.17545, Point(z=-2.9375, r=0.0))
    """
    require(inputs)
    require_sizes(inputs)
    given_ = {name: getattr(inputs, name) for name in ("radius", "height", "edge_diameter")}
    found = CROWN.solve(given_)
    R, h, D = found["radius"], found["height"], found["edge_diameter"]
    slope = edge_slope(min(D, 2 * R), R)
    edge = _edge(inputs.edge_radius, R, h, D) if inputs.edge_radius else None
    start = edge.end if edge else Point(-h, D / 2)
    end = _end(inputs.hole_diameter, R, start)
    return Crown(R, h, D, found.first, slope, edge, Arc(start, end, Point(-R, 0.0), "cw"), found.notes)


def _edge(size: float, R: float, h: float, D: float) -> Arc:
    if size > D / 2 - SMALLEST:
        text = "An edge radius of {size} takes the whole crown away: it must be smaller than half the edge, {half}."
        values = {"size": Quantity(size, RADIUS), "half": Quantity(D / 2, LENGTH)}
        raise Impossible(Fault("edge_radius", Message(text, values)))
    if R - h < SMALLEST:
        text = "A half ball joins the outside smoothly: there is no edge to round. Leave the edge radius blank."
        raise Impossible(Fault("edge_radius", Message(text)))
    begin = Point(edge_cylinder_z(D, R, size), D / 2)
    meeting = Point(edge_arc_z(begin.z, R, size), edge_arc_diameter(D, R, size) / 2)
    if begin.distance_to(meeting) < SMALLEST:
        text = "Between outside and crown nothing is left to round with {size}. Leave the edge radius blank."
        raise Impossible(Fault("edge_radius", Message(text, {"size": Quantity(size, RADIUS)})))
    return Arc(begin, meeting, begin.shifted(0.0, -size), "cw")


def _end(hole: float, R: float, start: Point) -> Point:
    if hole > 2 * (start.r - SMALLEST):
        values = {"hole": Quantity(hole, DIAMETER), "start": Quantity(2 * start.r, DIAMETER)}
        text = "The hole {hole} takes the whole crown away: it must be smaller than {start}, where the arc begins."
        raise Impossible(Fault("hole_diameter", Message(text, values)))
    return Point(z_on_crown(R, hole), hole / 2) if hole else Point(0.0, 0.0)


def crown_results(crown: Crown) -> CrownResults:
    """The results of a solved crown, in mm, rad and mm3."""
    edge, hole = crown.edge, crown.arc.end.r
    return CrownResults(
        radius=crown.radius,
        height=crown.height,
        edge_diameter=crown.edge_diameter,
        arc_centre_z=crown.arc.centre.z,
        edge_angle=crown.slope,
        edge_arc_diameter=2 * edge.end.r if edge else None,
        edge_arc_z=edge.end.z if edge else None,
        edge_cylinder_z=edge.start.z if edge else None,
        hole_z=crown.arc.end.z if hole else None,
        arc_length=arc_length(crown.radius, crown.slope, math.asin(hole / crown.radius)),
        volume=cap_volume(crown.radius, crown.height),
    )
