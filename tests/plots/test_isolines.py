"""Lines of equal value and the regions above them, against shapes whose measure is known and against shapely."""

from __future__ import annotations

from math import hypot, pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon
from shapely.ops import unary_union

from server.plots.isolines import isolines, regions

SIDE = np.arange(41.0)


def bowl(across: float = 20.0, up: float = 20.0) -> np.ndarray:
    """Distance from a place of a 41 by 41 grid."""
    return np.hypot(SIDE - across, SIDE[:, np.newaxis] - up)


def test_a_circle_is_one_closed_line_of_the_right_length_and_distance() -> None:
    (line,) = isolines(bowl(), 12.0)
    assert line[0] == line[-1]
    assert LineString(line).length == pytest.approx(2 * pi * 12.0, rel=2e-3)
    assert all(hypot(x - 20.0, y - 20.0) == pytest.approx(12.0, abs=0.02) for x, y in line)


def test_a_plane_gives_one_straight_line_from_edge_to_edge() -> None:
    values = SIDE + 2 * SIDE[:, np.newaxis]
    (line,) = isolines(values, 50.5)
    assert all(x + 2 * y == pytest.approx(50.5) for x, y in line)
    ends = sorted((line[0], line[-1]))
    assert ends == [pytest.approx((0.0, 25.25)), pytest.approx((40.0, 5.25))]


def test_two_hills_give_two_lines_and_none_above_the_top() -> None:
    values = np.maximum(10.0 - bowl(10.0, 20.0), 10.0 - bowl(30.0, 20.0))
    assert len(isolines(values, 3.0)) == 2
    assert isolines(values, 11.0) == []


@pytest.mark.parametrize("middle", [0.4, 0.6])
def test_a_saddle_is_joined_one_way_or_the_other_and_never_crossed(middle: float) -> None:
    values = np.array([[1.0, 0.0], [0.0, 1.0]])
    lines = [LineString(line) for line in isolines(values, middle)]
    assert len(lines) == 2
    assert not lines[0].crosses(lines[1])


def test_the_region_inside_a_circle_has_its_area() -> None:
    (outline,) = regions(12.0 - bowl(), 121)
    assert Polygon(outline).area == pytest.approx(pi * 144.0, rel=1e-2)


def test_a_region_that_splits_is_outlined_without_overlap() -> None:
    values = np.maximum(8.0 - bowl(10.0, 20.0), 8.0 - bowl(30.0, 20.0))
    parts = [Polygon(outline) for outline in regions(values, 121)]
    assert unary_union(parts).area == pytest.approx(sum(part.area for part in parts))
    assert sum(part.area for part in parts) == pytest.approx(2 * pi * 64.0, rel=0.02)


def test_everywhere_above_is_the_whole_grid_and_nowhere_is_nothing() -> None:
    (outline,) = regions(np.ones((5, 9)), 60)
    assert Polygon(outline).area == pytest.approx(4.0 * 8.0)
    assert regions(-np.ones((5, 9)), 60) == []


@given(st.integers(0, 10_000), st.floats(0.2, 0.8))
def test_on_any_field_each_line_runs_through_its_level(seed: int, level: float) -> None:
    values = np.random.default_rng(seed).random((6, 7))
    for line in isolines(values, level):
        assert len(line) >= 2
        for x, y in line:
            row, column = min(int(y), 4), min(int(x), 5)
            if y == row or x == column or y == row + 1 or x == column + 1:
                a, b = y - row, x - column
                square = values[row : row + 2, column : column + 2]
                between = (
                    (1 - a) * (1 - b) * square[0, 0] + (1 - a) * b * square[0, 1] + a * (1 - b) * square[1, 0]
                    + a * b * square[1, 1]
                )  # fmt: skip
                assert between == pytest.approx(level, abs=1e-9)
