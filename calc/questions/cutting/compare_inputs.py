"""What two inputs compared are asked with: a cut, a second value for the two that run, limits, the bar."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, NamedTuple, TypeVar

import numpy as np

from calc.cutting import nouns
from calc.cutting.compare import SHOWN, ShownName
from calc.cutting.stiffness import BarOf
from calc.language.fields import Declared, choice, given, part
from calc.language.messages import Phrase
from calc.language.quantities import (
    ANGLE,
    COUNT,
    DIAMETER,
    FEED,
    LENGTH,
    POWER,
    RATIO,
    ROUGHNESS,
    SURFACE_SPEED,
    Kind,
)
from calc.language.terms import Term


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


Single = TypeVar("Single", float, float | None)


def _up_to(term: Term, label: str) -> Any:
    """A second value for a term: the input runs up to it."""
    return Term(dataclasses.replace(term.spec, label=Phrase("{label}, up to", label=label), symbol="", hint="")).given()


class LimitInputs(Declared):
    """What must be kept; a blank one is no limit."""

    power_limit: float | None = given(POWER, "Power at the spindle up to", above=0.0)
    ra_limit: float | None = given(ROUGHNESS, "Ra up to", above=0.0, hint="by the rule; feed at most half the nose")
    chip_least: float | None = given(LENGTH, "Chip at least", above=0.0, hint="mean thickness")
    chip_most: float | None = given(LENGTH, "Chip at most", above=0.0, hint="where it is thickest")
    deflection_limit: float | None = given(LENGTH, "Bar deflection up to", above=0.0)


class BarOfCut(Declared):
    """The bar that holds the edge."""

    tool_bar_diameter: float | None = nouns.TOOL_BAR_DIAMETER.given()
    stick_out: float | None = nouns.STICK_OUT.given()
    tool_bar_material: BarOf = nouns.TOOL_BAR_MATERIAL.chosen()
    passive_share: float | None = given(
        RATIO,
        "Passive share of the cutting force",
        "s_p",
        above=0.0,
        most=2.0,
        blank="as the edge stands in the cut",
    )


class RestInputs(Declared):
    """What the time needs, and how fine the field is."""

    cut_length: float | None = nouns.CUT_LENGTH.given(symbol="l", hint="for the time")
    max_rpm: float | None = nouns.MAX_RPM.given()
    chuck_limit: float | None = nouns.CHUCK_LIMIT.given()
    steps: float | None = given(COUNT, "Points along each side", least=5.0, most=200.0, blank="61")


class CompareInputs(Declared):
    """A cut; the two inputs that have a second value run from the first to the second."""

    material: str = nouns.MATERIAL.needed(hint="any of its names: C45, 1.0503, 1045")
    shown: ShownName = choice("Shown", {code: one.label for code, one in SHOWN.items()}, "power")
    surface_speed: float = nouns.SURFACE_SPEED.needed()
    surface_speed_to: float | None = _up_to(nouns.SURFACE_SPEED, "Surface speed")
    feed: float = nouns.FEED_RATE.needed()
    feed_to: float | None = _up_to(nouns.FEED_RATE, "Feed")
    depth: float = nouns.DEPTH_OF_CUT.needed()
    depth_to: float | None = _up_to(nouns.DEPTH_OF_CUT, "Depth of cut")
    nose_radius: float = nouns.NOSE_OR_SHARP.given(default=0.0)
    nose_radius_to: float | None = _up_to(nouns.NOSE_OR_SHARP, "Nose radius")
    entering_angle: float | None = nouns.ENTERING_ANGLE.given(hint="blank for a round insert")
    entering_angle_to: float | None = _up_to(nouns.ENTERING_ANGLE, "Entering angle")
    diameter: float | None = nouns.DIAMETER_OF_CUT.given(hint="for the time")
    diameter_to: float | None = _up_to(nouns.DIAMETER_OF_CUT, "Diameter")
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

    def at(self, name: str, single: Single, place: tuple[int, int]) -> float | Single:
        """The input's value at one place of the field (row, column)."""
        if name == self.across:
            return float(self.acrosses[place[1]])
        return float(self.ups[place[0]]) if name == self.up else single
