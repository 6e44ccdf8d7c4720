"""Curves by formula as points: the end of a part as an ellipse, a parabola or an asphere, apex on the axis at Z0."""

from __future__ import annotations

import math
from collections.abc import Sequence

from calc.contour.points import Point
from calc.language.messages import Message, Quantity
from calc.language.problems import Fault, OutOfRange
from calc.language.quantities import LENGTH

COUNT = 2001
"""Points of one curve; closer together toward its edge, where it may be steep."""


def sag(r: float, apex_radius: float, conic: float = 0.0, terms: Sequence[float] = ()) -> float:
    """How far the curve lies from its apex along Z, mm, at a radius ``r`` (mm) from the axis.

    ``apex_radius`` in mm; ``conic`` is 0 for a circle, -1 for a parabola, above -1 for ellipses; ``terms`` are the
    factors of r^4, r^6, ... Source: ISO 10110-12:2019, rotationally symmetric surfaces.

    >>> sag(3.0, 5.0), sag(4.0, 8.0, -1.0)
    (1.0, 1.0)
    """
    under = 1.0 - (1.0 + conic) * (r / apex_radius) ** 2
    base = r * r / (apex_radius * (1.0 + math.sqrt(max(under, 0.0))))
    return base + sum(term * r ** (4 + 2 * place) for place, term in enumerate(terms))


def end_curve(
    to_radius: float, apex_radius: float, conic: float = 0.0, terms: Sequence[float] = (), *, is_hollow: bool = False
) -> list[Point]:
    """Points from the axis out to ``to_radius`` (mm): the curve falls back from Z0, ``is_hollow`` it stands before it.

    ``apex_radius`` in mm, ``conic`` and ``terms`` as for `sag`. Raises `OutOfRange` where the curve does not reach.

    >>> end_curve(4.0, 8.0, -1.0)[-1]
    Point(z=-1.0, r=4.0)
    """
    if not (apex_radius > 0.0 and to_radius > 0.0):
        raise OutOfRange(Fault("curve", Message("The radius at the apex and the X to reach must be more than 0.")))
    reach = apex_radius / math.sqrt(1.0 + conic) if conic > -1.0 else math.inf
    if to_radius > reach * (1.0 + 1e-12):
        text = "The curve reaches {reach} from the axis, not {to}."
        values = {"reach": Quantity(reach, LENGTH), "to": Quantity(to_radius, LENGTH)}
        raise OutOfRange(Fault("curve.to_x", Message(text, {**values})))
    radii = [to_radius * math.sin(math.pi / 2.0 * i / (COUNT - 1)) for i in range(COUNT)]
    sign = 1.0 if is_hollow else -1.0
    return [Point(sign * sag(r, apex_radius, conic, terms) + 0.0, r) for r in radii]


def ellipse(semi_axis_r: float, semi_axis_z: float) -> tuple[float, float]:
    """The apex radius (mm) and the conic constant of an ellipse by its half axes ``semi_axis_r``, ``semi_axis_z``, mm.

    >>> ellipse(20.0, 10.0)
    (40.0, 3.0)
    """
    if not (semi_axis_r > 0.0 and semi_axis_z > 0.0):
        raise OutOfRange(Fault("curve", Message("Both half axes must be more than 0.")))
    return semi_axis_r**2 / semi_axis_z, (semi_axis_r / semi_axis_z) ** 2 - 1.0
