"""The two sides of the direction of travel."""

from __future__ import annotations

from typing import Literal, TypeAlias

Side: TypeAlias = Literal["left", "right"]
"""A side of the direction of travel."""


def other_side(side: Side) -> Side:
    """The side across from one, or that of the same place when it is travelled the other way.

    >>> other_side("left"), other_side("right")
    ('right', 'left')
    """
    return "right" if side == "left" else "left"


def toward(side: Side) -> float:
    """The sign that a turn, a curvature or a step to a side has: 1 to the left of travel, -1 to the right.

    >>> toward("left"), toward("right")
    (1.0, -1.0)
    """
    return 1.0 if side == "left" else -1.0
