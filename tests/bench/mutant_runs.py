"""A room's quick tests run on each of its mutants: what `bench_mutations` measures.

A process that has read the room's tests and knows which of them call what is forked for each mutant, whose function is
put in the place of the one that was read; then only the tests that call it run, the quickest first. A mutant outside
every function (a constant, a default) needs the tests read again, by a process that has loaded the libraries alone.
"""

from __future__ import annotations

import ast
import functools
import gc
import importlib
import importlib.machinery
import inspect
import itertools
import os
import pickle
import resource
import signal
import sys
import tempfile
import warnings
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import CodeType, FrameType, FunctionType
from typing import NamedTuple

import pytest

from tests.bench.mutants import ROOMS, ROOT, Mutant, Room, mutants

LEAST_SHARE = 0.85
LOADED = ("numpy", "shapely", "shapely.ops", "hypothesis", "mpmath", "scipy.integrate", "scipy.optimize", "fastapi")
LOADED_ALREADY = ("-W", "ignore::pytest.PytestAssertRewriteWarning")
OPTIONS = ("-x", "-q", "-s", "--no-header", "-p", "no:cacheprovider", "--hypothesis-seed=0", *LOADED_ALREADY)
PLAIN = "--assert=plain"
"""With asserts that say more, the test runner would read the modules that it is given from the disk by itself."""
MOST_MEMORY = 4 << 30
SLOWER = 4.0
"""A mutant is killed when one of its tests takes so many times as long as without it..."""
SECONDS = 2.0
"""...and so many seconds of processor more, """
READING = 20.0
"""or when all of them do and these seconds more, where they are read again."""
LONGEST = 600.0
"""Seconds that a test may take without any change."""


def forked(work: Callable[[], int], *, silent: bool = False) -> int:
    """What a process of its own ends with that does this work."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", DeprecationWarning)  # idle threads of the libraries stay behind
        child = os.fork()
    if child:
        return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    status = 1
    try:
        if silent:
            _be_silent()
        status = work()
    finally:
        sys.stdout.flush()
        os._exit(status)


def _be_silent() -> None:
    """Print nothing, and take no more memory than a machine has."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    os.dup2(nowhere, 2)
    resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY))


def _end_after(seconds: float) -> None:
    """End this process after so many seconds of processor, counted from now."""
    signal.setitimer(signal.ITIMER_PROF, seconds)


@dataclass(frozen=True)
class Known:
    """What a test calls of a room (file and first line of each function), and its seconds."""

    called: frozenset[tuple[str, int]]
    seconds: float


@dataclass(frozen=True)
class Program:
    """The functions of the program that runs, by file and first line, and what remembers their results."""

    functions: Mapping[tuple[str, int], Sequence[FunctionType]]
    caches: Sequence[functools._lru_cache_wrapper[object]]

    @classmethod
    def read(cls, paths: Iterable[str]) -> Program:
        """What has been read of these files; it stays where it is in the memory of all that are forked from now on."""
        files = set(paths)
        functions: dict[tuple[str, int], list[FunctionType]] = defaultdict(list)
        gc.unfreeze()  # what the tests have put out of sight when they were read
        every = gc.get_objects()
        for each in every:
            if type(each) is FunctionType and each.__code__.co_filename in files:
                functions[each.__code__.co_filename, each.__code__.co_firstlineno].append(each)
        caches = [each for each in every if isinstance(each, functools._lru_cache_wrapper)]
        gc.freeze()
        return cls(functions, caches)

    def changed(self, mutant: Mutant) -> Change | None:
        """What a mutant changes; None outside the body of every function."""
        place = _outermost(ast.parse(Path(mutant.path).read_text(encoding="utf-8")), mutant.line)
        new = next((each for each in _codes(mutant.compiled()) if each.co_firstlineno == place), None)
        old = self.functions.get((mutant.path, place or 0), ())
        if new is None or not old or any(each.__code__.co_freevars != new.co_freevars for each in old):
            return None
        return Change(mutant, old, new, self.caches)


class Change(NamedTuple):
    """The functions that a mutant changes, as they were read, and what they are to run."""

    mutant: Mutant
    functions: Sequence[FunctionType]
    code: CodeType
    caches: Sequence[functools._lru_cache_wrapper[object]]

    def make(self) -> None:
        """Change the program that runs; what has been remembered is forgotten."""
        self.mutant.show()
        for function in self.functions:
            function.__code__ = self.code
        for each in self.caches:
            each.cache_clear()

    def is_called(self, known: Known) -> bool:
        """Whether a test calls what is changed, or a function in it."""
        lines = range(self.code.co_firstlineno, self.mutant.line + 1)
        return any(path == self.mutant.path and line in lines for path, line in known.called)


@dataclass
class Survivors:
    """A plugin of the test runner that, instead of running the tests it has read, runs them on each of the mutants."""

    chosen: Sequence[Mutant]
    found: Path

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Try all mutants; put down which survive, which are outside every function, and how long all tests take."""
        if forked(lambda: self._learn(session)) != 0:
            raise pytest.UsageError("the tests fail without any change")
        known: dict[str, Known] = pickle.loads(self.found.read_bytes())
        program = Program.read(mutant.path for mutant in self.chosen)
        left, others = [], []
        for number, mutant in enumerate(self.chosen, 1):
            print(f"{number} of {len(self.chosen)}", end="\r", flush=True)
            change = program.changed(mutant)
            if change is None:
                others.append(mutant)
            elif _survives(session, known, change):
                left.append(mutant)
                _tell(mutant)
        self.found.write_bytes(pickle.dumps((left, others, sum(each.seconds for each in known.values()))))
        return True

    def _learn(self, session: pytest.Session) -> int:
        files = {mutant.path for mutant in self.chosen}
        called: set[tuple[str, int]] = set()

        def note(frame: FrameType, _event: str, _argument: object) -> None:
            if frame.f_code.co_filename in files:
                called.add((frame.f_code.co_filename, frame.f_code.co_firstlineno))

        known = {}
        for item in session.items:
            called.clear()
            begin = processor()
            sys.settrace(note)
            failed = _failed(session, {item: LONGEST})
            sys.settrace(None)
            if failed:
                print(f"fails without any change: {item.nodeid}", flush=True)
                return 1
            known[item.nodeid] = Known(frozenset(called), processor() - begin)
        self.found.write_bytes(pickle.dumps(known))
        return 0


def _tell(mutant: Mutant) -> None:
    print(f"  {'unnoticeable' if mutant.is_unnoticeable else 'survives'} {mutant}", flush=True)


def _survives(session: pytest.Session, known: Mapping[str, Known], change: Change) -> bool:
    """Whether all tests that call what is changed pass, the quickest first."""
    called = {item: known[item.nodeid].seconds for item in session.items if change.is_called(known[item.nodeid])}
    seconds = dict(sorted(called.items(), key=lambda each: each[1]))

    def tested() -> int:
        change.make()
        return _failed(session, seconds)

    return forked(tested, silent=True) == 0


def _failed(session: pytest.Session, seconds: Mapping[pytest.Item, float]) -> int:
    """Run tests that usually take so many seconds up to the first that fails: how many failed."""
    items = list(seconds)
    for item, following in itertools.zip_longest(items, items[1:]):
        _end_after(SECONDS + SLOWER * seconds[item])
        item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)
        if session.testsfailed:
            break
    return session.testsfailed


def _outermost(tree: ast.Module | ast.ClassDef, line: int) -> int | None:
    """Where the function of a module or class begins in whose body a line is."""
    for node in tree.body:
        if isinstance(node, ast.ClassDef) and node.lineno <= line <= (node.end_lineno or 0):
            return _outermost(node, line)
        if isinstance(node, ast.FunctionDef) and node.body[0].lineno <= line <= (node.end_lineno or 0):
            return min([node.lineno, *(each.lineno for each in node.decorator_list)])
    return None


def _codes(code: CodeType) -> Iterator[CodeType]:
    """The code of the functions of a module, of its classes too."""
    for each in code.co_consts:
        if isinstance(each, CodeType):
            yield each
            if not each.co_flags & inspect.CO_NEWLOCALS:  # the body of a class
                yield from _codes(each)


def read_anew(mutant: Mutant, tests: Sequence[str], seconds: float) -> bool:
    """Whether a mutant survives tests that a process reads which has loaded the libraries alone."""

    def tested() -> int:
        mutant.show()
        as_found = importlib.machinery.SourceFileLoader.get_code

        def get_code(loader: importlib.machinery.SourceFileLoader, name: str) -> CodeType | None:
            return mutant.compiled() if loader.path == mutant.path else as_found(loader, name)

        importlib.machinery.SourceFileLoader.get_code = get_code  # type: ignore[method-assign, assignment]
        _end_after(READING + SLOWER * seconds)
        return int(pytest.main([*OPTIONS, PLAIN, *tests]))

    return forked(tested, silent=True) == 0


def survivors(room: Room, count: int, seed: int) -> tuple[list[Mutant], int]:
    """Those of a room's mutants that no test notices, and how many there were."""
    modules = sorted(str(path.relative_to(ROOT)) for each in room.modules for path in ROOT.glob(each))
    tests = [*modules, *(str(path.relative_to(ROOT)) for each in room.tests for path in sorted(ROOT.glob(each)))]
    chosen = mutants(modules, count, seed)
    with tempfile.TemporaryDirectory(prefix="chuckside-mutants-") as folder:
        found = Path(folder) / "found"
        if forked(lambda: int(pytest.main([*OPTIONS, *tests], plugins=[Survivors(chosen, found)]))) != 0:
            raise RuntimeError(f"The tests fail without any change: {tests}")
        left, others, seconds = pickle.loads(found.read_bytes())
    for mutant in others:
        if read_anew(mutant, tests, seconds):
            left.append(mutant)
            _tell(mutant)
    return left, len(chosen)


def processor() -> float:
    """Seconds of processor that this process and those it has waited for have taken."""
    taken = [resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)]
    return sum(each.ru_utime + each.ru_stime for each in taken)


class Noticed(NamedTuple):
    """How many of a room's mutants its tests have killed, of how many, and how many of the others change no answer."""

    killed: int
    of: int
    unnoticeable: int

    @property
    def share(self) -> float:
        """The share of those that change an answer."""
        return self.killed / max(self.of - self.unnoticeable, 1)


def measured(count: int, names: Sequence[str], seed: int) -> int:
    """Measure rooms, print how many mutants of each were killed, and return 1 when one is below its share."""
    for name in LOADED:
        importlib.import_module(name)
    found: dict[str, Noticed] = {}
    for name in names:
        begin = processor()
        left, total = survivors(ROOMS[name], count, seed)
        found[name] = Noticed(total - len(left), total, sum(mutant.is_unnoticeable for mutant in left))
        print(f"{name}: {total - len(left)} of {total} killed, {processor() - begin:.0f} s of processor", flush=True)
    print("\n| room | killed | of | unnoticeable | share of the others |\n| --- | --- | --- | --- | --- |")
    for name, row in found.items():
        print(f"| {name} | {row.killed} | {row.of} | {row.unnoticeable} | {row.share:.0%} |")
    return 0 if all(row.share >= LEAST_SHARE for row in found.values()) else 1
