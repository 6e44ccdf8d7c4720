"""A unit as its reader meets it: how a number is rounded in it, and what people write instead where it gets long."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from calc.language.factor import Factor
from calc.language.translating import Language, marked

SIX_DIGITS = 100_000.0


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit as a reader meets it.

    `code` stands in the JSON answers, `label` on the pages. `size` is how many internal units one of it is. A number
    is shown with `decimals` places, or with `figures` significant figures where more would promise too much: one more
    where an `estimate` begins with 1 (0.0118 is 0.012, 0.0462 is 0.05), never beyond `finest` places.
    `language` settles its decimal mark. People write what is very large in the unit `larger`, what is below `least` in
    the unit `smaller`.
    """

    code: str
    label: str
    size: Factor
    decimals: int = 3
    figures: int | None = None
    leading_zero: bool = True
    estimate: bool = False
    finest: int | None = None
    language: Language = "en"
    larger: Unit | None = None
    smaller: Unit | None = None
    least: float = 0.0

    def written(self, value: float) -> Unit:
        """The unit that people write the internal `value` in: a larger one from six digits before the point on.

        >>> from calc.language.factor import ONE, THOUSAND
        >>> newton = Unit("N", "N", ONE, figures=3, larger=Unit("kN", "kN", THOUSAND, figures=3))
        >>> newton.written(99_000.0).label, newton.written(5_920_000.0).label
        ('N', 'kN')
        """
        shown = abs(self.shown(value))
        if not math.isfinite(shown):
            return self
        is_long = round(shown, self.places(shown)) >= SIX_DIGITS
        found = self.larger if is_long else self.smaller if 0.0 < shown < self.least else None
        return self if found is None else replace(found, language=self.language)

    def shown(self, value: float) -> float:
        """The internal `value` in this unit.

        >>> from calc.language.factor import INCH
        >>> Unit("in", "in", INCH).shown(50.8)
        2.0
        """
        return self.size.over(value)

    def internal(self, shown: float) -> float:
        """The internal value of `shown` of this unit.

        >>> from calc.language.factor import INCH
        >>> Unit("in", "in", INCH).internal(2.0)
        50.8
        """
        return self.size.times(shown)

    @property
    def has_leading_zero(self) -> bool:
        """Whether a 0 stands before the decimal mark; prints in inches leave it out in English alone (ASME Y14.5)."""
        return self.leading_zero or self.language != "en"

    def text(self, value: float) -> str:
        """The internal `value` as digits in this unit, rounded as the unit deserves, never "-0".

        >>> from calc.language.factor import INCH, ONE
        >>> Unit("in", "in", INCH, decimals=4, leading_zero=False).text(12.7)
        '.5000'
        >>> Unit("N", "N", ONE, figures=3).text(1234.5)
        '1230'
        """
        shown = self.shown(value)
        if not math.isfinite(shown):
            return "-"
        decimals = self.places(shown)
        rounded = round(shown, decimals)
        digits = f"{rounded if rounded else 0.0:.{max(decimals, 0)}f}"
        if not self.has_leading_zero and _starts_with_zero(digits):
            digits = digits.replace("0.", ".", 1)
        return marked(digits, self.language)

    def places(self, shown: float) -> int:
        """How many decimals a number in this unit is shown with; below zero for tens and hundreds.

        >>> from calc.language.factor import ONE
        >>> Unit("N", "N", ONE, figures=3).places(1234.5), Unit("mm", "mm", ONE).places(1234.5)
        (-1, 3)
        """
        if self.figures is None:
            return self.decimals
        one_more = self.estimate and f"{abs(shown):.{self.figures}e}".startswith("1")
        places = _decimals_for_figures(shown, self.figures + one_more)
        return places if self.finest is None else min(places, self.finest)

    def __str__(self) -> str:
        return self.label


def _starts_with_zero(digits: str) -> bool:
    return digits.lstrip("-").startswith("0.") and float(digits) != 0.0


def _decimals_for_figures(shown: float, figures: int) -> int:
    if shown == 0.0:
        return 0
    decimals = figures - 1 - math.floor(math.log10(abs(shown)))
    carried = abs(round(shown, decimals)) >= 10.0 ** (figures - decimals)
    return decimals - carried
