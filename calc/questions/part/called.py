"""What a proposal starts from beside the contours, threads and knurls, and what it is."""

from __future__ import annotations

from dataclasses import dataclass

from calc.language.messages import Message
from calc.questions.part.choosing import Side
from calc.questions.part.job import Operation, Roll, Setup
from calc.questions.part.reasons import Reason

Reasoned = tuple[Operation, Reason]
"""A proposed operation and why it is."""


@dataclass(frozen=True, slots=True)
class Called:
    """A thread that the print calls for on rows of its outside or inside."""

    designation: str
    first: int
    last: int
    where: Side = "outside"


@dataclass(frozen=True, slots=True)
class Knurled:
    """A knurl on a row of the print, as elements are counted from 1; `field` is where it was typed."""

    row: int
    roll: Roll
    field: str = ""


@dataclass(frozen=True)
class Proposed:
    """The setups with their operations, the reason of each operation, and what has to be settled otherwise."""

    setups: tuple[Setup, ...]
    reasons: tuple[tuple[Reason, ...], ...]
    open_points: tuple[Message, ...] = ()
