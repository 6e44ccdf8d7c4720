"""The formulas of a groove's section: a trapezium between the surface and its bottom."""

from __future__ import annotations

from math import tan

from calc.language.quantities import Angle, Diameter, Length
from calc.language.working import formula

SECTION = "the section of the groove, a trapezium"


@formula(means="bottom diameter", source=SECTION, result="d")
def outside_bottom(D: Diameter, t: Length) -> Diameter:
    """Diameter (mm) at the bottom of a groove t deep in the outside D (mm).

    Source: definition.

    >>> outside_bottom(25.0, 0.5)
    24.0
    """
    return D - 2 * t


@formula(means="bottom diameter", source=SECTION, result="d")
def bore_bottom(D: Diameter, t: Length) -> Diameter:
    """Diameter (mm) at the bottom of a groove t deep in the bore D (mm).

    Source: definition.

    >>> bore_bottom(25.0, 0.5)
    26.0
    """
    return D + 2 * t


@formula(means="half the difference of two diameters", source=SECTION, result="t")
def half_difference(D_1: Diameter, D_2: Diameter) -> Length:
    """Distance (mm) between two coaxial cylinders of the diameters D_1 (the larger) and D_2 (mm).

    Source: definition.

    >>> half_difference(25.0, 24.0)
    0.5
    """
    return (D_1 - D_2) / 2


@formula(means="diameter from the bottom of the groove", source=SECTION, result="D")
def outside_from_bottom(d: Diameter, t: Length) -> Diameter:
    """Diameter (mm) of the outside whose groove, t deep, has the bottom diameter d (mm).

    Source: definition.

    >>> outside_from_bottom(24.0, 0.5)
    25.0
    """
    return d + 2 * t


@formula(means="diameter from the bottom of the groove", source=SECTION, result="D")
def bore_from_bottom(d: Diameter, t: Length) -> Diameter:
    """Diameter (mm) of the bore whose groove, t deep, has the bottom diameter d (mm).

    Source: definition.

    >>> bore_from_bottom(26.0, 0.5)
    25.0
    """
    return d - 2 * t


@formula(means="width at the surface", source=SECTION, result="w")
def width_from_bottom(b: Length, t: Length, mu: Angle, nu: Angle) -> Length:
    """Width (mm) at the surface of a groove b wide at its bottom, t deep; mu and nu (rad) lean its walls from square.

    Source: right triangles beside the bottom.

    >>> width_from_bottom(3.0, 2.0, 0.0, 0.0)
    3.0
    """
    return b + t * (tan(mu) + tan(nu))


@formula(means="width at the bottom", source=SECTION, result="b")
def bottom_from_width(w: Length, t: Length, mu: Angle, nu: Angle) -> Length:
    """Width (mm) at the bottom of a groove w wide at the surface, t deep; mu and nu (rad) lean its walls from square.

    Source: right triangles beside the bottom.

    >>> bottom_from_width(3.0, 2.0, 0.0, 0.0)
    3.0
    """
    return w - t * (tan(mu) + tan(nu))
