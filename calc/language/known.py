"""A number that was measured or calculated from measurements: how well it is known goes along with it."""

from __future__ import annotations

from typing import Self

from calc.language.quantities import METRIC, Kind, View


class Known(float):
    """A float with its `spread`: half the width of the interval that holds the true value in 95 of 100 cases.

    A declared result may be one wherever a number may stand: JSON gives the spread beside the value, a page behind it.

    >>> Known(0.02, 0.004) == 0.02, Known(0.02, 0.004).spread
    (True, 0.004)
    """

    spread: float

    def __new__(cls, value: float, spread: float) -> Self:
        """Make the number from its value and its spread, both in internal units."""
        number = super().__new__(cls, value)
        number.spread = spread
        return number

    def shown_spread(self, kind: Kind, view: View = METRIC) -> float:
        """The spread in the reader's unit, without a sign.

        >>> from calc.language.quantities import X, Z
        >>> Known(0.01, 0.002).shown_spread(X), Known(0.01, 0.002).shown_spread(Z, View(zplus="in"))
        (0.004, 0.002)
        """
        return abs(kind.shown(self.spread, view))

    def say_spread(self, kind: Kind, view: View = METRIC) -> str:
        """The spread as it stands behind the value on a page.

        >>> from calc.language.quantities import X
        >>> Known(0.01, 0.002).say_spread(X)
        '± 0.004 mm'
        """
        unit = kind.unit(view)
        return f"± {unit.text(abs(self.spread)).lstrip('-')} {unit.label}".rstrip()
