"""The blade that carries a parting or grooving insert: how far it bends down and sideways, what its lead angle does."""

from __future__ import annotations

from math import tan

from calc.language.kinds import Deflection
from calc.language.quantities import Angle, Diameter, Force, Length, Pressure, Ratio
from calc.language.working import formula

STEEL = 210_000.0  # N/mm2: modulus of elasticity of blade steel; data sheet values, from memory
THINNER: Ratio = 0.8  # thickness of a blade over the width of its insert; common practice, no source
BEAM = "beam theory: clamped at one end, force at the other; as in handbooks of mechanics"


@formula(source=BEAM, means="deflection of the blade", result="delta", symbols={"E": "E"})
def blade_deflection(F: Force, L: Length, E: Pressure, b: Length, h: Length) -> Deflection:
    """Deflection [mm] of a blade `L` [mm] out of its block under `F` [N]; `b` is across the force, `h` along it [mm].

    `E` [N/mm2] is the modulus of elasticity. Source: beam theory, I = b h**3 / 12.

    >>> round(blade_deflection(1000.0, 30.0, 210_000.0, 2.4, 26.0), 5)
    0.01219
    """
    return 4 * F * L**3 / (E * b * h**3)


@formula(source="force of the feed square to a slanting edge, resolved", means="side force", result="F_s")
def side_force(F_f: Force, lam: Angle) -> Force:
    """Force [N] that pushes a blade sideways when its front edge slants by the lead angle `lam` [rad].

    `F_f` [N] is the feed force. Source: geometry: the force stands square to the edge.

    >>> side_force(1000.0, 0.0)
    0.0
    """
    return F_f * tan(lam)


@formula(source="geometry: one corner of the edge leads the other", means="lead of the corner", result="e")
def corner_lead(w: Length, lam: Angle) -> Length:
    """How far [mm] one corner of an edge `w` [mm] wide leads the other at the lead angle `lam` [rad]. Source: geometry.

    >>> from math import radians
    >>> round(corner_lead(3.0, radians(6.0)), 4)
    0.3153
    """
    return w * tan(lam)


@formula(source="geometry: what the trailing corner has not cut yet", means="pip on the bar", result="d_pip")
def pip_on_the_bar(e: Length) -> Diameter:
    """Diameter [mm] of the pip that is left on the bar when the leading corner, `e` [mm] ahead, frees the part.

    Source: geometry.

    >>> pip_on_the_bar(0.3)
    0.6
    """
    return 2 * e


@formula(
    source="the lower edge of a straight blade just touches the outer wall",
    means="smallest first diameter",
    result="D_min",
)
def smallest_first_diameter(h: Length, s: Length) -> Diameter:
    """Smallest outer wall [mm] in a face that a straight blade clears `h` [mm] below its edge.

    Its side is set in by `s` [mm] from the insert's outer corner. Source: geometry, (D/2 - s)**2 + h**2 = (D/2)**2.

    >>> smallest_first_diameter(20.0, 4.0)
    104.0
    """
    return (h**2 + s**2) / s
