"""What parting off asks of a part: whether it is parted, how wide the blade is, how deep a hole is drilled for it."""

from __future__ import annotations

import math

from calc.contour import Chain
from calc.cutting.materials import Material
from calc.machining.removal.stock import Stock
from calc.questions.part.choosing import BLADES, SAME, blade_for
from calc.questions.part.close_sizes import Close, drill_for_reamer, reamed_bore
from calc.questions.part.ends import rows_of_end
from calc.questions.part.job import Job

SECOND_FACE = 0.5
"""mm: what parting off leaves for facing the second end (common practice, no source)."""

BORE_ALLOWANCE = 1.0
"""mm on the diameter: what a drill leaves at least for boring (common practice, no source)."""

OVERRUN = 0.5
"""mm: how far parting off goes beyond the axis or into the hole at most (common practice, no source)."""


def is_parted(job: Job) -> bool:
    """Whether the bar goes on behind the part, far enough for a blade."""
    return -job.stock.bounds[0] - job.length > min(BLADES) + SAME


def left_behind(job: Job) -> float:
    """What parting off leaves to face the second end, mm; nothing where only the first is turned."""
    first, last = rows_of_end(job.outside, "second")
    return SECOND_FACE if first <= last else 0.0


def hole_of(stock: Stock) -> float:
    """The radius (mm) of the hole that the stock has, 0 without one."""
    return max(stock.bounds[1], 0.0)


def is_through(job: Job) -> bool:
    """Whether the bore goes through the part."""
    return job.inside is not None and job.inside.chain.bounds.z_min <= SAME - job.length


def narrowest(inside: Chain) -> float:
    """The least radius (mm) of a bore, but for the bottom of a blind one, which runs to the axis.

    >>> from calc.contour import Line, Point
    >>> narrowest(Chain((Line(Point(0.0, 6.0), Point(-9.0, 6.0)), Line(Point(-9.0, 6.0), Point(-9.0, 0.0)))))
    6.0
    """
    closed = inside.end.r < SAME < inside.start.r
    return min(each.start.r if closed else each.bounds().r_min for each in inside)


def drilled_to(job: Job, work: Material, close: tuple[Close, ...]) -> float | None:
    """The drill's diameter (mm): before a reamer as it needs, else in halves below the bore; None: no drill."""
    inside = job.inside
    if inside is None or hole_of(job.stock) > 0.0:
        return None
    least, reamed = 2.0 * narrowest(inside.chain), reamed_bore(inside.chain, close)
    if reamed is not None:
        return drill_for_reamer(work, reamed.diameter)
    return max(math.floor((least - BORE_ALLOWANCE) * 2.0) / 2.0, min(1.0, least))


def blade_of(job: Job, drilled: float | None) -> float:
    """The width (mm) of the blade that parts off through the bar, into the hole `drilled` (mm) or to the axis."""
    hole = hole_of(job.stock) if drilled is None else drilled / 2.0
    return blade_for(job.stock.bounds[3] + OVERRUN - (hole if is_through(job) else 0.0))


def deep_for_parting(job: Job, drilled: float) -> float | None:
    """How deep a hole is drilled (mm from Z zero) so that parting off comes into it; None: as deep as the bore."""
    if not (is_parted(job) and is_through(job)):
        return None
    return job.length + left_behind(job) + blade_of(job, drilled)
