"""Prints as shops get them, each with values left out: what the other tests solve in ways of their own."""

from __future__ import annotations

import math
from typing import NamedTuple

from calc.contour.solving import GivenElement, Start

E = GivenElement
ON_AXIS_OUT, INWARD, OUTWARD = math.pi, -math.pi / 2.0, math.pi / 2.0
"""Headings: toward the chuck, toward the axis, away from it."""


class Case(NamedTuple):
    """One print; ``meanings`` is how many contours it can mean."""

    start: Start
    elements: tuple[GivenElement, ...]
    meanings: int


def deg(angle: float) -> float:
    """An angle in rad."""
    return math.radians(angle)


CASES: dict[str, Case] = {
    "line meets line": Case(
        Start(0.0, 0.0), (E("line", z=0.0, angle=OUTWARD), E("line", z=-20.0, r=15.0, angle=ON_AXIS_OUT)), 1
    ),
    "cone meets cone": Case(
        Start(0.0, 5.0), (E("line", angle=deg(160)), E("line", z=-40.0, r=30.0, angle=deg(140))), 1
    ),
    "line by angle and Z": Case(Start(0.0, 10.0), (E("line", angle=deg(165), z=-30.0),), 1),
    "line by angle and X": Case(Start(0.0, 10.0), (E("line", angle=deg(165), r=16.0),), 1),
    "line by angle and length": Case(Start(0.0, 10.0), (E("line", angle=deg(165), length=25.0),), 1),
    "line by length and X": Case(Start(0.0, 10.0), (E("line", length=25.0, r=17.0),), 2),
    "line by length and Z": Case(Start(0.0, 10.0), (E("line", length=25.0, z=-24.0),), 2),
    "line by steps": Case(Start(0.0, 10.0), (E("line", dz=-24.0, dr=7.0),), 1),
    "line by length and step": Case(Start(0.0, 10.0), (E("line", length=25.0, dz=-24.0),), 2),
    "arc by end and radius": Case(Start(0.0, 10.0), (E("arc", z=-10.0, r=20.0, radius=12.0, turn="ccw"),), 2),
    "arc by end and centre": Case(
        Start(0.0, 10.0), (E("arc", z=-10.0, r=20.0, centre_z=0.0, centre_r=20.0, turn="cw"),), 1
    ),
    "arc by centre and Z of its end": Case(
        Start(0.0, 10.0), (E("arc", z=-10.0, centre_z=-10.0, centre_r=10.0, turn="cw"),), 2
    ),
    "arc by radius, X of its end and Z of its centre": Case(
        Start(0.0, 10.0), (E("arc", r=16.0, radius=15.0, centre_z=-9.0, turn="cw"),), 2
    ),
    "line meets arc": Case(
        Start(0.0, 18.0),
        (E("line", r=18.0), E("arc", centre_z=-40.0, centre_r=0.0, radius=30.0, z=-60.0, turn="ccw")),
        1,
    ),
    "arc meets line": Case(
        Start(0.0, 0.0),
        (E("arc", centre_z=-20.0, centre_r=0.0, turn="ccw"), E("line", angle=ON_AXIS_OUT, r=12.0, z=-50.0)),
        2,
    ),
    "arc meets arc": Case(
        Start(0.0, 0.0),
        (
            E("arc", centre_z=-20.0, centre_r=0.0, turn="ccw"),
            E("arc", centre_z=-45.0, centre_r=4.0, radius=18.0, z=-62.0, turn="ccw"),
        ),
        1,
    ),
    "line touches arc": Case(
        Start(0.0, 5.0),
        (E("line"), E("arc", centre_z=-40.0, centre_r=10.0, radius=12.0, z=-50.0, turn="cw", tangent=True)),
        2,
    ),
    "cone touches arc": Case(
        Start(0.0, None),
        (
            E("line", angle=deg(160)),
            E("arc", centre_z=-40.0, centre_r=10.0, radius=12.0, r=20.0, turn="ccw", tangent=True),
        ),
        1,
    ),
    "arc touches the line after it": Case(
        Start(0.0, 10.0),
        (E("arc", centre_z=-12.0, centre_r=10.0, turn="ccw"), E("line", z=-60.0, r=30.0, tangent=True)),
        1,
    ),
    "arc after a line, by its end": Case(
        Start(0.0, 10.0), (E("line", r=10.0, z=-20.0), E("arc", z=-30.0, r=16.0, tangent=True)), 1
    ),
    "arc after a line, by radius and X": Case(
        Start(0.0, 10.0), (E("line", r=10.0, z=-20.0), E("arc", radius=8.0, r=16.0, tangent=True, turn="cw")), 2
    ),
    "arc between two lines": Case(
        Start(-75.0, 15.5),
        (
            E("line", r=15.5),
            E("arc", radius=8.0, tangent=True, turn="cw"),
            E("line", angle=deg(150), z=-90.0, r=20.5, tangent=True),
        ),
        1,
    ),
    "arc of unknown radius between two lines": Case(
        Start(0.0, 10.0),
        (
            E("line", r=10.0, z=-20.0),
            E("arc", tangent=True),
            E("line", angle=deg(120), z=-50.0, r=30.0, tangent=True),
        ),
        1,
    ),
    "S of two arcs": Case(
        Start(0.0, 15.0),
        (
            E("line", r=15.0),
            E("arc", radius=5.0, tangent=True),
            E("arc", radius=8.0, tangent=True, z=-25.0, r=25.0),
            E("line", r=25.0, z=-40.0, tangent=True),
        ),
        1,
    ),
    "arc touches two arcs": Case(
        Start(0.0, 8.0),
        (
            E("arc", centre_z=-10.0, centre_r=8.0, turn="ccw"),
            E("arc", radius=6.0, tangent=True, turn="cw"),
            E("arc", centre_z=-30.0, centre_r=12.0, radius=11.0, z=-40.0, turn="ccw", tangent=True),
        ),
        2,
    ),
    "line touches two arcs": Case(
        Start(0.0, 8.0),
        (
            E("arc", centre_z=-10.0, centre_r=8.0, turn="ccw"),
            E("line", tangent=True),
            E("arc", centre_z=-50.0, centre_r=20.0, radius=14.0, z=-62.0, turn="ccw", tangent=True),
        ),
        2,
    ),
    "line crosses from arc to arc": Case(
        Start(0.0, 8.0),
        (
            E("arc", centre_z=-10.0, centre_r=8.0, turn="ccw"),
            E("line", tangent=True),
            E("arc", centre_z=-50.0, centre_r=40.0, radius=14.0, z=-62.0, turn="cw", tangent=True),
        ),
        2,
    ),
    "arc of three conditions: touches a line, ends on a point, centre on a height": Case(
        Start(None, 10.0),
        (E("line", r=10.0, length=5.0), E("arc", z=-40.0, r=22.0, centre_r=25.0, tangent=True, turn="cw")),
        2,
    ),
    "three unknown joints in a row": Case(
        Start(0.0, 6.0),
        (
            E("line", angle=deg(170)),
            E("line", angle=deg(120), r=33.0),
            E("line", angle=deg(175)),
            E("line", angle=OUTWARD, z=-60.0, r=40.0, length=6.0),
        ),
        1,
    ),
    "handle: two blends and a cone": Case(
        Start(0.0, 10.0),
        (
            E("arc", centre_z=-10.0, centre_r=0.0, radius=14.142135623730951, turn="ccw"),
            E("arc", radius=20.0, tangent=True, turn="cw"),
            E("line", angle=deg(176), tangent=True, z=-70.0, r=11.0),
        ),
        2,
    ),
    "cone by length to a circle": Case(
        Start(0.0, 5.0),
        (E("line", length=30.0), E("arc", centre_z=-35.0, centre_r=0.0, radius=16.0, r=16.0, z=-35.0, turn="ccw")),
        1,
    ),
    "start unknown": Case(
        Start(None, None),
        (E("line", angle=deg(150), length=12.0), E("line", r=20.0, z=-40.0, angle=ON_AXIS_OUT, length=18.0)),
        1,
    ),
    "ball on a neck": Case(
        Start(0.0, 0.0),
        (
            E("arc", centre_r=0.0, radius=12.0, turn="ccw"),
            E("arc", radius=4.0, tangent=True, turn="cw"),
            E("line", r=6.0, angle=ON_AXIS_OUT, z=-50.0, tangent=True),
        ),
        1,
    ),
    "semicircle groove": Case(
        Start(0.0, 20.0),
        (
            E("line", r=20.0, z=-10.0),
            E("arc", radius=4.0, centre_z=-14.0, r=20.0, turn="ccw"),
            E("line", r=20.0, length=10.0),
        ),
        1,
    ),
    "centre known only in Z": Case(Start(0.0, 30.0), (E("arc", centre_z=0.0, radius=40.0, z=-20.0, turn="cw"),), 2),
    "coupled: a line of given length touches two arcs of one radius": Case(
        Start(0.0, 8.0),
        (
            E("arc", centre_z=-10.0, centre_r=8.0, turn="ccw"),
            E("line", length=20.0, tangent=True),
            E("arc", radius=9.0, z=-34.0, r=14.0, turn="ccw", tangent=True),
        ),
        2,
    ),
}
