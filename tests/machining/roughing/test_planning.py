"""Passes over any contour, taken off the stock: the part comes out, nothing is hit."""

import math
from itertools import pairwise

import pytest
import shapely

from calc.contour import Arc, Chain, Line, Point
from calc.language.problems import Impossible, OutOfRange
from calc.machining.job import Contour, Cut, Operation, Strategy, Tool, Where
from calc.machining.machine import Done, machine
from calc.machining.passes import MOST_IN_ALL, MOST_PASSES, depths
from calc.machining.removal.region import Bar
from calc.machining.removal.stock import stock_of
from calc.machining.removal.sweep import Outline
from calc.machining.removal.taking import Taking
from calc.machining.roughing.reachable import Edges
from calc.shapes.chosen import TOOL_SIDE, shape_chain
from calc.tool.insert import insert_core
from calc.tool.insert.tables import shapes
from calc.tool.nose_path import nose_path

EDGES = Edges(math.radians(32.0), math.radians(87.0))
RHOMBUS = Tool(Outline(insert_core(shapes()["D"], 9.525, 0.4, math.radians(59.5)), 0.4), EDGES)
ROUND = Tool(Outline((Point(0.0, 0.0),), 6.0))
STOCKS = {"seat": Bar(30.0, 1.0, -20.0), "stem": Bar(21.0, 1.0, -120.0), "pad": Bar(28.575, 1.0, -40.0)}


def run(chain: Chain, side: str, where: Where, strategy: Strategy, stock: Bar, tool: Tool, cut: Cut) -> list[Done]:
    """Face (but for a bore), rough, finish: each on the stock of the one before."""
    part = Contour(chain, side)  # type: ignore[arg-type]  # one of two words
    found: list[Done] = []
    left = stock_of(stock.area())
    rough = [] if where == "bore" else [Operation(tool, cut, "face", where)]
    for operation in (*rough, Operation(tool, cut, strategy, where), Operation(tool, Cut(feed=0.1), "finish", where)):
        found.append(machine(operation, left, part))
        left = found[-1].after
    return found


def done(chain: Chain, side: str, where: Where, strategy: Strategy, stock: Bar) -> list[Done]:
    tool = ROUND if where == "face" else RHOMBUS
    return run(chain, side, where, strategy, stock, tool, Cut(1.5, 0.25, along_z=0.2, along_x=0.3))


CASES = [
    ("seat", "face", "rough along x"),
    ("seat", "face", "rough along the contour"),
    ("stem", "outside", "rough along z"),
    ("stem", "outside", "rough along the contour"),
    ("pad", "outside", "rough along z"),
    ("pad", "outside", "rough along the contour"),
]


@pytest.mark.parametrize(("shape", "where", "strategy"), CASES)
def test_the_part_comes_out_and_nothing_is_hit(shape: str, where: Where, strategy: Strategy) -> None:
    found = done(shape_chain(shape, None), TOOL_SIDE[shape], where, strategy, STOCKS[shape])
    last = found[-1]
    assert last.judged.too_deep == ()
    assert all(each.hits == () and each.dropped == () for each in found)
    corners = nose_path(last.reach.chain, last.operation.tool.nose, last.part.side).unreached
    assert bool(last.judged.left) == bool(corners)
    assert max((place.depth for place in last.judged.left), default=0.0) < 0.2


@pytest.mark.parametrize(("shape", "where", "strategy"), CASES)
def test_roughing_keeps_the_allowance_everywhere(shape: str, where: Where, strategy: Strategy) -> None:
    found = done(shape_chain(shape, None), TOOL_SIDE[shape], where, strategy, STOCKS[shape])
    left, part = found[-2].after.whole, found[-1].part
    assert found[-1].regions.finished.difference(left).area < 1e-6
    for element in found[-1].reach.chain:
        middle = element.point_at(element.length / 2)
        normal = element.tangent_at(element.length / 2).left().times(1.0 if part.side == "left" else -1.0)
        just = middle.shifted(0.18 * _sign(normal.z), 0.27 * _sign(normal.r))
        assert left.buffer(1e-6).contains(shapely.Point(just)), element


@pytest.mark.parametrize(
    ("shape", "where", "strategy"), [case for case in CASES if case[2] == "rough along the contour"]
)
def test_what_a_pass_touches_is_the_nose_away_from_its_centre(shape: str, where: Where, strategy: Strategy) -> None:
    """Times and forces go by it: a pass above the allowances touches what it leaves there, not the contour below."""
    for one in done(shape_chain(shape, None), TOOL_SIDE[shape], where, strategy, STOCKS[shape]):
        nose = one.operation.tool.nose
        for piece in (piece for made in one.made for piece in made.planned.pieces):
            touched = piece.contact
            ends = (touched, touched) if isinstance(touched, Point) else (touched.start, touched.end)
            for centre, end in zip((piece.path.start, piece.path.end), ends, strict=True):
                assert centre.distance_to(end) == pytest.approx(nose, abs=1e-6)


def _sign(value: float) -> float:
    return 0.0 if abs(value) < 1e-9 else math.copysign(1.0, value)


def test_a_bore_is_roughed_from_inside_and_left_along_z() -> None:
    corners = [(0.0, 16.0), (-10.0, 16.0), (-10.0, 12.0), (-20.0, 12.0)]
    chain = Chain(tuple(Line(Point(*a), Point(*b)) for a, b in pairwise(corners)))
    stock, tool = Bar(30.0, 0.0, -40.0, 10.0), Tool(Outline((Point(0.0, 0.0),), 0.8))
    cut = Cut(1.5, 0.2, along_z=0.1, along_x=0.2)
    found = run(chain, "left", "bore", "rough along z", stock, tool, cut)
    assert found[-1].judged.too_deep == ()
    assert all(each.hits == () for each in found)
    for each in [removal for one in found for removal in one.removals][1:]:
        first = each.tool_pass.moves[0].elements[0]
        assert first.start.r == pytest.approx(first.end.r)


def test_what_the_edges_do_not_reach_stays_for_the_next_tool() -> None:
    corners = [(0.0, 20.0), (-10.0, 20.0), (-10.0, 15.0), (-20.0, 15.0), (-20.0, 20.0), (-30.0, 20.0)]
    chain = Chain(tuple(Line(Point(*a), Point(*b)) for a, b in pairwise(corners)))
    found = done(chain, "right", "outside", "rough along z", Bar(22.0, 0.0, -60.0))
    assert found[-1].judged.too_deep == ()
    shadow = math.tan(math.radians(90.0 - 32.0)) * 5.0 * 5.0 / 2
    assert found[-1].judged.over.area == pytest.approx(shadow, rel=0.1)


TURNED = Chain((Line(Point(0.0, 20.0), Point(-10.0, 20.0)),))


@pytest.mark.parametrize("strategy", ["rough along z", "rough along x", "rough along the contour"])
def test_where_there_is_nothing_to_take_the_finishing_pass_alone_is_planned(strategy: Strategy) -> None:
    found = run(TURNED, "right", "outside", strategy, Bar(20.0, 0.0, -30.0), RHOMBUS, Cut(1.0, 0.2))
    assert [each.removal.name for one in found for each in one.made] == ["finish"]


def test_a_nose_that_touches_nothing_is_refused() -> None:
    chain = Chain((Arc(Point(0.0, 10.0), Point(-1.0, 11.0), Point(-1.0, 10.0), "ccw"),))
    large = Tool(Outline((Point(0.0, 0.0),), 5.0))
    with pytest.raises(Impossible, match="cannot touch this contour"):
        machine(Operation(large, Cut()), stock_of(Bar(20.0, 0.0, -30.0).area()), Contour(chain, "left"))


def test_too_many_passes_are_refused() -> None:
    operation = Operation(RHOMBUS, Cut(0.05, 0.2), "rough along z")
    with pytest.raises(OutOfRange, match="at most 200 are planned"):
        machine(operation, stock_of(STOCKS["stem"].area()), Contour(shape_chain("stem", None), "right"))


def test_passes_are_counted_before_any_is_listed() -> None:
    """A list of 10 to the 15 numbers fits into no memory."""
    with pytest.raises(OutOfRange, match="at most 200 are planned"):
        depths(1e9, 1e-6, "rest")
    assert len(depths(200.0, 1.0, "equal")) == MOST_PASSES


COMB = Chain(
    tuple(
        Line(a, b)
        for a, b in pairwise(
            [
                Point(0.0, 10.0),
                *(Point(-z - n, r) for n in range(0, 300, 2) for z, r in ((0.5, 10), (0.5, 5), (1.5, 5), (1.5, 10))),
            ]
        )
    )
)
"""A shaft with 150 grooves 5 deep."""


def test_each_stretch_of_each_level_counts_and_none_is_swept_when_they_are_too_many(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """150 grooves in 10 levels each are 1,500 passes, though there are but 14 levels."""
    monkeypatch.setattr(Taking, "take", lambda *_: pytest.fail("a pass was swept"))
    operation = Operation(Tool(Outline((Point(0.0, 0.0),), 0.2)), Cut(0.5, 0.1), "rough along z")
    with pytest.raises(OutOfRange, match="at most 600 are planned") as refused:
        machine(operation, stock_of(Bar(12.0, 0.0, -320.0).area()), Contour(COMB, "right"))
    assert refused.value.faults[0].field == "pass_depth"


def test_the_passes_of_a_plan_are_counted_over_its_operations() -> None:
    operation = Operation(RHOMBUS, Cut(1.5, 0.2), "rough along z")
    part, stock = Contour(shape_chain("stem", None), "right"), stock_of(STOCKS["stem"].area())
    assert machine(operation, stock, part, made=500).made
    with pytest.raises(OutOfRange, match="at most 600 are planned"):
        machine(operation, stock, part, made=MOST_IN_ALL - 1)


def test_a_long_shaft_takes_as_many_passes_as_its_depth_needs() -> None:
    """200 long, 5 of a radius to take, 1.5 deep: 4 levels; the length along Z counts for nothing."""
    corners = [Point(0.0, 0.0), Point(0.0, 20.0), Point(-200.0, 20.0)]
    shaft = Chain(tuple(Line(a, b) for a, b in pairwise(corners)))
    found = run(shaft, "right", "outside", "rough along z", Bar(25.0, 1.0, -240.0), RHOMBUS, Cut(1.5, 0.2))
    assert [each.removal.name for each in found[1].made] == [f"rough {number}" for number in range(1, 5)]


def test_both_walls_of_a_groove_keep_their_allowance() -> None:
    corners = [(0.0, 20.0), (-10.0, 20.0), (-10.0, 15.0), (-24.0, 15.0), (-24.0, 20.0), (-30.0, 20.0)]
    chain = Chain(tuple(Line(Point(*a), Point(*b)) for a, b in pairwise(corners)))
    tool, cut = Tool(Outline((Point(0.0, 0.0),), 0.8)), Cut(1.0, 0.2, along_z=0.3, along_x=0.2)
    rough = run(chain, "right", "outside", "rough along z", Bar(22.0, 0.0, -60.0), tool, cut)[1].after.whole
    for z, r, kept in ((-10.0, 17.0, -0.3), (-24.0, 17.0, 0.3)):
        near, far = sorted((z, z + 0.98 * kept))
        assert rough.buffer(1e-6).contains(shapely.box(near, r - 0.5, far, r + 0.5))
        assert not rough.intersects(shapely.Point(z + 1.02 * kept, r))


RECESSES = [(0.0, 20.0), (-5.0, 20.0), (-5.0, 22.0), (-10.1, 22.0), (-10.1, 19.0),
            (-13.1, 19.0), (-13.1, 22.0), (-18.8, 22.0), (-18.8, 19.0), (-24.8, 19.0)]  # fmt: skip


def test_out_of_a_recess_the_tool_goes_back_along_its_own_pass_without_a_gap() -> None:
    """Levels 1.5 apart by a nose of 0.75 leave a full cusp on a wall: the tool does not come straight out past it."""
    bore = Chain(tuple(Line(Point(*a), Point(*b)) for a, b in pairwise(RECESSES)))
    found = run(bore, "left", "bore", "rough along z", Bar(40.0, 0.0, -60.0, 16.0),
                Tool(Outline((Point(0.0, 0.0),), 0.75)), Cut(1.5, 0.25))  # fmt: skip
    assert [each.dropped for each in found] == [(), ()]
    assert "along the allowance 1" in [made.planned.name for made in found[0].made]
    for each in found:
        path = [element for move in each.moves for element in move.elements]
        assert max(a.end.distance_to(b.start) for a, b in pairwise(path)) < 1e-9
