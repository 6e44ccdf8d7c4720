"""Pipe threads: parallel (ISO 228-1), and taper with their gauge plane (ISO 7-1, ASME B1.20.1)."""

from __future__ import annotations

import re
from dataclasses import dataclass
from math import radians

from calc.language.limited import Limited
from calc.language.quantities import Diameter, Length, Ratio
from calc.language.working import formula
from calc.threads.designation import INCH, Designation
from calc.threads.sizes import HALF_60, Basic, Sizes, inside_limits, outside_limits, unknown_class
from calc.threads.tables import table

HALF_55 = radians(27.5)
TAPER = 1 / 16  # on diameter per length
ISO_228 = "ISO 228-1, ISO 7-1"
NPT = "ASME B1.20.1"
_UM = 1000.0
TRUNCATION = 0.033  # of the pitch, at crest and root of NPT, least


@formula(source=ISO_228, means="depth of the thread", result="h")
def depth_55(P: Length) -> Length:
    """Depth per side [mm] of a 55 degree thread of pitch `P` [mm]. Source: ISO 228-1.

    >>> round(depth_55(25.4 / 14), 3)
    1.162
    """
    return 0.640327 * P


@formula(source=ISO_228, means="radius at crest and root", result="r")
def radius_55(P: Length) -> Length:
    """Radius [mm] at crest and root of a 55 degree thread of pitch `P` [mm]. Source: ISO 228-1.

    >>> round(radius_55(25.4 / 14), 3)
    0.249
    """
    return 0.137329 * P


@formula(source="profile of the thread", means="pitch diameter", result="d_2")
def pitch_below(d: Diameter, h: Length) -> Diameter:
    """Pitch diameter [mm] of a thread `d` that is `h` deep [mm], symmetric about it. Source: ISO 228-1.

    >>> round(pitch_below(20.955, 1.162), 3)
    19.793
    """
    return d - h


@formula(source="profile of the thread", means="minor diameter", result="d_1")
def minor_below(d: Diameter, h: Length) -> Diameter:
    """Minor diameter [mm] of a thread `d` that is `h` deep [mm]. Source: ISO 228-1.

    >>> round(minor_below(20.955, 1.162), 3)
    18.631
    """
    return d - 2 * h


@formula(source=NPT, means="pitch diameter at the small end", result="E_0")
def npt_end(D: Diameter, P: Length) -> Diameter:
    """Pitch diameter [mm] at the end of an NPT thread on a pipe of `D` with pitch `P` [mm]: D - (0.05 D + 1.1 in) P.

    Source: ASME B1.20.1; the formula counts in inches, so the pitch stands for P / 1 in.

    >>> round(npt_end(0.84 * 25.4, 25.4 / 14) / 25.4, 5)
    0.75843
    """
    return D - (0.05 * D + 1.1 * ONE_INCH) * P / ONE_INCH


@formula(source="taper 1 in 16 on diameter", means="pitch diameter at the gauge plane", result="E_1")
def at_gauge_plane(E_0: Diameter, C: Ratio, L_1: Length) -> Diameter:
    """Pitch diameter [mm] at `L_1` [mm] from the end, where it is `E_0` [mm], of a thread with taper `C`. Source: cone.

    >>> round(at_gauge_plane(0.75843, 1 / 16, 0.32), 5)
    0.77843
    """
    return E_0 + C * L_1


@formula(source="taper 1 in 16 on diameter", means="pitch diameter at the small end", result="d_0")
def at_end(d_2: Diameter, C: Ratio, l_1: Length) -> Diameter:
    """Pitch diameter [mm] at the end, `l_1` [mm] before the gauge plane, where it is `d_2` [mm], with taper `C`.

    Source: cone.

    >>> at_end(19.793, 1 / 16, 8.0)
    19.293
    """
    return d_2 - C * l_1


@formula(source=NPT, means="depth of the thread, 0.8 P", result="h")
def npt_depth(P: Length) -> Length:
    """Depth per side [mm] of an NPT thread of pitch `P` [mm], truncated. Source: ASME B1.20.1.

    >>> round(npt_depth(1 / 27), 5)
    0.02963
    """
    return 0.8 * P


ONE_INCH: Length = INCH


@dataclass(frozen=True, slots=True)
class GaugePlane:
    """A taper thread along its axis [mm]: pitch diameter at its end, gauge length, tolerance in turns, full length.

    `pipe` is the outside diameter of the pipe that its standard cuts it on, None where that names none.
    """

    end_pitch: float
    length: Limited
    turns: float
    useful: float
    taper: float = TAPER
    pipe: float | None = None


def parallel_sizes(found: Designation, *, outside: bool) -> Sizes:
    """The sizes [mm] of a parallel pipe thread, G or Rp. Raises OutOfRange for another class than A or B.

    >>> from calc.threads.designation import read_designation
    >>> sizes = parallel_sizes(read_designation("G 1/2 A"), outside=True)
    >>> sizes.pitch.upper, sizes.pitch.lower, sizes.major.lower
    (19.793, 19.651, 20.671)
    """
    for one in found.classes:
        if not re.fullmatch(r"[AB]", one) or not outside:
            raise unknown_class(one, "ISO 228-1 has A and B for the outside thread and one class inside.")
    written = found.classes[0] if found.classes else ("A" if outside else "")
    _, d, on_pitch, on_minor, on_major = table("pipe")["parallel"][found.size]
    factor = 2.0 if written == "B" else 1.0
    basic = _basic_55(d, found.pitch)
    if outside:
        pitch = outside_limits(basic.pitch, 0.0, factor * on_pitch / _UM, "pitch diameter")
        major = outside_limits(d, 0.0, on_major / _UM, "major diameter")
    elif found.series == "Rp":
        turns = table("pipe")["taper"][found.size][3]
        half = round(turns * found.pitch * TAPER, 3)
        pitch = inside_limits(basic.pitch, -half, 2.0 * half, "pitch diameter")
    else:
        pitch = inside_limits(basic.pitch, 0.0, on_pitch / _UM, "pitch diameter")
    minor = basic.minor if outside else inside_limits(basic.minor, 0.0, on_minor / _UM, "minor diameter")
    if found.series == "Rp":
        minor = basic.minor
    source = "ISO 7-1, from memory" if found.series == "Rp" else "ISO 228-1"
    assumed = outside and not found.classes
    return _round_profile(found, outside, written, assumed, basic, (major if outside else d, pitch, minor), source)


def _basic_55(d: float, P: float) -> Basic:
    deep = round(depth_55(P), 3)  # as the standard's table is made
    return Basic(d, pitch_below(d, deep), minor_below(d, deep))


def _round_profile(
    found: Designation,
    outside: bool,
    written: str,
    assumed: bool,
    basic: Basic,
    diameters: tuple[float | Limited, float | Limited, float | Limited],
    source: str,
) -> Sizes:
    radius = radius_55(found.pitch)
    return Sizes(
        outside=outside,
        tolerance=written,
        assumed=assumed,
        basic=basic,
        major=diameters[0],
        pitch=diameters[1],
        minor=diameters[2],
        depth=depth_55.function(found.pitch),
        alpha=HALF_55,
        pitch_length=found.pitch,
        crest=0.0,
        root=None,
        root_radius=radius,
        source=source,
    )


def taper_sizes(found: Designation, *, outside: bool) -> tuple[Sizes, GaugePlane]:
    """The sizes [mm] of a taper pipe thread at its gauge plane, and that plane.

    Raises OutOfRange where a class is written: these threads have none.

    >>> from calc.threads.designation import read_designation
    >>> sizes, plane = taper_sizes(read_designation("NPT 1/2"), outside=True)
    >>> round(sizes.pitch / 25.4, 5), round(plane.end_pitch / 25.4, 5), round(plane.length.lower / 25.4, 3)
    (0.77843, 0.75843, 0.249)
    """
    if found.classes:
        raise unknown_class(found.classes[0], "Taper pipe threads have no classes: the gauge plane limits them.")
    return _npt(found, outside) if found.family == "NPT" else _iso_7(found, outside)


def _iso_7(found: Designation, outside: bool) -> tuple[Sizes, GaugePlane]:
    basic = _basic_55(found.diameter, found.pitch)
    gauge, turns, useful, turns_inside = table("pipe")["taper"][found.size]
    slack = (turns if outside else turns_inside) * found.pitch
    plane = GaugePlane(
        at_end(basic.pitch, TAPER, gauge) if outside else basic.pitch,
        Limited.between(gauge - slack, gauge + slack) if outside else Limited.between(-slack, slack),
        turns if outside else turns_inside,
        useful,
    )
    return _round_profile(found, outside, "", False, basic, (*basic,), "ISO 7-1, from memory"), plane


def _npt(found: Designation, outside: bool) -> tuple[Sizes, GaugePlane]:
    _, _, hand_tight, effective, _ = table("pipe")["npt"][found.size]
    P = found.pitch
    end = npt_end(found.diameter, P)
    pitch = at_gauge_plane(end, TAPER, hand_tight * INCH)
    deep = npt_depth(P)
    basic = Basic(pitch + deep, pitch, pitch - deep)
    sizes = Sizes(
        outside=outside,
        tolerance="",
        assumed=False,
        basic=basic,
        major=basic.major,
        pitch=pitch,
        minor=basic.minor,
        depth=deep,
        alpha=HALF_60,
        pitch_length=P,
        crest=2 * TRUNCATION * P / 3**0.5,
        root=2 * TRUNCATION * P / 3**0.5,
        source=NPT,
    )
    length = hand_tight * INCH if outside else 0.0
    allowed = Limited.between(length - P, length + P)
    plane = GaugePlane(end if outside else pitch, allowed, 1.0, effective * INCH, pipe=found.diameter)
    return sizes, plane
