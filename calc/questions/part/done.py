"""What operations have made of a part: the stock before and after each, its passes, what they take and what is left."""

from __future__ import annotations

from dataclasses import dataclass

from calc.language.messages import Caution, Message
from calc.language.working import Step
from calc.machining.job import Contour, Move, ToolPass
from calc.machining.machine import Dropped
from calc.machining.passes import Pass
from calc.machining.removal.judging import Place
from calc.machining.removal.stock import Stock
from calc.machining.removal.sweep import Outline
from calc.questions.part.job import End, Kind, Operation

AT_ONE_SPEED: tuple[Kind, ...] = (
    "centre", "drill", "counterbore", "countersink", "ream", "tap", "thread", "knurl",
)  # fmt: skip
"""Kinds that are done at one spindle speed; the others hold the surface speed up to the spindle's limit."""


@dataclass(frozen=True, slots=True)
class Hit:
    """What runs into what: the pass, and in words what is hit (part, stock at a rapid move, holder, jaws...)."""

    pass_name: str
    what: str


@dataclass(frozen=True, slots=True)
class PassDone:
    """One pass: its moves, the volume (mm3) it took, its row for tables, its largest force (N), power (N mm/min).

    The row, force and power are None where speed, feed or material is not known, the stock after it where it leaves
    that as it was.
    """

    name: str
    tool_pass: ToolPass
    volume: float
    row: Pass | None = None
    force: float | None = None
    power: float | None = None
    rpm: float | None = None
    outline: Outline | None = None
    stock: Stock | None = None


@dataclass(frozen=True)
class OperationDone:
    """One operation, in the frame of the end that it works on (Z zero its finished face, +Z away from the chuck), mm.

    `left` is the largest rest on the stretch that it works on and `too_deep` the deepest cut into the print, each with
    its place, None where there is none; `rests` are the largest beside each of its elements. `contours` are the
    print's, in this frame; `steps` the working of what single questions answer, too.
    """

    operation: Operation
    end: End
    name: str
    before: Stock
    after: Stock
    contours: tuple[Contour, ...]
    passes: tuple[PassDone, ...] = ()
    time: float | None = None
    left: Place | None = None
    too_deep: Place | None = None
    hits: tuple[Hit, ...] = ()
    dropped: tuple[Dropped, ...] = ()
    cautions: tuple[Caution, ...] = ()
    notes: tuple[Message, ...] = ()
    steps: tuple[Step, ...] = ()
    rests: tuple[Place, ...] = ()

    @property
    def moves(self) -> tuple[Move, ...]:
        """All moves in order; a move's elements are the path of the nose centre."""
        return tuple(move for each in self.passes for move in each.tool_pass.moves)

    @property
    def first_row(self) -> Pass | None:
        """The row for tables of its first pass that has one."""
        return next((each.row for each in self.passes if each.row is not None), None)

    @property
    def fixed_speed(self) -> float | None:
        """The one spindle speed that it is done at, 1/min; None where the surface speed is held or no speed known."""
        row = self.first_row if self.operation.kind in AT_ONE_SPEED else None
        return None if row is None else row.rpm_start

    @property
    def rpm_max(self) -> float | None:
        """The highest spindle speed reached, 1/min."""
        rows = [each.row for each in self.passes if each.row is not None]
        speeds = [speed for row in rows for speed in (row.rpm_start, row.rpm_end) if speed is not None]
        return max([*speeds, *(each.rpm for each in self.passes if each.rpm is not None)], default=None)

    @property
    def force_max(self) -> float | None:
        """The largest cutting force, N."""
        return max((each.force for each in self.passes if each.force is not None), default=None)

    @property
    def power_max(self) -> float | None:
        """The largest power at the spindle, N mm/min."""
        return max((each.power for each in self.passes if each.power is not None), default=None)


@dataclass(frozen=True)
class PartDone:
    """A part with all its operations done, and the length (mm) of the finished piece.

    After a broken edge those from `from_operation` (counted from 1) on still run, the first of them as it `begins`.
    """

    operations: tuple[OperationDone, ...]
    length: float
    from_operation: int = 1
    begins: OperationDone | None = None

    @property
    def is_restart(self) -> bool:
        """Whether only a part of it still runs."""
        return self.from_operation > 1 or self.begins is not None

    @property
    def to_run(self) -> tuple[tuple[int, OperationDone], ...]:
        """The operations that still run, each with its number."""
        numbered = list(enumerate(self.operations, 1))[self.from_operation - 1 :]
        return tuple(numbered if self.begins is None else [(self.from_operation, self.begins), *numbered[1:]])

    @property
    def total_time(self) -> float:
        """The time of all that is fed, min; rapid moves and tool changes come on top."""
        return sum(each.time for each in self.operations if each.time is not None)
