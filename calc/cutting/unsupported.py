"""How far work may stand out unsupported: by what it deflects, by the shop's guide, and with a steady rest."""

from __future__ import annotations

from math import ceil

from calc.language.kinds import Deflection, SecondMoment
from calc.language.quantities import Count, Force, Length, Pressure, Ratio
from calc.language.working import formula

BEAM = "beam theory (Euler and Bernoulli), as in handbooks of mechanics: table of beam deflections"


@formula(source="a beam's deflection grows with the cube of its length", means="length that keeps it", result="L_d")
def length_for_deflection(L: Length, delta_m: Deflection, delta: Deflection) -> Length:
    """Length [mm] at which work deflects by `delta_m` [mm], when at `L` [mm] it is `delta` [mm]. Source: beam theory.

    >>> length_for_deflection(100.0, 0.08, 0.01)
    200.0
    """
    return L * (delta_m / delta) ** (1 / 3)  # type: ignore[no-any-return]  # a broken power may be complex to a checker


@formula(source="common practice, no source", means="length by the rule of thumb", result="L_g")
def length_by_guide(q: Ratio, D: Length) -> Length:
    """Length [mm] of `q` diameters of work `D` [mm]. Source: common practice.

    >>> length_by_guide(3.0, 20.0)
    60.0
    """
    return q * D


@formula(source=BEAM, means="deflection of the end beyond the steady", result="delta")
def deflection_beyond_steady(F: Force, c: Length, b: Length, E: Pressure, I: SecondMoment) -> Deflection:  # noqa: E741 (handbooks call it I)
    """Deflection [mm] under `F` [N] at the end of work `b` [mm] beyond a steady, `c` [mm] from the chuck to the steady.

    `E` [N/mm2], `I` [mm4]; held fast in the chuck, the steady as a hinge. Source: beam theory.

    >>> round(deflection_beyond_steady(500.0, 200.0, 50.0, 210_000.0, 7853.98), 5)
    0.05053
    """
    return F * b**2 * (4 * b + 3 * c) / (12 * E * I)


@formula(source=BEAM, means="load on the steady", result="F_l")
def load_on_steady(F: Force, b: Length, c: Length) -> Force:
    """Load [N] on a steady by `F` [N] at `b` [mm] beyond it, the chuck `c` [mm] behind it. Source: beam theory.

    >>> load_on_steady(500.0, 0.0, 200.0), load_on_steady(500.0, 100.0, 150.0)
    (500.0, 1000.0)
    """
    return F * (1 + 3 * b / (2 * c))


@formula(source="evenly spaced, each stretch within what is allowed", means="steadies", result="i_s")
def steadies(L: Length, L_m: Length) -> Count:
    """How many steadies cut `L` [mm] into stretches of at most `L_m` [mm]. Source: counting.

    >>> steadies(600.0, 250.0), steadies(200.0, 250.0)
    (2, 0)
    """
    return max(ceil(L / L_m - 1e-9) - 1, 0)
