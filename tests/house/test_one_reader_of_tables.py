"""Data tables are read in one place."""

from __future__ import annotations

from pathlib import Path

ROOT = Path(__file__).parents[2]


def test_only_one_module_reads_tables() -> None:
    readers = [
        path
        for room in ("calc", "server")
        for path in (ROOT / room).rglob("*.py")
        if "tomllib" in path.read_text("utf-8")
    ]
    assert [path.relative_to(ROOT).as_posix() for path in readers] == ["calc/language/tables.py"]
