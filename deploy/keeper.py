#!/usr/bin/env python3
"""Lists, exports, deletes and expires saved sheets: `python3 deploy/keeper.py --help`."""

import sys

if sys.version_info < (3, 11):  # noqa: UP036 - whoever has an older one is to be told so
    sys.exit(f"Chuckside needs Python 3.11 or newer; this is Python {sys.version.split()[0]} ({sys.executable}).")

import argparse
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from deploy import saved_work


def main(arguments: list[str] | None = None) -> int:
    """Carry it out and return the exit status."""
    reader = argparse.ArgumentParser(
        prog="deploy/keeper.py",
        description="List, export, delete and expire saved sheets; see how much room is left.",
        epilog="what: list, room, export SHEET FILE, delete SHEET, expire, shop; `expire --help` gives its options, "
        "`export shop FILE` the shop's tools and proven cuts, `shop --new-owner` a new link to change them with",
    )
    reader.add_argument("--data", type=Path, metavar="DIR", help="the server's folder for what is saved")
    reader.add_argument("what", nargs=argparse.REMAINDER, help="what to do, see below")
    options = reader.parse_args(arguments)
    return saved_work.run_module("server.sheets.keeping", options.data, _absolute(options.what) or ["--help"])


def _absolute(what: list[str]) -> list[str]:
    """The file of an export is where the person stands, not where the project is."""
    if what[:1] == ["export"] and len(what) > 2:
        return [*what[:2], str(Path(what[2]).expanduser().resolve()), *what[3:]]
    return what


if __name__ == "__main__":
    sys.exit(main())
