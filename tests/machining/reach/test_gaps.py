"""Exact distances of moving outlines, against shapely."""

import math
from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, MultiPoint, Polygon

from calc.contour import Arc, Element, Line, Point, Turn
from calc.contour.many import Floats, many, many_of
from calc.machining.reach.gaps import Rim
from calc.machining.reach.tool import hull

PLACE = st.floats(-20.0, 20.0)
POINTS = st.builds(Point, PLACE, PLACE)


def gap_to(core: Sequence[Point], centres: Sequence[Point], element: Element) -> Floats:
    """Distance (mm) of the core's rim from the element for each place of the nose centre; 0 where they cross."""
    places = np.array([complex(*centre) for centre in centres])
    rim = Rim([core])
    gaps = np.full(len(places), np.inf)
    for edge in range(len(rim)):
        which = np.full(len(places), edge)
        gaps = np.minimum(gaps, rim.gaps(which, places, many_of([element])[np.zeros(len(places), dtype=np.intp)]))
    return gaps


def polyline(element: Element) -> LineString:
    count = 4000 if isinstance(element, Arc) else 1
    return LineString([tuple(element.point_at(element.length * i / count)) for i in range(count + 1)])


def check(core: tuple[Point, ...], at: Point, element: Element) -> None:
    """The gap of the polygon's rim from the element."""
    corners = [tuple(corner.shifted(*at)) for corner in core]
    rim = Polygon(corners).exterior if len(corners) > 2 else MultiPoint(corners)
    found = float(gap_to(core, [at], element)[0])
    assert found == pytest.approx(rim.distance(polyline(element)), abs=2e-5)


@settings(deadline=None)
@given(st.lists(POINTS, min_size=3, max_size=7), POINTS, POINTS, POINTS)
def test_a_polygon_and_a_line_are_as_far_apart_as_shapely_says(
    corners: list[Point], at: Point, start: Point, end: Point
) -> None:
    core = hull(corners)
    if len(core) > 2 and start.distance_to(end) > 0.01 and Polygon(core).area > 0.01:
        check(core, at, Line(start, end))


@settings(deadline=None)
@given(
    st.lists(POINTS, min_size=3, max_size=7), POINTS, POINTS, st.floats(0.5, 30.0), st.floats(-3.0, 3.0),
    st.floats(0.1, 6.0), st.sampled_from(["cw", "ccw"]),
)  # fmt: skip
def test_a_polygon_and_an_arc_are_as_far_apart_as_shapely_says(
    corners: list[Point], at: Point, centre: Point, radius: float, first: float, sweep: float, turn: str
) -> None:
    core = hull(corners)
    way: Turn = "ccw" if turn == "ccw" else "cw"
    arc = Arc.from_angles(centre, radius, first, first + (sweep if way == "ccw" else -sweep), way)
    if len(core) > 2 and Polygon(core).area > 0.01:
        check(core, at, arc)
        check((Point(0.0, 0.0),), at, arc)


def test_many_places_at_once_are_as_one_by_one() -> None:
    core = hull([Point(0.0, 0.0), Point(4.0, 1.0), Point(1.0, 5.0)])
    arc = Arc.from_angles(Point(0.0, 0.0), 9.0, 0.0, 2.0, "ccw")
    places = [Point(12.0 * math.cos(t / 5), 12.0 * math.sin(t / 5)) for t in range(30)]
    together = gap_to(core, places, arc)
    assert [float(gap) for gap in together] == [float(gap_to(core, [place], arc)[0]) for place in places]


@pytest.mark.parametrize("seed", range(6))
def test_whether_anything_comes_within_a_limit_is_what_every_place_tells(seed: int) -> None:
    """Against every edge and element at every place; limits just below and above the least gap of all."""
    chance = np.random.default_rng(seed)
    corners = np.cumsum(chance.uniform(-3.0, 3.0, 30)) + 1j * chance.uniform(20.0, 26.0, 30)
    shape = many(corners[:-1], corners[1:], np.zeros(29, dtype=complex), np.zeros(29))
    places = np.linspace(-40.0, 40.0, 400) + 1j * (30.0 + 3.0 * np.sin(np.linspace(0.0, 9.0, 400)))
    rim = Rim([(Point(0.0, 0.0), Point(2.0, 5.0), Point(-4.0, 6.0)), (Point(-1.0, 4.0), Point(9.0, 14.0))])
    nearest = float(rim.least(places, shape, shape.boxes(), 1e3)[0].min())
    assert rim.comes_within(places, shape, shape.boxes(), nearest + 1e-6)
    assert not rim.comes_within(places, shape, shape.boxes(), nearest - 1e-6)
