"""How the work grows with the part: counted, not timed, so that a shared machine tells the same."""

from collections.abc import Callable
from functools import partial
from itertools import pairwise
from typing import Any

import pytest
import shapely

from calc.contour import Arc, Chain, Line, Point
from calc.language.fields import build
from calc.machining.finding import Wanted, find_tools
from calc.machining.reach.examine import examine, held_cutter
from calc.machining.reach.gaps import Rim
from calc.machining.reach.work import contour_work
from calc.questions.operations.contour_plan.inputs import ContourPlanInputs
from calc.questions.operations.contour_plan.plan import plan_of
from calc.tool.holder import read_holder
from calc.tool.insert import read_insert
from calc.tool.nose_path.distances import Distances

OVERLAYS = ("difference", "intersection")


def comb(grooves: int) -> Chain:
    """A shaft with grooves 5 deep, 4 wide, 3 apart."""
    corners = [(0.0, 0.0), (0.0, 20.0)]
    for z in range(0, -7 * grooves, -7):
        corners += [(z - 3.0, 20.0), (z - 3.0, 15.0), (z - 7.0, 15.0), (z - 7.0, 20.0)]
    corners.append((-7.0 * grooves - 3.0, 20.0))
    return Chain(tuple(Line(Point(*a), Point(*b)) for a, b in pairwise(corners)))


def waves(count: int) -> Chain:
    """A shaft of small arcs, hollow and round in turn."""
    joints = [Point(-2.0 * index, 20.0) for index in range(count + 1)]
    arcs = (Arc.from_radius(a, b, 1.5, "cw" if at % 2 else "ccw") for at, (a, b) in enumerate(pairwise(joints)))
    return Chain(tuple(arcs))


def zigzag(count: int) -> Chain:
    """A shaft of short rising and falling cones."""
    corners = [Point(-0.5 * index, 20.0 + 0.25 * (index % 2)) for index in range(count + 1)]
    return Chain(tuple(Line(a, b) for a, b in pairwise(corners)))


def overlaid(monkeypatch: pytest.MonkeyPatch, work: Callable[[], object]) -> int:
    """How many corners the geometry library has to cut with others in some work."""
    corners: list[int] = []

    def counted(cut: Callable[..., Any]) -> Callable[..., Any]:
        def method(area: Any, *other: Any, **more: Any) -> Any:
            corners.append(int(shapely.get_num_coordinates(area)))
            return cut(area, *other, **more)

        return method

    geometry = shapely.geometry.base.BaseGeometry
    with monkeypatch.context() as patched:
        for name in OVERLAYS:
            patched.setattr(geometry, name, counted(getattr(geometry, name)))
        work()
    return sum(corners)


def planned(chain: Chain, bar: float, nose: float, depth: float) -> int:
    """The passes of a plan and the places where it leaves something."""
    asked = {"where": "outside", "bar_diameter": bar, "face_stock": 1.0, "nose_radius": nose, "pass_depth": depth,
             "allowance_x": 0.1, "allowance_z": 0.05, "feed": 0.1}  # fmt: skip
    plan = plan_of(build(ContourPlanInputs, asked), chain, "right")
    return len(plan.passes) + len(plan.judged.left)


def test_twice_the_grooves_of_a_comb_are_not_much_more_than_twice_the_cutting(monkeypatch: pytest.MonkeyPatch) -> None:
    few, many = (overlaid(monkeypatch, partial(planned, comb(count), 42.0, 0.2, 0.4)) for count in (3, 6))
    assert 1.5 * few < many < 2.5 * few


def test_twice_the_small_arcs_under_118_levels_are_not_twice_the_cutting(monkeypatch: pytest.MonkeyPatch) -> None:
    """Most levels lie above the arcs and are straight."""
    few, many = (overlaid(monkeypatch, partial(planned, waves(count), 99.0, 0.4, 0.25)) for count in (5, 10))
    assert few < many < 2.0 * few


def test_four_times_the_rows_are_not_much_more_than_four_times_the_pairs_of_reach(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    held = held_cutter(read_insert("DCMT 11T304"), read_holder("SDJCR 2020K11"), 0.4)
    few, many = (paired(monkeypatch, partial(examine, contour_work(zigzag(count), "right"), held, 0.3))
                 for count in (50, 200))  # fmt: skip
    assert many < 5.5 * few


def test_four_times_the_rows_are_not_much_more_than_four_times_the_pairs_of_all_common_tools(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    few, many = (paired(monkeypatch, partial(find_tools, Wanted(zigzag(count), "right"))) for count in (30, 120))
    assert many < 5.5 * few


def test_four_times_the_rows_of_a_plan_are_not_much_more_than_four_times_the_cutting_and_measuring(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Of the depth of each pass, and of what is left beside each row: each place is held to the rows near by."""
    work = [partial(planned, zigzag(count), 42.0, 0.8, 1.0) for count in (50, 200)]
    few, many = (overlaid(monkeypatch, each) for each in work)
    assert 2.0 * few < many < 5.0 * few
    few, many = (measured(monkeypatch, each) for each in work)
    assert 2.0 * few < many < 5.0 * few


def measured(monkeypatch: pytest.MonkeyPatch, work: Callable[[], object]) -> int:
    """How many distances of a place from an element are worked out in some work."""
    distances: list[int] = []

    def counted(of: Callable[..., Any]) -> Callable[..., Any]:
        def method(every: Distances, places: Any) -> Any:
            found = of(every, places)
            distances.append(found.size)
            return found

        return method

    with monkeypatch.context() as patched:
        for name in ("_from_lines", "_from_arcs"):
            patched.setattr(Distances, name, counted(getattr(Distances, name)))
        work()
    return sum(distances)


def paired(monkeypatch: pytest.MonkeyPatch, work: Callable[[], object]) -> int:
    """How many pairs of an edge and an element have their distance worked out in some work."""
    pairs: list[int] = []
    gaps = Rim.gaps

    def counted(rim: Rim, edge: Any, *more: Any) -> Any:
        pairs.append(len(edge))
        return gaps(rim, edge, *more)

    with monkeypatch.context() as patched:
        patched.setattr(Rim, "gaps", counted)
        work()
    return sum(pairs)
