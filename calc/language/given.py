"""A number as somebody typed it, with what its digits and its limits say."""

from __future__ import annotations

from typing import Self


class Given(float):
    """A number as somebody typed it: a float that remembers half of its last decimal.

    A print's numbers are rounded, so a dimension that the others already fix agrees when it lies within `slack` of
    what they give. One with limits is the middle of them, where the points aim; `nominal`, `lower` and `upper` keep
    what the print says, all in internal units.

    >>> Given(56.2, slack=0.05) == 56.2, slack_of(Given(56.2, slack=0.05)), slack_of(56.2)
    (True, 0.05, 0.0005)
    """

    slack: float
    nominal: float | None
    lower: float | None
    upper: float | None

    def __new__(
        cls,
        value: float,
        slack: float = 0.0005,
        nominal: float | None = None,
        limits: tuple[float, float] | None = None,
    ) -> Self:
        """Make the number from its internal value and its slack; one with `limits` has a `nominal` too."""
        number = super().__new__(cls, value)
        number.slack = slack
        number.nominal = nominal
        number.lower, number.upper = (None, None) if limits is None else (min(limits), max(limits))
        return number


LEAST = 1e-15
"""The smallest number above 0, in internal units, that is computed with: its powers are still numbers."""

LEAST_SLACK = {"mm": 0.0005, "inch": 0.00005 * 25.4}


def slack_of(value: float) -> float:
    """By how much a redundant dimension in mm may differ and still agree.

    >>> slack_of(3.0)
    0.0005
    """
    return value.slack if isinstance(value, Given) else LEAST_SLACK["mm"]
