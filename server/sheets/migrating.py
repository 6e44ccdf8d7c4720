"""Brings the tables to the present version; any number of processes may start at once."""

from __future__ import annotations

from pathlib import Path

from sqlalchemy import Connection, Engine, inspect, text

from server.sheets.database import alone, reading

HEAD = "0001"  # the newest step under migrations/versions; a test holds this
_SCRIPTS = Path(__file__).parent / "migrations"


class TooNew(Exception):
    """The tables are from a newer program than this one, which must not touch them."""


def migrate(engine: Engine) -> None:
    """Make or bring forward the tables. Raises `TooNew` for tables that this program does not know."""
    with reading(engine) as connection:
        if _version(connection) == HEAD:
            return
    with alone(engine) as connection:
        if _version(connection) != HEAD:
            _upgrade(connection)


def _version(connection: Connection) -> str | None:
    if not inspect(connection).has_table("alembic_version"):
        return None
    return connection.execute(text("SELECT version_num FROM alembic_version")).scalar()


def _upgrade(connection: Connection) -> None:
    # Imported when there is something to do: a start that finds its tables in order is lighter by twelve megabytes.
    from alembic import command  # noqa: PLC0415
    from alembic.config import Config  # noqa: PLC0415
    from alembic.util import CommandError  # noqa: PLC0415

    config = Config()
    config.set_main_option("script_location", str(_SCRIPTS).replace("%", "%%"))
    config.attributes["connection"] = connection
    try:
        command.upgrade(config, "head")
    except CommandError as error:
        raise TooNew(f"The saved work is from a newer Chuckside than this one ({error}).") from error
