"""What every question of this package asks first: whether a value is there and can be meant."""

from __future__ import annotations

from typing import Any

from calc.language.fields import flat, specs
from calc.language.messages import Message
from calc.language.problems import Fault, Missing, OutOfRange


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
    numbers = [(spec, values[name]) for name, spec in declared.items() if spec.role == "quantity"]
    wrong = [fault for spec, value in numbers if value is not None and (fault := spec.fault(value)) is not None]
    if wrong:
        raise OutOfRange(*wrong)
    absent = [name for name in names if values[name] is None or values[name] == ""]
    if absent:
        raise Missing(*(Fault(name, give(declared[name].label)) for name in absent))


def give(label: str) -> Message:
    """The sentence that asks for a value.

    >>> give("Nose radius").say(), give("Ra wanted").say()
    ('Give the nose radius.', 'Give the Ra wanted.')
    """
    word = label.split(" ", 1)[0]
    return Message("Give the {label}.", {"label": label if len(word) < 3 else label[0].lower() + label[1:]})
