"""Runs without a closed form: what they cost is bounded, and likely contours are found among very many."""

import pytest

from calc.contour.solving import Start, solve
from calc.contour.solving.coupled import LEAST_SEEDS, MOST_WORK, seeds_for
from tests.contour.solving.made import has
from tests.contour.solving.shop import tangent_arcs


@pytest.mark.parametrize("count", [4, 10])
def test_a_profile_of_tangent_arcs_is_among_the_contours_found(count: int) -> None:
    arcs, given = tangent_arcs(count)
    found = solve(Start(0.0, 20.0), given)
    assert has(found, arcs, 1e-6)
    assert not found.complete


@pytest.mark.parametrize(("columns", "branches"), [(3, 1), (12, 1), (25, 1), (50, 48), (200, 1)])
def test_more_unknowns_get_fewer_seeds_so_that_the_work_is_bounded(columns: int, branches: int) -> None:
    seeds = seeds_for(turning=columns, columns=columns, branches=branches) * branches
    assert seeds * columns**3 <= max(MOST_WORK, max(LEAST_SEEDS, branches) * columns**3)
    assert seeds >= 1
