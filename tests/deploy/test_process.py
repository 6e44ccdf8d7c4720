"""Other programs: their status comes back, and none is left behind."""

import subprocess
import sys
from collections.abc import Callable

import pytest

from deploy import environment, process


def test_the_exit_status_comes_back() -> None:
    assert process.run([sys.executable, "-c", "raise SystemExit(3)"]) == 3


def test_a_program_that_does_not_exist_does_not_succeed() -> None:
    assert not process.succeeds(["chuckside-no-such-program"])


@pytest.mark.parametrize("name", ["PYTHONPATH", "PYTHONHOME", "PIP_TARGET"])
def test_children_do_not_inherit_what_bends_the_private_python(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(name, "/elsewhere")
    monkeypatch.setenv("KEPT", "yes")
    environ = process.environ_for_children(ADDED="too")
    assert name not in environ
    assert (environ["KEPT"], environ["ADDED"], environ["PIP_USER"]) == ("yes", "too", "0")


@pytest.mark.parametrize("run", [process.run, process.run_helper])
@pytest.mark.parametrize("stubborn", ["", "import signal; signal.signal(signal.SIGTERM, signal.SIG_IGN);"])
def test_an_interrupt_leaves_no_child_behind(
    run: Callable[[list[str]], int], stubborn: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    children: list[subprocess.Popen[bytes]] = []

    class InterruptedPopen(subprocess.Popen[bytes]):
        """A child during whose first wait Ctrl-C is pressed, and that does not notice it."""

        def wait(self, timeout: float | None = None) -> int:
            if self not in children:
                children.append(self)
                raise KeyboardInterrupt
            return super().wait(timeout)

    monkeypatch.setattr(subprocess, "Popen", InterruptedPopen)
    monkeypatch.setattr(process, "SECONDS_TO_CLEAN_UP", 0.1)
    with pytest.raises(KeyboardInterrupt):
        run([sys.executable, "-c", stubborn + "import threading; threading.Event().wait()"])
    assert children[0].returncode is not None


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no exec; there the parent waits")
def test_becoming_a_program_keeps_the_process() -> None:
    script = (
        "import os, sys; from pathlib import Path; from deploy.process import become\n"
        "become([sys.executable, '-c', 'import os; print(os.getpid())'], environ=dict(os.environ), cwd=Path('.'))"
    )
    command = [sys.executable, "-c", script]
    with subprocess.Popen(command, stdout=subprocess.PIPE, cwd=environment.ROOT) as started:
        assert started.stdout is not None
        assert int(started.stdout.read()) == started.pid
