"""A trainee with a pocket calculator: reads a line of plain working and computes it, in degrees, with many digits.

It knows nothing of the project: numbers, symbols, brackets, × or a space for a product, / + - ^ and raised digits,
√, named functions, comparisons, "if ..., else ...".
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from mpmath import mp, mpf

RAISED = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹", "0123456789")
TOKEN = re.compile(
    r"(?P<space> +)|(?P<number>(\d{1,3}(\u202f\d{3})+|\d+)(\.\d+)?|\.\d+)|(?P<raised>[⁰¹²³⁴⁵⁶⁷⁸⁹]+)"
    r"|(?P<word>[^\W\d⁰¹²³⁴⁵⁶⁷⁸⁹][^\W⁰¹²³⁴⁵⁶⁷⁸⁹]*)|(?P<sign>[-+×/^()√⌈⌉⌊⌋,<>≤≥=≠°])"
)
FUNCTIONS: dict[str, Any] = {
    "sin": lambda x: mp.sin(mp.radians(x)),
    "cos": lambda x: mp.cos(mp.radians(x)),
    "tan": lambda x: mp.tan(mp.radians(x)),
    "arcsin": lambda x: mp.degrees(mp.asin(x)),
    "arccos": lambda x: mp.degrees(mp.acos(x)),
    "arctan": lambda x: mp.degrees(mp.atan(x)),
    "arctan2": lambda y, x: mp.degrees(mp.atan2(y, x)),
    "exp": mp.exp,
    "ln": mp.log,
    "abs": abs,
    "min": min,
    "max": max,
}
COMPARISONS: dict[str, Any] = {
    "<": lambda a, b: a < b,
    ">": lambda a, b: a > b,
    "≤": lambda a, b: a <= b,
    "≥": lambda a, b: a >= b,
    "=": lambda a, b: a == b,
    "≠": lambda a, b: a != b,
}


def compute(line: str, symbols: Mapping[str, Any] | None = None) -> Any:
    """The value of one side of a line of working."""
    reader = _Reader(_tokens(line), symbols or {})
    value = reader.choice()
    assert reader.token == ("end", ""), f"not understood: {line!r} at {reader.token}"
    return value


def _tokens(line: str) -> list[tuple[str, str]]:
    tokens, place = [], 0
    while place < len(line):
        match = TOKEN.match(line, place)
        assert match, f"not understood: {line[place:]!r} in {line!r}"
        assert match.lastgroup
        tokens.append((next(name for name, text in match.groupdict().items() if text is not None), match.group()))
        place = match.end()
    return [token for token in tokens if token[0] != "space"] + [("end", "")]


class _Reader:
    def __init__(self, tokens: list[tuple[str, str]], symbols: Mapping[str, Any]) -> None:
        self.tokens = tokens
        self.symbols = symbols

    @property
    def token(self) -> tuple[str, str]:
        return self.tokens[0]

    def take(self, text: str) -> bool:
        if self.token[1] != text or self.token[0] == "end":
            return False
        self.tokens.pop(0)
        return True

    def expect(self, text: str) -> None:
        assert self.take(text), f"expected {text!r}, found {self.token}"

    def choice(self) -> Any:
        value = self.sum()
        if not self.take("if"):
            return value
        condition = self.either()
        self.expect(",")
        self.expect("else")
        otherwise = self.choice()
        return value if condition else otherwise

    def either(self) -> bool:
        holds = self.both()
        while self.take("or"):
            holds = self.both() or holds
        return holds

    def both(self) -> bool:
        holds = self.comparison()
        while self.take("and"):
            holds = self.comparison() and holds
        return holds

    def comparison(self) -> bool:
        if self.take("not"):
            return not self.comparison()
        if self.token[1] == "(" and self.is_condition():
            self.expect("(")
            holds = self.either()
            self.expect(")")
            return holds
        holds, left = True, self.sum()
        while self.token[1] in COMPARISONS:
            compare = COMPARISONS[self.tokens.pop(0)[1]]
            right = self.sum()
            holds = holds and compare(left, right)
            left = right
        return holds

    def is_condition(self) -> bool:
        """Whether the bracket that opens here holds a condition."""
        depth = 0
        for _, text in self.tokens:
            depth += (text == "(") - (text == ")")
            if depth == 1 and (text in COMPARISONS or text in ("and", "or", "not")):
                return True
            if depth == 0:
                return False
        return False

    def sum(self) -> Any:
        value = -self.product() if self.take("-") else self.product()
        while self.token[1] in ("+", "-"):
            sign = self.tokens.pop(0)[1]
            assert self.token[1] != "-", "two signs meet"
            value = value + self.product() if sign == "+" else value - self.product()
        return value

    def product(self) -> Any:
        value = self.power()
        while True:
            if self.take("/"):
                divisor = self.power()
                value = value / divisor if divisor else mp.nan  # perhaps in the arm that is not taken
            elif self.take("×") or self.token[0] in ("number", "word") or self.token[1] in tuple("(√⌈⌊"):
                if self.token[1] in ("if", "and", "or", "else"):
                    return value
                value = value * self.power()
            else:
                return value

    def power(self) -> Any:
        base = self.atom()
        if self.token[0] == "raised":
            return base ** int(self.tokens.pop(0)[1].translate(RAISED))
        return base ** self.atom() if self.take("^") else base

    def atom(self) -> Any:
        kind, text = self.tokens.pop(0)
        value = self.valued(kind, text)
        self.take("°")
        return value

    def valued(self, kind: str, text: str) -> Any:
        if kind == "number":
            return mpf(text.replace("\u202f", ""))
        if text in ("(", "⌈", "⌊"):
            value = self.choice()
            self.expect({"(": ")", "⌈": "⌉", "⌊": "⌋"}[text])
            return {"(": lambda x: x, "⌈": mp.ceil, "⌊": mp.floor}[text](value)
        if text == "√":
            return mp.sqrt(self.atom())
        if text in FUNCTIONS and self.take("("):
            arguments = [self.choice()]
            while self.take(","):
                arguments.append(self.choice())
            self.expect(")")
            return FUNCTIONS[text](*arguments)
        assert kind == "word", f"unexpected {text!r}"
        return mp.pi if text == "π" else self.symbols[text]
