"""From readings to causes: weighted least squares with what is plausible beforehand, and what that leaves open."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

import numpy as np
from numpy.typing import NDArray

from calc.measuring.causes import ANYTHING, CAUSES, Name, State
from calc.measuring.places import Place, size
from calc.measuring.student import NORMAL_95, quantile_95

Floats = NDArray[np.float64]
ROUNDS = 6
STEP = np.array([1e-4, 1e-4, 1e-4, 1e-4, 1e-7, 1e-4, 1e-4])
CLEAR, CONFUSED, CORRELATED = 3.0, 3.0, 0.5
"""A cause stands out at so many spreads; is confused when others widen it so much; belongs together from so much on."""
COUNT = len(CAUSES)
_PLAUSIBLE = np.array([cause.plausible or ANYTHING for cause in CAUSES]) / NORMAL_95
_USEFUL = np.array([cause.useful for cause in CAUSES])


@dataclass(frozen=True, slots=True)
class Measured:
    """A reading: where, what the gauge showed (mm, at 20 degrees C), half the width at 95 % of it."""

    place: Place
    value: float
    spread: float


@dataclass(frozen=True, slots=True)
class Estimate:
    """The causes that explain the readings best.

    `state` is the best guess at all of them; only those `told` may be used. `spreads` are half widths at 95 %, in the
    order of `CAUSES`. `together` are groups that the readings cannot tell apart, `unseen` the others of which they say
    too little. `residuals` (mm) are what the state leaves of each reading; `scatter` is how much larger they are than
    the readings' spreads allow, 1 where they agree.
    """

    state: State
    spreads: tuple[float, ...]
    told: tuple[bool, ...]
    together: tuple[tuple[Name, ...], ...]
    unseen: tuple[Name, ...]
    residuals: tuple[float, ...]
    scatter: float

    @property
    def told_names(self) -> tuple[Name, ...]:
        """The names of the causes that are told."""
        return tuple(cause.name for cause, told in zip(CAUSES, self.told, strict=True) if told)


@dataclass(frozen=True, slots=True)
class _Fit:
    """One solution with some causes left free of what is plausible."""

    values: Floats
    effects: Floats
    spreads: Floats
    correlation: Floats
    residuals: Floats
    scatter: float


def estimate(readings: Sequence[Measured], tool_point: int) -> Estimate:
    """The causes behind the readings of one tool with that tool point (0 to 9).

    A cause is told when its half width, with all others in play, is of use, or hardly wider than if it were alone, or
    a third of its size. Then its plausible bound is dropped and all is solved again. Source: weighted linear least
    squares (Gauss-Markov) about the exact contour; scatter as in the Birge ratio.

    >>> from calc.contour import Line, Point, Vector
    >>> place = Place("diameter", Point(-2.0, 9.0), Vector(0.0, 1.0), Line(Point(0.0, 9.0), Point(-5.0, 9.0)))
    >>> found = estimate([Measured(place, 18.04, 0.004)], 3)
    >>> round(found.state.x, 3), found.told_names
    (0.02, ('offset_x',))
    """
    free = np.zeros(COUNT, dtype=bool)
    fit = _fit(readings, tool_point, free)
    for _ in range(2):
        told = _told(fit, free)
        if bool((told == free).all()):
            break
        free = told
        fit = _fit(readings, tool_point, free)
    told = _told(fit, free)
    together = _together(fit, told)
    grouped = {name for group in together for name in group}
    return Estimate(
        State(*(float(value) for value in fit.values)),
        tuple(float(each) for each in _own_spreads(fit, free)),
        tuple(bool(each) for each in told),
        together,
        tuple(
            cause.name
            for cause, yes, shown in zip(CAUSES, told, np.abs(fit.effects).sum(axis=0) > 0.0, strict=True)
            if not yes and cause.name not in grouped and (shown or not cause.special)
        ),
        tuple(float(each) for each in fit.residuals),
        fit.scatter,
    )


def _fit(readings: Sequence[Measured], tool_point: int, free: NDArray[np.bool_]) -> _Fit:
    weights = np.array([NORMAL_95 / reading.spread for reading in readings])
    measured = np.array([reading.value for reading in readings])
    before = np.where(free, ANYTHING / NORMAL_95, _PLAUSIBLE)
    values = np.zeros(COUNT)
    for _ in range(ROUNDS):
        predicted, effects = _effects([reading.place for reading in readings], values, tool_point)
        rows = np.vstack([effects * weights[:, None], np.diag(1.0 / before)]) * before
        wanted = np.concatenate([(measured - predicted) * weights, -values / before])
        values = values + before * np.linalg.lstsq(rows, wanted, rcond=None)[0]
    predicted, effects = _effects([reading.place for reading in readings], values, tool_point)
    residuals = measured - predicted
    scatter = _scatter(residuals * weights, int(free.sum()))
    return _judged(effects * weights[:, None] / scatter, free, values, residuals, scatter)


def _judged(weighted: Floats, free: NDArray[np.bool_], values: Floats, residuals: Floats, scatter: float) -> _Fit:
    """What rows of weighted effects say of the causes, by singular values of the scaled rows."""
    before = np.where(free, ANYTHING / NORMAL_95, _PLAUSIBLE)
    rows = np.vstack([weighted * before, np.eye(COUNT)])
    _, singular, right = np.linalg.svd(rows, full_matrices=False)
    half = (right.T / singular) * before[:, None]
    covariance = half @ half.T
    sigma = np.sqrt(np.diag(covariance))
    return _Fit(values, weighted, NORMAL_95 * sigma, covariance / np.outer(sigma, sigma), residuals, scatter)


def _effects(places: Sequence[Place], values: Floats, tool_point: int) -> tuple[Floats, Floats]:
    """What the gauges should show, and how each cause moves it."""
    predicted = np.array([size(place, State(*values), tool_point) for place in places])
    effects = np.empty((len(places), COUNT))
    for column, step in enumerate(STEP):
        ends = [values.copy(), values.copy()]
        ends[0][column] -= step
        ends[1][column] += step
        low, high = ([size(place, State(*end), tool_point) for place in places] for end in ends)
        effects[:, column] = (np.array(high) - np.array(low)) / (2.0 * step)
    return predicted, effects


def _scatter(weighted: Floats, told: int) -> float:
    """How much more the residuals scatter than the spreads allow, at least 1, Student's factor in it."""
    free = len(weighted) - told
    if free < 1:
        return 1.0
    ratio = float((weighted**2).sum()) / free
    return max(1.0, math.sqrt(ratio) * quantile_95(free) / NORMAL_95) if ratio > DISAGREE else 1.0


DISAGREE = 4.0
"""Mean square of the residuals, in variances, from which on the readings are taken to be worse than their spreads."""


def _own_spreads(fit: _Fit, free: NDArray[np.bool_]) -> Floats:
    """Half widths with the plausible bound of the cause itself taken away."""
    before = np.where(free, ANYTHING, _PLAUSIBLE * NORMAL_95)
    left = 1.0 / np.maximum(fit.spreads, 1e-300) ** 2 - 1.0 / before**2
    own: Floats = np.where(left > 0.0, 1.0 / np.sqrt(np.maximum(left, 1e-30)), np.inf)
    return own


def _alone(fit: _Fit) -> Floats:
    """Half widths if each cause were the only one."""
    lengths = np.linalg.norm(fit.effects, axis=0)
    alone: Floats = NORMAL_95 / np.maximum(lengths, 1e-12)
    return alone


def _seen(fit: _Fit) -> NDArray[np.bool_]:
    """Whether the readings would tell a cause that were alone."""
    seen: NDArray[np.bool_] = _alone(fit) < _PLAUSIBLE * NORMAL_95
    return seen


def _told(fit: _Fit, free: NDArray[np.bool_]) -> NDArray[np.bool_]:
    own, alone = _own_spreads(fit, free), _alone(fit)
    good = (own <= np.maximum(_USEFUL, CONFUSED * alone)) | (own * CLEAR <= np.abs(fit.values))
    told: NDArray[np.bool_] = good & _seen(fit)
    return told


def _together(fit: _Fit, told: NDArray[np.bool_]) -> tuple[tuple[Name, ...], ...]:
    """Groups of two and more causes that are seen and not told, joined by how they move against each other."""
    open_ = [index for index in range(COUNT) if _seen(fit)[index] and not told[index]]
    groups: list[set[int]] = []
    for index in open_:
        near = [g for g in groups if any(abs(fit.correlation[index, other]) > CORRELATED for other in g)]
        groups = [g for g in groups if g not in near] + [{index}.union(*near)]
    return tuple(tuple(CAUSES[each].name for each in sorted(group)) for group in groups if len(group) > 1)


def one_more(
    readings: Sequence[Measured], found: Estimate, wanted: Sequence[Name], places: Sequence[Place], tool_point: int
) -> Place | None:
    """The first of the `places` at which one more reading would tell all the `wanted` causes, or else most of them.

    The new reading is taken to be as good as the middle one of those that are there. None where no place helps;
    `tool_point` is 0 to 9.
    """
    if not readings:
        return None
    values = np.array(found.state)
    effects = _effects([*(reading.place for reading in readings), *places], values, tool_point)[1]
    spreads = np.array([reading.spread for reading in readings])
    weights = NORMAL_95 / spreads / found.scatter
    middle_spread = median(reading.spread for reading in readings)  # the array package's loads 3 MB of masked arrays
    known, middle = effects[: len(readings)] * weights[:, None], NORMAL_95 / middle_spread / found.scatter
    columns = [index for index, cause in enumerate(CAUSES) if cause.name in wanted]
    best, most = None, 0
    for place, row in zip(places, effects[len(readings) :], strict=True):
        told = _told_by(np.vstack([known, row * middle]), np.array(found.told), values)
        count = int(told[columns].sum())
        if count > most:
            best, most = place, count
        if most == len(columns):
            break
    return best


def _told_by(weighted: Floats, free: NDArray[np.bool_], values: Floats) -> NDArray[np.bool_]:
    nothing = np.zeros(len(weighted))
    for _ in range(2):
        free = _told(_judged(weighted, free, values, nothing, 1.0), free)
    return free
