"""A tree as one line of plain text or as MathML, with as few brackets as its precedence needs.

The arguments' numbers come later and may be negative: a writer asks for the text of a slot and says whether a negative
number needs brackets there.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable
from enum import IntEnum

from calc.language.working.factors import decimal_text
from calc.language.working.symbols import Symbol
from calc.language.working.tree import (
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
    is_negative,
    literal,
    negated,
)

THIN = "\u202f"  # a narrow space that does not break
NAMES = {"asin": "arcsin", "acos": "arccos", "atan": "arctan", "atan2": "arctan2", "log": "ln"}
AROUND = {"abs": "||", "ceil": "⌈⌉", "floor": "⌊⌋"}
SUPERSCRIPT = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")

SlotText = Callable[[Slot, bool], str]
"""The text of a slot, in brackets if its number is negative and the flag is set."""


class Level(IntEnum):
    """How tightly a part holds together; a part looser than its surroundings ask for gets brackets."""

    LOOSE = 0
    COMPARED = 1
    SUM = 2
    PRODUCT = 3
    FACTOR = 4
    ATOM = 5


def grouped(digits: str) -> str:
    """Digits with a narrow space between the thousands of a number of five or more.

    >>> grouped("33000") == "33" + THIN + "000", grouped("1000"), grouped("25.4")
    (True, '1000', '25.4')
    """
    whole, point, rest = digits.partition(".")
    return (f"{int(whole):,}".replace(",", THIN) if len(whole) > 4 else whole) + point + rest


class Writer(ABC):
    """What plain text and MathML have in common: order, signs and brackets."""

    def __init__(self, slot: SlotText, with_numbers: bool) -> None:
        self.slot = slot
        self.with_numbers = with_numbers

    def text(self, node: Node, least: Level = Level.LOOSE) -> str:
        """The node as it stands where at least the level `least` is needed."""
        if isinstance(node, Slot):
            return self.slot(node, least > Level.SUM)
        written, level = self.written(node)
        return self.bracketed(written) if level < least else written

    def written(self, node: Node) -> tuple[str, Level]:  # noqa: PLR0911 (one case per kind of node)
        """The node without brackets, and how tightly it holds together."""
        match node:
            case Number(value):
                return self.number(grouped(decimal_text(value))), Level.ATOM
            case Pi():
                return self.identifier("π"), Level.ATOM
            case Sum(terms):
                return self._sum(terms), Level.SUM
            case Product():
                return self._signed(node)
            case Power(base, exponent):
                return self.power(base, exponent), Level.FACTOR
            case Root(body):
                return self.root(body), Level.ATOM
            case Call():
                return self._call(node), Level.ATOM
            case Choice():
                return self._choice(node), Level.LOOSE
            case Degrees(body):
                return self.joined(self.text(body, Level.ATOM), self.identifier("°")), Level.ATOM
        return self._condition(node), Level.COMPARED

    def _sum(self, terms: tuple[Node, ...]) -> str:
        parts = [self.text(terms[0], Level.SUM)]
        for term in terms[1:]:
            minus = is_negative(term)
            parts += [self.operator("-" if minus else "+"), self.text(negated(term) if minus else term, Level.PRODUCT)]
        return self.joined(*parts)

    def _signed(self, product: Product) -> tuple[str, Level]:
        if product.negative:
            return self.joined(self.minus(), self.text(negated(product), Level.PRODUCT)), Level.SUM
        if product.under:
            return self.fraction(product.over, product.under), self.fraction_level
        return self.factors(product.over), Level.PRODUCT

    def factors(self, parts: tuple[Node, ...]) -> str:
        """Factors side by side, with a sign between them where two numbers would meet."""
        written = [self.text(parts[0], Level.FACTOR)]
        for part in parts[1:]:
            written += [self.times(self.with_numbers or _begins_with_digit(part)), self.text(part, Level.FACTOR)]
        return self.joined(*written)

    def whole(self, parts: tuple[Node, ...]) -> str:
        """Factors that nothing else touches."""
        return self.text(parts[0]) if len(parts) == 1 else self.factors(parts)

    def _condition(self, node: Node) -> str:
        if isinstance(node, Comparison):
            parts = [self.text(node.terms[0], Level.SUM)]
            for operator, term in zip(node.operators, node.terms[1:], strict=True):
                parts += [self.operator(operator), self.text(term, Level.SUM)]
            return self.joined(*parts)
        assert isinstance(node, Logic)
        conditions = [self._part_of_logic(part) for part in node.conditions]
        if node.word == "not":
            return self.joined(self.word("not"), conditions[0])
        parts = [conditions[0]]
        for condition in conditions[1:]:
            parts += [self.word(node.word), condition]
        return self.joined(*parts)

    def _part_of_logic(self, node: Node) -> str:
        return self.bracketed(self._condition(node)) if isinstance(node, Logic) else self.text(node, Level.COMPARED)

    def _choice(self, node: Choice) -> str:
        return self.joined(
            self.text(node.chosen, Level.SUM),
            self.word("if"),
            self.text(node.condition),
            self.separator(","),
            self.word("else"),
            self.text(node.otherwise),
        )

    def _call(self, node: Call) -> str:
        arguments = [self.text(node.arguments[0])]
        for argument in node.arguments[1:]:
            arguments += [self.separator(","), self.text(argument)]
        inside = self.joined(*arguments)
        if node.name in AROUND:
            return self.bracketed(inside, AROUND[node.name])
        return self.applied(NAMES.get(node.name, node.name), self.bracketed(inside))

    fraction_level: Level

    @abstractmethod
    def symbol(self, symbol: Symbol) -> str:
        """The symbol of a quantity."""

    @abstractmethod
    def value(self, digits: str, unit: str = "") -> str:
        """A number of the calculation, perhaps negative, with its unit."""

    @abstractmethod
    def number(self, digits: str) -> str:
        """A number of the formula."""

    @abstractmethod
    def identifier(self, text: str) -> str:
        """A name in letters."""

    @abstractmethod
    def operator(self, sign: str) -> str:
        """A sign between two parts."""

    @abstractmethod
    def minus(self) -> str:
        """The sign before a part."""

    @abstractmethod
    def separator(self, sign: str) -> str:
        """A sign after a part."""

    @abstractmethod
    def word(self, text: str) -> str:
        """A word between two parts."""

    @abstractmethod
    def times(self, sign: bool) -> str:
        """What stands between two factors."""

    @abstractmethod
    def joined(self, *parts: str) -> str:
        """Parts beside each other."""

    @abstractmethod
    def bracketed(self, text: str, pair: str = "()") -> str:
        """A part between a pair of brackets."""

    @abstractmethod
    def applied(self, name: str, arguments: str) -> str:
        """A function's name before its bracketed arguments."""

    @abstractmethod
    def fraction(self, over: tuple[Node, ...], under: tuple[Node, ...]) -> str:
        """A fraction of two products."""

    @abstractmethod
    def power(self, base: Node, exponent: Node) -> str:
        """A base with its exponent."""

    @abstractmethod
    def root(self, body: Node) -> str:
        """A square root."""


class _Plain(Writer):
    """One line of text, as it can be typed into a message."""

    fraction_level = Level.PRODUCT

    def symbol(self, symbol: Symbol) -> str:
        return symbol.plain

    def value(self, digits: str, unit: str = "") -> str:
        return f"{digits}{gap(unit, ' ')}{unit}"

    def number(self, digits: str) -> str:
        return digits

    def identifier(self, text: str) -> str:
        return text

    def operator(self, sign: str) -> str:
        return f" {sign} "

    def minus(self) -> str:
        return "-"

    def separator(self, sign: str) -> str:
        return f"{sign} "

    def word(self, text: str) -> str:
        return f"{text} " if text in ("not", "else") else f" {text} "

    def times(self, sign: bool) -> str:
        return " × " if sign else " "

    def joined(self, *parts: str) -> str:
        return "".join(parts)

    def bracketed(self, text: str, pair: str = "()") -> str:
        return f"abs({text})" if pair == "||" else f"{pair[0]}{text}{pair[1]}"

    def applied(self, name: str, arguments: str) -> str:
        return f"{name}{arguments}"

    def fraction(self, over: tuple[Node, ...], under: tuple[Node, ...]) -> str:
        below = self.text(under[0], Level.FACTOR) if len(under) == 1 else self.bracketed(self.factors(under))
        return f"{self.factors(over)} / {below}"

    def power(self, base: Node, exponent: Node) -> str:
        value = literal(exponent)
        if value is not None and value.denominator == 1 and value >= 0:
            return self.text(base, Level.ATOM) + str(value).translate(SUPERSCRIPT)
        return f"{self.text(base, Level.ATOM)}^{self.text(exponent, Level.ATOM)}"

    def root(self, body: Node) -> str:
        return f"√{self.text(body)}" if isinstance(body, Number) else f"√({self.text(body)})"


def _begins_with_digit(node: Node) -> bool:
    match node:
        case Product(over):
            return _begins_with_digit(over[0])
        case Power(base):
            return _begins_with_digit(base)
    return isinstance(node, Number)


def gap(unit: str, space: str) -> str:
    """What stands between a number and its `unit` label: `space`, but nothing before a degree sign."""
    return "" if unit in ("", "°") else space


PLAIN: type[Writer] = _Plain
