"""A part done: each operation on the stock that the one before has left, on both ends."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from calc.cutting.materials import material
from calc.language.messages import Caution
from calc.language.problems import Problem
from calc.machining.removal.polygons import united
from calc.machining.removal.stock import Stock, stock_of
from calc.machining.whole import turned_stock
from calc.questions.part.asked import Asked
from calc.questions.part.done import OperationDone, PartDone
from calc.questions.part.gripped import freed_cautions, grip_cautions
from calc.questions.part.holes import drilled, reamed, tapped
from calc.questions.part.job import End, Job, Kind, Setup
from calc.questions.part.mouths import mouthed
from calc.questions.part.obstacles import Obstacle, obstacles_of, standing, with_obstacles
from calc.questions.part.plunged import grooved, parted
from calc.questions.part.threaded import knurled, measured, threaded
from calc.questions.part.turning import turned

RUNNERS: Mapping[Kind, Callable[[Asked], OperationDone]] = {
    "face": turned,
    "rough": turned,
    "finish": turned,
    "bore": turned,
    "centre": mouthed,
    "drill": drilled,
    "counterbore": mouthed,
    "countersink": mouthed,
    "ream": reamed,
    "tap": tapped,
    "groove": grooved,
    "part-off": parted,
    "thread": threaded,
    "knurl": knurled,
    "measure": measured,
}


def run(job: Job) -> PartDone:
    """Run all operations of a job in order. Raises `Problem` with the operation's `field` before the names of faults.

    >>> from calc.contour import Chain, Line, Point
    >>> from calc.machining.job import Cut, Tool
    >>> from calc.machining.removal.region import Bar
    >>> from calc.machining.removal.stock import stock_of
    >>> from calc.machining.removal.sweep import Outline
    >>> from calc.questions.part.job import Operation, Print, Setup, Turning
    >>> corners = [Point(0.0, 0.0), Point(0.0, 6.0), Point(-3.0, 6.0), Point(-3.0, 9.0)]
    >>> outside = Print(Chain(tuple(Line(a, b) for a, b in zip(corners, corners[1:]))))
    >>> tool = Turning(Tool(Outline((Point(0.0, 0.0),), 1.2)))
    >>> face = Operation("face", tool, Cut(depth=1.0, feed=0.2, surface_speed=200_000.0))
    >>> finish = Operation("finish", tool, Cut(feed=0.1, surface_speed=200_000.0))
    >>> job = Job(outside, stock_of(Bar(9.0, 1.0, -8.0).area()), (Setup("first", (face, finish)),))
    >>> done = run(job)
    >>> [one.name for one in done.operations], [len(one.passes) for one in done.operations]
    (['face, first end', 'finish, first end'], [1, 1])
    """
    work = None if job.material is None else material(job.material)
    done: list[OperationDone] = []
    stock, end = job.stock, FIRST
    clamped: Setup | None = None
    around: tuple[Obstacle, ...] = ()
    gripped: tuple[Caution, ...] = ()
    for setup, operation in job.in_order():
        if setup.end != end:
            stock, end = turned_stock(_released(stock, job.length), job.length), setup.end
        if setup is not clamped:
            clamped, around = setup, obstacles_of(setup, stock)
            gripped = tuple(grip_cautions(setup, stock))
        one = with_obstacles(_one(Asked(job, setup, operation, stock, work, standing(around))), setup, around)
        said = (*gripped, *freed_cautions(operation.kind, stock, one.after))
        done.append(replace(one, cautions=(*said, *one.cautions)) if said else one)
        gripped = ()
        stock = done[-1].after
    return PartDone(tuple(done), job.length)


def _released(stock: Stock, length: float) -> Stock:
    """What is taken out of the chuck: the piece that the part is in, without what was parted off behind it."""
    import shapely  # noqa: PLC0415 - loaded on first use

    middle = shapely.LineString([(-length / 2.0, 0.0), (-length / 2.0, stock.bounds[3] + 1.0)])
    pieces = [piece for piece in stock.pieces if piece.intersects(middle)]
    return stock_of(united(pieces)) if pieces else stock


def _one(asked: Asked) -> OperationDone:
    operation = asked.operation
    try:
        return RUNNERS[operation.kind](asked)
    except Problem as problem:
        raise problem.renamed(lambda name: _placed(operation.field, name)) from problem


FIRST: End = "first"
OWN = ("kind", "tool", "cut", "from", "to", "depth")
KNOWN_AS = {
    "pass_depth": "cut.depth",
    "nose_radius": "tool.nose_radius",
    "surface_speed": "cut.surface_speed",
    "feed": "cut.feed",
    "drill_diameter": "tool.diameter",
    "point_angle": "tool.point_angle",
    "centre_size": "tool.size",
    "designation": "tool.thread",
    "drill": "tool.thread",
    "insert_width": "tool.width",
    "part_chamfer": "tool.part_chamfer",
    "bar_chamfer": "tool.bar_chamfer",
    "edge_lead": "tool.edge_lead",
    "outer_diameter": "stock.bar_diameter",
    "start_diameter": "from",
    "bottom_diameter": "from",
    "groove_width": "tool.width",
    "groove_outer": "from",
    "groove_inner": "from",
    "face_depth": "from",
    "relief": "cut.surface_speed",
    "pass_count": "tool.pass_count",
    "spring_passes": "tool.spring_passes",
    "feed_rule": "cut.feed_rule",
    "pitch": "tool.pitch",
    "form": "tool.form",
    "hole_depth": "depth",
    "length": "depth",
    "material": "part.material",
}
"""What the fields of shared checks are called in an operation."""


def _placed(field: str, name: str) -> str:
    """The field of a fault: one of the operation's, the part's own where that lacks something, else the operation."""
    known = KNOWN_AS.get(name, name)
    if known.startswith(("part.", "stock.")):
        return known
    return f"{field}.{known}".lstrip(".") if known.partition(".")[0] in OWN else field
