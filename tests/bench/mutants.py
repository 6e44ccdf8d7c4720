"""Mutants of some rooms: the changes of their code that `bench_mutations` tries, and the quick tests of each room."""

from __future__ import annotations

import contextlib
import linecache
import random
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import CodeType

from tests.bench.unnoticeable import is_unnoticeable

ROOT = Path(__file__).resolve().parents[2]
SEED = 20261129
NUMBERS = ("Add", "Sub", "Mul", "Div", "Pow")
COMPARED = ("Eq", "NotEq", "Lt", "LtE", "Gt", "GtE")
# Of the tool's operators those whose mutants run: no bits of a float, no decorator taken away, no unknown exception.
# What a decorator is given stays too: no answer depends on whether a class is frozen or has slots.
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
    "part": Room(
        ("calc/questions/part/*.py",),
        ("tests/questions/part/test_*.py", "tests/server/test_part_obstacles.py"),
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

    @property
    def is_unnoticeable(self) -> bool:
        """Whether no answer can differ by it."""
        return is_unnoticeable(self.was, self.now)

    @property
    def path(self) -> str:
        """The module's file, as Python names it."""
        return str(ROOT / self.module)

    def show(self) -> None:
        """Let whoever reads the source of a function, as a formula's working does, read the changed one."""
        linecache.cache[self.path] = (len(self.code), None, self.code.splitlines(keepends=True), self.path)

    def compiled(self) -> CodeType:
        """What Python runs of it."""
        return compile(self.code, self.path, "exec", dont_inherit=True)


def mutants(modules: Sequence[str], count: int, seed: int = SEED) -> list[Mutant]:
    """So many mutants of these modules, each at a place of its own, of one seed the same ones each time."""
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
    random.Random(seed).shuffle(places)
    chosen: dict[tuple[str, tuple[int, int]], Mutant] = {}
    for module, name, number, start in places:
        code = (ROOT / module).read_text(encoding="utf-8")
        changed = None if (module, start) in chosen else mutate_code(code, get_operator(f"core/{name}")(), number)
        was = code.splitlines()[start[0] - 1].strip()
        if changed and changed != code and not was.startswith("@") and _compiles(changed):
            chosen[module, start] = Mutant(module, start[0], name, was, changed)
        if len(chosen) == count:
            break
    return list(chosen.values())


def _compiles(code: str) -> bool:
    with contextlib.suppress(SyntaxError):
        compile(code, "mutant", "exec")
        return True
    return False
