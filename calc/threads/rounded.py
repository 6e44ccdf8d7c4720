"""Round threads after DIN 405: the profile; limits are not held here."""

from __future__ import annotations

from math import radians

from calc.language.messages import Message
from calc.language.quantities import Diameter, Length
from calc.language.working import formula
from calc.threads.designation import Designation
from calc.threads.sizes import Basic, Sizes, unknown_class

ALPHA = radians(15.0)
DIN_405 = "DIN 405, from memory"
_NO_LIMITS = (
    "No limits are given for round threads: those of DIN 405-2 are not held here. Take them from the standard or from "
    "the mating part."
)


@formula(source=DIN_405, means="pitch diameter", result="d_2")
def pitch_diameter(d: Diameter, P: Length) -> Diameter:
    """Pitch diameter [mm] of a round thread `d` with pitch `P` [mm]. Source: DIN 405.

    >>> round(pitch_diameter(40.0, 25.4 / 6), 3)
    37.883
    """
    return d - P / 2


@formula(source=DIN_405, means="minor diameter of the outside thread", result="d_3")
def minor_outside(d: Diameter, P: Length) -> Diameter:
    """Minor diameter [mm] of the outside round thread `d` with pitch `P` [mm]. Source: DIN 405.

    >>> round(minor_outside(40.0, 25.4 / 6), 3)
    35.767
    """
    return d - P


@formula(source=DIN_405, means="minor diameter of the inside thread", result="D_1")
def minor_inside(d: Diameter, P: Length) -> Diameter:
    """Minor diameter [mm] of the inside round thread for `d` with pitch `P` [mm]. Source: DIN 405.

    >>> round(minor_inside(40.0, 25.4 / 6), 3)
    36.19
    """
    return d - 0.9 * P


@formula(source=DIN_405, means="major diameter of the inside thread", result="D_4")
def major_inside(d: Diameter, P: Length) -> Diameter:
    """Major diameter [mm] of the inside round thread for `d` with pitch `P` [mm]. Source: DIN 405.

    >>> round(major_inside(40.0, 25.4 / 6), 3)
    40.423
    """
    return d + 0.1 * P


@formula(source=DIN_405, means="radius at the root", result="R")
def radius_at_root(k: Length, P: Length) -> Length:
    """Radius [mm] at the root, a share `k` of the pitch `P` [mm]: 0.23851 outside, 0.22105 inside. Source: DIN 405.

    >>> round(radius_at_root(0.23851, 25.4 / 6), 3)
    1.01
    """
    return k * P


def round_sizes(found: Designation, *, outside: bool) -> Sizes:
    """The sizes [mm] of a round thread; without limits. Raises OutOfRange where a class is written.

    >>> from calc.threads.designation import read_designation
    >>> round(round_sizes(read_designation("Rd 40x1/6"), outside=True).minor, 3)
    35.767
    """
    if found.classes:
        raise unknown_class(found.classes[0], "Limits of round threads are not held here.")
    d, P = found.diameter, found.pitch
    pitch = pitch_diameter(d, P)
    return Sizes(
        outside=outside,
        tolerance="",
        assumed=False,
        basic=Basic(d, pitch, minor_inside(d, P)),
        major=d if outside else major_inside(d, P),
        pitch=pitch,
        minor=minor_outside(d, P) if outside else minor_inside.function(d, P),
        depth=P / 2,
        alpha=ALPHA,
        pitch_length=P,
        crest=0.0,
        root=None,
        root_radius=radius_at_root(0.23851 if outside else 0.22105, P),
        source=DIN_405,
        notes=(Message(_NO_LIMITS),),
    )
