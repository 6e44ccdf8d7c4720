"""Points to key in when the control compensates nothing, and what the part becomes when nobody shifts them.

The control leads the tool point. So that the nose touches the print, the tool point must go beside it: along faces and
cylinders on the print itself (for the tool points 1 to 4), at tapers, chamfers and arcs shifted. `shift` is always from
the print to the point to key in.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import pi, tan

from calc.contour import Arc, Chain, Element, Line, Point, Side, meet
from calc.language.fields import Declared, result, word
from calc.language.messages import Phrase
from calc.language.quantities import RADIUS, Angle, Length, Radius, Ratio, X, Z
from calc.language.working import formula
from calc.tool.nose_path import NosePath, Step
from calc.tool.point import STEPS

HANDBOOK = "common handbook rule: intersection of parallels; its factors for 5 to 85 degrees are printed in tables"
SHARPEST = math.radians(120.0)
"""A convex corner that turns by more keeps the swing of the nose: its point would lie far outside."""

LEAST = 1e-9


@formula(means="shift of a taper's or chamfer's point along Z", source=HANDBOOK, result="dZ")
def taper_shift_z(r_n: Radius, theta: Angle) -> Length:
    """Shift (mm) along Z of a slope at the angle theta (rad) to the axis, for a nose r_n (mm).

    Source: common handbook rule, dZ = r (1 - tan(theta/2)).

    >>> round(taper_shift_z(1.0, math.radians(30.0)), 9), round(taper_shift_z(1.0, math.radians(45.0)), 9)
    (0.732050808, 0.585786438)
    """
    return r_n * (1 - tan(theta / 2))


@formula(means="shift of a taper's or chamfer's point along X, per side", source=HANDBOOK, result="dX")
def taper_shift_x(r_n: Radius, theta: Angle) -> Length:
    """Shift (mm, of a radius) along X of a slope at the angle theta (rad) to the axis, for a nose r_n (mm).

    Source: common handbook rule, dX = r (1 - tan((90 degrees - theta)/2)).

    >>> round(taper_shift_x(1.0, math.radians(30.0)), 9)
    0.422649731
    """
    return r_n * (1 - tan((pi / 2 - theta) / 2))


@formula(means="radius to key in for a convex arc", source="parallel of an arc", result="R_k")
def convex_radius(R: Radius, r_n: Radius) -> Radius:
    """Radius (mm) on which the tool point goes round a convex arc R (mm) with a nose r_n (mm).

    Source: parallel of an arc.

    >>> convex_radius(5.0, 0.8)
    5.8
    """
    return R + r_n


@formula(means="radius to key in for a concave arc", source="parallel of an arc", result="R_k")
def concave_radius(R: Radius, r_n: Radius) -> Radius:
    """Radius (mm) on which the tool point goes through a concave arc R (mm) with a nose r_n (mm).

    Source: parallel of an arc.

    >>> concave_radius(75.0, 6.0)
    69.0
    """
    return R - r_n


@formula(means="metal left where nobody shifts, along the normal", source="a disc led by its tool point", result="e")
def left_along_normal(r_n: Radius, q: Ratio) -> Length:
    """What stays (mm; below 0: what is cut too deep) square to the print where the tool point follows it.

    `q` is how far the tool point stands from the nose centre toward the tool's side of the print, in nose radii: -1 on
    faces and cylinders for the tool points 1 to 4.

    Source: a disc led by its tool point.

    >>> left_along_normal(0.8, -1.0), round(left_along_normal(0.8, -math.sqrt(2.0)), 6)
    (-0.0, 0.331371)
    """
    return -r_n * (1 + q)


class KeyRow(Declared):
    """A point to key in beside the print's (mm, radius, ISO signs); the move is that of the element ending there."""

    at: str = word("Point")
    print_x: float | None = result(X, "print X")
    print_z: float | None = result(Z, "print Z")
    key_x: float = result(X, "key in X")
    key_z: float = result(Z, "key in Z")
    shift_x: float | None = result(X, "shift X")
    shift_z: float | None = result(Z, "shift Z")
    move: str = word("Move")
    radius: float | None = result(RADIUS, "R")


def keyed_steps(path: NosePath, number: int) -> tuple[tuple[Step, ...], ...]:
    """The path of tool point `number` with lines and arcs led on to where they meet at convex corners, run by run.

    The swings of the nose round corners are no elements that one keys in: beyond the corner it touches nothing. Where
    it would touch something there, the swing stays (see `cut_beyond_corners`).
    """
    step = STEPS[number].times(path.nose_radius)
    return tuple(
        tuple(replace(each, element=each.element.shifted(step.z, step.r)) for each in _without_swings(path, run))
        for run in path.runs
    )


@dataclass(frozen=True, slots=True)
class CutBeyond:
    """A nose led on past the corner `at` to where its two lines meet would cut `depth` mm into element `into`."""

    at: Point
    depth: float
    into: int


def cut_beyond_corners(path: NosePath) -> list[CutBeyond]:
    """The convex corners past which the nose must not be led on, as it would cut another wall.

    >>> from calc.tool.nose_path import nose_path
    >>> corners = [(0.0, 20.0), (-10.0, 20.0), (-8.268, 17.0), (-11.7, 17.0), (-11.7, 25.0), (-30.0, 25.0)]
    >>> chain = Chain(tuple(Line(Point(*a), Point(*b)) for a, b in zip(corners, corners[1:])))
    >>> [(cut.at, round(cut.depth, 3), cut.into) for cut in cut_beyond_corners(nose_path(chain, 0.8, "right"))]
    [(Point(z=-10.0, r=20.0), 0.486, 3)]
    """
    found = []
    for run in path.runs:
        for before, swing, after in zip(run, run[1:], run[2:], strict=False):
            point = _led_on_to(before, swing, after) if isinstance(swing.contact, Point) else None
            depth, into = (0.0, 0) if point is None else _cut_on_the_way(path, before, after, point)
            if depth > 0.0 and isinstance(swing.contact, Point):
                found.append(CutBeyond(swing.contact, depth, into))
    return found


def _without_swings(path: NosePath, run: Sequence[Step]) -> list[Step]:
    kept: list[Step] = []
    swing: Step | None = None
    for step in run:
        if isinstance(step.contact, Point) and kept:
            if swing is not None:
                kept.append(swing)
            swing = step
            continue
        if swing is None:
            kept.append(step)
        else:
            kept[-1:] = _mitred(path, kept[-1], swing, step)
            swing = None
    return [*kept, swing] if swing is not None else kept


def _mitred(path: NosePath, before: Step, swing: Step, after: Step) -> list[Step]:
    """The two elements led on to their common point; with the swing between them where that cannot be."""
    point = _led_on_to(before, swing, after)
    if point is None or _cut_on_the_way(path, before, after, point)[0] > 0.0:
        return [before, swing, after]
    return [
        replace(before, element=before.element.with_ends(before.element.start, point)),
        replace(after, element=after.element.with_ends(point, after.element.end)),
    ]


def _led_on_to(before: Step, swing: Step, after: Step) -> Point | None:
    """Where the two elements meet when they are led on past a corner; None where they do not, or far outside."""
    middle = swing.element.point_at(swing.element.length / 2)
    point = min(meet(before.element.carrier, after.element.carrier), key=middle.distance_to, default=None)
    if point is None or abs(swing.element.sweep) > SHARPEST or not _leads_to(before, after, point):
        return None
    return point


def _cut_on_the_way(path: NosePath, before: Step, after: Step, point: Point) -> tuple[float, int]:
    """How deep (mm) the nose cuts into which element led on to the point and back; 0 where it touches nothing."""
    chain, nose = path.chain, path.nose_radius
    stretches = [(before.element.end, point, before.element), (point, after.element.start, after.element)]
    led_on = [element.with_ends(start, end) for start, end, element in stretches if start != end]
    deepest = max((path.cut_by(each) for each in led_on), default=(0.0, 0))
    return deepest if deepest[0] > LEAST * max(chain.bounds.size, nose) else (0.0, 0)


def _leads_to(before: Step, after: Step, point: Point) -> bool:
    """Whether the first element runs on forward to the point and the second one comes from there."""
    a, b = before.element, after.element
    beyond, ahead = a.locate(point) - a.length, b.locate(point)
    near = 4.0 * a.end.distance_to(b.start)
    return -LEAST <= beyond <= near and -near <= ahead <= LEAST


def key_rows(path: NosePath, number: int) -> list[KeyRow]:
    """The points to key in for the tool point of that number, each beside the print's point."""
    rows = []
    for run in keyed_steps(path, number):
        first = run[0]
        rows.append(_key_row("start", _contact_end(first, 0), first.element.start, None))
        for step, after in zip(run, [*run[1:], None], strict=True):
            printed = _contact_end(step, -1) if after is None else _printed_joint(path.chain, step, after)
            rows.append(_key_row(_joint_words(path.chain, step, after), printed, step.element.end, step.element))
    return rows


def _contact_end(step: Step, end: int) -> Point:
    if isinstance(step.contact, Point):
        return step.contact
    return step.contact.end if end else step.contact.start


def _printed_joint(chain: Chain, step: Step, after: Step) -> Point | None:
    """The print's point between two steps, None where the path leaves elements out."""
    if isinstance(step.contact, Point) or isinstance(after.contact, Point):
        return step.contact if isinstance(step.contact, Point) else _contact_end(after, 0)
    return chain.elements[step.of].end if after.of == step.of + 1 else None


def _joint_words(chain: Chain, step: Step, after: Step | None) -> str:
    if after is None:
        return Phrase("end of {called}", called=chain.called(step.of))
    if after.of == step.of:
        return Phrase("at {called}", called=chain.called(step.of))
    return Phrase("{called} to {name_of}", called=chain.called(step.of), name_of=chain.name_of(after.of))


def _key_row(at: str, printed: Point | None, key: Point, element: Element | None) -> KeyRow:
    return KeyRow(
        at=at,
        print_x=printed and printed.r,
        print_z=printed and printed.z,
        key_x=key.r,
        key_z=key.z,
        shift_x=None if printed is None else key.r - printed.r,
        shift_z=None if printed is None else key.z - printed.z,
        move="" if element is None else ("G1" if isinstance(element, Line) else _G_OF_TURN[element.turn]),
        radius=element.radius if isinstance(element, Arc) else None,
    )


_G_OF_TURN = {"cw": "G2", "ccw": "G3"}


def record_rules(path: NosePath) -> None:
    """Run the handbook's rules for each slope and arc of the contour that the nose touches, for the working."""
    touched = dict.fromkeys(step.of for step in path.steps if not isinstance(step.contact, Point))
    for of in touched:
        element, where = path.chain.elements[of], path.chain.called(of)
        if isinstance(element, Arc):
            rule = concave_radius if is_concave(element, path.side) else convex_radius
            rule.at(where)(element.radius, path.nose_radius)
            continue
        theta = slope_to_axis(element)
        if LEAST < theta < math.pi / 2 - LEAST:
            taper_shift_z.at(where)(path.nose_radius, theta)
            taper_shift_x.at(where)(path.nose_radius, theta)


def slope_to_axis(line: Line) -> float:
    """The angle (rad, 0 to a quarter turn) between a line and the axis.

    >>> round(math.degrees(slope_to_axis(Line(Point(0.0, 5.0), Point(-3.0, 8.0)))), 6)
    45.0
    """
    return math.atan2(abs(line.direction.r), abs(line.direction.z))


def is_concave(arc: Arc, side: Side) -> bool:
    """Whether an arc is hollow toward the tool's side of travel.

    >>> is_concave(Arc(Point(0.0, 5.0), Point(-5.0, 0.0), Point(0.0, 0.0), "ccw"), "left")
    True
    """
    return (arc.turn == "ccw") == (side == "left")
