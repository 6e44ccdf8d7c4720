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

from calc.contour import Element
from calc.contour.solving import GivenElement, Start, solve
from calc.contour.solving.following import Followed, likeliest
from calc.contour.solving.turning import possible
from calc.contour.solving.unknowns import Unknowns
from calc.language.problems import Impossible
from tests.contour.solving.made import has, is_same
from tests.contour.solving.shop import chain_print, handle, tangent_arcs

START = Start(0.0, 20.0)


def _is_first(start: Start, made: tuple[Element, ...], given: Sequence[GivenElement]) -> bool:
    return is_same(solve(start, given).solutions[0].sharp, made, 1e-6)


@pytest.mark.parametrize("known", [1, 12, 24])
def test_a_profile_of_24_tangent_arcs_is_the_first_of_the_contours_shown_whichever_x_is_known(known: int) -> None:
    assert _is_first(START, *tangent_arcs(24, {known}))


@pytest.mark.parametrize(("line_every", "known"), [(3, 12), (4, 24)])
def test_lines_between_the_arcs_change_nothing_of_it(line_every: int, known: int) -> None:
    assert _is_first(START, *tangent_arcs(24, {known}, line_every))


def test_nor_does_a_start_whose_x_is_one_of_those_that_are_left_out() -> None:
    assert _is_first(Start(0.0), *tangent_arcs(24, {1, 24}))


def test_random_handles_of_arcs_and_lines_come_first_whichever_x_is_known() -> None:
    """Radii of shops (common practice, no source), toward the chuck all along; the long run is in the benchmark."""
    made = [handle(seed, 10, lines=0.4 * (seed % 2)) for seed in range(6)]
    first = [
        _is_first(Start(*one[0].start), one, chain_print(one, {1 + 2 * seed % 10})) for seed, one in enumerate(made)
    ]
    assert sum(first) >= 5


def test_arcs_that_never_come_to_their_last_x_are_no_contour() -> None:
    _, given = tangent_arcs(8)
    with pytest.raises(Impossible):
        solve(START, [*given[:-1], replace(given[-1], r=400.0)])


def _without_turns(given: Sequence[GivenElement]) -> list[GivenElement]:
    return [replace(each, turn=None) for each in given]


@pytest.mark.parametrize(("count", "known"), [(16, 16), (8, 4)])
def test_a_profile_of_tangent_arcs_whose_turns_are_not_given_is_among_those_shown(count: int, known: int) -> None:
    made, given = tangent_arcs(count, {known})
    assert has(solve(START, _without_turns(given)), made, 1e-6)


def test_arcs_without_turns_that_few_turns_fit_are_a_contour() -> None:
    """Of its turns most leave some arc without a heading; there is a contour, since the print is of one."""
    made = handle(1001, 12, 0.4)
    found = solve(Start(*made[0].start), _without_turns(chain_print(made, {12}))).solutions[0].sharp
    assert [one.end.z for one in found] == pytest.approx([one.end.z for one in made], abs=1e-6)
    assert found[-1].end.r == pytest.approx(made[-1].end.r, abs=1e-6)


def test_where_no_turns_were_found_to_fit_they_are_asked_for() -> None:
    _, given = tangent_arcs(8)
    with pytest.raises(Impossible, match="elements 1 to 8 have these dimensions together: give the turn of each arc"):
        solve(START, [*_without_turns(given[:-1]), replace(given[-1], r=400.0)])


def test_two_arcs_turn_one_way_only_as_far_as_a_sine_goes() -> None:
    """Steps of 6 along Z on R5 change the sine of the heading by 1.2 each: 2.4 one way, more than from -1 to 1."""
    arcs = Unknowns(Start(0.0, 20.0), [GivenElement("arc", radius=5.0, z=-6.0 * i, tangent=i > 1) for i in (1, 2)])
    (first, second), common = arcs.pieces, {0: 0j, 2: -6 + 0j, 4: -12 + 0j}
    ways = [{first.size: 5.0 * a, second.size: 5.0 * b} for a in (1 + 0j, -1 + 0j) for b in (1 + 0j, -1 + 0j)]
    assert possible(ways, arcs.pieces, common) == ways[1:3]
    assert possible(ways, arcs.pieces, {**common, 4: -9 + 0j}) == ways


def _cost(headings: np.ndarray, radii: np.ndarray, lines: np.ndarray) -> float:
    """Half turns, lengths, 6 for each arc longer than half a turn; a quarter for each joint with its mirror image."""
    sweeps = np.mod(np.sign(radii) * np.diff(headings), math.tau)
    cost = (
        abs(lines / np.cos(headings)).sum() + (sweeps / math.pi + sweeps * abs(radii) + 6.0 * (sweeps > math.pi)).sum()
    )
    z, r = np.cos(headings[1:-1]), np.sin(headings[1:-1])
    mirrored = (abs(r[:, None] - r) < 0.005) & (z[:, None] * z < 0.0)
    return float(cost + 0.25 * mirrored.any(axis=1).sum())


def _climbed(headings: np.ndarray, radii: np.ndarray, lines: np.ndarray) -> np.ndarray:
    found: np.ndarray = (radii * -np.diff(np.cos(headings))).sum(axis=-1) + (lines * np.tan(headings)).sum(axis=-1)
    return found


def _every_way(radii: np.ndarray, steps: np.ndarray, lines: np.ndarray, whole: float) -> Iterator[np.ndarray]:
    """All ways that the chain can run, choice by choice; a line has the choice that its step along Z leaves.

    Along each arc z grows by the radius times what the sine of the heading does.
    """
    sines = np.concatenate([[0.0], np.cumsum(steps / radii)])
    middle, half = -(sines.max() + sines.min()) / 2.0, 1.0 - (sines.max() - sines.min()) / 2.0
    samples = np.linspace(-math.pi / 2.0, math.pi / 2.0, 2001)[1:-1]
    for choices in itertools.product((1.0, -1.0), repeat=len(sines)):
        if (np.array(choices) * lines < 0.0).any():
            continue

        def walked(at: float | np.ndarray, choices: Sequence[float] = choices) -> np.ndarray:
            found = (middle + half * np.sin(np.asarray(at)))[..., None] + sines
            headings: np.ndarray = np.arctan2(found, choices * np.sqrt(np.maximum(1.0 - found**2, 0.0)))
            return headings

        offs = _climbed(walked(samples), radii, lines) - whole
        for i in np.nonzero(offs[:-1] * offs[1:] < 0.0)[0]:
            root = brentq(lambda at: float(_climbed(walked(at), radii, lines)) - whole, *samples[i : i + 2], xtol=1e-15)
            yield walked(root)


@pytest.mark.parametrize("with_lines", [False, True])
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_the_likeliest_way_of_a_chain_is_that_of_all_the_ways_there_are(seed: int, *, with_lines: bool) -> None:
    chance = np.random.default_rng(seed)
    radii = chance.uniform(0.2, 0.5, 4) * np.array([-1.0, 1.0, -1.0, 1.0])
    headings = 0.7 * math.pi + np.array([0.0, -0.8, 0.1, -0.7, 0.2])
    steps = radii * np.diff(np.sin(headings))
    lines = np.array([0.0, 0.0, 0.3, 0.0, 0.2]) * np.cos(headings) * with_lines
    whole = float(_climbed(headings, radii, lines))
    costs = sorted(_cost(way, radii, lines) for way in _every_way(radii, steps, lines, whole))
    found = likeliest(Followed((0, 1, 2, 3, 4), radii, 0, steps, lines, whole), 8)
    assert len(costs) >= 2
    assert [_cost(way, radii, lines) for way in found] == pytest.approx(costs[: len(found)], abs=1e-6)


def test_the_same_holds_for_a_chain_whose_steps_along_x_are_known() -> None:
    """Turned clockwise by a quarter, what was along X is along Z, and what was along Z is against X."""
    radii, headings = np.array([-0.3, 0.4, -0.35]), 0.7 * math.pi + np.array([0.0, -0.8, 0.1, -0.7])
    lines = np.array([0.0, 0.0, 0.25, 0.0]) * np.cos(headings)
    steps, whole = radii * np.diff(np.sin(headings)), float(_climbed(headings, radii, lines))
    lying = likeliest(Followed((0, 1, 2, 3), radii, 0, steps, lines, whole), 4)
    standing = likeliest(Followed((0, 1, 2, 3), radii, 1, -steps, -lines, whole), 4)
    assert len(lying) >= 2
    assert np.exp(1j * (standing + math.pi / 2.0)) == pytest.approx(np.exp(1j * lying), abs=1e-9)
