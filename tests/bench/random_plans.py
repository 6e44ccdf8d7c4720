"""Random parts with the tools and cuts that a shop would try on them, and a sweep of their plans that is not ours.

The independent sweep takes the insert as the geometry library's own buffer of the insert's core, and moves it along in
convex hulls of neighbouring positions.
"""

from __future__ import annotations

import math
import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any

import numpy as np
import shapely

from calc.contour import Arc, Chain, ContourError, Element, Line, Point, chamfer, fillet
from calc.language.fields import build
from calc.language.problems import Problem
from calc.machining.job import Move
from calc.machining.machine import Done
from calc.machining.removal.sweep import Outline
from calc.questions.operations.contour_plan.inputs import ContourPlanInputs
from calc.questions.operations.contour_plan.plan import Plan, plan_of
from calc.shapes.dish.bowl import DishInputs, EdgeInputs
from calc.shapes.dish.geometry import solve_dish

OUTSIDE = (("DCMT 11T304", "SDJCR 2020K11"), ("DCMT 11T308", "SDJCR 2020K11"), ("CNMG 120408", "PCLNR 2525M12"),
           ("VBMT 160404", "SVJBR 2020K16"), ("TNMG 160408", "MTJNR 2525M16"))  # fmt: skip
BORES = (("CCMT 09T304", "S16R-SCLCR09"), ("CCMT 060204", "S10K-SCLCR06"), ("DCMT 11T304", "S20S-SDUCR11"))
ROUGHING = ("along z", "along x", "contour")
SMALLER = 1e-3
"""mm: a tool that moves without cutting is taken for so much smaller: along a surface it touches nothing."""

CHORD = 1e-5
"""mm: how far hulls of neighbouring positions may be from an arc."""

NOSE_CHORD = 2e-5
"""mm: how far chords of the insert may be inside its nose, so that a large nose takes no less off a wide face."""

TOUCHED = 1e-4
"""mm2: less than this is nothing touched."""

JUMP = 1e-6
"""mm: moves that go on from each other are no farther apart."""

DEEP = 1e-3
"""mm: a gouge counts from here on."""


@dataclass(frozen=True)
class Part:
    """A part, the stock it comes from and how it is to be turned."""

    kind: str
    chain: Chain
    side: str
    asked: dict[str, Any]


def random_part(seed: int) -> Part:
    """Outside, bore, face or dish, in turn, with walls, undercuts, grooves and necks."""
    rng = random.Random(seed)
    return (_outside, _bore, _face, _dish)[seed % 4](rng)


def _cuts(rng: random.Random, nose: float) -> dict[str, Any]:
    return {
        "roughing": rng.choice(ROUGHING),
        "pass_depth": round(rng.uniform(0.4, 1.8) if nose > 1.0 else rng.uniform(0.4, 1.6 * nose + 0.2), 2),
        "allowance_z": rng.choice([0.0, 0.1, 0.2]),
        "allowance_x": rng.choice([0.0, 0.2, 0.41, 0.6]),
        "lead_in": rng.choice([0.5, 1.0, 2.0]),
        "feed": 0.1,
        "rough_feed": 0.25,
        "surface_speed": 180_000.0,
        "max_rpm": 2500.0,
    }


def _outside(rng: random.Random) -> Part:
    z, r = 0.0, round(rng.uniform(4.0, 12.0), 1)
    points = [(0.0, 0.0), (0.0, r)]
    for _ in range(rng.randint(2, 7)):
        step = rng.choice(["turn", "taper", "shoulder", "groove", "undercut"])
        if step == "turn":
            z -= round(rng.uniform(2.0, 15.0), 1)
            points.append((z, r))
        elif step == "taper":
            z, r = z - round(rng.uniform(2.0, 10.0), 1), r + round(rng.uniform(0.5, 4.0), 1)
            points.append((z, r))
        elif step == "shoulder":
            r += round(rng.uniform(0.5, 5.0), 1)
            points.append((z, r))
        else:
            depth, wide = round(rng.uniform(0.4, min(3.0, r - 2.0)), 1), round(rng.uniform(1.0, 9.0), 1)
            lean = 0.0 if step == "groove" else round(rng.uniform(0.2, 4.0), 1)
            z -= 1.0
            points += [(z, r), (z - lean, r - depth), (z - lean - wide, r - depth), (z - 2 * lean - wide, r)]
            z -= 2 * lean + wide
    z -= 3.0
    points.append((z, r))
    chain = _rounded(points, rng)
    insert, holder = rng.choice(OUTSIDE)
    tool = {"insert": insert, "holder": holder} if rng.random() < 0.75 else {"nose_radius": rng.choice([0.4, 0.8, 2.0])}
    stock = {"bar_diameter": 2 * (r + round(rng.uniform(0.0, 4.0), 1)), "face_stock": rng.choice([0.0, 0.5, 1.0, 2.0])}
    cuts = _cuts(rng, tool.get("nose_radius", 1.5))  # type: ignore[arg-type]  # a nose is a number
    return Part("outside", chain, "right", {"where": "outside", **tool, **stock, **cuts})


def _bore(rng: random.Random) -> Part:
    r, z = round(rng.uniform(14.0, 22.0), 1), 0.0
    points = [(z, r)]
    for _ in range(rng.randint(1, 5)):
        step = rng.choice(["turn", "taper", "shoulder", "undercut"])
        if step == "turn":
            z -= round(rng.uniform(3.0, 12.0), 1)
        elif step == "taper":
            z, r = z - round(rng.uniform(3.0, 8.0), 1), r - round(rng.uniform(0.3, 1.5), 1)
        elif step == "shoulder" and z < 0.0:
            r -= round(rng.uniform(0.3, 2.0), 1)
        elif z < 0.0:
            depth, wide = round(rng.uniform(0.3, 1.5), 1), round(rng.uniform(2.0, 6.0), 1)
            points += [(z - 1.0, r), (z - 1.0 - depth, r + depth), (z - 1.0 - depth - wide, r + depth)]
            z -= 1.0 + 2 * depth + wide
        if (z, r) != points[-1]:
            points.append((z, r))
    points.append((z - 3.0, r))
    insert, holder = rng.choice(BORES)
    hole = 2 * (r - round(rng.uniform(0.3, 3.0), 1))
    tool = {"insert": insert, "holder": holder} if rng.random() < 0.75 else {"nose_radius": 0.8}
    stock = {"bar_diameter": 60.0, "face_stock": 0.0, "stock_bore": hole}
    return Part("bore", _rounded(points, rng), "left", {"where": "bore", **tool, **stock, **_cuts(rng, 0.8)})


def _face(rng: random.Random) -> Part:
    bar, r, z = 60.0, 30.0, 0.0
    points = [(z, r)]
    for _ in range(rng.randint(1, 4)):
        r -= round(rng.uniform(2.0, 5.0), 1)
        points.append((z, r))
        z, r = z - round(rng.uniform(0.3, 3.0), 1), r - round(rng.choice([0.0, rng.uniform(0.2, 3.0)]), 1)
        points.append((z, r))
    points.append((z, 0.0))
    nose = rng.choice([0.4, 0.8, 2.0, 6.0])
    stock = {"bar_diameter": bar, "face_stock": rng.choice([0.0, 1.0, 2.0])}
    chain = _rounded(points, rng)
    return Part("face", chain, "left", {"where": "face", "nose_radius": nose, **stock, **_cuts(rng, nose)})


def _dish(rng: random.Random) -> Part:
    radius = round(rng.uniform(30.0, 200.0), 1)
    depth = round(rng.uniform(0.5, min(8.0, radius / 4)), 2)
    edge = EdgeInputs(break_kind="radius", break_size=0.8) if rng.random() < 0.5 else EdgeInputs()
    dish = solve_dish(DishInputs(radius=radius, depth=depth, edge=edge))
    bar = math.ceil(2 * dish.cut.start.r) + rng.choice([2.0, 6.0])
    nose = rng.choice([0.8, 2.0, 6.0, 10.0])
    stock = {"bar_diameter": float(bar), "face_stock": rng.choice([0.0, 1.0, 1.5, 3.0])}
    chain = dish.part(bar / 2)
    return Part("dish", chain, "left", {"where": "face", "nose_radius": nose, **stock, **_cuts(rng, nose)})


def _rounded(points: Sequence[tuple[float, float]], rng: random.Random) -> Chain:
    """The corners as a chain, some of them broken."""
    kept = [points[0], *(b for a, b in pairwise(points) if math.dist(a, b) > 1e-6)]
    elements: list[Element] = [Line(Point(*a), Point(*b)) for a, b in pairwise(kept)]
    found: list[Element] = [elements[0]]
    for element in elements[1:]:
        size = rng.choice([0.0, 0.0, 0.3, 0.8, 1.5])
        found += _broken(found.pop(), element, size, round_=rng.random() < 0.6) if size else [element]
    return Chain(tuple(found))


def _broken(a: Element, b: Element, size: float, *, round_: bool) -> list[Element]:
    try:
        corner = fillet(a, b, size)[0] if round_ else chamfer(a, b, size)
        return list(corner.elements)
    except (ContourError, IndexError):
        return [a, b]


def planned(part: Part) -> Plan:
    """The plan of a part. Raises what the plan raises."""
    return plan_of(build(ContourPlanInputs, part.asked), part.chain, part.side)  # type: ignore[arg-type]  # one of two words


@dataclass
class Report:
    """What an independent sweep of a plan found: what is wrong, the volumes (mm3) of both."""

    faults: list[str] = field(default_factory=list)
    volume: float = 0.0
    ours: float = 0.0


def swept_again(plan: Plan, part: Part) -> Report:
    """Sweep the plan's moves independently, and hold them to the part."""
    report = Report()
    left = plan.done[0].regions.stock
    whole = _volume(left)
    for done in plan.done:
        left = operation_again(done, left, report)
    report.volume, report.ours = whole - _volume(left), sum(each.volume for each in plan.removals)
    _hold(plan, part, left, report)
    return report


def operation_again(done: Done, left: Any, report: Report) -> Any:
    """What an operation leaves of a stock by an independent sweep; what should not be touched goes into the report."""
    outline = done.operation.tool.outline
    insert, smaller = (insert_of(outline, less) for less in (0.0, SMALLER))
    holders = [shapely.Polygon([(p.z, p.r) for p in each]) for each in outline.holders]
    here: Point | None = None
    for removal in done.removals:
        for move in removal.tool_pass.moves:
            report.faults += jumps(removal.name, here, move)
            here = move.elements[-1].end
            for element in move.elements:
                if move.why == "cut":
                    left = left.difference(_slot(insert, element))
                for body in holders if move.why == "cut" else (smaller, *holders):
                    area = left.intersection(_slot(body, element)).area
                    if area > TOUCHED:
                        report.faults.append(f"{removal.name}: {move.why} touches {area:.6f} mm2")
    return left


def jumps(name: str, here: Point | None, move: Move) -> Iterator[str]:
    """Where a move of a pass does not go on from where the tool is."""
    for element in move.elements:
        if here is not None and here.distance_to(element.start) > JUMP:
            yield f"{name}: {move.why} jumps from {here} to {element.start}"
        here = element.end


def insert_of(outline: Outline, less: float = 0.0) -> Any:
    """The insert about its nose's centre, its nose smaller by `less` (mm)."""
    core, nose = [(point.z, point.r) for point in outline.core], outline.nose - less
    shape = shapely.Point(core[0]) if len(core) == 1 else shapely.Polygon(core)
    return shape.buffer(nose, quad_segs=math.ceil(math.pi / 4.0 / math.sqrt(2.0 * NOSE_CHORD / nose)))


def _slot(body: Any, element: Element) -> Any:
    """What a convex body passes over along an element, folded about the axis."""
    rim = shapely.get_coordinates(shapely.orient_polygons(body).exterior)[:-1]
    hulls = shapely.polygons([hull(rim, a, b) for a, b in pairwise(_places(element))])
    slot = shapely.union_all(hulls) if len(hulls) > 1 else hulls[0]
    if slot.bounds[1] >= 0.0:
        return slot
    return shapely.union(slot, shapely.transform(slot, lambda places: places * [1.0, -1.0]))


def hull(rim: Any, a: Any, b: Any) -> Any:
    """The convex hull of a convex body at two places: the edges that look the way that it goes are at the second one.

    `rim` is its corners counter-clockwise. A general hull of both sets of corners is the same, and takes far longer.
    """
    (dz, dr), edges = b - a, np.roll(rim, -1, axis=0) - rim
    fore = dz * edges[:, 1] - dr * edges[:, 0] > 0.0
    arriving, leaving = np.roll(fore, 1), fore
    corners = np.stack([rim + np.where(each[:, None], b, a) for each in (arriving, leaving)], axis=1)
    kept = np.stack([np.ones(len(rim), dtype=bool), arriving != leaving], axis=1)
    return corners[kept]


def _places(element: Element) -> Iterator[Any]:
    steps = (
        max(2, math.ceil(element.length / math.sqrt(8.0 * CHORD * element.radius))) if isinstance(element, Arc) else 1
    )
    for index in range(steps + 1):
        yield np.array(element.point_at(element.length * index / steps))


def _volume(area: Any) -> float:
    return float(2 * math.pi * area.centroid.y * area.area) if area.area else 0.0


def _hold(plan: Plan, part: Part, left: Any, report: Report) -> None:
    """Gouges beyond 1 um that are not named."""
    finished = plan.last.regions.finished
    gouged = finished.buffer(-DEEP, join_style="mitre").difference(left)
    for end in (part.chain.start, part.chain.end):
        gouged = gouged.difference(shapely.Point(end.z, end.r).buffer(1.6 * plan.tool.tool.nose))
    if gouged.area > TOUCHED and not plan.judged.too_deep:
        report.faults.append(f"gouges {gouged.area:.6f} mm2 that are not named, at {gouged.centroid}")


def tried(seed: int) -> tuple[str, Report | None]:
    """The kind of the part, and the report; None where the plan is refused, as it may be."""
    part = random_part(seed)
    try:
        plan = planned(part)
    except Problem:
        return part.kind, None
    report = swept_again(plan, part)
    if report.ours and abs(report.volume / report.ours - 1.0) > 1e-4:
        report.faults.append(f"volume {report.ours:.3f} is {report.volume:.3f} by the independent sweep")
    return part.kind, report
