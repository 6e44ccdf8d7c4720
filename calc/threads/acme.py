"""General-purpose Acme threads after ASME B1.5."""

from __future__ import annotations

from math import radians, sqrt

from calc.language.limited import Limited
from calc.threads.designation import INCH, Designation
from calc.threads.sizes import Basic, Sizes, chosen_class, require_classes
from calc.threads.trapezoidal import depth, flats, major_inside, minor_inside, minor_outside, pitch_diameter
from calc.threads.unified import rounded

ALPHA = radians(14.5)
ALLOWANCE = {"2G": 0.008, "3G": 0.006, "4G": 0.004}  # times the root of the diameter [in]
TOLERANCE = {"2G": (0.030, 0.006), "3G": (0.014, 0.0028), "4G": (0.010, 0.002)}  # of sqrt(P) and sqrt(D) [in]
COARSE = 10.0  # threads per inch up to which the crests clear by 0.020 in on diameter, above by half of it


def acme_sizes(found: Designation, *, outside: bool) -> Sizes:
    """The sizes [mm] of an Acme thread. Raises OutOfRange for a class that is none.

    Source: ASME B1.5, formulas of general-purpose threads.

    >>> from calc.threads.designation import read_designation
    >>> sizes = acme_sizes(read_designation("ACME 1-5"), outside=True)
    >>> round(sizes.pitch.upper / 25.4, 4), round(sizes.pitch.value / 25.4, 4), sizes.tolerance
    (0.892, 0.9, '2G')
    """
    require_classes(found, "[234]G", "General-purpose Acme threads have 2G, 3G and 4G.")
    written, assumed = chosen_class(found, outside, "2G", "G")
    d, P = found.diameter, found.pitch
    clearance = (0.010 if found.per_inch <= COARSE else 0.005) * INCH
    deep = depth(P, clearance)
    basic = Basic(d, pitch_diameter(d, P), minor_inside(d, P))
    on_pitch = _pitch_tolerance(found, written)
    crest_tolerance = max(0.05 * P, 0.005 * INCH)
    if outside:
        most = rounded(basic.pitch - ALLOWANCE[written] * sqrt(d / INCH) * INCH)
        major, pitch, minor = _outside(basic, most, on_pitch, crest_tolerance, minor_outside(d, deep))
    else:
        major, pitch, minor = _inside(basic, on_pitch, crest_tolerance, clearance)
    crest, root = flats(P, clearance, ALPHA)
    return Sizes(
        outside=outside,
        tolerance=written,
        assumed=assumed,
        basic=basic,
        major=major,
        pitch=pitch,
        minor=minor,
        depth=deep,
        alpha=ALPHA,
        pitch_length=P,
        crest=crest,
        root=root,
        source="ASME B1.5, by its formulas",
    )


_Three = tuple[Limited, Limited, Limited]


def _outside(basic: Basic, most: float, on_pitch: float, on_crest: float, core: float) -> _Three:
    """Major, pitch and minor diameter of the screw [mm], whose pitch diameter is `most` at most."""
    pitch = Limited.between(rounded(most - on_pitch), most, basic.pitch)
    major = Limited.between(rounded(basic.major - on_crest), rounded(basic.major), basic.major)
    minor = Limited.between(rounded(core - 1.5 * on_pitch), rounded(core), core)
    return major, pitch, minor


def _inside(basic: Basic, on_pitch: float, on_crest: float, clearance: float) -> _Three:
    """Major, pitch and minor diameter of the nut [mm]."""
    pitch = Limited.between(rounded(basic.pitch), rounded(basic.pitch + on_pitch), basic.pitch)
    minor = Limited.between(rounded(basic.minor), rounded(basic.minor + on_crest), basic.minor)
    least = major_inside(basic.major, clearance)
    return Limited.between(rounded(least), rounded(least + 2 * clearance), least), pitch, minor


def _pitch_tolerance(found: Designation, written: str) -> float:
    """Tolerance of the pitch diameter [mm]."""
    of_pitch, of_diameter = TOLERANCE[written]
    return (of_pitch * sqrt(1.0 / found.per_inch) + of_diameter * sqrt(found.diameter / INCH)) * INCH
