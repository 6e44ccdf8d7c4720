"""Knurls: their forms by the standard, the blank to turn, teeth that close round the work."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from math import cos, floor, pi
from pathlib import Path
from typing import Any

from calc.language.quantities import Angle, Count, Diameter, Length, Ratio
from calc.language.tables import read_table
from calc.language.working import formula

TABLE = Path(__file__).parent / "data" / "knurls.toml"
DIN_82 = "DIN 82:1973, initial diameter of the work"


@dataclass(frozen=True, slots=True)
class Form:
    """A form of knurl: its code of DIN 82, growth on diameter in pitches, angle of the teeth in degrees."""

    title: str
    code: str
    grows: float
    angle: float
    source: str


@cache
def _table() -> dict[str, Any]:
    return read_table(TABLE)


@cache
def forms() -> dict[str, Form]:
    """The forms by their name in a link; read on first use.

    >>> forms()["diamond"].code, forms()["straight"].grows
    ('RGE', 0.5)
    """
    return {name: Form(**row) for name, row in _table()["form"].items()}


@cache
def pitches() -> tuple[float, ...]:
    """The pitches of rolls that can be had (mm), rising.

    >>> pitches()[:3]
    (0.5, 0.6, 0.8)
    """
    return tuple(_table()["pitches"])


@formula(means="blank by the standard", source=DIN_82, result="d_2")
def blank_for(d_1: Diameter, k: Ratio, t: Length) -> Diameter:
    """Diameter to turn (mm) for finished crests of d_1 that grow by k pitches t (mm).

    Source: DIN 82:1973.

    >>> round(blank_for(42.0, 0.67, 1.0), 2)
    41.33
    """
    return d_1 - k * t


@formula(means="pitch around the work", source="teeth at an angle to the axis are wider apart around it", result="t_u")
def pitch_around(t: Length, beta: Angle) -> Length:
    """Pitch measured around the work (mm) of teeth that are t apart square to themselves, at beta (rad) to the axis.

    Source: helical teeth, transverse and normal pitch.

    >>> pitch_around(1.0, 0.0)
    1.0
    """
    return t / cos(beta)


@formula(means="teeth round the work", source="circumference of the blank by the pitch, to the nearest", result="z")
def teeth_on(d_2: Diameter, t_u: Length) -> Count:
    """Whole number of teeth nearest to the circumference of a blank d_2 with a pitch t_u around it (mm).

    Source: definition.

    >>> teeth_on(41.33, 1.0)
    130
    """
    return floor(pi * d_2 / t_u + 1 / 2)


@formula(means="blank that closes", source="a whole number of pitches round the work", result="d_z")
def blank_of_teeth(z: Count, t_u: Length) -> Diameter:
    """Diameter (mm) of the blank round which z teeth of pitch t_u (mm) close.

    Source: circumference of a circle.

    >>> round(blank_of_teeth(130, 1.0), 4)
    41.3803
    """
    return z * t_u / pi


@formula(means="over the finished crests", source=DIN_82, result="d_1z")
def finished_over(d_z: Diameter, k: Ratio, t: Length) -> Diameter:
    """Diameter over the finished crests (mm) on a blank d_z that grows by k pitches t (mm).

    Source: DIN 82:1973.

    >>> round(finished_over(41.3803, 0.67, 1.0), 4)
    42.0503
    """
    return d_z + k * t
