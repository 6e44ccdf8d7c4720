"""The dimensions that a print gives of a contour, as its sketch shows them: each once, at the element of its row."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from calc.answer.drawing import Dimension
from calc.contour import Arc, Element, Point
from calc.contour.solving import Solution
from calc.contour.text import ContourGiven
from calc.language.quantities import ANGLE, DIAMETER, LENGTH, RADIUS

LEAST = 1e-6
"""A diameter or length below this (mm) is the axis or the datum itself."""

MOST = {"diameter": 5, "length": 5, "radius": 6, "angle": 3}
"""How many of each kind a sketch has room for; the rows and the table have all of them."""


def dimensions_of(solution: Solution, given: ContourGiven, bar: float | None = None) -> tuple[Dimension, ...]:
    """Diameters, lengths from Z zero, radii and half angles that were typed, each leading to its row's field.

    A length of something in the outer half of a bar of this radius (mm) stands outside of it, others at the axis.

    >>> from calc.contour.solving import solve
    >>> from calc.contour.text import read_rows, rows_of
    >>> from calc.language.quantities import View
    >>> given, _ = read_rows(rows_of("s_x0_z0*f_x20*t_z-30*f_x40"), View())
    >>> solution = solve(given.start, given.elements).solutions[0]
    >>> [(each.shape, each.value, each.field) for each in dimensions_of(solution, given)]
    [('diameter', 20.0, 'rows.1.x'), ('length', 30.0, 'rows.2.z'), ('diameter', 40.0, 'rows.3.x')]
    """
    return tuple(_first_of_each(_typed(solution, given, bar)))


def _typed(solution: Solution, given: ContourGiven, bar: float | None) -> Iterator[Dimension]:
    datum = max((point.r for point in solution.joints if abs(point.z) < LEAST), default=0.0)
    middle = max(*(point.r for point in solution.joints), *(() if bar is None else (bar,))) / 2.0
    for row, element in zip(given.rows, solution.sharp, strict=True):
        names = {name: f"{given.prefix}.{row}.{name}" for name in ("x", "z", "r", "ha")}
        shown = {name: field for name, field in names.items() if field in given.typed}
        if element is solution.sharp[-1] and abs(element.start.r - element.end.r) < LEAST:
            shown.pop("z", None)  # the bar is cut short there
        if row not in given.grooves.values():
            yield from _of_element(element, shown, Point(0.0, max(datum, middle) if element.end.r >= middle else datum))
    for solved in solution.elements:
        field = given.corners[solved.of] if solved.is_corner and solved.of < len(given.corners) else ""
        if field in given.breaks and given.breaks[field].kind == "radius" and isinstance(solved.element, Arc):
            yield _radius(solved.element, field)


def _of_element(element: Element, shown: dict[str, str], datum: Point) -> Iterator[Dimension]:
    end = element.end
    if "x" in shown and end.r > LEAST:
        yield Dimension("diameter", end, end.mirrored(), 2.0 * end.r, DIAMETER, shown["x"])
    if "z" in shown and abs(end.z) > LEAST:
        yield Dimension("length", datum, end, abs(end.z), LENGTH, shown["z"])
    if "r" in shown and isinstance(element, Arc):
        yield _radius(element, shown["r"])
    if "ha" in shown and abs(element.start.r - end.r) > LEAST:
        vertex, far = sorted((element.start, end), key=lambda point: point.r)
        lean = math.atan2(far.r - vertex.r, abs(far.z - vertex.z))
        yield Dimension("angle", far, Point(far.z, vertex.r), lean, ANGLE, shown["ha"], vertex=vertex)


def _radius(arc: Arc, field: str) -> Dimension:
    return Dimension("radius", arc.point_at(arc.length / 2.0), arc.centre, arc.radius, RADIUS, field)


def _first_of_each(found: Iterable[Dimension]) -> Iterator[Dimension]:
    """A size that several rows give stands once, as on a print (ISO 129-1); and no more than there is room for."""
    seen: dict[str, list[float]] = {shape: [] for shape in MOST}
    for each in found:
        sizes = seen[each.shape]
        if each.value is None or len(sizes) == MOST[each.shape]:
            continue
        if all(abs(each.value - size) > LEAST for size in sizes):
            sizes.append(each.value)
            yield each
