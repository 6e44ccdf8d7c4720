"""All checks of one tool on one contour."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from calc.contour import Point
from calc.language.messages import Message
from calc.machining.reach.angles import Opening, opening_of
from calc.machining.reach.bodies import Ride, body_findings, nose_finding, ride_along
from calc.machining.reach.engagement import across_the_feed, most_engaged
from calc.machining.reach.findings import Finding, Verdict, overall
from calc.machining.reach.formulas import least_bore
from calc.machining.reach.limits import Flank, depth_remark, edge_finding, flank_finding, flank_remark, round_finding
from calc.machining.reach.slopes import slope_findings
from calc.machining.reach.tool import Hold, Shank, Tool, hold_of, make_tool, plain_insert, shank_of
from calc.machining.reach.work import Work
from calc.tool.holder import Holder, usual_offset
from calc.tool.insert import Insert
from calc.tool.insert.tables import Clearance, Shape

STEEPEST_FLANK = math.pi / 4
"""A flank cleared by more (rad) never meets a hollow with its heel first."""


@dataclass(frozen=True, slots=True)
class Cutter:
    """An insert as it is held (mm, rad): what the checks need of it; None for what is not known."""

    shape: Shape
    nose: float
    size: float | None = None
    edge: float | None = None
    thickness: float | None = None
    clearance: Clearance | None = None
    hold: Hold | None = None
    shank: Shank | None = None
    bar_bore: float | None = None

    def flank(self, tilt: float | None = None) -> Flank | None:
        """The flank, tipped by `tilt` (rad; None: not known); None where thickness or clearance is not known."""
        if self.thickness is None or self.clearance is None or self.clearance.angle is None:
            return None
        flank = Flank(self.thickness, self.clearance.angle, tilt, self.bar_bore)
        return flank if 0.0 < flank.angle < STEEPEST_FLANK or flank.is_bar_ground else None

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
    remarks: tuple[Message, ...] = ()

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
    opening, ride = opening_of(work.cut, work.side), ride_along(work, cutter.nose, cutter.circle)
    edge, used = _edge(work, cutter, tool, depth)
    flank = cutter.flank(tilt)
    heel, least = flank_finding(work, flank) if flank else (None, None)
    findings = (
        *slope_findings(tool, work, opening, cutter.hold),
        nose_finding(work, cutter.nose, ride),
        *body_findings(tool, work, ride),
        *edge,
        *([heel] if heel else []),
    )
    return Reach(
        tool,
        opening,
        ride,
        findings,
        used,
        least,
        tuple(_remarks(work, cutter, flank if heel and heel.element else None, depth)),
    )


def cutter_of(insert: Insert, nose: float, hold: Hold | None, shank: Shank | None) -> Cutter:
    """The cutter of a designation, with its nose radius (mm) as chosen."""
    return Cutter(insert.shape, nose, insert.size, insert.edge_length, insert.thickness, insert.clearance, hold, shank)


def held_cutter(insert: Insert, holder: Holder, nose: float, *, along: bool = False) -> Cutter:
    """An insert in a holder or bar, both by designation, with the nose radius (mm) as chosen.

    >>> from calc.tool.holder import read_holder
    >>> from calc.tool.insert import read_insert
    >>> held_cutter(read_insert("CCMT 060204"), read_holder("S10K-SCLCR06"), 0.4).bar_bore
    12.0
    """
    cutter = cutter_of(insert, nose, hold_of(holder, along=along), shank_of(holder, nose))
    return replace(cutter, bar_bore=bar_bore(holder))


def bar_bore(holder: Holder | None) -> float | None:
    """The diameter (mm) of the smallest bore for a bar, without room for chips; None for a holder that is no bar."""
    if holder is None or not holder.bar_diameter:
        return None
    return least_bore(usual_offset(holder.bar_diameter, bar=True), holder.bar_diameter)


def _edge(work: Work, cutter: Cutter, tool: Tool, depth: float | None) -> tuple[tuple[Finding, ...], float | None]:
    if depth is None:
        return (), None
    if tool.low is None:
        return (round_finding(2 * cutter.nose, depth),), None
    if cutter.edge is None:
        return (), None
    engaged = most_engaged(work, tool, depth)
    finding, used = edge_finding(work, cutter.shape.letter, cutter.edge, depth, engaged)
    return (finding,), used if math.isfinite(used) else None


def _remarks(work: Work, cutter: Cutter, flank: Flank | None, depth: float | None) -> Iterator[Message]:
    if depth is not None and cutter.hold is not None and cutter.edge is not None:
        yield depth_remark(across_the_feed(work))
    if flank is not None:
        yield flank_remark(flank)


def centre_at(work: Work, point: Point, nose: float) -> Point:
    """Where the nose centre stands while the nose touches the contour at `point` (mm)."""
    element = min(work.cut, key=lambda each: each.distance_to(point))
    return point.moved(element.normal_at(element.locate(point), work.side), nose)


def places_of_interest(work: Work, reach: Reach) -> Iterator[Point]:
    """The nose centres worth drawing: where the tool is stopped, else the first and the last along the path."""
    stop = reach.stopped_by
    if stop is not None and stop.at is not None:
        yield centre_at(work, stop.at, reach.tool.nose) if stop.angle is not None else stop.at
    elif len(reach.ride.places):
        yield reach.ride.centres[0]
        yield reach.ride.centres[-1]
