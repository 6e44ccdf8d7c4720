"""A number with its unit, or several in a row that make one value.

value = amount [unit] {amount unit}          25.4mm, 7°30'15", 1'6"
"""

from __future__ import annotations

from fractions import Fraction
from typing import NoReturn

from calc.language.reading.amounts import amount, refuse_second_number
from calc.language.reading.cursor import Cursor
from calc.language.reading.errors import Ambiguous, NotANumber, WrongUnit
from calc.language.reading.numbers import Number, decimal_digits
from calc.language.reading.sentences import noun, wanted
from calc.language.reading.text import Token
from calc.language.reading.units import TypedUnit, accepted, dimension_of, unit_below, unit_named


def value(cursor: Cursor) -> tuple[Number, TypedUnit | None]:
    """Take a value; several parts are added up in the unit of the first.

    >>> from calc.language.quantities import ANGLE, METRIC
    >>> value(Cursor("7°30'", ANGLE, METRIC))[0].value
    Fraction(15, 2)
    """
    total = part = amount(cursor)
    first = unit = typed_unit(cursor)
    while unit is not None and first is not None and _part_ahead(cursor):
        part, below = _smaller_part(cursor, part, unit)
        scale = (below.size / first.size).ratio
        total = Number(total.value + part.value * scale, _scaled(part.place, scale))
        unit = below
    return total, first


def _part_ahead(cursor: Cursor) -> bool:
    return cursor.next.kind == "number" and not cursor.zero_limit_ahead()


def _scaled(place: Fraction | None, scale: Fraction) -> Fraction | None:
    return None if place is None else place * scale


def _smaller_part(cursor: Cursor, before: Number, unit: TypedUnit) -> tuple[Number, TypedUnit]:
    sign = unit_below(unit, cursor.kind)
    if sign is None:
        refuse_second_number(cursor, cursor.next)
    part = amount(cursor)
    if cursor.next.kind != "unit":
        _ask_for_unit(cursor, sign)
    below = typed_unit(cursor)
    if below is None or below != unit_named(sign, cursor.kind):
        raise NotANumber(cursor.original, "The units in “{typed}” do not go together. Type one unit.")
    if before.place is not None or before.value.denominator != 1:
        raise NotANumber(cursor.original, "In “{typed}” only the last number can have decimals or a fraction.")
    _check_most(cursor, part, (unit.size / below.size).ratio, sign)
    return part, below


def _ask_for_unit(cursor: Cursor, sign: str) -> NoReturn:
    meant = cursor.replaced(cursor.last, cursor.last, [cursor.last.text + sign])
    sentence = "“{typed}” has no unit after its last number. Type {meant} if that is meant."
    raise Ambiguous(cursor.original, sentence, meant, meant=meant[0])


def _check_most(cursor: Cursor, part: Number, most: Fraction, sign: str) -> None:
    if part.value >= most:
        sentence = "In “{typed}” the number before {sign} must be below {most}."
        raise NotANumber(cursor.original, sentence, sign=sign, most=decimal_digits(most))


def typed_unit(cursor: Cursor) -> TypedUnit | None:
    """Take the unit at the cursor, None where there is none. Raises `WrongUnit` where the field takes another."""
    token = cursor.take("unit")
    if token is None:
        return None
    return unit_named(token.text, cursor.kind) or refuse_unit(cursor, token)


def refuse_unit(cursor: Cursor, token: Token) -> NoReturn:
    """Refuse a unit that is unknown, measures something else or is one too many."""
    want = wanted(cursor.kind, cursor.view)
    if token.kind == "word":
        sentence = "“{unit}” is not a unit that is known here; this field wants {wanted}."
        raise WrongUnit(cursor.original, sentence, unit=token.text, wanted=want)
    dimension = dimension_of(token.text)
    if dimension in accepted(cursor.kind):
        raise NotANumber(cursor.original, "“{typed}” has more than one unit. Type one.")
    sentence = "“{unit}” is {dimension}; this field wants {wanted}."
    raise WrongUnit(cursor.original, sentence, unit=token.text, dimension=noun(dimension), wanted=want)
