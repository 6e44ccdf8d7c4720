"""What a plot shows, as data: axes, curves, marks, limits, or a field of two inputs; and the table beside it.

As with sketches the calculation says what is to be seen, and the server has the one drawer. Numbers are in internal
units with their kind, so that an inch reader's plot has inch axes with round inch numbers on them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, NamedTuple, TypeAlias

from calc.language.messages import Message, Quantity
from calc.language.quantities import Kind


@dataclass(frozen=True, slots=True)
class Axis:
    """One axis: what runs along it, and the least it must show (internal units)."""

    label: str
    kind: Kind
    symbol: str = ""
    shows: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Curve:
    """A line through points; a gap where y is NaN. A "main" curve is the one asked for, others stand beside it."""

    label: str
    xs: Sequence[float]
    ys: Sequence[float]
    role: Literal["main", "other"] = "other"


@dataclass(frozen=True, slots=True)
class Mark:
    """A point worth naming."""

    x: float
    y: float
    label: Message


@dataclass(frozen=True, slots=True)
class Level:
    """A value of one axis drawn across the plot: a limit, or what was asked for."""

    value: float
    axis: Literal["x", "y"]
    label: Message


@dataclass(frozen=True, slots=True)
class Bound:
    """A limit over a field: `excess` is above 0 where it is broken; `label` says it ("power 11 kW")."""

    name: str
    label: Message
    excess: Sequence[Sequence[float]]


@dataclass(frozen=True, slots=True)
class Field:
    """A quantity over two inputs: `values[j][i]` stands at `ups[j]` and `acrosses[i]`; and what bounds it."""

    label: str
    kind: Kind
    acrosses: Sequence[float]
    ups: Sequence[float]
    values: Sequence[Sequence[float]]
    bounds: tuple[Bound, ...] = ()


@dataclass(frozen=True, slots=True)
class Column:
    """A column of the table beside a plot; `kind` None for words. `at` heads it by a value, without its unit."""

    label: str
    kind: Kind | None = None
    at: Quantity | None = None


class Noted(NamedTuple):
    """A number in a table with a word about it ("no: power"), which stands behind its digits."""

    value: float
    note: str


Cell: TypeAlias = float | str | Message | Noted | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Plot:
    """Everything that one plot shows.

    `key` names it in the answer, `rows` are the table beside it: every number that the plot names is there too.
    """

    key: str
    title: str
    description: Message
    x: Axis
    y: Axis
    curves: tuple[Curve, ...] = ()
    marks: tuple[Mark, ...] = ()
    levels: tuple[Level, ...] = ()
    field: Field | None = None
    caption: str = ""
    columns: tuple[Column, ...] = ()
    rows: tuple[tuple[Cell, ...], ...] = ()
    note: Message | None = None


def evenly(low: float, high: float, count: int) -> list[float]:
    """`count` values from `low` to `high`, ends exact.

    >>> evenly(0.0, 1.0, 5)
    [0.0, 0.25, 0.5, 0.75, 1.0]
    """
    step = (high - low) / (count - 1)
    return [low + step * index for index in range(count - 1)] + [high]
