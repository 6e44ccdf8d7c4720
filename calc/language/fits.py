"""Tolerance classes: `24 g6` as limits of size, and the middle of them.

Limits follow from a standard tolerance (the figure: IT grade) and a fundamental deviation (the letter: small for a
shaft, capital for a hole), both by the range that the nominal size falls into. The numbers stand in `data/iso286.toml`.
"""

from __future__ import annotations

import math
import re
from bisect import bisect_left
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

from calc.language.given import Given, slack_of
from calc.language.messages import Message, Quantity, Value
from calc.language.problems import Fault, OutOfRange
from calc.language.quantities import LENGTH
from calc.language.tables import read_table

TABLE = Path(__file__).parent / "data" / "iso286.toml"
LARGEST = 500.0

_CLASS = re.compile(r"([A-Za-z]{1,2})([1-9][0-9]?)")
_UM = 1000.0


class ToleranceClass(NamedTuple):
    """A letter (or js, JS) and a grade. Small letters are of shafts, capitals of holes."""

    letter: str
    grade: int

    @property
    def is_hole(self) -> bool:
        """Whether it is of a hole."""
        return self.letter.isupper()

    def __str__(self) -> str:
        return f"{self.letter}{self.grade}"


@dataclass(frozen=True, slots=True)
class Limits:
    """The deviations, mm, that a size may have from its nominal."""

    lower: float
    upper: float

    @property
    def middle(self) -> float:
        """The deviation at the middle of the limits, mm."""
        return (self.lower + self.upper) / 2.0

    @property
    def tolerance(self) -> float:
        """The width of the limits, mm."""
        return self.upper - self.lower


def read_class(text: str, field: str = "") -> ToleranceClass:
    """The class that is written as `g6`, `H7`, `js9`.

    Raises `OutOfRange` at ``field`` for what is none here.

    >>> read_class("g6")
    ToleranceClass(letter='g', grade=6)
    """
    match = _CLASS.fullmatch(text.strip())
    if match is not None:
        found = ToleranceClass(match[1], int(match[2]))
        if _is_known(found):
            return found
    raise OutOfRange(
        Fault(field, Message("“{text}” is not a tolerance class known here, such as g6 or H7.", {"text": text[:20]}))
    )


def standard_tolerance(size: float, grade: int, field: str = "") -> float:
    """The standard tolerance, mm, of a nominal size (mm, above 0 up to 500) in grade 1 to 18.

    Raises `OutOfRange` at ``field``. Source: ISO 286-1:2010, table 1.

    >>> standard_tolerance(24.0, 6)
    0.013
    """
    table = _table()
    _require_size(size, field)
    if str(grade) not in table["grades"]:
        raise OutOfRange(Fault(field, Message("Grades go from IT1 to IT18.")))
    return _micrometres(table["grades"][str(grade)][_place(table["steps"], size)])


def limits(size: float, tolerance_class: ToleranceClass, field: str = "") -> Limits:
    """The deviations, mm, of a nominal size (mm, above 0 up to 500) in a class.

    Raises `OutOfRange` at ``field`` for sizes and classes that the standard does not give. Source: ISO 286-1:2010.

    >>> limits(24.0, read_class("g6"))
    Limits(lower=-0.02, upper=-0.007)
    >>> limits(25.0, read_class("H7"))
    Limits(lower=0.0, upper=0.021)
    """
    tolerance = standard_tolerance(size, tolerance_class.grade, field) * _UM
    lower, upper = _deviations(size, tolerance_class, tolerance)
    if math.isnan(lower):
        values: dict[str, Value] = {"class": str(tolerance_class), "size": Quantity(size, LENGTH, brief=True)}
        raise OutOfRange(Fault(field, Message("{class} is not given for {size}.", values)))
    return Limits(_micrometres(lower), _micrometres(upper))


def aimed_at(size: float, tolerance_class: ToleranceClass, field: str = "") -> Given:
    """The size (mm) at the middle of its limits, with the nominal it came from; half of the limits' width is its slack.

    Raises `OutOfRange` as `limits`.

    >>> aimed_at(24.0, read_class("g6")), aimed_at(24.0, read_class("g6")).nominal
    (23.9865, 24.0)
    """
    found = limits(size, tolerance_class, field)
    ends = round(size + found.lower, 9), round(size + found.upper, 9)
    return Given(round(size + found.middle, 9), found.tolerance / 2.0 + slack_of(size), float(size), ends)


def scaled(aim: Given, factor: float) -> Given:
    """A value with its limits times `factor`, such as 0.5 for the radius of a diameter.

    >>> half = scaled(aimed_at(24.0, read_class("g6")), 0.5)
    >>> half, half.nominal, half.lower, half.upper
    (11.99325, 12.0, 11.99, 11.9965)
    """
    limits = None if aim.lower is None or aim.upper is None else (aim.lower * factor, aim.upper * factor)
    nominal = None if aim.nominal is None else aim.nominal * factor
    return Given(aim * factor, aim.slack * abs(factor), nominal, limits)


# --- the standard's rules ---------------------------------------------------------------------------------------------


def _deviations(size: float, tolerance_class: ToleranceClass, tolerance: float) -> tuple[float, float]:
    """Lower and upper deviation in µm; nan where the standard gives none."""
    letter, grade = tolerance_class
    if letter.lower() == "js":
        return -tolerance / 2.0, tolerance / 2.0
    if letter.lower() == "j":
        given = _of_class(size, tolerance_class)
        return (given - tolerance, given) if tolerance_class.is_hole else (given, given + tolerance)
    if tolerance_class.is_hole:
        return _of_hole(size, letter, grade, tolerance)
    deviation = _of_shaft(size, letter, grade)
    return (deviation - tolerance, deviation) if letter <= "h" else (deviation, deviation + tolerance)


def _of_shaft(size: float, letter: str, grade: int) -> float:
    table = _table()
    if letter == "k" and not 4 <= grade <= 7:
        return 0.0
    return float(table["shafts"][letter][_place(table["fine_steps"], size)])


def _of_hole(size: float, letter: str, grade: int, tolerance: float) -> tuple[float, float]:
    """A hole mirrors the shaft; finer than the general rule it moves by delta, the step between two grades."""
    if letter <= "H":
        lower = -_of_shaft(size, letter.lower(), grade)
        return lower, lower + tolerance
    upper = _upper_of_hole(size, letter, grade)
    return upper - tolerance, upper


def _upper_of_hole(size: float, letter: str, grade: int) -> float:
    table = _table()
    # of K the shaft's deviation is that of grades 4 to 7, whatever the grade
    mirrored = -float(table["shafts"][letter.lower()][_place(table["fine_steps"], size)])
    finest = 8 if letter in "KMN" else 7
    if grade <= finest:
        special = letter == "M" and grade == 6 and 250.0 < size <= 315.0
        return -9.0 if special else mirrored + _delta(size, grade)
    if letter == "N":
        return 0.0 if size > 3.0 else mirrored
    if letter == "K":
        return 0.0 if size <= 3.0 else math.nan
    return mirrored


def _delta(size: float, grade: int) -> float:
    if size <= 3.0 or grade < 3:
        return 0.0
    return round((standard_tolerance(size, grade) - standard_tolerance(size, grade - 1)) * _UM, 6)


def _of_class(size: float, tolerance_class: ToleranceClass) -> float:
    table = _table()
    row = table["of_class"].get(str(tolerance_class))
    return math.nan if row is None else float(row[_place(table["steps"], size)])


def _is_known(tolerance_class: ToleranceClass) -> bool:
    letter, grade = tolerance_class
    if not 1 <= grade <= 18 or not (letter.islower() or letter.isupper()):
        return False
    return (
        letter.lower() == "js" or letter.lower() in _table()["shafts"] or str(tolerance_class) in _table()["of_class"]
    )


def _require_size(size: float, field: str) -> None:
    if not 0.0 < size <= LARGEST:
        values = {"largest": Quantity(LARGEST, LENGTH, brief=True)}
        text = "Tolerance classes are for sizes above 0 up to {largest}."
        raise OutOfRange(Fault(field, Message(text, values)))


def _place(steps: list[float], size: float) -> int:
    return bisect_left(steps, size)


def _micrometres(value: float) -> float:
    return round(value / _UM, 9) + 0.0


@cache
def _table() -> Mapping[str, Any]:
    return read_table(TABLE)
