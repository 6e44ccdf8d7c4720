"""The seat of the levelling foot as work for a tool, and tools by their designations."""

from calc.machining.reach.examine import Cutter, cutter_of
from calc.machining.reach.tool import hold_of, shank_of
from calc.machining.reach.work import Work, dish_work
from calc.shapes.dish.bowl import DishInputs, EdgeInputs
from calc.shapes.dish.geometry import Dish, solve_dish
from calc.tool.holder import read_holder
from calc.tool.insert import read_insert


def seat(edge: float | None = None) -> Dish:
    """Dish R 75, 4.5 deep, with an edge radius (mm) or sharp."""
    breaking = EdgeInputs() if edge is None else EdgeInputs(break_kind="radius", break_size=edge)
    return solve_dish(DishInputs(radius=75.0, depth=4.5, edge=breaking))


def seat_work(edge: float | None = None) -> Work:
    """The seat in its bar of 60."""
    return dish_work(seat(edge), 30.0)


def cutter(insert: str, holder: str, *, along: bool = False) -> Cutter:
    """An insert in a holder, both by designation."""
    read, held = read_insert(insert), read_holder(holder)
    assert read.nose is not None
    return cutter_of(read, read.nose, hold_of(held, along=along), shank_of(held, read.nose))
