"""Where a run of elements meets itself other than at its joints."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from calc.contour.elements import Element
from calc.contour.intersect import intersections, same_contact
from calc.contour.points import Point


class Crossing(NamedTuple):
    """Elements ``first`` and ``second`` (indices, first < second) share ``point``."""

    first: int
    second: int
    point: Point


def crossings(elements: Sequence[Element], gap: float) -> list[Crossing]:
    """All points, other than joints, that two of the elements share, in order of travel.

    ``gap`` (mm) is the distance below which two ends are one joint, and below which two elements that touch at a joint
    still lie on each other.

    >>> from calc.contour.line import Line
    >>> corners = [Point(0.0, 0.0), Point(8.0, 8.0), Point(8.0, 0.0), Point(0.0, 8.0)]
    >>> crossings([Line(a, b) for a, b in zip(corners, corners[1:])], 1e-9)
    [Crossing(first=0, second=2, point=Point(z=4.0, r=4.0))]
    """
    found = [crossing for i, j in _close_pairs(elements, gap) for crossing in _between(elements, i, j, gap)]
    return sorted(found, key=lambda c: (c.first, elements[c.first].locate(c.point), c.second))


def _between(elements: Sequence[Element], i: int, j: int, gap: float) -> Iterator[Crossing]:
    a, b = elements[i], elements[j]
    joints = _joints(elements, i, j, gap)
    for point in intersections(a, b):
        if not any(_at_joint(a, b, point, joint, gap) for joint in joints):
            yield Crossing(i, j, point)


def _at_joint(a: Element, b: Element, point: Point, joint: Point, gap: float) -> bool:
    """Whether a shared point is but the joint itself; an end that lies on the other element is never that."""
    if point.distance_to(joint) <= gap:
        return True
    is_end = any(end.distance_to(point) <= gap for end in (a.start, a.end, b.start, b.end))
    return not is_end and same_contact(a, b, point, joint, gap)


def _joints(elements: Sequence[Element], i: int, j: int, gap: float) -> list[Point]:
    """The ends that elements ``i`` < ``j`` have in common as neighbours (the last and the first of a loop, too)."""
    joints = [elements[j].start] if j == i + 1 else []
    loop_ends = elements[j].end, elements[i].start
    if i == 0 and j == len(elements) - 1 and loop_ends[0].distance_to(loop_ends[1]) <= gap:
        joints.append(elements[i].start)
    return joints


def _close_pairs(elements: Sequence[Element], margin: float) -> Iterator[tuple[int, int]]:
    """Pairs whose bounds overlap, found by sweeping along z."""
    boxes = [element.bounds() for element in elements]
    order = sorted(range(len(elements)), key=lambda i: boxes[i].z_min)
    for place, i in enumerate(order):
        for j in order[place + 1 :]:
            if boxes[j].z_min > boxes[i].z_max + margin:
                break
            if boxes[i].overlaps(boxes[j], margin):
                yield min(i, j), max(i, j)
