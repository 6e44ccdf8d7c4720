"""A place for words is turned down at the first line that it would cover where none may be covered."""

from __future__ import annotations

from unittest.mock import Mock

import pytest

from server.sketch import strokes
from server.sketch.boxes import Box
from server.sketch.room import Room

WORDS = Box(10.0, 10.0, 40.0, 29.0)


def hatched() -> Room:
    """A sketch with fifty lines through one place."""
    room = Room(Box(0.0, 0.0, 200.0, 100.0))
    room.draw("".join(f"M12 {12 + 0.2 * line}H38" for line in range(50)))
    return room


def test_a_place_that_must_be_clean_is_turned_down_at_its_first_line(monkeypatch: pytest.MonkeyPatch) -> None:
    looked_at = Mock(wraps=strokes.crosses)
    monkeypatch.setattr(strokes, "crosses", looked_at)
    assert hatched().place([(WORDS, "here")], clean=True) is None
    assert looked_at.call_count == 1


def test_of_places_that_all_cover_lines_the_one_over_the_fewest_is_taken() -> None:
    low = Box(10.0, 20.0, 40.0, 39.0)
    assert hatched().place([(WORDS, "over all"), (low, "over a few"), (WORDS, "over all again")]) == "over a few"
