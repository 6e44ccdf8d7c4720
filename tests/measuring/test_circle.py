"""Circles through measured points, against a published data set and general minimisers."""

import math

import numpy as np
import pytest
from scipy.optimize import least_squares, minimize
from scipy.special import stdtrit

from calc.contour import Point
from calc.language.problems import Impossible, Missing
from calc.measuring.circle import fit_circle, ring_of_least_width
from calc.measuring.student import quantile_95

# W. Gander, G. H. Golub, R. Strebel, "Least-squares fitting of circles and ellipses", BIT 34 (1994), p. 558-578: the
# six points of their first example, with the geometric fit as it is printed.
PRINTED = [Point(*pair) for pair in ((1, 7), (2, 6), (5, 8), (7, 7), (9, 5), (3, 7))]


def made(rng: np.random.Generator, noise: float) -> tuple[list[Point], float]:
    """Points on an arc of random size, span and place with noise square to it."""
    radius, span, count = 10 ** rng.uniform(0, 2.5), rng.uniform(0.3, 3.1), int(rng.integers(4, 30))
    angles, out = rng.uniform(-span, span, count), radius + rng.normal(0.0, noise * radius, count)
    return [Point(float(z), float(r)) for z, r in zip(out * np.cos(angles), out * np.sin(angles), strict=True)], radius


def test_the_published_points_give_the_published_circle() -> None:
    fit = fit_circle(PRINTED)
    assert list(fit.centre) == [pytest.approx(4.739782, abs=5e-7), pytest.approx(2.983533, abs=5e-7)]
    assert fit.radius == pytest.approx(4.714226, abs=5e-7)
    assert math.sqrt(sum(each**2 for each in fit.residuals) / 6) == pytest.approx(0.4523271, abs=5e-8)


def test_the_published_points_lie_off_their_circle_by_what_exact_arithmetic_gives() -> None:
    """Centre, radius and residuals recomputed to 16 digits from the same six points."""
    fit = fit_circle(PRINTED)
    assert [*fit.centre, fit.radius] == pytest.approx(
        [4.739782410906074, 2.983532699292475, 4.71422603779211], abs=1e-9
    )
    off = [0.77375921, -0.63924351, 0.30898582, -0.10547424, -0.00088388, -0.33714340]
    assert list(fit.residuals) == pytest.approx(off, abs=6e-9)


@pytest.mark.parametrize("seed", range(12))
def test_the_fit_is_that_of_a_general_minimiser(seed: int) -> None:
    points, _ = made(np.random.default_rng(seed), 1e-3)
    places, fit = np.array(points), fit_circle(points)
    reference = least_squares(
        lambda u: np.hypot(places[:, 0] - u[0], places[:, 1] - u[1]) - u[2],
        [*fit.centre, fit.radius * 1.01],
        xtol=1e-15,
        ftol=1e-15,
        gtol=1e-15,
    )
    assert [*fit.centre, fit.radius] == pytest.approx(reference.x.tolist(), rel=1e-7, abs=1e-7 * fit.radius)


@pytest.mark.parametrize("seed", range(12))
def test_no_ring_beside_the_narrowest_is_narrower(seed: int) -> None:
    points, radius = made(np.random.default_rng(100 + seed), 1e-3)
    places, ring = np.array(points), ring_of_least_width(points, fit_circle(points))

    def width(centre: np.ndarray) -> float:
        distances = np.hypot(*(places - centre).T)
        return float(distances.max() - distances.min())

    found = min(
        minimize(width, ring.centre, method="Nelder-Mead", options={"xatol": 1e-12, "initial_simplex": corners}).fun
        for size in (1e-4, 1e-2)
        for corners in [np.array(ring.centre) + radius * size * np.array([[0, 0], [1, 0], [0, 1]])]
    )
    assert ring.form_error <= found * (1 + 1e-9)
    assert ring.form_error <= fit_circle(points).form_error


def test_exact_points_give_their_circle_wherever_it_lies() -> None:
    points = [Point(1000.0 + 75 * math.cos(a), -3.0 + 75 * math.sin(a)) for a in (3.0, 3.1, 3.2, 3.3)]
    fit = fit_circle(points)
    assert fit.radius == pytest.approx(75.0, abs=1e-9)
    assert list(fit.centre) == [pytest.approx(1000.0, abs=1e-9), pytest.approx(-3.0, abs=1e-9)]


def test_the_radius_lies_within_its_spread_in_95_of_100_cases() -> None:
    """The definition of the spread, over 600 sets of six readings with noise: between 92 and 98 of 100."""
    rng, kept = np.random.default_rng(7), 0
    for _ in range(600):
        angles = rng.uniform(0.0, 2.0, 6)
        out = 50.0 + rng.normal(0.0, 0.002, 6)
        fit = fit_circle(
            [Point(float(z), float(r)) for z, r in zip(out * np.cos(angles), out * np.sin(angles), strict=True)]
        )
        kept += abs(fit.radius - 50.0) <= (fit.spread or 0.0)
    assert 0.92 <= kept / 600 <= 0.98


def test_a_known_spread_of_the_gauge_carries_to_the_radius() -> None:
    """Readings all round: centre and radius are known, the radius to a share of 1 over the root of their number."""
    around = [Point(10 * math.cos(k * math.tau / 16), 10 * math.sin(k * math.tau / 16)) for k in range(16)]
    assert fit_circle(around, 0.004).spread == pytest.approx(0.004 / 4.0)


def test_three_readings_have_a_circle_and_no_spread() -> None:
    fit = fit_circle([Point(0.0, 1.0), Point(1.0, 0.0), Point(0.0, -1.0)])
    assert fit.radius == pytest.approx(1.0)
    assert fit.spread is None
    assert fit.centre_spread is None


@pytest.mark.parametrize("count", [0, 1, 2])
def test_fewer_than_three_readings_are_refused_with_the_reason(count: int) -> None:
    with pytest.raises(Missing, match="two and a radius fit two circles"):
        fit_circle([Point(float(each), 0.0) for each in range(count)])


@pytest.mark.parametrize("tilt", [0.0, 0.5, 1e6])
def test_points_on_a_line_have_no_arc(tilt: float) -> None:
    with pytest.raises(Impossible, match="straight line"):
        fit_circle([Point(float(each), tilt * each) for each in range(5)])


def test_readings_in_one_place_are_refused() -> None:
    with pytest.raises(Impossible, match="three different places"):
        fit_circle([Point(0.0, 1.0), Point(0.0, 1.0), Point(3.0, 1.0)])


@pytest.mark.parametrize("free", [1, 2, 5, 30, 31, 45, 100])
def test_the_factor_is_students(free: int) -> None:
    assert quantile_95(free) == pytest.approx(stdtrit(free, 0.975), abs=1e-4)
