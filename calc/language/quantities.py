"""Kinds of quantity, their inch and metric units, and how they are shown.

Values are held in mm, min, N, rad and kg. A *kind* says what a number is (a length, a surface speed, an X coordinate);
a *view* says how its reader wants it (inch or mm, X as diameter or radius, +Z out of or into the part). A kind and a
view together give a unit, whose size is an exact number: a fraction times a power of pi, so that nothing is lost in a
round trip and the trade's constants (12, 1000, 25.4) appear by themselves where a formula is shown.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from typing import Annotated, Literal

from calc.language.factor import DEGREE, FOOT, HORSEPOWER, INCH, KILOWATT, ONE, POUND, POUND_FORCE, THOUSAND, Factor
from calc.language.translating import Language, has_comma, translated
from calc.language.unit import Unit

UnitSystem = Literal["mm", "inch"]
XMeans = Literal["diameter", "radius"]
ZPlus = Literal["out", "in"]


@dataclass(frozen=True, slots=True)
class View:
    """How a reader wants an answer: units, what X means, where +Z points, and the language of its words.

    >>> View("inch").units
    'inch'
    """

    units: UnitSystem = "mm"
    x: XMeans = "diameter"
    zplus: ZPlus = "out"
    language: Language = "en"


METRIC = View()


@dataclass(frozen=True, slots=True, eq=False)  # one object is one kind: cheap to look up
class Kind:
    """What a number is, with its metric and its inch unit.

    `dimension` names the group of units that may be typed for it (reading.py). `role` marks coordinates, whose unit
    also depends on what X means and where +Z points. `sign` is the mark a print puts before the value; `fits` says that
    a tolerance class may stand behind it.
    """

    name: str
    dimension: str
    metric: Unit
    inch: Unit
    role: Literal["plain", "x", "z"] = "plain"
    sign: str = ""
    fits: bool = False

    def unit(self, view: View = METRIC) -> Unit:
        """The unit of this kind for a reader with `view`.

        >>> float(X.unit(View(x="diameter")).size), float(Z.unit(View(zplus="in")).size)
        (0.5, -1.0)
        """
        if self.role == "plain" and view.language == "en":
            return self.metric if view.units == "mm" else self.inch
        return _unit_for(self, view)

    def shown(self, value: float, view: View = METRIC) -> float:
        """The internal `value` as the reader's number.

        >>> X.shown(30.0), SURFACE_SPEED.shown(220_000.0)
        (60.0, 220.0)
        """
        return self.unit(view).shown(value)

    def internal(self, shown: float, view: View = METRIC) -> float:
        """The internal value of the reader's number.

        >>> LENGTH.internal(1.0, View("inch"))
        25.4
        """
        return self.unit(view).internal(shown)

    def text(self, value: float, view: View = METRIC) -> str:
        """The reader's number as digits, without the unit.

        >>> LENGTH.text(56.204982, METRIC), LENGTH.text(0.5 * 25.4, View("inch"))
        ('56.205', '.5000')
        """
        return self.unit(view).text(value)

    def say(self, value: float, view: View = METRIC, *, brief: bool = False) -> str:
        """The value as it stands in a sentence: print's sign, digits, the unit that it is written in; `brief` without
        zeros at the end.

        >>> from math import pi
        >>> DIAMETER.say(56.204982), SPINDLE_SPEED.say(1245.9), RATIO.say(0.1), ANGLE.say(pi / 24)
        ('Ø56.205 mm', '1246 1/min', '0.100', '7.500°')
        >>> FORCE.say(5_920_000.0)
        '5920 kN'
        >>> DIAMETER.say(60.0, brief=True)
        'Ø60 mm'
        """
        unit = self.unit(view).written(value)
        digits = unit.text(value)
        if brief and ("," if has_comma(view.language) else ".") in digits:
            digits = digits.rstrip("0").rstrip(".,") or "0"
        space = "" if unit.label in ("", "°") else " "
        return f"{translated(self.sign, view.language)}{digits}{space}{unit.label}"


def degrees_minutes_seconds(angle: float) -> str:
    """An angle (rad) in degrees, minutes and whole seconds, as some prints write it.

    >>> from math import radians
    >>> degrees_minutes_seconds(radians(7.5)), degrees_minutes_seconds(radians(-59.99999))
    ('7°30′00″', '-60°00′00″')
    """
    seconds = round(abs(DEGREE.over(angle)) * 3600)
    sign = "-" if angle < 0 and seconds else ""
    return f"{sign}{seconds // 3600}°{seconds // 60 % 60:02d}′{seconds % 60:02d}″"


@cache
def _unit_for(kind: Kind, view: View) -> Unit:
    """The unit of a coordinate, which depends on what X means and where +Z points, or one of another language."""
    unit = kind.metric if view.units == "mm" else kind.inch
    if view.language != "en":
        unit = replace(unit, label=translated(unit.label, view.language), language=view.language)
    if kind.role == "x" and view.x == "diameter":
        return _resized(unit, Factor(Fraction(1, 2)))
    if kind.role == "z" and view.zplus == "in":
        return _resized(unit, Factor(Fraction(-1)))
    return unit


def _resized(unit: Unit, by: Factor) -> Unit:
    return replace(unit, size=unit.size * by)


def _mm(decimals: int = 3) -> Unit:
    return Unit("mm", "mm", ONE, decimals)


def _in(decimals: int = 4) -> Unit:
    return Unit("in", "in", INCH, decimals, leading_zero=False)


def _same(unit: Unit) -> tuple[Unit, Unit]:
    return unit, unit


LENGTH = Kind("length", "length", _mm(), _in(), fits=True)
DIAMETER = Kind("diameter", "length", _mm(), _in(), sign="Ø", fits=True)
RADIUS = Kind("radius", "length", _mm(), _in(), sign="R")
X = Kind("x", "length", _mm(), _in(), role="x", sign="X", fits=True)
Z = Kind("z", "length", _mm(), _in(), role="z", sign="Z", fits=True)
FEED = Kind("feed", "length", Unit("mm", "mm/rev", ONE, 3), Unit("in", "in/rev", INCH, 4, leading_zero=False))
ROUGHNESS = Kind(
    "roughness",
    "roughness",
    Unit("um", "µm", Factor(Fraction(1, 1000)), 2),
    Unit("uin", "µin", INCH * Factor(Fraction(1, 1_000_000)), figures=3),
)
ANGLE = Kind("angle", "angle", *_same(Unit("deg", "°", DEGREE, 3)))
AREA = Kind("area", "area", Unit("mm2", "mm²", ONE, 2), Unit("in2", "in²", INCH**2, 4, leading_zero=False))
VOLUME = Kind(
    "volume",
    "volume",
    Unit("mm3", "mm³", ONE, figures=4, larger=Unit("cm3", "cm³", THOUSAND, figures=4)),
    Unit("in3", "in³", INCH**3, figures=4),
)
MASS = Kind("mass", "mass", Unit("kg", "kg", ONE, figures=3), Unit("lb", "lb", POUND, figures=3))
DENSITY = Kind(
    "density",
    "density",
    Unit("kg/dm3", "kg/dm³", Factor(Fraction(1, 1_000_000)), 2),
    Unit("lb/in3", "lb/in³", POUND / INCH**3, 3),
)
SURFACE_SPEED = Kind(
    "surface speed",
    "surface speed",
    Unit("m/min", "m/min", THOUSAND, 0),
    Unit("ft/min", "ft/min", FOOT, 0),
)
SPINDLE_SPEED = Kind("spindle speed", "spindle speed", *_same(Unit("1/min", "1/min", ONE, 0)))
TIME = Kind("time", "time", *_same(Unit("min", "min", ONE, 3)))
FORCE = Kind(
    "force",
    "force",
    Unit("N", "N", ONE, figures=3, larger=Unit("kN", "kN", THOUSAND, figures=3)),
    Unit("lbf", "lbf", POUND_FORCE, figures=3, larger=Unit("klbf", "klbf", POUND_FORCE * THOUSAND, figures=3)),
)
TORQUE = Kind(
    "torque",
    "torque",
    Unit("Nm", "Nm", THOUSAND, figures=3),
    Unit("lbf.ft", "lbf ft", POUND_FORCE * FOOT, figures=3),
)
POWER = Kind("power", "power", Unit("kW", "kW", KILOWATT, figures=3), Unit("hp", "hp", HORSEPOWER, figures=3))
PRESSURE = Kind(
    "specific force",
    "pressure",
    Unit("N/mm2", "N/mm²", ONE, figures=3),
    Unit(
        "lbf/in2",
        "lbf/in²",
        POUND_FORCE / INCH**2,
        figures=3,
        larger=Unit("ksi", "ksi", POUND_FORCE / INCH**2 * THOUSAND, figures=3),
    ),
)
REMOVAL_RATE = Kind(
    "removal rate",
    "removal rate",
    Unit("cm3/min", "cm³/min", THOUSAND, figures=3),
    Unit("in3/min", "in³/min", INCH**3, figures=3),
)
RATIO = Kind("ratio", "ratio", *_same(Unit("1", "", ONE, 3)))
COUNT = Kind("count", "count", *_same(Unit("1", "", ONE, 0)))

KINDS = (
    LENGTH, DIAMETER, RADIUS, X, Z, FEED, ROUGHNESS, ANGLE, AREA, VOLUME, MASS, DENSITY, SURFACE_SPEED, SPINDLE_SPEED,
    TIME, FORCE, TORQUE, POWER, PRESSURE, REMOVAL_RATE, RATIO, COUNT,
)  # fmt: skip

# Annotations for formulas and declarations: a type checker sees a float, the pages see the kind.
Length = Annotated[float, LENGTH]
Diameter = Annotated[float, DIAMETER]
Radius = Annotated[float, RADIUS]
XCoordinate = Annotated[float, X]
ZCoordinate = Annotated[float, Z]
Feed = Annotated[float, FEED]
Roughness = Annotated[float, ROUGHNESS]
Angle = Annotated[float, ANGLE]
Area = Annotated[float, AREA]
Volume = Annotated[float, VOLUME]
Mass = Annotated[float, MASS]
Density = Annotated[float, DENSITY]
SurfaceSpeed = Annotated[float, SURFACE_SPEED]
SpindleSpeed = Annotated[float, SPINDLE_SPEED]
Time = Annotated[float, TIME]
Force = Annotated[float, FORCE]
Torque = Annotated[float, TORQUE]
Power = Annotated[float, POWER]
Pressure = Annotated[float, PRESSURE]
RemovalRate = Annotated[float, REMOVAL_RATE]
Ratio = Annotated[float, RATIO]
Count = Annotated[float, COUNT]
