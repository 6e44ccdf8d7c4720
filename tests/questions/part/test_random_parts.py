"""A twentieth of the benchmark's random whole parts, the same each time: swept and timed again independently."""

from __future__ import annotations

import pytest

from tests.bench.random_parts import tried
from tests.tries import some


@pytest.mark.parametrize("seed", [*some(range(15), 3), 57])  # 57: a stretch ends before the wall of a level
def test_volumes_agree_nothing_is_touched_in_air_and_times_are_those_of_quadrature(seed: int) -> None:
    report = tried(seed)
    assert report is not None
    assert report.faults == []
    assert report.operations >= 2
    assert report.timed > 0
