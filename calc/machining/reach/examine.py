"""All checks of one tool on one contour."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from calc.contour import Point
from calc.machining.reach.angles import Opening, opening_of
from calc.machining.reach.bodies import Ride, body_findings, nose_finding, ride_along
from calc.machining.reach.findings import Finding, Verdict, overall
from calc.machining.reach.limits import edge_finding, flank_angle, flank_finding, round_finding
from calc.machining.reach.slopes import leading_angles, slope_findings
from calc.machining.reach.tool import Hold, Shank, Tool, make_tool, plain_insert
from calc.machining.reach.work import Work
from calc.tool.insert import Insert
from calc.tool.insert.tables import Clearance, Shape


@dataclass(frozen=True, slots=True)
class Cutter:
    """An insert as it is held (mm, rad): what the checks need of it; None for what is not told."""

    shape: Shape
    nose: float
    size: float | None = None
    edge: float | None = None
    thickness: float | None = None
    clearance: Clearance | None = None
    hold: Hold | None = None
    shank: Shank | None = None

    @property
    def circle(self) -> float | None:
        """The inscribed circle; an insert of which only the edge is known is taken for a rhombus."""
        if self.size is None and self.shape.angle is not None and self.edge is not None:
            return plain_insert(self.shape.angle, self.edge)[1]
        return self.size

    @property
    def tool(self) -> Tool:
        """The tool with its outlines."""
        shape = self.shape
        if self.size is None and shape.angle is not None and self.edge is not None:
            shape = plain_insert(shape.angle, self.edge)[0]
        return make_tool(shape, self.circle, self.nose, self.hold, self.shank)


@dataclass(frozen=True, slots=True)
class Reach:
    """What all checks found (mm, rad); `used_edge` and `least_hollow` are None where they were not asked for."""

    tool: Tool
    opening: Opening
    ride: Ride
    findings: tuple[Finding, ...]
    used_edge: float | None
    least_hollow: float | None

    @property
    def verdict(self) -> Verdict:
        """The gravest verdict of all checks."""
        return overall(self.findings)

    @property
    def stopped_by(self) -> Finding | None:
        """The first check that stops the tool."""
        return next((finding for finding in self.findings if finding.verdict == "stops"), None)


def examine(work: Work, cutter: Cutter, depth: float | None = None, tilt: float | None = None) -> Reach:
    """Hold a cutter against a contour, at a `depth` (mm) square to it if one is given; `tilt` (rad) is the holder's.

    >>> from calc.shapes.dish.bowl import DishInputs
    >>> from calc.shapes.dish.geometry import solve_dish
    >>> from calc.tool.insert.tables import shapes
    >>> from calc.machining.reach.work import dish_work
    >>> seat = dish_work(solve_dish(DishInputs(radius=75.0, depth=4.5)), 30.0)
    >>> facing = Cutter(shapes()["C"], 0.8, 12.7, hold=Hold(math.radians(95.0)))
    >>> examine(seat, facing).stopped_by.check, examine(seat, Cutter(shapes()["R"], 6.0, 12.0)).verdict
    ('edge behind the nose', 'passes')
    """
    tool = cutter.tool
    opening, ride = opening_of(work.cut, work.side), ride_along(work, cutter.nose)
    edge, used = _edge(work, cutter, tool, depth)
    flank, least = _flank(work, cutter, tilt)
    findings = (
        *slope_findings(tool, work, opening, cutter.hold),
        nose_finding(work, cutter.nose, ride),
        *body_findings(tool, work, ride),
        *edge,
        *flank,
    )
    return Reach(tool, opening, ride, findings, used, least)


def cutter_of(insert: Insert, nose: float, hold: Hold | None, shank: Shank | None) -> Cutter:
    """The cutter that a designation tells, with its nose radius (mm) as chosen."""
    return Cutter(insert.shape, nose, insert.size, insert.edge_length, insert.thickness, insert.clearance, hold, shank)


def _edge(work: Work, cutter: Cutter, tool: Tool, depth: float | None) -> tuple[tuple[Finding, ...], float | None]:
    if depth is None:
        return (), None
    angles = leading_angles(tool, work)
    if angles is None:
        return (round_finding(2 * cutter.nose, depth),), None
    if cutter.edge is None:
        return (), None
    finding, used = edge_finding(cutter.shape.letter, cutter.edge, depth, angles)
    return (finding,), used if math.isfinite(used) else None


def _flank(work: Work, cutter: Cutter, tilt: float | None) -> tuple[tuple[Finding, ...], float | None]:
    angle = flank_angle(cutter.clearance, tilt)
    if angle is None or cutter.thickness is None or not 0.0 < angle < math.pi / 4:
        return (), None
    finding, least = flank_finding(work, cutter.thickness, angle)
    return (finding,), least


def centre_at(work: Work, point: Point, nose: float) -> Point:
    """Where the nose centre stands while the nose touches the contour at `point` (mm)."""
    element = min(work.cut, key=lambda each: each.distance_to(point))
    normal = element.tangent_at(element.locate(point)).left()
    return point.moved(normal, nose if work.side == "left" else -nose)


def places_of_interest(work: Work, reach: Reach) -> Iterator[Point]:
    """The nose centres worth drawing: where the tool is stopped, else the first and the last along the way."""
    stop = reach.stopped_by
    if stop is not None and stop.at is not None:
        yield centre_at(work, stop.at, reach.tool.nose) if stop.angle is not None else stop.at
    elif reach.ride.centres:
        yield reach.ride.centres[0]
        yield reach.ride.centres[-1]
