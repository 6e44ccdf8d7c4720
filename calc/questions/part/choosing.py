"""Tools and cuts to start a part with: which tool reaches its rows, with which nose, speed, feed and depth."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Literal, NamedTuple

from calc.contour import Chain, Element, Line
from calc.cutting.force import cutting_power
from calc.cutting.insert_widths import USUAL_WIDTHS, next_insert
from calc.cutting.materials import Material
from calc.cutting.operation import starting_speed
from calc.cutting.starting import starting_cut
from calc.language.working import recording
from calc.machining.blades import dips
from calc.machining.finding import Found, Wanted, find_tools
from calc.machining.forces import cut_of
from calc.machining.job import Cut
from calc.questions.operations.contour_plan.inputs import ToolInputs
from calc.questions.operations.parting import DEEPEST
from calc.questions.part.held import turning_tool
from calc.questions.part.job import Turning
from calc.tool.catalogue import pairs
from calc.tool.holder import usual_offset
from calc.tool.insert import read_insert

Side = Literal["outside", "bore"]

FREE = 0.5
"""mm: a bar's back keeps so far off the wall behind it (common practice, no source)."""

SAME = 1e-6
"""mm: lengths that differ by less are one."""

ROUNDED_OFF = 0.002
"""mm: the ends of a cylinder or face may differ by as much where a print's numbers are rounded."""

BLADES = (1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0)
"""mm: widths of grooving and parting inserts in common use (common practice, no source)."""


class Suited(NamedTuple):
    """For bars up to `bar` (mm): the largest inscribed circle of an insert (mm), the largest noses (mm)."""

    bar: float
    circle: float
    rough_nose: float
    finish_nose: float


SUITED = (Suited(10.0, 6.35, 0.4, 0.2), Suited(20.0, 9.525, 0.8, 0.4), Suited(math.inf, math.inf, 1.2, 0.8))
"""Which inserts suit a bar: on thin work a large one pushes more than it cuts, and its nose leaves too much in sharp
corners (common practice, no source)."""

IN_HAND = 0.8
"""Share of the machine's power that a roughing cut may take: a worn edge asks for more (common practice, no source)."""

STEP, SHALLOWEST = 0.1, 0.3
"""mm: a depth that the power allows is proposed in such steps, and never less than this (common practice)."""

SHORT_EDGE = 9.0
"""mm: a shorter edge takes less deep cuts than usual ones."""

KNURLED = Cut(feed=0.2, surface_speed=25_000.0)
"""Knurling rolls to start with (common practice, no source)."""


def without_grooves(
    chain: Chain,
    share: tuple[int, int],
    place: Side,
    turned: frozenset[int] = frozenset(),
    faces: Sequence[tuple[int, int]] = (),
) -> Chain:
    """The elements of a share (first, last) with a line over each groove; those that begin with one `turned` stay.

    `faces` are the runs of elements of grooves in a face.
    """
    return Chain(tuple(_filled(chain, share, [*(run for run in dips(chain, place) if run[0] not in turned), *faces])))


def _filled(chain: Chain, share: tuple[int, int], found: Sequence[tuple[int, int]]) -> Iterator[Element]:
    """The elements of a share with a line over each groove."""
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
    rises = chain.end.z - chain.start.z
    if rises > SAME or (place == "outside" and abs(rises) <= SAME and chain.start.r > chain.end.r):
        chain = chain.reversed()
    side: Literal["left", "right"] = "right" if place == "outside" else "left"
    found = find_tools(Wanted(chain, side, place, None, "R", hole))
    return [each for each in found if each.cutter.shape.angle is not None] or found


def suited_to(bar: float) -> Suited:
    """What suits a bar of a diameter (mm).

    >>> suited_to(6.0).circle, suited_to(16.0).rough_nose, suited_to(42.0).finish_nose
    (6.35, 0.8, 0.8)
    """
    return next(each for each in SUITED if bar <= each.bar + SAME)


def small_first(found: list[Found], circle: float) -> list[Found]:
    """Tools that reach, those first whose insert is no larger than a `circle` (mm); others as they are."""
    return sorted(found, key=lambda each: each.reaches and _is_larger(each.cutter.circle, circle))


def _is_larger(own: float | None, circle: float) -> bool:
    return own is not None and own > circle + SAME


def over_the_axis(found: list[Found], hole: float) -> list[Found]:
    """The bars whose back stays in a `hole` (mm, radius) while the edge cuts to the axis; all where none does."""
    bars = {each.holder_name: each.holder.bar_diameter for each in pairs("bore")}
    backs = {name: usual_offset(size, bar=True) + size / 2.0 for name, size in bars.items() if size is not None}
    slim = [each for each in found if backs[each.holder] <= hole - FREE]
    return slim or found


def with_nose(found: Found, most: float, place: Side) -> Turning:
    """The tool that was found, with its largest nose up to `most` (mm); the smallest where all are larger."""
    pair = next(each for each in pairs(place) if each.holder_name == found.holder)
    names = [(insert.nose, name) for name, insert in pair.inserts if insert.nose is not None]
    fitting = [each for each in names if each[0] <= min(most, found.cutter.nose) + SAME]
    insert = max(fitting)[1] if fitting else min(names)[1]
    return turning_tool(ToolInputs(insert=insert, holder=found.holder), bar=place == "bore")


def edge_of(tool: Turning) -> float | None:
    """How long (mm) the edge of a tool's insert is, where that is shorter than that of usual ones."""
    edge = read_insert(tool.insert).edge_length if tool.insert else None
    return edge if edge is not None and edge < SHORT_EDGE else None


def cut_to_start(
    work: Material, operation: str, nose: float, keep: tuple[float, float] | None = None, edge: float | None = None
) -> Cut:
    """Speed, feed and depth to start with for a `nose` (mm); without what is to `keep` (mm, Z and X) it has no depth.

    `operation` is rough, finish or bore, `edge` (mm) how long the insert's edge is. Source: as the starting values.

    >>> from calc.cutting.materials import material
    >>> cut_to_start(material("C45"), "finish", 0.4).depth is None
    True
    """
    start = starting_cut(work, operation, nose, edge)
    assert start is not None, "rough, finish and bore have a start"
    speed = starting_speed(work, operation, "", None).speed
    return Cut(start.depth.usual if keep else None, start.feed.usual, speed, *(keep or (0.0, 0.0)))


def within_power(cut: Cut, nose: float, work: Material, power: float | None) -> Cut:
    """The cut no deeper than leaves a fifth of the machine's `power` (N mm/min, None: not known) in hand.

    >>> from calc.cutting.materials import material
    >>> deep = cut_to_start(material("C45"), "rough", 1.2, (0.1, 0.3))
    >>> round(deep.depth, 3), within_power(deep, 1.2, material("C45"), 8.8 * 60e6).depth
    (2.4, 1.9)
    """
    if cut.depth is None or not power or cut.feed is None or cut.surface_speed is None:
        return cut
    with recording():
        needed = cutting_power(cut_of(cut.depth, cut.feed, nose, work)[1].force, cut.surface_speed)
    if needed <= IN_HAND * power:
        return cut
    depth = math.floor(cut.depth * IN_HAND * power / needed / STEP + SAME) * STEP
    return replace(cut, depth=round(max(depth, SHALLOWEST), 3))


def blade_for(deep: float) -> float:
    """The narrowest blade (mm) that reaches as deep as it must (mm), 2 mm wide at least; the widest where none does.

    >>> blade_for(10.0), blade_for(23.5), blade_for(90.0)
    (2.0, 3.0, 8.0)
    """
    return next_insert(max(deep / DEEPEST, 2.0)) or USUAL_WIDTHS[-1]


def is_level(element: Element) -> bool:
    """Whether it runs along the axis, as far as a print's rounded numbers say.

    >>> from calc.contour import Point
    >>> is_level(Line(Point(0.0, 5.0004), Point(-6.0, 5.0))), is_level(Line(Point(0.0, 5.1), Point(-6.0, 5.0)))
    (True, False)
    """
    return isinstance(element, Line) and _is_along(element.start.z - element.end.z, element.start.r - element.end.r)


def is_upright(element: Element) -> bool:
    """Whether it runs square to the axis, as far as a print's rounded numbers say."""
    return isinstance(element, Line) and _is_along(element.start.r - element.end.r, element.start.z - element.end.z)


def _is_along(far: float, off: float) -> bool:
    return abs(off) <= max(SAME, min(ROUNDED_OFF, abs(far) / 100.0))
