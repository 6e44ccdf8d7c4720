"""Arcs are drawn as the exact arcs that they are, the right way round."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.contour import Arc, Point
from calc.language.quantities import METRIC
from server.sketch import draw
from server.sketch.markup import Plane, elements_path, move
from tests.sketch.drawings import CASES
from tests.sketch.svg import NS, arc_points, parsed

COUNT = 9


def drawn_points(arc: Arc, plane: Plane, mirrored: bool) -> list[tuple[float, float]]:
    sign = -1.0 if mirrored else 1.0
    start = plane.xy(arc.start.z, sign * arc.start.r)
    return arc_points(move(*start) + elements_path([arc], plane, mirrored=mirrored), COUNT)[0]


@given(
    start=st.floats(-math.pi, math.pi),
    angle=st.floats(0.2, 6.0).filter(lambda angle: abs(angle - math.pi) > 0.02),
    turn=st.sampled_from(("cw", "ccw")),
    mirrored=st.booleans(),
    radius=st.floats(30.0, 200.0),
)
def test_a_drawn_arc_passes_through_the_points_of_the_arc(
    start: float, angle: float, turn: str, mirrored: bool, radius: float
) -> None:
    end = start + (angle if turn == "ccw" else -angle)
    arc = Arc.from_angles(Point(3.0, 40.0), radius, start, end, "ccw" if turn == "ccw" else "cw")
    plane = Plane(2.0, 500.0, 400.0)
    sign = -1.0 if mirrored else 1.0
    for i, (x, y) in enumerate(drawn_points(arc, plane, mirrored)):
        point = arc.point_at(arc.length * i / (COUNT - 1))
        assert math.dist((x, y), plane.xy(point.z, sign * point.r)) < 0.8  # ends are rounded to 0.01 px


@pytest.mark.parametrize("name", CASES)
def test_the_outline_bulges_toward_the_chuck_where_the_dish_is_hollow(name: str) -> None:
    case = CASES[name]
    svg = parsed(draw(case.drawing(), METRIC))
    data = next(p.attrib["d"] for p in svg.iter(f"{NS}path") if p.get("class") == "o")
    dish = max(arc_points(data), key=lambda points: math.dist(points[0], points[-1]), default=None)
    if dish is None:
        assert name == "too flat to see"
    else:
        assert dish[len(dish) // 2][0] < (dish[0][0] + dish[-1][0]) / 2.0


def test_an_arc_flatter_than_the_eye_can_tell_is_drawn_as_its_chord() -> None:
    arc = Arc.from_radius(Point(0.0, 10.0), Point(-0.001, 0.0), 1e6, "ccw")
    assert elements_path([arc], Plane(5.0, 100.0, 100.0)) == "V100"
