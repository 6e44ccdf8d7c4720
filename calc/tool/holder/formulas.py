"""The angle that a holder and its insert leave behind the nose."""

from __future__ import annotations

from math import pi

from calc.language.quantities import Angle
from calc.language.working import formula

ISO_3002 = "angles in the working plane, ISO 3002-1: the three make half a turn"


@formula(means="end cutting angle", source=ISO_3002, result="kappa_2")
def end_cutting_angle(kappa: Angle, epsilon: Angle) -> Angle:
    """Angle (rad) between the feed and the second edge of an insert of included angle epsilon at entering angle kappa.

    Source: ISO 3002-1, minor cutting edge angle.

    >>> from math import degrees, radians
    >>> round(degrees(end_cutting_angle(radians(93.0), radians(55.0))))
    32
    """
    return pi - kappa - epsilon
