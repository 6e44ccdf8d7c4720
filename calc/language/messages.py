"""Words that carry quantities.

Cautions, errors and notes leave the calculation package as a sentence with typed places in it, never as finished text,
so that a reader in inches reads inches and one whose +Z points into the part reads that.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Literal, NamedTuple, Protocol, TypeAlias

from calc.language.quantities import METRIC, Kind, View, X, Z
from calc.language.translating import in_sentence, marked, marked_typed, translated, worded


class Quantity(NamedTuple):
    """A value (internal units) together with its kind; `brief` drops the zeros at its end, as a print writes it.

    >>> from calc.language.quantities import LENGTH
    >>> Quantity(25.4, LENGTH).say(View("inch"))
    '1.0000 in'
    >>> Quantity(90.0, LENGTH, brief=True).say()
    '90 mm'
    """

    value: float
    kind: Kind
    brief: bool = False

    def say(self, view: View = METRIC) -> str:
        """The quantity as it stands in a sentence for a reader with `view`."""
        return self.kind.say(self.value, view, brief=self.brief)


class Located(Protocol):
    """Anything with a place in the half plane: z and radius, mm, ISO signs."""

    @property
    def z(self) -> float:
        """Distance from the work zero along the axis."""

    @property
    def r(self) -> float:
        """Radius."""


def say_point(point: Located, view: View = METRIC) -> str:
    """A point as it stands in a sentence, in the reader's coordinates.

    >>> from calc.contour import Point
    >>> say_point(Point(z=-4.5, r=6.0))
    'X12.000 Z-4.500'
    """
    return f"X{X.text(point.r, view)} Z{Z.text(point.z, view)}"


class Listed(NamedTuple):
    """Several values in a row, with the words that stand between them and before the last.

    >>> Listed(("Feed", "Depth")).say()
    'Feed and Depth'
    """

    items: tuple[Value, ...]
    between: str = ", "
    last: str = " and "

    def say(self, view: View = METRIC) -> str:
        """The list as it stands in a sentence for a reader with `view`."""
        *others, end = (_said(item, view) for item in self.items)
        between, last = (translated(glue, view.language) for glue in (self.between, self.last))
        return f"{between.join(others)}{last}{end}" if others else end


class Capital(NamedTuple):
    """A value at the head of a sentence.

    >>> Capital(Phrase("element {number}", number=2)).say()
    'Element 2'
    """

    told: Value

    def say(self, view: View = METRIC) -> str:
        """The value for a reader with `view`, its first letter a capital."""
        said = _said(self.told, view)
        return said[:1].upper() + said[1:]


Value: TypeAlias = "Quantity | Located | Listed | Capital | Message | str | int"

NO_VALUES: Mapping[str, Value] = {}
"""The values of a sentence without places: one mapping for all of them."""


@dataclass(frozen=True, slots=True)
class Message:
    """A sentence with places for values, filled in when it is known who reads it.

    >>> from calc.language.quantities import LENGTH
    >>> gap = Message("the line passes {gap} outside the arc", {"gap": Quantity(0.2134, LENGTH)})
    >>> gap.say(), gap.say(View("inch"))
    ('the line passes 0.213 mm outside the arc', 'the line passes .0084 in outside the arc')
    """

    text: str
    values: Mapping[str, Value] = field(default_factory=lambda: NO_VALUES)

    def say(self, view: View = METRIC) -> str:
        """The finished sentence for a reader with `view`."""
        text = translated(self.text, view.language)
        return text.format_map({name: _said(value, view) for name, value in self.values.items()})


def in_a_row(*sentences: Message) -> Message:
    """Several sentences as one message, each with a key of its own.

    >>> in_a_row(Message("The edge rubs."), Message("Feed more.")).say()
    'The edge rubs. Feed more.'
    """
    places = {f"sentence_{number}": sentence for number, sentence in enumerate(sentences, 1)}
    return Message(" ".join(f"{{{name}}}" for name in places), places)


class Phrase(str):
    """A text put together from pieces, such as the name of a place: English by itself, said anew for other readers.

    >>> Phrase("after row {row}", row=3)
    'after row 3'
    """

    __slots__ = ("message",)
    message: Message

    def __new__(cls, text: str, **values: Value) -> Phrase:
        """The text with its values in their places, said in English."""
        message = Message(text, values)
        made = super().__new__(cls, message.say())
        made.message = message
        return made


def joined(texts: Iterable[str], between: str = ", ", last: str = "") -> str:
    """Texts in a row as one; before the last stands `last` where there is one. "" for none.

    >>> joined(["Feed", "Depth"]), joined(["Feed", "Depth"], last=" and "), joined([])
    ('Feed, Depth', 'Feed and Depth', '')
    """
    items = tuple(texts)
    return Phrase("{list}", list=Listed(items, between, last or between)) if items else ""


def as_text(message: Message) -> Phrase:
    """A sentence as a text of an answer's row: English by itself, said anew for other readers.

    >>> as_text(Message("pass {number}", {"number": 2}))
    'pass 2'
    """
    return Phrase("{said}", said=message)


class Digits(str):
    """A number that was rounded for a sentence; it gets the reader's decimal mark.

    >>> Message("{ratio} widths", {"ratio": Digits("2.5")}).say(View(language="de"))
    '2,5 widths'
    """

    __slots__ = ()


class Typed(str):
    """What a person typed: it is quoted, never translated."""

    __slots__ = ()


class TypedNumber(Typed):
    """The text of a number as it is typed in links and calls; it is quoted with the reader's decimal mark."""

    __slots__ = ()


class Noun(str):
    """A label that stands within a sentence: without its capital, where the language has nouns so.

    >>> Message("Give the {label}.", {"label": Noun("Nose radius")}).say()
    'Give the nose radius.'
    """

    __slots__ = ()


def say_text(text: str, view: View = METRIC) -> str:
    """A text of a declaration or of an answer for a reader with `view`: the one look-up of all words but sentences.

    >>> say_text(Phrase("pass {number}", number=2)), say_text("Feed")
    ('pass 2', 'Feed')
    """
    if isinstance(text, Phrase):
        return text.message.say(view)
    if isinstance(text, Typed):
        return marked_typed(text, view.language) if isinstance(text, TypedNumber) else str(text)
    if isinstance(text, Digits):
        return marked(text, view.language)
    if isinstance(text, Noun):
        return in_sentence(translated(text, view.language), view.language)
    return worded(text, view.language)


def _said(value: Value, view: View) -> str:
    if isinstance(value, str):
        return say_text(value, view)
    if isinstance(value, int):
        return str(value)
    return value.say(view) if isinstance(value, (Quantity, Listed, Capital, Message)) else say_point(value, view)


Severity = Literal[1, 2, 3]


@dataclass(frozen=True, slots=True)
class Caution:
    """What can go wrong in this case: trigger, consequence and remedy in one message, worst (3) shown first.

    `about` names the result or input that it belongs to.
    """

    message: Message
    severity: Severity = 2
    about: str = ""


def worst_first(cautions: Iterable[Caution]) -> list[Caution]:
    """All cautions, the gravest first, otherwise in the order they were found.

    >>> [c.severity for c in worst_first([Caution(Message("a"), 1), Caution(Message("b"), 3)])]
    [3, 1]
    """
    return sorted(cautions, key=lambda caution: -caution.severity)
