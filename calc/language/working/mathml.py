"""A formula as MathML."""

from __future__ import annotations

from html import escape

from calc.language.working.symbols import Symbol
from calc.language.working.tree import (
    Node,
)
from calc.language.working.writing import Level, Writer, gap


class _MathML(Writer):
    """MathML Core: fractions, roots, powers and rows of identifiers, numbers and signs."""

    fraction_level = Level.FACTOR

    def symbol(self, symbol: Symbol) -> str:
        base = f"<mi>{escape(symbol.base)}</mi>"
        return f"<msub>{base}<mi>{escape(symbol.sub)}</mi></msub>" if symbol.sub else base

    def value(self, digits: str, unit: str = "") -> str:
        positive = digits.removeprefix("-")
        sign = "<mo>−</mo>" if positive != digits else ""
        label = f'<mi mathvariant="normal">{gap(unit, chr(0xA0))}{escape(unit)}</mi>' if unit else ""
        number = f"{sign}<mn>{positive}</mn>{label}"
        return f"<mrow>{number}</mrow>" if sign or label else number

    def number(self, digits: str) -> str:
        return f"<mn>{digits}</mn>"

    def identifier(self, text: str) -> str:
        return f'<mi mathvariant="normal">{escape(text)}</mi>'

    def operator(self, sign: str) -> str:
        return f"<mo>{'−' if sign == '-' else escape(sign)}</mo>"

    def minus(self) -> str:
        return "<mo>−</mo>"

    def separator(self, sign: str) -> str:
        return f"<mo>{sign}</mo>"

    def word(self, text: str) -> str:
        return f"<mi>\u00a0{text}\u00a0</mi>"

    def times(self, sign: bool) -> str:
        return "<mo>×</mo>" if sign else "<mo>\u2062</mo>"

    def joined(self, *parts: str) -> str:
        return f"<mrow>{''.join(parts)}</mrow>" if len(parts) > 1 else parts[0]

    def bracketed(self, text: str, pair: str = "()") -> str:
        return f"<mrow><mo>{pair[0]}</mo>{text}<mo>{pair[1]}</mo></mrow>"

    def applied(self, name: str, arguments: str) -> str:
        return f"<mrow><mi>{name}</mi><mo>\u2061</mo>{arguments}</mrow>"

    def fraction(self, over: tuple[Node, ...], under: tuple[Node, ...]) -> str:
        return f"<mfrac>{self.whole(over)}{self.whole(under)}</mfrac>"

    def power(self, base: Node, exponent: Node) -> str:
        return f"<msup>{self.text(base, Level.ATOM)}{self.text(exponent)}</msup>"

    def root(self, body: Node) -> str:
        return f"<msqrt>{self.text(body)}</msqrt>"


MATHML: type[Writer] = _MathML
