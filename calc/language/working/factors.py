"""An exact factor brought into a formula's tree, where it takes the fewest digits."""

from __future__ import annotations

from fractions import Fraction

from calc.language.factor import Factor
from calc.language.working.tree import (
    ZERO,
    Choice,
    Node,
    Number,
    Pi,
    Power,
    Product,
    Slot,
    bare,
    contains,
    negated,
)

MINUS_ONE = Factor(Fraction(-1))
MOST_DIGITS = 8  # of a factor over and under the bar together, before a foot or an inch is left to stand in it
LENGTHS = (Fraction(3048, 10_000), Fraction(254, 10_000))  # a foot and an inch in metres, exact by ISO 80000-3


def applied(factor: Factor, node: Node) -> Node:
    """The tree times a factor: nothing, a turned sign, or numbers before the bar, behind it, or in the arms.

    >>> applied(Factor(Fraction(1, 60_000)), Product((Slot(0), Slot(1)))).under
    (Number(value=Fraction(60000, 1), of_units=True),)
    """
    if factor.is_one or node == ZERO:
        return node
    if factor.ratio < 0:
        return applied(factor * MINUS_ONE, negated(node))
    if isinstance(node, Choice):
        return Choice(node.condition, applied(factor, node.chosen), applied(factor, node.otherwise))
    return bare(_merged(factor, node if isinstance(node, Product) else Product((node,))))


def _merged(factor: Factor, product: Product) -> Product:
    """The product with a positive factor in it: pi cancelled, numbers that came from units made one."""
    over, under, power = _cancelled(product, factor.pi_power)
    fold_all = power != factor.pi_power or not contains(product, lambda node: isinstance(node, Slot))
    ratio, over = _folded(over, fold_all)
    divisor, under = _folded(under, fold_all)
    top, bottom = _split(factor.ratio * ratio / divisor)
    over, under = _led(top, power, over), _led(bottom, -power, under)
    return Product(over or (Number(Fraction(1)),), under, product.negative)


def _cancelled(product: Product, power: int) -> tuple[tuple[Node, ...], tuple[Node, ...], int]:
    over, under = list(product.over), list(product.under)
    while power > 0 and Pi() in under:
        under.remove(Pi())
        power -= 1
    while power < 0 and Pi() in over:
        over.remove(Pi())
        power += 1
    return tuple(over), tuple(under), power


def _folded(parts: tuple[Node, ...], fold_all: bool) -> tuple[Fraction, tuple[Node, ...]]:
    """The product of the numbers that may be made one, and the parts that stay."""
    value, rest = Fraction(1), []
    for part in parts:
        if isinstance(part, Number) and part.value and (fold_all or part.of_units):
            value *= part.value
        else:
            rest.append(part)
    return value, tuple(rest)


def _led(number: Fraction, pi_power: int, parts: tuple[Node, ...]) -> tuple[Node, ...]:
    """The parts with a number before them, and pi after all numbers that lead them."""
    leading = next((place for place, part in enumerate(parts) if not isinstance(part, Number)), len(parts))
    return (*_number(number), *parts[:leading], *_pi(pi_power), *parts[leading:])


def _number(value: Fraction) -> tuple[Node, ...]:
    return () if value == 1 else (Number(value, of_units=True),)


def _pi(power: int) -> tuple[Node, ...]:
    if power <= 0:
        return ()
    return (Pi(),) if power == 1 else (Power(Pi(), Number(Fraction(power))),)


def _split(ratio: Fraction) -> tuple[Fraction, Fraction]:
    """The ratio as exact decimals to stand over and under the bar, whichever way takes the fewest digits.

    Where these are numbers that nobody knows, a foot or an inch in metres stands under the bar: 9.80665 / 0.0254 is
    standard gravity in inches; 196133 / 508 says nothing.

    >>> _split(Fraction(5, 127)), _split(Fraction(1, 60_000))
    ((Fraction(1, 1), Fraction(127, 5)), (Fraction(1, 1), Fraction(60000, 1)))
    >>> [decimal_text(part) for part in _split(Fraction(196_133, 508))]
    ['9.80665', '0.0254']
    """
    one = Fraction(1)
    ways = [(Fraction(ratio.numerator), Fraction(ratio.denominator)), (ratio, one), (one, 1 / ratio)]
    exact = min((way for way in ways if all(map(_is_decimal, way))), key=_digits)
    if _digits(exact) <= MOST_DIGITS or one in exact:
        return exact
    known = [*((ratio * each, each) for each in LENGTHS), *((each, each / ratio) for each in LENGTHS)]
    shorter = (
        way for way in known if all(map(_is_decimal, way)) and max(map(_places, way)) <= max(map(_places, exact))
    )
    return min(shorter, key=_digits, default=exact)


def _is_decimal(value: Fraction) -> bool:
    rest = value.denominator
    for prime in (2, 5):
        while rest % prime == 0:
            rest //= prime
    return rest == 1


def _digits(way: tuple[Fraction, Fraction]) -> int:
    return sum(_places(value) for value in way if value != 1)


def _places(value: Fraction) -> int:
    return len(decimal_text(value).replace(".", ""))


def decimal_text(value: Fraction) -> str:
    """A fraction that ends as a decimal, exactly.

    >>> decimal_text(Fraction(127, 5)), decimal_text(Fraction(60_000)), decimal_text(Fraction(1, 8))
    ('25.4', '60000', '0.125')
    """
    places = 0
    while (value * 10**places).denominator != 1:
        places += 1
    digits = str(int(value * 10**places)).rjust(places + 1, "0")
    return f"{digits[:-places]}.{digits[-places:]}" if places else digits
