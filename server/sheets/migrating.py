"""Makes the tables, or brings them to the present version; any number of processes may start at once.

An empty database gets its tables from their declaration, one that is behind goes through the migrations; tests hold the
two ways to the same end. So Alembic, twelve megabytes of it, is loaded only by a start that finds something behind.
"""

from __future__ import annotations

from pathlib import Path

from sqlalchemy import Column, Connection, Engine, PrimaryKeyConstraint, String, Table, inspect, text

from server.sheets.database import alone, reading
from server.sheets.tables import METADATA

HEAD = "0002"  # the newest step under migrations/versions; a test holds this
_SCRIPTS = Path(__file__).parent / "migrations"
_NOTED_VERSIONS = Table(  # as Alembic makes it
    "alembic_version",
    METADATA,
    Column("version_num", String(32), nullable=False),
    PrimaryKeyConstraint("version_num", name="alembic_version_pkc"),
)


class TooNew(Exception):
    """The tables are from a newer program than this one, which must not touch them."""


def migrate(engine: Engine) -> None:
    """Make or bring forward the tables. Raises `TooNew` for tables that this program does not know."""
    with reading(engine) as connection:
        if _version(connection) == HEAD:
            return
    with alone(engine) as connection:
        version = _version(connection)
        if version is None:
            create(connection)
        elif version != HEAD:
            upgrade(connection)


def _version(connection: Connection) -> str | None:
    if not inspect(connection).has_table("alembic_version"):
        return None
    return connection.execute(text("SELECT version_num FROM alembic_version")).scalar()


def create(connection: Connection) -> None:
    """Make the tables of the present version, and note it where Alembic looks for it."""
    METADATA.create_all(connection)
    connection.execute(_NOTED_VERSIONS.insert().values(version_num=HEAD))


def upgrade(connection: Connection) -> None:
    """Run every migration that the tables have not seen. Raises `TooNew` for tables from a newer program."""
    from alembic import command  # noqa: PLC0415 - see above
    from alembic.config import Config  # noqa: PLC0415
    from alembic.util import CommandError  # noqa: PLC0415

    config = Config()
    config.set_main_option("script_location", str(_SCRIPTS).replace("%", "%%"))
    config.attributes["connection"] = connection
    try:
        command.upgrade(config, "head")
    except CommandError as error:
        raise TooNew(f"The saved work is from a newer Chuckside than this one ({error}).") from error
