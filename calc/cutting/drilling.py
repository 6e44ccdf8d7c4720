"""Drilling from the solid: force on each edge, torque, power, thrust and time of a drill with two edges.

Each edge cuts half the feed. The force acts at half the radius, so that the torque of both edges is that of one force
on half the diameter.
"""

from __future__ import annotations

from math import pi, radians, sin, tan
from typing import Literal

from calc.language.quantities import (
    Angle,
    Diameter,
    Feed,
    Force,
    Length,
    Power,
    Pressure,
    Ratio,
    RemovalRate,
    SpindleSpeed,
    Time,
    Torque,
)
from calc.language.working import formula

d_p: Diameter = 12.0  # up to here a drill's starting feed grows with its diameter [mm]; common practice, from memory
q: Ratio = 0.62  # its exponent above; fits 0.33, 0.45 and 0.6 mm at 25, 40 and 60 mm

DrillKind = Literal["HSS", "coated carbide", "indexable"]
DRILLS: dict[DrillKind, str] = {
    "HSS": "high-speed steel",
    "coated carbide": "solid carbide, coated",
    "indexable": "with carbide inserts",
}

FLAT = pi  # a drill with inserts leaves a bottom that is practically flat
USUAL_POINT = radians(118.0)  # common practice for high-speed steel; 140 for solid carbide
THRUST_SHARE = 0.7  # of the cutting force of both edges on the half cone; more with a wide chisel edge; from memory
_GEOMETRY = "geometry of the drill's point"
_LEVELS_OFF = "common practice, from memory: in proportion up to 12 mm, levelling off above"
_TWO_EDGES = "two edges, each with half the feed"


@formula(source=_LEVELS_OFF, means="feed to start with", result="f", symbols={"d_p": "d_p", "q": "q"})
def starting_feed(c: Ratio, d: Diameter) -> Feed:
    """Feed [mm/rev] to start a drill of diameter `d` [mm] with: the share `c` of it, above 12 mm levelling off.

    Source: common practice, from memory: high-speed steel in steel, 0.33 at 25 mm, 0.45 at 40 mm, 0.6 at 60 mm.

    >>> [round(starting_feed(0.018, d), 2) for d in (10.0, 25.0, 40.0, 60.0)]
    [0.18, 0.34, 0.46, 0.59]
    """
    return c * d if d <= d_p else c * d_p * (d / d_p) ** q


@formula(source=_TWO_EDGES, means="chip thickness", result="h")
def drill_chip(f: Feed, sigma: Angle) -> Length:
    """Chip thickness [mm] of each of two edges at feed `f` [mm/rev], point angle `sigma` [rad]. Source: geometry.

    >>> from math import pi
    >>> drill_chip(0.2, pi)
    0.1
    """
    return f / 2 * sin(sigma / 2)


@formula(source="one edge on each radius: an inner and an outer insert", means="chip thickness", result="h")
def insert_drill_chip(f: Feed, sigma: Angle) -> Length:
    """Chip thickness [mm] of a drill with an inner and an outer insert, each with the whole feed `f` [mm/rev].

    Inserts share the radius, so that force and torque follow as for two edges with half the feed each. `sigma` [rad]
    is the point angle. Source: geometry.

    >>> from math import pi
    >>> insert_drill_chip(0.1, pi)
    0.1
    """
    return f * sin(sigma / 2)


@formula(source="Kienzle formula, two edges", means="torque", result="M")
def drill_torque(K: Ratio, kc: Pressure, d: Diameter, f: Feed) -> Torque:
    """Torque [N mm] of a drill of diameter `d` [mm] at feed `f` [mm/rev]; `kc` [N/mm2] corrected by `K`.

    Source: the force of each edge, K kc d f / 4, on half the diameter between them.

    >>> drill_torque(1.0, 2000.0, 10.0, 0.2)
    5000.0
    """
    return K * kc * d**2 * f / 8


@formula(source="definition of power", means="power at the spindle", result="P")
def drill_power(M: Torque, n: SpindleSpeed) -> Power:
    """Power [N mm/min] of the torque `M` [N mm] at `n` [1/min]. Source: definition of power.

    >>> round(drill_power(5000.0, 1000.0) / 60e6, 4)
    0.5236
    """
    return 2 * pi * M * n


@formula(source="share of the edges' force, from memory", means="thrust along the axis", result="F_f")
def drill_thrust(c: Ratio, K: Ratio, kc: Pressure, d: Diameter, f: Feed, sigma: Angle) -> Force:
    """Thrust [N] along the axis of a drill, `c` times the edges' force resolved at the point angle `sigma` [rad].

    Source: 0.5 with a thinned chisel edge to 1.0 with a wide one; from memory.

    >>> from math import pi
    >>> round(drill_thrust(0.7, 1.0, 2000.0, 10.0, 0.2, pi), 3)
    1400.0
    """
    return c * K * kc * d / 2 * f * sin(sigma / 2)


@formula(source=_GEOMETRY, means="length of the point", result="p")
def point_length(D: Diameter, sigma: Angle) -> Length:
    """Length [mm] of the point of a drill of diameter `D` [mm], point angle `sigma` [rad]. Source: right triangle.

    >>> from math import radians
    >>> round(point_length(1.0, radians(118.0)), 7)
    0.3004303
    """
    return D / (2 * tan(sigma / 2))


@formula(source="definition of feed per revolution", means="time in cut", result="t_c")
def drilling_time(t: Length, h_p: Length, l_a: Length, f: Feed, n: SpindleSpeed) -> Time:
    """Time [min] for depth `t`, point `h_p` and approach with overrun `l_a` [mm], feed `f` [mm/rev], `n` [1/min].

    Source: definition of feed.

    >>> drilling_time(30.0, 3.0, 2.0, 0.2, 1000.0)
    0.175
    """
    return (t + h_p + l_a) / (f * n)


@formula(source="volume of the chip in unit time", means="removal rate", result="Q")
def drilling_removal(d: Diameter, f: Feed, n: SpindleSpeed) -> RemovalRate:
    """Removal rate [mm3/min] of a drill of diameter `d` [mm] at feed `f` [mm/rev] and `n` [1/min]. Source: definition.

    >>> round(drilling_removal(10.0, 0.2, 1000.0))
    15708
    """
    return pi * d**2 / 4 * f * n
