"""What every question of this package asks first: whether a value is there and can be meant."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from calc.language.fields import flat, give, specs
from calc.language.messages import Message, Quantity, Value
from calc.language.problems import Fault, Impossible, Missing, OutOfRange
from calc.language.quantities import DIAMETER


def require_positive(**values: float) -> None:
    """Raise OutOfRange, naming the argument, for a value that is not above 0 (NaN is not).

    >>> require_positive(feed=0.2)
    >>> require_positive(feed=0.0)
    Traceback (most recent call last):
    calc.language.problems.OutOfRange: feed: The feed must be more than 0.
    """
    for name, value in values.items():
        if not value > 0.0:
            said = Message("The {name} must be more than 0.", {"name": name.replace("_", " ")})
            raise OutOfRange(Fault(name, said))


def require_wall(field: str, bore: float, outer: float) -> None:
    """Raise Impossible at `field` for a bore [mm] that leaves no wall in a diameter [mm].

    >>> require_wall("work_bore", 20.0, 30.0)
    >>> require_wall("work_bore", 30.0, 30.0)
    Traceback (most recent call last):
    calc.language.problems.Impossible: work_bore: A bore of Ø30.000 mm leaves no wall in Ø30.000 mm.
    """
    if bore >= outer:
        values: dict[str, Value] = {"bore": Quantity(bore, DIAMETER), "outer": Quantity(outer, DIAMETER)}
        raise Impossible(Fault(field, Message("A bore of {bore} leaves no wall in {outer}.", values)))


def require(inputs: Any, *names: str) -> None:
    """Hold the declared `inputs` to their own ranges, and the named ones to being given.

    Raises OutOfRange for values that cannot be meant (NaN included), Missing for those not given, all at once.

    >>> from dataclasses import dataclass
    >>> from calc.language.fields import given
    >>> from calc.language.quantities import FEED
    >>> @dataclass(frozen=True, kw_only=True)
    ... class Cut:
    ...     feed: float | None = given(FEED, "Feed", "f", above=0.0)
    >>> require(Cut(), "feed")
    Traceback (most recent call last):
    calc.language.problems.Missing: feed: Give the feed.
    """
    declared = {spec.name: spec for spec in specs(type(inputs))}
    values = flat(inputs)
    wrong = list(_wrong(inputs, ""))
    if wrong:
        raise OutOfRange(*wrong)
    absent = [name for name in names if values[name] is None or values[name] == ""]
    if absent:
        raise Missing(*(Fault(name, give(declared[name].label)) for name in absent))


def _wrong(inputs: Any, prefix: str) -> Iterator[Fault]:
    """What is outside its range, in the rows of lists too."""
    values = flat(inputs)
    for spec in specs(type(inputs)):
        value = values[spec.name]
        if spec.role == "quantity" and value is not None:
            fault = spec.fault(value)
            if fault is not None:
                yield Fault(f"{prefix}{fault.field}", fault.message)
        for index, row in enumerate(value if spec.role == "rows" else ()):
            yield from _wrong(row, f"{prefix}{spec.name}.{index}.")
