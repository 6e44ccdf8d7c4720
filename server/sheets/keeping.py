"""What whoever runs the server can do with all saved work: list, export, delete, expire by a rule, see the room.

The shop's lists can be seen and exported too, and get a new owner's link; they never expire.

Nothing here happens by itself, and nothing is deleted that was not listed first: `delete` and `expire` only say what
they would do until `--sure` is given.
"""

from __future__ import annotations

import argparse
import json
import os
import shutil
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

from sqlalchemy import Connection, Engine, delete, func, select
from sqlalchemy.exc import DatabaseError

from server.settings import Settings, settings_from
from server.sheets.answers import said_time
from server.sheets.database import engine_for, kept_in, reading, writing
from server.sheets.keys import read_id
from server.sheets.migrating import TooNew
from server.sheets.tables import REVISIONS, SHEETS
from server.shop.keeping import exported, held, owner_link
from server.shop.refusals import NotBegun

DAY = 24 * 3600
LONGEST_PAUSE = 14  # days without a save, after which a clock is not believed without a word
LOOKED_BACK = 30  # days of saves that are looked through for such a pause
MILLISECONDS = 1000


class Refused(Exception):
    """What is not done, and why."""


@dataclass(frozen=True, slots=True)
class Kept:
    """One sheet as the keeper sees it: its name, size, and times in milliseconds since 1970."""

    sheet: str
    name: str
    revisions: int
    size: int
    saved_at: int
    ended_at: int | None

    def __str__(self) -> str:
        ended = f", ended {said_time(self.ended_at)[:10]}" if self.ended_at else ""
        size = f"{self.revisions} revisions, {self.size // 1024 + 1} KiB"
        return f"{self.sheet}  {size}, saved {said_time(self.saved_at)[:10]}{ended}  {self.name}"


def kept(engine: Engine) -> list[Kept]:
    """Every sheet, the one saved longest ago first."""
    newest = (REVISIONS.c.sheet_id == SHEETS.c.id) & (REVISIONS.c.number == SHEETS.c.revision)
    query = select(SHEETS, REVISIONS.c.document, REVISIONS.c.saved_at).join(REVISIONS, newest)
    with reading(engine) as connection:
        rows = connection.execute(query.order_by(REVISIONS.c.saved_at)).all()
    return [Kept(row.id, _name(row.document), row.revision, row.bytes, row.saved_at, row.ended_at) for row in rows]


def export(engine: Engine, sheet: str, path: Path) -> None:
    """Write a sheet's newest document into a new file, which a server takes as an exported one. Raises `Refused`."""
    newest = (REVISIONS.c.sheet_id == SHEETS.c.id) & (REVISIONS.c.number == SHEETS.c.revision)
    with reading(engine) as connection:
        query = select(REVISIONS.c.document).join(SHEETS, newest).where(SHEETS.c.id == sheet)
        document = connection.execute(query).scalar()
    if document is None:
        raise Refused(f"There is no sheet {sheet}.")
    _write_new(path, document)


def _write_new(path: Path, document: str) -> None:
    try:
        descriptor = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    except FileExistsError:
        raise Refused(f"{path} is there already; an export overwrites nothing.") from None
    with os.fdopen(descriptor, "w", encoding="utf-8") as file:
        file.write(document)


def remove(engine: Engine, sheets: list[str]) -> int:
    """Delete sheets with all their revisions, and say how many there were."""
    with writing(engine) as connection:
        return sum(_remove(connection, sheet) for sheet in sheets)


def _remove(connection: Connection, sheet: str) -> int:
    connection.execute(delete(REVISIONS).where(REVISIONS.c.sheet_id == sheet))
    return connection.execute(delete(SHEETS).where(SHEETS.c.id == sheet)).rowcount


def expired(engine: Engine, ended_days: int, unsaved_days: int | None, now: float) -> list[Kept]:
    """The sheets that a rule lets go: ended so long ago, or, if that is asked, not saved for so long."""
    ended_before = (now - ended_days * DAY) * 1000
    saved_before = (now - unsaved_days * DAY) * 1000 if unsaved_days else 0
    return [
        each
        for each in kept(engine)
        if (each.ended_at and each.ended_at < ended_before) or (unsaved_days and each.saved_at < saved_before)
    ]


def doubt_of_the_clock(engine: Engine, now: float) -> str:
    """Why this machine's clock is not to be believed without a word, "" when it fits what is saved."""
    with reading(engine) as connection:
        newest = connection.execute(select(func.max(REVISIONS.c.saved_at))).scalar()
        days = _days_of_saves(connection, now)
    if newest is None:
        return ""
    if not -1 <= (now * MILLISECONDS - newest) / MILLISECONDS / DAY <= LONGEST_PAUSE:
        return (
            f"By this machine's clock it is {said_time(int(now * MILLISECONDS))[:10]}, and the newest save is of "
            f"{said_time(newest)[:10]}. If the clock is right: --clock-is-right"
        )
    for before, after in pairwise(days):  # somebody may have saved since the clock jumped, by its wrong time
        if after - before > LONGEST_PAUSE:
            return (
                f"Nobody saved between {_day(before)} and {_day(after)}: the shop was closed, or the clock jumped. "
                "If the clock is right: --clock-is-right"
            )
    return ""


def _days_of_saves(connection: Connection, now: float) -> list[int]:
    """The days since 1970 on which somebody saved lately, and the last one before those."""
    day = REVISIONS.c.saved_at // (DAY * MILLISECONDS)
    since = int(now / DAY) - LOOKED_BACK
    before = connection.execute(select(func.max(day)).where(day < since)).scalar()
    lately = connection.execute(select(day).where(day >= since).distinct()).scalars()
    return sorted({int(each) for each in (before, *lately) if each is not None})


def _day(days: int) -> str:
    return said_time(days * DAY * MILLISECONDS)[:10]


def _name(document: str) -> str:
    try:
        heading = json.loads(document).get("heading", {})
        return str(heading.get("title") or heading.get("part") or "Job sheet")[:60]
    except (ValueError, AttributeError):
        return "(damaged)"


def _listed(engine: Engine, _: Settings, __: argparse.Namespace) -> Iterator[str]:
    yield from map(str, kept(engine))


def _room(engine: Engine, settings: Settings, _: argparse.Namespace) -> Iterator[str]:
    sheets = kept(engine)
    held, limits = sum(each.size for each in sheets), settings.limits
    yield f"{len(sheets)} of {limits.sheets} sheets, {held / 2**20:.1f} of {limits.total_bytes / 2**20:.0f} MiB"
    if not settings.database:
        yield f"{shutil.disk_usage(settings.data).free / 2**20:.0f} MiB left on the disk of {kept_in(settings.data)}"


def _shop(engine: Engine, settings: Settings, options: argparse.Namespace) -> Iterator[str]:
    yield from owner_link(engine, settings, sure=options.sure) if options.new_owner else held(engine, settings)


def _export(engine: Engine, settings: Settings, options: argparse.Namespace) -> Iterator[str]:
    if options.sheet == "shop":
        _write_new(options.file, exported(engine, settings))
        yield f"{options.file}: the shop's lists"
        return
    export(engine, _id(options.sheet), options.file)
    yield f"{options.file}: the sheet {options.sheet}"


def _delete(engine: Engine, _: Settings, options: argparse.Namespace) -> Iterator[str]:
    wanted = _id(options.sheet)
    yield from _let_go(engine, [each for each in kept(engine) if each.sheet == wanted], options.sure)


def _expire(engine: Engine, _: Settings, options: argparse.Namespace) -> Iterator[str]:
    doubt = "" if options.clock_is_right else doubt_of_the_clock(engine, time.time())
    if doubt:
        raise Refused(doubt)
    gone = expired(engine, options.ended_days, options.unsaved_days, time.time())
    yield from _let_go(engine, gone, options.sure)


def _let_go(engine: Engine, sheets: list[Kept], sure: bool) -> Iterator[str]:
    yield from map(str, sheets)
    if not sure:
        yield f"{len(sheets)} sheets would be deleted. Make a backup, then: --sure"
    else:
        yield f"{remove(engine, [each.sheet for each in sheets])} sheets deleted."


def _id(typed: str) -> str:
    found = read_id(typed)
    if found is None:
        raise Refused(f"{typed[:40]} is no sheet's id; `list` shows them.")
    return found


def main(arguments: list[str]) -> int:
    """Carry out what `deploy/keeper.py` asks for, and return the exit status."""
    options = _parser().parse_args(arguments)
    settings = settings_from()
    if not settings.database and not kept_in(settings.data).exists():
        print(f"There is no saved work in {settings.data}. Name the server's folder with --data.", file=sys.stderr)
        return 1
    engine = engine_for(settings.database, settings.data)
    try:
        for line in options.act(engine, settings, options):
            print(line)
    except (Refused, NotBegun, TooNew, DatabaseError) as error:
        print(str(error).splitlines()[0], file=sys.stderr)
        return 1
    finally:
        engine.dispose()
    return 0


def _parser() -> argparse.ArgumentParser:
    reader = argparse.ArgumentParser(prog="deploy/keeper.py")
    acts = reader.add_subparsers(required=True)
    acts.add_parser("list", help="every sheet, the one saved longest ago first").set_defaults(act=_listed)
    acts.add_parser("room", help="how much is saved, and how much more fits").set_defaults(act=_room)
    exporting = acts.add_parser("export", help="a sheet's newest revision into a file, or the shop's lists")
    exporting.set_defaults(act=_export)
    exporting.add_argument("sheet", help="a sheet's id, or: shop")
    exporting.add_argument("file", type=Path)
    deleting = acts.add_parser("delete", help="a sheet with all its revisions")
    deleting.set_defaults(act=_delete)
    deleting.add_argument("sheet")
    expiring = acts.add_parser("expire", help="the sheets that a rule lets go")
    expiring.set_defaults(act=_expire)
    expiring.add_argument("--ended-days", type=int, default=30, metavar="N", help="ended longer ago (%(default)s)")
    expiring.add_argument("--unsaved-days", type=int, metavar="N", help="not saved for longer; none when not given")
    expiring.add_argument("--clock-is-right", action="store_true", help="though nobody saved for a long time")
    shop = acts.add_parser("shop", help="what the shop's lists hold, or a new owner's link to them")
    shop.set_defaults(act=_shop)
    shop.add_argument("--new-owner", action="store_true", help="make a new link; the old one no longer opens")
    for act in (deleting, expiring, shop):
        act.add_argument("--sure", action="store_true", help="do it; without it only say what would be done")
    return reader


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
