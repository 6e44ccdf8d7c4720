"""Random first parts with known errors: contours, readings that a setter would take, and what their gauges show."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from calc.contour import Arc, Chain, Element, Line, Point, Side
from calc.measuring.causes import State
from calc.measuring.places import Place, What, find, size, tool_side

PLAUSIBLE = (0.1, 0.1, 0.15, 0.2, 0.00015)
"""The largest X and Z offset, nose error and height (mm) and taper that a part is made with."""


@dataclass(frozen=True)
class Made:
    """A part with its true state, the places that were measured, and gauges' half widths at 95 %."""

    chain: Chain
    side: Side
    true: State
    places: tuple[Place, ...]
    spreads: tuple[float, ...]

    def readings(self, rng: np.random.Generator) -> list[float]:
        """What the gauges show: the true size and an error of the gauge."""
        return [
            size(place, self.true, 3) + float(rng.normal(0.0, spread / 1.959964))
            for place, spread in zip(self.places, self.spreads, strict=True)
        ]


def made(rng: np.random.Generator) -> Made:
    """A part with a dish, two cylinders and a taper, each now and then left out, and three to nine readings on it."""
    chain = _chain(rng)
    side = tool_side(chain, 3)
    true = State(*(float(rng.uniform(-most, most)) for most in PLAUSIBLE))
    true = true._replace(height_squared=true.height_squared**2)
    wanted = _wanted(chain, rng)
    chosen = rng.permutation(len(wanted))[: int(rng.integers(min(3, len(wanted)), len(wanted) + 1))]
    places = tuple(place for index in chosen if (place := find(chain, side, *wanted[index])) is not None)
    spreads = tuple(float(10 ** rng.uniform(-3.0, -2.0)) for _ in places)
    return Made(chain, side, true, places, spreads)


def _chain(rng: np.random.Generator) -> Chain:
    elements: list[Element] = []
    radius, depth = float(rng.uniform(30, 90)), float(rng.uniform(2, 6))
    mouth = math.sqrt(depth * (2 * radius - depth)) if rng.random() < 0.6 else 0.0
    here = Point(0.0, mouth)
    if mouth:
        elements.append(Arc(Point(-depth, 0.0), here, Point(radius - depth, 0.0), "cw"))
    for first in (True, False):
        up = Point(here.z, here.r + float(rng.uniform(3, 12)))
        along = up.shifted(-float(rng.uniform(10, 50)), 0.0)
        elements += [Line(here, up), Line(up, along)]
        here = along
        if first and rng.random() < 0.5:
            taper = here.shifted(-float(rng.uniform(10, 30)), float(rng.uniform(2, 8)))
            elements.append(Line(here, taper))
            here = taper
    return Chain(tuple(elements))


def _wanted(chain: Chain, rng: np.random.Generator) -> list[tuple[What, float, float]]:
    """Readings that the contour allows: kind, Z, nominal size."""
    wanted: list[tuple[What, float, float]] = []
    for element in chain:
        for share in rng.uniform(0.05, 0.95, 2):
            spot = element.point_at(float(share) * element.length)
            if isinstance(element, Arc):
                wanted.append(("depth", spot.z, -spot.z))
            elif abs(element.direction.z) > 0.1:
                wanted.append(("diameter", spot.z, 2 * spot.r))
        if isinstance(element, Line) and element.direction.z == 0.0:
            wanted.append(("length", element.start.z, -element.start.z))
    return wanted
