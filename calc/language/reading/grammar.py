"""The whole of a field: mark, value, limits of size, as prints and people write them.

    typed = [sign] [mark] [sign] value [limits]
    mark  = "Ø" | "D" | "R" | "X" | "Z" | "Ra"

What could be two things ends in `Ambiguous`, with the texts that say one thing only.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import NoReturn

from calc.language.quantities import Kind, View
from calc.language.reading.cursor import Cursor
from calc.language.reading.errors import NotANumber, WrongUnit
from calc.language.reading.limits import Limits, limits
from calc.language.reading.numbers import Number, decimal_digits
from calc.language.reading.sentences import noun
from calc.language.reading.text import Token
from calc.language.reading.units import TypedUnit, from_zero
from calc.language.reading.values import refuse_unit, value

LONGEST = 200
MOST_DIGITS = 40

_MARKS = {
    "ø": "Ø", "d": "Ø", "dia": "Ø", "diam": "Ø", "diameter": "Ø", "r": "R", "radius": "R", "x": "X", "z": "Z",
    "ra": "Ra",
}  # fmt: skip
# A plain length takes R: the size of a rounded corner is one. It takes no Ø, which would be twice the length.
_TAKEN = {"length": "R", "diameter": "Ø", "radius": "R", "x": "Ø R X", "z": "Z", "roughness": "Ra"}
_OTHER_ROUGHNESS = ("rz", "rt", "rq", "rp", "rmax")
# Letters of ISO 286 fits. e needs a space before it, for 24e8 is a number; x is left out, for 2x5 is no fit.
_FIT = re.compile(r".*[0-9]( ?(?:[a-df-hjkmnprstuvy]|z[abc]?|js|cd|ef|fg)| e)(?:1[0-8]|[1-9]|0[01]?)", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Typed:
    """A field's text, taken apart.

    The numbers are in `unit`, in the page's unit where that is None. `mark_span` and `number_at` are places in the
    cleaned `text` (without a mark, where it would stand), `sign_at` that of the value's sign, None without one.
    """

    text: str
    value: Number
    unit: TypedUnit | None
    limits: Limits | None
    mark: str
    mark_span: tuple[int, int]
    number_at: int
    sign_at: int | None


def parse(text: str, kind: Kind, view: View) -> Typed:
    """Take the text of a field apart. Raises `ReadingError` where it does not say one thing.

    A form sends all its texts again with each change of one, so the last few are remembered.

    >>> from calc.language.quantities import X
    >>> parse("Ø60 +0.1/0", X, View()).mark
    'Ø'
    """
    _refuse_overlong(text)
    return _parsed(text, kind, view)


@lru_cache(maxsize=1024)
def _parsed(text: str, kind: Kind, view: View) -> Typed:
    cursor = Cursor(text, kind, view)
    _refuse_strange(cursor)
    _refuse_fit(cursor)
    return _typed(cursor)


def _typed(cursor: Cursor) -> Typed:
    first = cursor.take("sign")
    mark, mark_span = _mark(cursor)
    sign = _one_sign(cursor, first)
    number_at = cursor.next.start
    _expect_number(cursor)
    size, unit = value(cursor)
    if sign is not None and sign.text == "-":
        size = Number(-size.value, size.place)
    _check_mark(cursor, mark, mark_span, size)
    deviations = limits(cursor, size, unit, mark)
    _expect_end(cursor)
    unit = unit if deviations is None else deviations.unit
    size = Number(from_zero(size.value, unit), size.place)
    return Typed(cursor.text, size, unit, deviations, mark, mark_span, number_at, None if sign is None else sign.start)


def _refuse_overlong(text: str) -> None:
    if len(text) > LONGEST or sum(c.isdigit() for c in text) > MOST_DIGITS:
        raise NotANumber(text, "“{typed}” is too long for one number. One value goes into this field.")


def _refuse_strange(cursor: Cursor) -> None:
    for token in cursor.tokens:
        word = token.text.lower()
        if word == "nan":
            raise NotANumber(cursor.original, "“{typed}” means that there is no number. Type digits or leave it blank.")
        if word in ("inf", "infinity", "∞"):
            raise NotANumber(cursor.original, "“{typed}” is infinite. Type a size, or leave it blank if there is none.")
        if token.kind == "odd":
            _refuse_odd(cursor, token)


def _refuse_odd(cursor: Cursor, token: Token) -> NoReturn:
    if not token.text.isprintable():
        raise NotANumber(cursor.original, "“{typed}” has a hidden character in it. Clear the field and type it again.")
    sentence = "“{sign}” has no place in a number. Type one such as 25.4 or 1-1/2."
    raise NotANumber(cursor.original, sentence, sign=token.text)


def _refuse_fit(cursor: Cursor) -> None:
    if cursor.kind.dimension == "length" and (fit := _FIT.fullmatch(cursor.text)):
        sentence = "The tolerance class {fit} cannot stand here. Type the value with its limits: 24 -0.007/-0.020."
        raise NotANumber(cursor.original, sentence, fit=cursor.text[fit.start(1) :].strip())


def _mark(cursor: Cursor) -> tuple[str, tuple[int, int]]:
    token = cursor.next
    if token.text.lower() in _OTHER_ROUGHNESS and cursor.kind.dimension == "roughness":
        sentence = "{mark} is measured differently from Ra. Type the number alone if this field asks for {mark}."
        raise WrongUnit(cursor.original, sentence, mark=token.text)
    mark = _MARKS.get(token.text.lower(), "")
    if not mark:
        return "", (0, 0)
    cursor.take(token.kind)
    return mark, (token.start, token.end)


def _one_sign(cursor: Cursor, first: Token | None) -> Token | None:
    second = cursor.take("sign")
    if first is not None and second is not None:
        raise NotANumber(cursor.original, "“{typed}” has two signs before the number. Leave one.")
    return second or first


def _expect_number(cursor: Cursor) -> None:
    token = cursor.next
    if token.kind == "number":
        return
    if token.kind == "unit" and cursor.ahead(1).kind == "end":
        raise NotANumber(cursor.original, "“{typed}” is a unit without a number before it.")
    if any(token.kind == "number" for token in cursor.tokens):
        raise NotANumber(cursor.original, "“{typed}” does not begin with a number. Type one such as 25.4 or 1-1/2.")
    raise NotANumber(cursor.original, "“{typed}” is not a number. Type one such as 25.4 or 1-1/2.")


def _expect_end(cursor: Cursor) -> None:
    token = cursor.next
    if token.kind in ("unit", "word"):
        refuse_unit(cursor, token)
    if token.kind != "end":
        sentence = "“{rest}” is left over in “{typed}”. Type one number, such as 25.4 or 1-1/2."
        raise NotANumber(cursor.original, sentence, rest=cursor.text[token.start :])


def _check_mark(cursor: Cursor, mark: str, span: tuple[int, int], size: Number) -> None:
    if mark in ("", *_TAKEN.get(cursor.kind.name, "").split()):
        return
    wants = noun(cursor.kind.name)
    if cursor.kind.dimension != "length" or mark not in ("Ø", "R"):
        sentence = "{mark} does not belong before {wants}. Type the number alone."
        raise WrongUnit(cursor.original, sentence, mark=mark, wants=wants)
    marked = noun("diameter" if mark == "Ø" else "radius")
    if cursor.next.kind != "end":
        raise WrongUnit(cursor.original, "“{typed}” is {marked}; this field wants {wants}.", marked=marked, wants=wants)
    meant = _with_right_mark(cursor, span, size)
    sentence = "“{typed}” is {marked}; this field wants {wants}: type {meant}."
    raise WrongUnit(cursor.original, sentence, (meant,), marked=marked, wants=wants, meant=meant)


def _with_right_mark(cursor: Cursor, span: tuple[int, int], size: Number) -> str:
    """The same size as the field wants it: R30 as Ø60, Ø60 as R30; elsewhere the number without its mark."""
    unit = cursor.last.text if cursor.last.kind == "unit" else ""
    if cursor.kind.name == "diameter":
        return f"Ø{decimal_digits(size.value * 2)}{unit}"
    if cursor.kind.name == "radius":
        return f"R{decimal_digits(size.value / 2)}{unit}"
    return (cursor.text[: span[0]] + cursor.text[span[1] :]).strip()
