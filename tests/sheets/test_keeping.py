"""What whoever runs the server can do with the saved work: nothing is deleted without a word, nor by a wrong clock."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from server.settings import Settings
from server.sheets.keeping import DAY, doubt_of_the_clock, expired, kept, main
from server.sheets.store import Store


@pytest.fixture
def sheets(store: Store, settings: Settings, monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Three sheets: one ended, two in use; and a shell that names where they are."""
    monkeypatch.setenv("CHUCKSIDE_DATA", str(settings.data))
    monkeypatch.setenv("CHUCKSIDE_DATABASE", settings.database)
    made = [store.create(json.dumps({"heading": {"title": name}}), "me").sheet for name in ("Seat", "Pad", "Stem")]
    store.end(made[0])
    return made


def ran(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str]:
    status = main(list(arguments))
    said = capsys.readouterr()
    return status, said.out + said.err


def test_every_sheet_is_listed_by_its_name(sheets: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    status, said = ran(capsys, "list")
    assert status == 0
    assert all(sheet in said for sheet in sheets)
    assert all(name in said for name in ("Seat", "Pad", "Stem"))
    assert said.count("ended") == 1


def test_the_room_that_is_left_is_told(sheets: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    status, said = ran(capsys, "room")
    assert status == 0
    assert "3 of 50000 sheets" in said


def test_a_sheet_is_exported_once(sheets: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert ran(capsys, "export", sheets[1], str(tmp_path / "pad.json"))[0] == 0
    assert json.loads((tmp_path / "pad.json").read_text())["heading"]["title"] == "Pad"
    status, said = ran(capsys, "export", sheets[1], str(tmp_path / "pad.json"))
    assert (status, "overwrites nothing" in said) == (1, True)
    assert "is no sheet's id" in ran(capsys, "export", "anything", str(tmp_path / "x"))[1]


def test_a_sheet_is_deleted_only_when_that_is_sure(
    sheets: list[str], store: Store, capsys: pytest.CaptureFixture[str]
) -> None:
    assert "would be deleted" in ran(capsys, "delete", sheets[1])[1]
    assert len(kept(store.engine)) == 3
    assert "1 sheets deleted" in ran(capsys, "delete", sheets[1], "--sure")[1]
    assert {each.sheet for each in kept(store.engine)} == {sheets[0], sheets[2]}


def test_a_rule_lets_ended_sheets_go_and_unsaved_ones_if_asked(sheets: list[str], store: Store) -> None:
    later = store.now() + 40 * DAY
    assert [each.sheet for each in expired(store.engine, 30, None, later)] == sheets[:1]
    assert len(expired(store.engine, 30, 35, later)) == 3
    assert expired(store.engine, 30, 35, store.now()) == []


def test_a_clock_that_jumped_lets_nothing_go(sheets: list[str], store: Store) -> None:
    assert doubt_of_the_clock(store.engine, store.now()) == ""
    assert "clock" in doubt_of_the_clock(store.engine, store.now() + 40 * DAY)
    assert "clock" in doubt_of_the_clock(store.engine, store.now() - 40 * DAY)


def days_ahead(store: Store, days: int) -> Store:
    """The same saved work under a clock that is so far ahead."""
    return Store(store.engine, store.limits, lambda: store.now() + days * DAY)


@pytest.mark.usefixtures("sheets")
def test_saves_since_the_clock_jumped_do_not_make_it_right(store: Store) -> None:
    """Somebody saves by the wrong time; after a month of such saves the ended sheets are a month older in any case."""
    jumped = days_ahead(store, 40)
    jumped.create("{}", "me")
    assert "Nobody saved between" in doubt_of_the_clock(store.engine, jumped.now() + 3600)
    for days in range(41, 80):
        days_ahead(store, days).create("{}", "me")
    assert doubt_of_the_clock(store.engine, store.now() + 79 * DAY) == ""
