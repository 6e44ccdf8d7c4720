"""Undercuts in corners, which the finish cuts: a roughing tool is looked for as if they were not there."""

from __future__ import annotations

from calc.contour import Arc, Chain, Element, Line, Point
from calc.machining.finding import SHARP_CORNER
from calc.questions.part.choosing import SAME, Side, is_level, is_upright

DEEPEST, WIDEST, LONGEST = 0.6, 8.0, 6
"""mm: no undercut of DIN 509 is deeper or wider (its forms E and F up to R 4, from memory); elements it has at most."""


def without_undercuts(chain: Chain, place: Side) -> Chain:
    """The contour with each cylinder led on over the undercut at its end, whichever way the contour runs.

    >>> corners = [(0.0, 9.0), (-5.0, 9.0), (-6.0, 8.7), (-7.0, 8.7), (-7.0, 12.0)]
    >>> chain = Chain(tuple(Line(Point(*a), Point(*b)) for a, b in zip(corners, corners[1:])))
    >>> [(each.end.z, each.end.r) for each in without_undercuts(chain, "outside")]
    [(-5.0, 9.0), (-7.0, 9.0), (-7.0, 12.0)]
    """
    there = _filled(list(chain), place)
    back = _filled([each.reversed() for each in reversed(there)], place)
    return Chain(tuple(each.reversed() for each in reversed(back)))


def without_fillets(chain: Chain) -> Chain:
    """An outside with sharp corners instead of the small fillets before its shoulders: roughing leaves them.

    >>> fillet = Arc(Point(-4.2, 9.0), Point(-5.0, 9.8), Point(-4.2, 9.8), "cw")
    >>> chain = Chain((Line(Point(0.0, 9.0), Point(-4.2, 9.0)), fillet, Line(Point(-5.0, 9.8), Point(-5.0, 12.0))))
    >>> [each.end for each in without_fillets(chain)]
    [Point(z=-5.0, r=9.0), Point(z=-5.0, r=12.0)]
    """
    kept: list[Element] = []
    elements = list(chain)
    for index, each in enumerate(elements):
        corner = _corner_of(elements[index - 1 : index + 2]) if 0 < index < len(elements) - 1 else None
        if corner is None:
            kept.append(each)
        else:
            kept[-1] = Line(kept[-1].start, corner)
            elements[index + 1] = Line(corner, elements[index + 1].end)
    return Chain(tuple(kept))


def _corner_of(three: list[Element]) -> Point | None:
    """Where a cylinder and a face would meet without the small hollow fillet between them; None for other elements."""
    before, arc, after = three
    if not isinstance(arc, Arc) or arc.radius > SHARP_CORNER or arc.centre.r <= arc.point_at(arc.length / 2.0).r:
        return None
    if is_level(before) and is_upright(after):
        return Point(after.start.z, before.end.r)
    return Point(before.end.z, after.start.r) if is_upright(before) and is_level(after) else None


def _filled(elements: list[Element], place: Side) -> list[Element]:
    found: list[Element] = []
    index = 0
    while index < len(elements):
        bridge = _bridge(elements, index, place) if found and is_level(found[-1]) else None
        if bridge is None:
            found.append(elements[index])
            index += 1
            continue
        index, over, rest = bridge
        found += [over, *rest]
    return found


def _bridge(elements: list[Element], first: int, place: Side) -> tuple[int, Line, list[Element]] | None:
    """Over the undercut that begins with an element: what follows it, the line over it, what is left of its wall."""
    start = elements[first].start
    for index in range(first, min(first + LONGEST, len(elements))):
        wall, within = elements[index], elements[first : index + 1]
        sunk = max(_sunk(each, start.r, place) for each in within)
        if not SAME < sunk <= DEEPEST:
            return None
        if isinstance(wall, Line) and abs(wall.direction.z) < SAME and _above(wall.end, start.r, place) > SAME:
            corner = Point(wall.end.z, start.r)
            behind = max(abs(end.z - wall.end.z) for end in (each.end for each in within) if _is_past(start, wall, end))
            is_cut = index > first and start.distance_to(corner) <= WIDEST and behind <= DEEPEST
            return (index + 1, Line(start, corner), [Line(corner, wall.end)]) if is_cut else None
    return None


def _is_past(start: Point, wall: Line, end: Point) -> bool:
    """Whether a point lies at the wall or behind it, seen from the start."""
    return (end.z - wall.end.z) * (wall.end.z - start.z) >= 0.0


def _above(point: Point, r: float, place: Side) -> float:
    """How far a point stands out of a cylinder of radius r toward the tool, mm."""
    return point.r - r if place == "outside" else r - point.r


def _sunk(element: Element, r: float, place: Side) -> float:
    """How far an element goes below a cylinder of radius r, mm."""
    bounds = element.bounds()
    return r - bounds.r_min if place == "outside" else bounds.r_max - r
