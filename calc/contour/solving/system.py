"""A block of several equations: linear rows, and a cone for each direction that is sought."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from calc.contour.solving.noroot import NoRoot, NotClosed, Sizes
from calc.contour.solving.planes import NotAlike, Sides, cone_on, difference, form_of, gap_of_circles, refined_on
from calc.contour.solving.roots import Miss, Rows, eliminate, roots_of
from calc.contour.solving.structure import Block
from calc.contour.solving.unknowns import Equation, Link, Part, Values
from calc.contour.tolerance import ROUNDING

SAME = 1e-9
"""Parallels nearer than this, as a ratio to the size of the part, are one line: what is sought on them stays open."""

_FAR = 1e6
"""Roots this many times the size of the part away come from lines that are parallel but for rounding."""


class _Step(NamedTuple):
    """Point b = point a + (sum of coefficient * size) * direction."""

    a: int
    b: int
    terms: tuple[tuple[complex, int], ...]

    def flipped(self) -> _Step:
        return _Step(self.b, self.a, tuple((-c, size) for c, size in self.terms))


class System:
    """The equations of a block, brought to linear rows and one cone for each unknown direction.

    A direction e on links of known size is two linear unknowns on a circle: its components, in units of the size of
    the part. Their columns are -1 - 2 e and -2 - 2 e. On links of unknown size it is taken out: the links are
    contracted to one step.
    """

    def __init__(self, block: Block, values: Values, sizes: Sizes) -> None:
        self.block, self.values, self.sizes = block, values, sizes
        directions = sizes.unknowns.directions
        unknown = set(block.unknown)
        self.turning = [var for var in block.unknown if var in directions]
        links = [equation.link for equation in block.equations if equation.link is not None]
        stretching = {link.direction for link in links if link.size in unknown}
        self.on_circle = [var for var in self.turning if var not in stretching]
        self.turning = [var for var in self.turning if var in stretching]
        self.linear = [eq for eq in block.equations if eq.link is None or eq.link.direction not in self.turning]
        steps = {var: self._steps_of(var) for var in self.turning}
        busy = self._busy_points(steps)
        self.links = {var: list(found) for var, found in steps.items()}
        self.cones = {var: self._contract(found, busy) for var, found in steps.items()}
        self.seen = self._columns()
        self.column = {var: i for i, var in enumerate(self.seen)}

    def _steps_of(self, direction: int) -> list[_Step]:
        parts: dict[Link, set[int]] = {}
        for equation in self.block.equations:
            if equation.link is not None and equation.link.direction == direction:
                if equation.kind != "link":
                    raise NotClosed
                parts.setdefault(equation.link, set()).add(equation.part)
        if any(len(found) < 2 for found in parts.values()):
            raise NotClosed
        return [_Step(link.a, link.b, ((1j if link.is_quarter else 1.0, link.size),)) for link in parts]

    def _busy_points(self, steps: dict[int, list[_Step]]) -> set[int]:
        """Points that more than the links of one direction need."""
        busy = {var for equation in self.linear for var in equation.involves}
        ends = [{end for step in found for end in (step.a, step.b)} for found in steps.values()]
        counted = [end for found in ends for end in found]
        busy |= {end for end in counted if counted.count(end) > 1}
        unknown = set(self.block.unknown)
        return {v for end in counted for v in (end,) if {end, end + 1} & busy or not {end, end + 1} <= unknown}

    def _contract(self, steps: list[_Step], busy: set[int]) -> _Step:
        """One step in place of several that follow each other through points that nothing else needs."""
        chain, rest = steps[0], steps[1:]
        while rest:
            for other in rest:
                joined = _joined(chain, other, busy)
                if joined is not None:
                    chain = joined
                    rest = [one for one in rest if one is not other]
                    break
            else:
                raise NotClosed
        return chain

    def _columns(self) -> list[int]:
        used = {var for equation in self.linear for var in equation.unknown if var not in self.on_circle}
        for step in self.cones.values():
            used |= {step.a, step.a + 1, step.b, step.b + 1, *(size for _, size in step.terms)}
        components = [column for var in self.on_circle for column in _components(var)]
        return [v for v in self.block.unknown if v in used and v not in self.sizes.unknowns.directions] + components

    def solve(self) -> list[Values]:
        """All real solutions. Raises `NoRoot` and `NotClosed`."""
        rows = eliminate([self._row(equation) for equation in self.linear], len(self.seen))
        cones = len(self.cones) + len(self.on_circle)
        if rows.clash > ROUNDING * self.sizes.size:
            is_open = rows.clash <= SAME * self.sizes.size and len(rows.along) > cones
            raise NoRoot(self.block.equations, self._gap(rows.clash), "open" if is_open else "parallel")
        if len(rows.along) > cones:
            raise NoRoot(self.block.equations, kind="open")
        if not cones:
            return [self._numbers(rows.origin)]
        origins = [rows.origin] if not rows.along else self._on_cones(rows)
        found = [self._completed(origin) for origin in origins]
        return [one for one in found if one is not None]

    def _gap(self, clash: float) -> float:
        """How far two lines run apart, where both are known; otherwise what the equations leave over."""
        unknowns = self.sizes.unknowns
        pieces = [unknowns.pieces[i] for i in sorted({equation.element for equation in self.block.equations})]
        if len(pieces) != 2 or not all(piece.is_line for piece in pieces):
            return clash
        ends = [self.values.get(var) for point in (pieces[0].start, pieces[1].end) for var in (point, point + 1)]
        direction = self.values.get(pieces[0].leave)
        if direction is None or None in ends:
            return clash
        z0, r0, z1, r1 = (end.real for end in ends if end is not None)
        return abs((complex(z1 - z0, r1 - r0) * direction.conjugate()).imag)

    def _row(self, equation: Equation) -> list[float]:
        """Coefficients of the unknowns with the constant last, in b - a - share * size = value."""
        row = [0.0] * (len(self.seen) + 1)
        row[-1] = equation.value.real
        terms: list[tuple[float, int]]
        link, part = equation.link, equation.part
        if equation.kind == "run" and link is not None:
            row[-1] = -row[-1]
            terms = self._turned(link, part)
        elif equation.kind == "link" and link is not None:
            terms = [(1.0, link.b + part), (-1.0, link.a + part), *self._turned(link, part)]
        else:
            a, b = equation.involves
            terms = [(1.0, b), (-1.0, a)]
        for coefficient, var in terms:
            if var in self.column:
                row[self.column[var]] += coefficient
            else:
                row[-1] -= coefficient * self.values[var].real
        return row

    def _turned(self, link: Link, part: Part) -> list[tuple[float, int]]:
        """The size times the direction, as terms."""
        if link.direction not in self.on_circle:
            return [(-link.share(self.values[link.direction], part), link.size)]
        factor = -self.values[link.size].real / self.sizes.size
        units: tuple[complex, complex] = (1.0, 1j)
        columns = _components(link.direction)
        return [(factor * link.share(unit, part), column) for unit, column in zip(units, columns, strict=True)]

    def _on_cones(self, rows: Rows) -> list[list[float]]:
        """The points of a plane that lie on as many cones as it has dimensions."""
        cones = [self._plane_cone(step, rows) for step in self.cones.values()]
        cones += [self._circle(var, rows) for var in self.on_circle]
        if len(rows.along) != len(cones):
            raise NotClosed
        if len(cones) == 1:
            found = roots_of(cone_on(cones[0], [0.0], [1.0]), self.sizes.size, self._touch)
            return [_moved(rows, [t]) for t in self._near(found, self._mm_of(0))]
        if len(cones) == 2:
            return self._on_two(cones, rows)
        raise NotClosed

    def _plane_cone(self, step: _Step, rows: Rows) -> Sides:
        """The two sides of a cone as affine functions on the plane, each [constant, factors ...]."""
        left = [self._affine(step.b, rows), self._affine(step.b + 1, rows)]
        right = [self._affine(step.a, rows), self._affine(step.a + 1, rows)]
        d = [complex(bz - az, br - ar) for bz, br, az, ar in zip(*left, *right, strict=True)]
        s = [0j] * (len(rows.along) + 1)
        for coefficient, size in step.terms:
            s = [one + coefficient * value for one, value in zip(s, self._affine(size, rows), strict=True)]
        return d, s

    def _circle(self, direction: int, rows: Rows) -> Sides:
        z, r = (self._affine(column, rows) for column in _components(direction))
        d = [complex(a, b) for a, b in zip(z, r, strict=True)]
        return d, [complex(self.sizes.size), *[0j] * len(rows.along)]

    def _affine(self, var: int, rows: Rows) -> list[float]:
        if var not in self.column:
            return [self.values[var].real] + [0.0] * len(rows.along)
        place = self.column[var]
        return [rows.origin[place], *(vector[place] for vector in rows.along)]

    def _on_two(self, cones: list[Sides], rows: Rows) -> list[list[float]]:
        """Two cones of one shape differ by a plane: what is left is one cone on a line."""
        try:
            row = difference(cones[0], cones[1])
        except NotAlike:
            raise NotClosed from None
        scale = math.hypot(row[0], row[1])
        if scale <= SAME * self.sizes.size:
            raise NotClosed
        at = [row[0] * row[2] / scale**2, row[1] * row[2] / scale**2]
        way = [-row[1] / scale, row[0] / scale]
        line = cone_on(cones[0], at, way)
        found = roots_of(line, self.sizes.size, self._touch)
        if isinstance(found, Miss) and len(self.on_circle) == 2:
            found = Miss(gap_of_circles(cones) * math.sqrt(form_of(cones[0], 1, 1)) / (1 + self._is_one_element()))
        places = [(at[0] + t * way[0], at[1] + t * way[1]) for t in self._near(found, self._mm_of(0))]
        return [_moved(rows, refined_on(cones, place)) for place in places]

    def _is_one_element(self) -> bool:
        """Whether both circles are the radius of one arc, each of which bears half of the gap."""
        return len({equation.element for equation in self.block.equations}) == 1

    def _near(self, found: list[float] | Miss, mm: float) -> Iterator[float]:
        if isinstance(found, Miss):
            is_open = found.is_flat and abs(found.gap) <= SAME * self.sizes.size
            raise NoRoot(self.block.equations, found.gap * mm, "open" if is_open else "apart")
        yield from (t for t in found if abs(t) <= _FAR * self.sizes.size)

    @property
    def _touch(self) -> float:
        """What rounding makes of a distance, in what the first cone is measured in."""
        return ROUNDING * self.sizes.size / self._mm_of(0)

    def _mm_of(self, place: int) -> float:
        """How many mm one of what a cone is measured in stands for."""
        if place >= len(self.on_circle) or self.cones:
            return 1.0
        direction = self.on_circle[place]
        links = [equation.link for equation in self.block.equations if equation.link is not None]
        sizes = [abs(self.values[link.size].real) for link in links if link.direction == direction]
        return max(sizes) / self.sizes.size

    def _numbers(self, origin: list[float]) -> Values:
        found: Values = {var: origin[i] for i, var in enumerate(self.seen) if var >= 0}
        for var in self.on_circle:
            z, r = (origin[self.column[column]] for column in _components(var))
            found[var] = complex(z, r) / math.hypot(z, r)
        return found

    def _completed(self, origin: list[float]) -> Values | None:
        """The directions from the cones, then the points that were contracted."""
        found = self._numbers(origin)
        for var, step in self.cones.items():
            d = self._point(step.b, found) - self._point(step.a, found)
            s = sum(coefficient * self._value(size, found) for coefficient, size in step.terms)
            if abs(d) <= ROUNDING * self.sizes.size or s == 0.0:
                return None
            found[var] = d / s / abs(d / s)
            self._place_contracted(var, found)
        return found

    def _place_contracted(self, direction: int, found: Values) -> None:
        waiting = list(self.links[direction])
        while waiting:
            for step in waiting:
                if self._is_placed(step.a, found) or self._is_placed(step.b, found):
                    self._place(step, found[direction], found)
                    waiting.remove(step)
                    break
            else:
                raise NotClosed

    def _place(self, step: _Step, direction: complex, found: Values) -> None:
        known, new = (step, step.b) if self._is_placed(step.a, found) else (step.flipped(), step.a)
        if self._is_placed(new, found):
            return
        shift = sum(coefficient * self._value(size, found) for coefficient, size in known.terms)
        point = self._point(known.a, found) + shift * direction
        found[new], found[new + 1] = point.real, point.imag

    def _is_placed(self, point: int, found: Values) -> bool:
        return all(var in found or var not in self.block.unknown for var in (point, point + 1))

    def _point(self, point: int, found: Values) -> complex:
        return complex(self._value(point, found), self._value(point + 1, found))

    def _value(self, var: int, found: Values) -> float:
        return found[var].real if var in found else self.values[var].real


def _components(direction: int) -> tuple[int, int]:
    return (-1 - 2 * direction, -2 - 2 * direction)


def _joined(chain: _Step, other: _Step, busy: set[int]) -> _Step | None:
    """The two steps as one, where they share a point that is not busy."""
    for first in (chain, chain.flipped()):
        for second in (other, other.flipped()):
            if first.b == second.a and first.b not in busy:
                return _Step(first.a, second.b, first.terms + second.terms)
    return None


def _moved(rows: Rows, by: Sequence[float]) -> list[float]:
    moved = list(rows.origin)
    for t, vector in zip(by, rows.along, strict=True):
        moved = [x + t * v for x, v in zip(moved, vector, strict=True)]
    return moved
