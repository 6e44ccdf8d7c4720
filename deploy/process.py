"""Starting other programs so that Ctrl-C ends them with us."""

import os
import subprocess
import sys
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path

INTERRUPTED = 130  # the shell's exit status for a program ended by Ctrl-C
SECONDS_TO_CLEAN_UP = 8.0


def environ_for_children(**extra: str) -> dict[str, str]:
    """Return this process's environment without what would bend the private Python, and with `extra` added."""
    bending = {"PYTHONHOME", "PYTHONPATH", "PIP_TARGET", "PIP_PREFIX"}
    kept = {name: value for name, value in os.environ.items() if name not in bending}
    return {**kept, "PIP_USER": "0", **extra}


def run(command: Sequence[str | Path], *, environ: Mapping[str, str] | None = None, cwd: Path | None = None) -> int:
    """Run a program to its end and return its exit status.

    Ctrl-C at the terminal reaches the program too; it is seen gone before the interrupt is passed on.
    """
    with subprocess.Popen([*map(str, command)], env=environ, cwd=cwd) as child:
        try:
            return child.wait()
        except BaseException:
            _see_gone(child)
            raise


@contextmanager
def beside(command: Sequence[str | Path], *, environ: Mapping[str, str], cwd: Path) -> Iterator[None]:
    """Have a program run wordlessly beside what is done meanwhile, and be at its end afterwards."""
    with subprocess.Popen(
        [*map(str, command)], env=environ, cwd=cwd, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    ) as child:
        try:
            yield
            child.wait()
        except BaseException:
            child.terminate()
            _see_gone(child)
            raise


def run_helper(command: Sequence[str | Path]) -> int:
    """Run a program that speaks to us and not to the person: only its errors are shown, and Ctrl-C ends it wordlessly.

    Returns its exit status.
    """
    environ = environ_for_children(DEBIAN_FRONTEND="noninteractive")
    with subprocess.Popen(
        [*map(str, command)], env=environ, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, start_new_session=True
    ) as child:
        try:
            return child.wait()
        except BaseException:
            child.terminate()
            _see_gone(child)
            raise


def succeeds(command: Sequence[str | Path], *, environ: Mapping[str, str] | None = None) -> bool:
    """Return whether a program exists, runs and exits with 0; what it prints is dropped."""
    try:
        done = subprocess.run(
            [*map(str, command)], env=environ, stdin=subprocess.DEVNULL, capture_output=True, check=False
        )
    except OSError:
        return False
    return done.returncode == 0


def become(command: Sequence[str | Path], *, environ: Mapping[str, str], cwd: Path) -> int:  # noqa: RET503 - exec does not return
    """Let the program take this process's place; where the system has no such thing, run it and return its status.

    On Windows `exec` starts a second process and gives the terminal back at once, so there we wait.
    """
    if sys.platform == "win32":
        try:
            return run(command, environ=environ, cwd=cwd)
        except KeyboardInterrupt:
            return INTERRUPTED
    os.chdir(cwd)
    os.execve(command[0], [*map(str, command)], environ)


def _see_gone(child: "subprocess.Popen[bytes]") -> None:
    """Wait for a child that knows that it is to end; one that stays is told so, then killed."""
    for insist in (child.terminate, child.kill):
        try:
            child.wait(SECONDS_TO_CLEAN_UP)
        except subprocess.TimeoutExpired:
            insist()
