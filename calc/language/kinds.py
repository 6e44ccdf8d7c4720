"""Kinds of quantity that belong to stiffness, grip, cost and measuring alone.

Force is held in newtons and time in minutes, so a mass that is accelerated is held in N min2/mm and its density to
match: then the formulas are coherent, and the factor of a revolution per minute appears by itself where one is shown.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated

from calc.language.factor import DEGREE, FOOT, INCH, ONE, POUND, POUND_FORCE, THOUSAND, Factor
from calc.language.quantities import Kind
from calc.language.unit import Unit

INERTIA = Factor(Fraction(1, 3_600_000))  # N min2/mm in a kilogram: 1 N is 1 kg m/s2
_CUBIC_DECIMETRE = Factor(Fraction(1_000_000))


def _both(unit: Unit) -> tuple[Unit, Unit]:
    return unit, unit


INERT_MASS = Kind("mass", "mass", Unit("kg", "kg", INERTIA, figures=3), Unit("lb", "lb", POUND * INERTIA, figures=3))
INERT_DENSITY = Kind(
    "density",
    "density",
    Unit("kg/dm3", "kg/dm³", INERTIA / _CUBIC_DECIMETRE, 2),
    Unit("lb/in3", "lb/in³", POUND * INERTIA / INCH**3, 3),
)
MASS_MOMENT = Kind(
    "mass moment",
    "mass moment",
    Unit("kg.m", "kg m", INERTIA * THOUSAND, 3),
    Unit("lb.ft", "lb ft", POUND * INERTIA * FOOT, 3),
)
SECOND_MOMENT = Kind(
    "second moment of area",
    "second moment",
    Unit("mm4", "mm⁴", ONE, figures=5, larger=Unit("cm4", "cm⁴", Factor(Fraction(10_000)), figures=5)),
    Unit("in4", "in⁴", INCH**4, figures=5),
)
_MICROMETRE = Unit("um", "µm", ONE / THOUSAND, figures=1, estimate=True, finest=1)
_MICROINCH = Unit("uin", "µin", INCH / THOUSAND / THOUSAND, figures=1, estimate=True, finest=0)
DEFLECTION = Kind(
    "deflection",
    "length",
    Unit("mm", "mm", ONE, figures=1, estimate=True, finest=4, smaller=_MICROMETRE, least=1e-3),
    Unit("in", "in", INCH, figures=1, leading_zero=False, estimate=True, finest=6, smaller=_MICROINCH, least=1e-4),
    sign="about ",
)
"""What a beam or a model says of microns: the forces in it are known to a quarter, so it is worth one figure."""
ESTIMATED_LENGTH = Kind(
    "estimated length",
    "length",
    Unit("mm", "mm", ONE, figures=3),
    Unit("in", "in", INCH, figures=3, leading_zero=False),
)
"""A length that follows from a model or a guide: worth three figures."""
MARGIN = Kind("margin", "angle", *_both(Unit("deg", "°", DEGREE, 1)))
"""How many degrees an edge has to spare: holders are not made truer than a tenth."""
STIFFNESS = Kind(
    "stiffness",
    "stiffness",
    Unit("N/um", "N/µm", THOUSAND, figures=3),
    Unit("lbf/thou", "lbf/thou", POUND_FORCE / INCH * THOUSAND, figures=3),
)
FREQUENCY = Kind("frequency", "frequency", *_both(Unit("Hz", "Hz", Factor(Fraction(60)), figures=3)))
ENERGY = Kind(
    "energy",
    "energy",
    Unit("kJ", "kJ", Factor(Fraction(1_000_000)), figures=3),
    Unit("ft.lbf", "ft lbf", FOOT * POUND_FORCE, figures=3),
)
COST = Kind("cost", "cost", *_both(Unit("1", "", ONE, 2)))
COST_RATE = Kind("cost rate", "cost", *_both(Unit("1/h", "an hour", Factor(Fraction(1, 60)), 2)))
ACCELERATION = Kind(
    "spindle acceleration",
    "spindle acceleration",
    *_both(Unit("1/min/s", "1/min each second", Factor(Fraction(60)), 0)),
)
SECONDS = Kind("time in seconds", "time", *_both(Unit("s", "s", Factor(Fraction(1, 60)), 2)))

GRAVITY = Kind(
    "gravity", "gravity", Unit("N/kg", "N/kg", ONE, figures=5), Unit("lbf/lb", "lbf/lb", POUND_FORCE / POUND, figures=5)
)
FINE_RATIO = Kind("fine ratio", "ratio", *_both(Unit("1", "", ONE, 5)))
TEMPERATURE = Kind("temperature", "temperature", *_both(Unit("degC", "°C", ONE, 1)))
EXPANSION = Kind("expansion", "expansion", *_both(Unit("um/m/K", "µm/(m K)", Factor(Fraction(1, 1_000_000)), 1)))

InertMass = Annotated[float, INERT_MASS]
InertDensity = Annotated[float, INERT_DENSITY]
MassMoment = Annotated[float, MASS_MOMENT]
SecondMoment = Annotated[float, SECOND_MOMENT]
Deflection = Annotated[float, DEFLECTION]
Stiffness = Annotated[float, STIFFNESS]
Frequency = Annotated[float, FREQUENCY]
Energy = Annotated[float, ENERGY]
Cost = Annotated[float, COST]
CostRate = Annotated[float, COST_RATE]
Acceleration = Annotated[float, ACCELERATION]
Gravity = Annotated[float, GRAVITY]
Temperature = Annotated[float, TEMPERATURE]
Expansion = Annotated[float, EXPANSION]
