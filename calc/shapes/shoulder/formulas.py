"""The formulas of an undercut: a run-out on the cylinder, a radius, and for form F a run-out on the face."""

from __future__ import annotations

from math import cos, sin, tan

from calc.language.quantities import Angle, Diameter, Length, Radius
from calc.language.working import formula

DIN = "DIN 509"


@formula(means="diameter at the bottom of the undercut", source=DIN, result="d_u")
def bottom_diameter(d: Diameter, t1: Length) -> Diameter:
    """Diameter (mm) at the bottom of an undercut t1 deep (mm) in a cylinder d (mm).

    Source: DIN 509.

    >>> bottom_diameter(24.0, 0.3)
    23.4
    """
    return d - 2 * t1


@formula(means="run-out along the cylinder", source=DIN, result="l_1")
def run_out(t1: Length, rho: Angle) -> Length:
    """Length (mm) along the axis over which the run-out at rho (rad) comes up by t1 (mm).

    Source: right triangle.

    >>> from math import radians
    >>> round(run_out(0.1, radians(15.0)), 2)
    0.37
    """
    return t1 / tan(rho)


@formula(means="depth at which the radius meets the face's run-out", source=DIN, result="s")
def meeting_depth(t2: Length, r: Radius, psi: Angle) -> Length:
    """Depth (mm) behind the face at which the radius r joins the run-out at psi (rad); t2 is the greatest depth (mm).

    Source: the run-out is tangent to the radius.

    >>> meeting_depth(0.2, 0.8, 0.0)
    0.2
    """
    return t2 - r * (1 - cos(psi))


@formula(means="height of the undercut on the face", source=DIN, result="g")
def face_height(r: Radius, s: Length, psi: Angle) -> Length:
    """Height (mm) above the undercut's bottom at which the run-out at psi (rad) comes out of the face.

    It leaves the radius r (mm) at the depth s (mm) behind the face.

    Source: right triangles, as DIN 509's reference value g.

    >>> from math import radians
    >>> round(face_height(0.8, 0.19221, radians(8.0)), 1)
    2.3
    """
    return r + r * sin(psi) + s / tan(psi)
