"""The time of an operation's passes, at the speeds and feeds with which they were planned."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import nullcontext
from dataclasses import dataclass

from calc.language.working import recording
from calc.machining.machine import Done
from calc.machining.passes import Pass, Referral, Spindle, pass_row


def times(done: Sequence[Done], referral: Referral, max_rpm: float | None) -> list[Pass]:
    """A row for each pass of operations that have a surface speed and a feed, with its deepest cut as it was swept.

    `max_rpm` (1/min) is the spindle's limit, None without one; `referral` says where speed and feed are held. Of
    finishing passes the working is recorded; of the others there are too many of one kind.
    """
    rows = []
    for operation in done:
        cut = operation.operation.cut
        if cut.surface_speed is None or cut.feed is None:
            continue
        spindle = Spindle(cut.surface_speed, max_rpm)
        for each in operation.made:
            with nullcontext() if each.planned.kind == "finish" else recording():
                rows.append(pass_row(each.planned.name, each.pieces, referral, spindle, each.removal.depth))
    return rows


@dataclass(frozen=True, slots=True)
class KindTimes:
    """The time (min) of all passes of a kind, None without one that is timed; and of all together."""

    face: float | None
    rough: float | None
    finish: float | None

    @property
    def total(self) -> float | None:
        """All of them, None without any."""
        known = [time for time in (self.face, self.rough, self.finish) if time is not None]
        return sum(known) if known else None


def times_of_kinds(done: Sequence[Done], rows: Sequence[Pass]) -> KindTimes:
    """The `rows` of the passes of operations added up by kind of pass."""
    kinds = {each.planned.name: each.planned.kind for operation in done for each in operation.made}
    found = {kind: [row.time for row in rows if kinds[row.name] == kind] for kind in ("face", "rough", "finish")}
    return KindTimes(**{kind: sum(each) if each else None for kind, each in found.items()})
