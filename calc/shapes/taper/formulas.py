"""The formulas of a taper; its ratio C is on diameter per length, as on prints (ISO 3040)."""

from __future__ import annotations

from math import atan, tan
from typing import Annotated

from calc.language.factor import FOOT, INCH, ONE
from calc.language.quantities import Angle, Diameter, Kind, Length
from calc.language.unit import Unit
from calc.language.working import formula

TAPER = Kind("taper", "ratio", Unit("1", "", ONE, 5), Unit("1", "", ONE, 5))
_PER_FOOT_UNIT = Unit("in/ft", "in/ft", INCH / FOOT, 5)
PER_FOOT = Kind("taper per foot", "ratio", _PER_FOOT_UNIT, _PER_FOOT_UNIT)
Taper = Annotated[float, TAPER]
TaperPerFoot = Annotated[float, PER_FOOT]

CONE = "definition of the rate of taper, ISO 3040"


@formula(means="taper from both ends and the length", source=CONE, result="C")
def taper_from_ends(D: Diameter, d: Diameter, L: Length) -> Taper:
    """Taper (on diameter per length, 1) of a cone from D to d over the length L (mm).

    Source: ISO 3040.

    >>> taper_from_ends(22.0, 20.0, 20.0)
    0.1
    """
    return (D - d) / L


@formula(means="taper from the half angle", source="right triangle in the cone", result="C")
def taper_from_half_angle(alpha: Angle) -> Taper:
    """Taper (1) of a cone with the angle alpha (rad) between its side and its axis.

    Source: right triangle.

    >>> round(taper_from_half_angle(0.0499584), 6)
    0.1
    """
    return 2 * tan(alpha)


@formula(means="half angle from the taper", source="right triangle in the cone", result="alpha")
def half_angle_from_taper(C: Taper) -> Angle:
    """Angle (rad) between side and axis of a cone of the taper C (1).

    Source: right triangle.

    >>> from math import degrees
    >>> round(degrees(half_angle_from_taper(0.1)), 6)
    2.862405
    """
    return atan(C / 2)


@formula(means="half angle from the included angle", source="the axis halves the cone", result="alpha")
def half_angle_from_included(beta: Angle) -> Angle:
    """Angle (rad) between side and axis of a cone of the included angle beta (rad).

    Source: symmetry.

    >>> half_angle_from_included(1.0)
    0.5
    """
    return beta / 2


@formula(means="included angle", source="the axis halves the cone", result="beta")
def included_angle(alpha: Angle) -> Angle:
    """Included angle (rad) of a cone with the half angle alpha (rad).

    Source: symmetry.

    >>> included_angle(0.5)
    1.0
    """
    return 2 * alpha


@formula(means="taper per foot", source="inches on diameter in 12 inches of length", result="T")
def taper_per_foot(C: Taper) -> TaperPerFoot:
    """Taper per foot (held as the ratio itself, shown in in/ft) of the taper C (1).

    Source: definition.

    >>> round(PER_FOOT.shown(taper_per_foot(0.05)), 12)
    0.6
    """
    return C


@formula(means="taper from the taper per foot", source="inches on diameter in 12 inches of length", result="C")
def taper_from_per_foot(T: TaperPerFoot) -> Taper:
    """Taper (1) of a taper per foot T.

    Source: definition.

    >>> taper_from_per_foot(PER_FOOT.internal(3.0))
    0.25
    """
    return T


@formula(means="large diameter", source=CONE, result="D")
def large_from_small(d: Diameter, L: Length, C: Taper) -> Diameter:
    """Large diameter (mm) of a cone of the taper C (1) over L from the small diameter d (mm).

    Source: ISO 3040.

    >>> large_from_small(20.0, 20.0, 0.1)
    22.0
    """
    return d + C * L


@formula(means="small diameter", source=CONE, result="d")
def small_from_large(D: Diameter, L: Length, C: Taper) -> Diameter:
    """Small diameter (mm) of a cone of the taper C (1) over L from the large diameter D (mm).

    Source: ISO 3040.

    >>> small_from_large(22.0, 20.0, 0.1)
    20.0
    """
    return D - C * L


@formula(means="length of the taper", source=CONE, result="L")
def length_from_ends(D: Diameter, d: Diameter, C: Taper) -> Length:
    """Length (mm) of a cone of the taper C (1) from D to d (mm).

    Source: ISO 3040.

    >>> length_from_ends(22.0, 20.0, 0.1)
    20.0
    """
    return (D - d) / C


@formula(means="set-over of the tailstock", source="Machinery's Handbook, turning tapers between centres", result="s")
def set_over(L_w: Length, C: Taper) -> Length:
    """How far (mm) the tailstock is set over for the taper C (1) on work of the length L_w (mm) between centres.

    Source: Machinery's Handbook.

    >>> set_over(200.0, 0.05)
    5.0
    """
    return L_w * C / 2
