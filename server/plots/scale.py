"""An axis in the reader's unit: round numbers on it, and where a value stands in px."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from calc.language.translating import marked
from calc.language.unit import Unit

STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)
LEAST_SPAN = 1e-12


@dataclass(frozen=True, slots=True)
class Tick:
    """A number on an axis: its place (internal units) and its digits."""

    value: float
    text: str


@dataclass(frozen=True, slots=True)
class Scale:
    """A straight scale: internal values from `low` to `high` stand from `start` to `end` px."""

    low: float
    high: float
    start: float
    end: float

    def px(self, value: float) -> float:
        """Where a value stands.

        >>> Scale(0.0, 10.0, 50.0, 250.0).px(5.0)
        150.0
        """
        return self.start + (value - self.low) / (self.high - self.low) * (self.end - self.start)

    def within(self, value: float) -> bool:
        """Whether a value is on the scale."""
        slack = 1e-9 * (self.high - self.low)
        return self.low - slack <= value <= self.high + slack


def round_step(span: float, most: int) -> float:
    """The smallest round step (1, 2, 2.5, 5 and their tens) that parts `span` into at most `most`.

    >>> round_step(60.0, 5), round_step(0.9, 5)
    (20.0, 0.2)
    """
    rough = span / most
    power = 10.0 ** math.floor(math.log10(rough))
    return next(step * power for step in STEPS if step * power >= rough * (1 - 1e-9))


def ends_of(values: Iterable[float], unit: Unit, most: int, *, tight: bool) -> tuple[float, float]:
    """The ends of an axis over `values`: exactly theirs if `tight`, otherwise round numbers, 0 where it is near."""
    finite = [value for value in values if math.isfinite(value)]
    low, high = min(finite, default=0.0), max(finite, default=1.0)
    if not tight:
        if 0.0 < low < 0.6 * high:
            low = 0.0
        if low < high < 0.0 and high > 0.6 * low:
            high = 0.0
    if high - low <= LEAST_SPAN * max(abs(low), abs(high), 1.0):
        low, high = low - 0.5 * (abs(low) or 1.0), high + 0.5 * (abs(high) or 1.0)
    if tight:
        return low, high
    first, last = sorted((unit.shown(low), unit.shown(high)))
    step = round_step(last - first, most)
    first, last = math.floor(first / step + 1e-9) * step, math.ceil(last / step - 1e-9) * step
    low, high = sorted((unit.internal(first), unit.internal(last)))
    return low, high


def ticks(low: float, high: float, unit: Unit, most: int) -> list[Tick]:
    """Round numbers of the reader's unit between two internal values.

    >>> from calc.language.quantities import METRIC, X
    >>> [tick.text for tick in ticks(0.0, 30.0, X.unit(METRIC), 5)]
    ['0', '20', '40', '60']
    """
    first, last = sorted((unit.shown(low), unit.shown(high)))
    step = round_step(last - first, most)
    decimals = max(0, -math.floor(math.log10(step) + 1e-9))
    if round(step * 10**decimals) != step * 10**decimals and not math.isclose(
        step * 10**decimals, round(step * 10**decimals)
    ):
        decimals += 1
    count = range(math.ceil(first / step - 1e-9), math.floor(last / step + 1e-9) + 1)
    return [Tick(unit.internal(index * step), _digits(index * step, decimals, unit)) for index in count]


def _digits(shown: float, decimals: int, unit: Unit) -> str:
    text = f"{shown + 0.0:.{decimals}f}"
    if not float(text):
        return "0"
    if not unit.has_leading_zero and text.lstrip("-").startswith("0."):
        text = text.replace("0.", ".", 1)
    return marked(text, unit.language)
