"""One declaration per field: what it is, how it is called, what range it may take, how it starts.

Inputs, results and rows are classes whose base is `Declared` and whose fields are declared with the functions below.
The form, the JSON answers, their documentation, the share link and the error sentences are all made from these
declarations; nothing about a field is written twice.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from functools import cache
from typing import Any, TypeVar

from calc.language.declared import Declared
from calc.language.limited import Limited, aimed
from calc.language.messages import Listed, Message, Noun, Value, say_text
from calc.language.problems import Fault, Missing
from calc.language.quantities import Kind, View
from calc.language.spec import MOST, Repeated, Spec, Written

Code = TypeVar("Code", bound=str)

__all__ = [
    "MOST", "Declared", "Repeated", "Spec", "build", "carried", "choice", "contour", "flag", "flat", "give", "given",
    "needed", "part", "result", "rows", "said", "specs", "word",
]  # fmt: skip


def given(
    kind: Kind,
    label: str,
    symbol: str = "",
    *,
    hint: str = "",
    brief: str = "",
    blank: str = "",
    above: float | None = None,
    least: float | None = None,
    most: float | None = None,
    start: tuple[float, float] | None = None,
    because: str = "",
    default: float | None = None,
) -> Any:
    """Declare a quantity that a person gives: blank (None) until somebody does; `start` fills a bare page only.

    With a `default` the field is a plain float: what a blank means to the question.

    The arguments are the parts of `Spec`.

    >>> from calc.language.quantities import RADIUS
    >>> class Ball(Declared):
    ...     radius: float | None = given(RADIUS, "Radius", "R", above=0.0, hint="of the ball")
    >>> Ball().radius, specs(Ball)[0].hint
    (None, 'of the ball')
    """
    spec = Spec("", "quantity", label, symbol, hint, kind, least, above, most, start=start, brief=brief, blank=blank)
    spec = dataclasses.replace(spec, because=because)
    return dataclasses.field(default=default, metadata={"spec": spec})


def needed(
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
    """Declare a quantity without which there is no answer: a plain float for the question, which is not asked before.

    The arguments are the parts of `Spec`. `build` raises `Missing` for all that lack.

    >>> from calc.language.quantities import RADIUS
    >>> class Ball(Declared):
    ...     radius: float = needed(RADIUS, "Ball radius", "R", above=0.0)
    >>> build(Ball, {"radius": 3.0}).radius + 1.0
    4.0
    >>> build(Ball, {})
    Traceback (most recent call last):
    calc.language.problems.Missing: radius: Give the ball radius.
    """
    spec = Spec("", "quantity", label, symbol, hint, kind, least, above, most, start=start, brief=brief, required=True)
    return dataclasses.field(metadata={"spec": spec})


def rows(
    row: type[Any],
    label: str,
    *,
    one: str,
    hint: str = "",
    begin: int = 1,
    fewest: int = 0,
    most: int = 100,
    ordered: bool = False,
    switch: str = "",
    decider: str = "",
    only: Mapping[str, Collection[str]] | None = None,
) -> Any:
    """Declare a list called `label` of declared rows, such as readings; `one` is what a single one is called.

    The question gets a tuple of `row`, empty until somebody fills one in; with fewer than `fewest` it is not asked.
    A page shows `begin` empty ones before anybody has typed. `hint` is a line beside the list; `ordered`, `switch`,
    `decider` and `only` as in `Repeated`.

    >>> from calc.language.quantities import LENGTH
    >>> class Reading(Declared):
    ...     depth: float = needed(LENGTH, "Depth")
    >>> class Gauge(Declared):
    ...     readings: tuple[Reading, ...] = rows(Reading, "Readings", one="Reading")
    >>> build(Gauge, {"readings": [{"depth": 2.0}, {"depth": 3.0}]}).readings[1].depth, Gauge().readings
    (3.0, ())
    """
    repeated = Repeated(row, one, begin, fewest, most, ordered, switch, decider, only or {})
    return dataclasses.field(default=(), metadata={"spec": Spec("", "rows", label, hint=hint, rows=repeated)})


def choice(label: str, choices: Mapping[Code, str], start: Code, *, hint: str = "", brief: str = "") -> Code:
    """Declare a choice called `label` among `choices` (code in the link: words on the page), of which `start` is taken
    until somebody chooses; `hint` and `brief` as in `Spec`.

    The field's type, a Literal of the codes, is that of the choices: a code mistyped in either is a type error, and so
    is a comparison with one that is not among them.

    >>> class Ball(Declared):
    ...     cut: Literal["in", "out"] = choice("Cut", {"in": "hollow", "out": "crowned"}, "in")
    >>> Ball().cut, Ball(cut="out").cut
    ('in', 'out')
    """
    worded = {str(code): words for code, words in choices.items()}
    spec = Spec("", "choice", label, hint=hint, choices=worded, start=start, brief=brief)
    return dataclasses.field(default=start, metadata={"spec": spec})


def word(
    label: str,
    *,
    hint: str = "",
    blank: str = "",
    lines: bool = False,
    longest: int = 0,
    written: Written = "",
    default: str | None = None,
) -> Any:
    """Declare a text called `label`: an input such as a name, or a result in words.

    `hint` is a line beside it, `blank` says what is taken where it is left blank; one of `lines` may have several.
    `longest` and `written` as in `Spec`; it is `default` until somebody writes one.
    """
    spec = Spec("", "word", label, hint=hint, blank=blank, lines=lines, longest=longest, written=written)
    return dataclasses.field(default=default, metadata={"spec": spec})


def carried(label: str, *, said: Callable[[str | None], Message | None] | None = None) -> Any:
    """Declare a text that the link carries along and no field shows, such as which of several solutions is meant.

    `label` calls it in the description of the API; `said` makes a sentence of the text that a row shows instead.
    """
    return dataclasses.field(default=None, metadata={"spec": Spec("", "carried", label, said=said)})


def contour(label: str, *, hint: str = "", blank: str = "", typed: bool = False, prefix: str = "rows") -> Any:
    """Declare a contour called `label`, given row by row (`calc.contour.text`), with a line of `hint`.

    One that is `typed` is a text in one line; `blank` says what holds without it. Of several on a page each has a
    `prefix` of its own for the fields of its rows.
    """
    spec = Spec("", "contour", label, hint=hint, blank=blank, typed=typed, prefix=prefix)
    return dataclasses.field(default=None, metadata={"spec": spec})


def points(label: str, *, hint: str = "") -> Any:
    """Declare a table of points called `label`, typed or pasted as lines of X and Z (`calc.contour.point_text`).

    `hint` is a line beside it.
    """
    return dataclasses.field(default=(), metadata={"spec": Spec("", "points", label, hint=hint)})


def flag(label: str, *, hint: str = "", default: bool | None = None) -> Any:
    """Declare a yes or no called `label`, with a line of `hint`; it is `default` until it is known."""
    return dataclasses.field(default=default, metadata={"spec": Spec("", "flag", label, hint=hint)})


def result(kind: Kind, label: str, symbol: str = "", *, hint: str = "", brief: str = "") -> Any:
    """Declare a quantity among the results, called `label` and `symbol`; None means that this case has none.

    A value with limits is a `Limited`. `hint` is a line beside it. One with a `brief` is shown, by that name, in the
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

    >>> from calc.language.quantities import RADIUS
    >>> class Ball(Declared):
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
            spec = item.metadata["spec"]
            is_whole = spec.name == item.name and not group
            yield spec if is_whole else dataclasses.replace(spec, name=item.name, group=group)


def build(declared: type[Any], values: Mapping[str, Any]) -> Any:
    """An instance of `declared` from `values` by flat names, parts too; absent names and None take defaults.

    A list of rows is built from a list of such values; a row with nothing in it is passed over. Raises `TypeError` for
    a name that is not declared, `Missing` for all that is required and not there, of a row as `readings.2.depth`.
    """
    unknown = set(values) - {spec.name for spec in specs(declared)}
    if unknown:
        raise TypeError(f"{declared.__name__} has no field {', '.join(sorted(unknown))}")
    absent = list(_absent(declared, values, ""))
    if absent:
        raise Missing(*absent)
    return _built(declared, values)


def _absent(declared: type[Any], values: Mapping[str, Any], prefix: str) -> Iterator[Fault]:
    """What is required and not there."""
    for spec in specs(declared):
        name, value = f"{prefix}{spec.name}", values.get(spec.name)
        if spec.required and (value is None or value == ""):
            yield Fault(name, give(spec.label))
        if spec.rows is not None:
            filled = [(index, row) for index, row in enumerate(value or ()) if row]
            if len(filled) < spec.rows.fewest:
                yield Fault(name, give_rows(spec))
            for index, row in filled:
                yield from _absent(spec.rows.row, row, f"{name}.{index}.")


def _built(declared: type[Any], values: Mapping[str, Any]) -> Any:
    taken: dict[str, Any] = {}
    for item in dataclasses.fields(declared):
        if "part" in item.metadata:
            taken[item.name] = _built(item.metadata["part"][0], values)
        elif values.get(item.name) is not None:
            spec: Spec = item.metadata["spec"]
            value = values[item.name]
            taken[item.name] = value if spec.rows is None else tuple(_built(spec.rows.row, row) for row in value if row)
    return declared(**taken)


GIVE = "Give the {label}."


def give(label: str) -> Message:
    """The sentence that asks for a value.

    >>> give("Nose radius").say(), give("Ra wanted").say()
    ('Give the nose radius.', 'Give the Ra wanted.')
    """
    return Message(GIVE, {"label": Noun(label)})


def in_one_sentence(asked: Iterable[Message]) -> list[Message]:
    """Sentences that ask for values, those that ask for one each as a single one in the place of the first.

    >>> [message.say() for message in in_one_sentence(map(give, ("Depth of cut", "Feed", "Surface speed")))]
    ['Give the depth of cut, the feed and the surface speed.']
    """
    sentences = list(asked)
    labels = tuple(dict.fromkeys(each.values["label"] for each in sentences if each.text == GIVE))
    if len(labels) < 2:
        return sentences
    first = next(index for index, each in enumerate(sentences) if each.text == GIVE)
    together = Message(GIVE, {"label": Listed(labels, ", the ", " and the ")})
    return [*sentences[:first], together, *(each for each in sentences[first:] if each.text != GIVE)]


def give_rows(spec: Spec) -> Message:
    """The sentence that asks for more rows.

    >>> from calc.language.quantities import LENGTH
    >>> give_rows(Spec("readings", "rows", "Readings", rows=Repeated(Spec, "Reading", fewest=3))).say()
    'Give readings: at least 3.'
    """
    values: dict[str, Value] = {"fewest": spec.repeated.fewest, "label": Noun(spec.label)}
    return Message("Give {label}: at least {fewest}.", values)


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
        return say_text("yes" if value else "no", view)
    if isinstance(value, str):
        return say_text(spec.choices.get(value, value), view)
    return spec.quantity.say(aimed(value), view)
