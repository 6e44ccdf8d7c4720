"""What the nose's way and the removal of passes cost.

Run from the checkout with the check environment's Python: `python -m tests.bench.bench_nose`. Prints a table.
"""

from __future__ import annotations

import math
import statistics
import time
from collections.abc import Callable

from calc.contour import Arc, Chain, Element, Line, Point
from calc.machining.job import Contour, Cut, Move, Operation, Tool, ToolPass
from calc.machining.machine import machine
from calc.machining.removal.region import Bar, work_of
from calc.machining.removal.stock import stock_of
from calc.machining.removal.sweep import Outline
from calc.questions.operations.contour_plan.feature import FEATURE
from calc.shapes.chosen import shape_chain
from calc.tool.insert import insert_core
from calc.tool.insert.tables import shapes
from calc.tool.nose_path import nose_path
from server.query import read_query
from tests.machining.removal.swept_passes import sweep
from tests.tool.nose_path.contours import staircase

ROUNDS = 21


def milliseconds(work: Callable[[], object]) -> float:
    """The median of several rounds, ms."""
    times = []
    for _ in range(ROUNDS):
        begin = time.perf_counter()
        work()
        times.append(time.perf_counter() - begin)
    return 1000.0 * statistics.median(times)


def afresh(chain: Chain) -> Chain:
    """The same contour with nothing remembered from before."""
    return Chain(tuple(_afresh(element) for element in chain))


def _afresh(element: Element) -> Element:
    if isinstance(element, Line):
        return Line(element.start, element.end)
    return Arc(element.start, element.end, element.centre, element.turn)


def _combed(grooves: int) -> float:
    """The processor's time for the plan of a shaft with grooves 5 deep, 4 wide, 3 apart, ms."""
    text = "s_x0_z0*f_x40" + "".join(f"*t_z{-7 * n - 3}*f_x30*t_z{-7 * n - 7}*f_x40" for n in range(grooves))
    asked = {"shape": "own", "contour": f"{text}*t_z{-7 * grooves - 3}", "bar_diameter": "42", "face_stock": "1",
             "nose_radius": "0.2", "pass_depth": "0.4", "allowance_x": "0.1", "allowance_z": "0.05", "feed": "0.1",
             "surface_speed": "180", "max_rpm": "2500"}  # fmt: skip
    query = read_query(list(asked.items()), FEATURE.inputs)
    begin = time.process_time()
    FEATURE.answer(query.inputs(FEATURE.inputs))
    return 1000.0 * (time.process_time() - begin)


def _finished(count: int) -> float:
    """The processor's time for finishing a contour of so many elements, ms."""
    chain = staircase(count)
    bounds = chain.bounds
    stock = stock_of(Bar(bounds.r_max + 1.0, bounds.z_max + 0.5, bounds.z_min - 10.0).area())
    tool = Tool(Outline((Point(0.0, 0.0),), 0.2))
    begin = time.process_time()
    machine(Operation(tool, Cut(feed=0.1)), stock, Contour(chain, "right"))
    return 1000.0 * (time.process_time() - begin)


def main() -> None:
    """Print the table."""
    rows = []
    long = staircase(100)
    for nose in (0.4, 0.8, 2.0):
        taken = milliseconds(lambda nose=nose: nose_path(afresh(long), nose, "right"))  # type: ignore[misc]  # a default binds the loop's value
        rows.append((f"way of a nose of {nose} along 100 elements, ms", taken, "20"))
    chain = shape_chain("stem", None)
    outline = Outline(insert_core(shapes()["D"], 9.525, 0.4, math.radians(59.5)), 0.4)
    work = work_of(Bar(21.0, 1.0, -120.0).area(), chain, "right", 0.4)
    ways = [nose_path(chain.shifted(0.0, 1.2 * lift), 0.4, "right").centre_chains[0] for lift in range(9, -1, -1)]
    passes = [ToolPass(f"{index}", (Move(way.elements, 0.2),)) for index, way in enumerate(ways)]
    rows.append(
        (
            "ten passes along the stem, swept, ms",
            milliseconds(lambda: sweep(work, outline, passes, chain)),
            "400",
        )
    )
    rows += [
        (f"comb of {grooves} grooves, nose 0.2, planned, CPU ms", _combed(grooves), "") for grooves in (10, 14, 24)
    ]
    rows += [(f"{count} elements finished on their stock, CPU ms", _finished(count), "") for count in (10, 100, 1000)]
    query = read_query(list(FEATURE.example.items()), FEATURE.inputs)
    rows.append(
        ("the whole plan of the stem, ms", milliseconds(lambda: FEATURE.answer(query.inputs(FEATURE.inputs))), "")
    )
    print("| what | measured | at most |\n| --- | --- | --- |")
    for row in rows:
        print(f"| {row[0]} | {row[1]:.1f} | {row[2]} |")


if __name__ == "__main__":
    main()
