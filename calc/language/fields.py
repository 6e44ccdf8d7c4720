"""One declaration per field: what it is, how it is called, what range it may take, how it starts.

Inputs and results are dataclasses whose fields are declared with the functions below. The form, the JSON answers, their
documentation, the share link and the error sentences are all made from these declarations; nothing about a field is
written twice.
"""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal

from calc.language.limited import Limited, aimed
from calc.language.messages import Message, Quantity
from calc.language.problems import Fault
from calc.language.quantities import Kind, UnitSystem, View

Role = Literal["quantity", "choice", "word", "flag", "contour", "carried"]

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


@dataclass(frozen=True, slots=True)
class Spec:
    """The declaration of one input or result.

    `least` and `above` are the inclusive and the exclusive lower limit, `most` the inclusive upper one, in internal
    units. `start` is the value with which a bare page begins, as (metric, inch) numbers in the shown unit, or a
    choice's code; None begins empty. `group` is the title of the part it stands in. `brief` is how a group's one line
    calls it; a choice that has one is always told there, by its code.
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
    choices: Mapping[str, str] = dataclasses.field(default_factory=dict)
    start: tuple[float, float] | str | None = None
    group: str = ""
    brief: str = ""

    @property
    def quantity(self) -> Kind:
        """The kind of a quantity; a TypeError for a choice or a word."""
        if self.kind is None:
            raise TypeError(f"{self.name} is not a quantity")
        return self.kind

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


def given(
    kind: Kind,
    label: str,
    symbol: str = "",
    *,
    hint: str = "",
    brief: str = "",
    above: float | None = None,
    least: float | None = None,
    most: float | None = None,
    start: tuple[float, float] | None = None,
) -> Any:
    """Declare a quantity that a person gives: blank (None) until somebody does; `start` fills a bare page only.

    The arguments are the parts of `Spec`.

    >>> from calc.language.quantities import RADIUS
    >>> @dataclass(frozen=True, kw_only=True)
    ... class Ball:
    ...     radius: float | None = given(RADIUS, "Radius", "R", above=0.0, hint="of the ball")
    >>> Ball().radius, specs(Ball)[0].hint
    (None, 'of the ball')
    """
    spec = Spec("", "quantity", label, symbol, hint, kind, least, above, most, start=start, brief=brief)
    return dataclasses.field(default=None, metadata={"spec": spec})


def choice(label: str, choices: Mapping[str, str], start: str, *, hint: str = "", brief: str = "") -> Any:
    """Declare a choice called `label` among `choices` (code in the link: words on the page), of which `start` is taken
    until somebody chooses; `hint` and `brief` as in `Spec`.
    """
    spec = Spec("", "choice", label, hint=hint, choices=choices, start=start, brief=brief)
    return dataclasses.field(default=start, metadata={"spec": spec})


def word(label: str, *, hint: str = "") -> Any:
    """Declare a text called `label`, with a line of `hint`: an input such as a name, or a result in words."""
    return dataclasses.field(default=None, metadata={"spec": Spec("", "word", label, hint=hint)})


def carried(label: str) -> Any:
    """Declare a text that the link carries along and no field shows, such as which of several solutions is meant.

    `label` calls it in the description of the API.
    """
    return dataclasses.field(default=None, metadata={"spec": Spec("", "carried", label)})


def contour(label: str, *, hint: str = "") -> Any:
    """Declare a contour called `label`, given row by row (`calc.contour.text`), with a line of `hint`."""
    return dataclasses.field(default=None, metadata={"spec": Spec("", "contour", label, hint=hint)})


def flag(label: str, *, hint: str = "") -> Any:
    """Declare a yes or no called `label` among the results, with a line of `hint`."""
    return dataclasses.field(default=None, metadata={"spec": Spec("", "flag", label, hint=hint)})


def result(kind: Kind, label: str, symbol: str = "", *, hint: str = "", brief: str = "") -> Any:
    """Declare a quantity among the results, called `label` and `symbol`; None means that this case has none.

    A value with limits is a `Limited`. `hint` is a line beside it. One with a `brief` is told, by that name, in the
    one line of its group.
    """
    spec = Spec("", "quantity", label, symbol, hint, kind, brief=brief)
    return dataclasses.field(default=None, metadata={"spec": spec})


def part(inputs: type[Any], title: str, *, starts: Mapping[str, tuple[float, float]] | None = None) -> Any:
    """Declare a group of inputs: another input dataclass, whose fields join this one's under `title`.

    `starts` gives fields of the group by name, as (metric, inch) numbers in the shown unit, what they start with here.
    """
    return dataclasses.field(default_factory=inputs, metadata={"part": (inputs, title), "starts": starts or {}})


def specs(declared: type[Any]) -> tuple[Spec, ...]:
    """The declarations of a dataclass in order, those of its parts in their place.

    >>> from dataclasses import dataclass
    >>> from calc.language.quantities import RADIUS
    >>> @dataclass(frozen=True, kw_only=True)
    ... class Ball:
    ...     radius: float | None = given(RADIUS, "Radius", "R", above=0.0)
    >>> [(spec.name, spec.label) for spec in specs(Ball)]
    [('radius', 'Radius')]
    """
    return _specs(declared)  # type: ignore[arg-type]  # classes hash; the checker takes type[Any] for an instance


@cache
def _specs(declared: type[object]) -> tuple[Spec, ...]:
    return tuple(_flattened(declared, ""))


def _flattened(declared: Any, group: str) -> Iterator[Spec]:
    for item in dataclasses.fields(declared):
        if "part" in item.metadata:
            inputs, title = item.metadata["part"]
            starts = item.metadata["starts"]
            for spec in _flattened(inputs, title):
                yield dataclasses.replace(spec, start=starts[spec.name]) if spec.name in starts else spec
        elif "spec" in item.metadata:
            yield dataclasses.replace(item.metadata["spec"], name=item.name, group=group)


def build(declared: type[Any], values: Mapping[str, Any]) -> Any:
    """An instance of `declared` from `values` by flat names, parts too; absent names take defaults.

    Raises `TypeError` for a name that is not declared.
    """
    unknown = set(values) - {spec.name for spec in specs(declared)}
    if unknown:
        raise TypeError(f"{declared.__name__} has no field {', '.join(sorted(unknown))}")
    return _built(declared, values)


def _built(declared: type[Any], values: Mapping[str, Any]) -> Any:
    taken: dict[str, Any] = {}
    for item in dataclasses.fields(declared):
        if "part" in item.metadata:
            taken[item.name] = _built(item.metadata["part"][0], values)
        elif item.name in values:
            taken[item.name] = values[item.name]
    return declared(**taken)


def flat(instance: Any) -> dict[str, Any]:
    """The values of a declared instance by flat names, the reverse of `build`."""
    values: dict[str, Any] = {}
    for item in dataclasses.fields(instance):
        value = getattr(instance, item.name)
        if "part" in item.metadata:
            values.update(flat(value))
        elif "spec" in item.metadata:
            values[item.name] = value
    return values


def said(spec: Spec, value: float | Limited | str | bool | None, view: View) -> str:
    """A declared value as it stands on a page: digits and unit, words, yes or no, "" when there is none.

    >>> from calc.language.quantities import LENGTH, METRIC
    >>> said(Spec("depth", "quantity", "Depth", kind=LENGTH), 4.5, METRIC)
    '4.500 mm'
    """
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str):
        return spec.choices.get(value, value)
    return spec.quantity.say(aimed(value), view)
