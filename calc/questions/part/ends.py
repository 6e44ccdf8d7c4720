"""Which rows of a print are worked on from which end: outside to the largest diameter, a bore to its narrowest."""

from __future__ import annotations

from calc.contour import Chain
from calc.questions.part.choosing import SAME
from calc.questions.part.job import End, Job, Print


def ends_of(job: Job) -> tuple[End, ...]:
    """The second end only where rows fall back behind the largest diameter, or its face is on the print."""
    _, last = rows_of_end(job.outside, "first")
    behind = job.inside is not None and rows_of_bore(job.inside.chain, "second") is not None
    return ("first", "second") if behind or last < len(job.outside.chain) - 1 else ("first",)


def rows_of_bore(inside: Chain, end: End) -> tuple[int, int] | None:
    """The elements of a bore that are cut from an end: up to the end of its narrowest cylinder, or behind it."""
    least, count = inside.bounds.r_min, len(inside)
    level = [index for index, each in enumerate(inside) if max(each.start.r, each.end.r) < least + SAME]
    at = level[-1] if level else count - 1
    if end == "first":
        return 0, at
    opens = any(each.bounds().r_max > least + SAME for each in inside.elements[at + 1 :])
    return (at + 1, count - 1) if opens else None


def rows_of_end(print_: Print, end: End) -> tuple[int, int]:
    """The elements that are turned from an end: up to the largest diameter, or behind it."""
    largest = print_.chain.bounds.r_max
    at = max(index for index, each in enumerate(print_.chain) if each.bounds().r_max > largest - SAME)
    if at + 1 < len(print_.chain) and abs(print_.chain.elements[at].start.r - largest) > SAME:
        at += 1
    while at > 0 and print_.chain.elements[at].end.r < largest - SAME:
        at -= 1
    return (0, at) if end == "first" else (at + 1, len(print_.chain) - 1)
