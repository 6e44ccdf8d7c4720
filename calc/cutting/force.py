"""Cutting force, power and torque from the specific force of a chip, with the spread of published values."""

from __future__ import annotations

from dataclasses import dataclass

from calc.cutting.chip import Edge, engagement, mean_chip, straight_chip
from calc.cutting.materials import Material
from calc.language.checks import require_positive
from calc.language.quantities import (
    Diameter,
    Feed,
    Force,
    Length,
    Power,
    Pressure,
    Ratio,
    RemovalRate,
    SurfaceSpeed,
    Torque,
)
from calc.language.working import formula

h0: Length = 1.0  # the chip thickness that kc1.1 belongs to [mm]

THINNEST, THICKEST = 0.05, 2.5  # chip [mm] that the published tables cover; common practice, from memory
_KIENZLE = "Kienzle formula, as in mechanical trade handbooks"


@formula(source=_KIENZLE, means="specific cutting force", result="k_c", symbols={"kc1": "k_c1", "mc": "m_c"})
def specific_force(kc1: Pressure, h: Length, mc: Ratio) -> Pressure:
    """Specific cutting force [N/mm2] of a chip `h` [mm] thick, from `kc1` [N/mm2] at 1 mm and the exponent `mc`.

    Source: Kienzle formula, as in mechanical trade handbooks.

    >>> round(specific_force(2220.0, 0.2988584, 0.14), 2)
    2628.98
    """
    return kc1 * (h / h0) ** -mc  # type: ignore[no-any-return]  # a broken power may be complex to a checker


@formula(source=_KIENZLE, means="cutting force", result="F_c", symbols={"kc": "k_c"})
def cutting_force(kc: Pressure, b: Length, h: Length) -> Force:
    """Cutting force [N] of a chip `b` [mm] wide and `h` [mm] thick at `kc` [N/mm2]. Source: Kienzle formula.

    >>> round(cutting_force(2628.98, 3.0114595, 0.2988584), 1)
    2366.1
    """
    return kc * b * h


@formula(source="correction as stated beside its factor", means="cutting force, corrected", result="F_c")
def corrected_force(K: Ratio, F: Force) -> Force:
    """Cutting force [N] of the tables, `F` [N], corrected by the factor `K`. Source: the factor's own.

    >>> corrected_force(1.3, 1000.0)
    1300.0
    """
    return K * F


@formula(source="definition of power", means="power at the spindle", result="P", symbols={"F": "F_c"})
def cutting_power(F: Force, v: SurfaceSpeed) -> Power:
    """Power [N mm/min] of force `F` [N] at surface speed `v` [mm/min], at the spindle. Source: definition.

    >>> round(cutting_power(2366.08, 200_000.0) / 60e6, 3)
    7.887
    """
    return F * v


@formula(source="definition of torque", means="torque at the spindle", result="M", symbols={"F": "F_c"})
def cutting_torque(F: Force, D: Diameter) -> Torque:
    """Torque [N mm] of force `F` [N] at diameter `D` [mm]. Source: definition.

    >>> cutting_torque(500.0, 12.25)
    3062.5
    """
    return F * D / 2


@formula(source="volume of the chip in unit time", means="removal rate", result="Q")
def removal_rate(v: SurfaceSpeed, f: Feed, a: Length) -> RemovalRate:
    """Removal rate [mm3/min] at surface speed `v` [mm/min], feed `f` [mm/rev], depth `a` [mm]. Source: definition.

    >>> removal_rate(200_000.0, 0.25, 2.0)
    100000.0
    """
    return v * f * a


@dataclass(frozen=True, slots=True)
class Chip:
    """The chip of one cut: thickness (the mean one on a round edge) and width [mm]."""

    thickness: float
    width: float


@dataclass(frozen=True, slots=True)
class CutForce:
    """The force [N] of a cut by the values that are used, and the least and the most by all published ones."""

    specific: float
    force: float
    low: float
    high: float


def chip_of(depth: float, feed: float, edge: Edge) -> Chip:
    """The chip at `depth` [mm] and `feed` [mm/rev]. Raises OutOfRange for values that cannot be.

    Source: geometry; the mean thickness over the edge in cut.

    >>> from math import radians
    >>> chip = chip_of(3.0, 0.3, Edge(0.0, radians(95.0)))
    >>> round(chip.thickness, 7), round(chip.width, 7)
    (0.2988584, 3.0114595)
    """
    require_positive(feed=feed)
    cut = engagement(depth, edge)
    if edge.nose_radius == 0.0:
        return Chip(straight_chip(feed, edge.entering_angle), cut.width)
    return Chip(mean_chip(feed, depth, cut.width), cut.width)


def share_of_highest(work: Material, thickness: float) -> Ratio:
    """How many times the force that is used the highest published one is, for a chip of this `thickness` [mm].

    Source: Kienzle formula with the material's published values.

    >>> from calc.cutting.materials import material
    >>> [round(share_of_highest(material("C15"), h), 2) for h in (0.02, 0.2, 1.0)]
    [1.38, 1.15, 1.01]
    """
    kc = [specific_force.function(one.kc11, thickness, one.mc) for one in work.forces]
    return max(kc) / kc[0]


def force_of(chip: Chip, work: Material, factor: float = 1.0) -> CutForce:
    """The cutting force of a chip in a material. Source: Kienzle formula with the material's published values.

    `factor` corrects it for what the tables do not hold for: rake, speed, wear, operation.

    >>> from calc.cutting.materials import material
    >>> found = force_of(Chip(0.2988584, 3.0114595), material("C45"))
    >>> round(found.force), round(found.low), round(found.high)
    (2366, 1761, 2366)
    """
    used = work.forces[0]
    kc = specific_force(used.kc11, chip.thickness, used.mc)
    published = [specific_force.function(one.kc11, chip.thickness, one.mc) for one in work.forces]
    low, high = (factor * bound(published) * chip.width * chip.thickness for bound in (min, max))
    force = cutting_force(kc, chip.width, chip.thickness)
    return CutForce(kc, force if factor == 1.0 else corrected_force(factor, force), low, high)
