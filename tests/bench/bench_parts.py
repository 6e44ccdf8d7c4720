"""Random whole parts, each swept and timed again independently; then how long parts of few and of many moves take.

Run from the checkout with the check environment's Python: `python -m tests.bench.bench_parts [count] [first]`.
"""

from __future__ import annotations

import itertools
import sys
import time
from collections.abc import Iterator

from calc.contour import Chain, Line, Point
from calc.machining.job import Cut
from calc.machining.removal.region import Bar
from calc.machining.removal.stock import stock_of
from calc.questions.operations.contour_plan.inputs import ToolInputs
from calc.questions.part.held import turning_tool
from calc.questions.part.job import Job, Operation, Print, Setup
from calc.questions.part.run import run
from tests.bench.random_parts import tried

ROUNDS = 5


def shaft(depth: float) -> Job:
    """Five operations on a shaft of three steps: face, rough, finish, and the same two over a stretch of it."""
    corners = [(0.0, 0.0), (0.0, 10.0), (-20.0, 10.0), (-20.0, 14.0), (-45.0, 14.0), (-45.0, 18.0), (-70.0, 18.0)]
    chain = Chain(tuple(Line(Point(*a), Point(*b)) for a, b in itertools.pairwise(corners)))
    strong = turning_tool(ToolInputs(insert="CNMG 120408", holder="PCLNR 2525M12"))
    fine = turning_tool(ToolInputs(insert="DCMT 11T304", holder="SDJCR 2020K11"))
    rough, finish = Cut(depth, 0.25, 180_000.0, 0.1, 0.3), Cut(None, 0.12, 220_000.0)
    operations = (
        Operation("face", strong, Cut(2.0, 0.2, 180_000.0)),
        Operation("rough", strong, rough, last=3),
        Operation("rough", strong, rough, 4, 6),
        Operation("finish", fine, finish, last=3),
        Operation("finish", fine, finish, 4, 6),
    )
    return Job(Print(chain), stock_of(Bar(19.0, 1.0, -90.0).area()), (Setup("first", operations),), material="C45")


def timed(depth: float) -> tuple[int, float]:
    """How many moves a shaft takes at a depth (mm), and the least processor time of several runs (ms)."""
    job, found = shaft(depth), []
    for _ in range(ROUNDS):
        begin = time.process_time()
        done = run(job)
        found.append(time.process_time() - begin)
    return sum(len(one.moves) for one in done.operations), 1000.0 * min(found)


def wrong(count: int, first: int) -> Iterator[str]:
    """What is wrong with random parts, and a line that sums up."""
    refused = operations = moves = passes = 0
    for seed in range(first, first + count):
        report = tried(seed)
        if report is None:
            refused += 1
            continue
        operations, moves, passes = operations + report.operations, moves + report.moves, passes + report.timed
        yield from (f"{seed}: {fault}" for fault in report.faults[:3])
    print(f"{count} parts, {refused} refused: {operations} operations, {moves} moves, {passes} passes timed again")


def main() -> int:
    """Try the parts, time the shaft, and print what was wrong."""
    count, first = (int(text) for text in (sys.argv[1:] + ["300", "0"][len(sys.argv) - 1 :])[:2])
    faults = 0
    for fault in wrong(count, first):
        faults += 1
        print(fault, flush=True)
    for depth in (4.0, 1.0, 0.3, 0.1):
        print("{} moves: {:.0f} ms".format(*timed(depth)))
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
