"""Random whole parts, each swept and timed again independently; then how long parts of few and of many moves take.

Run from the checkout with the check environment's Python: `python -m tests.bench.bench_parts [count] [first]`.
"""

from __future__ import annotations

import itertools
import sys
import time
from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple

from calc.contour import Chain, Line, Point
from calc.machining.job import Cut
from calc.machining.removal.region import Bar
from calc.machining.removal.stock import stock_of
from calc.questions.operations.contour_plan.inputs import ToolInputs
from calc.questions.part.held import turning_tool
from calc.questions.part.job import Job, Operation, Print, Setup
from calc.questions.part.run import run
from tests.bench.random_parts import tried

ROUNDS = 9


class Depths(NamedTuple):
    """Of a shaft's five operations: the depth of facing, of roughing its stretches (mm), spring passes of finishing."""

    face: float
    rough: float
    behind: float
    springs: int = 0
    springs_behind: int = 0


AT_MOST_20 = Depths(0.17, 2.0, 1.0, 3, 3)
"""No operation has more than 20 moves."""

EXACTLY = {100: Depths(0.16, 2.0, 1.0, 3, 4), 1000: Depths(0.125, 0.044, 0.044, 5, 6)}


def shaft(depths: Depths) -> Job:
    """Five operations on a shaft of three steps: face, rough a stretch and the rest of it, finish the same two."""
    corners = [(0.0, 0.0), (0.0, 10.0), (-20.0, 10.0), (-20.0, 14.0), (-45.0, 14.0), (-45.0, 18.0), (-70.0, 18.0)]
    chain = Chain(tuple(Line(Point(*a), Point(*b)) for a, b in itertools.pairwise(corners)))
    strong = turning_tool(ToolInputs(insert="CNMG 120408", holder="PCLNR 2525M12"))
    fine = turning_tool(ToolInputs(insert="DCMT 11T304", holder="SDJCR 2020K11"))
    rough, finish = Cut(depths.rough, 0.25, 180_000.0, 0.1, 0.3), Cut(None, 0.12, 220_000.0, spring=depths.springs)
    operations = (
        Operation("face", strong, Cut(depths.face, 0.2, 180_000.0)),
        Operation("rough", strong, rough, last=3),
        Operation("rough", strong, replace(rough, depth=depths.behind), 4, 6),
        Operation("finish", fine, finish, last=3),
        Operation("finish", fine, replace(finish, spring=depths.springs_behind), 4, 6),
    )
    return Job(Print(chain), stock_of(Bar(19.0, 1.0, -90.0).area()), (Setup("first", operations),), material="C45")


def faced(job: Job) -> Job:
    """The first operation alone: a face in three passes takes ten moves."""
    return replace(job, setups=tuple(replace(setup, operations=setup.operations[:1]) for setup in job.setups))


def timed(job: Job) -> tuple[list[int], float]:
    """How many moves each operation of a job takes, and the least processor time of several warm runs (ms)."""
    found, done = [], run(job)
    for _ in range(ROUNDS):
        begin = time.process_time()
        done = run(job)
        found.append(time.process_time() - begin)
    return [len(one.moves) for one in done.operations], 1000.0 * min(found)


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
    few = faced(shaft(AT_MOST_20._replace(face=0.4)))
    for job in (few, *map(shaft, (AT_MOST_20, *EXACTLY.values()))):
        moves, least = timed(job)
        print(f"{sum(moves)} moves, {moves}: {least:.0f} ms")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
