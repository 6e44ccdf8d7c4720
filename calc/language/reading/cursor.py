"""A place in a field's tokens, and what every rule of the grammar needs to know about the field."""

from __future__ import annotations

import re
from collections.abc import Iterable

from calc.language.quantities import Kind, View
from calc.language.reading.text import Token, TokenKind, clean, tokens


class Cursor:
    """Walks the tokens of a text once, from left to right.

    `original` is the text as typed, for sentences; places refer to the cleaned `text`.
    """

    def __init__(self, original: str, kind: Kind, view: View) -> None:
        self.original = original
        self.kind = kind
        self.view = view
        self.text = clean(original)
        self.tokens = tokens(self.text)
        self.at = 0

    @property
    def next(self) -> Token:
        """The token that comes next; the "end" token stays."""
        return self.ahead(0)

    def ahead(self, steps: int) -> Token:
        """The token that comes `steps` behind the next one."""
        return self.tokens[min(self.at + steps, len(self.tokens) - 1)]

    @property
    def last(self) -> Token:
        """The token that was taken last."""
        return self.tokens[self.at - 1]

    def take(self, kind: TokenKind) -> Token | None:
        """The next token if it is of `kind`, which is then behind; None if it is another."""
        token = self.next
        if token.kind != kind:
            return None
        self.at += 1
        return token

    def zero_limit_ahead(self) -> bool:
        """Whether an unsigned zero and a signed limit follow, as in 60 0/-0.02."""
        if self.next.kind != "number" or not re.fullmatch("[0.,]+", self.next.text):
            return False
        following = self.ahead(1).kind, self.ahead(2).kind
        return following[0] == "sign" or following == ("slash", "sign")

    def replaced(self, first: Token, last: Token, readings: Iterable[str]) -> tuple[str, ...]:
        """The text once for each of `readings`, put in place of the tokens from `first` to `last`."""
        return tuple(self.text[: first.start] + reading + self.text[last.end :] for reading in readings)
