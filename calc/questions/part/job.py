"""What is asked of a whole part: its print, the stock, the machine, and the operations of each setup in order."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Literal, TypeAlias, get_args

from calc.contour import Chain, Side
from calc.cutting.machine import Machine
from calc.language.messages import Caution
from calc.machining.job import Contour, Cut, Tool, Where
from calc.machining.removal.stock import Stock

End = Literal["first", "second"]
Kind = Literal[
    "face", "rough", "finish", "bore", "groove", "thread", "drill", "ream", "tap", "knurl", "part-off", "measure"
]
KINDS: tuple[Kind, ...] = get_args(Kind)


@dataclass(frozen=True, slots=True)
class Print:
    """A contour of the print and the row (from 1) that each element came from; no rows: one for each element.

    The outside runs from the axis out, the inside from the mouth in; Z zero is the finished face of the first end.
    """

    chain: Chain
    rows: tuple[int, ...] = ()

    @property
    def numbers(self) -> tuple[int, ...]:
        """The row of each element.

        >>> from calc.contour import Line, Point
        >>> Print(Chain((Line(Point(0.0, 4.0), Point(-5.0, 4.0)),))).numbers
        (1,)
        """
        return self.rows or tuple(range(1, len(self.chain) + 1))


@dataclass(frozen=True, slots=True)
class Turning:
    """A turning tool or boring bar: its outline and edges, the designations, what speaks against the pair."""

    tool: Tool
    insert: str = ""
    holder: str = ""
    cautions: tuple[Caution, ...] = ()


AnyTool: TypeAlias = Turning


@dataclass(frozen=True, slots=True)
class Operation:
    """One operation: what it does, with what, how it cuts, the rows of the print from `first` to `last` (None: all).

    `name` is what it is called (blank: its kind and end). `field` is put before the names of faults: `kind`, `tool`,
    `cut.feed`, `from`, `to` and so on.
    """

    kind: Kind
    tool: AnyTool
    cut: Cut = Cut()
    first: int | None = None
    last: int | None = None
    name: str = ""
    field: str = ""


@dataclass(frozen=True, slots=True)
class Setup:
    """One clamping: the end that is worked on, its operations in order, how far (mm) the part stands out."""

    end: End = "first"
    operations: tuple[Operation, ...] = ()
    length_out: float | None = None


@dataclass(frozen=True)
class Job:
    """A part from its stock on; the stock is an area in the first end's frame, the material one of its names."""

    outside: Print
    stock: Stock
    setups: tuple[Setup, ...]
    inside: Print | None = None
    machine: Machine = field(default_factory=Machine)
    material: str | None = None

    @property
    def length(self) -> float:
        """The finished part's length, mm."""
        return -self.outside.chain.bounds.z_min

    def in_order(self) -> Iterator[tuple[Setup, Operation]]:
        """All operations in order, each with its setup."""
        return ((setup, operation) for setup in self.setups for operation in setup.operations)

    def contour(self, where: Where) -> Contour:
        """The whole outside, or for a bore the whole inside, with the side on which the tool stands."""
        print_ = self.inside if where == "bore" else self.outside
        assert print_ is not None, "asked for by kinds that require an inside"
        side: Side = "left" if where == "bore" else "right"
        return Contour(print_.chain, side)
