"""The QR code in the terminal."""

import io
import sys

import pytest

from deploy import qr

ADDRESS = "http://192.168.100.200:8000"
# ISO/IEC 18004, 6.3.3.1: three dark, light and dark squares, 7, 5 and 3 modules wide, one in the other.
FINDER = ["1111111", "1000001", "1011101", "1011101", "1011101", "1000001", "1111111"]


def read_back(lines: list[str]) -> list[str]:
    """Return the modules that the printed half blocks show, dark as 1."""
    inked = {"█": "00", "▀": "01", "▄": "10", " ": "11"}
    pairs = [[inked[character] for character in line] for line in lines]
    return ["".join(pair[half] for pair in line) for line in pairs for half in (0, 1)]


def test_the_printed_code_has_the_finder_patterns_in_three_corners_and_a_quiet_zone() -> None:
    rows = read_back(list(qr.lines(qr.modules(ADDRESS))))
    size = len(rows[0])
    near, far = slice(4, 11), slice(size - 11, size - 4)
    assert [row[near] for row in rows[near]] == FINDER
    assert [row[far] for row in rows[near]] == FINDER
    assert [row[near] for row in rows[far]] == FINDER
    assert all(set(row[:4] + row[-4:]) == {"0"} for row in rows)
    assert all(set(row) == {"0"} for row in rows[:4] + rows[size - 4 :])


def test_the_printed_code_is_the_code_made_row_for_row() -> None:
    made = qr.modules(ADDRESS)
    rows = read_back(list(qr.lines(made)))
    assert rows[: len(made)] == ["".join("01"[dark] for dark in row) for row in made]


def test_a_terminal_without_the_blocks_is_told_to_type_the_address(monkeypatch: pytest.MonkeyPatch) -> None:
    written = io.BytesIO()
    monkeypatch.setattr(sys, "stdout", io.TextIOWrapper(written, encoding="cp1252", write_through=True))
    qr.main(ADDRESS)
    assert written.getvalue().strip() == b"(This terminal cannot show the QR code: type the address.)"
