"""Random contours of turned parts, and prints of them that leave out whatever the rest determines."""

from __future__ import annotations

import math
import random
from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from calc.contour import Arc, Chain, Element, Line, Point, Turn, Vector
from calc.contour.solving import GivenElement, Solutions, Start
from tests.contour.strategies import next_arc, next_line

DIMENSIONS = {
    "line": ("z", "r", "dz", "dr", "angle", "length"),
    "arc": ("z", "r", "dz", "dr", "radius", "centre_z", "centre_r"),
}
LIKELY = {"radius": 1.5, "angle": 1.2, "length": 0.7, "centre_z": 0.6, "centre_r": 0.6, "dz": 0.3, "dr": 0.3}
"""How often a print gives a dimension, compared with an end's coordinate (common practice, no source)."""


@dataclass(frozen=True)
class Print:
    """What a print gives, and the contour that it was made from. ``sharpness`` is how firmly it is determined."""

    start: Start
    elements: tuple[GivenElement, ...]
    original: tuple[Element, ...]
    sharpness: float

    @property
    def size(self) -> float:
        """The largest coordinate, mm."""
        return max(element.size for element in self.original)


def random_contour(chance: random.Random, count: int) -> tuple[tuple[Element, ...], tuple[bool, ...]]:
    """A contour of ``count`` elements that can be a part's, and which of them join smoothly."""
    while True:
        elements, tangent = _random_chain(chance, count)
        if not Chain(elements).faults():
            return elements, tangent


def _random_chain(chance: random.Random, count: int) -> tuple[tuple[Element, ...], tuple[bool, ...]]:
    point = Point(chance.uniform(-50.0, 50.0), chance.uniform(5.0, 60.0))
    heading = chance.choice([math.pi, math.pi / 2.0, chance.uniform(-math.pi, math.pi)])
    elements: list[Element] = []
    tangent: list[bool] = []
    for _ in range(count):
        smooth = bool(elements) and chance.random() < 0.45
        arc = chance.random() < 0.5 or (smooth and isinstance(elements[-1], Line))
        if elements and not smooth:
            heading += chance.uniform(0.2, 2.0) * chance.choice([-1.0, 1.0])
        element: Element
        if arc:
            sweep = chance.uniform(0.2, 2.6) * chance.choice([-1.0, 1.0])
            element = next_arc(point, heading, chance.uniform(2.0, 25.0), sweep)
        else:
            element = next_line(point, heading, chance.uniform(3.0, 40.0))
        elements.append(element)
        tangent.append(smooth)
        point, heading = element.end, heading + element.sweep
    return tuple(elements), tuple(tangent)


def print_of(
    elements: Sequence[Element],
    tangent: Sequence[bool],
    chance: random.Random,
    said_first: Collection[tuple[int, str]] = (),
) -> Print:
    """A print that gives just enough: dimensions in a likely order, each kept if the ones before leave it open."""
    everything = _dimensions(elements)
    names = sorted(everything, key=lambda name: -(chance.random() ** (1.0 / LIKELY.get(name[1], 1.0))))
    names.sort(key=lambda name: name not in said_first)
    kept, sharpness = _independent(names, _slopes(elements, tangent))
    start = Start(*(everything[-1, name] if (-1, name) in kept else None for name in ("z", "r")))
    given = []
    for index, element in enumerate(elements):
        own = {name: everything[index, name] for i, name in kept if i == index}
        turn = element.turn if isinstance(element, Arc) and chance.random() < 0.5 else None
        given.append(_given(element, tangent[index], own, turn))
    return Print(start, tuple(given), tuple(elements), sharpness)


def random_print(seed: int, count: int) -> Print:
    """The print of a random contour, the same for the same seed."""
    chance = random.Random(seed * 1009 + count)
    return print_of(*random_contour(chance, count), chance)


def full_print(elements: Sequence[Element], tangent: Sequence[bool]) -> tuple[Start, tuple[GivenElement, ...]]:
    """A print that gives every dimension."""
    everything = _dimensions(elements)
    given = []
    for index, element in enumerate(elements):
        own = {name: everything[index, name] for name in DIMENSIONS[_kind(element)]}
        turn = element.turn if isinstance(element, Arc) else None
        given.append(_given(element, tangent[index], own, turn))
    return Start(*elements[0].start), tuple(given)


def has(solutions: Solutions, original: Sequence[Element], near: float) -> bool:
    """Whether one of the solutions is the contour."""
    return any(is_same(solution.sharp, original, near) for solution in solutions.solutions)


def is_same(one: Sequence[Element], other: Sequence[Element], near: float) -> bool:
    """Whether two contours agree within ``near`` mm."""
    return len(one) == len(other) and all(_is_same_element(a, b, near) for a, b in zip(one, other, strict=True))


def _is_same_element(a: Element, b: Element, near: float) -> bool:
    if a.start.distance_to(b.start) > near or a.end.distance_to(b.end) > near or type(a) is not type(b):
        return False
    if isinstance(a, Arc) and isinstance(b, Arc):
        return a.turn == b.turn and a.centre.distance_to(b.centre) <= 10.0 * near
    return True


def _given(element: Element, smooth: bool, own: dict[str, float], turn: Turn | None) -> GivenElement:
    one = GivenElement(_kind(element), tangent=smooth, turn=turn)
    return replace(one, **own)  # type: ignore[arg-type]  # by name


def _kind(element: Element) -> Literal["line", "arc"]:
    return "line" if isinstance(element, Line) else "arc"


def _dimensions(elements: Sequence[Element]) -> dict[tuple[int, str], float]:
    found = {(-1, "z"): elements[0].start.z, (-1, "r"): elements[0].start.r}
    for index, element in enumerate(elements):
        step = element.start.to(element.end)
        own = {"z": element.end.z, "r": element.end.r, "dz": step.z, "dr": step.r}
        if isinstance(element, Line):
            own |= {"angle": element.start_heading, "length": element.length}
        else:
            own |= {"radius": element.radius, "centre_z": element.centre.z, "centre_r": element.centre.r}
        found |= {(index, name): value for name, value in own.items()}
    return found


# --- which dimensions are independent: by their derivatives along the ways a contour can be changed -------------------


def _slopes(elements: Sequence[Element], tangent: Sequence[bool]) -> dict[tuple[int, str], np.ndarray]:
    """Derivatives of every dimension by start, corners, lengths, radii and sweeps (angles in units of the size)."""
    size = max(element.size for element in elements)
    base = _parameters(elements, tangent, size)
    step = 1e-6 * size
    rows = []
    for column in range(len(base)):
        up, down = base.copy(), base.copy()
        up[column] += step
        down[column] -= step
        high, low = (_dimensions(_built(q, elements, tangent, size)) for q in (up, down))
        rows.append({name: _less(name, high[name], low[name], size) / (2.0 * step) for name in high})
    return {name: np.array([row[name] for row in rows]) for name in rows[0]}


def _less(name: tuple[int, str], high: float, low: float, size: float) -> float:
    return math.remainder(high - low, math.tau) * size if name[1] == "angle" else high - low


def _parameters(elements: Sequence[Element], tangent: Sequence[bool], size: float) -> np.ndarray:
    found = [*elements[0].start]
    heading = 0.0
    for element, smooth in zip(elements, tangent, strict=True):
        if not smooth:
            found.append((element.start_heading - heading) * size)
        found += [element.length] if isinstance(element, Line) else [element.radius, element.sweep * size]
        heading = element.end_heading
    return np.array(found)


def _built(q: np.ndarray, like: Sequence[Element], tangent: Sequence[bool], size: float) -> list[Element]:
    values = iter(q.tolist())
    point, heading = Point(next(values), next(values)), 0.0
    made: list[Element] = []
    for element, smooth in zip(like, tangent, strict=True):
        heading = heading if smooth else heading + next(values) / size
        if isinstance(element, Line):
            made.append(next_line(point, heading, next(values)))
        else:
            made.append(next_arc(point, heading, next(values), next(values) / size))
        point, heading = made[-1].end, heading + made[-1].sweep
    return made


def _independent(
    names: Sequence[tuple[int, str]], slopes: dict[tuple[int, str], np.ndarray]
) -> tuple[set[tuple[int, str]], float]:
    """The names that each say something new, and the smallest singular value of what they say."""
    basis: list[np.ndarray] = []
    kept: list[tuple[int, str]] = []
    for name in names:
        rest = slopes[name].copy()
        for vector in basis:
            rest -= (rest @ vector) * vector
        if np.linalg.norm(rest) > 1e-3:
            basis.append(rest / np.linalg.norm(rest))
            kept.append(name)
    sharpness = np.linalg.svd(np.array([slopes[name] for name in kept]), compute_uv=False)[-1]
    return set(kept), float(sharpness)


def moved(point: Point, heading: float, by: float) -> Point:
    """The point ``by`` mm away at a heading, rad."""
    return point.moved(Vector.at_angle(heading), by)
