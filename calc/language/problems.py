"""Why a question has no answer: a small tree of errors, each carrying the fields and the values that are to blame."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Self

from calc.language.messages import Message, Quantity
from calc.language.quantities import View


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing that is wrong, at one field ("" when it belongs to the question as a whole).

    `offers` are texts that would do in the field instead.
    """

    field: str
    message: Message
    offers: tuple[str, ...] = ()


class Problem(Exception):
    """A question that has no answer as it stands; `faults` say where and why.

    >>> str(Problem(Fault("radius", Message("The radius must be above zero."))))
    'radius: The radius must be above zero.'
    """

    def __init__(self, *faults: Fault) -> None:
        self.faults = faults
        super().__init__("; ".join(f"{fault.field}: {fault.message.say()}" for fault in faults))

    def renamed(self, name: Callable[[str], str]) -> Self:
        """The same problem with its fields called by other names.

        >>> [fault.field for fault in Problem(Fault("r", Message("Too small."))).renamed(str.upper).faults]
        ['R']
        """
        other = type(self).__new__(type(self))
        other.__dict__.update(vars(self))
        other.args = self.args
        other.faults = tuple(replace(fault, field=name(fault.field)) for fault in self.faults)
        return other

    def say(self, view: View) -> list[tuple[str, str]]:
        """The field and the sentence of each fault, for a reader with `view`."""
        return [(fault.field, fault.message.say(view)) for fault in self.faults]


class OutOfRange(Problem):
    """A value that cannot be meant: zero, negative, absurdly large."""


class Missing(Problem):
    """Too little is given; the faults say which one more value would do."""


class Contradiction(Problem):
    """Dimensions that disagree with each other.

    `fields` are all that take part: leaving any one of them blank resolves it. `otherwise` says what a field would
    be if it were left to the others, where that is known.
    """

    def __init__(
        self, *faults: Fault, fields: tuple[str, ...], otherwise: Mapping[str, Quantity] | None = None
    ) -> None:
        self.fields = fields
        self.otherwise = otherwise or {}
        super().__init__(*faults)

    def renamed(self, name: Callable[[str], str]) -> Self:
        """The same contradiction with all its fields called by other names."""
        other = super().renamed(name)
        other.fields = tuple(dict.fromkeys(map(name, self.fields)))
        other.otherwise = {name(field): value for field, value in self.otherwise.items()}
        return other


class Impossible(Problem):
    """Values that are sound one by one but have no solution together."""
