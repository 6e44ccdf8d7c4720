"""What was typed into a page whose language has a decimal comma: a point before three digits may group thousands.

The forms of such a page say in which language they were typed; links and calls do not, their point is the decimal
mark. A speed, a force, a price or a count is asked back; of a length, where three decimals are usual, the page says how
it was read.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from calc.language.kinds import COST, STIFFNESS
from calc.language.messages import Message, Quantity, Typed
from calc.language.quantities import COUNT, FORCE, PRESSURE, SPINDLE_SPEED, SURFACE_SPEED, Kind, View
from calc.language.reading import Ambiguous
from calc.language.reading.errors import shortened
from calc.language.translating import LANGUAGES, Language, has_comma

TYPED = "typed"
"""The mark of a form's own items, with the language of its page."""

_GROUPED = re.compile(r"(?<![\d.,'])([1-9]\d{0,2})\.(\d{3})(?![\d.,'])")
_IN_THOUSANDS = frozenset(
    each.dimension for each in (COUNT, COST, FORCE, PRESSURE, STIFFNESS, SPINDLE_SPEED, SURFACE_SPEED)
)
"""What is often counted in thousands, and never typed with three decimals."""


def typed_in(items: Iterable[tuple[str, str]]) -> Language | None:
    """The language with a decimal comma in whose page the items were typed; None for a link.

    >>> typed_in([("radius", "75"), ("typed", "de")]), typed_in([("typed", "en")]), typed_in([("typed", "x")])
    ('de', None, None)
    """
    given = dict(items).get(TYPED)
    return next((each for each in LANGUAGES if each == given and has_comma(each)), None)


def form_mark(marks: Mapping[str, str], language: Language) -> tuple[tuple[str, str], ...]:
    """The item of a form by which its texts are known as typed: in the `language` of its page, or in that of its link.

    >>> form_mark({}, "de"), form_mark({}, "en"), form_mark({"typed": "es"}, "en")
    ((('typed', 'de'),), (), (('typed', 'es'),))
    """
    own = marks.get(TYPED) or (language if has_comma(language) else "")
    return ((TYPED, own),) if own else ()


def is_doubtful(text: str) -> bool:
    """Whether a point in a typed number may group thousands.

    >>> [is_doubtful(each) for each in ("2.500", "0.500", "2.50", "1234.567", "2,500", "12.345 mm")]
    [True, False, False, False, False, True]
    """
    return _GROUPED.search(text) is not None


def asks_back(text: str, kind: Kind) -> bool:
    """Whether it is asked what the point in a typed text means.

    >>> asks_back("2.500", SPINDLE_SPEED), asks_back("51.176", Kind("length", "length", COUNT.metric, COUNT.inch))
    (True, False)
    """
    return kind.dimension in _IN_THOUSANDS and is_doubtful(text)


def ambiguity(text: str) -> Ambiguous:
    """The question which of both numbers a typed text means; it quotes the text as it stands in the field.

    >>> ambiguity("2.500 U/min").candidates
    ('2,500 U/min', '2500 U/min')
    """
    both = _GROUPED.sub(r"\1,\2", text), _GROUPED.sub(r"\1\2", text)
    return Ambiguous(
        text,
        "“{typed}” can be {first} or {last}. Type the one that is meant.",
        both,
        typed=Typed(shortened(text)),
        first=both[0],
        last=both[1],
    )


def doubt_said(text: str, value: float, kind: Kind, view: View) -> str:
    """How a doubtful text was read, and what to type for the other number."""
    whole = Typed(_GROUPED.sub(r"\1\2", text))
    return Message(
        "read as {value}; for {whole} type it without the point", {"value": Quantity(value, kind), "whole": whole}
    ).say(view)


def doubtful(items: Iterable[tuple[str, str]], kinds: Mapping[str, Kind]) -> frozenset[str]:
    """The fields, by their whole names, whose typed texts were read with a point that may group thousands.

    `kinds` are those of the fields, of rows without the number of the row.
    """
    return frozenset(name for name, text in items if numberless(name) in kinds and is_doubtful(text))


_ROW = re.compile(r"\.\d+\.")


def numberless(name: str) -> str:
    """The name of a field in a row without the row's number.

    >>> numberless("operations.3.depth"), numberless("depth")
    ('operations.depth', 'depth')
    """
    return _ROW.sub(".", name, count=1)
