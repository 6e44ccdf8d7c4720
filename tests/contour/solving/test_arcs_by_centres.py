"""Arcs given by both ends and their centres: what a redundant dimension refuses is let go at once, the work is linear.

The contours are made by the circle through two points (first principles); each arc's end is one dimension more than is
needed, and without it the circle crosses the end's Z at another X too.
"""

from __future__ import annotations

import random
from unittest.mock import Mock

import pytest

from calc.contour import Arc, Point
from calc.contour.solving import GivenElement, Solutions, Start, runs, solve
from calc.contour.solving.closed import solve_closed

START = Point(0.0, 20.0)


def arcs(count: int) -> list[Arc]:
    """A wavy line of arcs, each about half as curved as it could be."""
    drawn, here, made = random.Random(5), START, []
    for _ in range(count):
        end = Point(round(here.z - drawn.uniform(2.0, 5.0), 3), round(20.0 + drawn.uniform(-1.5, 1.5), 3))
        radius = drawn.uniform(0.6, 2.0) * here.distance_to(end)
        made.append(Arc.from_radius(here, end, radius, drawn.choice(("cw", "ccw"))))
        here = end
    return made


def solved(made: list[Arc], decimals: int = 12, *, turns: bool = True) -> Solutions:
    """What the solver makes of ends and centres."""
    given = [
        GivenElement("arc", z=arc.end.z, r=arc.end.r, centre_z=round(arc.centre.z, decimals),
                     centre_r=round(arc.centre.r, decimals), turn=arc.turn if turns else None)
        for arc in made
    ]  # fmt: skip
    return solve(Start(*START), given)


def centres(found: Solutions) -> list[complex]:
    """Where the centres of the likeliest contour are."""
    return [complex(*each.centre) for each in found.solutions[0].sharp if isinstance(each, Arc)]


def test_every_arc_turns_as_given_and_there_is_no_other_contour() -> None:
    made, found = arcs(40), solved(arcs(40))
    assert found.complete
    assert centres(found) == pytest.approx([complex(*arc.centre) for arc in made])
    assert len(found.solutions) == 1


def test_arcs_whose_turn_is_not_given_are_found_among_the_likeliest_not_called_contradictory() -> None:
    made = arcs(10)
    ends = [complex(*each.end) for each in solved(made, turns=False).solutions[0].sharp]
    assert ends == pytest.approx([complex(*arc.end) for arc in made])


def test_centres_rounded_to_three_decimals_are_no_contradiction() -> None:
    made = arcs(12)
    assert centres(solved(made, 3)) == pytest.approx([complex(*arc.centre) for arc in made], abs=0.001)


def test_four_times_the_arcs_are_four_times_the_equations_solved(monkeypatch: pytest.MonkeyPatch) -> None:
    counts = []
    for count in (10, 40):
        counted = Mock(wraps=solve_closed)
        monkeypatch.setattr(runs, "solve_closed", counted)
        solved(arcs(count))
        counts.append(counted.call_count)
    assert counts[1] <= 4.5 * counts[0]
