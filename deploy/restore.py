#!/usr/bin/env python3
"""Puts saved work back from a backup, all of it or nothing: `python3 deploy/restore.py --data DIR FILE`."""

import sys

if sys.version_info < (3, 11):  # noqa: UP036 - whoever has an older one is to be told so
    sys.exit(f"Chuckside needs Python 3.11 or newer; this is Python {sys.version.split()[0]} ({sys.executable}).")

from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from deploy import saved_work


def main(arguments: list[str] | None = None) -> int:
    """Carry it out and return the exit status."""
    reader = saved_work.parser("deploy/restore.py", "Put saved work back from a backup: all of it, or nothing.")
    reader.add_argument("--replace", action="store_true", help="put it in the place of what is saved there now")
    options = reader.parse_args(arguments)
    return saved_work.carry_out("restore", options, *(["--replace"] if options.replace else []))


if __name__ == "__main__":
    sys.exit(main())
