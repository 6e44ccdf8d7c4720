"""Passes over any contour, taken off the stock: the part comes out, nothing is hit."""

import math
from itertools import pairwise

import pytest

from calc.contour import Arc, Chain, Line, Point
from calc.language.problems import Impossible, OutOfRange
from calc.machining.removal.region import Bar, work_of
from calc.machining.removal.simulating import Simulation, simulate
from calc.machining.removal.sweep import Outline
from calc.machining.roughing.levels import Keeping
from calc.machining.roughing.planning import Job, Planned, Roughing, in_cutting_direction, plan_passes, with_rapids
from calc.machining.roughing.reachable import Edges, reachable
from calc.shapes.chosen import TOOL_SIDE, shape_chain
from calc.tool.insert import insert_core
from calc.tool.insert.tables import shapes
from calc.tool.nose_path import nose_path

EDGES = Edges(math.radians(32.0), math.radians(87.0))
RHOMBUS = Outline(insert_core(shapes()["D"], 9.525, 0.4, math.radians(59.5)), 0.4)
ROUND = Outline((Point(0.0, 0.0),), 6.0)
STOCKS = {"seat": Bar(30.0, 1.0, -20.0), "stem": Bar(21.0, 1.0, -120.0), "pad": Bar(28.575, 1.0, -40.0)}


def done(
    chain: Chain, side: str, where: str, way: Roughing, stock: Bar, keeping: Keeping | None = None
) -> tuple[list[Planned], Simulation, Job]:
    outline = ROUND if where == "face" else RHOMBUS
    chain, turned = in_cutting_direction(chain, side, where)  # type: ignore[arg-type]  # words of the type
    reached = reachable(chain, turned, None if outline is ROUND else EDGES).chain
    job = Job(reached, turned, stock.area(), where, outline.nose, 1.5, 0.25, 0.1, keeping or Keeping(0.2, 0.3))  # type: ignore[arg-type]  # words of the type
    planned = plan_passes(job, way)
    work = work_of(stock.area(), chain, turned, outline.nose)
    return planned, simulate(work, outline, with_rapids(planned, job), chain), job


CASES = [("seat", "face", "along x"), ("seat", "face", "contour"), ("stem", "outside", "along z"),
         ("stem", "outside", "contour"), ("pad", "outside", "along z"), ("pad", "outside", "contour")]  # fmt: skip


@pytest.mark.parametrize(("shape", "where", "way"), CASES)
def test_the_part_comes_out_and_nothing_is_hit(shape: str, where: str, way: Roughing) -> None:
    chain = shape_chain(shape, None)
    _, found, job = done(chain, TOOL_SIDE[shape], where, way, STOCKS[shape])
    assert found.gouged == ()
    assert all(each.gouged == 0.0 and each.rapid == 0.0 for each in found.removals)
    corners = nose_path(job.chain, job.nose, job.side).unreached
    assert bool(found.proud) == bool(corners)
    assert max((place.depth for place in found.proud), default=0.0) < 0.2


@pytest.mark.parametrize(("shape", "where", "way"), CASES)
def test_roughing_keeps_the_allowance_everywhere(shape: str, where: str, way: Roughing) -> None:
    chain = shape_chain(shape, None)
    planned, _, job = done(chain, TOOL_SIDE[shape], where, way, STOCKS[shape])
    rough = [each for each in planned if each.kind == "rough"]
    outline = Outline((Point(0.0, 0.0),), job.nose)
    work = work_of(STOCKS[shape].area(), job.chain, job.side, job.nose)
    left = simulate(work, outline, with_rapids(rough, job), job.chain).left
    assert work.finished.difference(left).area < 1e-6
    for element in job.chain:
        middle = element.point_at(element.length / 2)
        normal = element.tangent_at(element.length / 2).left()
        if job.side == "right":
            normal = normal.times(-1.0)
        kept = abs(normal.z) * 0.2 + (abs(normal.r) * 0.3 if where != "face" else 0.0)
        just = middle.moved(normal, 0.9 * kept)
        assert left.buffer(1e-6).contains(_point(just)), element


def _point(place: Point) -> object:
    import shapely  # noqa: PLC0415 - the library is a detail of this check

    return shapely.Point(place)


def test_a_bore_is_roughed_from_inside_and_left_along_z() -> None:
    corners = [(0.0, 16.0), (-10.0, 16.0), (-10.0, 12.0), (-20.0, 12.0)]
    chain = Chain(tuple(Line(Point(*a), Point(*b)) for a, b in pairwise(corners)))
    stock = Bar(30.0, 0.0, -40.0, 10.0)
    outline = Outline((Point(0.0, 0.0),), 0.8)
    job = Job(chain, "left", stock.area(), "bore", 0.8, 1.5, 0.2, 0.1, Keeping(0.1, 0.2))
    planned = plan_passes(job, "along z")
    passes = with_rapids(planned, job)
    found = simulate(work_of(stock.area(), chain, "left", 0.8), outline, passes, chain)
    assert found.gouged == ()
    assert all(each.rapid == 0.0 for each in found.removals)
    for each in passes[1:]:
        first = each.moves[0].elements[0]
        assert first.start.r == pytest.approx(first.end.r)


def test_what_the_edges_do_not_reach_stays_for_the_next_tool() -> None:
    corners = [(0.0, 20.0), (-10.0, 20.0), (-10.0, 15.0), (-20.0, 15.0), (-20.0, 20.0), (-30.0, 20.0)]
    chain = Chain(tuple(Line(Point(*a), Point(*b)) for a, b in pairwise(corners)))
    planned, found, _ = done(chain, "right", "outside", "along z", Bar(22.0, 0.0, -60.0))
    assert planned
    assert found.gouged == ()
    shadow = math.tan(math.radians(90.0 - 32.0)) * 5.0 * 5.0 / 2
    assert found.over.area == pytest.approx(shadow, rel=0.1)


def test_where_there_is_nothing_to_take_the_finishing_pass_alone_is_planned() -> None:
    chain = Chain((Line(Point(0.0, 20.0), Point(-10.0, 20.0)),))
    job = Job(chain, "right", Bar(20.0, 0.0, -30.0).area(), "outside", 0.4, 1.0, 0.2, 0.1)
    for way in ("along z", "along x", "contour"):
        assert [each.name for each in plan_passes(job, way)] == ["finish"]


def test_a_nose_that_touches_nothing_is_refused() -> None:
    chain = Chain((Arc(Point(0.0, 10.0), Point(-1.0, 11.0), Point(-1.0, 10.0), "ccw"),))
    job = Job(chain, "left", Bar(20.0, 0.0, -30.0).area(), "outside", 5.0, 1.0, 0.2, 0.1)
    with pytest.raises(Impossible, match="touches no place"):
        plan_passes(job, "none")


def test_too_many_passes_are_refused() -> None:
    chain = shape_chain("stem", None)
    job = Job(chain, "right", STOCKS["stem"].area(), "outside", 0.4, 0.05, 0.2, 0.1)
    with pytest.raises(OutOfRange, match="more than 120 passes"):
        plan_passes(job, "along z")
