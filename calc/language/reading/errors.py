"""Why a typed text is not read: a small tree of errors, each with a sentence and, where it helps, what to type."""

from __future__ import annotations

from collections.abc import Iterable

from calc.language.messages import Listed, Message, TypedNumber, Value
from calc.language.problems import Fault

LONGEST_SHOWN = 32


class ReadingError(Exception):
    """A typed text that gives no number, or more than one.

    `text` is what was typed, `message` the sentence about it, `candidates` are texts for the same field that say one
    thing only: what may have been meant.

    >>> str(NotANumber("abc", "“{typed}” is not a number."))
    '“abc” is not a number.'
    """

    def __init__(self, text: str, sentence: str, candidates: tuple[str, ...] = (), **values: Value) -> None:
        self.text = text
        self.candidates = candidates
        said = {name: TypedNumber(value) if type(value) is str else value for name, value in values.items()}
        self.message = Message(sentence, {"typed": TypedNumber(shortened(text)), **said})
        super().__init__(self.message.say())

    def fault(self, field: str) -> Fault:
        """The same as the fault of a field.

        >>> NotANumber("abc", "“{typed}” is not a number.").fault("depth").field
        'depth'
        """
        return Fault(field, self.message)


def any_of(candidates: Iterable[str]) -> Listed:
    """Texts to be typed instead, one of which is meant.

    >>> any_of(["0.5", "5"]).say()
    '0.5 or 5'
    """
    return Listed(tuple(map(TypedNumber, candidates)), " or ", " or ")


class NotANumber(ReadingError):
    """A text in which no number can be found, or one that breaks off."""


class Ambiguous(ReadingError):
    """A text that can be read in more than one way; it is asked back, never guessed."""


class WrongUnit(ReadingError):
    """A number with a unit, or a mark such as Ø, that the field does not take."""


def shortened(text: str) -> str:
    """The typed text as a sentence may show it: cut, and with a dot for each character that cannot be seen.

    >>> shortened("1\\x002"), shortened("9" * 99)
    ('1·2', '99999999999999999999999999999999…')
    """
    seen = "".join(c if c.isprintable() else "·" for c in text.strip()[: LONGEST_SHOWN + 1])
    return seen if len(seen) <= LONGEST_SHOWN else f"{seen[:LONGEST_SHOWN]}…"
