"""The passes over a dish: facing the stock off, roughing with allowances, finishing along the print."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import NamedTuple

from calc.contour import Arc, Chain, Line, Point, Vector
from calc.language.messages import Message, Quantity, Value
from calc.language.problems import Fault, Impossible, Missing, OutOfRange
from calc.language.quantities import LENGTH
from calc.machining.passes import Piece, approach, depths, slowed_inside, trace
from calc.questions.operations.dish_plan.inputs import CutInputs, PassInputs, WorkInputs
from calc.shapes.dish.geometry import Dish
from calc.shapes.dish.sizes import SMALLEST

RAMP_SHARE = 0.5  # a ramp into the full width goes at half the feed: common practice, no source
MOST_PASSES = 200
LEAST_CLEAR = 0.1  # mm: a run-in begins so far clear of the face at least
INTO_THE_PART = Vector(z=-1.0, r=0.0)


class PlannedPass(NamedTuple):
    """A pass before it is timed: its name, its pieces from start to end, the deepest cut along the normal (mm)."""

    name: str
    pieces: list[Piece]
    depth: float


@dataclass(frozen=True, slots=True)
class RoughArc:
    """The roughed dish: the print's arc shifted by the allowances (mm).

    It ends at `end_r`: at the hole's radius `hole_r`, or where the nose's centre comes to the axis.
    """

    radius: float
    centre: Point
    end_r: float
    hole_r: float

    def shifted(self, dz: float) -> RoughArc:
        """The same arc shifted along Z by `dz`."""
        return replace(self, centre=self.centre.shifted(dz, 0.0))

    def z_at(self, r: float) -> float:
        """Z of the arc at the radius r, mm."""
        return self.centre.z - _leg(self.radius, r - self.centre.r)

    def r_at(self, z: float) -> float:
        """Outer radius of the arc at z, mm; not above 0 where the arc stays inside the axis."""
        return self.centre.r + _leg(self.radius, self.centre.z - z)

    @property
    def end(self) -> Point:
        """The inner end."""
        return Point(self.z_at(self.end_r), self.end_r)

    def from_face(self) -> Arc | None:
        """The arc from the face Z 0 to its inner end, None where nothing of it lies below the face."""
        start, end = Point(0.0, self.r_at(0.0)), self.end
        reaches = start.r > end.r + SMALLEST and end.z < -SMALLEST
        return Arc(start, end, self.centre, "ccw") if reaches else None


def _leg(hypotenuse: float, other: float) -> float:
    """The third side of a right triangle, 0 where the other leg is the longer side."""
    return math.sqrt(max((hypotenuse - other) * (hypotenuse + other), 0.0))


def rough_arc(dish: Dish, passes: PassInputs, nose: float | None = None) -> RoughArc:
    """The print's arc with the allowances in front of it. Raises `Impossible` when they leave nothing to rough.

    An allowance along X moves the arc's centre beyond the axis. A nose that touched such an arc on the axis would
    stand beyond it and cut the wall on the other side, so the arc then ends where the nose's centre is on the axis.
    """
    along_z, along_x = passes.allowance_z, passes.allowance_x
    bowl = dish.bowl
    deepest = -dish.arc.end.z
    if along_z >= deepest:
        raise Impossible(Fault("allowance_z", _too_much(along_z, deepest, "deep")))
    room = bowl.corner.r - dish.hole_radius
    if along_x >= room:
        raise Impossible(Fault("allowance_x", _too_much(along_x, room, "wide, from the mouth inward")))
    kept_r = along_x * nose / (bowl.radius - nose) if nose else 0.0
    centre = bowl.centre.shifted(along_z, -along_x)
    arc = RoughArc(bowl.radius, centre, max(dish.hole_radius, min(kept_r, bowl.corner.r)), dish.hole_radius)
    if arc.from_face() is None:
        raise Impossible(Fault("allowance_z", Message("The allowances leave this nose nothing to rough.")))
    return arc


def _too_much(allowance: float, stock: float, how: str) -> Message:
    values: dict[str, Value] = {
        "allowance": Quantity(allowance, LENGTH, brief=True),
        "stock": Quantity(stock, LENGTH),
        "how": how,
    }
    return Message("The allowance of {allowance} is larger than the stock: the dish is {stock} {how}.", values)


def facing_passes(
    work: WorkInputs, passes: PassInputs, dish: Dish, nose: float | None, feed: float
) -> list[PlannedPass]:
    """Facing the stock off with a `nose` radius (mm), from the bar's outside to the axis (or the hole).

    `feed` is in mm per revolution, here and below.
    """
    stock = work.face_stock
    if stock < SMALLEST or not work.bar_diameter:
        return []
    levels = _depths(stock, passes)
    planned = []
    for number, (before, level) in enumerate(zip([0.0, *levels], levels, strict=False), 1):
        z = stock - level if level < stock else 0.0
        face = Chain((Line(Point(z, work.bar_diameter / 2), Point(z, dish.hole_radius)),))
        run_in = (
            passes.lead_in + (0.0 if nose is None else nose) if passes.lead_in else 0.0
        )  # the whole nose clear of the bar
        pieces = approach(trace(face, nose, feed), run_in)
        planned.append(PlannedPass(f"face {number}", pieces, level - before))
    return planned


def rough_passes(dish: Dish, passes: PassInputs, nose: float | None, feed: float) -> list[PlannedPass]:
    """Roughing in the chosen way at `feed`. Raises `Missing` when facing passes are wanted and no `nose` is given."""
    arc = rough_arc(dish, passes, nose)
    if passes.roughing == "facing":
        if nose is None:
            raise Missing(Fault("nose_radius", Message("Roughing level by level needs the nose radius.")))
        return list(_level_passes(arc, passes, nose, feed))
    return list(_following_passes(arc, passes, nose, feed))


def _following_passes(arc: RoughArc, passes: PassInputs, nose: float | None, feed: float) -> Iterator[PlannedPass]:
    deepest = -arc.end.z
    levels = _depths(deepest, passes)
    lean = math.sqrt(1 - ((arc.end_r - arc.centre.r) / arc.radius) ** 2)
    for number, (before, level) in enumerate(zip([0.0, *levels], levels, strict=False), 1):
        element = arc.shifted(deepest - level).from_face()
        if element is None:
            continue
        clear = _clear_of_face(element.start_heading, nose)
        pieces = approach(trace(Chain((element,)), nose, feed), passes.lead_in and passes.lead_in + clear)
        yield PlannedPass(f"rough {number}", pieces, (level - before) * lean)


def _level_passes(arc: RoughArc, passes: PassInputs, nose: float, feed: float) -> Iterator[PlannedPass]:
    """Levels at constant Z: down the wall as a ramp, then inward; from a hole that holds the nose, the other way."""
    lowest = _lowest_nose(arc, nose)
    levels = _depths(-lowest, passes)
    room = arc.hole_r - nose
    lead_in = passes.lead_in
    for number, (before, level) in enumerate(zip([0.0, *levels], levels, strict=False), 1):
        wall = _down_the_wall(arc, nose, before, level, feed)
        inward = [*wall, *_across(arc, nose, level, feed)]
        if room > 0.0:
            outward = [_reversed(piece) for piece in reversed(inward)]
            pieces = approach(outward, min(lead_in, room))
        else:
            pieces = approach(inward, lead_in, INTO_THE_PART)
        yield PlannedPass(f"rough {number}", pieces, level - before)


def _lowest_nose(arc: RoughArc, nose: float) -> float:
    """Z of the nose's bottom while it touches the inner end of the roughed dish."""
    touching = arc.end.moved(arc.end.to(arc.centre), nose / arc.radius)
    return touching.z - nose


def _centre_r(arc: RoughArc, nose: float, z: float) -> float:
    """Outer radius at which the nose centre at z touches the wall; straight up above the arc's centre."""
    return arc.centre.r + _leg(arc.radius - nose, min(z - arc.centre.z, 0.0))


def _clear_of_face(heading: float, nose: float | None) -> float:
    """How far (mm) back along a `heading` (rad) into the part a nose is clear of the face on which it starts.

    Source: geometry of a circle that touches one of two lines at the angle theta: r tan(theta / 2).
    """
    lean = abs(abs(heading) - math.pi / 2)
    return (0.0 if nose is None else nose) * math.tan(lean / 2)


def _down_the_wall(arc: RoughArc, nose: float, before: float, level: float, feed: float) -> list[Piece]:
    top, bottom = nose - before, nose - level
    ramp = feed * RAMP_SHARE
    pieces = []
    if top > arc.centre.z:
        low = max(bottom, arc.centre.z)
        r = _centre_r(arc, nose, top)
        contact, centre = Line(Point(top, r + nose), Point(low, r + nose)), Line(Point(top, r), Point(low, r))
        pieces.append(Piece(contact, centre, ramp))
        top = low
    if bottom < top:
        way = Arc(Point(top, _centre_r(arc, nose, top)), Point(bottom, _centre_r(arc, nose, bottom)), arc.centre, "ccw")
        pieces.append(Piece(way.offset(nose, "right"), way, ramp))
    return pieces


def _across(arc: RoughArc, nose: float, level: float, feed: float) -> list[Piece]:
    """From the wall to the axis, over the edge of a hole, or into one that holds the nose."""
    start = _centre_r(arc, nose, nose - level)
    end = arc.hole_r - nose if arc.hole_r > nose else arc.hole_r
    if start <= end + SMALLEST:
        return []
    contact = Line(Point(-level, start), Point(-level, end))
    return [Piece(contact, contact.shifted(nose, 0.0), feed)]


def _reversed(piece: Piece) -> Piece:
    assert not isinstance(piece.contact, Point)
    return Piece(piece.contact.reversed(), piece.centre and piece.centre.reversed(), piece.feed, piece.in_air)


def finish_pass(dish: Dish, passes: PassInputs, cut: CutInputs, nose: float | None, feed: float) -> PlannedPass:
    """The finishing pass of a `nose` (None: a point) at `feed` over edge and dish, slower near the axis if asked."""
    pieces = slowed_inside(trace(dish.cut, nose, feed), cut.inner_feed_diameter, cut.inner_feed)
    clear = _clear_of_face(dish.cut.elements[0].start_heading, nose) + LEAST_CLEAR
    run_in = passes.lead_in and max(passes.lead_in, clear)
    return PlannedPass("finish", approach(pieces, run_in), finishing_depth(dish, passes))


def finishing_depth(dish: Dish, passes: PassInputs) -> float:
    """The largest thickness (mm, along the normal) that the allowances leave on the dish for finishing.

    >>> from calc.shapes.dish.bowl import DishInputs
    >>> from calc.shapes.dish.geometry import solve_dish
    >>> finishing_depth(solve_dish(DishInputs(radius=75.0, depth=4.5)), PassInputs(allowance_z=0.3))
    0.3
    """
    along_z, along_x = passes.allowance_z, passes.allowance_x
    flattest = math.asin(dish.hole_radius / dish.bowl.radius)
    thickest = min(max(math.atan2(along_x, along_z), flattest), dish.bowl.slope)
    return along_z * math.cos(thickest) + along_x * math.sin(thickest)


def _depths(total: float, passes: PassInputs) -> list[float]:
    if passes.pass_depth is None:
        raise Missing(Fault("pass_depth", Message("Give the depth per pass.")))
    if total > MOST_PASSES * passes.pass_depth:
        text = "That would be more than {most} passes. Take a larger depth per pass."
        raise OutOfRange(Fault("pass_depth", Message(text, {"most": MOST_PASSES})))
    return depths(total, passes.pass_depth, "rest" if passes.pass_split == "rest" else "equal")
