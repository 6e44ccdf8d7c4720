"""A run of parts: the readings of one size, part after part, their trend, and when it meets a limit."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

from calc.language.messages import Phrase
from calc.measuring.student import quantile_95

FEWEST = 3
"""Readings from which on a line leaves anything over by which it can be judged."""
MOST_LINES = 500
MOST_PARTS = 100_000.0
LARGEST = 10_000.0


@dataclass(frozen=True, slots=True)
class Event:
    """A line of the record that is no reading: a new edge, a correction; before the part `before` (mm, count)."""

    words: str
    before: float


@dataclass(frozen=True, slots=True)
class Record:
    """The readings in order: numbers of the parts and sizes (mm), the events between them."""

    parts: tuple[float, ...]
    sizes: tuple[float, ...]
    events: tuple[Event, ...] = ()

    @property
    def since(self) -> Record:
        """The readings after the last event: those that one line can explain."""
        first = self.events[-1].before if self.events else float("-inf")
        kept = [pair for pair in zip(self.parts, self.sizes, strict=True) if pair[0] >= first]
        return Record(tuple(part for part, _ in kept), tuple(size for _, size in kept))


class BadLine(ValueError):
    """A line of the record (from 1) that says nothing that can be read, with the reason in words."""

    def __init__(self, number: int, line: str, why: str) -> None:
        self.number, self.line, self.why = number, line, why
        super().__init__(f"line {number}: {why}")


def read_record(text: str, scale: float = 1.0) -> Record:
    """The record of a `text` of lines, sizes times `scale` (mm of their unit).

    A line is a size, or the part's number and its size, apart by a comma, a semicolon or a tab; one of words is an
    event, such as a new edge; a head is passed over. Raises BadLine.

    >>> record = read_record("part;size\\n1;24,01\\n2;24,02\\nnew edge\\n3;24.00")
    >>> record.parts, record.sizes, record.events
    ((1.0, 2.0, 3.0), (24.01, 24.02, 24.0), (Event(words='new edge', before=3.0),))
    """
    parts: list[float] = []
    sizes: list[float] = []
    events: list[Event] = []
    lines = [line.strip() for line in text.splitlines() if line.strip(" \t;,")]
    if len(lines) > MOST_LINES:
        raise BadLine(MOST_LINES + 1, "", Phrase("at most {most} lines are read", most=MOST_LINES))
    for number, line in enumerate(lines, 1):
        cells = _cells(line)
        if not any(re.search(r"\d", cell) for cell in cells) or (_number(cells[-1]) is None and _is_words(cells)):
            if sizes:
                events.append(Event(" ".join(cells)[:60], parts[-1] + 1.0))
            continue
        part, size = _reading(number, line, cells, parts)
        parts.append(part)
        sizes.append(size * scale)
    return Record(tuple(parts), tuple(sizes), tuple(events))


def _cells(line: str) -> list[str]:
    """The cells of a line: apart by tabs or semicolons, else by commas, as CSV has it; `24,01` alone is one number."""
    apart = next((sign for sign in "\t;" if sign in line), "")
    if not apart and re.fullmatch(r"[-+]?\d+,\d+", line):
        return [line]
    return [cell.strip() for cell in next(csv.reader(io.StringIO(line), delimiter=apart or ","), [line])]


def _is_words(cells: Sequence[str]) -> bool:
    return bool(re.search(r"[^\W\d_]{2,}", " ".join(cells)))


def _number(cell: str) -> float | None:
    text = cell.replace(",", ".") if re.fullmatch(r"[-+]?\d+,\d+", cell) else cell
    return float(text) if re.fullmatch(r"[-+]?(\d+\.?\d*|\.\d+)", text) else None


def _reading(number: int, line: str, cells: Sequence[str], before: Sequence[float]) -> tuple[float, float]:
    """A line's part and size. Raises BadLine."""
    values = [_number(cell) for cell in cells if cell]
    if len(values) not in (1, 2) or None in values:
        raise BadLine(number, line, "write a size, or the number of the part and its size: 12; 24.013")
    found = [value for value in values if value is not None]
    last = before[-1] if before else 0.0
    part = found[0] if len(found) == 2 else last + 1.0
    if not last < part <= MOST_PARTS:
        raise BadLine(number, line, "the parts must be in the order in which they were made")
    if not abs(found[-1]) <= LARGEST:
        raise BadLine(number, line, "this size is larger than any part")
    return part, found[-1]


@dataclass(frozen=True, slots=True)
class Trend:
    """A straight line through readings: size at part 0 (mm) and change per part (mm), with half widths at 95 %.

    `scatter` is the standard deviation about it (mm), `factor` Student's for its degrees of freedom; `middle` and
    `spread_of_parts` are the mean of the parts' numbers and the sum of their squared distances from it.
    """

    start: float
    slope: float
    slope_spread: float
    scatter: float
    factor: float
    count: int
    middle: float
    spread_of_parts: float

    @property
    def is_proved(self) -> bool:
        """Whether the readings prove that the size drifts."""
        return abs(self.slope) > self.slope_spread

    def at(self, part: float) -> float:
        """The size (mm) that the line has at a `part`, counted from 1.

        >>> round(trend_of((1.0, 2.0, 3.0), (10.0, 10.01, 10.02)).at(5.0), 6)
        10.04
        """
        return self.start + self.slope * part

    def band(self, part: float) -> float:
        """Half the width (mm) at 95 % in which a single `part`, counted from 1, is to be expected.

        Source: textbooks of statistics, prediction from a straight line.
        """
        away = (part - self.middle) ** 2 / self.spread_of_parts
        return self.factor * self.scatter * sqrt(1.0 + 1.0 / self.count + away)

    def first_beyond(self, lower: float | None, upper: float | None, *, after: float, surely: bool) -> float | None:
        """The first part `after` one whose line meets a limit (mm), `surely` with its band; None within 100,000 parts.

        >>> trend_of((1.0, 2.0, 3.0), (10.0, 10.01, 10.02)).first_beyond(None, 10.055, after=3.0, surely=False)
        7.0
        """
        part, step = after, 1.0
        while part - after < MOST_PARTS:
            part += step
            band = self.band(part) if surely else 0.0
            at = self.at(part)
            if (upper is not None and at + band > upper) or (lower is not None and at - band < lower):
                return part
            step = 1.0 if part - after < STEPS_OF_ONE else 10.0 ** (len(f"{part - after:.0f}") - SHARE)
        return None


STEPS_OF_ONE = 1000.0
SHARE = 3
"""Beyond a thousand parts the next one is looked for in steps of about a hundredth."""


def trend_of(parts: Sequence[float], sizes: Sequence[float]) -> Trend:
    """The line of least squares through three or more `sizes` (mm) of `parts`, counted.

    Source: textbooks of statistics.

    >>> found = trend_of((1.0, 2.0, 3.0, 4.0), (10.0, 10.011, 10.019, 10.03))
    >>> round(found.slope, 5), round(found.slope_spread, 5), found.is_proved
    (0.0098, 0.00183, True)
    """
    count = len(sizes)
    middle, mean = sum(parts) / count, sum(sizes) / count
    squares = sum((part - middle) ** 2 for part in parts)
    slope = sum((part - middle) * (size - mean) for part, size in zip(parts, sizes, strict=True)) / squares
    start = mean - slope * middle
    left = sum((size - start - slope * part) ** 2 for part, size in zip(parts, sizes, strict=True))
    scatter, factor = sqrt(left / (count - 2)), quantile_95(count - 2)
    return Trend(start, slope, factor * scatter / sqrt(squares), scatter, factor, count, middle, squares)
