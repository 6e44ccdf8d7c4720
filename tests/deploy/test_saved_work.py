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
