"""The first moves over a dish: the whole nose is in air where a run-in begins, by a sweep of a general library."""

from __future__ import annotations

from typing import Any

import pytest
import shapely

from calc.contour import Line
from calc.questions.operations.dish_plan.dish_passes import PlannedPass, facing_passes, finish_pass, rough_passes
from calc.questions.operations.dish_plan.inputs import CutInputs, PassInputs, WorkInputs
from calc.shapes.dish.bowl import DishInputs, EdgeInputs
from calc.shapes.dish.geometry import solve_dish

CASES = [(75.0, 4.5, 6.0, 60.0, 1.0, 2.0), (95.0, 7.2, 10.0, 80.0, 1.5, 2.0), (200.0, 3.0, 12.5, 90.0, 3.0, 1.0)]
"""Dish radius and depth, nose, bar, stock on the face, run-in, mm."""


def slot(centre: Any, nose: float) -> Any:
    count = 1 if isinstance(centre, Line) else 400
    places = [tuple(centre.point_at(centre.length * index / count)) for index in range(count + 1)]
    return shapely.LineString(places).buffer(nose, quad_segs=200)


def passes_of(case: tuple[float, ...], roughing: str, edge: str) -> list[PlannedPass]:
    radius, depth, nose, bar, stock, run_in = case
    given = EdgeInputs(break_kind=edge, break_size=0.8) if edge else EdgeInputs()
    dish = solve_dish(DishInputs(radius=radius, depth=depth, edge=given))
    passes = PassInputs(pass_depth=1.0, allowance_z=0.3, lead_in=run_in, roughing=roughing)
    work = WorkInputs(bar_diameter=bar, face_stock=stock)
    faced = facing_passes(work, passes, dish, nose, 0.25)
    return [*faced, *rough_passes(dish, passes, nose, 0.25), finish_pass(dish, passes, CutInputs(), nose, 0.2)]


@pytest.mark.parametrize("edge", ["", "radius", "chamfer"])
@pytest.mark.parametrize("roughing", ["contour", "facing"])
@pytest.mark.parametrize("case", CASES)
def test_every_pass_begins_with_the_whole_nose_in_air(case: tuple[float, ...], roughing: str, edge: str) -> None:
    _, _, nose, bar, stock, _ = case
    left = shapely.box(-50.0, 0.0, stock, bar / 2)
    for planned in passes_of(case, roughing, edge):
        first = planned.pieces[0]
        assert first.in_air
        assert first.centre is not None
        begins = shapely.Point(first.centre.start).buffer(nose - 1e-3, quad_segs=400)
        assert left.intersection(begins).area < 1e-6, planned.name
        for piece in planned.pieces:
            left = left.difference(slot(piece.centre, nose))


@pytest.mark.parametrize("case", CASES)
def test_facing_begins_outside_the_bar_by_the_run_in(case: tuple[float, ...]) -> None:
    """Nose centre at the bar's radius, the nose and the run-in: for the first case tool point 3 at X64."""
    _, _, nose, bar, _, run_in = case
    first = passes_of(case, "contour", "")[0].pieces[0].centre
    assert first is not None
    assert first.start.r == pytest.approx(bar / 2 + nose + run_in)
