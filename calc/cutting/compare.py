"""A cut over two of its inputs at once: whole arrays through the very formulas that answer a single case.

A cut's inputs are numbers or arrays that broadcast against each other: one runs across, one up, the rest stay. What
depends on neither is computed once. Nothing is recorded; each element is, to the last bit, what the single case gives.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property
from math import cos, sin
from typing import Any, Literal

import numpy as np

from calc.cutting import chip as chips
from calc.cutting import components
from calc.cutting import force as forces
from calc.cutting import thickest_chip as thickest
from calc.cutting.chip import RIGHT_ANGLE
from calc.cutting.finish_formulas import peak_rule_flat, ra_rule
from calc.cutting.materials import Material
from calc.cutting.speed import limited_speed, spindle_speed
from calc.cutting.stiffness import Beam, deflection_in_chuck, passive_force, second_moment
from calc.cutting.time import time_at_limit
from calc.cutting.tools import operations
from calc.language.kinds import DEFLECTION
from calc.language.quantities import FORCE, LENGTH, POWER, REMOVAL_RATE, ROUGHNESS, TIME, Kind
from calc.language.working.vectorised import vectorised

Values = Any
"""A number, or a numpy array of them."""


@dataclass(frozen=True, slots=True)
class Bar:
    """The bar that holds the edge, and the share of the cutting force that pushes it away; None: as the edge stands."""

    beam: Beam
    passive_share: float | None = None


@dataclass(frozen=True)
class Cuts:
    """A cut, or many: each input a number or an array (mm, mm/min, rad).

    `entering_angle` None is a round insert. `diameter` and `length` of cut belong to the time, `bar` to the deflection.
    """

    material: Material
    surface_speed: Values
    feed: Values
    depth: Values
    nose_radius: Values
    entering_angle: Values | None = None
    diameter: Values | None = None
    length: float | None = None
    max_rpm: float | None = None
    bar: Bar | None = None

    @cached_property
    def _entering(self) -> Values:
        return RIGHT_ANGLE if self.entering_angle is None else self.entering_angle

    @cached_property
    def _arms(self) -> tuple[Values, Values]:
        """Where there is no nose at all, and where the nose alone cuts."""
        r, kappa = self.nose_radius, self._entering
        depth_of_nose = np.where(np.equal(kappa, RIGHT_ANGLE), r, r * (1 - _each(cos, kappa)))
        return np.equal(r, 0.0), np.less_equal(self.depth, depth_of_nose) & np.greater(r, 0.0)

    @cached_property
    def _angle_of_nose(self) -> Values:
        return vectorised(chips.engagement_angle)(self.depth, np.asarray(self.nose_radius, dtype=float))

    @cached_property
    def _direction(self) -> Values:
        """The angle between the feed and the chord of the edge in cut."""
        sharp, nose_only = self._arms
        a, r, kappa = self.depth, np.asarray(self.nose_radius, dtype=float), self._entering
        arms = [
            (sharp, lambda: kappa),
            (nose_only, lambda: vectorised(components.chord_of_nose)(np.minimum(self._angle_of_nose, RIGHT_ANGLE))),
            (~(sharp | nose_only), lambda: vectorised(components.chord_of_edge)(a, r, kappa)),
        ]
        return _by_case(arms)

    @cached_property
    def chip_width(self) -> Values:
        """Length of the edge in cut [mm]."""
        sharp, nose_only = self._arms
        a, r, kappa = self.depth, self.nose_radius, self._entering
        arms = [
            (sharp, lambda: vectorised(chips.straight_width)(a, kappa)),
            (nose_only, lambda: vectorised(chips.round_edge_in_cut)(r, self._angle_of_nose)),
            (~(sharp | nose_only), lambda: vectorised(chips.nose_and_edge_in_cut)(a, r, kappa)),
        ]
        return _by_case(arms)

    @cached_property
    def chip_thickness(self) -> Values:
        """Thickness of the chip [mm], the mean one where a nose cuts."""
        sharp, _ = self._arms
        arms = [
            (sharp, lambda: vectorised(chips.straight_chip)(self.feed, self._entering)),
            (~sharp, lambda: vectorised(chips.mean_chip)(self.feed, self.depth, self.chip_width)),
        ]
        return _by_case(arms)

    @cached_property
    def largest_chip(self) -> Values:
        """Thickness of the chip where it is thickest [mm]."""
        sharp, nose_only = self._arms
        a, r, kappa, f = self.depth, np.asarray(self.nose_radius, dtype=float), self._entering, self.feed
        on_nose = nose_only & np.less(a, r)
        foot = a - f * _each(sin, kappa) * _each(cos, kappa)
        on_edge = np.greater_equal(kappa, RIGHT_ANGLE) | np.greater_equal(foot, r * (1 - _each(cos, kappa)))
        chip = vectorised(thickest.chip_on_nose)
        arms = [
            (sharp, lambda: vectorised(chips.straight_chip)(f, kappa)),
            (on_nose, lambda: chip(a, r, vectorised(thickest.reach_of_nose)(a, r), f)),
            (~on_nose & on_edge, lambda: vectorised(chips.straight_chip)(f, np.minimum(kappa, RIGHT_ANGLE))),
            (~on_edge, lambda: chip(a, r, vectorised(thickest.reach_of_edge)(a, r, kappa), f)),
        ]
        return _by_case(arms)

    @cached_property
    def cutting_force(self) -> Values:
        """Cutting force [N] by the material's values that are used."""
        used = self.material.forces[0]
        kc = vectorised(forces.specific_force)(used.kc11, self.chip_thickness, used.mc)
        return vectorised(forces.cutting_force)(kc, self.chip_width, self.chip_thickness)

    @cached_property
    def power(self) -> Values:
        """Power at the spindle [N mm/min]."""
        return vectorised(forces.cutting_power)(self.cutting_force, self.surface_speed)

    @cached_property
    def removal_rate(self) -> Values:
        """Removal rate [mm3/min]."""
        return vectorised(forces.removal_rate)(self.surface_speed, self.feed, self.depth)

    @cached_property
    def ra(self) -> Values:
        """Ra [mm] by the rule, on a flat surface."""
        return vectorised(ra_rule)(vectorised(peak_rule_flat)(self.feed, np.asarray(self.nose_radius, dtype=float)))

    @cached_property
    def time(self) -> Values:
        """Time in cut [min] along `length` at `diameter`, with the spindle limit."""
        rpm = vectorised(spindle_speed)(self.surface_speed, self.diameter)
        if self.max_rpm is not None:
            rpm = vectorised(limited_speed)(rpm, self.max_rpm)
        return vectorised(time_at_limit)(self.length, self.feed, rpm)

    @cached_property
    def bar_deflection(self) -> Values:
        """How far the bar bends [mm] under the passive force, which is that of boring."""
        bar = self.bar
        if bar is None:
            raise TypeError("a deflection needs a bar")
        bored = vectorised(forces.corrected_force)(operations()["bore"].force_factor, self.cutting_force)
        if bar.passive_share is None:
            square = vectorised(components.thrust)(components.ratio_of_thrust(self.material.group).usual, bored)
            pushed = vectorised(components.passive_force)(square, self._direction)
        else:
            pushed = vectorised(passive_force)(bar.passive_share, bored)
        beam = bar.beam
        return vectorised(deflection_in_chuck)(
            pushed, beam.length, beam.material.modulus, second_moment.function(beam.diameter)
        )


def _each(function: Callable[[float], float], values: Values) -> Values:
    """A function of `math`, element by element, as the formulas compute it."""
    if not isinstance(values, np.ndarray):
        return function(values)
    return np.fromiter(map(function, values.ravel().tolist()), float, values.size).reshape(values.shape)


def _by_case(arms: list[tuple[Values, Callable[[], Values]]]) -> Values:
    """For each element the value of the arm that holds there; an arm that holds nowhere is not computed."""
    needed = [(np.asarray(holds), compute()) for holds, compute in arms if np.any(holds)]
    result = needed[-1][1]
    for holds, value in reversed(needed[:-1]):
        result = np.where(holds, value, result)
    return result


@dataclass(frozen=True, slots=True)
class Shown:
    """A quantity that can be shown over two inputs: its words, its kind, how it comes out of the cuts."""

    label: str
    kind: Kind
    of: Callable[[Cuts], Values]


ShownName = Literal["power", "force", "ra", "chip", "removal", "time", "deflection"]
SHOWN: Mapping[ShownName, Shown] = {
    "power": Shown("Power", POWER, lambda cuts: cuts.power),
    "force": Shown("Cutting force", FORCE, lambda cuts: cuts.cutting_force),
    "ra": Shown("Ra by the rule", ROUGHNESS, lambda cuts: cuts.ra),
    "chip": Shown("Chip thickness", LENGTH, lambda cuts: cuts.chip_thickness),
    "removal": Shown("Removal rate", REMOVAL_RATE, lambda cuts: cuts.removal_rate),
    "time": Shown("Time in cut", TIME, lambda cuts: cuts.time),
    "deflection": Shown("Bar deflection", DEFLECTION, lambda cuts: cuts.bar_deflection),
}


def over(cuts: Cuts, shown: ShownName, shape: tuple[int, int]) -> np.ndarray[Any, np.dtype[np.float64]]:
    """One quantity of the cuts as a full array of `shape` (up, across).

    >>> from calc.cutting.materials import material
    >>> across, up = np.linspace(0.1, 0.3, 3), np.array([[1.0], [2.0]])
    >>> cuts = Cuts(material("C45"), 200_000.0, across, up, 0.8, RIGHT_ANGLE)
    >>> over(cuts, "removal", (2, 3)).tolist()
    [[20000.0, 40000.0, 60000.0], [40000.0, 80000.0, 120000.0]]
    """
    return np.broadcast_to(np.asarray(SHOWN[shown].of(cuts), dtype=float), shape)
