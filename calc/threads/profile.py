"""The basic profile of threads with flanks at 60 degrees, lead, and how limits follow from deviation and tolerance."""

from __future__ import annotations

from math import atan, pi, sqrt, tan

from calc.language.quantities import Angle, Count, Diameter, Length
from calc.language.working import formula

ISO_68 = "ISO 68-1, ISO 724; ASME B1.1 for inch threads"
_HELIX = "one turn of the helix laid flat"


@formula(source=ISO_68, means="height of the sharp triangle", result="H")
def sharp_height(P: Length, alpha: Angle) -> Length:
    """Height [mm] of the triangle of pitch `P` [mm] with flanks at `alpha` [rad] to the normal. Source: geometry.

    >>> from math import radians
    >>> round(sharp_height(1.0, radians(30.0)), 6)
    0.866025
    """
    return P / (2 * tan(alpha))


@formula(source=ISO_68, means="basic pitch diameter, D - 3/4 H", result="D_2")
def pitch_diameter(D: Diameter, P: Length) -> Diameter:
    """Basic pitch diameter [mm] of a 60 degree thread `D` with pitch `P` [mm]. Source: ISO 724.

    >>> round(pitch_diameter(24.0, 3.0), 6)
    22.051443
    """
    return D - 3 * sqrt(3) / 8 * P


@formula(source=ISO_68, means="basic minor diameter, D - 5/4 H", result="D_1")
def minor_diameter(D: Diameter, P: Length) -> Diameter:
    """Basic minor diameter [mm] of a 60 degree thread `D` with pitch `P` [mm]. Source: ISO 724.

    >>> round(minor_diameter(24.0, 3.0), 6)
    20.752405
    """
    return D - 5 * sqrt(3) / 8 * P


@formula(source=ISO_68, means="minor diameter at the rounded root, d - 17/12 H", result="d_3")
def root_diameter(d: Diameter, P: Length) -> Diameter:
    """Minor diameter [mm] of an outside 60 degree thread `d` at its root rounded with H/6. Source: ISO 68-1, DIN 13-19.

    >>> round(root_diameter(24.0, 3.0), 6)
    20.319392
    """
    return d - 17 * sqrt(3) / 24 * P


@formula(source=ISO_68, means="depth of the outside thread, 17/24 H", result="h_3")
def depth_outside(P: Length) -> Length:
    """Depth per side [mm] of an outside 60 degree thread of pitch `P` [mm] with its rounded root. Source: ISO 68-1.

    >>> round(depth_outside(3.0), 6)
    1.840304
    """
    return 17 * sqrt(3) / 48 * P


@formula(source=ISO_68, means="depth of the inside thread, 5/8 H", result="H_1")
def depth_inside(P: Length) -> Length:
    """Depth per side [mm] of an inside 60 degree thread of pitch `P` [mm]. Source: ISO 68-1.

    >>> round(depth_inside(3.0), 6)
    1.623798
    """
    return 5 * sqrt(3) / 16 * P


@formula(source=ISO_68, means="root radius of the outside thread, H/6", result="R")
def root_radius(P: Length) -> Length:
    """Root radius [mm] of the basic outside thread of pitch `P` [mm]. Source: ISO 68-1.

    >>> round(root_radius(3.0), 4)
    0.433
    """
    return sqrt(3) / 12 * P


@formula(source="ISO 965-1", means="smallest root radius of the outside thread", result="R_min")
def least_root_radius(P: Length) -> Length:
    """Smallest root radius [mm] of an outside thread of pitch `P` [mm], class 8.8 and up. Source: ISO 965-1.

    >>> least_root_radius(3.0)
    0.375
    """
    return 0.125 * P


@formula(source="definition", means="lead", result="P_h")
def lead_of(n: Count, P: Length) -> Length:
    """Lead [mm] of `n` starts with pitch `P` [mm]. Source: definition.

    >>> lead_of(2.0, 7.0)
    14.0
    """
    return n * P


@formula(source=_HELIX, means="lead angle at the pitch diameter", result="phi")
def lead_angle(P_h: Length, d_2: Diameter) -> Angle:
    """Lead angle [rad] of a lead `P_h` at the pitch diameter `d_2`, both [mm]. Source: geometry of the helix.

    >>> from math import degrees
    >>> round(degrees(lead_angle(3.0, 22.051443)), 5)
    2.47962
    """
    return atan(P_h / (pi * d_2))


@formula(source="deviation of the class", means="upper limit", result="d_max")
def upper_limit(d: Diameter, es: Length) -> Diameter:
    """Upper limit [mm] of an outside diameter `d`, the deviation `es` below it, both [mm]. Source: definition.

    >>> round(upper_limit(24.0, 0.048), 3)
    23.952
    """
    return d - es


@formula(source="tolerance of the class", means="lower limit", result="d_min")
def lower_limit(d_max: Diameter, T: Length) -> Diameter:
    """Lower limit [mm] of an outside diameter from its upper one `d_max` and tolerance `T` [mm]. Source: definition.

    >>> round(lower_limit(23.952, 0.375), 3)
    23.577
    """
    return d_max - T


@formula(source="deviation of the class", means="lower limit", result="D_min")
def lower_limit_inside(D: Diameter, EI: Length) -> Diameter:
    """Lower limit [mm] of an inside diameter `D`, the deviation `EI` above it, both [mm]. Source: definition.

    >>> lower_limit_inside(24.0, 0.0)
    24.0
    """
    return D + EI


@formula(source="tolerance of the class", means="upper limit", result="D_max")
def upper_limit_inside(D_min: Diameter, T: Length) -> Diameter:
    """Upper limit [mm] of an inside diameter with lower limit `D_min` and tolerance `T`, both [mm]. Source: definition.

    >>> round(upper_limit_inside(22.051, 0.265), 3)
    22.316
    """
    return D_min + T


@formula(
    source="ISO 965-1, ASME B1.13M", means="smallest minor diameter, root with the smallest radius", result="d_3min"
)
def least_root(d_2min: Diameter, H: Length, R_min: Length) -> Diameter:
    """Minor diameter [mm] of an outside thread at its smallest pitch diameter, the root rounded with `R_min` [mm].

    The circle touches both flanks of the triangle of height `H` [mm], whose tip is H/2 below the pitch line, `d_2min`
    [mm] across. Source: geometry of a 60 degree root, as ASME B1.13M prints it.

    >>> round(least_root(21.803, 2.598076, 0.375), 3)
    19.955
    """
    return d_2min - H + 2 * R_min


@formula(source="ASME B1.13M, reference", means="largest major diameter of the inside thread", result="D_max")
def largest_major_inside(D_2max: Diameter, H: Length) -> Diameter:
    """Largest major diameter [mm] of an inside thread with `D_2max`, root flat P/24, sharp height `H`, all [mm].

    ISO 965 sets no upper limit; this is the reference of ASME B1.13M.

    >>> round(largest_major_inside(9.206, 1.299038), 3)
    10.397
    """
    return D_2max + 11 * H / 12


@formula(source="ASME B1.1", means="smallest minor diameter at a flat root, d2 - 3/4 H", result="d_1min")
def flat_root(d_2min: Diameter, H: Length) -> Diameter:
    """Smallest minor diameter [mm] of an outside thread with smallest pitch diameter `d_2min`, height `H` [mm].

    Source: ASME B1.1 (reference dimension).

    >>> round(flat_root(11.2649, 1.692), 3)
    9.996
    """
    return d_2min - 3 * H / 4
