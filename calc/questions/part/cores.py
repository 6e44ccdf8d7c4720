"""The core of a thread that is tapped: drilled anywhere within its limits, it is as the print wants it."""

from __future__ import annotations

from collections.abc import Iterator

from calc.contour import Chain
from calc.machining.removal.polygons import only_areas
from calc.machining.removal.stock import Stock, stock_of
from calc.questions.part.choosing import is_level
from calc.questions.part.job import Drill, Job, Tap
from calc.threads.thread import thread_of


def with_tap_drills(job: Job) -> Stock:
    """The finished part, with the core of each tapped thread as wide as the drill for it where its limits allow that.

    A print's core is that of mid-limit; the drill of ISO 2306 is another: 6.8 for an M8 of 6.647 to 6.912 (ISO 965-1).
    """
    import shapely  # noqa: PLC0415 - loaded on first use

    part = job.finished
    if job.inside is None:
        return part
    cores = [
        shapely.box(low, -1.0, high, radius)
        for radius, limits in _drilled_for(job)
        for low, high in _cylinders(job.inside.chain, limits)
    ]
    return stock_of(only_areas(part.whole.difference(shapely.union_all(cores)))) if cores else part


def _drilled_for(job: Job) -> Iterator[tuple[float, tuple[float, float]]]:
    """The radius (mm) of each drill that is within the limits (radii, mm) of a tapped thread's core, and those."""
    tools = [operation.tool for _, operation in job.in_order()]
    for tap in (tool for tool in tools if isinstance(tool, Tap)):
        minor = thread_of(tap.designation, "inside").sizes.minor
        if isinstance(minor, float):
            continue
        for drill in (tool for tool in tools if isinstance(tool, Drill)):
            if minor.lower <= drill.diameter <= minor.upper:
                yield drill.diameter / 2.0, (minor.lower / 2.0, minor.upper / 2.0)


def _cylinders(inside: Chain, limits: tuple[float, float]) -> Iterator[tuple[float, float]]:
    """From where to where (z, mm) the bore is a cylinder whose radius is within limits (mm)."""
    for each in inside:
        if is_level(each) and limits[0] <= each.start.r <= limits[1]:
            yield min(each.start.z, each.end.z), max(each.start.z, each.end.z)
