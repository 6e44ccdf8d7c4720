"""What the contour solver costs and finds (run as a script: it prints its tables; an argument sets how many prints)."""

from __future__ import annotations

import math
import random
import sys
import time
import timeit
from collections.abc import Callable, Sequence
from dataclasses import replace

from calc.contour import Element
from calc.contour.solving import GivenElement, Start, solve, solver
from calc.language.problems import Problem
from tests.contour.solving.cases import CASES
from tests.contour.solving.made import Print, has, is_same, random_print
from tests.contour.solving.rounding import (
    ENDS_AND_CENTRES,
    ENDS_AND_SIZES,
    EVERYTHING,
    Known,
    over_given,
    rounded_print,
)
from tests.contour.solving.shop import chain_print, handle, shop_print, tangent_arcs
from tests.contour.solving.test_arcs_by_centres import arcs, solved

E = GivenElement
SHARP = 1e-3
"""Prints whose dimensions determine them less firmly than this are left out."""


def ridges(count: int) -> tuple[Start, list[GivenElement]]:
    """A long shaft: cylinder, blend, cone, shoulder again and again, with tangent points and lengths left out."""
    elements: list[GivenElement] = []
    for i in range(count // 4):
        low, high, z = 20.0 + (i % 7), 30.0 + (i % 5), -40.0 * (i + 1)
        elements += [
            E("line", r=low, angle=math.pi),
            E("arc", radius=3.0, tangent=True, turn="cw"),
            E("line", angle=math.radians(150), r=high, z=z, tangent=True),
            E("line", z=z, r=20.0 + ((i + 1) % 7)),
        ]
    return Start(0.0, 20.0), elements


def milliseconds(call: Callable[[], object]) -> float:
    """The least processor time of one call, which finds nothing solved before."""
    forget = solver._solved.cache_clear
    return min(timeit.repeat(call, setup=forget, timer=time.process_time, repeat=3, number=1)) * 1e3


def costs() -> None:
    """What typical questions cost."""
    print("| question | ms |\n| --- | --- |")
    for count in (4, 40, 200):
        start, elements = ridges(count)
        assert solve(start, elements).complete
        print(f"| {count} elements in closed form | {milliseconds(lambda s=start, e=elements: solve(s, e)):.1f} |")  # type: ignore[misc]
    for count, decimals, turns in ((100, 12, True), (100, 12, False), (10, 3, False), (100, 3, True), (100, 3, False)):
        taken = milliseconds(lambda n=count, d=decimals, t=turns: solved(arcs(n), d, turns=t))  # type: ignore[misc]
        words = f"{count} arcs by ends and centres of {decimals} decimals, {'with' if turns else 'without'} turns"
        print(f"| {words} | {taken:.0f} |")
    for name in ("S of two arcs", "arc touches two arcs", "line touches two arcs", "arc by end and radius"):
        case = CASES[name]
        print(f"| {name} | {milliseconds(lambda c=case: solve(c.start, c.elements)):.2f} |")  # type: ignore[misc]


RIBS = ((24, 1, 0), (24, 12, 0), (24, 24, 0), (24, 12, 3), (24, 24, 4), (50, 25, 0), (50, 50, 0))
"""Profiles that repeat: how many elements, where X is known, which are lines."""


def chains(prints: int) -> None:
    """How often the meant one comes first of tangent arcs with their Z and radii, and one X besides the start's."""
    print("| chain | X known at | first | most ms |\n| --- | --- | --- | --- |")
    for lines, words in ((0.0, "24 arcs"), (0.4, "24 arcs and lines")):
        made = [handle(seed, 24, lines) for seed in range(prints)]
        for known in (1, 6, 12, 23, 24):
            tried = [_chain(one, chain_print(one, {known})) for one in made]
            first, most = sum(is_first for is_first, _ in tried), max(ms for _, ms in tried)
            print(f"| {words} | {known} | {first} of {prints} | {most:.0f} |")
    for count, known, every in RIBS:
        is_first, taken = _chain(*tangent_arcs(count, {known}, every))
        words = f"{count} ribs" + (f", each {every}th a line" if every else "")
        print(f"| {words} | {known} | {int(is_first)} of 1 | {taken:.0f} |")


def _chain(made: Sequence[Element], rows: Sequence[GivenElement]) -> tuple[bool, float]:
    start = Start(*made[0].start)
    solver._solved.cache_clear()
    begin = time.process_time()
    found = solve(start, rows).solutions[0].sharp
    return is_same(found, made, 1e-5), 1e3 * (time.process_time() - begin)


def open_chains(prints: int) -> None:
    """What becomes of prints of the same kind that leave out more than one contour needs: turns, or all Z but one."""
    print("| chain | known | first | listed | not listed | refused | most ms |")
    print("| --- | --- | --- | --- | --- | --- | --- |")
    for count, lines in ((8, 0.0), (8, 0.4), (12, 0.0), (12, 0.4), (24, 0.0), (24, 0.4)):
        made = [handle(seed, count, lines) for seed in range(1000, 1000 + prints)]
        words = f"{count} arcs" + (" and lines" if lines else "")
        for known in (1, count // 2, count):
            _show(f"{words} | no turns, X at {known}", [(one, _turnless(chain_print(one, {known}))) for one in made])
        for known in (1, count // 2, count):
            _show(f"{words} | all X, Z at {known}", [(one, _by_x(one, known)) for one in made])
        _show(f"{words} | all X, Z at {count}, no turns", [(one, _turnless(_by_x(one, count))) for one in made])


def _turnless(rows: Sequence[GivenElement]) -> list[GivenElement]:
    return [replace(row, turn=None) for row in rows]


def _by_x(made: Sequence[Element], known: int) -> list[GivenElement]:
    rows = chain_print(made, range(1, len(made) + 1))
    return [row if number == known else replace(row, z=None) for number, row in enumerate(rows, 1)]


def _show(words: str, asked: Sequence[tuple[Sequence[Element], Sequence[GivenElement]]]) -> None:
    counts, most = [0, 0, 0, 0], 0.0
    for made, rows in asked:
        solver._solved.cache_clear()
        begin = time.process_time()
        counts[_place_of(made, rows)] += 1
        most = max(most, 1e3 * (time.process_time() - begin))
    print(f"| {words} | {' | '.join(map(str, counts))} | {most:.0f} |", flush=True)


def _place_of(made: Sequence[Element], rows: Sequence[GivenElement]) -> int:
    try:
        found = solve(Start(*made[0].start), rows)
    except Problem:
        return 3
    return 0 if is_same(found.solutions[0].sharp, made, 1e-5) else 1 if has(found, made, 1e-5) else 2


def recall(counts: Sequence[int], prints: int) -> None:
    """How often the contour that a random print was made from is among what is returned."""
    print("| elements | prints | closed form | found at all | among the 16 returned | median ms | 95 % | most |")
    print("| --- | --- | --- | --- | --- | --- | --- | --- |")
    for count in counts:
        made = [one for one in (random_print(seed, count) for seed in range(prints)) if one.sharpness > SHARP]
        rows = [_tried(one) for one in made]
        times = sorted(row[3] for row in rows)
        shares = [f"{100.0 * sum(row[i] for row in rows) / len(rows):.1f} %" for i in range(3)]
        spread = [times[len(times) // 2], times[int(len(times) * 0.95)], times[-1]]
        print(f"| {count} | {len(rows)} | {' | '.join(shares)} | {' | '.join(f'{1e3 * t:.0f}' for t in spread)} |")


def likeliest(prints: int) -> None:
    """How often the contour that was meant comes first, of prints of shop forms that mean several."""
    made = [one for one in (shop_print(seed, 2 + seed % 4) for seed in range(prints)) if one.sharpness > SHARP]
    found = [(solve(one.start, one.elements), one) for one in made]
    several = [(solutions, one) for solutions, one in found if len(solutions.solutions) > 1]
    first = sum(is_same(found.solutions[0].sharp, one.original, 1e-5 * one.size) for found, one in several)
    print(f"{len(made)} shop prints, {len(several)} mean several contours: the right one is first in {first}")


def rounding(prints: int) -> None:
    """How many correctly rounded prints, and prints that give more than is needed, are refused."""
    made = [shop_print(seed, 2 + seed % 4) for seed in range(prints)]
    print("| prints | refused |\n| --- | --- |")
    for names, words in (
        (ENDS_AND_SIZES, "ends and radii"),
        (ENDS_AND_CENTRES, "ends and centres"),
        (EVERYTHING, "all"),
    ):
        for decimals in (3, 2):
            asked = [rounded_print(o.original, [e.tangent for e in o.elements], names, decimals) for o in made]
            print(f"| {len(asked)} with {words}, {decimals} decimals | {sum(map(_is_refused, asked))} |")
    more = [over_given(one, random.Random(seed), 1 + seed % 3) for seed, one in enumerate(made)]
    print(f"| {len(more)} over-given | {sum(map(_is_refused, more))} |")


def _is_refused(asked: Known) -> bool:
    try:
        solve(*asked)
    except Problem:
        return True
    return False


def _tried(made: Print) -> tuple[bool, bool, bool, float]:
    near = max(1e-9, 1e-13 / made.sharpness**2) * made.size
    start = time.perf_counter()
    returned = solve(made.start, made.elements)
    taken = time.perf_counter() - start
    among_returned = has(returned, made.original, near)
    among_all = among_returned or has(solve(made.start, made.elements, most=3000), made.original, near)
    return returned.complete, among_all, among_returned, taken


if __name__ == "__main__":
    costs()
    print()
    chains((int(sys.argv[1]) if len(sys.argv) > 1 else 200) // 10)
    print()
    open_chains((int(sys.argv[1]) if len(sys.argv) > 1 else 200) // 20)
    print()
    rounding(int(sys.argv[1]) if len(sys.argv) > 1 else 200)
    print()
    likeliest(4 * (int(sys.argv[1]) if len(sys.argv) > 1 else 200))
    print()
    recall(range(2, 9), int(sys.argv[1]) if len(sys.argv) > 1 else 200)
