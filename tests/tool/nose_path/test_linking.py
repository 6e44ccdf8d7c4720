"""Stretches joined to runs: on stretches made by hand, each from one place to another."""

from __future__ import annotations

import numpy as np
import pytest

from calc.tool.nose_path.linking import linked
from calc.tool.nose_path.stretches import Stretches

NEAR = 0.01


def stretches(*ends: tuple[complex, complex]) -> Stretches:
    starts, stops = (np.array([pair[side] for pair in ends], dtype=complex) for side in (0, 1))
    return Stretches(np.arange(len(ends)), starts, stops)


@pytest.mark.parametrize("direction", [1, -1, 1j, -1j, 1 + 1j, 1 - 1j, -1 + 1j, -1 - 1j])
@pytest.mark.parametrize("place", [5 + 5j, 5.0099 + 5.0099j, -0.0001 - 0.0001j, -3.0 + 7.005j])
def test_ends_join_within_what_is_near_in_every_direction_and_not_beyond(direction: complex, place: complex) -> None:
    """Behind another stretch, so that the place of the start has to be found and not the next one alone."""
    for share, joins in ((0.99, True), (1.01, False)):
        found = linked(stretches((9j, place), (50j, 60j), (place + share * NEAR * direction, 99j)), NEAR)
        assert found.runs == ([[0, 2]] if joins else [[0], [1], [2]])
        assert found.pockets == ([[1]] if joins else [])


def test_a_stretch_that_ends_where_it_starts_is_a_run_of_its_own() -> None:
    found = linked(stretches((1j, 1j), (5j, 6j), (6j, 7j)), NEAR)
    assert (found.runs, found.pockets) == ([[0], [1, 2]], [])


def test_of_several_starts_at_one_place_the_first_behind_an_end_goes_on() -> None:
    found = linked(stretches((5j, 1j), (8j, 9j), (1j, 2j), (1j, 3j)), NEAR)
    assert (found.runs, found.pockets) == ([[0, 2], [3]], [[1]])
