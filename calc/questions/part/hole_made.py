"""How the hole of a part is made from the solid: bored, reamed, tapped, or drilled to size where no bar goes in."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache
from typing import Literal

from calc.contour import Chain, Line
from calc.cutting.holes import DRILL_MAKES, drill_below
from calc.cutting.materials import Material
from calc.machining.reach.examine import bar_bore
from calc.questions.part.called import Called
from calc.questions.part.choosing import SAME
from calc.questions.part.close_sizes import Close, drill_for_reamer, reamed_bore
from calc.questions.part.job import Job
from calc.threads.drills import tap_drill
from calc.threads.thread import thread_of
from calc.tool.catalogue import pairs

How = Literal["bore", "ream", "tap", "drill"]

MOST_TAPPED = 16.0
"""mm: threads up to this diameter are tapped, larger ones turned (common practice, no source)."""

BORE_ALLOWANCE, LARGE_ALLOWANCE = 1.0, 2.0
"""mm on the diameter: what a drill leaves at least for boring, up to and above LARGE (common practice, no source)."""

LARGE = 20.0
"""mm: larger drills run out more, and what is left must be more than the nose of the bar rubs off."""


@dataclass(frozen=True, slots=True)
class HoleMade:
    """How a hole gets its size, the drill before that (mm, None: there is a hole), the size (mm) and its limits."""

    how: How = "bore"
    drill: float | None = None
    size: float = 0.0
    limits: Close | None = None
    thread: Called | None = None


def hole_made(job: Job, work: Material, close: tuple[Close, ...], threads: tuple[Called, ...] = ()) -> HoleMade:
    """How the hole of a job's bore is made; nothing is drilled where the stock has one. Source: common practice."""
    if job.inside is None or job.stock.bounds[1] > 0.0:
        return HoleMade()
    chain = job.inside.chain
    core, small = core_of(chain), not bar_goes_in(2.0 * narrowest(chain))
    reamed = reamed_bore(chain, close)
    if reamed is not None:
        return HoleMade("ream", drill_for_reamer(work, reamed.diameter), reamed.diameter, reamed.limits)
    thread = next((each for each in threads if each.where == "bore"), None)
    if core is not None and thread is not None:
        called = thread_of(thread.designation, "inside")
        drill = tap_drill(called)
        if drill is not None and (small or called.named.diameter <= MOST_TAPPED):
            return HoleMade("tap", drill.diameter, thread=thread)
    if core is not None and thread is None and small:
        return _without_a_bar(work, 2.0 * core, close)
    return HoleMade("bore", _below(2.0 * narrowest(chain)))


def _without_a_bar(work: Material, diameter: float, close: tuple[Close, ...]) -> HoleMade:
    limits = next((each for each in close if each.where == "bore" and each.width <= DRILL_MAKES), None)
    if limits is not None:
        return HoleMade("ream", drill_for_reamer(work, diameter), diameter, limits)
    return HoleMade("drill", drill_below(diameter), diameter)


def _below(least: float) -> float:
    """The drill (mm) in halves below a bore of a diameter (mm).

    >>> _below(16.0), _below(40.0), _below(20.4)
    (15.0, 38.0, 19.0)
    """
    for allowance in (BORE_ALLOWANCE, LARGE_ALLOWANCE):
        drill = math.floor((least - allowance) * 2.0) / 2.0
        if drill <= LARGE:
            break
    return max(drill, min(1.0, least))


def narrowest(inside: Chain) -> float:
    """The least radius (mm) of a bore, but for the bottom of a blind one, which runs to the axis.

    >>> from calc.contour import Point
    >>> narrowest(Chain((Line(Point(0.0, 6.0), Point(-9.0, 6.0)), Line(Point(-9.0, 6.0), Point(-9.0, 0.0)))))
    6.0
    """
    closed = inside.end.r < SAME < inside.start.r
    return min(each.start.r if closed else each.bounds().r_min for each in inside)


def core_of(inside: Chain) -> float | None:
    """The radius (mm) of a bore that is one cylinder, with a chamfer at its mouth or not, through or blind; else None.

    >>> from calc.contour import Point
    >>> core_of(Chain((Line(Point(0.0, 3.0), Point(-9.0, 3.0)), Line(Point(-9.0, 3.0), Point(-9.0, 0.0)))))
    3.0
    """
    elements = list(inside)
    if mouth_chamfer(inside) is not None:
        del elements[0]
    if elements and elements[-1].end.r < SAME:
        del elements[-1]
    radii = [r for each in elements for r in (each.start.r, each.end.r)]
    even = radii and max(radii) - min(radii) < SAME and all(isinstance(each, Line) for each in elements)
    return radii[0] if even else None


def mouth_chamfer(inside: Chain) -> float | None:
    """The radius (mm) at the mouth of a bore that begins with a chamfer of 45 degrees, None without."""
    first = inside.elements[0]
    if len(inside) < 2 or not isinstance(first, Line) or first.end.r > first.start.r - SAME:
        return None
    return first.start.r if abs(abs(first.direction.z) - abs(first.direction.r)) < SAME else None


def bar_goes_in(diameter: float) -> bool:
    """Whether a common boring bar goes into a bore of a diameter (mm) that is drilled first.

    >>> bar_goes_in(6.0), bar_goes_in(20.0)
    (False, True)
    """
    return _below(diameter) >= _least_bore()


@cache
def _least_bore() -> float:
    """The smallest bore (mm) that a bar of the catalogue goes into."""
    found = (bar_bore(each.holder) for each in pairs("bore"))
    return min(each for each in found if each is not None)
