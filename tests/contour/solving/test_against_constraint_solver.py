"""Every solution of the catalogue of prints is one of a general geometric constraint solver, too."""

import random

import pytest

from calc.contour import Arc, Element, Line, Point
from calc.contour.solving import solve
from tests.contour.solving.cases import CASES

pytest.importorskip("slvs", reason="the constraint solver has no wheel for this Python")

from tests.contour.solving.sketching import Sketch

NEAR = 1e-6
"""mm: that solver stops at 1e-8 in its own equations, which curves magnify."""

NEAR_A_TOUCH = 1e-3
"""mm: where two curves touch, half of its digits are gone."""

TOUCHING = ("semicircle groove",)


@pytest.mark.parametrize("name", CASES)
def test_a_constraint_solver_comes_to_the_same_contours(name: str) -> None:
    case, near = CASES[name], NEAR_A_TOUCH if name in TOUCHING else NEAR
    for solution in solve(case.start, case.elements).solutions:
        joints, centres = Sketch(case.start, case.elements, _shaken(solution.sharp)).solve()
        for found, joint in zip(joints, solution.joints, strict=True):
            assert found.distance_to(joint) < near
        for centre, element in zip(centres, solution.sharp, strict=True):
            assert centre is None or (isinstance(element, Arc) and centre.distance_to(element.centre) < near)


def test_the_catalogue_is_large_enough() -> None:
    assert len(CASES) >= 30


def _shaken(elements: tuple[Element, ...]) -> tuple[Element, ...]:
    """The contour with every point moved by some hundredths of a mm, so that there is something to solve."""
    chance = random.Random(7)

    def off(point: Point) -> Point:
        return point.shifted(chance.uniform(-0.03, 0.03), chance.uniform(-0.03, 0.03))

    joints = [off(elements[0].start), *(off(element.end) for element in elements)]
    return tuple(
        Line(joints[i], joints[i + 1]) if isinstance(element, Line) else _loose(element, joints[i], joints[i + 1], off)
        for i, element in enumerate(elements)
    )


def _loose(arc: Arc, start: Point, end: Point, off: object) -> Arc:
    """An arc about the old centre whose ends need not be equally far from it: only a place to start from."""
    loose = object.__new__(Arc)
    for name, value in (("start", start), ("end", end), ("centre", off(arc.centre)), ("turn", arc.turn)):  # type: ignore[operator]
        object.__setattr__(loose, name, value)
    return loose
