"""How the nose's path and reach grow with the contour, beside the approximate offset of a general geometry library.

Run from the checkout with the check environment's Python: `python -m tests.bench.bench_reach`. Prints tables; CPU time,
the least of several rounds.
"""

from __future__ import annotations

import math
import time
from collections.abc import Callable
from functools import partial
from itertools import pairwise

import shapely

from calc.contour import Arc, Chain, Element, Line, Point
from calc.machining.finding import Wanted, find_tools
from calc.machining.reach.examine import examine, held_cutter
from calc.machining.reach.work import contour_work
from calc.tool.holder import read_holder
from calc.tool.insert import read_insert
from calc.tool.nose_path import nose_path
from server.part_reading import PartReading
from tests.bench.bench_nose import afresh
from tests.machining.test_finding import by_trying, names
from tests.server.whole_parts import PARTS
from tests.tool.nose_path.contours import polyline, staircase

ROUNDS = 5
COUNTS = (10, 100, 1000)


def least(work: Callable[[], object], rounds: int = ROUNDS) -> float:
    """The least CPU time of several rounds, ms."""
    times = []
    for _ in range(rounds):
        begin = time.process_time()
        work()
        times.append(time.process_time() - begin)
    return 1000.0 * min(times)


def zigzag(count: int) -> Chain:
    """A shaft of short rising and falling cones."""
    corners = [Point(-0.5 * index, 20.0 + 0.25 * (index % 2)) for index in range(count + 1)]
    return Chain(tuple(Line(a, b) for a, b in pairwise(corners)))


def waves(count: int) -> Chain:
    """A wavy shaft of arcs that join smoothly."""
    made: list[Element] = []
    point = Point(0.0, 30.0)
    for index in range(count):
        end = point.shifted(-3.0, 0.0)
        made.append(Arc.from_radius(point, end, 3.0, "cw" if index % 2 else "ccw"))
        point = end
    return Chain(tuple(made))


def growth(name: str, make: Callable[[int], Chain], work: Callable[[Chain], object], rounds: int = ROUNDS) -> None:
    """Print a row: 10, 100, 1,000 elements, and the power with which the last step grows."""
    taken = [least(partial(_afresh, work, chain), rounds) for chain in map(make, COUNTS)]
    power = math.log10(taken[2] / taken[1])
    print(f"| {name} | {taken[0]:.1f} | {taken[1]:.1f} | {taken[2]:.1f} | {power:.2f} |")


def _afresh(work: Callable[[Chain], object], chain: Chain) -> object:
    return work(afresh(chain))


def finder() -> None:
    """The search for a tool on the demo's whole parts, and whether trying every pair finds the same ones."""
    print("\n| search for a tool | CPU ms | found | the same as by trying every pair |\n| --- | --- | --- | --- |")
    for name, (body, view) in PARTS.items():
        chain = PartReading(body, view).job.outside.chain
        wanted = Wanted(chain, "right")
        taken = least(partial(find_tools, wanted))
        found = names(wanted)
        print(f"| {name} | {taken:.0f} | {len(found)} | {found == by_trying(wanted)} |", flush=True)


def main() -> None:
    """Print the tables."""
    held = held_cutter(read_insert("DCMT 11T304"), read_holder("SDJCR 2020K11"), 0.4)
    print("| CPU ms | 10 | 100 | 1,000 | power of the last step |\n| --- | --- | --- | --- | --- |")
    growth("nose path, nose 0.8, a shaft of steps", staircase, lambda chain: nose_path(chain, 0.8, "right"))
    growth("the same with all that is not reached", staircase, lambda chain: nose_path(chain, 0.8, "right").unreached)
    growth("nose path, nose 0.8, a zigzag", zigzag, lambda chain: nose_path(chain, 0.8, "right"))
    growth("reach of an insert and its holder", zigzag, lambda c: examine(contour_work(c, "right"), held, 0.3), 2)
    growth("all common tools on a zigzag", zigzag, lambda chain: find_tools(Wanted(chain, "right")), 1)
    growth("all common tools on a shaft of steps", staircase, lambda chain: find_tools(Wanted(chain, "right")), 1)
    steps = shapely.LineString(polyline(staircase(1000).elements, 0.2))
    rough = least(lambda: shapely.offset_curve(steps, -0.8, quad_segs=16))
    rows = [
        ("approximate offset of the same 1,000 elements by a geometry library", rough),
        ("reach of a zigzag of 398 rows", least(lambda: examine(contour_work(zigzag(398), "right"), held, 0.3), 2)),
        ("nose of 50 on 500 arcs, its gouges too", least(lambda: nose_path(waves(500), 50.0, "right").gouges, 2)),
    ]
    print("\n| what | CPU ms |\n| --- | --- |")
    for name, taken in rows:
        print(f"| {name} | {taken:.1f} |")
    finder()


if __name__ == "__main__":
    main()
