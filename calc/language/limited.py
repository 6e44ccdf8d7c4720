"""Values with limits, as prints give them and gauges check them: nominal, aimed at, lower and upper."""

from __future__ import annotations

from dataclasses import dataclass

from calc.language.given import Given
from calc.language.messages import Message, Value
from calc.language.quantities import METRIC, Kind, View


@dataclass(frozen=True, slots=True)
class Limited:
    """A value with limits in one unit: the nominal `value`, what is `aimed` at, `lower` and `upper`.

    A declared result may be one wherever a number may stand: JSON gives all four, a page the aim and both limits.
    """

    value: float
    aimed: float
    lower: float
    upper: float

    @classmethod
    def between(cls, lower: float, upper: float, nominal: float | None = None) -> Limited:
        """The value between two limits in any order, aimed at their middle, which is the nominal where none is given.

        >>> Limited.between(28.1, 28.0, 28.0)
        Limited(value=28.0, aimed=28.05, lower=28.0, upper=28.1)
        """
        aimed = (lower + upper) / 2.0
        return cls(aimed if nominal is None else nominal, aimed, min(lower, upper), max(lower, upper))

    def shown(self, kind: Kind, view: View = METRIC) -> Limited:
        """The same as the reader's numbers; lower is less than upper whatever the reader's signs.

        >>> from calc.language.quantities import Z
        >>> Limited.between(-28.1, -28.0, -28.0).shown(Z, View(zplus="in"))
        Limited(value=28.0, aimed=28.05, lower=28.0, upper=28.1)
        """
        first, second = kind.shown(self.lower, view), kind.shown(self.upper, view)
        return Limited(
            kind.shown(self.value, view) + 0.0,
            kind.shown(self.aimed, view) + 0.0,
            min(first, second) + 0.0,
            max(first, second) + 0.0,
        )

    def say(self, kind: Kind, view: View = METRIC) -> str:
        """Both limits in words, and the nominal where it is not what is aimed at.

        >>> from calc.language.quantities import DIAMETER
        >>> Limited.between(23.98, 23.993, 24.0).say(DIAMETER), Limited.between(3.9, 4.1).say(DIAMETER)
        ('23.980 to 23.993 mm, nominal 24 mm', '3.900 to 4.100 mm')
        """
        ends = sorted((self.lower, self.upper), key=lambda value: kind.shown(value, view))
        unit = kind.unit(view)
        values: dict[str, Value] = {"low": unit.text(ends[0]), "high": unit.text(ends[1]), "unit": unit.label}
        said = Message("{low} to {high} {unit}", values).say(view).rstrip()
        if unit.text(self.value) == unit.text(self.aimed):
            return said
        nominal = kind.say(self.value, view, brief=True).removeprefix(kind.sign)
        return Message("{limits}, nominal {nominal}", {"limits": said, "nominal": nominal}).say(view)


def limited(value: object) -> Limited | None:
    """The limits of a declared value: its own, or those that somebody typed; None for a plain number.

    >>> limited(Given(23.9865, nominal=24.0, limits=(23.98, 23.993)))
    Limited(value=24.0, aimed=23.9865, lower=23.98, upper=23.993)
    >>> limited(24.0) is None
    True
    """
    if isinstance(value, Limited):
        return value
    if isinstance(value, Given) and value.lower is not None and value.upper is not None:
        nominal = float(value) if value.nominal is None else value.nominal
        return Limited(nominal, float(value), value.lower, value.upper)
    return None


def aimed(value: float | Limited) -> float:
    """The number that a value aims at: that in the middle of its limits.

    >>> aimed(Limited.between(28.0, 28.2)), aimed(28.0)
    (28.1, 28.0)
    """
    return value.aimed if isinstance(value, Limited) else value
