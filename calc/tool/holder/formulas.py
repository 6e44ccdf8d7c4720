"""The angle that a holder and its insert leave behind the nose; where the tool point goes with another nose."""

from __future__ import annotations

from math import cos, pi, sin

from calc.language.quantities import Angle, Length, Radius
from calc.language.working import formula

ISO_3002 = "angles in the working plane, ISO 3002-1: the three make half a turn"
_CATALOGUE = "geometry: corner radius and position of the cutting edge, as in a catalogue 2016-17, p. R32"


@formula(means="end cutting angle", source=ISO_3002, result="kappa_2")
def end_cutting_angle(kappa: Angle, epsilon: Angle) -> Angle:
    """Angle (rad) between the feed and the second edge of an insert of included angle epsilon at entering angle kappa.

    Source: ISO 3002-1, minor cutting edge angle.

    >>> from math import degrees, radians
    >>> round(degrees(end_cutting_angle(radians(93.0), radians(55.0))))
    32
    """
    return pi - kappa - epsilon


@formula(means="tool point farther out across the work", source=_CATALOGUE, result="dX")
def point_out_in_x(r_1: Radius, r_2: Radius, epsilon: Angle, kappa: Angle) -> Length:
    """How much farther the tool point stands toward the axis (mm, per side) with a nose r_2 in place of r_1 (mm).

    The insert stays in its pocket: of one included angle epsilon at entering angle kappa (rad). Source: geometry, as
    catalogues print it: corner radius and position of the cutting edge.

    >>> from math import radians
    >>> round(point_out_in_x(0.8, 0.4, radians(80.0), radians(95.0)), 3)
    0.04
    """
    return (r_1 - r_2) * (cos(epsilon / 2 + kappa - pi / 2) / sin(epsilon / 2) - 1)


@formula(means="tool point farther out along the work", source=_CATALOGUE, result="dZ")
def point_out_in_z(r_1: Radius, r_2: Radius, epsilon: Angle, kappa: Angle) -> Length:
    """How much farther the tool point stands toward the chuck (mm) with a nose r_2 in place of r_1 (mm).

    Source: as `point_out_in_x`.

    >>> from math import radians
    >>> round(point_out_in_z(0.8, 0.4, radians(55.0), radians(93.0)), 4)
    0.0397
    """
    return (r_1 - r_2) * (sin(epsilon / 2 + kappa - pi / 2) / sin(epsilon / 2) - 1)
