"""A tool of which only the nose and the entering angle are known: the edges that the angle describes."""

from __future__ import annotations

import math
from dataclasses import dataclass

from calc.language.messages import Message, Quantity
from calc.language.problems import Fault, Impossible
from calc.language.quantities import ANGLE, LENGTH
from calc.machining.reach.tool import Hold, Tool, make_tool
from calc.tool.insert.tables import Shape, shapes

LIKELY = "CDV"
"""Shapes that are assumed, the strongest first (common practice, no source)."""

LEAST_BEHIND = math.radians(3.0)
"""What an insert leaves behind its nose at least (common practice, no source)."""

USUAL_SIZE = 12.7
"""Inscribed circle of an insert of which nothing is known, mm (common practice, no source)."""

SIZE_OF_NOSE = 5.0
"""The inscribed circle is at least so many times the nose radius."""


@dataclass(frozen=True, slots=True)
class Described:
    """The tool, and what had to be assumed of its insert."""

    tool: Tool
    assumed: Message


def described_tool(nose: float, hold: Hold, angle: float | None = None) -> Described:
    """The tool with a nose (mm) whose leading edge stands as `hold` says, the insert's included `angle` (rad) assumed.

    Without an angle the strongest of the usual shapes is taken that leaves 3 degrees or more behind the nose. Raises
    `Impossible` at `entering_angle` where none does.

    >>> found = described_tool(0.4, Hold(math.radians(95.0)))
    >>> round(math.degrees(found.tool.low)), round(math.degrees(found.tool.angle)), len(found.tool.core)
    (5, 80, 4)
    >>> round(math.degrees(described_tool(0.4, Hold(math.radians(107.5))).tool.angle))
    55
    """
    shape = _likely(hold) if angle is None else Shape("", "", "rhombus", angle)
    size = max(USUAL_SIZE, SIZE_OF_NOSE * nose)
    text = (
        "No insert is named: taken with an included angle of {angle} and an inscribed circle of {size}, its edge at "
        "the entering angle of {entering}. Name insert and holder to be sure of what it reaches."
    )
    values = {
        "angle": Quantity(shape.included, ANGLE, brief=True),
        "size": Quantity(size, LENGTH, brief=True),
        "entering": Quantity(hold.entering_angle, ANGLE, brief=True),
    }
    return Described(make_tool(shape, size, nose, hold, None), Message(text, values))


def _likely(hold: Hold) -> Shape:
    for letter in LIKELY:
        shape = shapes()[letter]
        if shape.angle is not None and hold.entering_angle + shape.angle <= math.pi - LEAST_BEHIND:
            return shape
    text = "No usual insert has an edge at {entering} and another behind it: name the insert and its holder."
    raise Impossible(
        Fault("entering_angle", Message(text, {"entering": Quantity(hold.entering_angle, ANGLE, brief=True)}))
    )
