"""Backup and restore of all that is saved: one file that any database of ours can be filled from.

The file is gzipped JSON Lines: a head, each sheet, each revision, the shop's lists likewise, and an end with their
numbers and the digest of all lines before it. It is read from the database in one transaction that sees one moment,
while others go on writing; so one way serves SQLite and PostgreSQL, and leads from one to the other. Owners' secrets
are in it as digests, as in the database; the documents are readable, so the file is made for its owner's eyes alone.
"""

from __future__ import annotations

import argparse
import gzip
import hashlib
import json
import os
import sys
import time
import zlib
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, String, Table, delete, insert, inspect, select
from sqlalchemy.exc import DatabaseError

from server.settings import settings_from
from server.sheets.database import alone, engine_for, kept_in, reading
from server.sheets.migrating import TooNew, migrate
from server.sheets.store import text_digest
from server.sheets.tables import REVISIONS, SHEETS, SHOP, SHOP_ENTRIES, SHOP_REVISIONS

FORMAT, VERSION = "chuckside backup", 2
WITHOUT_SHOP = 1  # the version of backups from before there were the shop's lists, which are read too
TABLES: dict[str, Table] = {
    "sheet": SHEETS,
    "revision": REVISIONS,
    "shop": SHOP,
    "entry": SHOP_ENTRIES,
    "entry_revision": SHOP_REVISIONS,
}
_ORDERED: dict[str, tuple[str, ...]] = {
    "sheet": ("id",),
    "revision": ("sheet_id", "number"),
    "shop": ("id",),
    "entry": ("key",),
    "entry_revision": ("entry_key", "number"),
}
_DIGESTS = {"sheet": "secret_digest", "revision": "digest", "shop": "secret_digest", "entry_revision": "digest"}
AT_ONCE = 200
_BINARY = {"sqlite": "BINARY", "postgresql": "C"}


class Unusable(Exception):
    """A backup, or a place for one, that must not be used; the text says why."""


@dataclass(frozen=True, slots=True)
class Summary:
    """What a backup holds."""

    sheets: int
    revisions: int
    digest: str
    entries: int = 0

    def __str__(self) -> str:
        shop = f", {self.entries} tools and cuts of the shop" if self.entries else ""
        return f"{self.sheets} sheets, {self.revisions} revisions{shop}, digest {self.digest[:16]}"

    def end(self, version: int) -> dict[str, Any]:
        """The last line of a file of that version."""
        counts = {"sheets": self.sheets, "revisions": self.revisions, "digest": self.digest}
        return counts if version == WITHOUT_SHOP else {**counts, "entries": self.entries}


def write_backup(engine: Engine, path: Path) -> Summary:
    """Write all that is saved into a new file, which is whole when it bears its name, and read it again to be sure.

    Raises `Unusable` when there is a file already, or when what was written does not read back.
    """
    if path.exists():
        raise Unusable(f"{path} is there already; a backup overwrites nothing.")
    with reading(engine) as connection, _new_file(path) as file:
        summary = _written(file, dump(connection))
    if check_backup(path) != summary:
        raise Unusable(f"{path} does not hold what was written into it. Is the disk full or broken?")
    return summary


def check_backup(path: Path) -> Summary:
    """Read a whole backup and say what it holds. Raises `Unusable` for one that is torn, altered or of another kind."""
    for _, _, summary in _entries(path):
        if summary is not None:
            return summary
    raise Unusable(f"{path} has no end: it was cut short.")


def restore_backup(engine: Engine, path: Path, *, replace: bool = False) -> Summary:
    """Fill the database from a backup: all of it, or nothing when anything is amiss.

    Raises `Unusable` for a bad backup, or a database that holds something unless it is to be replaced.
    """
    expected = check_backup(path)
    migrate(engine)
    with alone(engine) as connection:
        if _holds(connection) and not replace:
            raise Unusable("There is saved work in this database already. To put the backup in its place: --replace")
        for table in reversed(TABLES.values()):
            connection.execute(delete(table))
        _fill(connection, path)
        held = _written(None, dump(connection))
        if held != expected:
            raise Unusable(f"The database would hold {held}, the backup holds {expected}; nothing was changed.")
    return expected


def dump(connection: Connection) -> Iterator[dict[str, Any]]:
    """Every row in an order that is the same on all databases."""
    there = inspect(connection)
    binary = _BINARY[connection.dialect.name]
    for kind, table in TABLES.items():
        if not there.has_table(table.name):
            continue
        columns = (table.c[name] for name in _ORDERED[kind])
        in_order = [each.collate(binary) if isinstance(each.type, String) else each for each in columns]
        for row in connection.execution_options(yield_per=AT_ONCE).execute(select(table).order_by(*in_order)):
            yield {kind: {name: _plain(value) for name, value in row._mapping.items()}}


def _written(file: Any, entries: Iterable[dict[str, Any]]) -> Summary:
    """Write a head, the entries and an end; without a file, only find what the end would say."""
    counts = dict.fromkeys(TABLES, 0)
    digest = hashlib.blake2b(digest_size=32)
    if file is not None:
        file.write(_line({"format": FORMAT, "version": VERSION, "made_at": int(time.time())}))
    for entry in entries:
        (kind,) = entry
        counts[kind] += 1
        line = _line(entry)
        digest.update(line)
        if file is not None:
            file.write(line)
    summary = _summary(counts, digest.hexdigest())
    if file is not None:
        file.write(_line({"end": summary.end(VERSION)}))
    return summary


def _entries(path: Path) -> Iterator[tuple[str, dict[str, Any], Summary | None]]:
    """The kind and row of each entry, and at the end the summary, once it is found to be true."""
    counts = dict.fromkeys(TABLES, 0)
    digest = hashlib.blake2b(digest_size=32)
    lines = _lines(path)
    version = _object(next(lines), path)["version"]
    for line in lines:
        entry = _object(line, path)
        if "end" in entry:
            found = _summary(counts, digest.hexdigest())
            if entry["end"] != found.end(version):
                raise Unusable(f"{path} was altered or is damaged: its digest does not fit.")
            if next(lines, None) is not None:  # this reads to the end of the file, where the packing is checked too
                raise Unusable(f"{path} goes on after its end.")
            yield "", {}, found
            return
        kind = next(iter(entry))
        if kind not in TABLES:
            raise Unusable(f"{path} holds something that is not of a backup: {kind[:40]}")
        counts[kind] += 1
        digest.update(line)
        yield kind, _typed(kind, entry[kind]), None


def _summary(counts: Mapping[str, int], digest: str) -> Summary:
    return Summary(counts["sheet"], counts["revision"], digest, counts["entry"])


def _lines(path: Path) -> Iterator[bytes]:
    try:
        with gzip.open(path, "rb") as file:
            first = file.readline()
            head = _object(first, path)
            if head.get("format") != FORMAT or head.get("version") not in (WITHOUT_SHOP, VERSION):
                raise Unusable(f"{path} is no backup that this program reads.")
            yield first
            yield from file
    except (OSError, EOFError, zlib.error) as error:
        raise Unusable(f"{path} is damaged or cannot be read: {error}") from error


def _object(line: bytes, path: Path) -> dict[str, Any]:
    try:
        found = json.loads(line)
    except ValueError:
        found = None
    if not isinstance(found, dict) or not found:
        raise Unusable(f"{path} is damaged or no backup.")
    return found


def _fill(connection: Connection, path: Path) -> None:
    waiting: dict[str, list[dict[str, Any]]] = {kind: [] for kind in TABLES}
    for kind, row, summary in _entries(path):
        if summary is None:
            waiting[kind].append(row)
        for each, rows in waiting.items():
            if rows and (summary is not None or len(rows) >= AT_ONCE or each != kind):
                connection.execute(insert(TABLES[each]), rows)
                rows.clear()


def _typed(kind: str, row: dict[str, Any]) -> dict[str, Any]:
    """A row with its bytes as bytes, and its document held against its digest."""
    binary = _DIGESTS.get(kind)
    try:
        typed = {**row, binary: bytes.fromhex(row[binary])} if binary else dict(row)
        if "document" in typed and text_digest(typed["document"]) != typed["digest"]:
            raise Unusable(
                f"{typed.get('sheet_id') or typed['entry_key']} is damaged in its revision {typed['number']}."
            )
    except (KeyError, TypeError, ValueError, AttributeError) as error:
        raise Unusable("The backup is damaged: a line of it does not hold what it should.") from error
    return typed


def _plain(value: Any) -> Any:
    return value.hex() if isinstance(value, bytes) else value


def _line(entry: dict[str, Any]) -> bytes:
    return json.dumps(entry, ensure_ascii=False, separators=(",", ":")).encode() + b"\n"


@contextmanager
def _new_file(path: Path) -> Iterator[gzip.GzipFile]:
    """A file that only its owner may read, under another name until it is whole and on the disk."""
    unfinished = path.with_name(path.name + ".unfinished")
    descriptor = os.open(unfinished, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
    try:
        with os.fdopen(descriptor, "wb") as raw:
            with gzip.GzipFile(filename="", mode="wb", fileobj=raw) as file:
                yield file
            raw.flush()
            os.fsync(raw.fileno())
        unfinished.rename(path)
    except BaseException:
        unfinished.unlink(missing_ok=True)
        raise


def main(arguments: list[str]) -> int:
    """Carry out what `deploy/backup.py` and `deploy/restore.py` ask for, and return the exit status."""
    options = _parser().parse_args(arguments)
    try:
        print(_carried_out(options))
    except (Unusable, TooNew, DatabaseError) as error:
        print(str(error).splitlines()[0], file=sys.stderr)
        return 1
    return 0


def _carried_out(options: argparse.Namespace) -> str:
    """Do it, and say what was done and where. Raises `Unusable`."""
    if options.what == "check":
        return f"{options.file}: {check_backup(options.file)}"
    settings = settings_from()
    where = "the PostgreSQL of CHUCKSIDE_DATABASE" if settings.database else str(kept_in(settings.data))
    if options.what == "backup" and not settings.database and not kept_in(settings.data).exists():
        raise Unusable(f"There is no saved work in {settings.data}. Name the server's folder with --data.")
    if options.what == "restore":
        check_backup(options.file)  # a folder is made for a whole backup only
    engine = engine_for(settings.database, settings.data)
    try:
        if options.what == "backup":
            if not options.empty_too and not _holds_something(engine):
                raise Unusable(
                    f"Nothing is saved in {where}, so there is nothing to back up. Is that right: --empty-too"
                )
            return f"{options.file}: {write_backup(engine, options.file)}, from {where}"
        return f"restored: {restore_backup(engine, options.file, replace=options.replace)}, into {where}"
    finally:
        engine.dispose()


def _holds_something(engine: Engine) -> bool:
    with reading(engine) as connection:
        return _holds(connection)


def _holds(connection: Connection) -> bool:
    """Whether a sheet is saved, or the shop's lists are begun."""
    there = inspect(connection)
    return any(
        there.has_table(table.name) and connection.execute(select(table).limit(1)).first() is not None
        for table in (SHEETS, SHOP)
    )


def _parser() -> argparse.ArgumentParser:
    reader = argparse.ArgumentParser(prog="server.sheets.backup")
    reader.add_argument("what", choices=("backup", "check", "restore"))
    reader.add_argument("file", type=Path)
    reader.add_argument("--replace", action="store_true")
    reader.add_argument("--empty-too", action="store_true")
    return reader


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
