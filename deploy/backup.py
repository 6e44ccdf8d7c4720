#!/usr/bin/env python3
"""Writes all saved work into one file while the server goes on: `python3 deploy/backup.py --data DIR FILE`."""

import sys

if sys.version_info < (3, 11):  # noqa: UP036 - whoever has an older one is to be told so
    sys.exit(f"Chuckside needs Python 3.11 or newer; this is Python {sys.version.split()[0]} ({sys.executable}).")

from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from deploy import saved_work


def main(arguments: list[str] | None = None) -> int:
    """Carry it out and return the exit status."""
    reader = saved_work.parser(
        "deploy/backup.py", "Write all saved work into a new file, and read it again to be sure."
    )
    reader.add_argument("--check", action="store_true", help="write nothing; tell whether FILE is a whole backup")
    reader.add_argument("--empty-too", action="store_true", help="be content when nothing is saved yet")
    options = reader.parse_args(arguments)
    more = ["--empty-too"] if options.empty_too else []
    return saved_work.carry_out("check" if options.check else "backup", options, *more)


if __name__ == "__main__":
    sys.exit(main())
