"""Random whole parts with two to eight operations, and a sweep and a time of each that are not ours.

The sweep takes every tool as the geometry library's own buffer of its core and moves it in convex hulls of neighbouring
positions; the time is quadrature along the moves.
"""

from __future__ import annotations

import math
import random
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import Any

import numpy as np

from calc.contour import Chain, Line, Point
from calc.cutting.machine import Machine
from calc.cutting.nouns import Lead, Split
from calc.language.problems import Problem
from calc.machining.removal.region import Bar
from calc.machining.removal.stock import stock_of
from calc.questions.part.done import OperationDone, PassDone
from calc.questions.part.job import Grooving, Job, Operation, Print, Setup, Turning
from calc.questions.part.proposal import propose
from calc.questions.part.run import run
from tests.bench.random_plans import SMALLER, TOUCHED, _slot, _volume, insert_of, jumps

MOST = 8
NODES, WEIGHTS = np.polynomial.legendre.leggauss(8)
PANELS = 1500
VOLUME = 1e-4
"""Share of what is removed by which both sweeps may differ."""

SLIVER = 0.02
"""mm3: by which they may differ of next to nothing."""

TIME = 1e-6


def random_job(seed: int) -> Job:
    """A print of steps up and down again with a groove and a bore at times, its stock, operations proposed for it."""
    rng = random.Random(seed)
    outside = _outside(rng)
    length, largest = -outside.chain.bounds.z_min, outside.chain.bounds.r_max
    inside = (
        _inside(rng, length, min(each.end.r for each in outside.chain if each.end.z < 0.0))
        if rng.random() < 0.5
        else None
    )
    bar = Bar(largest + round(rng.uniform(0.3, 3.0), 1), rng.choice([0.5, 1.0, 2.0]), -length - rng.choice([0.0, 30.0]))
    job = Job(outside, stock_of(bar.area()), (), inside, Machine(max_rpm=rng.choice([1500.0, 2500.0])), "C45")
    setups = _at_most(propose(job).setups, rng.randint(2, MOST))
    led = random.Random(-1 - seed)
    return replace(job, setups=tuple(replace(each, operations=tuple(_led(each.operations, led))) for each in setups))


def _led(operations: tuple[Operation, ...], rng: random.Random) -> Iterator[Operation]:
    """The turned operations of every other part led otherwise than usual."""
    usual = rng.random() < 0.5
    for each in operations:
        if usual or not isinstance(each.tool, Turning):
            yield each
            continue
        lead: Lead = rng.choice(("straight", "arc", "tangent"))
        split: Split = rng.choice(("equal", "rest", "easing"))
        cut = replace(each.cut, split=split, lead=lead, lead_size=rng.choice([0.5, 1.0, 2.0]), spring=rng.randint(0, 1))
        cut = replace(cut, backward=rng.random() < 0.3)
        yield replace(each, cut=cut, strategy=rng.choice(("rough along z", "rough along x", "rough along the contour")))


def _at_most(setups: tuple[Setup, ...], count: int) -> Iterator[Setup]:
    for setup in setups:
        kept = setup.operations[:count]
        count -= len(kept)
        if kept:
            yield replace(setup, operations=kept)


def _outside(rng: random.Random) -> Print:
    r, z = round(rng.uniform(6.0, 14.0), 1), 0.0
    points = [(z, 0.0), (z, r)]
    for _ in range(rng.randint(1, 4)):
        z -= round(rng.uniform(4.0, 14.0), 1)
        points.append((z, r))
        r += round(rng.uniform(0.5, 4.0), 1)
        points.append((z - rng.choice([0.0, 0.0, 2.0]), r))
        z = points[-1][0]
    z -= round(rng.uniform(3.0, 8.0), 1)
    points.append((z, r))
    if rng.random() < 0.5:
        wide, deep = rng.choice([3.0, 4.5, 6.0]), rng.choice([0.6, 1.5, 2.0])
        points += [(z, r - deep), (z - wide, r - deep), (z - wide, r)]
        z -= wide + 4.0
        points.append((z, r))
    for _ in range(rng.randint(0, 2)):
        r -= round(rng.uniform(0.5, 2.0), 1)
        points.append((z, r))
        z -= round(rng.uniform(4.0, 9.0), 1)
        points.append((z, r))
    return Print(_chain([*points, (z, 0.0)]))


def _inside(rng: random.Random, length: float, wall: float) -> Print | None:
    r = round(wall - rng.uniform(2.0, 3.0), 1)
    if r < 5.5:
        return None
    deep = round(rng.uniform(0.3, 0.7) * length, 1)
    step = max(r - round(rng.uniform(0.5, 2.0), 1), 5.0)
    return Print(_chain([(0.0, r), (-deep, r), (-deep, step), (-length, step)]))


def _chain(points: list[tuple[float, float]]) -> Chain:
    return Chain(tuple(Line(Point(*a), Point(*b)) for a, b in pairwise(points) if math.dist(a, b) > 1e-9))


@dataclass
class Report:
    """What was found wrong, how many operations and moves there were, of how many passes the time was integrated."""

    faults: list[str] = field(default_factory=list)
    operations: int = 0
    moves: int = 0
    timed: int = 0


def checked(job: Job) -> Report:
    """Run a job, sweep and time it again. Raises what the run raises."""
    report = Report()
    for one in run(job).operations:
        report.operations += 1
        report.moves += len(one.moves)
        _swept_again(one, report)
        _timed_again(one, job.machine.max_rpm, report)
        if (one.hits or one.dropped) and not (one.cautions or one.left):
            report.faults.append(f"{one.name}: hits {one.hits}, left out {one.dropped} and said nowhere")
    return report


def _swept_again(one: OperationDone, report: Report) -> None:
    left = one.before.whole
    for each in one.passes:
        left = _after(each, left, one.name, report)
    ours, theirs = one.before.volume - one.after.volume, _volume(one.before.whole) - _volume(left)
    if abs(ours - theirs) > VOLUME * abs(theirs) + SLIVER:
        report.faults.append(f"{one.name}: {ours:.4f} mm3, {theirs:.4f} by the independent sweep")


def _after(one: PassDone, left: Any, name: str, report: Report) -> Any:
    outline = one.outline
    if outline is None:
        return left
    body, smaller = (insert_of(outline, less) for less in (0.0, min(SMALLER, outline.nose / 2)))
    here: Point | None = None
    for move in one.tool_pass.moves:
        report.faults += jumps(f"{name}, {one.name}", here, move)
        here = move.elements[-1].end
        for element in move.elements:
            if move.why == "cut":
                left = left.difference(_slot(body, element))
            elif left.intersection(_slot(smaller, element)).area > TOUCHED:
                report.faults.append(f"{name}, {one.name}: {move.kind} {move.why} touches stock")
    return left


def _timed_again(one: OperationDone, max_rpm: float | None, report: Report) -> None:
    """The time of passes whose contact is known from their moves: straight ones, blades, drills."""
    tool = one.operation.tool
    for each in one.passes:
        fed = [move for move in each.tool_pass.moves if move.feed is not None and move.why != "retract"]
        straight = all(isinstance(element, Line) for move in fed for element in move.elements)
        if each.row is None or not straight or one.operation.kind in ("thread", "tap", "knurl", "measure"):
            continue
        off = _offset(one, each)
        if off is None:
            continue
        level = each.row.rpm_start if one.operation.kind in ("drill", "ream") else None
        found = sum(
            _minutes(
                element.shifted(*off), move.feed or 1.0, each.row.surface_speed, level or max_rpm, level is not None
            )
            for move in fed
            for element in move.elements
        )
        dwell = 0.0
        if isinstance(tool, Grooving) and each.name.startswith("plunge"):
            r = abs(fed[-1].elements[-1].shifted(*off).end.r)
            dwell = 2.0 / min(each.row.surface_speed / (math.tau * r), max_rpm or math.inf)
        report.timed += 1
        if abs(found + dwell - each.row.time) > TIME * each.row.time:
            report.faults.append(f"{one.name}, {each.name}: {each.row.time:.9f} min, {found + dwell:.9f} by quadrature")


def _offset(one: OperationDone, each: PassDone) -> tuple[float, float] | None:
    """From the moves' path to what touches (z, r) where that is one offset all along; None where it is not."""
    tool = one.operation.tool
    if isinstance(tool, Turning):
        if each.name.startswith("face"):
            return -tool.tool.nose, 0.0
        if not each.name.startswith("rough") or one.operation.strategy == "rough along the contour":
            return None
        if one.operation.strategy == "rough along x":
            return -tool.tool.nose, 0.0
        return 0.0, tool.tool.nose if one.operation.kind == "bore" else -tool.tool.nose
    if isinstance(tool, Grooving):
        corner = 0.2 if tool.corner is None else tool.corner
        return None if each.name.startswith("wall") else (0.0, corner if one.operation.where == "bore" else -corner)
    return 0.0, 0.0


def _minutes(line: Any, feed: float, speed: float, max_rpm: float | None, constant: bool) -> float:
    """Minutes along a line, the turns of each little piece at the speed that its distance from the axis gives."""
    edges = np.linspace(0.0, 1.0, PANELS + 1)
    share = (edges[:-1, None] + (NODES + 1.0) / 2.0 * np.diff(edges)[:, None]).ravel()
    weight = np.tile(WEIGHTS / 2.0 / PANELS, PANELS)
    r = np.abs(line.start.r + share * (line.end.r - line.start.r))
    per_minute = np.full_like(r, max_rpm) if constant and max_rpm else speed / (math.tau * np.maximum(r, 1e-12))
    if max_rpm is not None:
        per_minute = np.minimum(per_minute, max_rpm)
    return float((weight / per_minute).sum() * line.length / feed)


def tried(seed: int) -> Report | None:
    """The report of a random part; None where it is refused, as it may be."""
    try:
        return checked(random_job(seed))
    except Problem:
        return None
