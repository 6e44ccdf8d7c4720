"""How far a bar or the work deflects under the cut, what that does to the diameter, and how fast it rings.

Bars and work are taken as slender beams of one section (Euler and Bernoulli), clamped as if the holder, the chuck and
the centre did not deflect. They do, so what is found here is the least that is to be expected.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi, sqrt
from typing import Literal, TypeAlias

from calc.language.checks import require_positive
from calc.language.kinds import INERTIA, Deflection, Frequency, InertDensity, SecondMoment, Stiffness
from calc.language.quantities import Area, Density, Diameter, Force, Length, Mass, Pressure, Ratio
from calc.language.working import formula

BEAM = "beam theory (Euler and Bernoulli), as in handbooks of mechanics: table of beam deflections"
Held: TypeAlias = Literal["chuck", "tailstock", "centres"]

ROOTS: dict[Held, float] = {"chuck": 1.8751040687, "tailstock": 3.9266023120, "centres": pi}
"""The first root of the frequency equation for each way of holding; handbooks of vibration, "beams in bending"."""


@dataclass(frozen=True, slots=True)
class Elastic:
    """A material of bars or work: modulus of elasticity [N/mm2], density [kg/mm3]."""

    code: str
    words: str
    modulus: float
    density: float


@dataclass(frozen=True, slots=True)
class BarMaterial(Elastic):
    """What boring bars are made of, and up to how many diameters of stick-out they are used."""

    longest: float = 4.0


# Moduli and densities: data sheet values, from memory; longest stick-out: common practice, no source.
BarOf = Literal["steel", "heavy", "carbide"]
BARS: dict[BarOf, BarMaterial] = {
    "steel": BarMaterial("steel", "steel", 210_000.0, 7.85e-6, 4.0),
    "heavy": BarMaterial("heavy", "heavy metal (tungsten)", 360_000.0, 17.5e-6, 6.0),
    "carbide": BarMaterial("carbide", "solid carbide", 600_000.0, 14.5e-6, 8.0),
}
WorkOf = Literal["steel", "stainless", "iron", "aluminium", "brass", "titanium"]
WORK: dict[WorkOf, Elastic] = {
    "steel": Elastic("steel", "steel", 210_000.0, 7.85e-6),
    "stainless": Elastic("stainless", "stainless steel", 200_000.0, 7.9e-6),
    "iron": Elastic("iron", "grey cast iron", 110_000.0, 7.2e-6),
    "aluminium": Elastic("aluminium", "aluminium", 70_000.0, 2.75e-6),
    "brass": Elastic("brass", "brass", 100_000.0, 8.45e-6),
    "titanium": Elastic("titanium", "titanium", 114_000.0, 4.45e-6),
}


@formula(source=BEAM, means="second moment of area of a round bar", result="I")
def second_moment(D: Diameter) -> SecondMoment:
    """Second moment of area [mm4] of a solid round bar of diameter `D` [mm]. Source: handbooks of mechanics.

    >>> round(second_moment(20.0), 2)
    7853.98
    """
    return pi * D**4 / 64


@formula(source=BEAM, means="second moment of area of a tube", result="I")
def second_moment_of_tube(D: Diameter, d: Diameter) -> SecondMoment:
    """Second moment of area [mm4] of a tube of diameter `D` [mm] with a bore `d` [mm]. Source: as above.

    >>> round(second_moment_of_tube(20.0, 10.0) / second_moment(20.0), 4)
    0.9375
    """
    return pi * (D**4 - d**4) / 64


@formula(source=BEAM, means="deflection where the force acts, held at one end", result="delta")
def deflection_in_chuck(F: Force, a: Length, E: Pressure, I: SecondMoment) -> Deflection:  # noqa: E741 (handbooks call it I)
    """Deflection [mm] under force `F` [N] at `a` [mm] from the clamped end, the other end free. Source: beam theory.

    `E` [N/mm2] is the modulus of elasticity, `I` [mm4] the second moment of area.

    >>> round(deflection_in_chuck(500.0, 80.0, 210_000.0, second_moment(20.0)), 7)
    0.051738
    """
    return F * a**3 / (3 * E * I)


@formula(source=BEAM, means="deflection where the force acts, between centres", result="delta")
def deflection_between_centres(F: Force, a: Length, L: Length, E: Pressure, I: SecondMoment) -> Deflection:  # noqa: E741 (handbooks call it I)
    """Deflection [mm] under force `F` [N] at `a` [mm] from one of two centres `L` [mm] apart. Source: beam theory.

    >>> round(deflection_between_centres(500.0, 150.0, 300.0, 210_000.0, second_moment(30.0)), 7)
    0.0336836
    """
    return F * a**2 * (L - a) ** 2 / (3 * E * I * L)


@formula(source=BEAM, means="deflection where the force acts, in a chuck and on a centre", result="delta")
def deflection_with_tailstock(F: Force, a: Length, L: Length, E: Pressure, I: SecondMoment) -> Deflection:  # noqa: E741 (handbooks call it I)
    """Deflection [mm] under force `F` [N] at `a` [mm] from the chuck, a centre at `L` [mm]. Source: beam theory.

    >>> round(deflection_with_tailstock(500.0, 150.0, 300.0, 210_000.0, second_moment(30.0)), 7)
    0.0147366
    """
    return F * a**3 * (L - a) ** 2 * (4 * L - a) / (12 * E * I * L**3)


@formula(source="common practice, no source", means="passive force", result="F_p", symbols={"share": "s_p"})
def passive_force(share: Ratio, F_c: Force) -> Force:
    """Passive force [N] as a share of the cutting force `F_c` [N]. Source: common practice.

    >>> passive_force(0.4, 500.0)
    200.0
    """
    return share * F_c


@formula(source="definition", means="stiffness", result="k")
def stiffness(F: Force, delta: Deflection) -> Stiffness:
    """Stiffness [N/mm] of what deflects by `delta` [mm] under `F` [N]. Source: definition.

    >>> stiffness(500.0, 0.05)
    10000.0
    """
    return F / delta


@formula(source="geometry: the edge stands back on the radius", means="effect on the diameter", result="dD")
def diameter_error(delta: Deflection) -> Deflection:
    """What a deflection `delta` [mm] square to the axis changes the diameter by [mm]. Source: geometry.

    >>> diameter_error(0.05)
    0.1
    """
    return 2 * delta


@formula(
    source="geometry: the edge sinks below the centre line", means="effect of sinking on the diameter", result="dD_t"
)
def diameter_of_sunk_edge(D: Diameter, delta_t: Deflection) -> Deflection:
    """What an edge that sinks by `delta_t` [mm] at diameter `D` [mm] makes the diameter larger by [mm].

    The same as sqrt(D**2 + 4 delta_t**2) - D without the difference of two nearly equal numbers. Source: geometry.

    >>> round(diameter_of_sunk_edge(20.0, 0.5), 6)
    0.024984
    """
    return 4 * delta_t**2 / (D + sqrt(D**2 + 4 * delta_t**2))


@formula(
    source="beam theory: first bending vibration, as in handbooks of vibration",
    means="first natural frequency",
    result="f_1",
    symbols={"root": "λ"},
)
def first_frequency(root: Ratio, E: Pressure, I: SecondMoment, rho: InertDensity, A: Area, L: Length) -> Frequency:  # noqa: E741 (handbooks call it I)
    """First natural frequency [1/min] of a beam of length `L` [mm] that carries nothing but itself.

    `root` is the first root of its frequency equation (1.8751 held at one end), `E` [N/mm2] the modulus, `I` [mm4] and
    `A` [mm2] belong to the section, `rho` [N min2/mm4] is the density. Source: handbooks of vibration.

    >>> area, density = pi * 25.0**2 / 4, 7850e-9 * float(INERTIA)
    >>> round(first_frequency(1.8751040687, 210_000.0, second_moment(25.0), density, area, 100.0) / 60, 2)
    1808.95
    """
    return root**2 / (2 * pi * L**2) * sqrt(E * I / (rho * A))


@formula(means="mass of the whole bar", source="volume times density", result="m")
def bar_mass(D: Diameter, d: Diameter, B: Length, rho: Density) -> Mass:
    """Mass [kg] of a round bar or tube of diameter `D`, bore `d` and length `B` [mm], density `rho` [kg/mm3].

    Source: definition.

    >>> from calc.language.quantities import DENSITY, MASS
    >>> round(MASS.shown(bar_mass(45.0, 0.0, 3000.0, DENSITY.internal(7.85))), 2)
    37.45
    """
    return pi / 4 * (D**2 - d**2) * B * rho


@dataclass(frozen=True, slots=True)
class Beam:
    """A round bar or tube: length, diameter, bore [mm], what it is made of."""

    length: float
    diameter: float
    material: Elastic
    bore: float = 0.0

    @property
    def slenderness(self) -> float:
        """Length over diameter."""
        return self.length / self.diameter

    def section(self) -> float:
        """Second moment of area [mm4]; noted as a step."""
        if self.bore:
            return second_moment_of_tube(self.diameter, self.bore)
        return second_moment(self.diameter)

    def mass(self) -> float:
        """Mass [kg]; noted as a step.

        >>> round(Beam(1000.0, 40.0, WORK["steel"]).mass(), 2)
        9.86
        """
        return bar_mass(self.diameter, self.bore, self.length, self.material.density)

    def frequency(self, held: Held, section: float) -> float:
        """First natural frequency [1/min] as it is held; `section` is its second moment [mm4].

        >>> bar = Beam(100.0, 25.0, BARS["steel"])
        >>> round(bar.frequency("chuck", bar.section()) / 60)
        1809
        """
        density = self.material.density * float(INERTIA)
        area = pi * (self.diameter**2 - self.bore**2) / 4
        return first_frequency(ROOTS[held], self.material.modulus, section, density, area, self.length)


def deflection(beam: Beam, force: float, at: float, held: Held, section: float) -> float:
    """How far `beam` deflects [mm] under `force` [N] where it acts, `at` [mm] from the chuck (or one centre).

    `section` is the beam's second moment of area [mm4]. Raises OutOfRange for a force or length not above 0.
    Source: beam theory.

    >>> bar = Beam(80.0, 20.0, BARS["steel"])
    >>> round(deflection(bar, 500.0, 80.0, "chuck", bar.section()), 6)
    0.051738
    """
    require_positive(force=force, length=beam.length)
    modulus = beam.material.modulus
    if held == "chuck":
        return deflection_in_chuck(force, at, modulus, section)
    if held == "centres":
        return deflection_between_centres(force, at, beam.length, modulus, section)
    return deflection_with_tailstock(force, at, beam.length, modulus, section)


def weakest_place(beam: Beam, held: Held) -> float:
    """Where the work deflects most under a tool that passes along it [mm from the chuck or one centre].

    With a tailstock it is 2 - sqrt(2) of the length: there a**3 (L - a)**2 (4 L - a) is largest. Source: beam theory.

    >>> weakest_place(Beam(300.0, 30.0, WORK["steel"]), "centres")
    150.0
    """
    shares: dict[Held, float] = {"chuck": 1.0, "tailstock": 2.0 - sqrt(2.0), "centres": 0.5}
    return shares[held] * beam.length
