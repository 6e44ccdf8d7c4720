"""What the commands for backup and restore have in common: where the saved work is, and who carries them out."""

import argparse
import os
from pathlib import Path

from deploy import environment
from deploy.messages import SetupError, say
from deploy.process import INTERRUPTED, environ_for_children, run
from deploy.serve import DATA_VARIABLE, LOCK

DATABASE_VARIABLE = "CHUCKSIDE_DATABASE"


def parser(program: str, description: str) -> argparse.ArgumentParser:
    """Return the reader of a command line that names a file and where the saved work is."""
    reader = argparse.ArgumentParser(prog=program, description=description)
    reader.add_argument("file", type=Path, help="the backup")
    reader.add_argument(
        "--data",
        type=Path,
        metavar="DIR",
        default=os.environ.get(DATA_VARIABLE) or None,
        help=f"the server's folder for what is saved (from {DATA_VARIABLE} when not given; "
        f"with {DATABASE_VARIABLE} set, the PostgreSQL that it names)",
    )
    return reader


def carry_out(what: str, options: argparse.Namespace, *more: str) -> int:
    """Run it in the environment that the server runs in, and return the exit status."""
    try:
        python = environment.ensure("serve", LOCK, environment.default_homes())
        told = {DATA_VARIABLE: str(Path(options.data).expanduser().resolve())} if options.data else {}
        command: list[str | Path] = [
            python,
            "-m",
            "server.sheets.backup",
            what,
            str(options.file.expanduser().resolve()),
            *more,
        ]
        return run(command, environ=environ_for_children(**told), cwd=environment.ROOT)
    except SetupError as error:
        say(str(error))
        return 1
    except KeyboardInterrupt:
        say("\nStopped.")
        return INTERRUPTED
