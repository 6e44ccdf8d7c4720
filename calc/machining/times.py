"""The time of an operation's passes, at the speeds and feeds with which they were planned."""

from __future__ import annotations

from collections.abc import Sequence

from calc.language.working import recording
from calc.machining.machine import Done
from calc.machining.passes import Pass, Referral, Spindle, pass_row


def times(done: Sequence[Done], referral: Referral, max_rpm: float | None) -> list[Pass]:
    """A row for each pass of operations that have a surface speed and a feed, with its deepest cut as it was swept.

    `max_rpm` (1/min) is the spindle's limit, None without one; `referral` says where speed and feed are held.
    """
    rows = []
    with recording():
        for operation in done:
            cut = operation.operation.cut
            if cut.surface_speed is None or cut.feed is None:
                continue
            spindle = Spindle(cut.surface_speed, max_rpm)
            for each in operation.made:
                rows.append(pass_row(each.planned.name, each.pieces, referral, spindle, each.removal.depth))
    return rows
