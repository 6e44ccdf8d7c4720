"""What two inputs compared are asked with: a cut, a second value for the two that run, limits, the bar."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import radians
from typing import Any, NamedTuple

import numpy as np

from calc.cutting.chip import LARGEST_ENTERING_ANGLE
from calc.cutting.compare import SHOWN
from calc.cutting.stiffness import BARS
from calc.language.fields import choice, given, part, word
from calc.language.kinds import DEFLECTION
from calc.language.quantities import (
    ANGLE,
    COUNT,
    DIAMETER,
    FEED,
    LENGTH,
    POWER,
    RADIUS,
    RATIO,
    ROUGHNESS,
    SPINDLE_SPEED,
    SURFACE_SPEED,
    Kind,
)


class Compared(NamedTuple):
    """An input that may be compared: its kind and what its axis is called."""

    kind: Kind
    words: str


COMPARED: Mapping[str, Compared] = {
    "surface_speed": Compared(SURFACE_SPEED, "Surface speed"),
    "feed": Compared(FEED, "Feed"),
    "depth": Compared(LENGTH, "Depth of cut"),
    "nose_radius": Compared(LENGTH, "Nose radius"),
    "entering_angle": Compared(ANGLE, "Entering angle"),
    "diameter": Compared(DIAMETER, "Diameter"),
}


def _speed(label: str, symbol: str = "") -> Any:
    return given(SURFACE_SPEED, label, symbol, above=0.0, least=1000.0)


def _feed(label: str, symbol: str = "") -> Any:
    return given(FEED, label, symbol, above=0.0, least=0.001)


def _depth(label: str, symbol: str = "") -> Any:
    return given(LENGTH, label, symbol, above=0.0, least=0.001)


def _nose(label: str, symbol: str = "", hint: str = "") -> Any:
    return given(RADIUS, label, symbol, least=0.0, most=1000.0, hint=hint)


def _entering(label: str, symbol: str = "", hint: str = "") -> Any:
    return given(ANGLE, label, symbol, above=0.0, least=radians(5.0), most=LARGEST_ENTERING_ANGLE, hint=hint)


def _diameter(label: str, symbol: str = "", hint: str = "") -> Any:
    return given(DIAMETER, label, symbol, above=0.0, least=0.001, hint=hint)


@dataclass(frozen=True, kw_only=True)
class LimitInputs:
    """What must be kept; a blank one is no limit."""

    power_limit: float | None = given(POWER, "Power at the spindle up to", above=0.0)
    ra_limit: float | None = given(ROUGHNESS, "Ra up to", above=0.0, hint="by the rule; feed at most half the nose")
    chip_least: float | None = given(LENGTH, "Chip at least", above=0.0, hint="mean thickness")
    chip_most: float | None = given(LENGTH, "Chip at most", above=0.0, hint="where it is thickest")
    deflection_limit: float | None = given(DEFLECTION, "Bar gives way up to", above=0.0)


@dataclass(frozen=True, kw_only=True)
class BarOfCut:
    """The bar that holds the edge."""

    bar_diameter: float | None = given(DIAMETER, "Bar diameter", "d", above=0.0, least=0.1)
    stick_out: float | None = given(LENGTH, "Stick-out", "L", above=0.0, least=0.1)
    bar_material: str = choice("Bar", {code: bar.words for code, bar in BARS.items()}, "steel")
    passive_share: float | None = given(
        RATIO,
        "Passive share of the cutting force",
        "s_p",
        above=0.0,
        most=2.0,
        hint="more for a large nose",
        blank="0.4",
    )


@dataclass(frozen=True, kw_only=True)
class RestInputs:
    """What the time needs, and how fine the field is."""

    length: float | None = given(LENGTH, "Length of cut", "l", above=0.0, hint="for the time")
    max_rpm: float | None = given(SPINDLE_SPEED, "Spindle limit", "n_max", above=0.0, least=1.0)
    steps: float | None = given(COUNT, "Points along each side", least=5.0, most=200.0, blank="61")


@dataclass(frozen=True, kw_only=True)
class CompareInputs:
    """A cut; the two inputs that have a second value run from the first to the second."""

    material: str | None = word("Material", hint="any of its names: C45, 1.0503, 1045")
    shown: str = choice("Shown", {code: one.label for code, one in SHOWN.items()}, "power")
    surface_speed: float | None = _speed("Surface speed", "v")
    surface_speed_to: float | None = _speed("Surface speed, up to")
    feed: float | None = _feed("Feed", "f")
    feed_to: float | None = _feed("Feed, up to")
    depth: float | None = _depth("Depth of cut", "a")
    depth_to: float | None = _depth("Depth of cut, up to")
    nose_radius: float | None = _nose("Nose radius", "r")
    nose_radius_to: float | None = _nose("Nose radius, up to")
    entering_angle: float | None = _entering("Entering angle", "κ", "blank for a round insert")
    entering_angle_to: float | None = _entering("Entering angle, up to")
    diameter: float | None = _diameter("Diameter", "D", "for the time")
    diameter_to: float | None = _diameter("Diameter, up to")
    limits: LimitInputs = part(LimitInputs, "Limits")
    bar: BarOfCut = part(BarOfCut, "Bar")
    rest: RestInputs = part(RestInputs, "Time and field")


@dataclass(frozen=True)
class Swept:
    """The two inputs that run, each with its values."""

    across: str
    up: str
    acrosses: np.ndarray[Any, np.dtype[np.float64]]
    ups: np.ndarray[Any, np.dtype[np.float64]]

    @property
    def shape(self) -> tuple[int, int]:
        """Rows and columns of the field."""
        return len(self.ups), len(self.acrosses)

    def value(self, name: str, single: float | None) -> Any:
        """What the cut has for an input: the values across, those up (as a column), or its single value."""
        if name == self.across:
            return self.acrosses
        return self.ups[:, np.newaxis] if name == self.up else single

    def at(self, name: str, single: float | None, place: tuple[int, int]) -> float | None:
        """The input's value at one place of the field (row, column)."""
        if name == self.across:
            return float(self.acrosses[place[1]])
        return float(self.ups[place[0]]) if name == self.up else single
