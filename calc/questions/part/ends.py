"""Which rows of a print are worked on from which end: outside to the largest diameter, a bore to its narrowest."""

from __future__ import annotations

import math

from calc.contour import Arc, Chain, Element, Point
from calc.questions.part.choosing import SAME
from calc.questions.part.job import End, Job, Print

FOLLOWED = math.sin(math.radians(15.0))
"""The sine of the slope down which tools that turn toward the chuck follow a crown (common practice, no source)."""


def ends_of(job: Job) -> tuple[End, ...]:
    """The second end only where rows fall back behind the largest diameter, or its face is on the print."""
    first, last = rows_of_end(job.outside, "second")
    behind = job.inside is not None and rows_of_bore(job.inside.chain, "second") is not None
    return ("first", "second") if behind or first <= last else ("first",)


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
    """The elements that are turned from an end: up to the largest diameter, or behind it; an arc over it from both."""
    chain = print_.chain
    arc, largest, last = shared_arc(chain), chain.bounds.r_max, len(chain) - 1
    if arc is not None:
        return (0, arc) if end == "first" else (arc, last)
    at = max(index for index, each in enumerate(chain) if each.bounds().r_max > largest - SAME)
    while at > 0 and chain.elements[at].end.r < largest - SAME and not _is_over(chain.elements[at], largest):
        at -= 1
    return (0, at) if end == "first" else (at + 1, last)


def shared_arc(chain: Chain) -> int | None:
    """The element of an outside that both ends have a share of: an arc over the largest diameter that falls steeply.

    A crown that falls no steeper than tools follow it is the first end's alone.

    >>> from calc.contour import Point
    >>> ball = Arc(Point(0.0, 0.0), Point(-30.0, 0.0), Point(-15.0, 0.0), "ccw")
    >>> crown = Arc(Point(0.0, 9.0), Point(-20.0, 9.0), Point(-10.0, -40.0), "ccw")
    >>> shared_arc(Chain((ball,))), shared_arc(Chain((crown,)))
    (0, None)
    """
    largest = chain.bounds.r_max
    steep = (abs(each.tangent_at(each.length).r) > FOLLOWED for each in chain)
    over = (index for index, (each, falls) in enumerate(zip(chain, steep, strict=True))
            if falls and _is_over(each, largest))  # fmt: skip
    return next(over, None)


def halves(arc: Element) -> tuple[Element, Element]:
    """Such an arc up to its largest diameter, and behind it.

    >>> from calc.contour import Point
    >>> halves(Arc(Point(0.0, 0.0), Point(-30.0, 0.0), Point(-15.0, 0.0), "ccw"))[0].end
    Point(z=-15.0, r=15.0)
    """
    assert isinstance(arc, Arc), "no line is wider in its middle than at both ends"
    top = Point(arc.centre.z, arc.centre.r + arc.radius)
    return Arc(arc.start, top, arc.centre, arc.turn), Arc(top, arc.end, arc.centre, arc.turn)


def own_half(chain: Chain, arc: Element, end: End) -> Chain:
    """A contour with an end's own half instead of such an arc, where it has that."""
    return Chain(tuple(halves(each)[end == "second"] if each == arc else each for each in chain))


def _is_over(element: Element, largest: float) -> bool:
    """Whether the largest radius (mm) is in the middle of an element."""
    ends = max(element.start.r, element.end.r)
    return ends < largest - SAME < element.bounds().r_max
