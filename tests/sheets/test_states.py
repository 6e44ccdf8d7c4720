"""What saved work says of itself when it cannot be had: each state in words of its own, and reads before saves."""

from __future__ import annotations

import asyncio
import os
import socket
import sqlite3
import stat
import threading
import time
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import Any

import httpx
import pytest
from sqlalchemy.exc import DatabaseError, OperationalError
from starlette.testclient import TestClient

from server.settings import Settings
from server.sheets import states
from server.sheets.database import FILE
from server.sheets.lanes import Lane
from server.sheets.opening import open_store
from server.sheets.refusals import Unavailable
from server.sheets.states import Busy, Silent, state_of
from server.sheets.store import Store
from tests.sheets.conftest import client_for
from tests.sheets.serving import served

SQLITE = pytest.mark.parametrize("settings", ["sqlite"], indirect=True)


def ready(client: TestClient) -> tuple[int, str, str]:
    answer = client.get("/ready")
    body = answer.json()
    return answer.status_code, body["status"], body.get("message", "")


def test_a_server_whose_saved_work_is_well_is_ready(client: TestClient) -> None:
    assert ready(client) == (200, "ready", "")
    assert client.get("/health").json()["status"] == "ok"


@SQLITE
def test_a_damaged_file_is_said_to_be_damaged(settings: Settings, seat: dict[str, Any]) -> None:
    with client_for(settings) as client:
        client.post("/api/sheets", json=seat)
    file = settings.data / FILE
    file.write_bytes(os.urandom(16) + file.read_bytes()[16:])
    with client_for(settings) as client:
        status, state, words = ready(client)
        assert (status, state) == (503, "damaged")
        assert "backup" in words
        answer = client.post("/api/sheets", json=seat)
        assert answer.status_code == 500
        assert "damaged" in answer.json()["errors"][0]["message"]
        assert "Retry-After" not in answer.headers
        assert client.get("/health").status_code == 200


@SQLITE
def test_tables_of_a_newer_program_are_said_to_be_newer(settings: Settings, seat: dict[str, Any]) -> None:
    with client_for(settings) as client:
        client.post("/api/sheets", json=seat)
    with closing(sqlite3.connect(settings.data / FILE)) as connection:
        connection.execute("UPDATE alembic_version SET version_num = '9999'")
        connection.commit()
    with client_for(settings) as client:
        assert ready(client)[:2] == (503, "too new")
        assert "newer Chuckside" in client.post("/api/sheets", json=seat).json()["errors"][0]["message"]


@SQLITE
def test_a_full_disk_is_said_to_be_full(
    settings: Settings, seat: dict[str, Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(states, "LEAST_ROOM", 1 << 80)
    with client_for(settings) as client:
        status, state, words = ready(client)
        assert (status, state) == (503, "full")
        assert "disk is full" in words


def test_a_database_that_may_only_be_read_is_said_to_be_so(settings: Settings) -> None:
    store = open_store(settings)
    try:
        _may_be_written(store, "on")
        state = states.look(store)
    finally:
        _may_be_written(store, "off")
        store.engine.dispose()
    assert state is not None
    assert (state.state, state.status) == ("read-only", 503)


def _may_be_written(store: Store, read_only: str) -> None:
    with store.engine.connect() as connection:
        if connection.dialect.name == "sqlite":
            connection.exec_driver_sql(f"PRAGMA query_only = {read_only}")
            return
        connection.exec_driver_sql("SET default_transaction_read_only = off")
        connection.commit()
        name = store.engine.url.database
        connection.exec_driver_sql(f"ALTER DATABASE {name} SET default_transaction_read_only = {read_only}")
        connection.commit()
    store.engine.dispose()


@pytest.mark.parametrize(
    ("code", "state"),
    [
        (sqlite3.SQLITE_FULL, "full"),
        (sqlite3.SQLITE_READONLY, "read-only"),
        (sqlite3.SQLITE_CORRUPT, "damaged"),
        (sqlite3.SQLITE_NOTADB, "damaged"),
        (sqlite3.SQLITE_BUSY, "busy"),
        (sqlite3.SQLITE_CANTOPEN, "unreachable"),
        (sqlite3.SQLITE_READONLY | 8 << 8, "read-only"),  # an extended code: the primary one is its low byte
    ],
)
def test_sqlites_codes_have_words(code: int, state: str) -> None:
    """Result codes of SQLite, the file format's own documentation."""
    cause = sqlite3.OperationalError("any text")
    cause.sqlite_errorcode = code
    assert state_of(DatabaseError("SELECT", {}, cause)).state == state


@pytest.mark.parametrize(
    ("sqlstate", "state"),
    [("53100", "full"), ("25006", "read-only"), ("XX001", "damaged"), ("57P03", "unreachable"), ("53300", "busy")],
)
def test_postgresqls_codes_have_words(sqlstate: str, state: str) -> None:
    """PostgreSQL documentation, appendix A: error codes."""

    class Cause(Exception):
        pass

    cause = Cause()
    cause.sqlstate = sqlstate  # type: ignore[attr-defined]  # as the driver's errors have it
    assert state_of(OperationalError("SELECT", {}, cause)).state == state


def test_no_two_states_have_the_same_words() -> None:
    kinds = (Unavailable, states.Busy, states.Silent, states.DiskFull, states.ReadOnly, states.Damaged)
    words = {kind.words for kind in (*kinds, states.FromNewer)}
    assert len(words) == len(kinds) + 1


@SQLITE
def test_only_its_owner_may_read_the_database(settings: Settings) -> None:
    os.umask(0o022)
    open_store(settings).engine.dispose()
    assert stat.S_IMODE((settings.data / FILE).stat().st_mode) == 0o600


def test_a_read_does_not_wait_behind_saves_on_a_locked_database(tmp_path: Path, seat: dict[str, Any]) -> None:
    settings = Settings(data=tmp_path / "data")
    with served(settings, tmp_path / "log") as server, httpx.Client(base_url=server.address, timeout=60) as client:
        created = client.post("/api/sheets", json=seat).json()
        with closing(sqlite3.connect(settings.data / FILE, isolation_level=None)) as locking:
            locking.execute("BEGIN IMMEDIATE")
            answered: list[int] = []
            saves = [threading.Thread(target=_save, args=(server.address, seat, answered.append)) for _ in range(20)]
            for save in saves:
                save.start()
            while _waiting(server.process.pid) < 4:  # the saves are there, each thread of their lane has one
                time.sleep(0)
            # While the database is locked; a machine with much else to do may refuse one for want of time.
            for path in (f"/api/sheets/{created['id']}", "/spindle", "/ready"):
                assert any(client.get(path).status_code == 200 for _ in range(5)), path
            assert answered == []
            locking.execute("ROLLBACK")
        for save in saves:
            save.join()
        assert answered.count(201) > 0
        assert set(answered) <= {201, 503}


def test_a_database_that_does_not_answer_keeps_nobody_who_does_not_need_it(tmp_path: Path) -> None:
    """It accepts connections and says nothing, as a frozen one does."""
    with socket.create_server(("127.0.0.1", 0)) as frozen:
        database = f"postgresql://somebody@127.0.0.1:{frozen.getsockname()[1]}/sheets"
        with served(Settings(data=tmp_path / "data", database=database), tmp_path / "log") as server:
            waiting = threading.Thread(target=_save, args=(server.address, {}, [].append))
            waiting.start()
            line = {"start": {"x": 20, "z": 0}, "elements": [{"kind": "line", "x": 20, "z": -5}]}
            for _ in range(3):
                assert httpx.get(f"{server.address}/dish?radius=75&depth=4.5", timeout=60).status_code == 200
                assert httpx.post(f"{server.address}/api/geometry/contour", json=line, timeout=60).status_code == 200
                assert httpx.get(f"{server.address}/health", timeout=60).status_code == 200
            ready = httpx.get(f"{server.address}/ready", timeout=60)
            assert (ready.status_code, ready.json()["status"] in ("silent", "unreachable", "busy")) == (503, True)
            waiting.join()
            server.process.terminate()
            server.process.wait(30)


def _save(address: str, document: dict[str, Any], note: Callable[[int], None]) -> None:
    note(httpx.post(f"{address}/api/sheets", json=document, timeout=60).status_code)


def _waiting(process: int) -> int:
    """How many connections to the database the process has open."""
    opened = [path.resolve().name for path in Path(f"/proc/{process}/fd").iterdir()]
    return opened.count(FILE)


@pytest.mark.anyio
async def test_what_is_not_begun_in_time_is_never_begun() -> None:
    lane, go = Lane("trial", 1, 0.05, 30.0), threading.Event()
    begun: list[bool] = []
    running = asyncio.ensure_future(lane.run(go.wait))
    await asyncio.sleep(0)
    with pytest.raises(Busy):
        await lane.run(begun.append, True)
    go.set()
    assert await running
    assert begun == []


@pytest.mark.anyio
async def test_what_does_not_end_is_said_not_to_be_known() -> None:
    lane, go = Lane("trial", 1, 0.05, 0.05), threading.Event()
    with pytest.raises(Silent, match="not known"):
        await lane.run(go.wait)
    go.set()


@pytest.fixture
def anyio_backend() -> str:
    return "asyncio"
