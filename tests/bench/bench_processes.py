"""What heavy questions cost others, in threads and in processes: `python -m tests.bench.bench_processes [seconds]`.

Two plans of a contour are always being computed while a light question is answered twenty times a second, in the
process that serves: how late its answers are, how many plans get done, and what the serving process holds afterwards.
"""

from __future__ import annotations

import math
import os
import sys
import threading
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from server.answering import Answering, PageAsked
from server.catalogue import PAGES
from server.computing.workers import Job, Workers
from server.settings import STATIC, TEMPLATES
from tests.bench.bench_server import memory

AT_ONCE, EACH_SECOND = 2, 20
PLAN = "/plan"
LIGHT = PageAsked((("surface_speed", "220"), ("diameter", "56")), "")
Compute = Callable[[], Any]


def beside(answering: Answering, compute: Compute, seconds: float) -> tuple[list[float], int]:
    """How late (s) each light answer was while plans were computed, and how many of these were done."""
    over, done = threading.Event(), [0] * AT_ONCE

    def keep_on(number: int) -> None:
        while not over.is_set():
            compute()
            done[number] += 1

    threads = [threading.Thread(target=keep_on, args=(number,)) for number in range(AT_ONCE)]
    for thread in threads:
        thread.start()
    late, begin = [], time.perf_counter()
    for number in range(int(seconds * EACH_SECOND)):
        due = begin + number / EACH_SECOND
        time.sleep(max(0.0, due - time.perf_counter()))
        answering.page(PAGES["/spindle"], LIGHT)
        late.append(time.perf_counter() - due)
    over.set()
    for thread in threads:
        thread.join()
    return sorted(late), sum(done)


def main(arguments: list[str]) -> int:
    """Print a row for each way."""
    seconds = float(arguments[0]) if arguments else 10.0
    answering, workers = Answering(TEMPLATES, STATIC), Workers(Path(TEMPLATES), Path(STATIC))
    plan = PageAsked(tuple(PAGES[PLAN].example.items()), "")

    def in_process() -> Any:
        job = Job("named", ("page", PLAN, plan), time.monotonic() + 60.0)
        workers.submit(job)
        return job.future.result()

    def in_thread() -> Any:
        return answering.page(PAGES[PLAN], plan)

    answering.page(PAGES["/spindle"], LIGHT)
    in_process()
    print(f"load of the machine before: {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores\n")
    print("| plans computed in | light, median ms | p99 ms | most ms | plans done | serving process, MB |")
    print("| --- | --- | --- | --- | --- | --- |")
    for name, compute in (("processes", in_process), ("threads", in_thread)):
        late, done = beside(answering, compute, seconds)
        p99 = late[math.ceil(0.99 * len(late)) - 1]
        times = f"{late[len(late) // 2] * 1000:.0f} | {p99 * 1000:.0f} | {late[-1] * 1000:.0f}"
        print(f"| {name} | {times} | {done} | {memory(os.getpid()):.0f} |")
    workers.close()
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
