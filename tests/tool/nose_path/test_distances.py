"""How far places are from lines and arcs, and from which: against a geometry library's distance from fine polylines."""

from __future__ import annotations

import cmath
import random
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
import shapely

from calc.contour import Arc, Element, Line, Point
from calc.tool.nose_path.distances import Distances

FINE = 2000
"""Chords of an arc: of a radius of 20 mm and a whole turn they stay within 0.03 um of it."""


def some_elements(chance: random.Random) -> list[Element]:
    """Lines and arcs of both senses, mixed, so that neither kind stands first."""
    found: list[Element] = []
    for number in range(8):
        start = Point(chance.uniform(-30.0, 0.0), chance.uniform(0.0, 30.0))
        if number % 2:
            found.append(Line(start, start.shifted(chance.uniform(2.0, 9.0), chance.uniform(-9.0, 9.0))))
        else:
            sense = chance.choice((-1.0, 1.0))
            first = chance.uniform(-3.0, 3.0)
            turned = first + sense * chance.uniform(0.3, 4.5)
            found.append(Arc.from_angles(start, chance.uniform(1.0, 20.0), first, turned, "ccw" if sense > 0 else "cw"))
    return found


def drawn(element: Element) -> shapely.LineString:
    count = FINE if isinstance(element, Arc) else 1
    points = [element.point_at(element.length * index / count) for index in range(count + 1)]
    return shapely.LineString([(point.z, point.r) for point in points])


@pytest.mark.parametrize("seed", range(6))
def test_the_nearest_element_and_its_distance_are_the_geometry_librarys(seed: int) -> None:
    chance = random.Random(seed)
    elements = some_elements(chance)
    places = [complex(chance.uniform(-40.0, 15.0), chance.uniform(-10.0, 40.0)) for _ in range(60)]
    lines, points = [drawn(each) for each in elements], [shapely.Point(at.real, at.imag) for at in places]
    expected = np.array([[line.distance(point) for line in lines] for point in points])
    found, which = Distances(elements).nearest_with_index_at(np.array(places))
    assert found == pytest.approx(expected.min(axis=1), abs=1e-4)
    assert expected[np.arange(len(places)), which] == pytest.approx(expected.min(axis=1), abs=1e-4)
    assert Distances(elements).nearest_at(np.array(places)) == pytest.approx(found, abs=1e-12)


def test_beyond_the_ends_of_an_arc_the_nearer_end_counts() -> None:
    """A quarter about the origin from 0 to 90 degrees: opposite it both ends are sqrt(R^2 + d^2 + sqrt(2) R d) away."""
    quarter = Arc.from_angles(Point(0.0, 0.0), 10.0, 0.0, cmath.pi / 2, "ccw")
    away = 4.0 * cmath.exp(1.25j * cmath.pi)
    expected = (100.0 + 16.0 + 2.0**0.5 * 40.0) ** 0.5
    assert Distances([quarter]).nearest_at(np.array([away]))[0] == pytest.approx(expected, rel=1e-12)


def test_of_the_elements_around_some_places_those_alone_are_kept_that_may_be_nearest() -> None:
    """Four walls 30 off in the four directions, one 2 below the places: 2 to 4 off, the walls 27 and more."""
    walls = [((-30.0, -9.0), (-30.0, 9.0)), ((30.0, -9.0), (30.0, 9.0)), ((-9.0, -30.0), (9.0, -30.0)),
             ((-9.0, 30.0), (9.0, 30.0)), ((-3.0, -2.0), (3.0, -2.0))]  # fmt: skip
    whole = Distances([Line(Point(*a), Point(*b)) for a, b in walls])
    places = np.array([-1.0 + 0j, 1.0 + 2j])
    near = whole.around(places)
    for beside in (-29.0 + 0j, 29.0 + 0j, -29j, 29j):
        assert whole.nearest_at(np.array([beside])) == pytest.approx([1.0])
        assert near.nearest_with_index_at(np.array([beside]))[1].tolist() == [4]


@pytest.mark.parametrize("seed", range(12))
def test_what_is_kept_around_places_holds_the_nearest_of_each(seed: int) -> None:
    """Sets of places of 1 to 6 mm anywhere among the elements."""
    chance = random.Random(seed)
    elements = some_elements(chance)
    corner, size = complex(chance.uniform(-40.0, 10.0), chance.uniform(-10.0, 35.0)), chance.uniform(1.0, 6.0)
    places = np.array([corner + complex(chance.uniform(0.0, size), chance.uniform(0.0, size)) for _ in range(20)])
    whole = Distances(elements)
    assert whole.around(places).nearest_at(places) == pytest.approx(whole.nearest_at(places), abs=1e-12)


def test_what_may_be_nearest_is_kept_to_the_diagonal_of_the_places_beyond_the_first_ones_distance() -> None:
    """Places 3 by 4 about, the first 2 off the floor: walls are kept up to 2 + 5 beside their box, no farther."""
    places = np.array([10.0 + 20.0j, 13.0 + 24.0j])
    floor = Line(Point(9.0, 18.0), Point(11.0, 18.0))
    for off, kept in ((6.99, True), (7.01, False)):
        left, right, above, below = 10.0 - off, 13.0 + off, 24.0 + off, 20.0 - off
        walls = [
            Line(Point(left, 20.0), Point(left, 21.0)), Line(Point(right, 23.0), Point(right, 24.0)),
            Line(Point(10.0, above), Point(11.0, above)), Line(Point(12.0, below), Point(13.0, below)),
        ]  # fmt: skip
        near = Distances([floor, *walls]).around(places)
        beside = np.array([wall.point_at(0.5).z + 1j * wall.point_at(0.5).r for wall in walls])
        assert (near.nearest_with_index_at(beside)[1] == np.arange(1, 5)).tolist() == [kept] * 4


def test_many_places_are_held_to_the_elements_near_by_a_few_at_a_time(monkeypatch: pytest.MonkeyPatch) -> None:
    """Places along a zigzag of 1,000 lines, 0.3 over its low corners: all pairs would be 4,000,000."""
    sizes: list[int] = []

    def counted(every: Distances, places: Any, of: Any = Distances._from_lines) -> Any:
        sizes.append(of(every, places).size)
        return of(every, places)

    corners = [Point(-0.5 * index, 20.0 + 0.25 * (index % 2)) for index in range(1001)]
    whole = Distances([Line(a, b) for a, b in pairwise(corners)])
    monkeypatch.setattr(Distances, "_from_lines", counted)
    places = np.asarray(np.linspace(0.0, -500.0, 4000) + 20.3j, dtype=complex)
    found, which = whole.nearest_with_index_at(places)
    assert max(sizes) < 50_000
    assert sum(sizes) < 1_000_000
    contour = shapely.LineString([tuple(corner) for corner in corners])
    assert found == pytest.approx(shapely.distance(contour, shapely.points(places.real, places.imag)), abs=1e-12)
    assert (which == np.clip(np.floor(-2.0 * places.real), 0, 999)).mean() > 0.9
