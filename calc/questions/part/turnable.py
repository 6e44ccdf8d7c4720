"""What a print must be for a part to be turned from it, and the face that it leaves unsaid."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from calc.contour import Chain, Line, Point
from calc.contour.text import ContourGiven
from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.problems import Fault, Impossible, OutOfRange
from calc.language.quantities import LENGTH
from calc.machining.removal.polygons import Area, parts_of
from calc.machining.removal.region import work_of
from calc.questions.part.choosing import SAME, is_level
from calc.questions.part.job import Print

ROUNDED = 0.01
"""mm: prints are rounded; two surfaces that are no farther off each other are one (common practice, no source)."""


def with_both_faces(outside: Print, bore: Print | None, drilled: float) -> tuple[Print, Print | None]:
    """Outside and bore with the face that is left unsaid, and none of the bore behind the far one.

    `drilled` is the radius (mm) of the hole that the stock has, 0 where it is solid.

    >>> cylinder, hole = Line(Point(0.0, 20.0), Point(-10.0, 20.0)), Line(Point(0.0, 5.0), Point(-15.0, 5.0))
    >>> outside, bore = with_both_faces(Print(Chain((cylinder,))), Print(Chain((hole,))), 0.0)
    >>> outside.chain.start, bore.chain.end
    (Point(z=0.0, r=5.0), Point(z=-10.0, r=5.0))
    """
    outside = with_its_face(outside, _mouth_of(bore, drilled))
    return outside, to_the_far_face(bore, outside)


def with_its_face(outside: Print, hole: float) -> Print:
    """The outside with the face from a `hole` (mm, radius; 0: the axis) to where its first row begins, if it is flat.

    >>> cylinder = Line(Point(0.0, 20.0), Point(-10.0, 20.0))
    >>> faced = with_its_face(Print(Chain((cylinder,))), 8.0)
    >>> faced.chain.start, faced.numbers
    (Point(z=0.0, r=8.0), (1, 1))
    """
    chain = outside.chain
    start, first = chain.start, chain.elements[0]
    if start.r <= hole + SAME or start.z < chain.bounds.z_max - SAME or first.end.r < start.r - SAME:
        return outside
    face = Line(Point(start.z, hole), start)
    numbers = (outside.numbers[0], *outside.numbers)
    return replace(outside, chain=Chain((face, *chain.elements)), rows=numbers)


def to_the_far_face(bore: Print | None, outside: Print) -> Print | None:
    """The bore without what its last cylinder overruns the part.

    >>> part = Print(Chain((Line(Point(0.0, 9.0), Point(-20.0, 9.0)),)))
    >>> bore = Print(Chain((Line(Point(0.0, 5.0), Point(-25.0, 5.0)),)))
    >>> shorter = to_the_far_face(bore, part)
    >>> None if shorter is None else shorter.chain.end
    Point(z=-20.0, r=5.0)
    """
    far = outside.chain.bounds.z_min
    last = None if bore is None else bore.chain.elements[-1]
    if bore is None or not isinstance(last, Line) or not is_level(last):
        return bore
    if not last.end.z < far - ROUNDED < far < last.start.z - SAME:
        return bore
    return replace(bore, chain=Chain((*bore.chain.elements[:-1], Line(last.start, Point(far, last.end.r)))))


def _mouth_of(bore: Print | None, drilled: float) -> float:
    """The radius (mm) of the hole in the face: the bore's mouth, or what the stock has `drilled` where that is more."""
    return max(drilled, 0.0 if bore is None else bore.chain.start.r)


def require_turnable(outside: Print, inside: Print | None) -> None:
    """Raise `OutOfRange` for a contour that stands in front of Z zero or the wrong way round, `Impossible` for a bore
    that leaves no wall.

    >>> outside = Print(Chain((Line(Point(0.0, 15.0), Point(-20.0, 15.0)),)))
    >>> require_turnable(outside, Print(Chain((Line(Point(0.0, 9.0), Point(-20.0, 9.0)),))))
    """
    _in_the_part(outside, "outside", _OUTSIDE_IN_FRONT)
    if inside is None:
        return
    _in_the_part(inside, "inside", _BORE_IN_FRONT)
    if inside.chain.start.z < inside.chain.end.z - SAME:
        text = "The bore runs from its mouth in: begin it at the face and go on toward the chuck."
        raise OutOfRange(Fault("inside", Message(text)))
    behind = outside.chain.bounds.z_min - inside.chain.bounds.z_min
    if behind > ROUNDED:
        values: dict[str, Value] = {"behind": Quantity(behind, LENGTH, brief=True)}
        text = "The bore goes {behind} beyond the part's far face: a bore is no longer than its part."
        raise Impossible(Fault("inside", Message(text, values)))
    _leave_a_wall(outside.chain, inside.chain)


def rib_cautions(inside: Print | None, given: ContourGiven | None) -> Iterator[Caution]:
    """A caution for each groove of the bore that goes toward the axis, where it is a rib."""
    if inside is None or given is None:
        return
    for element, row in given.grooves.items():
        both = zip(inside.chain, inside.numbers, strict=True)
        wall = next((each for each, number in both if number == element + 1), None)
        if wall is not None and wall.end.r < wall.start.r - SAME:
            values: dict[str, Value] = {"row": element + 1}
            yield Caution(Message(_RIB, values), 3, f"{given.prefix}.{row}")


def _in_the_part(print_: Print, field: str, text: str) -> None:
    front = print_.chain.bounds.z_max
    if front > ROUNDED:
        raise OutOfRange(Fault(field, Message(text, {"front": Quantity(front, LENGTH, brief=True)})))


def _leave_a_wall(outside: Chain, inside: Chain) -> None:
    import shapely  # noqa: PLC0415 - loaded on first use

    far = 2.0 * max(outside.bounds.r_max, inside.bounds.r_max)
    block = shapely.box(outside.bounds.z_min, 0.0, outside.bounds.z_max, far)
    part = work_of(block, outside, "right", faced=True).finished
    for spot in (inside.start, *(each.end for each in inside)):
        if shapely.distance(part, shapely.Point(*spot)) > ROUNDED:
            text = "At {spot} the bore is outside of the part: there is no wall. Check both diameters."
            raise Impossible(Fault("inside", Message(text, {"spot": spot})))
    if len(_solid(part.intersection(work_of(block, inside, "left").finished))) > 1:
        text = "Outside and bore meet, and the part falls in pieces: check the depth of its grooves."
        raise Impossible(Fault("inside", Message(text)))


def _solid(area: Area) -> list[Area]:
    """The pieces of an area that are more than slivers of rounding."""
    return [each for each in parts_of(area) if each.area > ROUNDED**2]


_OUTSIDE_IN_FRONT = (
    "The outside stands {front} in front of Z zero, which is the finished face: into the part its Z has the other sign."
)
_BORE_IN_FRONT = (
    "The bore stands {front} in front of Z zero, which is the finished face: into the part its Z has the other sign."
)
_RIB = (
    "The groove of row {row} of the bore goes toward the axis: that is a rib, and narrows the bore. Mark it as going "
    "away from the axis."
)
