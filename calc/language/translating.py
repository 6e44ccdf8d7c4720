"""Languages: the words of a text in the reader's language, and the decimal mark that numbers have there.

English is what stands in the code, and the key of every text. The other languages are gettext catalogues under
`catalogue/`, read when somebody first asks for one.
"""

from __future__ import annotations

import gettext
import re
from collections.abc import Callable, Mapping
from functools import cache
from pathlib import Path
from typing import Literal

Language = Literal["en", "de", "es"]

LANGUAGES: Mapping[Language, str] = {"en": "English", "de": "Deutsch", "es": "Español"}
"""What each language calls itself."""

SHORTEST_WORD = 3
"""Letters: a shorter word at the head of a label is mostly a symbol."""

FOLDER = Path(__file__).parent / "catalogue"

_GROUPED = re.compile(r"\d\.\d{3},\d")  # points between thousands, then a comma
_PLAIN = re.compile(r"[-+−±≈<>≤≥ØR]? ?\d*\.\d+( ?[^\s\d]{1,8})?")


def translated(text: str, language: Language) -> str:
    """`text` in `language`; the same where that has no words for it, as for a designation.

    >>> translated("Feed", "en")
    'Feed'
    """
    return text if language == "en" or not text else lookup(language)(text)


@cache
def lookup(language: Language) -> Callable[[str], str]:
    """What finds the words of a language; the same text where the catalogue has none."""
    file = FOLDER / f"{language}.mo"
    if not file.exists():
        return str
    with file.open("rb") as opened:
        return gettext.GNUTranslations(opened).gettext


def has_comma(language: Language) -> bool:
    """Whether the decimal mark is a comma.

    >>> has_comma("en"), has_comma("de")
    (False, True)
    """
    return language != "en"


def marked(digits: str, language: Language) -> str:
    """A number as digits, with the decimal mark of the language.

    >>> marked("4.500", "en"), marked("4.500", "de"), marked(".5", "es"), marked("28%", "de")
    ('4.500', '4,500', '0,5', '28\xa0%')
    """
    return marked_typed(digits, language).replace("%", "\N{NO-BREAK SPACE}%") if has_comma(language) else digits


def marked_typed(text: str, language: Language) -> str:
    """What was typed into the field of a number, as it is shown there: with the decimal mark of the language, and the
    zero that stands before a comma.

    >>> marked_typed("60.5 +0.1/-0.05mm", "de"), marked_typed("7.5 in.", "de"), marked_typed("2.5 +.1/-.05", "es")
    ('60,5 +0,1/-0,05mm', '7,5 in.', '2,5 +0,1/-0,05')
    """
    if not has_comma(language) or _GROUPED.search(text):
        return text
    return re.sub(r"(\d?)\.(?=\d)", lambda found: f"{found[1] or 0},", text)


def pointed(text: str, language: Language) -> str:
    """The same with the point that links and the API use: where the language has a comma it is always a decimal mark.

    A number with points between its thousands stays, to be asked back.

    >>> pointed("60,5 +0,1/-0,05mm", "de"), pointed("1,500", "es"), pointed("1,500", "en"), pointed("1.500,25", "de")
    ('60.5 +0.1/-0.05mm', '1.500', '1,500', '1.500,25')
    """
    return re.sub(r",(?=\d)", ".", text) if has_comma(language) and not _GROUPED.search(text) else text


def worded(text: str, language: Language) -> str:
    """A declared text: translated, or where it is a number alone, with the language's decimal mark.

    >>> worded("0.005 mm", "de"), worded("DIN 509 - F 0.8 x 0.3", "de")
    ('0,005 mm', 'DIN 509 - F 0.8 x 0.3')
    """
    if language == "en":
        return text
    found = translated(text, language)
    return marked(found, language) if found == text and _PLAIN.fullmatch(text) else found


def in_sentence(label: str, language: Language) -> str:
    """A label, already in `language`, as it stands within a sentence: German nouns keep their capital.

    >>> in_sentence("Nose radius", "en"), in_sentence("O-ring section", "en"), in_sentence("Eckenradius", "de")
    ('nose radius', 'O-ring section', 'Eckenradius')
    """
    word = label.split(" ", 1)[0]
    symbol = len(word) < SHORTEST_WORD or not word[1].islower()  # X, Ra, GO, O-ring
    return label if language == "de" or symbol else label[:1].lower() + label[1:]
