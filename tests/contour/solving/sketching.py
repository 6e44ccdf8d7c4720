"""A print as a sketch of a general geometric constraint solver (tests only)."""

from __future__ import annotations

import math
from typing import Any

import slvs  # type: ignore[import-not-found,import-untyped,unused-ignore]  # tests only, where it has a wheel

from calc.contour import Arc, Element, Point
from calc.contour.solving import GivenElement, Start

E = slvs.E_NONE
FIXED, FREE = 1, 2
"""Groups of entities: what stands still, and what is solved for."""

REDUNDANT_BUT_FINE = 4
"""What that solver answers where a constraint says again what others say."""


class Sketch:
    """The print drawn near ``guess``, with a constraint for each dimension that it gives."""

    def __init__(self, start: Start, elements: tuple[GivenElement, ...], guess: tuple[Element, ...]) -> None:
        slvs.clear_sketch()
        self.guess = guess
        self.normal = slvs.add_normal_3d(FIXED, 1.0, 0.0, 0.0, 0.0)
        self.plane = slvs.add_workplane(FIXED, slvs.add_point_3d(FIXED, 0.0, 0.0, 0.0), self.normal)
        self.origin = slvs.add_point_2d(FIXED, 0.0, 0.0, self.plane)
        self.axis_z, self.axis_r = self._fixed_line(0.0), self._fixed_line(math.pi / 2.0)
        self.joints = [self._point(guess[0].start), *(self._point(element.end) for element in guess)]
        self.centres = [self._point(e.centre) if isinstance(e, Arc) else None for e in guess]
        self.curves = [self._curve(index, element) for index, element in enumerate(guess)]
        self._place(self.joints[0], start.z, start.r)
        for index, element in enumerate(elements):
            self._constrain(index, element)

    def solve(self) -> tuple[list[Point], list[Point | None]]:
        """Joints and centres that the constraint solver finds."""
        result: Any = slvs.solve_sketch(FREE, False)
        code = result["result"] if isinstance(result, dict) else result.result
        assert code in (0, REDUNDANT_BUT_FINE), code
        return [self._where(joint) for joint in self.joints], [
            None if centre is None else self._where(centre) for centre in self.centres
        ]

    def _point(self, point: Point) -> Any:
        return slvs.add_point_2d(FREE, point.z, point.r, self.plane)

    def _fixed_line(self, angle: float) -> Any:
        far = slvs.add_point_2d(FIXED, 100.0 * math.cos(angle), 100.0 * math.sin(angle), self.plane)
        return slvs.add_line_2d(FIXED, self.origin, far, self.plane)

    def _curve(self, index: int, element: Element) -> Any:
        start, end = self.joints[index], self.joints[index + 1]
        if not isinstance(element, Arc):
            return slvs.add_line_2d(FREE, start, end, self.plane)
        ends = (start, end) if element.turn == "ccw" else (end, start)
        return slvs.add_arc(FREE, self.normal, self.centres[index], *ends, self.plane)

    def _place(self, point: Any, z: float | None, r: float | None) -> None:
        if z is not None:
            self._distance(point, self.axis_r, -z)
        if r is not None:
            self._distance(point, self.axis_z, r)

    def _distance(self, point: Any, line: Any, value: float) -> None:
        """Signed: positive to the left of the line."""
        if value == 0.0:
            slvs.coincident(FREE, point, line, self.plane)
        else:
            slvs.distance(FREE, point, line, -value, self.plane)

    def _constrain(self, index: int, element: GivenElement) -> None:
        start, end, curve = self.joints[index], self.joints[index + 1], self.curves[index]
        self._place(end, element.z, element.r)
        if element.centre_z is not None or element.centre_r is not None:
            self._place(self.centres[index], element.centre_z, element.centre_r)
        if element.radius is not None:
            slvs.diameter(FREE, curve, 2.0 * element.radius)
        if element.length is not None:
            slvs.distance(FREE, start, end, element.length, self.plane)
        if element.angle is not None:
            slvs.parallel(FREE, self._fixed_line(element.angle), curve, self.plane)
        if element.tangent:
            self._join_smoothly(index)
        if element.dz is not None or element.dr is not None:
            self._step(start, end, element.dz, element.dr)

    def _join_smoothly(self, index: int) -> None:
        """Arcs of that solver run counter-clockwise, so that a clockwise one ends where ours starts."""
        before, after = self.guess[index - 1], self.guess[index]
        at_end = isinstance(before, Arc) and before.turn == "ccw"
        from_end = isinstance(after, Arc) and after.turn == "cw"
        first, second = self.curves[index - 1], self.curves[index]
        kind = slvs.ConstraintType.ARC_LINE_TANGENT
        if isinstance(before, Arc) and isinstance(after, Arc):
            kind = slvs.ConstraintType.CURVE_CURVE_TANGENT
            slvs.add_constraint(FREE, kind, self.plane, 0.0, E, E, first, second, E, E, at_end, from_end)
        elif isinstance(before, Arc):
            slvs.add_constraint(FREE, kind, self.plane, 0.0, E, E, first, second, E, E, at_end)
        else:
            slvs.add_constraint(FREE, kind, self.plane, 0.0, E, E, second, first, E, E, from_end)

    def _step(self, start: Any, end: Any, dz: float | None, dr: float | None) -> None:
        """By way of a third point, level with the start and plumb with the end."""
        a, b = self._where(start), self._where(end)
        corner = self._point(Point(b.z, a.r))
        slvs.parallel(FREE, slvs.add_line_2d(FREE, start, corner, self.plane), self.axis_z, self.plane)
        slvs.parallel(FREE, slvs.add_line_2d(FREE, corner, end, self.plane), self.axis_r, self.plane)
        if dz is not None:
            slvs.distance(FREE, start, corner, abs(dz), self.plane)
        if dr is not None:
            slvs.distance(FREE, corner, end, abs(dr), self.plane)

    @staticmethod
    def _where(point: Any) -> Point:
        handles = point["param"] if isinstance(point, dict) else point.param
        return Point(slvs.get_param_value(handles[0]), slvs.get_param_value(handles[1]))
