from itertools import pairwise

import numpy as np
import pytest
import shapely

from calc.contour import Chain, Point, Side
from calc.tool.nose_path import NosePath, nose_path
from tests.tool.nose_path.contours import along, distance, polyline, random_contour
from tests.tries import some

BATCHES = some(range(30), 3)
NOSES = (0.4, 0.8, 1.6, 3.0)
FINE = 3e-3  # mm: what polylines and round buffers of a general geometry library are off by


def cases(batch: int) -> list[NosePath]:
    found = []
    for seed in range(10 * batch, 10 * batch + 10):
        side: Side = "left" if seed % 2 else "right"
        found.append(nose_path(random_contour(seed, 9), NOSES[seed % 4], side))
    return found


@pytest.mark.parametrize("batch", BATCHES)
def test_every_point_of_the_way_is_one_nose_radius_from_the_contour_and_nowhere_nearer(batch: int) -> None:
    for path in cases(batch):
        for step in (*path.steps, *(step for pocket in path.pockets for step in pocket)):
            for point in along(step.element, 8):
                assert distance(point, path.chain) == pytest.approx(path.nose_radius, abs=1e-9)


def buffered(path: NosePath) -> shapely.Polygon:
    """The contour grown by the nose: each short stretch by itself, as the library thins out longer lines first."""
    points = polyline(path.chain.elements, 0.012)
    lines = shapely.linestrings([(a, b) for a, b in pairwise(points) if a != b])
    return shapely.union_all(shapely.buffer(lines, path.nose_radius, quad_segs=32))


@pytest.mark.parametrize("batch", BATCHES)
def test_the_way_is_the_edge_of_the_buffer_that_a_geometry_library_makes(batch: int) -> None:
    for path in cases(batch):
        shape = buffered(path)
        ways = [shapely.LineString(polyline([step.element for step in run], 0.03)) for run in path.runs]
        for way in ways:
            assert shapely.distance(shapely.points(shapely.get_coordinates(way)), shape.boundary).max() < FINE
        outline = shape.exterior
        sampled = [Point(*outline.interpolate(share, normalized=True).coords[0]) for share in np.linspace(0, 1, 120)]
        mine = shapely.MultiLineString(ways)
        for point in sampled:
            if _faces(path, point):
                assert shapely.Point(point).distance(mine) < FINE, (path.chain, point)


def _faces(path: NosePath, point: Point) -> bool:
    """Whether a place on the buffer's edge is on the nose's side, away from the ends of the contour."""
    chain = path.chain
    if min(point.distance_to(end) for end in (chain.start, chain.end)) < path.nose_radius + FINE:
        return False
    near = [i for i, element in enumerate(chain) if element.distance_to(point) < path.nose_radius + FINE]
    return all(_aside(chain, i, point) * (1.0 if path.side == "left" else -1.0) > FINE for i in near)


def _aside(chain: Chain, index: int, point: Point) -> float:
    element = chain.elements[index]
    s = min(max(element.locate(point), 0.0), element.length)
    return element.tangent_at(s).cross(element.point_at(s).to(point))


@pytest.mark.parametrize("batch", BATCHES)
def test_runs_go_on_without_a_gap(batch: int) -> None:
    for path in cases(batch):
        for chain in path.centre_chains:
            assert all(a.end == b.start for a, b in zip(chain.elements, chain.elements[1:], strict=False))


@pytest.mark.parametrize("batch", BATCHES)
def test_what_is_not_reached_is_exactly_what_the_nose_stays_away_from(batch: int) -> None:
    """Sampled: a place of the contour is touched by the way, or lies in a listed stretch."""
    for path in cases(batch):
        ways = [shapely.LineString(polyline([step.element for step in run], 0.03)) for run in path.runs]
        centres = shapely.MultiLineString(ways)
        for index, element in enumerate(path.chain):
            for place in range(1, 12):
                s = element.length * place / 12
                listed = any((gap.first.of, gap.first.s) <= (index, s) <= (gap.last.of, gap.last.s)
                             for gap in path.unreached)  # fmt: skip
                away = shapely.Point(element.point_at(s)).distance(centres) - path.nose_radius
                if not listed:
                    assert away < FINE
                    assert away > -FINE
