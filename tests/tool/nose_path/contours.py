"""Random contours for the nose, with corners, fillets, arcs smaller than the nose, and places that are too narrow."""

from __future__ import annotations

import math
import random

import numpy as np

from calc.contour import Arc, Chain, Element, Line, Point
from tests.contour.strategies import next_arc, next_line

STEP = 0.004  # rad between points of an arc that stands for it


def random_contour(seed: int, most: int = 12) -> Chain:
    """A contour of up to `most` elements, some millimetres each, that does not meet itself, on one side of the axis."""
    rng = random.Random(seed)
    while True:
        chain = _walk(rng, rng.randint(2, most))
        if not chain.self_intersections() and not chain.is_closed:
            return chain


def _walk(rng: random.Random, count: int) -> Chain:
    point, heading = Point(rng.uniform(-5.0, 5.0), rng.uniform(30.0, 40.0)), rng.uniform(-math.pi, math.pi)
    made: list[Element] = []
    for _ in range(count):
        heading += rng.choice([0.0, 1.0, 1.0]) * rng.uniform(-2.2, 2.2)
        if rng.random() < 0.5:
            made.append(next_line(point, heading, rng.uniform(0.3, 9.0)))
        else:
            made.append(next_arc(point, heading, rng.uniform(0.3, 8.0), rng.choice([-1, 1]) * rng.uniform(0.1, 2.6)))
        point, heading = made[-1].end, heading + made[-1].sweep
    return Chain(tuple(made))


def polyline(elements: tuple[Element, ...] | list[Element], step: float = STEP) -> list[tuple[float, float]]:
    """Points along contiguous elements, arcs finely."""
    points: list[tuple[float, float]] = []
    for element in elements:
        count = max(1, math.ceil(element.angle / step)) if isinstance(element, Arc) else 1
        points += [tuple(element.point_at(element.length * i / count)) for i in range(count + 1)]  # type: ignore[misc]
    return points


def along(element: Element, count: int = 24) -> list[Point]:
    return [element.point_at(element.length * i / count) for i in range(count + 1)]


def distance(point: Point, chain: Chain) -> float:
    """From first principles: the nearest of all elements, by their own geometry."""
    return min(element.distance_to(point) for element in chain)


def staircase(count: int) -> Chain:
    """A shaft of `count` elements: tapers, steps with fillets and edges."""
    rng = np.random.default_rng(1)
    point = Point(0.0, 10.0)
    made: list[Element] = []
    while len(made) < count:
        kind = len(made) % 4
        if kind == 0:
            made.append(Line(point, point.shifted(-float(rng.uniform(2.0, 6.0)), float(rng.uniform(0.0, 0.5)))))
        elif kind == 1:
            radius = float(rng.uniform(1.0, 2.5))
            made.append(next_arc(point, made[-1].end_heading, radius, -0.5))
        elif kind == 2:
            made.append(Line(point, point.shifted(-float(rng.uniform(0.5, 1.0)), float(rng.uniform(0.5, 3.0)))))
        else:
            made.append(next_arc(point, made[-1].end_heading, float(rng.uniform(0.3, 1.5)), 0.7))
        point = made[-1].end
    return Chain(tuple(made))
