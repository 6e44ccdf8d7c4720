"""The contour as unknowns and equations.

The unknowns are the coordinates of joints and centres, a size for each element (the length of a line; the radius of an
arc, positive for counter-clockwise), and directions of travel, each held as a unit complex number. Every element is a
*link* or two between points:

    line       end - start    = length * e
    arc        centre - start = radius * i e(start)
    arc        centre - end   = radius * i e(end)

so that once the directions are known all is linear, and a smooth joint is one direction that two links share. What the
print gives is a value of an unknown, or a step between two.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal, NamedTuple, TypeAlias

from calc.contour.solving.given import SMALLEST, GivenElement, Start, field_of, slack_for

Values: TypeAlias = dict[int, complex]
"""What is known of the unknowns: a number (its real part), or a direction."""

Part: TypeAlias = Literal[0, 1]
"""0 is along z, 1 along r."""


@dataclass(frozen=True, slots=True, eq=False)
class Fact:
    """A dimension that the print gives: the value of the unknown ``var``, or of a step when ``var`` is -1."""

    element: int
    name: str
    value: float
    var: int = -1

    @property
    def field(self) -> str:
        """The field that it was given in."""
        return field_of(self.element, self.name)

    @property
    def slack(self) -> float:
        """By how much it may differ and still agree, mm or rad."""
        return slack_for(self.name, self.value)

    @property
    def is_level(self) -> bool:
        """Whether it is that a cylinder keeps its X, or a face its Z: a step of 0."""
        return self.var < 0 and self.value == 0.0


@dataclass(frozen=True)
class Piece:
    """The unknowns of one element: its points (each a z, with the r next to it), its size and its directions."""

    index: int
    is_line: bool
    start: int
    end: int
    centre: int
    size: int
    leave: int
    arrive: int

    @cached_property
    def variables(self) -> tuple[int, ...]:
        """All of them."""
        shared = (self.start, self.start + 1, self.end, self.end + 1, self.size, self.leave, self.arrive)
        return shared if self.is_line else (*shared, self.centre, self.centre + 1)


class Link(NamedTuple):
    """Point b - point a = size times the direction, turned a quarter to the left for an arc's radius."""

    a: int
    b: int
    size: int
    direction: int
    is_quarter: bool

    def share(self, direction: complex, part: Part) -> float:
        """How much of the size goes along z or r."""
        return along(direction * 1j if self.is_quarter else direction, part)


@dataclass(slots=True, eq=False)
class Equation:
    """One real equation between unknowns.

    "link": a component of ``link``; "run": the same where the step from a to b is given; "level": a component that
    vanishes, so that b = a; "step": b = a + value;
    "axis": the direction is one of two opposite ones; "sign": the size is the value, of either sign.
    """

    kind: Literal["link", "run", "level", "step", "axis", "sign"]
    element: int
    involves: tuple[int, ...]
    link: Link | None = None
    part: Part = 0
    fact: Fact | None = None
    value: complex = 0.0
    unknown: list[int] = field(default_factory=list)


def along(vector: complex, part: Part) -> float:
    """The component of the step `vector` along z (0) or r (1)."""
    return vector.imag if part else vector.real


def _clean(name: str, value: float) -> float:
    """The value as given; of a length, what is next to nothing is 0."""
    return 0.0 if name != "angle" and abs(value) < SMALLEST else value


def unit_at(angle: float) -> complex:
    """The direction at an angle, rad; exact along the axes.

    >>> unit_at(math.pi)
    (-1+0j)
    """
    direction = cmath.rect(1.0, angle)
    if abs(direction.imag) < 1e-15:
        return complex(math.copysign(1.0, direction.real), 0.0)
    if abs(direction.real) < 1e-15:
        return complex(0.0, math.copysign(1.0, direction.imag))
    return direction


class Unknowns:
    """The unknowns of a contour and where they stand.

    ``signs`` says for each size whether it must be positive (1) or negative (-1) or may be either (0), ``shared`` for
    each direction which elements join smoothly at their start by it.
    """

    def __init__(self, start: Start, elements: Sequence[GivenElement]) -> None:
        self.start = start
        self.elements = tuple(elements)
        self.joints = [2 * i for i in range(len(elements) + 1)]
        self.count = 2 * len(self.joints)
        self.directions: set[int] = set()
        self.signs: dict[int, float] = {}
        self.pieces: list[Piece] = []
        self.shared: dict[int, list[int]] = {}
        for index, element in enumerate(elements):
            self._add(index, element)

    def _add(self, index: int, element: GivenElement) -> None:
        shared = self.pieces[-1].arrive if element.tangent and self.pieces else None
        start, end = self.joints[index], self.joints[index + 1]
        if element.kind == "line":
            size, leave = self._new(), self._direction(shared)
            self.pieces.append(Piece(index, True, start, end, -1, size, leave, leave))
            self.signs[size] = 1.0
            self._share(index, leave)
            return
        centre, _, size = self._new(), self._new(), self._new()
        leave, arrive = self._direction(shared), self._direction(None)
        self.pieces.append(Piece(index, False, start, end, centre, size, leave, arrive))
        self.signs[size] = {"ccw": 1.0, "cw": -1.0, None: 0.0}[element.turn]
        self._share(index, leave)

    def _share(self, index: int, leave: int) -> None:
        if self.elements[index].tangent:
            self.shared.setdefault(leave, []).append(index)

    def _new(self) -> int:
        self.count += 1
        return self.count - 1

    def _direction(self, shared: int | None) -> int:
        if shared is not None:
            return shared
        new = self._new()
        self.directions.add(new)
        return new

    def links(self) -> Iterator[tuple[Piece, Link]]:
        """Every link with the element that it is of."""
        for piece in self.pieces:
            if piece.is_line:
                yield piece, Link(piece.start, piece.end, piece.size, piece.leave, False)
            else:
                yield piece, Link(piece.start, piece.centre, piece.size, piece.leave, True)
                yield piece, Link(piece.end, piece.centre, piece.size, piece.arrive, True)

    @cached_property
    def facts(self) -> tuple[Fact, ...]:
        """Every dimension that is given, in the order of the elements."""
        return tuple(self._find_facts())

    def _find_facts(self) -> Iterator[Fact]:
        for name, var in (("z", 0), ("r", 1)):
            value = getattr(self.start, name)
            if value is not None:
                yield Fact(-1, name, _clean(name, value), var)
        for piece, element in zip(self.pieces, self.elements, strict=True):
            for name, var in self.places(piece).items():
                value = getattr(element, name)
                if value is not None:
                    yield Fact(piece.index, name, _clean(name, value), var)

    def places(self, piece: Piece) -> dict[str, int]:
        """Which unknown each dimension of an element is the value of; -1 for a step."""
        places = {"z": piece.end, "r": piece.end + 1, "dz": -1, "dr": -1}
        if piece.is_line:
            return places | {"angle": piece.leave, "length": piece.size}
        return places | {"radius": piece.size, "centre_z": piece.centre, "centre_r": piece.centre + 1}

    def sharing(self, direction: int) -> list[int]:
        """The elements that join smoothly at their start by sharing this direction."""
        return self.shared.get(direction, [])
