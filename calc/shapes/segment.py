"""The circular segment: radius, height and the diameter over its ends, any two of which fix the third.

What a dish and a crown share; their own words and formulas' names come in as a `Segment`.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property

from calc.language.messages import Capital, Message, Phrase, Quantity, Value
from calc.language.problems import Fault, Impossible
from calc.language.quantities import DIAMETER, LENGTH, RADIUS, Angle, Length, Radius, Volume
from calc.language.working import formula
from calc.shapes.blanks import Solved, System, Term, Way, require_settled, solve
from calc.shapes.dish.sizes import FLATTEST, SMALLEST

SEGMENT = "circular segment: Machinery's Handbook 31, p. 83"
SPHERE = "spherical segment, ISO 80000-2 terms; any table of solids"


@formula(means="arc length", source="arc = radius × angle", result="L")
def arc_length(R: Radius, theta: Angle, theta_0: Angle) -> Length:
    """Length (mm) of the arc of radius R (mm) between the angles theta and theta_0 (rad) from the axis.

    Source: definition of the angle in radians.

    >>> arc_length(10.0, 1.0, 0.0)
    10.0
    """
    return R * (theta - theta_0)


@formula(means="volume of the spherical segment", source=SPHERE, result="V")
def cap_volume(R: Radius, h: Length) -> Volume:
    """Volume (mm3) of the spherical segment of radius R and height h (mm).

    Source: spherical segment of one base.

    >>> from math import pi
    >>> round(cap_volume(1.0, 1.0) / (2 / 3 * pi), 12)
    1.0
    """
    return math.pi * h**2 * (3 * R - h) / 3


@dataclass(frozen=True, slots=True)
class Sentences:
    """Why there is no segment, with the places {height}, {radius}, {across}, {widest} and {half}."""

    higher_than_radius: str
    wider_than_ball: str
    closing_in: str


@dataclass(frozen=True)
class Segment:
    """One kind of segment: the names and nouns of its fields, its formulas, its sentences.

    `across_of` takes radius and height, `height_of` radius and diameter, `radius_of` height and diameter.
    """

    height: str
    across: str
    across_noun: str
    across_told: str
    across_of: Callable[[float, float], float]
    height_of: Callable[[float, float], float]
    radius_of: Callable[[float, float], float]
    sentences: Sentences

    def solve(self, given: Mapping[str, float | None]) -> Solved:
        """The whole segment from two of its dimensions, or three that agree.

        Raises `Missing`, `Contradiction`, or `Impossible` with its reason.
        """
        require_settled(self.system, given, ("radius", self.height, self.across))
        found = solve(self.system, given)
        self._require_curved(found)
        return found

    @cached_property
    def system(self) -> System:
        """The terms and the ways between them."""
        terms = (
            Term("radius", RADIUS, "radius", "{radius}"),
            Term(self.height, LENGTH, self.height),
            Term(self.across, DIAMETER, self.across_noun, self.across_told),
        )
        ways = (
            Way(self.across, ("radius", self.height), self._across),
            Way(self.height, ("radius", self.across), self._height),
            Way("radius", (self.height, self.across), self._radius),
        )
        ask = Phrase("Give any two of radius, {height} and {across}.", height=self.height, across=self.across_noun)
        return System(terms, ways, ask)

    def _across(self, R: float, h: float) -> float:
        if h > R:
            values = {"height": Quantity(h, LENGTH, brief=True), "radius": Quantity(R, RADIUS, brief=True)}
            raise Impossible(Fault(self.height, Message(self.sentences.higher_than_radius, values)))
        return self.across_of(R, h)

    def _height(self, R: float, D: float) -> float:
        """The height that the shown formula gives, without the digits that its difference loses on a flat arc."""
        if D > 2 * R:
            values = {"across": Quantity(D, DIAMETER, brief=True), "widest": Quantity(2 * R, DIAMETER)}
            raise Impossible(Fault(self.across, Message(self.sentences.wider_than_ball, values)))
        self.height_of(R, D)
        return (D / 2) ** 2 / (R + math.sqrt((R - D / 2) * (R + D / 2)))

    def _radius(self, h: float, D: float) -> float:
        if h > D / 2:
            values = {"height": Quantity(h, LENGTH, brief=True), "half": Quantity(D / 2, LENGTH)}
            raise Impossible(Fault(self.height, Message(self.sentences.closing_in, values)))
        return self.radius_of(h, D)

    def _require_curved(self, found: Solved) -> None:
        if found[self.height] >= SMALLEST and found["radius"] <= FLATTEST:
            return
        terms = self.system.by_name
        by_height = found[self.height] >= SMALLEST
        blamed, other = (self.height, self.across) if by_height else (self.across, "radius")
        said = [terms[name].said(Quantity(found[name], terms[name].kind, brief=True)) for name in (blamed, other)]
        text = "{size} with {other} is practically flat. Check which one is misread."
        values: dict[str, Value] = {"size": Capital(said[0]), "other": said[1]}
        raise Impossible(Fault(blamed, Message(text, values)))
