"""What a formula is made of: a small tree between Python's syntax and what stands on the page.

A sign is never part of a number: a negative term is a `Product` marked negative, so that two minus signs cannot meet.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction


@dataclass(frozen=True, slots=True)
class Number:
    """A number that stands in the formula; `of_units` if it came from the units rather than from the source."""

    value: Fraction
    of_units: bool = False


@dataclass(frozen=True, slots=True)
class Pi:
    """The circle's number."""


@dataclass(frozen=True, slots=True)
class Slot:
    """The place of an argument or named constant; `degrees` where its number is to bear the degree sign."""

    index: int
    degrees: bool = False


@dataclass(frozen=True, slots=True)
class Sum:
    """Terms added up; a negative `Product` among them is subtracted."""

    terms: tuple[Node, ...]


@dataclass(frozen=True, slots=True)
class Product:
    """What stands over a fraction bar and what under it; without anything under it a plain product."""

    over: tuple[Node, ...]
    under: tuple[Node, ...] = ()
    negative: bool = False


@dataclass(frozen=True, slots=True)
class Power:
    """A base with an exponent."""

    base: Node
    exponent: Node


@dataclass(frozen=True, slots=True)
class Root:
    """A square root."""

    body: Node


@dataclass(frozen=True, slots=True)
class Call:
    """A mathematical function of its arguments."""

    name: str
    arguments: tuple[Node, ...]


@dataclass(frozen=True, slots=True)
class Choice:
    """One value if a condition holds, another if not."""

    condition: Node
    chosen: Node
    otherwise: Node


@dataclass(frozen=True, slots=True)
class Comparison:
    """Neighbouring terms compared."""

    operators: tuple[str, ...]
    terms: tuple[Node, ...]


@dataclass(frozen=True, slots=True)
class Logic:
    """Conditions joined by "and" or "or", or one of them turned round by "not"."""

    word: str
    conditions: tuple[Node, ...]


@dataclass(frozen=True, slots=True)
class Degrees:
    """A number or expression that counts degrees though no angle stands in it."""

    body: Node


Node = Number | Pi | Slot | Sum | Product | Power | Root | Call | Choice | Comparison | Logic | Degrees

ZERO = Number(Fraction(0))
TWO = Number(Fraction(2))


def negated(node: Node) -> Node:
    """The tree with the opposite sign; a sum turns all its terms round.

    >>> negated(negated(Pi()))
    Pi()
    """
    if node == ZERO:
        return node
    if isinstance(node, Sum):
        return summed(tuple(negated(term) for term in node.terms))
    if isinstance(node, Product):
        return bare(replace(node, negative=not node.negative))
    return Product((node,), negative=True)


def turned(node: Node) -> Node:
    """The tree with the opposite sign; a sum stays together in brackets."""
    return Product((node,), negative=True) if isinstance(node, Sum) else negated(node)


def is_negative(node: Node) -> bool:
    """Whether the tree begins with a minus sign."""
    return isinstance(node, Product) and node.negative


def bare(product: Product) -> Node:
    """The only factor of a product that has one and no sign, otherwise the product."""
    alone = len(product.over) == 1 and not product.under and not product.negative
    return product.over[0] if alone else product


def summed(terms: tuple[Node, ...]) -> Sum:
    """The sum of `terms`, without sums inside it, beginning with a positive term if there is any."""
    flat = tuple(part for term in terms for part in (term.terms if isinstance(term, Sum) else (term,)))
    first = next((place for place, term in enumerate(flat) if not is_negative(term)), 0)
    return Sum((flat[first], *flat[:first], *flat[first + 1 :]))


def multiplied(left: Node, right: Node) -> Product:
    """The product of both; a fraction takes the other factor over its bar.

    >>> multiplied(Product((Pi(),), (TWO,)), Pi())
    Product(over=(Pi(), Pi()), under=(Number(value=Fraction(2, 1), of_units=False),), negative=False)
    """
    a, b = _as_product(left), _as_product(right)
    return Product(a.over + b.over, a.under + b.under, a.negative != b.negative)


def divided(left: Node, right: Node) -> Product:
    """The fraction of both; a fraction under the bar stays one, as it was written."""
    a, b = _as_product(left), _as_product(right)
    under = (Product(b.over, b.under),) if b.under else b.over
    return Product(a.over, a.under + under, a.negative != b.negative)


def _as_product(node: Node) -> Product:
    return node if isinstance(node, Product) else Product((node,))


def children(node: Node) -> tuple[Node, ...]:  # noqa: PLR0911 (one case per kind of node)
    """The trees directly inside a tree."""
    match node:
        case Number() | Pi() | Slot():
            return ()
        case Sum(terms) | Comparison(_, terms):
            return terms
        case Product(over, under):
            return over + under
        case Power(base, exponent):
            return (base, exponent)
        case Root(body) | Degrees(body):
            return (body,)
        case Call(_, parts) | Logic(_, parts):
            return parts
        case Choice():
            return (node.condition, node.chosen, node.otherwise)


def contains(node: Node, wanted: Callable[[Node], bool]) -> bool:
    """Whether the tree or anything in it is `wanted`."""
    return wanted(node) or any(contains(child, wanted) for child in children(node))


def literal(node: Node) -> Fraction | None:
    """The exact value of a tree of nothing but numbers and their products, otherwise None.

    >>> literal(Product((TWO,), (Number(Fraction(3)),), negative=True))
    Fraction(-2, 3)
    """
    if isinstance(node, Number):
        return node.value
    if not isinstance(node, Product):
        return None
    value = Fraction(-1 if node.negative else 1)
    for factor in node.over:
        part = literal(factor)
        if part is None:
            return None
        value *= part
    for divisor in node.under:
        part = literal(divisor)
        if not part:
            return None
        value /= part
    return value
