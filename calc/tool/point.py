"""The round nose and the tool point: where the control's imaginary sharp point stands about the nose centre."""

from __future__ import annotations

from calc.contour import Point, Vector
from calc.language.quantities import Diameter, Radius, Ratio, XCoordinate, ZCoordinate
from calc.language.working import formula

# Steps of one nose radius from the nose centre (common practice; controls differ, so the chosen one is drawn).
STEPS = {
    0: Vector(0.0, 0.0),
    1: Vector(z=1.0, r=1.0),
    2: Vector(z=-1.0, r=1.0),
    3: Vector(z=-1.0, r=-1.0),
    4: Vector(z=1.0, r=-1.0),
    5: Vector(z=1.0, r=0.0),
    6: Vector(z=0.0, r=1.0),
    7: Vector(z=-1.0, r=0.0),
    8: Vector(z=0.0, r=-1.0),
    9: Vector(0.0, 0.0),
}
COMMON_PRACTICE = "common practice: tool point and nose centre are one nose radius apart along each axis"


def tool_point(centre: Point, nose_radius: float, number: int) -> Point:
    """The tool point of the given number (0 to 9) for a nose of `nose_radius` mm about `centre`.

    Source: common practice.

    >>> tool_point(Point(1.5, 0.0), 6.0, 3)
    Point(z=-4.5, r=-6.0)
    """
    return centre.moved(STEPS[number], nose_radius)


def nose_centre(point: Point, nose_radius: float, number: int) -> Point:
    """The nose centre of a tool whose point of the given number stands at `point` (mm).

    >>> nose_centre(Point(-4.5, -6.0), 6.0, 3)
    Point(z=1.5, r=0.0)
    """
    return point.moved(STEPS[number], -nose_radius)


@formula(means="X that the tool point reads when the nose touches the bar", source=COMMON_PRACTICE, result="X")
def touch_off_x(D: Diameter, r_n: Radius, s_x: Ratio) -> XCoordinate:
    """X (mm, radius) of the tool point with the nose touching a bar of diameter D from outside.

    `s_x` is -1, 0 or +1: the tool point's side of the nose centre along X.

    Source: common practice.

    >>> touch_off_x(60.0, 6.0, -1.0), touch_off_x(60.0, 6.0, 1.0), touch_off_x(60.0, 6.0, 0.0)
    (30.0, 42.0, 36.0)
    """
    return D / 2 + r_n * (1 + s_x)


@formula(means="Z that the tool point reads when the nose touches the face Z 0", source=COMMON_PRACTICE, result="Z")
def touch_off_z(r_n: Radius, s_z: Ratio) -> ZCoordinate:
    """Z (mm) of the tool point with the nose touching the face Z 0 from in front.

    `s_z` is -1, 0 or +1: the tool point's side of the nose centre along Z.

    Source: common practice.

    >>> touch_off_z(6.0, -1.0), touch_off_z(6.0, 0.0)
    (0.0, 6.0)
    """
    return r_n * (1 + s_z)
