"""Tools and cuts to start a part with: which tool reaches its rows, with which nose, speed, feed and depth."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from calc.contour import Chain, Element, Line
from calc.cutting.insert_widths import USUAL_WIDTHS, next_insert
from calc.cutting.materials import Material
from calc.cutting.operation import starting_speed
from calc.cutting.starting import starting_cut
from calc.machining.blades import dips
from calc.machining.finding import Found, Wanted, find_tools
from calc.machining.job import Cut
from calc.questions.operations.contour_plan.inputs import ToolInputs
from calc.questions.operations.parting import DEEPEST
from calc.questions.part.held import turning_tool
from calc.questions.part.job import Turning
from calc.tool.catalogue import pairs

Side = Literal["outside", "bore"]

SAME = 1e-6
"""mm: lengths that differ by less are one."""

BLADES = (1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0)
"""mm: widths of grooving and parting inserts in common use (common practice, no source)."""

KNURLED = Cut(feed=0.2, surface_speed=25_000.0)
"""Knurling rolls to start with (common practice, no source)."""


def without_grooves(chain: Chain, share: tuple[int, int], place: Side, turned: frozenset[int] = frozenset()) -> Chain:
    """The elements of a share (first, last) with a line over each groove; those that begin with one `turned` stay."""
    return Chain(tuple(_filled(chain, share, place, turned)))


def _filled(chain: Chain, share: tuple[int, int], place: Side, turned: frozenset[int]) -> Iterator[Element]:
    """The elements of a share with a line over each groove."""
    found = (run for run in dips(chain, place) if run[0] not in turned)
    runs = [run for run in found if share[0] <= run[0] and run[1] <= share[1]]
    index = share[0]
    while index <= share[1]:
        run = next((each for each in runs if each[0] == index), None)
        if run is None:
            yield chain.elements[index]
            index += 1
            continue
        start, end = chain.elements[run[0]].start, chain.elements[run[1]].end
        if start.distance_to(end) > SAME:
            yield Line(start, end)
        index = run[1] + 1


def tools_for(chain: Chain, place: Side, hole: float | None) -> list[Found]:
    """The right-hand tools that reach a contour, in either direction of travel, those with edges before round ones.

    `hole` (mm) is the radius of the hole that a bar goes into, None where there is none.
    """
    if chain.start.z < chain.end.z - SAME:
        chain = chain.reversed()
    side: Literal["left", "right"] = "right" if place == "outside" else "left"
    found = find_tools(Wanted(chain, side, place, None, "R", hole))
    return [each for each in found if each.cutter.shape.angle is not None] or found


def with_nose(found: Found, most: float, place: Side) -> Turning:
    """The tool that was found, with its largest nose up to `most` (mm); the smallest where all are larger."""
    pair = next(each for each in pairs(place) if each.holder_name == found.holder)
    names = [(insert.nose, name) for name, insert in pair.inserts if insert.nose is not None]
    fitting = [each for each in names if each[0] <= min(most, found.cutter.nose) + SAME]
    insert = max(fitting)[1] if fitting else min(names)[1]
    return turning_tool(ToolInputs(insert=insert, holder=found.holder), bar=place == "bore")


def cut_to_start(work: Material, operation: str, nose: float, keep: tuple[float, float] | None = None) -> Cut:
    """Speed, feed and depth to start with for a `nose` (mm); without what is to `keep` (mm, Z and X) it has no depth.

    `operation` is rough, finish or bore. Source: as the starting values.

    >>> from calc.cutting.materials import material
    >>> cut_to_start(material("C45"), "finish", 0.4).depth is None
    True
    """
    start = starting_cut(work, operation, nose)
    assert start is not None, "rough, finish and bore have a start"
    speed = starting_speed(work, operation, "", None).speed
    return Cut(start.depth.usual if keep else None, start.feed.usual, speed, *(keep or (0.0, 0.0)))


def blade_for(deep: float) -> float:
    """The narrowest blade (mm) that reaches as deep as it must (mm), 2 mm wide at least; the widest where none does.

    >>> blade_for(10.0), blade_for(23.5), blade_for(90.0)
    (2.0, 3.0, 8.0)
    """
    return next_insert(max(deep / DEEPEST, 2.0)) or USUAL_WIDTHS[-1]


def level_width(elements: tuple[Element, ...]) -> float:
    """How wide a groove is at its bottom (mm): its longest level element."""
    level = [each for each in elements if is_level(each)]
    return max((abs(each.start.z - each.end.z) for each in level), default=0.0)


def is_level(element: Element) -> bool:
    """Whether it runs along the axis."""
    return abs(element.start.r - element.end.r) < SAME
