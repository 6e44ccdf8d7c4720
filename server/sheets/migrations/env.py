"""Runs the migrations on the connection that the caller holds, inside its transaction and under its lock."""

from alembic import context

from server.sheets.tables import METADATA

if __name__ == "env_py":  # as Alembic calls it; imported by anybody else, it does nothing
    context.configure(
        connection=context.config.attributes["connection"], target_metadata=METADATA, transactional_ddl=False
    )
    context.run_migrations()
