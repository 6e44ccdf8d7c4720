"""Random plans swept again independently, a fixed twentieth of `tests/bench/bench_plans.py`."""

import pytest

from tests.bench.random_plans import random_part, tried

SEEDS = range(0, 1000, 21)


@pytest.mark.parametrize("seed", [*SEEDS, 57, 165])
def test_nothing_is_touched_in_air_nothing_gouged_unnamed_and_the_volume_agrees(seed: int) -> None:
    """A general geometry library moves the insert in convex hulls of neighbouring positions."""
    _, report = tried(seed)
    assert report is not None
    assert report.faults == []


def test_all_kinds_of_parts_are_among_them() -> None:
    assert {random_part(seed).kind for seed in SEEDS} == {"outside", "bore", "face", "dish"}
