#!/usr/bin/env python3
"""Sets up what the checks need, on first use only, and runs them all: `python3 deploy/check.py --help`."""

import sys

if sys.version_info < (3, 11):  # noqa: UP036 - whoever has an older one is to be told so
    sys.exit(
        f"Chuckside needs Python 3.11 or newer; this is Python {sys.version.split()[0]} ({sys.executable}). "
        "Start it with a newer one, such as: python3.12 deploy/check.py"
    )

import argparse
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from types import ModuleType

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from deploy import browser, environment, postgresql
from deploy.messages import SetupError, say
from deploy.process import INTERRUPTED, beside, environ_for_children, run

LOCK = environment.ROOT / "deploy" / "requirements-check.lock"
TEST_PROCESSES = "3"  # on two cores: a process that waits for a browser or a server leaves its core to another
LINTERS = {
    "ruff check": ("ruff", "check"),
    "ruff format --check": ("ruff", "format", "--check"),
    "mypy": ("mypy",),
}
# Each process begins with its share of the tests as they stand, so that what a module sets up is set up once.
TESTS = ("pytest", "-n", TEST_PROCESSES, "--dist", "worksteal")
# The processes of the tests would each compile all of them; what is wrong in one is told when they run.
READING = ("pytest", "--collect-only", "-qq")
# What the tests need beside Python packages: modules that find it, and name it to them in an environment variable.
PROVIDERS = {"browser": browser, "postgresql": postgresql}


@dataclass(frozen=True)
class Outcome:
    """How one check ended."""

    name: str
    passed: bool
    seconds: float


def main(arguments: list[str] | None = None) -> int:
    """Run all checks and return 0 when every one passed."""
    options = parser().parse_args(arguments)
    try:
        python = environment.ensure("check", LOCK, environment.default_homes(), compiled=False)
        outcomes = run_checks(python, options.pytest_arguments)
    except SetupError as error:
        say(str(error))
        return 1
    except KeyboardInterrupt:
        say("\nStopped.")
        return INTERRUPTED
    say(summary(outcomes))
    return 0 if all(outcome.passed for outcome in outcomes) else 1


def parser() -> argparse.ArgumentParser:
    """Return the reader of the command line."""
    reader = argparse.ArgumentParser(
        prog="deploy/check.py",
        description="Set up and run the linter, the formatter's check, the type checker and all tests.",
    )
    reader.add_argument(
        "pytest_arguments", nargs="*", metavar="-- ARGUMENT", help="given to pytest, such as: -- tests/calc -k dish"
    )
    return reader


def run_checks(python: Path, pytest_arguments: Sequence[str]) -> list[Outcome]:
    """Run every check, whether or not one before it failed."""
    environ = environ_for_children()
    environ.pop("PYTHONDONTWRITEBYTECODE", None)  # the tests start many processes, which would compile everything anew
    check = partial(checked, python, environ)
    with beside([python, "-m", *READING], environ=environ, cwd=environment.ROOT):
        outcomes = [timed(name, partial(provide, provider, environ)) for name, provider in PROVIDERS.items()]
        outcomes += [check(name, command) for name, command in LINTERS.items()]
    return [*outcomes, check("pytest", [*TESTS, *pytest_arguments])]


def checked(python: Path, environ: Mapping[str, str], name: str, command: Sequence[str]) -> Outcome:
    """Run one check in the checkout and note how it ended."""
    return timed(name, partial(passes, [python, "-m", *command], environ))


def provide(provider: ModuleType, environ: dict[str, str]) -> bool:
    """Put a program's path into `environ`; without one say why and leave it out, so that its tests fail."""
    environ.pop(provider.VARIABLE, None)
    try:
        path = provider.ensure()
    except SetupError as error:
        say(str(error))
        return False
    say(str(path))
    environ[provider.VARIABLE] = str(path)
    return True


def passes(command: Sequence[str | Path], environ: Mapping[str, str]) -> bool:
    """Run one check in the checkout and return whether it found nothing wrong."""
    return run(command, environ=environ, cwd=environment.ROOT) == 0


def timed(name: str, check: Callable[[], bool]) -> Outcome:
    """Announce a check, run it and note how it ended."""
    say(f"\n== {name}")
    start = time.monotonic()
    passed = check()
    return Outcome(name, passed, time.monotonic() - start)


def summary(outcomes: Sequence[Outcome]) -> str:
    """Return the outcomes as a table with a closing verdict.

    >>> print(summary([Outcome("mypy", True, 4.21), Outcome("pytest", False, 61.0)]))
    <BLANKLINE>
    == summary
    mypy                  ok         4.2 s
    pytest                FAILED    61.0 s
    Failed: pytest
    """
    rows = [f"{each.name:<22}{'ok' if each.passed else 'FAILED':<8}{each.seconds:>6.1f} s" for each in outcomes]
    failed = ", ".join(each.name for each in outcomes if not each.passed)
    return "\n".join(["", "== summary", *rows, f"Failed: {failed}" if failed else "All checks passed."])


if __name__ == "__main__":
    sys.exit(main())
