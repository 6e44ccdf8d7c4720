"""Trapezoidal threads: ISO 2901 profile, ISO 2904 sizes, ISO 2903 limits."""

from __future__ import annotations

from math import radians, sqrt, tan

from calc.language.limited import Limited
from calc.language.quantities import Diameter, Length
from calc.language.working import formula
from calc.threads.designation import Designation
from calc.threads.metric import FACTORS, basic_tolerance
from calc.threads.sizes import Basic, Sizes, chosen_class, inside_limits, outside_limits, require_classes, unknown_class
from calc.threads.tables import by_number, preferred, span, table

ALPHA = radians(15.0)
ISO_2901 = "ISO 2901, ISO 2904"
GRADES = (7, 8, 9)
INSIDE_FACTORS = {7: 1.7, 8: 2.12, 9: 2.65}
STARTS = {1: 1.0, 2: 1.12, 3: 1.25, 4: 1.4}  # widen the pitch-diameter tolerance; five starts and more: 1.6
MANY_STARTS = 1.6
_UM = 1000.0


@formula(source=ISO_2901, means="pitch diameter", result="d_2")
def pitch_diameter(d: Diameter, P: Length) -> Diameter:
    """Pitch diameter [mm] of a trapezoidal or Acme thread `d` with pitch `P` [mm]. Source: ISO 2904, ASME B1.5.

    >>> pitch_diameter(40.0, 7.0)
    36.5
    """
    return d - P / 2


@formula(source=ISO_2901, means="minor diameter of the inside thread", result="D_1")
def minor_inside(d: Diameter, P: Length) -> Diameter:
    """Minor diameter [mm] of the inside thread `d` with pitch `P` [mm]. Source: ISO 2904, ASME B1.5.

    >>> minor_inside(40.0, 7.0)
    33.0
    """
    return d - P


@formula(source=ISO_2901, means="depth of the thread with its crest clearance", result="h_3")
def depth(P: Length, a_c: Length) -> Length:
    """Depth per side [mm] of both threads of pitch `P` with crest clearance `a_c` [mm]. Source: ISO 2904, ASME B1.5.

    >>> depth(7.0, 0.5)
    4.0
    """
    return P / 2 + a_c


@formula(source=ISO_2901, means="minor diameter of the outside thread", result="d_3")
def minor_outside(d: Diameter, h_3: Length) -> Diameter:
    """Minor diameter [mm] of the outside thread `d` that is `h_3` deep [mm]. Source: ISO 2904.

    >>> minor_outside(40.0, 4.0)
    32.0
    """
    return d - 2 * h_3


@formula(source=ISO_2901, means="major diameter of the inside thread", result="D_4")
def major_inside(d: Diameter, a_c: Length) -> Diameter:
    """Major diameter [mm] of the inside thread for `d` with crest clearance `a_c` [mm]. Source: ISO 2904.

    >>> major_inside(40.0, 0.5)
    41.0
    """
    return d + 2 * a_c


@formula(source="ISO 2903, from memory", means="tolerance of the outside thread's minor diameter", result="T_d3")
def root_tolerance(T_d2: Length, es: Length) -> Length:
    """Tolerance [mm] of d3 from that of the pitch diameter `T_d2` and its deviation `es` [mm]. Source: ISO 2903.

    >>> round(root_tolerance(0.355, 0.125), 3)
    0.569
    """
    return 1.25 * T_d2 + es


def trapezoidal_sizes(found: Designation, *, outside: bool) -> Sizes:
    """The sizes [mm] of a trapezoidal thread. Raises OutOfRange for a class that ISO 2903 does not have.

    >>> from calc.threads.designation import read_designation
    >>> sizes = trapezoidal_sizes(read_designation("Tr 40x7-7e"), outside=True)
    >>> sizes.pitch.upper, sizes.pitch.lower, sizes.minor.value
    (36.375, 36.02, 32.0)
    """
    letters = "ceh" if outside else "H"
    require_classes(found, "[789][cehH]", "ISO 2903 has grades 7, 8 and 9 with c, e, h outside and H inside.")
    written, assumed = chosen_class(found, outside, "7e" if outside else "7H", letters)
    d, P = found.diameter, found.pitch
    tolerance = pitch_tolerance(found, int(written[0]), outside=outside)
    clearance = crest_clearance(P)
    deep = depth(P, clearance)
    basic = Basic(d, pitch_diameter(d, P), minor_inside(d, P))
    if outside:
        es = deviation(written[1], P, written)
        major, pitch, minor = _outside(basic, P, es, tolerance, minor_outside(d, deep))
    else:
        major, pitch, minor = _inside(basic, P, tolerance, major_inside(d, clearance))
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
        source="ISO 2903, from memory",
    )


def flats(P: float, clearance: float, alpha: float) -> tuple[float, float]:
    """Widths [mm] of the flats at crest and root of a thread of pitch `P` whose crests clear by `clearance` [mm].

    `alpha` is the angle of its flanks [rad]. Source: geometry of the profile.

    >>> [round(flat, 3) for flat in flats(7.0, 0.5, ALPHA)]
    [2.562, 2.294]
    """
    crest = P / 2 - P / 2 * tan(alpha)
    return crest, crest - 2 * clearance * tan(alpha)


_Three = tuple[Limited | float, Limited, Limited]


def _outside(basic: Basic, P: float, es: float, tolerance: float, core: float) -> _Three:
    """Major, pitch and minor diameter of the screw [mm]."""
    return (
        outside_limits(basic.major, 0.0, crest_tolerance(P, outside=True), "major diameter"),
        outside_limits(basic.pitch, es, tolerance, "pitch diameter"),
        outside_limits(core, 0.0, root_tolerance(tolerance, es), "minor diameter"),
    )


def _inside(basic: Basic, P: float, tolerance: float, major: float) -> _Three:
    """Major, pitch and minor diameter of the nut [mm]; the major diameter has a least size only."""
    pitch = inside_limits(basic.pitch, 0.0, tolerance, "pitch diameter")
    minor = inside_limits(basic.minor, 0.0, crest_tolerance(P, outside=False), "minor diameter")
    return major, pitch, minor


def crest_clearance(P: float) -> float:
    """Crest clearance ac [mm] for a pitch `P` [mm]. Source: ISO 2904.

    >>> crest_clearance(1.5), crest_clearance(4.0), crest_clearance(7.0)
    (0.15, 0.25, 0.5)
    """
    rows = table("power")["trapezoidal"]["clearance"]
    return float(next((ac for up_to, ac in rows.items() if float(up_to) >= P), 1.0))


def deviation(position: str, P: float, written: str = "") -> float:
    """Distance [mm] of the pitch diameter's upper limit below basic, in a `position` c, e or h, for a pitch `P` [mm].

    Raises OutOfRange, naming the class as `written`, for a pitch that the table does not have.

    >>> deviation("e", 7.0), deviation("h", 7.0)
    (0.125, 0.0)
    """
    if position == "h":
        return 0.0
    listed = by_number(table("power")["trapezoidal"]["deviations"][position], P)
    if listed is not None:
        return float(listed) / _UM
    if position == "e":
        return preferred(50.0 + 11.0 * P) / _UM
    raise unknown_class(written, "Position c is tabulated for the standard pitches from 1.5 to 12 mm.")


def pitch_tolerance(found: Designation, grade: int, *, outside: bool) -> float:
    """Tolerance [mm] of the pitch diameter in a `grade`, widened for more than one start.

    Raises OutOfRange outside the standard's diameters. Source: ISO 2903; by its formula without a row.

    >>> from calc.threads.designation import read_designation
    >>> pitch_tolerance(read_designation("Tr 40x14 P7"), 7, outside=True)
    0.398
    """
    wide = span(table("metric")["range"], found.diameter)
    if wide is None:
        raise unknown_class(str(grade), "ISO 2903 has tolerances from Ø5.6 to Ø355 mm.")
    row = span(table("power")["trapezoidal"]["range"], found.diameter)
    listed = by_number(row["outside"], found.pitch) if row and outside else None
    if listed is None:
        factor = FACTORS[grade] if outside else INSIDE_FACTORS[grade]
        single = preferred(factor * basic_tolerance(wide, found.pitch))
    else:
        single = listed[GRADES.index(grade)]
    return round(STARTS.get(found.starts, MANY_STARTS) * single) / _UM


def crest_tolerance(P: float, *, outside: bool) -> float:
    """Tolerance [mm] of the crest in grade 4 for a pitch `P` [mm]: Td outside, TD1 inside. Source: ISO 2903.

    >>> crest_tolerance(7.0, outside=True), crest_tolerance(7.0, outside=False)
    (0.425, 0.56)
    """
    listed = by_number(table("power")["trapezoidal"]["crests"]["outside" if outside else "inside"], P)
    if listed is not None:
        return float(listed) / _UM
    sixth = 180.0 * P ** (2 / 3) - 3.15 / sqrt(P) if outside else 230.0 * P**0.7
    return preferred(FACTORS[4] * sixth) / _UM
