"""Which boxes overlap, against every pair looked at; what very many of them hold in memory."""

from __future__ import annotations

import tracemalloc

import numpy as np
import pytest

from calc.contour.boxes import Floats, overlapping, overlaps


def _boxes(count: int, width: float, seed: int) -> Floats:
    chance = np.random.default_rng(seed)
    low = chance.uniform(0.0, 100.0, (count, 2))
    high = low + chance.uniform(0.0, width, (count, 2))
    return np.stack([low[:, 0], high[:, 0], low[:, 1], high[:, 1]], axis=1)


@pytest.mark.parametrize("width", [0.5, 30.0])
def test_the_pairs_are_those_of_all_that_overlap(width: float) -> None:
    some, others = _boxes(2000, width, 1), _boxes(700, width, 2)
    apart = np.zeros((len(some), len(others)), dtype=bool)
    for axis in (0, 2):
        apart |= some[:, None, axis] > others[None, :, axis + 1]
        apart |= others[None, :, axis] > some[:, None, axis + 1]
    i, j = np.nonzero(~apart)
    found = overlapping(some, others)
    assert (found[0].tolist(), found[1].tolist()) == (i.tolist(), j.tolist())


def test_millions_of_pairs_are_not_held_at_once() -> None:
    """Boxes as wide as the whole, as those of a nose that is larger than the elements: three million pairs."""
    some, others = _boxes(3000, 100.0, 3), _boxes(1000, 100.0, 4)
    tracemalloc.start()
    count = sum(len(i) for i, _ in overlaps(some, others))
    _, most = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert count > 1_000_000
    assert most < 80e6
