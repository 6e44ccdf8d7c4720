"""Random plans swept again independently, a fixed twentieth of `tests/bench/bench_plans.py`."""

import random

import numpy as np
import pytest
import shapely

from tests.bench.random_plans import hull, random_part, tried

SEEDS = range(0, 1000, 21)


@pytest.mark.parametrize("seed", [*SEEDS, 57, 165, 784])
def test_nothing_is_touched_in_air_nothing_gouged_unnamed_and_the_volume_agrees(seed: int) -> None:
    """A general geometry library moves the insert in convex hulls of neighbouring positions."""
    _, report = tried(seed)
    assert report is not None
    assert report.faults == []


def test_all_kinds_of_parts_are_among_them() -> None:
    assert {random_part(seed).kind for seed in SEEDS} == {"outside", "bore", "face", "dish"}


@pytest.mark.parametrize("seed", range(20))
def test_what_a_convex_body_passes_over_is_the_geometry_librarys_hull_of_both_places(seed: int) -> None:
    chance = random.Random(seed)
    body = shapely.convex_hull(shapely.MultiPoint([(chance.uniform(0, 9), chance.uniform(0, 9)) for _ in range(30)]))
    rim = shapely.get_coordinates(shapely.orient_polygons(body).exterior)[:-1]
    a, b = (np.array([chance.uniform(-9, 9), chance.choice([0.0, chance.uniform(-9, 9)])]) for _ in range(2))
    ours, theirs = shapely.Polygon(hull(rim, a, b)), shapely.convex_hull(shapely.MultiPoint([*(rim + a), *(rim + b)]))
    assert ours.is_valid
    assert ours.symmetric_difference(theirs).area < 1e-9 * theirs.area
