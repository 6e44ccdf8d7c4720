"""Typed text cut into tokens: what keyboards, prints and spreadsheets put in for the same few signs becomes one sign.

Nothing is judged here: a character that belongs to no number becomes an "odd" token, and the grammar in
`calc.language.reading.grammar` says what is wrong with it.
"""

from __future__ import annotations

import re
import unicodedata
from itertools import takewhile
from typing import Literal, NamedTuple

from calc.language.reading.units import folded, spelling_at

TokenKind = Literal["number", "unit", "word", "sign", "limits", "slash", "colon", "diameter", "odd", "end"]


class Token(NamedTuple):
    """A piece of the cleaned text: what it is, its characters, where it starts, whether a space stands before it."""

    kind: TokenKind
    text: str
    start: int
    spaced: bool = False

    @property
    def end(self) -> int:
        """Where the token ends in the cleaned text."""
        return self.start + len(self.text)


_LOOKALIKES = str.maketrans(
    {
        **dict.fromkeys("−–—‐‑‒﹣", "-"),
        **dict.fromkeys("′’‘‛´`ʹ", "'"),
        **dict.fromkeys("″“”„‟ʺ", '"'),
        **dict.fromkeys("º˚", "°"),
        **dict.fromkeys("ø⌀∅φΦ", "Ø"),
        **dict.fromkeys("⁄∕", "/"),
        "∶": ":",
        **dict.fromkeys("\u200b\u200c\u200d\u200e\u200f\u2060\ufeff\u00ad"),  # no width, no meaning
    }
)
_BLANKS = re.compile("[ \t\r\n]+")
_PAIRS = ((" /", "/"), ("/ ", "/"), ("+/-", "±"), ("+-", "±"), ("''", '"'))


def clean(text: str) -> str:
    """`text` with one sign for each meaning: plain digits, spaces, minus, primes, Ø, and ± for +/-.

    >>> clean(" 7º 30′ "), clean("３½″"), clean("60 +/- 0.05")
    ("7° 30'", '3 1/2"', '60 ± 0.05')
    """
    plain = text if text.isascii() else "".join(_plain(c) for c in text)
    plain = _BLANKS.sub(" ", plain.translate(_LOOKALIKES)).strip(" ")
    for typed, meant in _PAIRS:
        plain = plain.replace(typed, meant)
    return plain


def _plain(character: str) -> str:
    """ASCII for a digit of any script, a full-width sign, a blank or a one-character fraction."""
    if "\uff01" <= character <= "\uff5e":
        return chr(ord(character) - 0xFEE0)
    if unicodedata.category(character) in ("Zs", "Zl", "Zp"):
        return " "
    if unicodedata.category(character) == "Nd":
        return str(unicodedata.decimal(character))
    if unicodedata.decomposition(character).startswith("<fraction>"):
        return " " + unicodedata.normalize("NFKC", character)
    return character


_NUMBER = re.compile(r"[0-9.,]*[0-9][0-9.,]*(?:'[0-9]{3}(?![0-9])[0-9.,]*)*(?:[eE][+-]?[0-9]+)?")
_SIGNS: dict[str, TokenKind] = {"+": "sign", "-": "sign", "±": "limits", "/": "slash", ":": "colon", "Ø": "diameter"}


def tokens(cleaned: str) -> list[Token]:
    """The tokens of a cleaned text, with an "end" token behind them.

    >>> [(token.kind, token.text) for token in tokens("Ø60mm")]
    [('diameter', 'Ø'), ('number', '60'), ('unit', 'mm'), ('end', '')]
    """
    found: list[Token] = []
    spellings, at = folded(cleaned), 0
    while at < len(cleaned):
        spaced = cleaned[at] == " "
        token = _token_at(cleaned, spellings, at + spaced, spaced)
        found.append(token)
        at = token.end
    return [*found, Token("end", "", len(cleaned))]


def _token_at(cleaned: str, spellings: str, at: int, spaced: bool) -> Token:
    if length := spelling_at(spellings, at):
        return Token("unit", cleaned[at : at + length], at, spaced)
    if kind := _SIGNS.get(cleaned[at]):
        return Token(kind, cleaned[at], at, spaced)
    if match := _NUMBER.match(cleaned, at):
        return Token("number", match.group(), at, spaced)
    if word := "".join(takewhile(str.isalpha, cleaned[at:])):
        return Token("word", word, at, spaced)
    return Token("odd", cleaned[at], at, spaced)
