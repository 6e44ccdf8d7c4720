"""What the nose's way and the removal of passes cost.

Run from the checkout with the check environment's Python: `python -m tests.bench.bench_nose`. Prints a table.
"""

from __future__ import annotations

import math
import statistics
import time
from collections.abc import Callable

from calc.contour import Arc, Chain, Element, Line
from calc.machining.job import Move, ToolPass
from calc.machining.removal.region import Bar, work_of
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
    query = read_query(list(FEATURE.example.items()), FEATURE.inputs)
    rows.append(
        ("the whole plan of the stem, ms", milliseconds(lambda: FEATURE.answer(query.inputs(FEATURE.inputs))), "")
    )
    print("| what | measured | at most |\n| --- | --- | --- |")
    for row in rows:
        print(f"| {row[0]} | {row[1]:.1f} | {row[2]} |")


if __name__ == "__main__":
    main()
