"""The row of a pass that is fed straight at one spindle speed: along a hole, a thread or a knurl."""

from __future__ import annotations

from dataclasses import dataclass

from calc.contour import Line
from calc.machining.passes import Pass


@dataclass(frozen=True, slots=True)
class SetTo:
    """What is set for such a pass: feed (mm/rev), surface speed (mm/min), spindle speed (1/min)."""

    feed: float
    speed: float
    rpm: float


def straight_row(
    name: str, along: Line, set_to: SetTo, depth: float, time: float, length: float | None = None, air: float = 0.0
) -> Pass:
    """The row of the pass `name` along a line, `depth` (mm) deep and taking a `time` (min).

    What is fed is as long as the line, unless another `length` (mm) is given; `air` (mm) of it is before the cut.

    >>> from calc.contour import Point
    >>> row = straight_row("knurl", Line(Point(0.0, 9.0), Point(-8.0, 9.0)), SetTo(0.5, 30_000.0, 530.0), 0.0, 0.03)
    >>> row.end_z, row.length, row.engaged_length
    (-8.0, 8.0, 8.0)
    """
    fed = along.length if length is None else length
    return Pass(
        name=name,
        start_x=along.start.r,
        start_z=along.start.z,
        end_x=along.end.r,
        end_z=along.end.z,
        depth=depth,
        feed=set_to.feed,
        surface_speed=set_to.speed,
        rpm_start=set_to.rpm,
        rpm_end=set_to.rpm,
        length=fed,
        engaged_length=fed - air,
        time=time,
    )
