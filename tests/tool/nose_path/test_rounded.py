"""Contours that close only to rounding, as inches of nine decimals do: the nose touches what it touches unrounded.

Reference: the same contour with all its digits.
"""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from calc.contour import Arc, Chain, ContourError, Element, Line, Point
from calc.tool.nose_path import NosePath, nose_path
from tests.contour.solving.shop import handle, shop_print
from tests.tries import some

INCH = 25.4


def _typed(place: Point, unit: float, decimals: int) -> Point:
    return Point(*(round(value / unit, decimals) * unit for value in place))


def _rounded(elements: tuple[Element, ...], unit: float, decimals: int) -> Chain | None:
    """The contour from typed ends and centres; None where an arc's ends then stand too unequally to be one."""
    found: list[Element] = []
    try:
        for one in elements:
            start, end = (_typed(place, unit, decimals) for place in (one.start, one.end))
            arc = isinstance(one, Arc) and Arc(start, end, _typed(one.centre, unit, decimals), one.turn)
            found.append(arc or Line(start, end))
    except ContourError:
        return None
    return Chain(tuple(found))


def _noses(elements: tuple[Element, ...]) -> list[float]:
    """Those of shops, and each radius of the contour itself: a fillet is turned by a nose of its own radius."""
    return [0.4, 1.2, 6.0, *{one.radius for one in elements if isinstance(one, Arc)}]


def _said(path: NosePath) -> tuple[int, list[tuple[tuple[int, ...], str]]]:
    return len(path.runs), [(gap.elements, gap.reason) for gap in path.unreached]


@pytest.mark.parametrize("seed", some(range(60), 8))
@pytest.mark.parametrize(("unit", "decimals"), [(INCH, 9), (1.0, 8)])
def test_what_a_nose_touches_does_not_hang_on_the_last_decimal_of_ends_and_centres(
    seed: int, unit: float, decimals: int
) -> None:
    elements = shop_print(seed).original if seed // 8 % 2 else handle(seed, 6)
    rounded = _rounded(elements, unit, decimals)
    if rounded is None:
        return
    for nose in _noses(elements):
        path = nose_path(rounded, nose, "right")
        assert _said(path) == _said(nose_path(Chain(elements), nose, "right"))
        assert all(a.element.end == b.element.start for run in path.runs for a, b in pairwise(run))


def test_most_of_these_contours_are_arcs_still_when_they_are_rounded() -> None:
    made = [shop_print(seed).original for seed in range(1, 60, 2)]
    assert sum(_rounded(elements, INCH, 9) is not None for elements in made) > 0.8 * len(made)


def test_a_dish_of_inches_whose_ends_are_4_nanometres_off_its_circle_is_touched_from_mouth_to_axis() -> None:
    """R75 in inches of nine decimals: the ends of the arc differ by 9e-9 mm in their distance from the centre."""
    mouth, bottom = Point(0.0, 2.014809698 * INCH / 2.0), Point(-0.177165354 * INCH, 0.0)
    dish = Arc(mouth, bottom, Point(2.775590551 * INCH, 0.0), "ccw")
    path = nose_path(Chain((dish,)), 6.0, "left")
    assert path.is_whole
    assert path.steps[0].element.length == pytest.approx((75.0 - 6.0) * math.asin(mouth.r / 75.0), abs=1e-6)
