"""Readings of several tools solved at once: their own causes and the taper that they share, within what is told."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from calc.measuring.causes import CAUSES
from calc.measuring.estimate import Measured, estimate, estimate_together
from tests.measuring.made_parts import Made, made

Recovered = tuple[int, int]


def pair(rng: np.random.Generator) -> tuple[Made, Made]:
    """Two tools' parts of one clamping: all else is drawn anew, the taper of the work is one."""
    first, second = made(rng), made(rng)
    return first, replace(second, true=second.true._replace(taper=first.true.taper))


def read(part: Made, rng: np.random.Generator, tool: int) -> list[Measured]:
    shown = zip(part.places, part.readings(rng), part.spreads, strict=True)
    return [Measured(place, value, spread, tool) for place, value, spread in shown]


def recovered(rng: np.random.Generator, count: int) -> Recovered:
    """How often a cause was told over so many random pairs, and how often the truth lay within its spread."""
    told = kept = 0
    for _ in range(count):
        parts = pair(rng)
        joint = estimate_together([each for tool, part in enumerate(parts) for each in read(part, rng, tool)], (3, 3))
        for part, found in zip(parts, joint.estimates, strict=True):
            for index in range(len(CAUSES)):
                told += found.told[index]
                kept += found.told[index] and abs(found.state[index] - part.true[index]) <= found.spreads[index]
    return told, kept


def test_random_pairs_of_tools_are_recovered_within_what_is_told() -> None:
    told, kept = recovered(np.random.default_rng(7), 30)
    assert told > 90
    assert kept >= 0.93 * told


def test_a_tool_whose_neighbour_has_no_readings_is_explained_as_if_it_were_alone() -> None:
    rng = np.random.default_rng(3)
    readings = read(made(rng), rng, 0)
    alone, beside = estimate(readings, 3), estimate_together(readings, (3, 2)).estimates[0]
    assert beside.told == alone.told
    assert np.allclose(beside.state, alone.state, atol=1e-9)
    assert np.allclose(beside.spreads, alone.spreads, rtol=1e-6)
