"""From readings to causes: weighted least squares with what is plausible beforehand, and what that leaves open."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

import numpy as np
from numpy.typing import NDArray

from calc.measuring.causes import CAUSES, Name, State
from calc.measuring.places import Place, size
from calc.measuring.student import NORMAL_95, quantile_95
from calc.measuring.unknowns import Unknowns

Floats = NDArray[np.float64]
ROUNDS = 6
STEP = np.array([1e-4, 1e-4, 1e-4, 1e-4, 1e-7, 1e-4, 1e-4])
CLEAR, CONFUSED, CORRELATED = 3.0, 3.0, 0.5
"""A cause stands out at so many spreads; is confused when others widen it so much; belongs together from so much on."""


@dataclass(frozen=True, slots=True)
class Measured:
    """A reading: where, what the gauge showed (mm, at 20 degrees C), half the width at 95 % of it.

    `tool` is the index of the tool that cut there, of those whose readings are taken together.
    """

    place: Place
    value: float
    spread: float
    tool: int = 0


@dataclass(frozen=True, slots=True)
class Estimate:
    """The causes that explain the readings best.

    `state` is the best guess at all of them; only those `told` may be used. `spreads` are half widths at 95 %, in the
    order of `CAUSES`. `together` are groups that the readings cannot tell apart, `unseen` the others of which they say
    too little. `residuals` (mm) are what the state leaves of each reading; `scatter` is how much larger they are than
    the readings' spreads allow, 1 where they agree. `has_worst`: the reading that fits least is one of this tool.
    """

    state: State
    spreads: tuple[float, ...]
    told: tuple[bool, ...]
    together: tuple[tuple[Name, ...], ...]
    unseen: tuple[Name, ...]
    residuals: tuple[float, ...]
    scatter: float
    has_worst: bool = True

    @property
    def told_names(self) -> tuple[Name, ...]:
        """The names of the causes that are reported."""
        return tuple(cause.name for cause, told in zip(CAUSES, self.told, strict=True) if told)


@dataclass(frozen=True, slots=True)
class Joint:
    """What readings of several tools in one clamping say together: an estimate for each tool, and what it rests on.

    `values` and `told` are those of all unknowns, lengths in mm.
    """

    readings: Sequence[Measured]
    unknowns: Unknowns
    estimates: tuple[Estimate, ...]
    values: Floats
    told: NDArray[np.bool_]
    scatter: float


@dataclass(frozen=True, slots=True)
class _Fit:
    """One solution with some causes left free of what is plausible."""

    unknowns: Unknowns
    values: Floats
    effects: Floats
    spreads: Floats
    correlation: Floats
    residuals: Floats
    scatter: float


def estimate(readings: Sequence[Measured], tool_point: int) -> Estimate:
    """The causes behind the readings of one tool with that tool point (0 to 9).

    A cause is reported when its half width, with all others in play, is of use, or hardly wider than if alone, or
    a third of its size. Then its plausible bound is dropped and all is solved again. Source: weighted linear least
    squares (Gauss-Markov) about the exact contour; scatter as in the Birge ratio.

    >>> from calc.contour import Line, Point, Vector
    >>> place = Place("diameter", Point(-2.0, 9.0), Vector(0.0, 1.0), Line(Point(0.0, 9.0), Point(-5.0, 9.0)))
    >>> found = estimate([Measured(place, 18.04, 0.004)], 3)
    >>> round(found.state.x, 3), found.told_names
    (0.02, ('offset_x',))
    """
    return estimate_together(readings, (tool_point,)).estimates[0]


def estimate_together(readings: Sequence[Measured], tool_points: Sequence[int]) -> Joint:
    """The causes behind the readings of several tools with those tool points (0 to 9), solved at once.

    Each tool has its own offsets, nose, height and spring; taper of the work and growth are the same for all of them,
    so that a taper which no tool's readings show alone is found from those of all.

    >>> from calc.contour import Line, Point, Vector
    >>> shaft = Place("diameter", Point(-2.0, 9.0), Vector(0.0, 1.0), Line(Point(0.0, 9.0), Point(-5.0, 9.0)))
    >>> found = estimate_together([Measured(shaft, 18.04, 0.004), Measured(shaft, 17.98, 0.004, 1)], (3, 3))
    >>> [round(each.state.x, 3) for each in found.estimates]
    [0.02, -0.01]
    """
    unknowns = Unknowns(tuple(tool_points))
    free = np.zeros(unknowns.count, dtype=bool)
    fit = _fit(readings, unknowns, free)
    for _ in range(2):
        told = _told(fit, free)
        if bool((told == free).all()):
            break
        free = told
        fit = _fit(readings, unknowns, free)
    told = _told(fit, free)
    estimates = tuple(_of_tool(readings, fit, free, told, tool) for tool in range(len(tool_points)))
    return Joint(readings, unknowns, estimates, fit.values, told, fit.scatter)


def _of_tool(
    readings: Sequence[Measured], fit: _Fit, free: NDArray[np.bool_], told: NDArray[np.bool_], tool: int
) -> Estimate:
    """What the solution says of one tool."""
    columns = fit.unknowns.table[tool]
    together = _together(fit, told, columns)
    grouped = {name for group in together for name in group}
    shown = np.abs(fit.effects).sum(axis=0)[columns] > 0.0
    return Estimate(
        State(*(float(value) for value in fit.values[columns])),
        tuple(float(each) for each in _own_spreads(fit, free)[columns]),
        tuple(bool(each) for each in told[columns]),
        together,
        tuple(
            cause.name
            for cause, yes, seen in zip(CAUSES, told[columns], shown, strict=True)
            if not yes and cause.name not in grouped and (seen or not cause.special)
        ),
        tuple(float(each) for each, reading in zip(fit.residuals, readings, strict=True) if reading.tool == tool),
        fit.scatter,
        _worst(readings, fit) == tool,
    )


def _worst(readings: Sequence[Measured], fit: _Fit) -> int:
    """The tool of the reading that fits least."""
    off = [abs(each) / reading.spread for each, reading in zip(fit.residuals, readings, strict=True)]
    return readings[off.index(max(off))].tool if off else 0


def _fit(readings: Sequence[Measured], unknowns: Unknowns, free: NDArray[np.bool_]) -> _Fit:
    weights = np.array([NORMAL_95 / reading.spread for reading in readings])
    measured = np.array([reading.value for reading in readings])
    before = unknowns.before(free)
    values = np.zeros(unknowns.count)
    for _ in range(ROUNDS):
        predicted, effects = _effects(readings, values, unknowns)
        rows = np.vstack([effects * weights[:, None], np.diag(1.0 / before)]) * before
        wanted = np.concatenate([(measured - predicted) * weights, -values / before])
        values = values + before * np.linalg.lstsq(rows, wanted, rcond=None)[0]
    predicted, effects = _effects(readings, values, unknowns)
    residuals = measured - predicted
    scatter = _scatter(residuals * weights, int(free.sum()))
    return _judged(effects * weights[:, None] / scatter, unknowns, free, values, residuals, scatter)


def _judged(
    weighted: Floats, unknowns: Unknowns, free: NDArray[np.bool_], values: Floats, residuals: Floats, scatter: float
) -> _Fit:
    """What rows of weighted effects say of the causes, by singular values of the scaled rows."""
    before = unknowns.before(free)
    rows = np.vstack([weighted * before, np.eye(unknowns.count)])
    _, singular, right = np.linalg.svd(rows, full_matrices=False)
    half = (right.T / singular) * before[:, None]
    covariance = half @ half.T
    sigma = np.sqrt(np.diag(covariance))
    correlation = covariance / np.outer(sigma, sigma)
    return _Fit(unknowns, values, weighted, NORMAL_95 * sigma, correlation, residuals, scatter)


def _effects(readings: Sequence[Measured], values: Floats, unknowns: Unknowns) -> tuple[Floats, Floats]:
    """What the gauges should show, and how each unknown moves it."""
    states = values[unknowns.table]
    predicted = np.array([_shown(reading, states, unknowns) for reading in readings])
    effects = np.zeros((len(readings), unknowns.count))
    for cause, step in enumerate(STEP):
        low, high = states.copy(), states.copy()
        low[:, cause] -= step
        high[:, cause] += step
        for row, reading in enumerate(readings):
            change = _shown(reading, high, unknowns) - _shown(reading, low, unknowns)
            effects[row, unknowns.table[reading.tool][cause]] = change / (2.0 * step)
    return predicted, effects


def _shown(reading: Measured, states: Floats, unknowns: Unknowns) -> float:
    """What a gauge shows at a reading's place while the tools are in these states."""
    return size(reading.place, State(*states[reading.tool]), unknowns.tool_points[reading.tool])


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
    before = NORMAL_95 * fit.unknowns.before(free)
    left = 1.0 / np.maximum(fit.spreads, 1e-300) ** 2 - 1.0 / before**2
    own: Floats = np.where(left > 0.0, 1.0 / np.sqrt(np.maximum(left, 1e-30)), np.inf)
    return own


def _alone(fit: _Fit) -> Floats:
    """Half widths if each cause were the only one."""
    lengths = np.linalg.norm(fit.effects, axis=0)
    alone: Floats = NORMAL_95 / np.maximum(lengths, 1e-12)
    return alone


def _seen(fit: _Fit) -> NDArray[np.bool_]:
    """Whether the readings would show a cause that were alone."""
    seen: NDArray[np.bool_] = _alone(fit) < fit.unknowns.plausible
    return seen


def _told(fit: _Fit, free: NDArray[np.bool_]) -> NDArray[np.bool_]:
    own, alone = _own_spreads(fit, free), _alone(fit)
    good = (own <= np.maximum(fit.unknowns.useful, CONFUSED * alone)) | (own * CLEAR <= np.abs(fit.values))
    told: NDArray[np.bool_] = good & _seen(fit)
    return told


def _together(fit: _Fit, told: NDArray[np.bool_], columns: NDArray[np.int_]) -> tuple[tuple[Name, ...], ...]:
    """Groups of two and more of one tool's causes, seen and not reported, joined by how they move each other."""
    open_ = [index for index, column in enumerate(columns) if _seen(fit)[column] and not told[column]]
    groups: list[set[int]] = []
    for index in open_:
        moved = np.abs(fit.correlation[columns[index], columns]) > CORRELATED
        near = [group for group in groups if any(moved[other] for other in group)]
        groups = [group for group in groups if group not in near] + [{index}.union(*near)]
    return tuple(tuple(CAUSES[each].name for each in sorted(group)) for group in groups if len(group) > 1)


def one_more(joint: Joint, tool: int, wanted: Sequence[Name], places: Sequence[Place]) -> Place | None:
    """The first of the `places` at which one more reading would settle all the `wanted` causes of a tool, or most.

    The new reading is taken to be as sure as the middle one of those that are there. None where no place helps; `tool`
    counts from 0.
    """
    readings = joint.readings
    if not readings:
        return None
    middle = median(reading.spread for reading in readings)  # the array package's loads 3 MB of masked arrays
    tried = [*readings, *(Measured(place, 0.0, middle, tool) for place in places)]
    weights = np.array([NORMAL_95 / reading.spread / joint.scatter for reading in tried])
    effects = _effects(tried, joint.values, joint.unknowns)[1] * weights[:, None]
    known = effects[: len(readings)]
    columns = [joint.unknowns.table[tool][index] for index, cause in enumerate(CAUSES) if cause.name in wanted]
    best, most = None, 0
    for place, row in zip(places, effects[len(readings) :], strict=True):
        count = int(_told_by(np.vstack([known, row]), joint)[columns].sum())
        if count > most:
            best, most = place, count
        if most == len(columns):
            break
    return best


def _told_by(weighted: Floats, joint: Joint) -> NDArray[np.bool_]:
    nothing, free = np.zeros(len(weighted)), joint.told
    for _ in range(2):
        free = _told(_judged(weighted, joint.unknowns, free, joint.values, nothing, 1.0), free)
    return free
