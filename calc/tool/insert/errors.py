"""What is wrong with a designation, said so that the right letter can be found."""

from __future__ import annotations

from collections.abc import Iterable

from calc.language.messages import Message, Value
from calc.language.problems import Fault, OutOfRange

LONGEST = 60
"""No designation is as long as this, maker's own mark included."""


def wrong(field: str, position: int | str, title: str, typed: str, allowed: Iterable[str]) -> OutOfRange:
    """The error for a letter or number that the position does not have.

    >>> str(wrong("designation", 2, "clearance", "Q", "ABC"))
    'designation: Position 2, clearance: “Q” is not one of A, B, C.'
    """
    values: dict[str, Value] = {
        "position": position,
        "title": title,
        "typed": typed[:12],
        "allowed": ", ".join(allowed),
    }
    return OutOfRange(Fault(field, Message("Position {position}, {title}: “{typed}” is not one of {allowed}.", values)))


def refused(field: str, text: str, **values: Value) -> OutOfRange:
    """The error with a sentence of its own.

    >>> str(refused("holder", "“{typed}” is too short.", typed="S"))
    'holder: “S” is too short.'
    """
    return OutOfRange(Fault(field, Message(text, values)))


def cleaned(text: str, field: str) -> str:
    """The text in capitals with plain hyphens and single spaces.

    Raises OutOfRange when it is absurdly long or has signs that no designation has.

    >>> cleaned("  dcmt 11t304 – f ", "designation")
    'DCMT 11T304 - F'
    """
    plain = "".join("-" if char in "‐‑‒–—−_" else char for char in text)
    plain = " ".join(plain.replace(",", ".").split())
    strange = next((char for char in plain if not char.isascii() or not char.isprintable()), None)
    if strange is not None:
        raise refused(field, "“{sign}” is not part of a designation.", sign=strange if strange.isprintable() else "?")
    plain = plain.upper()
    if len(plain) > LONGEST:
        raise refused(field, "A designation has about fifteen letters and digits; this has {count}.", count=len(plain))
    return plain
