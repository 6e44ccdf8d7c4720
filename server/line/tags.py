"""The values of a typed line, each under what it is: a radius, a depth, a speed; and the words that are left."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from calc.language.reading.text import clean

_NUMBER = r"[-−]?[.,]?\d(?:[\d.,]*\d)?(?:[ -]\d+/\d+|/\d+)?"
_LENGTH = rf"{_NUMBER}\s?(?:mm|in\b|inch\b|\")?"


class Tagged(NamedTuple):
    """A line taken apart: texts by tag, the numbers that say nothing of themselves, the words that are left."""

    values: dict[str, str]
    numbers: tuple[str, ...]
    words: tuple[str, ...]


# The order decides: what says more of itself comes first. Words of German and Spanish stand beside the English ones.
_TAGS: tuple[tuple[str, str], ...] = (
    ("surface_speed", rf"(?:v_?c?\s*=?\s*)?(?P<v>{_NUMBER}\s?(?:m/min|ft/min|sfm|fpm))"),
    ("rpm", rf"(?:n\s*=\s*)?(?P<v>{_NUMBER})\s?(?:rpm|1/min|u/min|rev/min)"),
    ("feed", rf"(?P<v>{_NUMBER}\s?(?:mm/rev|in/rev|mm/u|ipr))"),
    ("feed", rf"\b(?:f|feed|vorschub|avance)\s*=?\s*(?P<v>{_LENGTH})"),
    ("ra", rf"\bra\s*=?\s*(?P<v>{_NUMBER}\s?(?:µm|um|μm|µin|uin)?)"),
    ("nose_radius", rf"\b(?:nose|nase|ecke|schneidenecke|eckenradius|punta)\s*(?:radius|r)?\s*=?\s*(?P<v>{_LENGTH})"),
    ("nose_radius", rf"(?P<v>{_LENGTH})\s*(?:nose|eckenradius)\b"),
    ("depth", rf"\b(?:depth|deep|tiefe|tief|profundidad|profundo|prof\.?|h)\s*=?\s*(?P<v>{_LENGTH})"),
    ("depth", rf"(?P<v>{_LENGTH})\s*(?:deep|tief|profundo|(?:de )?prof(?:undidad|\b\.?))(?!\w)"),
    ("height", rf"\b(?:height|high|höhe|hoch|altura)\s*=?\s*(?P<v>{_LENGTH})"),
    ("height", rf"(?P<v>{_LENGTH})\s*(?:high|hoch|alto)\b"),
    ("mouth_diameter", rf"\b(?:mouth|across)\s*[øØ⌀]?\s*(?P<v>{_LENGTH})"),
    ("pitch", rf"\b(?:pitch|teilung|steigung|paso)\s*(?P<v>{_LENGTH})"),
    ("radius", rf"\b(?:r|radius|radio)\s*=?\s*(?P<v>{_LENGTH})"),
    ("diameter", rf"(?:[øØ⌀]|\b(?:dia|diameter|durchmesser|diámetro|diametro|d)\b)\s*=?\s*(?P<v>{_LENGTH})"),
    ("diameter", rf"(?P<v>{_LENGTH})\s*(?:dia|diameter|durchmesser)\b"),
    ("length", rf"\b(?:length|long|länge|lang|largo|l)\s*=?\s*(?P<v>{_LENGTH})"),
    ("length", rf"(?P<v>{_LENGTH})\s*(?:long|lang|largo)\b"),
)
_PATTERNS = tuple((tag, re.compile(pattern, re.IGNORECASE)) for tag, pattern in _TAGS)
_PLAIN = re.compile(rf"(?<![\w./]){_LENGTH}(?![\w/])")


def tagged(line: str) -> Tagged:
    """A line taken apart; a tag that comes twice keeps its first value, the second is left among the words.

    >>> tagged("R90 4.5 deep").values
    {'depth': '4.5', 'radius': '90'}
    >>> tagged("taper 30 25 40").numbers, tagged("taper 30 25 40").words
    (('30', '25', '40'), ('taper',))
    """
    rest, values = clean(line), dict[str, str]()
    for tag, pattern in _PATTERNS:
        match = pattern.search(rest)
        if match and tag not in values:
            values[tag] = match["v"].strip()
            rest = f"{rest[: match.start()]} {rest[match.end() :]}"
    numbers = tuple(match.group().strip() for match in _PLAIN.finditer(rest))
    return Tagged(values, numbers, tuple(_words(_PLAIN.sub(" ", rest))))


def _words(rest: str) -> Iterator[str]:
    yield from (word for word in re.split(r"[\s,;:=]+", rest.lower()) if word)
