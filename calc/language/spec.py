"""What a declaration holds: one input or result, its kind, its words, its range."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from typing import Any, Literal

from calc.language.messages import Message, Quantity, say_text
from calc.language.problems import Fault
from calc.language.quantities import METRIC, Kind, UnitSystem, View

Role = Literal["quantity", "choice", "word", "flag", "contour", "carried", "rows", "points", "part"]
Written = Literal["", "key", "address", "length", "numbers"]

# The largest value of each dimension that a lathe's work can mean, in internal units; a field may set its own.
MOST = {
    "length": 10_000.0,
    "roughness": 1.0,
    "angle": 2 * math.pi,
    "surface speed": 10_000_000.0,
    "spindle speed": 100_000.0,
    "time": 100_000.0,
    "force": 1_000_000.0,
    "power": 1_000 * 60_000_000.0,
}


_TEXTS = ("label", "hint", "blank", "because", "brief")


@dataclass(frozen=True, slots=True)
class Repeated:
    """What a list of declared rows is made of: the row, what one is called, how many at least and at most.

    A bare page shows `begin` empty ones. Rows that are `ordered` can be moved and copied; `switch` names a choice of
    the row between "" and another code, which a button turns over. `decider` names the choice that says which fields a
    row has: a field of `only` is asked for under the codes that stand there alone.
    """

    row: type[Any]
    one: str
    begin: int = 1
    fewest: int = 0
    most: int = 100
    ordered: bool = False
    switch: str = ""
    decider: str = ""
    only: Mapping[str, Collection[str]] = dataclasses.field(default_factory=dict)

    def asks(self, name: str, texts: Mapping[str, str]) -> bool:
        """Whether a row with these texts has the field called `name`."""
        return name not in self.only or texts.get(self.decider, "") in self.only[name]


NO_CHOICES: Mapping[str, str] = {}
"""The choices of what is no choice: one mapping for thousands of declarations."""


@dataclass(frozen=True, slots=True)
class Spec:
    """The declaration of one input or result.

    `least` and `above` are the inclusive and the exclusive lower limit, `most` the inclusive upper one, in internal
    units. `start` is the value with which a bare page begins, as (metric, inch) numbers in the shown unit, or a
    choice's code; None begins empty. `because` says why it is that one. `group` is the title of the part it stands in.
    `brief` is how a group's one line calls it; a choice that has one is always shown there, by its code. One that is
    `required` has no answer without it. `blank` says what is taken where it is left blank. What is `kept` belongs to
    the machine in the shop, which a device may remember. `rows` belongs to a list of rows. A contour that is `typed` is
    given as a text in one line, not row by row; the others have fields such as `rows.2.x`, by their `prefix`. A text
    has at most `longest` characters, 0 for as many as an address holds; `written` is what it must read as. `said`
    makes a sentence of a carried text.
    """

    name: str
    role: Role
    label: str
    symbol: str = ""
    hint: str = ""
    kind: Kind | None = None
    least: float | None = None
    above: float | None = None
    most: float | None = None
    choices: Mapping[str, str] = dataclasses.field(default_factory=lambda: NO_CHOICES)
    start: tuple[float, float] | str | None = None
    because: str = ""
    group: str = ""
    brief: str = ""
    blank: str = ""
    kept: bool = False
    required: bool = False
    rows: Repeated | None = None
    typed: bool = False
    lines: bool = False
    longest: int = 0
    written: Written = ""
    prefix: str = "rows"
    said: Callable[[str | None], Message | None] | None = None

    @property
    def is_numeric(self) -> bool:
        """Whether what is typed into it are numbers: one, several in a row, or a table of points."""
        return self.kind is not None or self.role == "points" or self.written == "numbers"

    @property
    def repeated(self) -> Repeated:
        """What a list of rows, or a part, is made of; a TypeError for anything else."""
        if self.rows is None:
            raise TypeError(f"{self.name} is neither a list of rows nor a part")
        return self.rows

    @property
    def quantity(self) -> Kind:
        """The kind of a quantity; a TypeError for a choice or a word."""
        if self.kind is None:
            raise TypeError(f"{self.name} is not a quantity")
        return self.kind

    @property
    def help(self) -> str:
        """The line beside the field: its hint, and what a blank means.

        >>> Spec("eta", "quantity", "Efficiency", hint="motor to cut", blank="0.8").help
        'motor to cut; blank: 0.8'
        """
        return self.help_for(METRIC)

    def help_for(self, view: View) -> str:
        """The same line for a reader with `view`, in whose language the texts are already."""
        blank = Message("blank: {blank}", {"blank": self.blank}).say(view) if self.blank else ""
        return "; ".join(words for words in (self.hint, blank) if words)

    def worded(self, view: View) -> Spec:
        """The same declaration with its texts in the language of a reader with `view`.

        >>> Spec("feed", "quantity", "Feed").worded(METRIC).label
        'Feed'
        """
        said: dict[str, Any] = {name: say_text(getattr(self, name), view) for name in _TEXTS}
        choices = {code: say_text(words, view) for code, words in self.choices.items()}
        rows = self.rows and dataclasses.replace(self.rows, one=say_text(self.rows.one, view))
        return dataclasses.replace(self, **said, choices=choices, rows=rows)

    def start_text(self, units: UnitSystem) -> str:
        """What stands in the field of a bare page, "" when it starts empty.

        >>> from calc.language.quantities import SURFACE_SPEED
        >>> Spec("v", "quantity", "Speed", kind=SURFACE_SPEED, start=(220.0, 720.0)).start_text("inch")
        '720'
        """
        if self.start is None or isinstance(self.start, str):
            return self.start or ""
        return f"{self.start[0 if units == 'mm' else 1]:.10g}"

    def fault(self, value: float) -> Fault | None:
        """What is wrong with `value` (internal units) by itself, if anything.

        >>> from calc.language.quantities import RADIUS
        >>> radius = Spec("radius", "quantity", "Dish radius", kind=RADIUS, above=0.0)
        >>> radius.fault(-3.0).message.say()
        'Dish radius must be more than 0; R-3 mm is not.'
        >>> radius.fault(3.0) is None
        True
        """
        broken = self._broken_limit(value)
        if broken is None:
            return None
        return Fault(self.name, self._limit_message(value, *broken))

    def _broken_limit(self, value: float) -> tuple[str, float] | None:
        kind = self.quantity
        most = self.most if self.most is not None else MOST.get(kind.dimension, math.inf)
        if self.above is not None and value <= self.above:
            return "more than", self.above
        if self.least is not None and value < self.least:
            return "at least", self.least
        if value > most:
            return "at most", most
        return None if math.isfinite(value) else ("at most", most)

    def _limit_message(self, value: float, relation: str, limit: float) -> Message:
        kind = self.quantity
        limit_said: Quantity | str = Quantity(limit, kind, brief=True) if limit else "0"
        return Message(
            "{label} must be {relation} {limit}; {value} is not.",
            {
                "label": self.label,
                "relation": relation,
                "limit": limit_said,
                "value": Quantity(value, kind, brief=True),
            },
        )
