"""Limits of the inputs carried through to the results: the least and the largest they allow, and what matters most."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import product
from typing import Any, NamedTuple

from calc.language.fields import Declared, build, flat, result, specs, word
from calc.language.limited import Limited, limited
from calc.language.problems import Problem
from calc.language.quantities import RATIO
from calc.language.working import recording

LEVELS = {1: 9, 2: 5, 3: 5, 4: 3}
"""At how many values each input is tried, by the number of inputs that have limits."""
MOST = 6
"""Inputs with limits that are carried through; of more, none."""
GOLDEN = (math.sqrt(5.0) - 1.0) / 2.0
NARROWED = 40
NUDGE = 1e-4
SAME = 1e-12

Values = Mapping[str, float]


class LimitRow(Declared):
    """Which input with limits moves a result most, and its share of what all of them move it by."""

    of: str = word("Result")
    most_by: str = word("moved most by")
    share: float = result(RATIO, "its share")


class Extremes(NamedTuple):
    """The least and the largest value of a result."""

    lower: float
    upper: float


def extremes(
    find: Callable[[Values], Values], ranges: Mapping[str, tuple[float, float]], levels: int = 0
) -> dict[str, Extremes]:
    """The least and the largest of each number that `find` gives while its arguments run over their `ranges`.

    Exact where a result only rises or only falls with each argument: then they stand at ends of the ranges. Where one
    lies between, it is searched for by golden sections along one argument after the other. Each argument is tried at so
    many `levels` first (0: the more, the fewer arguments there are). All in internal units.

    >>> found = extremes(lambda given: {"square": given["x"] ** 2, "sum": given["x"] + given["y"]},
    ...     {"x": (-1.0, 2.0), "y": (0.0, 0.5)})
    >>> round(found["square"].lower, 9) + 0.0, found["square"].upper, found["sum"]
    (0.0, 4.0, Extremes(lower=-1.0, upper=2.5))
    """
    count = levels or LEVELS.get(len(ranges), 2)
    axes = [[low + (high - low) * step / (count - 1) for step in range(count)] for low, high in ranges.values()]
    known: dict[tuple[float, ...], Values] = {}

    def at(places: tuple[float, ...]) -> Values:
        if places not in known:
            known[places] = find(dict(zip(ranges, places, strict=True)))
        return known[places]

    tried = [(places, at(places)) for places in product(*axes)]
    names = [name for name in tried[0][1] if all(name in values for _, values in tried)]
    return {name: Extremes(*(_searched(at, axes, tried, name, sign) for sign in (1.0, -1.0))) for name in names}


def _searched(
    at: Callable[[tuple[float, ...]], Values],
    axes: Sequence[Sequence[float]],
    tried: Sequence[tuple[tuple[float, ...], Values]],
    name: str,
    sign: float,
) -> float:
    """The least value of a result times the sign, back with its own."""
    here, values = min(tried, key=lambda each: sign * each[1][name])
    best = values[name]
    inside = [
        index
        for index, axis in enumerate(axes)
        if axis[0] != here[index] != axis[-1] or sign * _inward(at, axis, here, index)[name] < sign * best
    ]
    for _ in range(3 if inside else 0):
        for index in inside:
            best, here = min((best, here), _along(at, axes, here, index, name, sign), key=lambda found: sign * found[0])
    return best


def _inward(
    at: Callable[[tuple[float, ...]], Values], axis: Sequence[float], here: tuple[float, ...], index: int
) -> Values:
    """The results a little inside the end of one argument's axis: better there, the extreme is not at the end."""
    step = NUDGE * (axis[-1] - axis[0]) * (1.0 if here[index] == axis[0] else -1.0)
    return at((*here[:index], here[index] + step, *here[index + 1 :]))


def _along(
    at: Callable[[tuple[float, ...]], Values],
    axes: Sequence[Sequence[float]],
    here: tuple[float, ...],
    index: int,
    name: str,
    sign: float,
) -> tuple[float, tuple[float, ...]]:
    """The best value along one argument, near where it stands, and where."""
    axis = axes[index]
    step = axis[1] - axis[0]
    low, high = max(axis[0], here[index] - step), min(axis[-1], here[index] + step)

    def value(place: float) -> float:
        return sign * at((*here[:index], place, *here[index + 1 :]))[name]

    for _ in range(NARROWED):
        first, second = high - GOLDEN * (high - low), low + GOLDEN * (high - low)
        if value(first) <= value(second):
            high = second
        else:
            low = first
    middle = (low + high) / 2.0
    return sign * value(middle), (*here[:index], middle, *here[index + 1 :])


def carried(inputs: Any, results: Any, find: Callable[[Any], Any]) -> tuple[Any, list[LimitRow]]:
    """Declared `results` with the limits that those of the `inputs` allow, and which input matters most for each.

    `find` gives declared results for other inputs. Without limits, or where some of the allowed inputs have no answer,
    the results stay as they are.
    """
    ranges = {name: both for name, value in flat(inputs).items() if (both := limited(value)) is not None}
    if not 0 < len(ranges) <= MOST:
        return results, []
    try:
        with recording():
            wide, nominal, alone = _explored(inputs, find, ranges)
    except Problem:
        return results, []
    known = flat(results)
    made = {
        name: Limited(nominal[name], known[name], wide[name].lower, wide[name].upper)
        for name in wide
        if isinstance(known.get(name), float) and wide[name].upper - wide[name].lower > SAME * abs(known[name])
    }
    return _with(results, made), list(_rows(inputs, results, made, alone))


def _explored(
    inputs: Any, find: Callable[[Any], Any], ranges: Mapping[str, Limited]
) -> tuple[dict[str, Extremes], Values, dict[str, dict[str, Extremes]]]:
    """The extremes over all limits, the results of the nominal sizes, and the extremes over each input alone."""
    given = flat(inputs)
    aims = {name: both.aimed for name, both in ranges.items()}

    def numbers(values: Values) -> Values:
        found = flat(find(build(type(inputs), {**given, **aims, **values})))
        return {name: value for name, value in found.items() if isinstance(value, float)}

    ends = {name: (both.lower, both.upper) for name, both in ranges.items()}
    alone = {name: extremes(numbers, {name: end}) for name, end in ends.items()}
    return extremes(numbers, ends), numbers({name: both.value for name, both in ranges.items()}), alone


def _with(results: Any, made: Mapping[str, Limited]) -> Any:
    """The results with some of them replaced, in parts too."""
    changed: dict[str, Any] = {}
    for item in dataclasses.fields(results):
        if "part" in item.metadata:
            changed[item.name] = _with(getattr(results, item.name), made)
        elif item.name in made:
            changed[item.name] = made[item.name]
    return dataclasses.replace(results, **changed)


def _rows(
    inputs: Any, results: Any, made: Mapping[str, Limited], alone: Mapping[str, Mapping[str, Extremes]]
) -> Iterator[LimitRow]:
    labels = {spec.name: spec.label for spec in specs(type(inputs))}
    called = {spec.name: spec.label for spec in specs(type(results))}
    for name in (name for name in made if name not in alone):
        moves = {given: found[name].upper - found[name].lower for given, found in alone.items() if name in found}
        total = sum(moves.values())
        if total > 0.0:
            most = max(moves, key=lambda given: moves[given])
            yield LimitRow(of=called[name], most_by=labels[most], share=moves[most] / total)
