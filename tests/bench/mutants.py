"""Mutants of some rooms, and the room's quick tests run on each: what `bench_mutations` measures.

A process that has loaded the libraries is forked for each mutant, so that one costs little more than its tests.
"""

from __future__ import annotations

import contextlib
import importlib
import os
import random
import resource
import shutil
import sys
import tempfile
import time
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
SEED = 20261129
LEAST_SHARE = 0.85
LOADED = ("numpy", "shapely", "shapely.ops", "hypothesis", "mpmath", "scipy.integrate", "scipy.optimize", "pytest")
LOADED_ALREADY = ("-W", "ignore::pytest.PytestAssertRewriteWarning")
NUMBERS = ("Add", "Sub", "Mul", "Div", "Pow")
COMPARED = ("Eq", "NotEq", "Lt", "LtE", "Gt", "GtE")
# Of the tool's operators those whose mutants run: no bits of a float, no decorator taken away, no unknown exception.
OPERATORS = (
    *(f"ReplaceBinaryOperator_{old}_{new}" for old in NUMBERS for new in NUMBERS if old != new),
    *(f"ReplaceComparisonOperator_{old}_{new}" for old in COMPARED for new in COMPARED if old != new),
    *("ReplaceComparisonOperator_Is_IsNot", "ReplaceComparisonOperator_IsNot_Is"),
    *("ReplaceUnaryOperator_USub_UAdd", "ReplaceUnaryOperator_Delete_Not", "AddNot"),
    *("ReplaceAndWithOr", "ReplaceOrWithAnd", "ReplaceTrueWithFalse", "ReplaceFalseWithTrue"),
    *("ReplaceBreakWithContinue", "ReplaceContinueWithBreak", "NumberReplacer", "ZeroIterationForLoop"),
)


@dataclass(frozen=True)
class Room:
    """Modules, and the quick tests that are theirs, the quickest first."""

    modules: tuple[str, ...]
    tests: tuple[str, ...]


ROOMS: Mapping[str, Room] = {
    "contour": Room(("calc/contour/*.py",), ("tests/contour/test_*.py", "tests/shapes/test_*.py")),
    "nose path": Room(("calc/tool/nose_path/*.py",), ("tests/tool/nose_path/test_*.py",)),
    "sweep": Room(
        ("calc/machining/removal/*.py",),
        (
            "tests/machining/removal/test_*.py",
            "tests/machining/passes/test_roughing.py",
            "tests/machining/roughing/test_*.py",
            "tests/questions/operations/test_contour_plan*.py",
        ),
    ),
    "roughing": Room(
        ("calc/machining/roughing/*.py",),
        (
            "tests/machining/roughing/test_*.py",
            "tests/machining/passes/test_roughing.py",
            "tests/machining/test_leads.py",
        ),
    ),
    "finish": Room(
        ("calc/cutting/finish*.py", "calc/cutting/scallop.py"),
        (
            "tests/cutting/test_finish.py",
            "tests/cutting/test_trailing_edge.py",
            "tests/questions/cutting/test_finish*.py",
        ),
    ),
    "time": Room(
        ("calc/cutting/time.py", "calc/machining/times.py", "calc/machining/passes.py"),
        (
            "tests/cutting/test_time.py",
            "tests/machining/passes/test_*.py",
            "tests/questions/operations/test_contour_plan*.py",
            "tests/questions/operations/test_dish_plan.py",
        ),
    ),
}


@dataclass(frozen=True)
class Mutant:
    """A module with one change."""

    module: str
    line: int
    operator: str
    was: str
    code: str

    def __str__(self) -> str:
        """Where it is, and what its line says now."""
        return f"{self.module}:{self.line} {self.operator}\n    {self.was}\n    {self.now}"

    @property
    def now(self) -> str:
        """The line as it is changed."""
        return self.code.splitlines()[self.line - 1].strip()


def mutants(modules: Sequence[str], count: int) -> list[Mutant]:
    """So many mutants of these modules, each at a place of its own, the same ones each time."""
    from cosmic_ray.ast import ast_nodes, get_ast  # noqa: PLC0415 - in the environment of this run alone
    from cosmic_ray.mutating import mutate_code  # noqa: PLC0415
    from cosmic_ray.plugins import get_operator  # noqa: PLC0415

    places: list[tuple[str, str, int, tuple[int, int]]] = []
    for module in modules:
        tree = get_ast((ROOT / module).read_text(encoding="utf-8"))
        for name in OPERATORS:
            operator = get_operator(f"core/{name}")()
            found = [start for node in ast_nodes(tree) for start, _ in operator.mutation_positions(node)]
            places += [(module, name, number, start) for number, start in enumerate(found)]
    random.Random(SEED).shuffle(places)
    chosen: dict[tuple[str, tuple[int, int]], Mutant] = {}
    for module, name, number, start in places:
        code = (ROOT / module).read_text(encoding="utf-8")
        changed = None if (module, start) in chosen else mutate_code(code, get_operator(f"core/{name}")(), number)
        if changed and changed != code and _compiles(changed):
            was = code.splitlines()[start[0] - 1].strip()
            chosen[module, start] = Mutant(module, start[0], name, was, changed)
        if len(chosen) == count:
            break
    return list(chosen.values())


def _compiles(code: str) -> bool:
    with contextlib.suppress(SyntaxError):
        compile(code, "mutant", "exec")
        return True
    return False


@contextlib.contextmanager
def copied() -> Iterator[Path]:
    """A copy of the checkout, compiled, in which modules are changed."""
    with tempfile.TemporaryDirectory(prefix="chuckside-mutants-") as folder:
        place = Path(folder) / "checkout"
        shutil.copytree(ROOT, place, ignore=shutil.ignore_patterns(".*", "__pycache__", "deploy"))
        yield place


def seconds(place: Path, tests: Sequence[str], most: float) -> tuple[bool, float]:
    """Run tests in the copy by a process of their own: whether they all passed, and their seconds of processor."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    child = os.fork()
    if child == 0:
        os._exit(_tested(place, tests, most))
    status = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return status == 0, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def _tested(place: Path, tests: Sequence[str], most: float) -> int:
    import pytest  # noqa: PLC0415 - loaded before the fork

    silent = os.open(os.devnull, os.O_WRONLY)
    os.dup2(silent, 1)
    os.dup2(silent, 2)
    limit = int(most) + 1
    resource.setrlimit(resource.RLIMIT_CPU, (limit, limit))
    resource.setrlimit(resource.RLIMIT_AS, (4 << 30, 4 << 30))
    os.chdir(place)
    sys.path[:] = [str(place), *(each for each in sys.path if each not in ("", str(ROOT)))]
    for name in [name for name in sys.modules if name.partition(".")[0] in ("calc", "tests", "server")]:
        del sys.modules[name]
    return int(pytest.main(["-x", "-q", "-p", "no:cacheprovider", "--hypothesis-seed=0", *LOADED_ALREADY, *tests]))


def survivors(room: Room, count: int, place: Path) -> tuple[list[Mutant], int]:
    """Those of a room's mutants that no test notices, and how many there were."""
    modules = sorted(str(path.relative_to(ROOT)) for each in room.modules for path in ROOT.glob(each))
    tests = [str(path.relative_to(ROOT)) for each in room.tests for path in sorted(ROOT.glob(each))]
    sys.dont_write_bytecode = False
    passed, usual = seconds(place, [*modules, *tests], 3600)
    sys.dont_write_bytecode = True  # what is compiled of a mutant would be taken for the next one's
    if not passed:
        raise RuntimeError(f"The tests fail without any change: {tests}")
    chosen, left = mutants(modules, count), []
    for mutant in chosen:
        path = place / mutant.module
        code, times = path.read_bytes(), path.stat()
        path.write_text(mutant.code, encoding="utf-8")
        survived, _ = seconds(place, [mutant.module, *tests], 5 + 4 * usual)
        if survived:
            left.append(mutant)
            print(f"  survives {mutant}", flush=True)
        path.write_bytes(code)
        os.utime(path, ns=(times.st_atime_ns, times.st_mtime_ns))
    return left, len(chosen)


def measured(count: int, names: Sequence[str]) -> int:
    """Measure rooms, print how many mutants of each were killed, and return 1 when one is below its share."""
    for name in LOADED:
        importlib.import_module(name)
    found: dict[str, tuple[int, int]] = {}
    with copied() as place:
        for name in names:
            begin = time.monotonic()
            left, total = survivors(ROOMS[name], count, place)
            found[name] = (total - len(left), total)
            print(f"{name}: {total - len(left)} of {total} killed, {time.monotonic() - begin:.0f} s", flush=True)
    print("\n| room | killed | of | share |\n| --- | --- | --- | --- |")
    for name, (killed, total) in found.items():
        print(f"| {name} | {killed} | {total} | {killed / total:.0%} |")
    return 0 if all(killed >= LEAST_SHARE * total for killed, total in found.values()) else 1
