"""Units as people type them: every spelling, what it measures, and its exact size.

A spelling may mean different things in different fields (`'` is a foot in a length and a minute in an angle), so units
are kept by dimension. Sizes are in the internal units of `calc.language.quantities`: mm, min, N, rad, kg.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from calc.language.factor import DEGREE, FOOT, HORSEPOWER, INCH, KILOWATT, ONE, POUND, POUND_FORCE, Factor
from calc.language.kinds import INERTIA
from calc.language.quantities import Kind, UnitSystem


@dataclass(frozen=True, slots=True)
class TypedUnit:
    """A unit that may stand behind a number: its usual spelling, its exact size, the system that it belongs to."""

    name: str
    size: Factor
    system: UnitSystem = "mm"


Group = dict[str, TypedUnit]


def _times(size: Factor, by: int | str) -> Factor:
    return size * Factor(Fraction(by))


def _metric(spellings: str, size: Factor) -> Group:
    return _spelt(spellings, size, "mm")


def _inch(spellings: str, size: Factor) -> Group:
    return _spelt(spellings, size, "inch")


def _spelt(spellings: str, size: Factor, system: UnitSystem) -> Group:
    names = spellings.split("|")
    unit = TypedUnit(names[0], size, system)
    return dict.fromkeys(names, unit)


def _product(first: str, second: str) -> str:
    """All spellings of a product of two units, in either order."""
    joints = ("", " ", ".", "·", "*", "-")
    return "|".join(f"{a}{joint}{b}" for a, b in ((first, second), (second, first)) for joint in joints)


MILLIMETRE = ONE
METRE = _times(ONE, 1000)
MICROMETRE = _times(ONE, "1/1000")
MICROINCH = _times(INCH, "1/1000000")
THOU = _times(INCH, "1/1000")
MINUTE = ONE
SECOND = _times(MINUTE, "1/60")
KILOGRAM = ONE
GRAM = _times(KILOGRAM, "1/1000")
OUNCE = _times(POUND, "1/16")
CUBIC_CENTIMETRE = _times(ONE, 1000)
NEWTON = ONE
KILOGRAM_FORCE = _times(NEWTON, "980665/100000")
WATT = _times(KILOWATT, "1/1000")
METRIC_HORSEPOWER = _times(WATT, "73549875/100000")  # 75 kgf m/s, exact by definition

LENGTHS = (
    _metric("mm|millimetre|millimeter|millimetres|millimeters", MILLIMETRE)
    | _metric("cm", _times(MILLIMETRE, 10))
    | _metric("m", METRE)
    | _metric("um|micron|microns", MICROMETRE)
    | _inch('in|inch|inches|in.|"|zoll|pulgada|pulgadas|pulg', INCH)
    | _inch("ft|foot|feet|ft.|'", FOOT)
    | _inch("thou", THOU)
    | _inch("uin|uin.|microinch|microinches", MICROINCH)
)
FEEDS = (
    _metric("mm/rev|mm/r|mm/u|mm/v|mm/vuelta", MILLIMETRE)
    | _metric("um/rev", MICROMETRE)
    | _inch("in/rev|in/r|ipr|inch/rev", INCH)
    | _inch("thou/rev", THOU)
)
TIMES = (
    _metric("h|hr|hour|hours", _times(MINUTE, 60))
    | _metric("min|m|mins|minute|minutes", MINUTE)
    | _metric("s|sec|second|seconds|secs", SECOND)
)
ANGLES = (
    _metric("°|deg|degree|degrees|grad|grado|grados|d", DEGREE)
    | _metric("'|arcmin|min|m", _times(DEGREE, "1/60"))
    | _metric('"|arcsec|sec|s', _times(DEGREE, "1/3600"))
    | _metric("rad|radian|radians", ONE)
)
AREAS = (
    _metric("mm2|mm^2|sq mm", MILLIMETRE)
    | _metric("cm2|cm^2|sq cm", _times(MILLIMETRE, 100))
    | _inch("in2|in^2|sq in", INCH**2)
)
VOLUMES = (
    _metric("mm3|mm^3|cu mm", MILLIMETRE)
    | _metric("cm3|cm^3|cc|ml", CUBIC_CENTIMETRE)
    | _metric("dm3|dm^3|l", _times(CUBIC_CENTIMETRE, 1000))
    | _inch("in3|in^3|cu in", INCH**3)
)
MASSES = (
    _metric("kg", KILOGRAM)
    | _metric("g", GRAM)
    | _metric("t", _times(KILOGRAM, 1000))
    | _inch("lb|lbs|lbm|pound|pounds", POUND)
    | _inch("oz", OUNCE)
)
DENSITIES = (
    _metric("g/cm3|g/cm^3|g/cc|kg/dm3|kg/dm^3|kg/l|t/m3|t/m^3", GRAM / CUBIC_CENTIMETRE)
    | _metric("kg/m3|kg/m^3", KILOGRAM / METRE**3)
    | _inch("lb/in3|lb/in^3|lb/cu in", POUND / INCH**3)
    | _inch("lb/ft3|lb/ft^3|lb/cu ft", POUND / FOOT**3)
)
SURFACE_SPEEDS = (
    _metric("m/min", METRE)
    | _metric("m/s|m/sec", METRE / SECOND)
    | _metric("mm/min", MILLIMETRE)
    | _inch("in/min|ipm", INCH)
    | _inch("ft/min|sfm|sfpm|fpm|sf/min", FOOT)
    | _inch("ft/s|ft/sec", FOOT / SECOND)
)
SPINDLE_SPEEDS = _metric("1/min|/min|rpm|r/min|rev/min|u/min|upm|min-1|min^-1", ONE) | _metric(
    "1/s|/s|rps|rev/s|s-1|s^-1", ONE / SECOND
)
FORCES = (
    _metric("n", NEWTON)
    | _metric("dan", _times(NEWTON, 10))
    | _metric("kn", _times(NEWTON, 1000))
    | _metric("kgf|kp", KILOGRAM_FORCE)
    | _inch("lbf|lb|lbs", POUND_FORCE)
    | _inch("klbf|kip", _times(POUND_FORCE, 1000))
)
TORQUES = (
    _metric(_product("n", "m"), NEWTON * METRE)
    | _metric(_product("n", "mm"), NEWTON * MILLIMETRE)
    | _inch(_product("lbf", "ft") + "|" + _product("lb", "ft"), POUND_FORCE * FOOT)
    | _inch(_product("lbf", "in") + "|" + _product("lb", "in"), POUND_FORCE * INCH)
)
MASS_MOMENTS = (  # a mass that is accelerated, times its arm
    _metric(_product("kg", "m"), INERTIA * METRE)
    | _metric(_product("kg", "mm"), INERTIA * MILLIMETRE)
    | _inch(_product("lb", "ft"), INERTIA * POUND * FOOT)
    | _inch(_product("lb", "in"), INERTIA * POUND * INCH)
)
POWERS = (
    _metric("kw", KILOWATT) | _metric("w", WATT) | _metric("ps", METRIC_HORSEPOWER) | _inch("hp|h.p.|bhp", HORSEPOWER)
)
PRESSURES = (
    _metric("n/mm2|n/mm^2|mpa", NEWTON)
    | _metric("gpa", _times(NEWTON, 1000))
    | _metric("bar", _times(NEWTON, "1/10"))
    | _inch("lbf/in2|lbf/in^2|psi", POUND_FORCE / INCH**2)
    | _inch("ksi", _times(POUND_FORCE / INCH**2, 1000))
)
REMOVAL_RATES = (
    _metric("cm3/min|cm^3/min|cc/min", CUBIC_CENTIMETRE)
    | _metric("mm3/min|mm^3/min", MILLIMETRE)
    | _inch("in3/min|in^3/min|cu in/min", INCH**3)
)
RATIOS = (
    _metric("%", Factor(Fraction(1, 100)))
    | _metric("‰|mm/m", Factor(Fraction(1, 1000)))
    | _metric("mm/mm", ONE)
    | _inch("in/in", ONE)
    | _inch("in/ft", INCH / FOOT)
)

TEMPERATURES = _metric("°c|degc|deg c|c|celsius|°", ONE) | _inch("°f|degf|deg f|f|fahrenheit", Factor(Fraction(5, 9)))
FAHRENHEIT = TEMPERATURES["°f"]
EXPANSIONS = _metric("um/m/k|um/(m k)|um/(m*k)|um/(m·k)|um/mk|ppm/k", Factor(Fraction(1, 1_000_000)))
STIFFNESSES = (
    _metric("n/um|kn/mm", NEWTON / MICROMETRE)
    | _metric("n/mm", NEWTON)
    | _inch("lbf/thou|lb/thou", POUND_FORCE / THOU)
    | _inch("lbf/in|lb/in", POUND_FORCE / INCH)
)
COST_RATES = _metric("/h|1/h|an hour|per hour", ONE / _times(MINUTE, 60))

# The order settles what a spelling with several meanings is called where it does not belong.
UNITS: dict[str, Group] = {
    "length": LENGTHS, "feed": FEEDS, "time": TIMES, "angle": ANGLES, "area": AREAS, "volume": VOLUMES, "mass": MASSES,
    "density": DENSITIES, "surface speed": SURFACE_SPEEDS, "spindle speed": SPINDLE_SPEEDS, "force": FORCES,
    "torque": TORQUES, "power": POWERS, "pressure": PRESSURES, "removal rate": REMOVAL_RATES, "ratio": RATIOS,
    "mass moment": MASS_MOMENTS, "temperature": TEMPERATURES, "expansion": EXPANSIONS, "stiffness": STIFFNESSES,
    "cost rate": COST_RATES,
}  # fmt: skip

# Units that are said one after the other, as in 7°30'15" or 1'6"; these signs continue an unfinished one.
CHAINS: dict[str, tuple[str, ...]] = {"length": ("'", '"'), "angle": ("°", "'", '"'), "time": ("h", "min", "s")}

_TYPED_FOR: dict[str, tuple[str, ...]] = {
    "feed": ("feed", "length"),
    "roughness": ("length",),
    "count": (),
    "cost": (),
    "cost rate": ("cost rate",),
}


def accepted(kind: Kind) -> tuple[str, ...]:
    """The dimensions whose units may be typed for `kind`.

    >>> from calc.language.quantities import FEED, RADIUS
    >>> accepted(RADIUS), accepted(FEED)
    (('length',), ('feed', 'length'))
    """
    return _TYPED_FOR.get(kind.name, (kind.dimension,))


def unit_named(spelling: str, kind: Kind) -> TypedUnit | None:
    """The unit that `spelling` means in a field of `kind`, None if it does not belong there.

    >>> from calc.language.quantities import ANGLE, LENGTH
    >>> unit_named("'", LENGTH).name, unit_named("'", ANGLE).size == DEGREE * Factor(Fraction(1, 60))
    ('ft', True)
    """
    name = folded(spelling)
    return next((UNITS[group][name] for group in accepted(kind) if name in UNITS[group]), None)


def dimension_of(spelling: str) -> str:
    """What the unit measures, said of it in a field where it does not belong.

    >>> dimension_of("rpm"), dimension_of("mm")
    ('spindle speed', 'length')
    """
    name = folded(spelling)
    return next(dimension for dimension, group in UNITS.items() if name in group)


def from_zero(number: Fraction, unit: TypedUnit | None) -> Fraction:
    """A number counted from the zero of the internal unit: one in °F from 0 °C. Source: definition, exact.

    >>> from_zero(Fraction(68), FAHRENHEIT), from_zero(Fraction(68), None)
    (Fraction(36, 1), Fraction(68, 1))
    """
    return number - 32 if unit is FAHRENHEIT else number


def unit_below(unit: TypedUnit, kind: Kind) -> str | None:
    """The sign of the unit that follows `unit` in a chain, None where no chain goes on.

    >>> from calc.language.quantities import ANGLE
    >>> unit_below(ANGLES["deg"], ANGLE)
    "'"
    """
    signs = CHAINS.get(kind.dimension, ())
    following = (after for sign, after in pairwise(signs) if UNITS[kind.dimension][sign] == unit)
    return next(following, None)


_FOLDED = str.maketrans("µμ²³¹⁻", "uu231-")


def folded(text: str) -> str:
    """`text` as the spellings are kept, character for character: small letters, no raised figures, u for µ.

    >>> folded("N/mm²"), folded("µIN")
    ('n/mm2', 'uin')
    """
    return "".join(c.lower() if len(c.lower()) == 1 else c for c in text.translate(_FOLDED))


def _by_length() -> dict[str, tuple[str, ...]]:
    names = sorted({name for group in UNITS.values() for name in group}, key=len, reverse=True)
    return {first: tuple(name for name in names if name[0] == first) for first in {name[0] for name in names}}


_SPELLINGS = _by_length()


def spelling_at(text: str, start: int) -> int:
    """How many characters of the folded `text` from `start` are a unit: the longest that no letter follows, or 0.

    >>> spelling_at("kg/dm3", 0), spelling_at("inches", 0), spelling_at("inn", 0)
    (6, 6, 0)
    """
    names = _SPELLINGS.get(text[start : start + 1], ())
    return next((len(name) for name in names if text.startswith(name, start) and _ends(name, text, start)), 0)


def _ends(name: str, text: str, start: int) -> bool:
    following = text[start + len(name) : start + len(name) + 1]
    return not (name[-1].isalnum() and following.isalpha())
