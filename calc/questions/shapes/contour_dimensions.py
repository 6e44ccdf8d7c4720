"""The dimensions of a contour as its sketch shows them: those of the print, and solved ones in brackets (ISO 129-1)."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from calc.answer.drawing import Dimension, Drawing
from calc.contour import Arc, Element, Point
from calc.contour.solving import GivenElement, Solution
from calc.contour.solving.given import GivenCorner
from calc.contour.text import ContourGiven
from calc.language.limited import limited
from calc.language.quantities import ANGLE, DIAMETER, LENGTH, RADIUS, RATIO

LEAST = 1e-6
"""A diameter or length below this (mm) is the axis or the datum itself."""

MOST = {"diameter": 8, "length": 8, "radius": 12, "angle": 6, "chamfer": 6, "taper": 4}
"""How many of each kind a sketch has at most; the rows and the table have all of them."""

SURE = ("diameter", "length")
"""Kinds that stand beside the part in any case; the others stand in it, where there is room."""

MOST_IN_BRACKETS = {"diameter": 4, "length": 4, "radius": 4}
"""Solved ones are added while a kind has no more than this."""


def dimensions_of(
    solution: Solution, given: ContourGiven, bar: float | None = None, *, solved: bool = True
) -> tuple[Dimension, ...]:
    """What was typed: diameters, lengths, radii, chamfers, tapers, angles from the axis, each leading to its field.

    A length of something in the outer half of a bar of this radius (mm) stands outside of it, others at the axis. With
    `solved` the coordinates and radii that the print leaves out follow as auxiliary dimensions.

    >>> from calc.contour.solving import solve
    >>> from calc.contour.text import read_rows, rows_of
    >>> from calc.language.quantities import View
    >>> given, _ = read_rows(rows_of("s_x0_z0*f_x20*t_z-30*f_x40"), View())
    >>> solution = solve(given.start, given.elements).solutions[0]
    >>> [(each.shape, each.value, each.field) for each in dimensions_of(solution, given)]
    [('diameter', 20.0, 'rows.1.x'), ('length', 30.0, 'rows.2.z'), ('diameter', 40.0, 'rows.3.x')]
    """
    found = list(_first_of_each(_typed(solution, given, bar)))
    return (*found, *_in_brackets(_left_out(solution, given, bar), found)) if solved else tuple(found)


def _in_brackets(left_out: Iterable[Dimension], found: Iterable[Dimension]) -> Iterator[Dimension]:
    """Solved sizes that do not stand there yet, while there are few of their kind."""
    seen = {shape: [one for one in found if one.shape == shape] for shape in MOST_IN_BRACKETS}
    for each in left_out:
        same = seen[each.shape]
        if len(same) < MOST_IN_BRACKETS[each.shape] and not any(_says_the_same(each, other) for other in same):
            same.append(each)
            yield replace(each, auxiliary=True, if_room=each.shape not in SURE)


def _says_the_same(one: Dimension, other: Dimension) -> bool:
    return _near(one.value, other.value) and _near(one.angle, other.angle) and one.by == other.by


def _near(one: float | None, other: float | None) -> bool:
    return one is other if one is None or other is None else abs(one - other) <= LEAST


def dimensioned(drawn: Drawing, solution: Solution, given: ContourGiven, *, solved: bool = True) -> Drawing:
    """The sketch of a contour with its dimensions, `solved` as above; as it is where it has some of its own already."""
    if drawn.dimensions:
        return drawn
    return replace(drawn, dimensions=dimensions_of(solution, given, drawn.bar_radius, solved=solved))


def _datum(solution: Solution, bar: float | None) -> tuple[float, float]:
    """Radius at which the face at Z zero stands, and the radius beyond which lengths stand outside."""
    face = max((point.r for point in solution.joints if abs(point.z) < LEAST), default=0.0)
    return face, max(*(point.r for point in solution.joints), *(() if bar is None else (bar,))) / 2.0


def _from_zero(end: Point, datum: tuple[float, float], field: str) -> Dimension:
    face, middle = datum
    start = Point(0.0, max(face, middle) if end.r >= middle else face)
    return Dimension("length", start, end, abs(end.z), LENGTH, field)


def _typed(solution: Solution, given: ContourGiven, bar: float | None) -> Iterator[Dimension]:
    datum = _datum(solution, bar)
    for row, element in zip(given.rows, solution.sharp, strict=True):
        names = {name: f"{given.prefix}.{row}.{name}" for name in ("x", "z", "dz", "r", "ha", "at", "tp")}
        shown = {name: field for name, field in names.items() if field in given.typed}
        if _is_cut_short(element, solution):
            shown = {name: field for name, field in shown.items() if name not in ("z", "dz")}
        if row not in given.grooves.values():
            yield from _of_element(element, shown, datum)
    yield from groove_dimensions(solution, given)
    yield from _of_corners(solution, given)


def groove_dimensions(solution: Solution, given: ContourGiven) -> Iterator[Dimension]:
    """The width of each groove with its depth or, where the print gives that, the diameter of its bottom.

    >>> from calc.contour.solving import solve
    >>> from calc.contour.text import read_rows, rows_of
    >>> from calc.language.quantities import View
    >>> given, _ = read_rows(rows_of("s_x25_z0*t_z-20*g_w3_dep2*t_z-40"), View())
    >>> solution = solve(given.start, given.elements).solutions[0]
    >>> [(each.value, each.by[0], each.field) for each in groove_dimensions(solution, given)]
    [(3.0, 2.0, 'rows.2.w')]
    """
    for first, row in given.grooves.items():
        wall, bottom = solution.sharp[first : first + 2]
        if bottom.length > LEAST:
            name, surface = f"{given.prefix}.{row}", wall.start.r
            deep = (abs(surface - bottom.end.r), LENGTH)
            by = (2.0 * _nominal(given, f"{name}.x", bottom.end.r), DIAMETER) if f"{name}.x" in given.typed else deep
            ends = Point(bottom.start.z, surface), Point(bottom.end.z, surface)
            width = _nominal(given, f"{name}.w", bottom.length)
            yield Dimension("length", *ends, width, LENGTH, f"{name}.w", by=by, if_room=True)


def _nominal(given: ContourGiven, field: str, drawn: float) -> float:
    """The size that the print gives where it has limits, which is drawn within them."""
    limits = limited(given.typed.get(field))
    return drawn if limits is None else limits.value


def _is_cut_short(element: Element, solution: Solution) -> bool:
    """Whether it is the bar itself, which the sketch cuts short."""
    return element is solution.sharp[-1] and abs(element.start.r - element.end.r) < LEAST


def _of_element(element: Element, shown: Mapping[str, str], datum: tuple[float, float]) -> Iterator[Dimension]:
    start, end = element.start, element.end
    if "x" in shown and end.r > LEAST:
        yield Dimension("diameter", end, end.mirrored(), 2.0 * end.r, DIAMETER, shown["x"])
    if "z" in shown and abs(end.z) > LEAST:
        yield _from_zero(end, datum, shown["z"])
    elif "dz" in shown and abs(end.z - start.z) > LEAST:
        yield Dimension("length", Point(start.z, end.r), end, abs(end.z - start.z), LENGTH, shown["dz"])
    if "r" in shown and isinstance(element, Arc):
        yield _radius(element, shown["r"])
    if not isinstance(element, Arc):
        yield from _of_slope(element, shown)


def _of_slope(line: Element, shown: Mapping[str, str]) -> Iterator[Dimension]:
    """The half angle, taper or angle of a line that is neither along the axis nor square to it."""
    start, end = line.start, line.end
    across, along = abs(start.r - end.r), abs(start.z - end.z)
    if min(across, along) <= LEAST:
        return
    if "tp" in shown:
        middle = line.point_at(line.length / 2.0)
        yield Dimension("taper", middle, _aside(line, middle), 2.0 * across / along, RATIO, shown["tp"])
    for name in ("ha", "at"):
        if name in shown:
            vertex, far = sorted((start, end), key=lambda point: point.r)
            lean = math.atan2(across, along)
            yield Dimension("angle", far, Point(far.z, vertex.r), lean, ANGLE, shown[name], vertex=vertex)


def _aside(line: Element, middle: Point) -> Point:
    """A point beside the middle of a line, away from the axis."""
    normal = line.tangent_at(line.length / 2.0)
    sign = 1.0 if normal.z >= 0.0 else -1.0
    return middle.shifted(-sign * normal.r * line.length, sign * normal.z * line.length)


def _of_corners(solution: Solution, given: ContourGiven) -> Iterator[Dimension]:
    for solved in solution.elements:
        field = given.corners[solved.of] if solved.is_corner and solved.of < len(given.corners) else ""
        if field not in given.breaks:
            continue
        broken, element = given.breaks[field], solved.element
        if broken.kind == "radius" and isinstance(element, Arc):
            yield _radius(element, field)
        if broken.kind == "chamfer" and not isinstance(element, Arc):
            middle, corner = element.point_at(element.length / 2.0), solution.sharp[solved.of].end
            yield Dimension("chamfer", middle, corner, broken.size, LENGTH, field, angle=_angle_of(broken, element))


def _angle_of(broken: GivenCorner, chamfer: Element) -> float | None:
    """The angle of a chamfer to the axis (rad) where it is given or half a right angle; else its legs say it."""
    if broken.angle is not None:
        return broken.angle
    across, along = abs(chamfer.start.r - chamfer.end.r), abs(chamfer.start.z - chamfer.end.z)
    return math.pi / 4.0 if abs(across - along) < LEAST else None


def _radius(arc: Arc, field: str) -> Dimension:
    return Dimension("radius", arc.point_at(arc.length / 2.0), arc.centre, arc.radius, RADIUS, field)


def _first_of_each(found: Iterable[Dimension]) -> Iterator[Dimension]:
    """A size that several rows give stands once, as on a print (ISO 129-1); and no more than a sketch can have."""
    seen: dict[str, list[Dimension]] = {shape: [] for shape in MOST}
    for each in found:
        same = seen[each.shape]
        if len(same) < MOST[each.shape] and not any(_says_the_same(each, other) for other in same):
            same.append(each)
            yield replace(each, if_room=each.if_room or each.shape not in SURE)


def _left_out(solution: Solution, given: ContourGiven, bar: float | None) -> Iterator[Dimension]:
    """The coordinates of points on the part, and the radii, that the print leaves out."""
    datum = _datum(solution, bar)
    on_part = {element.end for element in solution.contour}
    for row, asked, element in zip(given.rows, given.elements, solution.sharp, strict=True):
        name, end = f"{given.prefix}.{row}", element.end
        if row in given.grooves.values() or end not in on_part or _is_cut_short(element, solution):
            continue
        if asked.r is None and asked.dr != 0.0 and end.r > LEAST:
            yield Dimension("diameter", end, end.mirrored(), 2.0 * end.r, DIAMETER, f"{name}.x")
        if _leaves_z_out(asked) and abs(end.z) > LEAST:
            yield _from_zero(end, datum, f"{name}.z")
        if isinstance(element, Arc) and asked.radius is None:
            yield _radius(element, f"{name}.r")


def _leaves_z_out(asked: GivenElement) -> bool:
    return asked.z is None and asked.dz is None
