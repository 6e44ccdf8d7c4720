"""The commands for backup and restore: what they ask of whom."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

import pytest

from deploy import backup, environment, restore, saved_work


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> list[tuple[list[str], dict[str, str]]]:
    """Note what would be run, and with which environment."""
    noted: list[tuple[list[str], dict[str, str]]] = []

    def note(command: Sequence[object], *, environ: dict[str, str], cwd: Path) -> int:
        assert cwd == environment.ROOT
        noted.append(([str(word) for word in command[1:]], environ))
        return 3

    monkeypatch.setattr(saved_work, "run", note)
    monkeypatch.setattr(environment, "ensure", lambda *_: Path(sys.executable))
    return noted


def test_a_backup_is_made_of_the_folder_that_is_named(
    asked: list[tuple[list[str], dict[str, str]]], tmp_path: Path
) -> None:
    assert backup.main(["--data", str(tmp_path), str(tmp_path / "file")]) == 3
    command, environ = asked[0]
    assert command == ["-m", "server.sheets.backup", "backup", str(tmp_path / "file")]
    assert environ["CHUCKSIDE_DATA"] == str(tmp_path)


def test_a_backup_is_only_looked_at_when_that_is_asked(
    asked: list[tuple[list[str], dict[str, str]]], tmp_path: Path
) -> None:
    backup.main(["--check", str(tmp_path / "file")])
    assert asked[0][0][2] == "check"


def test_what_is_there_is_replaced_only_when_that_is_asked(
    asked: list[tuple[list[str], dict[str, str]]], tmp_path: Path
) -> None:
    restore.main([str(tmp_path / "file")])
    restore.main([str(tmp_path / "file"), "--replace"])
    assert [command[2:] for command, _ in asked] == [
        ["restore", str(tmp_path / "file")],
        ["restore", str(tmp_path / "file"), "--replace"],
    ]


def test_a_relative_file_is_where_the_person_stands(
    asked: list[tuple[list[str], dict[str, str]]], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    backup.main(["file"])
    assert asked[0][0][3] == str(tmp_path / "file")


@pytest.fixture
def nowhere_else(monkeypatch: pytest.MonkeyPatch) -> None:
    """A shell that says nothing of saved work."""
    for name in ("CHUCKSIDE_DATA", "CHUCKSIDE_DATABASE"):
        monkeypatch.delenv(name, raising=False)


@pytest.mark.usefixtures("nowhere_else")
def test_without_a_word_a_backup_is_of_what_the_installed_service_keeps(tmp_path: Path) -> None:
    """The unit of this project, as it is installed, with its folder put where a test may have one."""
    unit = tmp_path / "chuckside.service"
    written = (environment.ROOT / "deploy" / "chuckside.service").read_text(encoding="utf-8")
    unit.write_text(written.replace("--data /var/lib/chuckside", f"--data {tmp_path}"), encoding="utf-8")
    assert saved_work.told(None, unit) == {"CHUCKSIDE_DATA": str(tmp_path)}
    (tmp_path / "chuckside.service.d").mkdir()
    (tmp_path / "chuckside.service.d" / "own.conf").write_text(
        '[Service]\nEnvironment="CHUCKSIDE_DATABASE=postgresql://x"'
    )
    assert saved_work.told(None, unit)["CHUCKSIDE_DATABASE"].strip('"') == "postgresql://x"


@pytest.mark.usefixtures("nowhere_else")
def test_a_mistyped_folder_is_told_and_not_made(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert backup.main(["--data", str(tmp_path / "svaed"), str(tmp_path / "file")]) == 1
    assert "Is it mistyped?" in capsys.readouterr().out
    assert list(tmp_path.iterdir()) == []
