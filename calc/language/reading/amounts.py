"""One number of a field: a decimal, a fraction, a whole number with a fraction, a ratio.

amount = decimal | fraction | whole ("-" | " ") fraction | decimal ":" decimal
"""

from __future__ import annotations

from fractions import Fraction
from typing import NoReturn

from calc.language.reading.cursor import Cursor
from calc.language.reading.errors import Ambiguous, NotANumber, WrongUnit, any_of
from calc.language.reading.numbers import Number, is_whole, number, other_readings, too_extreme
from calc.language.reading.sentences import wanted
from calc.language.reading.text import Token


def amount(cursor: Cursor) -> Number:
    """Take the number that stands at the cursor. Raises `ReadingError` where it is none, or could be two.

    >>> from calc.language.quantities import LENGTH, METRIC
    >>> amount(Cursor("3-1/4", LENGTH, METRIC)).value
    Fraction(13, 4)
    """
    token = cursor.take("number")
    if token is None:
        raise NotANumber(cursor.original, "“{typed}” breaks off: a number is missing.")
    if cursor.next.kind == "slash":
        return fraction(cursor, token)
    if cursor.next.kind == "colon":
        return _ratio(cursor, token)
    if _dash_joins_fraction(cursor):
        cursor.take("sign")
    if cursor.next.kind == "number" and not cursor.zero_limit_ahead():
        return _mixed(cursor, token)
    return decimal(cursor, token)


def decimal(cursor: Cursor, token: Token) -> Number:
    """The number that the digits of `token` mean."""
    if too_extreme(token.text):
        raise NotANumber(cursor.original, "“{typed}” is too large or too small to compute with.")
    if readings := other_readings(token.text):
        _ask_thousands(cursor, cursor.replaced(token, token, readings))
    value = number(token.text)
    if value is None:
        raise NotANumber(cursor.original, "“{typed}” has more than one decimal mark. Leave one.")
    return value


def _ask_thousands(cursor: Cursor, candidates: tuple[str, ...]) -> NoReturn:
    if len(candidates) == 1:
        sentence = "“{typed}” has marks between its thousands. Type {first} if that is meant."
    else:
        sentence = "“{typed}” can be {first} or {last}. Type the one that is meant."
    raise Ambiguous(cursor.original, sentence, candidates, first=candidates[0], last=candidates[-1])


def fraction(cursor: Cursor, above: Token) -> Number:
    """The fraction whose number `above` the line is taken and whose line comes next."""
    cursor.take("slash")
    below = cursor.take("number")
    if below is None:
        raise NotANumber(cursor.original, "“{typed}” breaks off: the number below the line is missing.")
    if not (is_whole(above.text) and is_whole(below.text)):
        raise NotANumber(cursor.original, "“{typed}”: a fraction has whole numbers above and below, such as 1/16.")
    if int(below.text) == 0:
        raise NotANumber(cursor.original, "“{typed}” divides by zero. The number below the line can't be 0.")
    return Number(Fraction(int(above.text), int(below.text)))


def _dash_joins_fraction(cursor: Cursor) -> bool:
    """Whether the dash of 3-1/4 comes next: no space around it, a fraction behind it."""
    dash, above, line = (cursor.ahead(steps) for steps in range(3))
    tight = dash.text == "-" and not dash.spaced and not above.spaced
    return tight and is_whole(above.text) and line.kind == "slash"


def _mixed(cursor: Cursor, whole: Token) -> Number:
    if cursor.ahead(1).kind != "slash":
        _refuse_two_numbers(cursor, whole)
    if not is_whole(whole.text):
        raise NotANumber(cursor.original, "“{typed}” has decimals and a fraction. Type one or the other.")
    above = cursor.next
    cursor.take("number")
    part = fraction(cursor, above)
    if not 0 < part.value < 1:
        raise NotANumber(cursor.original, "In “{typed}” the fraction after the whole number must be between 0 and 1.")
    return Number(int(whole.text) + part.value)


def _refuse_two_numbers(cursor: Cursor, first: Token) -> NoReturn:
    run = [first]
    while token := cursor.take("number"):
        run.append(token)
    digits = [token.text for token in run]
    if not all(is_whole(text) for text in digits):
        refuse_second_number(cursor, run[1])
    candidates = cursor.replaced(first, run[-1], ["".join(digits), *([".".join(digits)] if len(run) == 2 else [])])
    raise Ambiguous(
        cursor.original,
        "“{typed}” has a space between numbers. Type {readings}, or a fraction such as 3 1/4.",
        candidates,
        readings=any_of(candidates),
    )


def refuse_second_number(cursor: Cursor, second: Token) -> NoReturn:
    """Refuse a text that goes on with one more number."""
    sentence = "“{typed}” has a second number, {second}. Type one value."
    raise NotANumber(cursor.original, sentence, second=second.text)


def _ratio(cursor: Cursor, first: Token) -> Number:
    cursor.take("colon")
    second = cursor.take("number")
    if second is None:
        raise NotANumber(cursor.original, "“{typed}” breaks off: the number after the colon is missing.")
    if cursor.kind.dimension != "ratio":
        _refuse_ratio(cursor, first, second)
    divisor = decimal(cursor, second).value
    if divisor == 0:
        raise NotANumber(cursor.original, "“{typed}” divides by zero. The number after the colon can't be 0.")
    return Number(decimal(cursor, first).value / divisor)


def _refuse_ratio(cursor: Cursor, first: Token, second: Token) -> NoReturn:
    if cursor.kind.dimension == "time" and is_whole(first.text) and is_whole(second.text):
        candidates = cursor.replaced(
            first, second, (f"{first.text}min {second.text}s", f"{first.text}h {second.text}min")
        )
        sentence = "“{typed}” can be minutes and seconds or hours and minutes. Type {first} or {last}."
        raise Ambiguous(cursor.original, sentence, candidates, first=candidates[0], last=candidates[1])
    sentence = "“{typed}” is a ratio; this field wants {wanted}."
    raise WrongUnit(cursor.original, sentence, wanted=wanted(cursor.kind, cursor.view))
