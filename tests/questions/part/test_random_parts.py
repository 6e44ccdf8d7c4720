"""A few random whole parts of the benchmark, the same ones each time: swept and timed again independently."""

from __future__ import annotations

import pytest

from tests.bench.random_parts import tried


@pytest.mark.parametrize("seed", [3, 11, 24])
def test_volumes_agree_nothing_is_touched_in_air_and_times_are_those_of_quadrature(seed: int) -> None:
    report = tried(seed)
    assert report is not None
    assert report.faults == []
    assert report.operations >= 2
    assert report.timed > 0
