"""The spherometer from its declared inputs, against school laboratories' values and geometry."""

from math import nan, sqrt
from typing import Any

import pytest

from calc.language.given import Given
from calc.language.problems import Impossible, Missing, OutOfRange, Problem
from calc.questions.measuring.spherometer import SpherometerInputs, solve


def radius(**given: Any) -> float:
    return solve(SpherometerInputs(**given)).results.radius


def test_the_lab_records_values() -> None:
    """Three legs 45 mm apart, 2.85 mm: 119.8 mm in a school's laboratory record; R = a2/(6h) + h/2 in its text."""
    assert radius(leg_distance=45.0, sagitta=2.85) == pytest.approx(119.846053, abs=5e-7)
    assert radius(leg_distance=30.0, sagitta=1.0) == pytest.approx(150.5, abs=1e-9)


def test_a_ring_of_50_and_a_ball_on_a_ring_of_20() -> None:
    """R = rho2/(2h) + h/2 by hand; a ball of 25 stands 5 deep in a ring of 20 (a 3-4-5 triangle)."""
    assert radius(base_diameter=50.0, sagitta=1.2) == pytest.approx(25.0**2 / 2.4 + 0.6)
    assert radius(base_diameter=20.0, sagitta=5.0) == pytest.approx(12.5)
    found = solve(SpherometerInputs(base_diameter=20.0, sagitta=5.0, nominal_radius=12.5)).results
    assert found.wanted_sagitta == pytest.approx(5.0)
    assert found.radius_off == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize(("surface", "side"), [("concave", 1.0), ("convex", -1.0)])
def test_balls_are_placed_on_the_sphere_and_the_reading_leads_back(surface: str, side: float) -> None:
    """From first principles: centres of the balls on the parallel sphere, tip on the sphere, both against a flat."""
    true, ball, circle = 75.0, 8.0, 40.0
    centres = true - side * ball / 2
    below = sqrt(centres**2 - (circle / 2) ** 2)
    sagitta = (true - (below + ball / 2)) if side > 0 else (below - ball / 2) - true
    found = radius(leg_circle_diameter=circle, ball_diameter=ball, sagitta=abs(sagitta), surface=surface)
    assert found == pytest.approx(true, abs=1e-9)


def test_the_spread_follows_the_reading() -> None:
    found = solve(SpherometerInputs(base_diameter=40.0, sagitta=2.7, spread=0.002)).results
    higher = radius(base_diameter=40.0, sagitta=2.7 - 0.001) - radius(base_diameter=40.0, sagitta=2.7 + 0.001)
    assert found.spread == pytest.approx(higher, rel=1e-5)


@pytest.mark.parametrize(
    ("limits", "spread", "said"),
    [
        ((74.0, 76.0), 0.001, "within the limits"),
        ((74.75, 75.0), 0.01, "within the limits, but not proved by this spread"),
        ((70.0, 74.0), 0.001, "above the upper limit"),
        ((76.0, 77.0), None, "below the lower limit"),
    ],
)
def test_it_is_held_against_the_prints_limits(limits: tuple[float, float], spread: float | None, said: str) -> None:
    """40 wide, 2.72 deep: R 74.8894. A doubt where the spread reaches a limit (ISO 14253-1)."""
    nominal = Given(sum(limits) / 2, limits=limits)
    found = solve(SpherometerInputs(base_diameter=40.0, sagitta=2.72, spread=spread, nominal_radius=nominal))
    assert found.results.within == said


def test_a_small_sagitta_on_a_narrow_base_is_cautioned() -> None:
    found = solve(SpherometerInputs(base_diameter=10.0, sagitta=0.1, spread=0.005))
    assert "wider base" in found.cautions[0].message.say()


@pytest.mark.parametrize(
    ("given", "kind", "field"),
    [
        ({"base_diameter": 50.0}, Missing, "sagitta"),
        ({"sagitta": 1.0}, Missing, "base_diameter"),
        ({"sagitta": 0.0, "base_diameter": 50.0}, OutOfRange, "sagitta"),
        ({"sagitta": nan, "base_diameter": 50.0}, OutOfRange, "sagitta"),
        ({"sagitta": 30.0, "base_diameter": 50.0}, Impossible, "sagitta"),
        ({"sagitta": 1.0, "base_diameter": 50.0, "leg_distance": 40.0}, Impossible, "base_diameter"),
        ({"sagitta": 1.0, "base_diameter": 50.0, "ball_diameter": 5.0}, Impossible, "ball_diameter"),
        (
            {"sagitta": 4.0, "leg_circle_diameter": 10.0, "ball_diameter": 12.0, "surface": "convex"},
            Impossible,
            "ball_diameter",
        ),
    ],
)
def test_what_cannot_be_is_said_at_its_field(given: Any, kind: type[Problem], field: str) -> None:
    with pytest.raises(kind) as raised:
        solve(SpherometerInputs(**given))
    assert raised.value.faults[0].field == field
