"""Limits of unified inch threads by the formulas and the rounding of ASME B1.1."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal
from typing import NamedTuple

from calc.language.limited import Limited
from calc.threads import profile
from calc.threads.designation import INCH, Designation
from calc.threads.sizes import HALF_60, Basic, Sizes, chosen_class, require_classes

CLASSES_OUTSIDE = {"1A": 1.5, "2A": 1.0, "3A": 0.75}  # times the pitch-diameter tolerance of 2A
CLASSES_INSIDE = {"1B": 1.95, "2B": 1.3, "3B": 0.975}
BY_DIAMETER = ("UNC", "UNF")
COARSE_SERIES = (4.0, 6.0, 8.0)  # threads per inch of the constant-pitch series engaged over one diameter
NUMBERED_IN_FOUR = 0.138  # in: below it the minor diameter of the nut is rounded to four decimals, from it on to three
_DIGITS = 6  # decimals of an inch to which allowance and tolerances are rounded before they are used
_SOURCE = "ASME B1.1, by its formulas"


class Tolerances(NamedTuple):
    """What the formulas give for a thread [in]: allowance, and the tolerances of the three diameters."""

    allowance: float
    pitch: float
    major: float
    minor: float


def unified_sizes(found: Designation, *, outside: bool) -> Sizes:
    """The sizes [mm] of a unified thread. Raises OutOfRange for a class that is none.

    >>> from calc.threads.designation import read_designation
    >>> sizes = unified_sizes(read_designation("1/2-13 UNC-2A"), outside=True)
    >>> round(sizes.pitch.upper / 25.4, 4), round(sizes.pitch.lower / 25.4, 4)
    (0.4485, 0.4435)
    """
    known = CLASSES_OUTSIDE if outside else CLASSES_INSIDE
    require_classes(found, "[123][AB]", "Classes are 1A, 2A and 3A outside, 1B, 2B and 3B inside.")
    written, assumed = chosen_class(found, outside, "2A" if outside else "2B", "A" if outside else "B")
    P, d = found.pitch, found.diameter
    basic = Basic(d, profile.pitch_diameter(d, P), profile.minor_diameter(d, P))
    tolerances = tolerances_of(found, written)
    major, pitch, minor = (_outside if outside else _inside)(basic, tolerances, P)
    return Sizes(
        outside=outside,
        tolerance=written,
        assumed=assumed,
        basic=basic,
        major=major,
        pitch=pitch,
        minor=minor,
        depth=profile.depth_outside(P) if outside else profile.depth_inside(P),
        alpha=HALF_60,
        pitch_length=P,
        crest=P / 8 if outside else P / 4,
        root=None if outside else P / 8,
        root_radius=profile.root_radius(P) if outside else None,
        source=_source_of(found) if known else _SOURCE,
    )


def tolerances_of(found: Designation, written: str) -> Tolerances:
    """Allowance and tolerances [in] of a thread in the class `written`. Source: ASME B1.1.

    >>> from calc.threads.designation import read_designation
    >>> [round(value, 6) for value in tolerances_of(read_designation("1/2-13 UNC"), "2A")[:3]]
    [0.001489, 0.004964, 0.010852]
    """
    D, P = found.diameter / INCH, 1.0 / found.per_inch
    engaged = D if _over_diameter(found) else 9.0 * P
    second = 0.0015 * (D ** (1 / 3) + engaged**0.5 + 10.0 * P ** (2 / 3))
    factor = CLASSES_OUTSIDE[written] if written in CLASSES_OUTSIDE else CLASSES_INSIDE[written]
    allowance = 0.3 * second if written in ("1A", "2A") else 0.0
    major = (0.09 if written == "1A" else 0.06) * P ** (2 / 3)
    minor = _minor_tolerance(D, P, tight=written == "3B")
    return Tolerances(*(round(inches, _DIGITS) for inches in (allowance, factor * second, major, minor)))


def _source_of(found: Designation) -> str:
    if _over_diameter(found):
        return "ASME B1.1, by its formulas, length of engagement D"
    return "ASME B1.1, by its formulas, length of engagement 9P"


def _over_diameter(found: Designation) -> bool:
    """Whether the tolerance is for an engagement of one diameter; else of nine pitches."""
    return found.series in BY_DIAMETER or (found.series == "UN" and found.per_inch in COARSE_SERIES)


def _minor_tolerance(D: float, P: float, *, tight: bool) -> float:
    """Tolerance [in] of the inside thread's minor diameter."""
    small: float = min(0.05 * float(P ** (2 / 3)) + 0.03 * P / D - 0.002, 0.394 * P)
    if tight:
        return max(small, 0.23 * P - 1.5 * P**2 if P < 1 / 12.5 else 0.12 * P)
    if D < 0.25:
        return max(small, 0.25 * P - 0.4 * P**2)
    return 0.25 * P - 0.4 * P**2 if P <= 0.25 else 0.15 * P


def _outside(basic: Basic, tolerances: Tolerances, P: float) -> tuple[Limited, Limited, Limited]:
    allowance = tolerances.allowance * INCH
    found = []
    for what, size, tolerance in (
        ("major diameter", basic.major, tolerances.major),
        ("pitch diameter", basic.pitch, tolerances.pitch),
    ):
        upper = rounded(profile.upper_limit.at(what)(rounded(size), allowance))
        found.append(Limited.between(rounded(profile.lower_limit.at(what)(upper, tolerance * INCH)), upper, size))
    major, pitch = found
    height = profile.sharp_height(P, HALF_60)
    largest = rounded(profile.minor_diameter.function(major.upper, P))
    least = rounded(profile.flat_root.at("smallest")(pitch.lower, height))
    return major, pitch, Limited.between(least, largest, profile.root_diameter(basic.major, P))


def _inside(basic: Basic, tolerances: Tolerances, P: float) -> tuple[Limited, Limited, Limited]:
    least = rounded(basic.pitch)
    pitch = Limited.between(
        least, rounded(profile.upper_limit_inside.at("pitch diameter")(least, tolerances.pitch * INCH)), basic.pitch
    )
    decimals = 4 if basic.major / INCH < NUMBERED_IN_FOUR - 1e-9 else 3
    largest = profile.upper_limit_inside.at("minor diameter")(basic.minor, tolerances.minor * INCH)
    minor = Limited.between(rounded(basic.minor, decimals), rounded(largest, decimals), basic.minor)
    height = profile.sharp_height(P, HALF_60)
    major = Limited.between(
        rounded(basic.major), rounded(profile.largest_major_inside(pitch.upper, height)), basic.major
    )
    return major, pitch, minor


def rounded(millimetres: float, decimals: int = 4) -> float:
    """A size in `millimetres` as the inch tables print it, to `decimals` of an inch, halves up.

    >>> rounded(0.91005 * 25.4) / 25.4
    0.9101
    """
    inches = Decimal(repr(round(millimetres / INCH, 9)))
    return float(inches.quantize(Decimal(1).scaleb(-decimals), ROUND_HALF_UP)) * INCH
