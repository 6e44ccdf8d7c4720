"""What was saved stays as it was saved, on both databases, whoever saves beside."""

from __future__ import annotations

import sqlite3
import threading
from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Connection, insert, inspect, text, update
from sqlalchemy.exc import OperationalError

from server.settings import Settings
from server.sheets import database, keys, migrating
from server.sheets.database import alone, engine_for, reading, writing
from server.sheets.limits import Limits, Rate
from server.sheets.opening import open_store
from server.sheets.refusals import Ended, Full, NoSuchRevision, NoSuchSheet, TooLarge, TooOften
from server.sheets.store import Stale, Store
from server.sheets.tables import METADATA, REVISIONS


def test_a_created_sheet_is_read_back_as_it_was(store: Store) -> None:
    created = store.create('{"part": "Ø60 قطعة 🔧"}', "me")
    found = store.read(created.sheet)
    assert (found.number, found.based_on, found.document) == (1, 0, '{"part": "Ø60 قطعة 🔧"}')
    assert found == created.revision


def test_each_save_is_a_revision_and_older_ones_stay(store: Store) -> None:
    sheet = store.create("one", "me").sheet
    store.save(sheet, 1, "two", "me")
    assert store.save(sheet, 2, "three", "me").number == 3
    assert [store.revision(sheet, number).document for number in (1, 2, 3)] == ["one", "two", "three"]
    assert [each.number for each in store.revisions(sheet, 3, 10)] == [2, 1]
    assert [each.number for each in store.revisions(sheet, 99, 1)] == [3]


def test_a_save_based_on_an_older_revision_writes_nothing_and_shows_both(store: Store) -> None:
    sheet = store.create("one", "me").sheet
    store.save(sheet, 1, "theirs", "them")
    with pytest.raises(Stale) as stale:
        store.save(sheet, 1, "mine", "me")
    assert (stale.value.base.document, stale.value.current.document) == ("one", "theirs")
    assert store.read(sheet).document == "theirs"
    assert len(store.revisions(sheet, 99, 10)) == 2


def test_the_same_save_again_after_a_lost_answer_is_no_conflict(store: Store) -> None:
    sheet = store.create("one", "me").sheet
    first = store.save(sheet, 1, "two", "me")
    assert store.save(sheet, 1, "two", "me") == first


def test_of_many_saves_at_once_on_one_revision_exactly_one_is_kept(store: Store) -> None:
    sheet = store.create("one", "me").sheet
    outcomes: list[object] = []
    together = threading.Barrier(8)

    def save(name: str) -> None:
        together.wait()
        try:
            outcomes.append(store.save(sheet, 1, name, name).document)
        except Stale as stale:
            outcomes.append(stale)

    threads = [threading.Thread(target=save, args=(f"by {number}",)) for number in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    kept = [each for each in outcomes if isinstance(each, str)]
    assert len(outcomes) == 8
    assert kept == [store.read(sheet).document]


def test_what_is_not_there_is_told(store: Store) -> None:
    sheet = store.create("one", "me").sheet
    with pytest.raises(NoSuchSheet):
        store.read(keys.new_id())
    with pytest.raises(NoSuchRevision):
        store.revision(sheet, 2)
    with pytest.raises(NoSuchRevision):
        store.save(sheet, 7, "two", "me")


def test_only_the_secret_itself_owns_a_sheet(store: Store) -> None:
    first, second = store.create("one", "me"), store.create("two", "me")
    assert store.owns(first.sheet, first.secret)
    assert not store.owns(first.sheet, second.secret)
    assert not store.owns(keys.new_id(), first.secret)


def test_the_secret_is_nowhere_in_the_database(store: Store) -> None:
    created = store.create("one", "me")
    with reading(store.engine) as connection:
        rows = [tuple(row) for table in METADATA.sorted_tables for row in connection.execute(table.select())]
    kept = b"".join(value if isinstance(value, bytes) else str(value).encode() for row in rows for value in row)
    assert created.sheet.encode() in kept
    assert created.secret.encode() not in kept


def test_an_ended_sheet_takes_no_save_and_is_never_deleted_by_a_clock(store: Store) -> None:
    """A clock that jumps forty days (a flat battery, a wrong date) must not delete what an owner may still take out."""
    sheet = store.create("one", "me").sheet
    store.end(sheet)
    assert store.read(sheet).ended
    with pytest.raises(Ended):
        store.save(sheet, 1, "two", "me")
    ended_at = store.now()
    store.now = lambda: ended_at + 40 * 24 * 3600
    store.create("another", "me")
    assert store.read(sheet).document == "one"


def test_a_save_that_fails_half_way_leaves_nothing(store: Store) -> None:
    sheet = store.create("one", "me").sheet
    row = {"sheet_id": sheet, "number": 2, "based_on": 1, "document": "half", "digest": bytes(32), "saved_at": 0}

    def write_half() -> None:
        with writing(store.engine) as connection:
            connection.execute(insert(REVISIONS).values(**row))
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        write_half()
    assert [each.number for each in store.revisions(sheet, 99, 10)] == [1]


def test_a_damaged_document_is_never_given_out(store: Store) -> None:
    sheet = store.create("whole", "me").sheet
    with writing(store.engine) as connection:
        connection.execute(update(REVISIONS).values(document="torn"))
    with pytest.raises(RuntimeError, match="damaged"):
        store.read(sheet)


@pytest.mark.parametrize(
    ("limits", "refusal"),
    [(Limits(revisions=2), TooLarge), (Limits(sheet_bytes=8), TooLarge), (Limits(total_bytes=8), Full)],
)
def test_a_sheet_and_the_store_have_their_limits(store: Store, limits: Limits, refusal: type[Exception]) -> None:
    sheet = store.create("one", "me").sheet
    store.limits = limits
    store.save(sheet, 1, "four", "me")
    with pytest.raises(refusal):
        store.save(sheet, 2, "three", "me")
    assert store.read(sheet).document == "four"


def test_the_store_takes_no_more_sheets_than_it_may(store: Store) -> None:
    store.limits = Limits(sheets=1)
    store.create("one", "me")
    with pytest.raises(Full):
        store.create("two", "me")


def test_the_rate_is_for_each_client_and_for_all_and_ends_with_its_window(store: Store) -> None:
    store.limits = Limits(saving=Rate(most=2, in_total=3, seconds=60))
    store.now = lambda: 1_000_040.0  # a third into a window of a minute
    sheet = store.create("0", "me").sheet
    store.save(sheet, 1, "1", "me")
    store.save(sheet, 2, "2", "me")
    with pytest.raises(TooOften, match="this address") as refusal:
        store.save(sheet, 3, "3", "me")
    assert refusal.value.headers == {"Retry-After": "40"}
    store.save(sheet, 3, "3", "you")
    with pytest.raises(TooOften, match="Too many people"):
        store.save(sheet, 4, "4", "them")
    store.now = lambda: 1_000_080.0
    assert store.save(sheet, 4, "4", "me").number == 5


def test_two_stores_on_one_database_count_together(store: Store, settings: Settings) -> None:
    limits = Limits(saving=Rate(most=1, in_total=9, seconds=3600))
    other = open_store(replace(settings, limits=limits))
    store.limits = limits
    store.now = other.now = lambda: 7200.0
    sheet = store.create("0", "me").sheet
    store.save(sheet, 1, "1", "me")
    with pytest.raises(TooOften):
        other.save(sheet, 2, "2", "me")
    other.engine.dispose()


def test_a_refused_save_is_not_counted(store: Store) -> None:
    store.limits = Limits(saving=Rate(most=1, in_total=9, seconds=3600), revisions=2)
    sheet = store.create("0", "me").sheet
    with pytest.raises(NoSuchRevision):
        store.save(sheet, 9, "1", "me")
    assert store.save(sheet, 1, "1", "me").number == 2


def test_sqlite_flushes_every_commit(tmp_path: Path) -> None:
    store = open_store(Settings(data=tmp_path))
    with reading(store.engine) as connection:
        said = [connection.execute(text(f"PRAGMA {name}")).scalar() for name in ("journal_mode", "synchronous")]
    store.engine.dispose()
    assert said == ["wal", 2]  # 2 is FULL: sqlite.org, "PRAGMA synchronous"


def test_any_number_of_processes_may_make_the_tables_at_once(settings: Settings) -> None:
    failures: list[Exception] = []
    together = threading.Barrier(6)

    def start() -> None:
        engine = engine_for(settings.database, settings.data)
        together.wait()
        try:
            migrating.migrate(engine)
        except Exception as error:
            failures.append(error)
        engine.dispose()

    threads = [threading.Thread(target=start) for _ in range(6)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert failures == []
    open_store(settings).engine.dispose()


def test_a_start_waits_for_another_that_holds_the_new_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(database, "SECONDS_TO_WAIT", 0.1)  # what SQLite itself waits, where it does
    engine = engine_for("", tmp_path)
    other = sqlite3.connect(database.kept_in(tmp_path), isolation_level=None)
    other.execute("BEGIN EXCLUSIVE")
    waited: list[float] = []

    def the_other_ends(seconds: float) -> None:
        waited.append(seconds)
        other.rollback()

    monkeypatch.setattr("server.sheets.database.time.monotonic", lambda: 0.0)
    monkeypatch.setattr("server.sheets.database.time.sleep", the_other_ends)
    with reading(engine) as connection:
        assert connection.execute(text("PRAGMA journal_mode")).scalar() == "wal"
    assert len(waited) == 1
    engine.dispose()
    other.close()


def test_a_start_that_waits_too_long_for_another_says_that_the_file_is_locked(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(database, "SECONDS_TO_WAIT", 0.0)
    engine = engine_for("", tmp_path)
    with closing(sqlite3.connect(database.kept_in(tmp_path), isolation_level=None)) as other:
        other.execute("BEGIN EXCLUSIVE")
        with pytest.raises(OperationalError, match="locked"), reading(engine):
            pass
    engine.dispose()


@pytest.mark.parametrize("way", [migrating.create, migrating.upgrade])
def test_tables_made_anew_and_tables_brought_forward_are_those_that_the_program_uses(
    settings: Settings, way: Callable[[Connection], None]
) -> None:
    engine = engine_for(settings.database, settings.data)
    with alone(engine) as connection:
        way(connection)
    with reading(engine) as connection:
        assert compare_metadata(MigrationContext.configure(connection), METADATA) == []
        assert connection.execute(text("SELECT version_num FROM alembic_version")).scalar() == migrating.HEAD
        found = inspect(connection)
        of_the_shop = {"shop", "shop_entries", "shop_revisions"}
        assert set(found.get_table_names()) == {"alembic_version", "sheets", "revisions", "counts"} | of_the_shop
        keys_of = {table: found.get_pk_constraint(table) for table in found.get_table_names()}
        assert keys_of["alembic_version"]["name"] == "alembic_version_pkc"
        assert keys_of["revisions"]["constrained_columns"] == ["sheet_id", "number"]
        assert [key["name"] for key in found.get_foreign_keys("revisions")] == ["fk_revisions_sheet_id"]
    engine.dispose()


def test_the_newest_migration_is_the_one_that_the_program_asks_for() -> None:
    assert ScriptDirectory(str(migrating._SCRIPTS)).get_heads() == [migrating.HEAD]


def test_tables_of_a_newer_program_are_left_alone(store: Store, settings: Settings) -> None:
    with writing(store.engine) as connection:
        connection.execute(text("UPDATE alembic_version SET version_num = '9999'"))
    with pytest.raises(migrating.TooNew, match="newer"):
        migrating.migrate(store.engine)
