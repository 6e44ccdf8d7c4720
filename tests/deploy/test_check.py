"""The checking command: runs everything, hides nothing."""

import os
import shutil
import subprocess
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, nullcontext
from pathlib import Path

import pytest

from deploy import browser, check, debian, environment, postgresql
from deploy.messages import SetupError


@pytest.fixture
def runs(monkeypatch: pytest.MonkeyPatch) -> list[tuple[str, dict[str, str]]]:
    """Note each check's tool and environment instead of running it; the type checker finds something."""
    noted: list[tuple[str, dict[str, str]]] = []

    def note(command: Sequence[object], *, environ: dict[str, str], cwd: Path) -> int:
        assert cwd == environment.ROOT
        noted.append((str(command[2]), environ))
        return 1 if command[2] == "mypy" else 0

    @contextmanager
    def note_beside(command: Sequence[object], *, environ: dict[str, str], cwd: Path) -> Iterator[None]:
        noted.append((f"{command[2]} {command[3]}", environ))
        yield
        noted.append(("read", environ))

    monkeypatch.setattr(check, "run", note)
    monkeypatch.setattr(check, "beside", note_beside)
    monkeypatch.setattr(browser, "ensure", lambda: Path("/a/browser"))
    monkeypatch.setattr(postgresql, "ensure", lambda: Path("/a/database"))
    return noted


def test_every_check_runs_though_one_before_it_failed(runs: list[tuple[str, dict[str, str]]]) -> None:
    outcomes = check.run_checks(Path("python"), [])
    assert [tool for tool, _ in runs] == ["pytest --collect-only", "ruff", "ruff", "mypy", "read", "pytest"]
    assert [outcome.name for outcome in outcomes if not outcome.passed] == ["mypy"]


def test_the_browser_is_named_to_the_tests(runs: list[tuple[str, dict[str, str]]]) -> None:
    check.run_checks(Path("python"), [])
    assert runs[-1][1][browser.VARIABLE] == str(Path("/a/browser"))


def test_the_database_programs_are_named_to_the_tests(runs: list[tuple[str, dict[str, str]]]) -> None:
    check.run_checks(Path("python"), [])
    assert runs[-1][1][postgresql.VARIABLE] == str(Path("/a/database"))


def test_without_a_database_the_tests_still_run_and_find_none(
    runs: list[tuple[str, dict[str, str]]], monkeypatch: pytest.MonkeyPatch
) -> None:
    def none() -> Path:
        raise SetupError("no database")

    monkeypatch.setattr(postgresql, "ensure", none)
    monkeypatch.setenv(postgresql.VARIABLE, "/gone")
    outcomes = check.run_checks(Path("python"), [])
    assert [outcome.name for outcome in outcomes if not outcome.passed] == ["postgresql", "mypy"]
    assert postgresql.VARIABLE not in runs[-1][1]


def test_a_folder_without_database_programs_is_told(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv(postgresql.VARIABLE, str(tmp_path))
    with pytest.raises(SetupError, match=r"CHUCKSIDE_POSTGRESQL names .* no initdb"):
        postgresql.ensure()


def test_a_machine_without_database_or_rights_is_told_the_package(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(postgresql.VARIABLE, raising=False)
    monkeypatch.setattr(postgresql, "find", lambda: None)
    monkeypatch.setattr(debian, "is_root", lambda: False)
    monkeypatch.setattr(shutil, "which", lambda name: f"/usr/bin/{name}")
    with pytest.raises(SetupError, match="sudo apt install postgresql"):
        postgresql.ensure()


def test_without_a_browser_the_tests_still_run_and_find_none(
    runs: list[tuple[str, dict[str, str]]], monkeypatch: pytest.MonkeyPatch
) -> None:
    def none() -> Path:
        raise SetupError("no browser")

    monkeypatch.setattr(browser, "ensure", none)
    monkeypatch.setenv(browser.VARIABLE, "/gone")
    outcomes = check.run_checks(Path("python"), [])
    assert [outcome.name for outcome in outcomes if not outcome.passed] == ["browser", "mypy"]
    assert browser.VARIABLE not in runs[-1][1]


@pytest.mark.parametrize(("failing", "status"), [(False, 0), (True, 1)])
def test_one_failure_fails_the_whole(failing: bool, status: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(environment, "ensure", lambda *_, **__: Path("python"))
    monkeypatch.setattr(check, "run_checks", lambda *_: [check.Outcome("ruff check", not failing, 0.1)])
    assert check.main([]) == status


def test_what_follows_the_dashes_goes_to_pytest(monkeypatch: pytest.MonkeyPatch) -> None:
    ran: list[list[object]] = []

    def note(command: list[object], **_: object) -> int:
        ran.append(command)
        return 0

    monkeypatch.setattr(check, "run", note)
    monkeypatch.setattr(check, "beside", lambda *_, **__: nullcontext())
    monkeypatch.setattr(check, "PROVIDERS", {})
    options = check.parser().parse_args(["--", "-k", "dish", "--lf"])
    check.run_checks(Path("python"), options.pytest_arguments)
    assert ran[-1][2:4] == ["pytest", "-n"]
    assert ran[-1][-3:] == ["-k", "dish", "--lf"]


def test_an_option_without_the_dashes_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit, match="2"):
        check.parser().parse_args(["-k", "dish"])
    assert "unrecognized arguments: -k" in capsys.readouterr().err


def test_a_named_browser_is_taken(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(browser.VARIABLE, sys.executable)
    assert browser.ensure() == Path(sys.executable)


def test_a_named_browser_that_is_not_there_is_told(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv(browser.VARIABLE, str(tmp_path / "nothing"))
    with pytest.raises(SetupError, match=r"CHUCKSIDE_BROWSER names .*nothing"):
        browser.ensure()


@pytest.mark.parametrize(
    ("platform", "environ", "expected"),
    [
        ("win32", {"PROGRAMFILES(X86)": "C:/P"}, Path("C:/P/Microsoft/Edge/Application/msedge.exe")),
        ("darwin", {}, Path("/Applications/Google Chrome.app/Contents/MacOS/Google Chrome")),
    ],
)
def test_browsers_are_sought_where_each_system_keeps_programs(
    platform: str, environ: dict[str, str], expected: Path
) -> None:
    assert expected in browser.candidates(environ, platform)


def test_a_machine_without_browser_or_rights_is_told_the_package(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(browser.VARIABLE, raising=False)
    monkeypatch.setattr(browser, "find", lambda: None)
    monkeypatch.setattr(debian, "is_root", lambda: False)
    monkeypatch.setattr(shutil, "which", lambda name: f"/usr/bin/{name}")
    with pytest.raises(SetupError, match="sudo apt install chromium"):
        browser.ensure()


def test_the_continuous_check_is_the_same_command(tmp_path: Path) -> None:
    bash = shutil.which("bash")
    assert bash is not None
    python = tmp_path / "python3"
    python.write_text('#!/bin/sh\necho "$PWD: $*"\n')
    python.chmod(0o755)
    path = f"{tmp_path}{os.pathsep}{os.environ['PATH']}"
    command = [bash, str(environment.ROOT / ".ci" / "run")]
    done = subprocess.run(command, env={"PATH": path}, cwd=tmp_path, capture_output=True, text=True, check=True)
    assert done.stdout == f"{environment.ROOT}: deploy/check.py\n"
