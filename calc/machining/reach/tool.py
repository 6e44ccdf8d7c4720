"""The tool as it is held: where the insert's edges point, its outline, and a simple outline of the holder.

Everything is seen in the half plane (+Z to the right, +X up) with the nose centre at z = r = 0. A holder is first laid
out with its shank pointing to +X and a right-hand tool feeding to -Z; a left-hand one is its mirror image; a bar, or a
holder that stands along the axis, is the same turned by a quarter.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from calc.contour import Arc, Chain, Line, Point, Vector
from calc.tool.holder import Hand, Holder, usual_offset
from calc.tool.insert import insert_core
from calc.tool.insert.outline import rolled
from calc.tool.insert.tables import Shape
from calc.tool.point import STEPS

Cuts = Literal["side", "end"]
SEAT_SHARE = 0.8
"""How much of the insert the drawn seat supports."""

ROUNDING = 1e-9

SHANK_LENGTH = 100.0
"""Length of shank that is looked at, mm."""


@dataclass(frozen=True, slots=True)
class Hold:
    """How an insert is held: entering angle (rad) to the feed along the axis ("side") or toward it ("end")."""

    entering_angle: float
    cuts: Cuts = "side"
    hand: Hand = "R"
    along: bool = False

    def low(self, angle: float) -> float:
        """The direction (rad from +Z) of the first edge, counter-clockwise, of an insert with included `angle` (rad).

        >>> facing, bar = Hold(math.radians(95.0)), Hold(math.radians(93.0), "end", "R", True)
        >>> round(math.degrees(facing.low(math.radians(80.0)))), round(math.degrees(bar.low(math.radians(55.0))))
        (5, -87)
        """
        low = math.pi - self.entering_angle - angle if self.cuts == "side" else self.entering_angle - math.pi / 2
        if self.hand == "L":
            low = math.pi - low - angle
        return low - math.pi / 2 if self.along else low


@dataclass(frozen=True, slots=True)
class Shank:
    """A shank or bar (mm): its width across, and where its middle stands from the nose, away from the feed."""

    width: float
    middle: float


@dataclass(frozen=True, slots=True)
class Tool:
    """A tool with its nose centre at z = r = 0 (mm, rad).

    `low` is the direction of the first edge counter-clockwise, `angle` the included one; both None for a round insert.
    `core` is the insert less its nose radius, `holder` the convex outlines of head and shank, () where not known.
    """

    nose: float
    low: float | None
    angle: float | None
    core: tuple[Point, ...]
    holder: tuple[tuple[Point, ...], ...] = ()

    @property
    def high(self) -> float | None:
        """The direction of the second edge counter-clockwise."""
        return None if self.low is None or self.angle is None else self.low + self.angle

    @property
    def point_number(self) -> int | None:
        """The tool point of the axes' tangents that lie on the nose: both, or the one; None for a round insert.

        Between the edges the nose faces the directions from a quarter turn past the second to one before the first.
        """
        high = self.high
        if high is None or self.angle is None:
            return None
        first, span = high + math.pi / 2, math.pi - self.angle
        faced = [
            Vector(float(z), float(r))
            for z, r in ((1, 0), (0, 1), (-1, 0), (0, -1))
            if (math.atan2(r, z) - first + ROUNDING) % math.tau <= span + 2 * ROUNDING
        ]
        step = Vector(sum(each.z for each in faced), sum(each.r for each in faced))
        return next((number for number, known in STEPS.items() if known == step and 0 < number < 9), None)

    def outline(self, centre: Point) -> Chain:
        """The insert's outline with its nose centre at `centre`."""
        if len(self.core) < 3:
            right, left = Point(self.nose, 0.0), Point(-self.nose, 0.0)
            middle = Point(0.0, 0.0)
            chain = Chain((Arc(right, left, middle, "ccw"), Arc(left, right, middle, "ccw")))
        else:
            chain = rolled(self.core, self.nose)
        return chain.shifted(*centre)

    def holder_outlines(self, centre: Point) -> tuple[Chain, ...]:
        """The outlines of head and shank with the nose centre at `centre`."""
        return tuple(
            Chain(tuple(Line(a, b) for a, b in zip(corners, (*corners[1:], corners[0]), strict=True))).shifted(*centre)
            for corners in self.holder
        )


def make_tool(shape: Shape, size: float | None, nose: float, hold: Hold | None, shank: Shank | None) -> Tool:
    """The tool with an insert of `shape`, inscribed circle `size` and `nose` (mm); a round one needs no `hold`.

    Without a size it has edges but no body.

    >>> from calc.tool.insert.tables import shapes
    >>> tool = make_tool(shapes()["C"], 12.7, 0.8, Hold(math.radians(95.0)), None)
    >>> round(math.degrees(tool.low)), round(math.degrees(tool.high)), tool.point_number
    (5, 85, 3)
    """
    along, left = (hold.along, hold.hand == "L") if hold else (False, False)
    if shape.angle is None or hold is None:
        low = angle = None
        core: tuple[Point, ...] = (Point(0.0, 0.0),)
    else:
        angle, low = shape.angle, hold.low(shape.angle)
        core = (Point(0.0, 0.0),) if size is None else insert_core(shape, size, nose, low + angle / 2)
    holder = _holder(core, nose, shank, along=along, left=left) if shank else ()
    return Tool(nose, low, angle, core, holder)


def shank_of(holder: Holder, nose: float) -> Shank | None:
    """The shank of a holder as the usual f dimensions place it from the nose centre; None where its size is not given.

    >>> from calc.tool.holder import read_holder
    >>> shank_of(read_holder("S16R-SDUCR11"), 0.4)
    Shank(width=16.0, middle=10.6)
    """
    if holder.is_bar and holder.bar_diameter:
        return Shank(holder.bar_diameter, usual_offset(holder.bar_diameter, bar=True) - nose)
    width = holder.shank_width
    if not width:
        return None
    if holder.style.neutral:
        return Shank(width, 0.0)
    if "straight" in holder.style.words:
        return Shank(width, width / 2 - nose)
    return Shank(width, usual_offset(width, bar=False) - width / 2 - nose)


def hold_of(holder: Holder, *, along: bool) -> Hold | None:
    """How a holder holds its insert; a bar always stands along the axis. None for a special style."""
    if holder.style.angle is None:
        return None
    return Hold(
        holder.style.angle, "end" if holder.style.cuts == "end" else "side", holder.hand, along or holder.is_bar
    )


def plain_insert(angle: float, edge: float) -> tuple[Shape, float]:
    """A rhombus of the included `angle` (rad) and `edge` (mm), for an insert that is known by its angle alone.

    >>> shape, size = plain_insert(math.radians(90.0), 12.7)
    >>> round(size, 6)
    12.7
    """
    return Shape("", f"{math.degrees(angle):g}°", "rhombus", angle), edge * math.sin(angle)


def _holder(
    core: tuple[Point, ...], nose: float, shank: Shank, *, along: bool, left: bool
) -> tuple[tuple[Point, ...], ...]:
    """Head and shank. Worked in the frame of a right-hand holder across the axis, then put where it stands."""
    frame = [_into_frame(corner, along=along, left=left) for corner in core]
    if len(frame) < 3:
        seat = [Point(SEAT_SHARE * nose * math.cos(t), SEAT_SHARE * nose * math.sin(t)) for t in _eighths()]
        front = nose
    else:
        middle = Point(sum(p.z for p in frame) / len(frame), sum(p.r for p in frame) / len(frame))
        seat = [middle.moved(middle.to(corner), SEAT_SHARE) for corner in frame]
        front = max(corner.r for corner in frame) + nose
    sides = (shank.middle - shank.width / 2, shank.middle + shank.width / 2)
    shoulders, ends = ([Point(z, r) for z in sides] for r in (front, front + SHANK_LENGTH))
    bodies = ([*seat, *shoulders], [*shoulders, *ends])
    return tuple(hull(_out_of_frame(corner, along=along, left=left) for corner in body) for body in bodies)


def _eighths() -> list[float]:
    return [index * math.pi / 8 for index in range(16)]


def _into_frame(point: Point, *, along: bool, left: bool) -> Point:
    across = Point(-point.r, point.z) if along else point
    return Point(-across.z, across.r) if left else across


def _out_of_frame(point: Point, *, along: bool, left: bool) -> Point:
    across = Point(-point.z, point.r) if left else point
    return Point(across.r, -across.z) if along else across


def hull(points: Iterable[Point]) -> tuple[Point, ...]:
    """The convex hull, counter-clockwise.

    >>> len(hull([Point(0.0, 0.0), Point(2.0, 0.0), Point(1.0, 0.5), Point(2.0, 2.0), Point(0.0, 2.0)]))
    4
    """
    ordered = sorted(set(points))
    halves = []
    for run in (ordered, ordered[::-1]):
        half: list[Point] = []
        for point in run:
            while len(half) > 1 and half[-2].to(half[-1]).cross(half[-1].to(point)) <= 0.0:
                half.pop()
            half.append(point)
        halves.append(half[:-1])
    return (*halves[0], *halves[1])
