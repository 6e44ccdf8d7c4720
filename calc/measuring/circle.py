"""A circle through measured points: by least squares of the true distances, and the ring of least width around them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from calc.contour import Point
from calc.language.messages import Message
from calc.language.problems import Fault, Impossible, Missing
from calc.measuring.student import quantile_95

Floats = NDArray[np.float64]
FLATTEST = 1e5
"""An arc whose radius is more than this many times the spread of its points is a straight line to any gauge."""
STEPS, SMALL = 200, 1e-15
FEWEST = 3


@dataclass(frozen=True, slots=True)
class MeasuredCircle:
    """A circle (mm) and what the points say about it.

    `residuals` are the points' distances from it, above 0 outside. `spread` is half the width at 95 % of its radius,
    `centre_spread` that of its centre along z and r; None while there is nothing to judge them by: three points leave
    no residual.
    """

    centre: Point
    radius: float
    residuals: tuple[float, ...]
    spread: float | None = None
    centre_spread: Point | None = None

    @property
    def form_error(self) -> float:
        """Peak to valley of the residuals, mm."""
        return max(self.residuals) - min(self.residuals)


def fit_circle(points: Sequence[Point], gauge_spread: float | None = None) -> MeasuredCircle:
    """The circle of least squares of the distances square to it, from at least three points (mm).

    `gauge_spread` is half the width at 95 % of each reading (mm), square to the circle; without it the points' own
    residuals are taken, with Student's factor for the few that they are.

    Raises Missing below three points, Impossible for points on a line or in fewer than three places. Source: least
    squares of geometric distances, as in Gander, Golub, Strebel, BIT 34 (1994) 558-578.

    >>> fit = fit_circle([Point(0.0, 5.0), Point(3.0, 4.0), Point(5.0, 0.0), Point(-4.0, 3.0)])
    >>> round(fit.radius, 9), abs(fit.centre.z) < 1e-9
    (5.0, True)
    """
    places = _places(points)
    middle = places.mean(axis=0)
    size = float(np.abs(places - middle).max())
    scaled = (places - middle) / size
    centre, radius = _least_squares(scaled)
    if not np.isfinite(radius) or radius > FLATTEST:
        raise Impossible(Fault("readings", Message("These points lie on a straight line: no arc goes through them.")))
    residuals = size * (np.linalg.norm(scaled - centre, axis=1) - radius)
    found = MeasuredCircle(
        Point(*map(float, middle + size * centre)), size * radius, tuple(float(each) for each in residuals)
    )
    by_z, by_r, by_radius = map(float, _amplified(scaled, centre))
    one = gauge_spread if gauge_spread is not None else _own_spread(residuals)
    return found if one is None else replace(found, spread=one * by_radius, centre_spread=Point(one * by_z, one * by_r))


def _places(points: Sequence[Point]) -> Floats:
    if len(points) < FEWEST:
        text = "An arc needs at least three readings: two and a radius fit two circles, and prove neither."
        raise Missing(Fault("readings", Message(text)))
    if len({(round(point.z, 9), round(point.r, 9)) for point in points}) < FEWEST:
        raise Impossible(Fault("readings", Message("Measure in at least three different places.")))
    return np.array(points, dtype=float)


def _least_squares(places: Floats) -> tuple[Floats, float]:
    """Centre and radius by damped Gauss-Newton steps from the algebraic circle."""
    centre = _algebraic(places)
    best, damping = _square_sum(places, centre), 1e-3
    for _ in range(STEPS):
        rows, residuals = _linear(places, centre)
        normal = rows.T @ rows
        step = np.linalg.solve(normal + damping * np.diag(np.diag(normal)), -rows.T @ residuals)
        tried = _square_sum(places, centre + step[:2])
        if tried <= best:
            centre, best, damping = centre + step[:2], tried, max(damping / 10.0, 1e-12)
            if float(np.abs(step[:2]).max()) <= SMALL * (1.0 + float(np.abs(centre).max())):
                break
        else:
            damping *= 10.0
        if damping > 1.0 / SMALL or float(np.abs(centre).max()) > 10.0 * FLATTEST:
            break
    return centre, float(np.linalg.norm(places - centre, axis=1).mean())


def _algebraic(places: Floats) -> Floats:
    """The centre of the circle that solves the equation z2 + r2 = a z + b r + c in the least squares."""
    rows = np.column_stack([places, np.ones(len(places))])
    (a, b, _), _, rank, _ = np.linalg.lstsq(rows, (places**2).sum(axis=1), rcond=1e-12)
    if rank < FEWEST:
        raise Impossible(Fault("readings", Message("These points lie on a straight line: no arc goes through them.")))
    return np.array([a / 2.0, b / 2.0])


def _square_sum(places: Floats, centre: Floats) -> float:
    distances = np.linalg.norm(places - centre, axis=1)
    return float(((distances - distances.mean()) ** 2).sum())


def _linear(places: Floats, centre: Floats) -> tuple[Floats, Floats]:
    """How each residual moves with centre z, r and radius, and the residuals for the best radius."""
    out = places - centre
    distances = np.linalg.norm(out, axis=1)
    rows = np.column_stack([-out / distances[:, None], -np.ones(len(places))])
    return rows, distances - distances.mean()


def _amplified(places: Floats, centre: Floats) -> Floats:
    """How much wider than one reading's error those of centre z, r and radius are."""
    rows, _ = _linear(places, centre)
    amplified: Floats = np.sqrt(np.diag(np.linalg.inv(rows.T @ rows)))
    return amplified


def _own_spread(residuals: Floats) -> float | None:
    """Half the width at 95 % of one reading, judged by the residuals; None where all of them were used up."""
    free = len(residuals) - FEWEST
    return quantile_95(free) * float(np.sqrt((residuals**2).sum() / free)) if free else None


def ring_of_least_width(points: Sequence[Point], near: MeasuredCircle) -> MeasuredCircle:
    """The circle (mm) whose farthest point is as near as can be, found beside the one of least squares.

    `form_error` of it is the width of the narrowest ring about the points there. Source: minimax by exchange of four
    points, repeated on the circle that it gives (ISO 1101 asks for the ring of least width).

    >>> square = [Point(0.0, 1.0), Point(1.0, 0.0), Point(0.0, -1.0), Point(-1.2, 0.0)]
    >>> round(ring_of_least_width(square, fit_circle(square)).form_error, 6)  # 1.1 - sqrt(1.01)
    0.095012
    """
    places = np.array(points, dtype=float)
    centre, radius = np.array(near.centre), near.radius
    width = _width(places, centre)
    step_share = 1.0
    for _ in range(STEPS):
        if len(places) == FEWEST or step_share < 1e-6:
            break
        out = places - centre
        distances = np.linalg.norm(out, axis=1)
        rows = np.column_stack([out / distances[:, None], np.ones(len(places))])
        step = step_share * _minimax(rows, distances - radius)[:2]
        tried = _width(places, centre + step)
        if tried < width:
            done = width - tried <= 1e-12 * width
            centre, width, step_share = centre + step, tried, min(1.0, 2.0 * step_share)
            if done:
                break
        else:
            step_share /= 2.0
    distances = np.linalg.norm(places - centre, axis=1)
    radius = float((distances.max() + distances.min()) / 2.0)
    return MeasuredCircle(Point(*map(float, centre)), radius, tuple(float(d - radius) for d in distances))


def _width(places: Floats, centre: Floats) -> float:
    distances = np.linalg.norm(places - centre, axis=1)
    return float(distances.max() - distances.min())


def _minimax(rows: Floats, values: Floats) -> Floats:
    """The x for which the largest of |rows x - values| is least, by exchange of the four rows that hold it."""
    count = rows.shape[1] + 1
    held = max(_spread_out(values, count), key=lambda chosen: _levelled(rows[chosen], values[chosen])[1])
    found, level = _levelled(rows[held], values[held])
    for _ in range(STEPS):
        errors = np.abs(rows @ found - values)
        worst = int(errors.argmax())
        if errors[worst] <= level * (1.0 + 1e-12) + 1e-300 or worst in held:
            break
        exchanged = [[*held[:index], worst, *held[index + 1 :]] for index in range(count)]
        best = max(exchanged, key=lambda chosen: _levelled(rows[chosen], values[chosen])[1])
        better, higher = _levelled(rows[best], values[best])
        if higher <= level:
            break
        held, found, level = best, better, higher
    return found


def _spread_out(values: Floats, count: int) -> list[list[int]]:
    """Some choices of `count` rows to begin with: neighbours in the order in which they were measured."""
    total = len(values)
    firsts = sorted({round(share * (total - 1) / (2 * count)) for share in range(2 * count + 1)})
    return [list(chosen) for chosen in combinations(firsts, count)]


def _levelled(rows: Floats, values: Floats) -> tuple[Floats, float]:
    """The x that leaves errors of one size on one row more than unknowns, and that size."""
    weights = np.linalg.svd(rows.T)[2][-1]
    total = float(np.abs(weights).sum())
    level = float(weights @ values) / total
    signs = np.where(weights >= 0.0, 1.0, -1.0)
    found = np.asarray(np.linalg.lstsq(rows, values - level * signs, rcond=None)[0], dtype=np.float64)
    return found, abs(level)
