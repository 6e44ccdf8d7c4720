"""How a text that is no thread is refused."""

from __future__ import annotations

from calc.language.messages import Message, Value
from calc.language.problems import Fault, OutOfRange

EXAMPLES = "M24x2-6g, 3/4-16 UNF-2A, Tr 40x7, ACME 1-5, G 1/2 A, R 3/4, NPT 3/4 or Rd 40x1/6"


def refused(sentence: str, typed: str, **values: Value) -> OutOfRange:
    """The problem of a designation, where `typed` is no thread: the `sentence` with its `values`, and examples."""
    known: dict[str, Value] = {"examples": EXAMPLES, "typed": typed.strip()[:30]} | values
    values = {name: value for name, value in known.items() if f"{{{name}}}" in sentence}
    return OutOfRange(Fault("designation", Message(sentence, values)))
