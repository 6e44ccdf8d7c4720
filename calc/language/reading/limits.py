"""The limits of size behind a value.

limits = "±" amount [unit] | limit ["/"] limit
limit  = sign (decimal | fraction) [unit] | "0" [unit]
"""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple, NoReturn

from calc.language.reading.amounts import amount, decimal, fraction
from calc.language.reading.cursor import Cursor
from calc.language.reading.errors import Ambiguous, NotANumber, any_of
from calc.language.reading.numbers import Number, decimal_digits, is_whole
from calc.language.reading.text import Token
from calc.language.reading.units import TypedUnit
from calc.language.reading.values import typed_unit


class Limits(NamedTuple):
    """The lower and the upper deviation in `unit`, and where their signs stand in the text."""

    lower: Fraction
    upper: Fraction
    unit: TypedUnit | None
    signs: tuple[int, ...] = ()


class _Limit(NamedTuple):
    value: Fraction
    unit: TypedUnit | None
    sign: Token | None


def limits(cursor: Cursor, value: Number, unit: TypedUnit | None, mark: str) -> Limits | None:
    """Take the limits of a `value` with its `unit`, None where there are none.

    A unit that stands only behind the last limit is meant for the value too.

    >>> from calc.language.quantities import LENGTH, METRIC
    >>> limits(Cursor("+0.1/0", LENGTH, METRIC), Number(Fraction(60)), None, "")[:2]
    (Fraction(0, 1), Fraction(1, 10))
    """
    if cursor.take("limits") is not None:
        return _both_ways(cursor, unit)
    if cursor.next.kind != "sign" and not cursor.zero_limit_ahead():
        return None
    before = cursor.next
    first = _limit(cursor)
    cursor.take("slash")
    if cursor.next.kind == "end":
        _ask_single(cursor, value, unit or first.unit, mark, before, first)
    second = _limit(cursor)
    unit = unit or second.unit or first.unit
    bounds = (_in_unit(cursor, first, first.unit or second.unit, unit), _in_unit(cursor, second, second.unit, unit))
    signs = tuple(limit.sign.start for limit in (first, second) if limit.sign is not None)
    return Limits(min(bounds), max(bounds), unit, signs)


def _both_ways(cursor: Cursor, unit: TypedUnit | None) -> Limits:
    deviation = _Limit(amount(cursor).value, typed_unit(cursor), None)
    unit = unit or deviation.unit
    half = _in_unit(cursor, deviation, deviation.unit, unit)
    return Limits(-half, half, unit)


def _limit(cursor: Cursor) -> _Limit:
    sign = cursor.take("sign")
    token = cursor.take("number")
    if token is None:
        raise NotANumber(cursor.original, "“{typed}” breaks off: a limit of size is missing.")
    size = (fraction if _fraction_ahead(cursor, token) else decimal)(cursor, token).value
    if sign is None and size != 0:
        raise NotANumber(cursor.original, "In “{typed}” put + or - before each limit, such as 60 +0.1/-0.05.")
    return _Limit(-size if sign is not None and sign.text == "-" else size, typed_unit(cursor), sign)


def _fraction_ahead(cursor: Cursor, above: Token) -> bool:
    """Whether a limit such as +1/64 stands here, not a pair such as +1/0."""
    below = cursor.ahead(1).text
    return cursor.next.kind == "slash" and is_whole(above.text) and is_whole(below) and int(below) != 0


def _in_unit(cursor: Cursor, limit: _Limit, own: TypedUnit | None, unit: TypedUnit | None) -> Fraction:
    if own is None or unit is None:
        return limit.value
    scale = own.size / unit.size
    if scale.pi_power:
        raise NotANumber(cursor.original, "In “{typed}” type the value and its limits in one unit.")
    return limit.value * scale.ratio


def _ask_single(
    cursor: Cursor, value: Number, unit: TypedUnit | None, mark: str, before: Token, limit: _Limit
) -> NoReturn:
    """60 +0.1 can be a size with one limit or a sum; 3 -1/4 can be three and a quarter as well."""
    base, typed = cursor.text[: before.start].rstrip(), cursor.text[before.start :].rstrip("/").replace("- ", "-")
    total = value.value + _in_unit(cursor, limit, limit.unit, unit)
    candidates = [
        f"{base} {typed}/0" if typed.startswith("+") else f"{base} 0/{typed}",
        f"{mark}{decimal_digits(total)}{'' if unit is None else unit.name}",
    ]
    if is_whole(base) and typed.startswith("-") and "/" in typed and abs(limit.value) < 1:
        candidates.insert(0, f"{base}{typed}")
    sentence = "“{typed}” can be {either}. Type the one that is meant."
    raise Ambiguous(cursor.original, sentence, tuple(candidates), either=any_of(candidates))
