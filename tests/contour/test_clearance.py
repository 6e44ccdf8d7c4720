"""How far elements are apart, against a general geometry library."""

import math
from random import Random

import pytest
import shapely

from calc.contour import Arc, Element, Line, Point
from calc.contour.closest import clearance
from tests.tries import some


def fine(element: Element) -> shapely.LineString:
    count = 1 if isinstance(element, Line) else 4000
    return shapely.LineString([element.point_at(element.length * step / count) for step in range(count + 1)])


def drawn(chance: Random) -> Element:
    at = Point(chance.uniform(-10.0, 10.0), chance.uniform(-10.0, 10.0))
    if chance.random() < 0.5:
        return Line(at, Point(chance.uniform(-10.0, 10.0), chance.uniform(-10.0, 10.0)))
    start = chance.uniform(-math.pi, math.pi)
    return Arc.from_angles(at, chance.uniform(0.5, 8.0), start, start + chance.uniform(0.2, 6.0), "ccw")


@pytest.mark.parametrize("seed", some(range(200), 4))
def test_the_clearance_is_what_shapely_finds_between_fine_polylines(seed: int) -> None:
    chance = Random(seed)
    a, b = drawn(chance), drawn(chance)
    found = clearance(a, b)
    assert found == pytest.approx(shapely.distance(fine(a), fine(b)), abs=2e-5)
    assert clearance(b, a) == pytest.approx(found, abs=1e-12)
