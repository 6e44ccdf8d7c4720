"""What parting off asks of a part: whether it is parted, how wide the blade is, how deep a hole is drilled for it."""

from __future__ import annotations

from collections.abc import Iterator

from calc.language.messages import Message
from calc.machining.removal.stock import Stock
from calc.questions.part.choosing import BLADES, SAME, blade_for, is_level
from calc.questions.part.ends import rows_of_end
from calc.questions.part.job import Job

SECOND_FACE = 0.5
"""mm: what parting off leaves for facing the second end (common practice, no source)."""

OVERRUN = 0.5
"""mm: how far parting off goes beyond the axis or into the hole at most (common practice, no source)."""

HELD_BY = 3.0
"""mm: a shorter cylinder is not held by (common practice, no source)."""

_NOTHING_TO_HOLD = (
    "The first end leaves no cylinder to hold the part by for the second: bore soft jaws to its shape, or leave a stub "
    "to hold it by, and take that off last."
)


def nothing_to_hold(job: Job) -> Iterator[Message]:
    """That the first end leaves neither a cylinder nor a bore which the part is held by for its second."""
    first, last = rows_of_end(job.outside, "first")
    turned = job.outside.chain.elements[first : last + 1]
    if job.inside is None and not any(is_level(each) and each.length >= HELD_BY for each in turned):
        yield Message(_NOTHING_TO_HOLD)


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


def blade_of(job: Job, drilled: float | None) -> float:
    """The width (mm) of the blade that parts off through the bar, into the hole `drilled` (mm) or to the axis."""
    hole = hole_of(job.stock) if drilled is None else drilled / 2.0
    return blade_for(job.stock.bounds[3] + OVERRUN - (hole if is_through(job) else 0.0))


def deep_for_parting(job: Job, drilled: float) -> float | None:
    """How deep a hole is drilled (mm from Z zero) so that parting off comes into it; None: as deep as the bore."""
    if not (is_parted(job) and is_through(job)):
        return None
    return job.length + left_behind(job) + blade_of(job, drilled)
