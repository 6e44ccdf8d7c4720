"""A misspelt word of a line, read as the word of the trade that is nearest to it."""

from __future__ import annotations

import difflib
import re
from functools import cache

from server.line.forms import rows
from server.line.tags import FILLERS

LEAST_LETTERS = 4
"""Letters of a word that can be told misspelt."""
LIKE_ENOUGH = 0.78
"""Share of letters that a misspelt word has in common with the one that is meant."""
_WORD = re.compile(r"[^\W\d_]{4,}")
_TAG_WORDS = (
    "radius deep depth high height long length mouth nose pitch diameter feed overhang neck across flats tief tiefe "
    "höhe länge teilung durchmesser vorschub profundidad altura largo paso avance radio material morse steel "
    "fine coarse rough"
)


def respelled(line: str) -> str:
    """The line with each unknown word as the nearest known one; the line itself where nothing is near.

    >>> respelled("knrul Ø20 pitch 0.8"), respelled("asdfgh")
    ('knurl Ø20 pitch 0.8', 'asdfgh')
    """
    return _WORD.sub(lambda match: _nearest(match.group()), line)


def _nearest(word: str) -> str:
    if word.lower() in _known():
        return word
    near = difflib.get_close_matches(word.lower(), _known(), n=1, cutoff=LIKE_ENOUGH)
    return near[0] if near else word


@cache
def _known() -> tuple[str, ...]:
    """Every word that finds a page, stands beside values or says what a value is."""
    phrases = [phrase for row in rows().values() for phrase in (*row["page"], *row.get("subject", ()))]
    words = {word for phrase in (*phrases, *FILLERS, _TAG_WORDS) for word in phrase.split()}
    return tuple(sorted(word for word in words if len(word) >= LEAST_LETTERS))
