"""Soft jaws bored for the first side of a part: where they touch it, the gap beside, how far they open."""

from __future__ import annotations

from math import sqrt

from calc.language.quantities import Diameter, Length, Radius
from calc.language.working import formula

ARCS = "two arcs through the same places, as high as their radii make them"


@formula(source="chosen play on the measured diameter", means="bore the jaws to", result="D_j")
def jaw_bore(D_g: Diameter, e: Length) -> Diameter:
    """Diameter [mm] to bore (or turn) jaws to that hold `D_g` [mm], larger by `e` [mm]. Source: definition.

    >>> jaw_bore(42.0, 0.02)
    42.02
    """
    return D_g + e


@formula(source="height of an arc over its chord", means="height of an arc over the jaw", result="h_j")
def height_over_jaw(r: Radius, b: Length) -> Length:
    """Height [mm] of an arc of radius `r` [mm] over a jaw `b` [mm] wide. Source: height of a circle's segment.

    >>> height_over_jaw(50.0, 60.0)
    10.0
    """
    return r - sqrt(r**2 - (b / 2) ** 2)


@formula(source=ARCS, means="gap between jaw and work", result="g")
def jaw_gap(h_w: Length, h_j: Length) -> Length:
    """Largest gap [mm] between work whose arc over a jaw is `h_w` [mm] high and the jaw's `h_j` [mm].

    Source: geometry.

    >>> round(jaw_gap(10.0, 9.98), 6)
    0.02
    """
    return abs(h_w - h_j)


@formula(source="the work stands on the ledge that boring leaves", means="ledge the work stands on", result="h_s")
def ledge(D_j: Diameter, D_p: Diameter) -> Length:
    """Height [mm, radial] of the ledge between the bored diameter `D_j` and what stays at `D_p` [mm]. Source: geometry.

    >>> ledge(42.0, 36.0)
    3.0
    """
    return abs(D_j - D_p) / 2


@formula(source="the jaws go back by what they closed", means="opens to", result="D_o")
def opens_to(D_j: Diameter, s_p: Length) -> Diameter:
    """Diameter [mm] to which jaws bored to `D_j` open when they had closed by `s_p` [mm, radial]. Source: geometry.

    >>> opens_to(42.0, 2.5)
    47.0
    """
    return D_j + 2 * s_p


@formula(source="the jaws go back by what they opened", means="closes to", result="D_o")
def closes_to(D_j: Diameter, s_p: Length) -> Diameter:
    """Diameter [mm] to which jaws turned to `D_j` close when they had opened by `s_p` [mm, radial]. Source: geometry.

    >>> closes_to(42.0, 2.5)
    37.0
    """
    return D_j - 2 * s_p


@formula(source="what stays of the jaw under the ledge", means="solid jaw under the ledge", result="h_u")
def jaw_left(H: Length, t_j: Length, b_p: Length) -> Length:
    """What [mm] is left of a jaw `H` high behind a step `t_j` deep, down to a ring `b_p` [mm] wide. Source: geometry.

    >>> jaw_left(40.0, 15.0, 12.0)
    13.0
    """
    return H - t_j - b_p
