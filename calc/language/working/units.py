"""A formula in the reader's units: where the units do not fit each other, their exact factors enter the tree.

Every part of a tree has a *factor*: how many internal units one of what the part shows is. Factors multiply upward
through products, powers and roots; where parts must agree (sums, min and max, comparisons, the arms of a condition)
they are brought to a common factor; at the top, what does not fit the result's unit becomes a number on the page.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from calc.language.factor import DEGREE, ONE, Factor
from calc.language.working.factors import MINUS_ONE, applied
from calc.language.working.tree import (
    ZERO,
    Call,
    Choice,
    Comparison,
    Degrees,
    Logic,
    Node,
    Number,
    Pi,
    Power,
    Product,
    Root,
    Slot,
    Sum,
    bare,
    literal,
    negated,
    summed,
    turned,
)


class NoUnits(ValueError):
    """A part of a formula has a unit where it must not have one."""


Scaled = tuple[Factor, Node]

TURNED_ROUND = {"min": "max", "max": "min", "<": ">", ">": "<", "≤": "≥", "≥": "≤", "=": "=", "≠": "≠"}
INVERSE = frozenset(("asin", "acos", "atan", "atan2"))
HALF = Fraction(1, 2)


def in_units(tree: Node, result: Factor, sizes: Sequence[Factor]) -> Node:
    """The tree whose value is the result in its unit when each slot holds its number in the unit of its size.

    Raises NoUnits where a power that is not whole has a base with a unit.

    >>> in_units(Slot(0), ONE, [Factor(Fraction(12))])
    Product(over=(Number(value=Fraction(12, 1), of_units=True), Slot(index=0, degrees=False)), under=(), negative=False)
    """
    factor, scaled = _Units(tuple(sizes)).scaled(tree, result)
    return applied(factor / result, scaled)


@dataclass(frozen=True, slots=True)
class _Units:
    sizes: tuple[Factor, ...]

    def scaled(self, node: Node, want: Factor | None = None) -> Scaled:  # noqa: PLR0911 (one case per kind of node)
        """The node as shown and its factor; where the factor is free to choose, `want` is taken."""
        match node:
            case Number() | Pi() | Degrees():
                return ONE, node
            case Slot(index):
                return self.sizes[index], node
            case Sum(terms):
                factor, parts = _agreed([self.scaled(term, want) for term in terms], want)
                return factor, summed(parts)
            case Product():
                return self.product(node, want)
            case Power(base, exponent):
                return self.power(base, exponent, want)
            case Root(body):
                return self.root(body, want)
            case Call(name, arguments):
                return self.call(name, arguments, want)
            case Choice(condition, chosen, otherwise):
                arms = [self.scaled(chosen, want), self.scaled(otherwise, want)]
                factor, (first, second) = _agreed(arms, want)
                return factor, Choice(self.condition(condition), first, second)
        return ONE, self.condition(node)

    def product(self, node: Product, want: Factor | None) -> Scaled:
        over, under = self.factors(node, want)
        factor = MINUS_ONE if node.negative else ONE
        parts = Product(())
        for part_factor, part in over:
            factor *= part_factor
            parts = _spliced(parts, part)
        for part_factor, _ in under:
            factor /= part_factor
        return factor, bare(replace(parts, under=parts.under + tuple(part for _, part in under)))

    def factors(self, node: Product, want: Factor | None) -> tuple[list[Scaled], list[Scaled]]:
        """What stands over and under the bar; one part that is free to choose takes what the others leave of `want`."""
        over = [self.scaled(part) for part in node.over]
        under = [self.scaled(part) for part in node.under]
        free = [place for place, part in enumerate(node.over) if _is_free(part)]
        if want is not None and len(free) == 1:
            rest = MINUS_ONE if node.negative else ONE
            for place, (factor, _) in enumerate(over):
                rest = rest if place == free[0] else rest * factor
            for factor, _ in under:
                rest /= factor
            over[free[0]] = self.scaled(node.over[free[0]], want / rest)
        return over, under

    def power(self, base: Node, exponent: Node, want: Factor | None) -> Scaled:
        value = literal(exponent)
        if value == HALF:
            return self.root(base, want)
        if value is not None and value.denominator == 1:
            factor, shown = self.scaled(base, _root(want) if want and value == 2 else None)
            return factor ** int(value), Power(shown, exponent)
        factor, shown = self.scaled(base, ONE)
        if not factor.is_one:
            raise NoUnits("give the power its reference, as in (h / h0)**m: the base of a broken power has no unit")
        return ONE, Power(shown, self.plain(exponent))

    def root(self, body: Node, want: Factor | None) -> Scaled:
        factor, shown = self.scaled(body, want * want if want else None)
        rooted = _root(factor)
        if rooted:
            return rooted, Root(shown)
        outside = _unsigned(want or ONE)
        return outside, Root(applied(factor / (outside * outside), shown))

    def call(self, name: str, arguments: tuple[Node, ...], want: Factor | None) -> Scaled:
        match name:
            case "abs":
                factor, shown = self.scaled(arguments[0], want)
                return _unsigned(factor), Call(name, (shown,))
            case "min" | "max":
                factor, parts = _agreed([self.scaled(argument, want) for argument in arguments], want)
                return factor, Call(TURNED_ROUND[name] if factor.ratio < 0 else name, parts)
            case "atan2":
                factor, parts = _agreed([self.scaled(argument) for argument in arguments], None)
                sided = parts if factor.ratio > 0 else tuple(negated(part) for part in parts)
                return DEGREE, Call(name, sided)
            case "sin" | "cos" | "tan":
                return self.turn(name, arguments[0])
        plain = tuple(self.plain(argument) for argument in arguments)
        return DEGREE if name in INVERSE else ONE, Call(name, plain)

    def turn(self, name: str, argument: Node) -> Scaled:
        """A function of an angle: its argument is shown in degrees, its sign before the function."""
        factor, shown = self.scaled(argument, DEGREE)
        side = MINUS_ONE if factor.ratio < 0 and name != "cos" else ONE
        return side, Call(name, (self.marked(applied(_unsigned(factor / DEGREE), shown)),))

    def plain(self, node: Node) -> Node:
        """The node where only a plain number makes sense: its factor goes inside."""
        factor, shown = self.scaled(node, ONE)
        return applied(factor, shown)

    def condition(self, node: Node) -> Node:
        match node:
            case Comparison(operators, terms):
                factor, parts = _agreed([self.scaled(term) for term in terms], None)
                sided = operators if factor.ratio > 0 else tuple(TURNED_ROUND[operator] for operator in operators)
                return Comparison(sided, parts)
            case Logic(word, conditions):
                return Logic(word, tuple(self.condition(part) for part in conditions))
        return self.plain(node)

    def marked(self, node: Node) -> Node:  # noqa: PLR0911 (one case per kind of node)
        """The argument of sine, cosine or tangent with the degree sign where a reader needs it."""
        match node:
            case Slot(index) if self.is_angle(node):
                return Slot(index, degrees=True)
            case Sum(terms):
                return Sum(tuple(self.marked(term) for term in terms))
            case Call(name, arguments) if name in ("min", "max", "abs"):
                return Call(name, tuple(self.marked(argument) for argument in arguments))
            case Call(name, _) if name in INVERSE:
                return node
            case Choice(condition, chosen, otherwise):
                return Choice(condition, self.marked(chosen), self.marked(otherwise))
            case Product(over, under, negative):
                place = next((place for place, part in enumerate(over) if self.is_angle(part)), None)
                if place is not None:
                    return Product((*over[:place], self.marked(over[place]), *over[place + 1 :]), under, negative)
                return turned(Degrees(bare(Product(over, under)))) if negative else Degrees(node)
        return Degrees(node)

    def is_angle(self, node: Node) -> bool:
        """Whether an angle of its own stands in the node, so that its number counts degrees."""
        match node:
            case Slot(index):
                return self.sizes[index].pi_power != 0
            case Call(name, arguments):
                return name in INVERSE or (name in ("min", "max", "abs") and any(map(self.is_angle, arguments)))
            case Sum(parts) | Product(parts):
                return any(map(self.is_angle, parts))
            case Choice(_, chosen, otherwise):
                return self.is_angle(chosen) or self.is_angle(otherwise)
        return False


def _is_free(node: Node) -> bool:
    return isinstance(node, Sum | Choice | Root) or (isinstance(node, Call) and node.name in ("min", "max", "abs"))


def _unsigned(factor: Factor) -> Factor:
    return Factor(abs(factor.ratio), factor.pi_power)


def _spliced(product: Product, part: Node) -> Product:
    if not isinstance(part, Product):
        return replace(product, over=(*product.over, part))
    return Product(product.over + part.over, product.under + part.under, product.negative != part.negative)


def _agreed(parts: list[Scaled], want: Factor | None) -> tuple[Factor, tuple[Node, ...]]:
    """The parts brought to a factor that some of them have: to `want` if it is one of those, else the commonest."""
    factors = [factor for factor, part in parts if part != ZERO]
    sizes = Counter(map(_unsigned, factors))
    if not factors:
        common = want or ONE
    elif len(sizes) > 1 and want is not None and _unsigned(want) in sizes:
        common = want
    else:
        common = _sided(sizes.most_common(1)[0][0], factors, want)
    return common, tuple(_term(factor / common, part) for factor, part in parts)


def _sided(size: Factor, factors: list[Factor], want: Factor | None) -> Factor:
    """`size` with the sign that the factors have, or if they have both the one of `want`."""
    signs = {factor.ratio > 0 for factor in factors}
    positive = signs.pop() if len(signs) == 1 else want is None or want.ratio > 0
    return size if positive else size * MINUS_ONE


def _term(factor: Factor, part: Node) -> Node:
    return turned(applied(_unsigned(factor), part)) if factor.ratio < 0 else applied(factor, part)


def _root(factor: Factor | None) -> Factor | None:
    """The exact root of a factor, or None if it has none."""
    if factor is None or factor.ratio <= 0 or factor.pi_power % 2:
        return None
    top, bottom = math.isqrt(factor.ratio.numerator), math.isqrt(factor.ratio.denominator)
    exact = top * top == factor.ratio.numerator and bottom * bottom == factor.ratio.denominator
    return Factor(Fraction(top, bottom), factor.pi_power // 2) if exact else None
