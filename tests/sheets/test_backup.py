"""A backup is whole, taken while others write, and what is put back is what was there; of anything less, nothing is."""

from __future__ import annotations

import gzip
import itertools
import json
import threading
from pathlib import Path

import pytest

from server.settings import Settings
from server.sheets.backup import Summary, Unusable, check_backup, dump, main, restore_backup, write_backup
from server.sheets.database import reading
from server.sheets.limits import Limits, Rate
from server.sheets.opening import open_store
from server.sheets.store import Store


def everything(store: Store) -> list[dict[str, object]]:
    with reading(store.engine) as connection:
        return list(dump(connection))


@pytest.fixture
def filled(store: Store) -> Store:
    for name in ("Seat ⌀60", "Pad", "Stem"):
        sheet = store.create(name, "me").sheet
        store.save(sheet, 1, f"{name} again", "me")
    store.end(sheet)
    return store


def test_what_is_restored_is_what_was_backed_up(filled: Store, tmp_path: Path, settings: Settings) -> None:
    before = everything(filled)
    summary = write_backup(filled.engine, tmp_path / "backup")
    assert (summary.sheets, summary.revisions) == (3, 6)
    filled.create("made since", "me")
    assert restore_backup(filled.engine, tmp_path / "backup", replace=True) == summary
    assert everything(filled) == before


@pytest.mark.parametrize("settings", ["sqlite"], indirect=True)
def test_a_backup_leads_from_one_database_to_the_other(filled: Store, tmp_path: Path, postgres: object) -> None:
    write_backup(filled.engine, tmp_path / "there")
    other = open_store(Settings(data=tmp_path, database=postgres.emptied()))  # type: ignore[attr-defined]  # the cluster
    restore_backup(other.engine, tmp_path / "there")
    write_backup(other.engine, tmp_path / "back")
    assert everything(other) == everything(filled)
    assert check_backup(tmp_path / "back") == check_backup(tmp_path / "there")
    other.engine.dispose()


def test_an_owner_still_owns_after_a_restore(store: Store, tmp_path: Path) -> None:
    created = store.create("one", "me")
    write_backup(store.engine, tmp_path / "backup")
    restore_backup(store.engine, tmp_path / "backup", replace=True)
    assert store.owns(created.sheet, created.secret)
    assert created.secret.encode() not in gzip.decompress((tmp_path / "backup").read_bytes())


def test_a_backup_taken_while_others_save_is_one_moment(store: Store, tmp_path: Path) -> None:
    store.limits = Limits(saving=Rate(10**6, 10**6, 60))
    sheets = [store.create("0", "me").sheet for _ in range(2)]
    enough, stop = threading.Event(), threading.Event()

    def save() -> None:
        for number in itertools.count(1):
            for sheet in sheets:  # the first is always as far as the second, or one further
                store.save(sheet, number, str(number), "me")
            if number == 5:
                enough.set()
            if stop.is_set():
                return

    saving = threading.Thread(target=save)
    saving.start()
    assert enough.wait(30)
    paths = [tmp_path / f"backup{number}" for number in range(3)]
    for path in paths:
        write_backup(store.engine, path)
    stop.set()
    saving.join()
    for path in paths:
        rows = [json.loads(line) for line in gzip.decompress(path.read_bytes()).splitlines()]
        newest = {row["sheet"]["id"]: row["sheet"]["revision"] for row in rows if "sheet" in row}
        ends = {row["revision"]["sheet_id"]: row["revision"]["number"] for row in rows if "revision" in row}
        assert newest == ends
        assert newest[sheets[0]] - newest[sheets[1]] in (0, 1)


def test_a_backup_overwrites_nothing(filled: Store, tmp_path: Path) -> None:
    write_backup(filled.engine, tmp_path / "backup")
    kept = (tmp_path / "backup").read_bytes()
    with pytest.raises(Unusable, match="already"):
        write_backup(filled.engine, tmp_path / "backup")
    assert (tmp_path / "backup").read_bytes() == kept
    assert [path.name for path in tmp_path.glob("backup*")] == ["backup"]


def test_a_database_that_holds_something_is_not_replaced_unasked(filled: Store, tmp_path: Path) -> None:
    write_backup(filled.engine, tmp_path / "backup")
    before = everything(filled)
    with pytest.raises(Unusable, match="--replace"):
        restore_backup(filled.engine, tmp_path / "backup")
    assert everything(filled) == before


def altered(content: bytes) -> dict[str, bytes]:
    text = gzip.decompress(content)
    lines = text.splitlines(keepends=True)
    return {
        "cut short": content[:-40],
        "without its end": gzip.compress(b"".join(lines[:-1])),
        "one letter changed": gzip.compress(text.replace(b"Pad", b"Pod", 1)),
        "a row less": gzip.compress(b"".join([*lines[:2], *lines[3:]])),
        "two rows exchanged": gzip.compress(b"".join([lines[0], lines[2], lines[1], *lines[3:]])),
        "of another version": gzip.compress(text.replace(b'"version":2', b'"version":9', 1)),
        "no backup": b"hello",
        "empty": b"",
    }


def test_a_backup_that_was_altered_changes_nothing(filled: Store, tmp_path: Path) -> None:
    write_backup(filled.engine, tmp_path / "backup")
    before = everything(filled)
    for name, content in altered((tmp_path / "backup").read_bytes()).items():
        path = tmp_path / name
        path.write_bytes(content)
        with pytest.raises(Unusable):
            restore_backup(filled.engine, path, replace=True)
        assert everything(filled) == before, name


def test_nothing_saved_is_a_backup_too(store: Store, tmp_path: Path) -> None:
    assert write_backup(store.engine, tmp_path / "backup") == check_backup(tmp_path / "backup")
    found = restore_backup(store.engine, tmp_path / "backup")
    assert isinstance(found, Summary)
    assert (found.sheets, found.revisions) == (0, 0)


def test_a_backup_is_for_its_owners_eyes_alone(filled: Store, tmp_path: Path) -> None:
    write_backup(filled.engine, tmp_path / "backup")
    assert (tmp_path / "backup").stat().st_mode & 0o077 == 0


@pytest.mark.parametrize("settings", ["sqlite"], indirect=True)
def test_a_flipped_bit_anywhere_is_a_sentence(filled: Store, tmp_path: Path) -> None:
    write_backup(filled.engine, tmp_path / "backup")
    whole, damaged = (tmp_path / "backup").read_bytes(), tmp_path / "damaged"
    # not the head of gzip, which holds a time and a system (RFC 1952), nor the bits that fill up the last byte before
    # its end (RFC 1951): neither holds anything of a sheet
    places = [*range(10, len(whole) - 9, 7), *range(len(whole) - 8, len(whole))]
    unnoticed = []
    for place in places:
        damaged.write_bytes(whole[:place] + bytes([whole[place] ^ 0x10]) + whole[place + 1 :])
        try:
            check_backup(damaged)
        except Unusable:
            continue
        unnoticed.append(place)
        # a text that stands twice can be repeated from either place: the same bytes in other words (RFC 1951)
        assert gzip.decompress(damaged.read_bytes()) == gzip.decompress(whole)
    assert len(unnoticed) <= 0.01 * len(places)


@pytest.mark.parametrize("settings", ["sqlite"], indirect=True)
def test_nothing_saved_is_no_backup_unless_that_is_said_to_be_right(
    store: Store,
    settings: Settings,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.setenv("CHUCKSIDE_DATA", str(settings.data))
    monkeypatch.delenv("CHUCKSIDE_DATABASE", raising=False)
    assert main(["backup", str(tmp_path / "file")]) == 1
    assert "Nothing is saved in" in capsys.readouterr().err
    assert not (tmp_path / "file").exists()
    assert main(["backup", str(tmp_path / "file"), "--empty-too"]) == 0


def test_a_folder_without_saved_work_is_told_and_left_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("CHUCKSIDE_DATA", str(tmp_path / "nowhere"))
    monkeypatch.delenv("CHUCKSIDE_DATABASE", raising=False)
    assert main(["backup", str(tmp_path / "file")]) == 1
    assert "There is no saved work in" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []
