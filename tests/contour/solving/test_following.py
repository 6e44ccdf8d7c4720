"""Chains of smoothly joined arcs: the likeliest way to run, against trying every row of choices.

Reference: every way to choose, walked arc by arc, its free number found by a root finder of scipy.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import brentq

from calc.contour.solving import Start, solve
from calc.contour.solving.following import Followed, likeliest
from tests.contour.solving.made import has
from tests.contour.solving.shop import tangent_arcs

START = Start(0.0, 20.0)


def test_a_profile_of_24_tangent_arcs_is_the_first_of_the_contours_shown() -> None:
    made, given = tangent_arcs(24)
    found = solve(START, given)
    assert has(replace(found, solutions=found.solutions[:1]), made, 1e-6)


def test_a_profile_of_16_tangent_arcs_whose_turns_are_not_given_is_among_those_shown() -> None:
    made, given = tangent_arcs(16)
    assert has(solve(START, [replace(each, turn=None) for each in given]), made, 1e-6)


def _sweeps(headings: Sequence[float], radii: Sequence[float]) -> list[float]:
    pairs = zip(itertools.pairwise(headings), radii, strict=True)
    return [(math.copysign(1.0, radius) * (after - before)) % math.tau for (before, after), radius in pairs]


def _cost(headings: Sequence[float], radii: Sequence[float]) -> float:
    """Half turns, lengths, 6 for each arc that is longer than half a turn."""
    sweeps = zip(_sweeps(headings, radii), radii, strict=True)
    return sum(sweep / math.pi + sweep * abs(radius) + 6.0 * (sweep > math.pi) for sweep, radius in sweeps)


def _walked(level: float, choices: Sequence[int], radii: Sequence[float], steps: Sequence[float]) -> list[float]:
    """The headings, the sine of the first one given: along each arc z grows by radius times what the sine does."""
    sines = [level + sum(s / r for s, r in zip(steps[:at], radii[:at], strict=True)) for at in range(len(choices))]
    return [math.atan2(s, c * math.sqrt(max(1.0 - s * s, 0.0))) for s, c in zip(sines, choices, strict=True)]


def _climbed(headings: Sequence[float], radii: Sequence[float]) -> float:
    pairs = zip(itertools.pairwise(headings), radii, strict=True)
    return sum(radius * (math.cos(before) - math.cos(after)) for (before, after), radius in pairs)


def _every_way(radii: Sequence[float], steps: Sequence[float], whole: float) -> Iterator[list[float]]:
    """All ways that the chain can run, choice by choice."""
    levels = np.concatenate([[0.0], np.cumsum(np.array(steps) / np.array(radii))])
    samples = np.linspace(-1.0 - levels.min(), 1.0 - levels.max(), 4001)
    for choices in itertools.product((1, -1), repeat=len(radii) + 1):

        def off(level: float, choices: Sequence[int] = choices) -> float:
            return _climbed(_walked(level, choices, radii, steps), radii) - whole

        offs = [off(float(level)) for level in samples[::40]]
        for (a, b), (low, high) in zip(itertools.pairwise(samples[::40]), itertools.pairwise(offs), strict=True):
            if low * high < 0.0:
                yield _walked(brentq(off, a, b, xtol=1e-14), choices, radii, steps)


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_the_likeliest_way_of_a_chain_is_that_of_all_the_ways_there_are(seed: int) -> None:
    chance = np.random.default_rng(seed)
    radii = chance.uniform(0.2, 0.5, 4) * np.array([-1.0, 1.0, -1.0, 1.0])
    headings = 0.7 * math.pi + np.array([0.0, -0.8, 0.1, -0.7, 0.2])
    steps = radii * np.diff(np.sin(headings))
    whole = _climbed(headings.tolist(), radii.tolist())
    ways = list(_every_way(radii.tolist(), steps.tolist(), whole))
    found = likeliest(Followed((0, 1, 2, 3, 4), radii, 0, steps, whole), 8)
    costs = sorted(_cost(way, radii.tolist()) for way in ways)
    assert len(costs) >= 2
    assert [_cost(way, radii.tolist()) for way in found.tolist()] == pytest.approx(costs[: len(found)], abs=1e-6)


def test_the_same_holds_for_a_chain_whose_steps_along_x_are_known() -> None:
    """Turned clockwise by a quarter, what was along X is along Z, and what was along Z is against X."""
    radii, headings = np.array([-0.3, 0.4, -0.35]), 0.7 * math.pi + np.array([0.0, -0.8, 0.1, -0.7])
    steps, whole = radii * np.diff(np.sin(headings)), _climbed(headings.tolist(), radii.tolist())
    lying = likeliest(Followed((0, 1, 2, 3), radii, 0, steps, whole), 4)
    standing = likeliest(Followed((0, 1, 2, 3), radii, 1, -steps, whole), 4)
    assert len(lying) >= 2
    assert np.exp(1j * (standing + math.pi / 2.0)) == pytest.approx(np.exp(1j * lying), abs=1e-9)
