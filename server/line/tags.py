"""The values of a typed line, each under what it is: a radius, a depth, a speed; and the words that are left."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import NamedTuple

from calc.cutting.roughness_grades import GRADES
from calc.language.reading.text import clean

_NUMBER = r"[-−]?[.,]?\d(?:[\d.,]*\d)?(?:[ -]\d+/\d+|/\d+)?"
_LENGTH = rf"{_NUMBER}\s?(?:mm\b|in\b|inch\b|\"|zoll\b)?"

_MARK = r"(?:°|deg(?:rees?)?\b|grados?\b|grad\b)"
_DEGREES = rf"{_NUMBER}\s?{_MARK}(?:\s?\d+(?:[.,]\d+)?\s?')?(?:\s?\d+(?:[.,]\d+)?\s?\")?"
"""An angle in degrees, or with its minutes and seconds."""

_RPM = r"(?:rpm|1/min|u/min|rev/min|upm)"


class Tagged(NamedTuple):
    """A line taken apart: texts by tag, the numbers that say nothing of themselves, the words that are left."""

    values: dict[str, str]
    numbers: tuple[str, ...]
    words: tuple[str, ...]


# The order decides: what says more of itself comes first. Words of German and Spanish stand beside the English ones.
_TAGS: tuple[tuple[str, str], ...] = (
    ("surface_speed", rf"(?:\bv_?c?\s*=?\s*)?(?P<v>{_NUMBER}\s?(?:m/min|ft/min|sfm|fpm))\b"),
    ("surface_speed", rf"\bv_?c\s*=?\s*(?P<v>{_NUMBER})(?![\d.,])(?!\s?{_RPM})"),
    ("limit", rf"\b(?:max|maximum|limit|up to|höchstens|máx)\.?\s*(?P<v>{_NUMBER})\s?{_RPM}?\b"),
    ("rpm", rf"(?:\bn\s*=\s*)?(?P<v>{_NUMBER})\s?{_RPM}\b"),
    ("rpm", rf"\bn\s*=?\s*(?P<v>{_NUMBER})"),
    ("feed", rf"(?P<v>{_NUMBER}\s?(?:mm/rev|in/rev|mm/u|ipr))\b"),
    ("feed", rf"\b(?:f|feed|vorschub|avance)\s*=?\s*(?P<v>{_LENGTH})"),
    ("depth_of_cut", rf"\b(?:a_?p|doc|depth of cut|schnitttiefe)\s*=?\s*(?P<v>{_LENGTH})"),
    ("nose_radius", rf"\b(?:nose|nase|ecke|schneidenecke|eckenradius|punta)\s*(?:radius|r)?\s*=?\s*(?P<v>{_LENGTH})"),
    ("nose_radius", rf"(?P<v>{_LENGTH})\s*(?:nose(?:\s*radius)?|eckenradius)\b"),
    ("ra", rf"\bra\s*=?\s*(?P<v>{_NUMBER}\s?(?:µm|um|μm|µin|uin)?)"),
    ("rz", rf"\brz\s*=?\s*(?P<v>{_NUMBER}\s?(?:µm|um|μm|µin|uin)?)"),
    ("ra", rf"(?P<v>{_NUMBER}\s?(?:µm|um|μm|µin|uin))(?!\w)"),
    ("ra", rf"(?P<v>{_NUMBER})\s?ra\b"),
    ("feed", rf"(?P<v>{_LENGTH})\s*(?:feed|vorschub|avance)\b"),
    ("half_angle", rf"\b(?:half[- ]angle|halber winkel|semiángulo)\s*(?:of\s)?=?\s*(?P<v>{_DEGREES})"),
    ("half_angle", rf"(?P<v>{_DEGREES})\s*(?:half[- ]angle|per side|je seite|por lado)(?!\w)"),
    ("included_angle", rf"\b(?:included(?: angle)?|ángulo incluido)\s*(?:of\s)?=?\s*(?P<v>{_DEGREES})"),
    ("included_angle", rf"(?P<v>{_DEGREES})\s*(?:included|incl\.?)(?: angle)?(?!\w)"),
    ("angle", rf"(?P<v>{_DEGREES})"),
    ("across_flats", rf"\b(?:sw|af|a/f|across flats|schlüsselweite|entre caras)\s*=?\s*(?P<v>{_LENGTH})"),
    ("across_flats", rf"(?P<v>{_LENGTH})\s*(?:af|a/f|across flats|entre caras)\b"),
    ("across_corners", rf"\b(?:a/c|across corners|über eck|entre v[eé]rtices)\s*=?\s*(?P<v>{_LENGTH})"),
    ("across_corners", rf"(?P<v>{_LENGTH})\s*(?:a/c|across corners|über eck|entre v[eé]rtices)(?!\w)"),
    (
        "overhang",
        rf"\b(?:overhang|(?:stick(?:s|ing)?[- ]?)?out|projection|ausladung|überhang|auskragung|voladizo)\s*=?\s*"
        rf"(?P<v>{_LENGTH})",
    ),
    ("overhang", rf"(?P<v>{_LENGTH})\s*(?:overhang|out)\b"),
    ("neck", rf"\b(?:neck|hals|cuello)\s*[øØ⌀]?\s*=?\s*(?P<v>{_LENGTH})"),
    ("depth", rf"\b(?:depth|deep|tiefe|tief|profundidad|profundo|prof\.?)\s*=?\s*(?P<v>{_LENGTH})"),
    ("depth", rf"\bh(?:\s*=\s*|\s+)(?P<v>{_LENGTH})"),
    ("depth", rf"(?P<v>{_LENGTH})\s*(?:deep|depth|tiefe?|profundo|(?:de )?prof(?:undidad|\b\.?))(?!\w)"),
    ("height", rf"\b(?:height|high|höhe|hoch|altura)\s*=?\s*(?P<v>{_LENGTH})"),
    ("height", rf"(?P<v>{_LENGTH})\s*(?:high|hoch|alto)\b"),
    ("mouth_diameter", rf"\b(?:mouth|across|mündung|boca)\s*[øØ⌀]?\s*(?P<v>{_LENGTH})"),
    ("pitch", rf"\b(?:pitch|teilung|steigung|paso)\s*(?P<v>{_LENGTH})"),
    ("radius", rf"\b(?:r|radius|radio)\s*=?\s*(?P<v>{_LENGTH})"),
    (
        "diameter",
        rf"(?:[øØ⌀]|\b(?:dia|diameter|durchmesser|diámetro|diametro|d)(?=[\s=\d.]))\.?\s*=?\s*(?P<v>{_LENGTH})",
    ),
    ("diameter", rf"(?P<v>{_LENGTH})\s*(?:dia|diameter|durchmesser|diámetro)\b"),
    ("over", rf"\b(?:over|auf)\s*(?P<v>{_LENGTH})"),
    ("length", rf"\b(?:length|long|länge|lang|largo|longitud|l)\s*=?\s*(?P<v>{_LENGTH})"),
    ("length", rf"(?P<v>{_LENGTH})\s*(?:long|lang|largo)\b"),
)
_PATTERNS = tuple((tag, re.compile(pattern, re.IGNORECASE)) for tag, pattern in _TAGS)
_BEHIND = tuple(sorted(_PATTERNS, key=lambda each: not each[1].pattern.startswith("(?P<v>")))
_NUMBERS_FIRST = re.compile(rf"{_LENGTH}\s+[a-z]{{2,}}\s+{_LENGTH}\s+[a-z]{{2,}}", re.IGNORECASE)
"""A line whose words all stand behind their numbers: there a word says what the number before it is."""
_SECOND = {"diameter": "second_diameter"}
"""What a tag that comes twice is the second time."""
_PLAIN = re.compile(rf"(?<![\w./]){_LENGTH}(?![\w/])")
_PAIR = re.compile(rf"(?<![\w.])({_NUMBER})\s?[x×*]\s?({_NUMBER})(?!\w)")
_LETTERED = (
    ("undercut", re.compile(rf"\b(?P<form>[EFGH])\s?(?P<v>{_NUMBER}\s?[x×]\s?{_NUMBER})(?!\w)")),
    ("centre_hole", re.compile(r"\b(?P<form>[ABCR])\s?(?P<v>\d+(?:\.\d+)?)(?![\w.])")),
)
"""Sizes with the letter of a form, which is a tag of its own."""
_CHAMFER = re.compile(rf"(?<![\w.])({_NUMBER})\s?[x×]\s?(15|20|30|45|60)(?:\s?°|\s?deg\b|(?![\w.]))", re.IGNORECASE)
_OF_GRADE = {grade: um for grade, um, _ in GRADES}
_OF_CENTRE_HOLES = re.compile(r"cent(?:re|er)|zentrier|centrado|din 332|iso 6411", re.IGNORECASE)
_GRADE = re.compile(r"\bN(1[0-2]|[1-9])\b(?![.]|\s?=)")
_STANDARD = re.compile(r"\b(?:din|iso|asme|ansi|bs|en)\s?\d{2,5}\b", re.IGNORECASE)

FILLERS = frozenset({
    "a", "an", "the", "of", "for", "at", "on", "in", "to", "from", "and", "or", "is", "are", "it", "do", "does",
    "i", "my", "me", "we", "what", "which", "how", "much", "many", "need", "give", "with", "by", "as", "per",
    "mm", "calculate", "find", "get", "show", "=", "?", "!", "&", "der", "die", "das", "ein", "eine", "für",
    "bei", "mit", "auf", "von", "und", "oder", "wie", "viel", "welche", "welcher", "welches", "ist", "zu", "el",
    "la", "los", "las", "un", "una", "de", "del", "para", "con", "en", "y", "o", "que", "qué", "cual", "cuál",
    "es", "por", "entre",
})  # fmt: skip
"""Words that say nothing of what is asked."""


def tagged(line: str, known: Mapping[str, str] | None = None) -> Tagged:
    """A line taken apart; `known` values of it are found already. A second diameter is one; another second stays.

    Beside a surface speed a spindle speed is the limit.

    >>> tagged("R90 4.5 deep").values
    {'depth': '4.5', 'radius': '90'}
    >>> tagged("taper 30 25 40").numbers, tagged("what taper 30 25 40?").words
    (('30', '25', '40'), ('taper',))
    >>> tagged("Ø30 to Ø25 over 40").values
    {'diameter': '30', 'second_diameter': '25', 'over': '40'}
    """
    rest, values = _with_forms(clean(line), dict(known or {}))
    rest = _GRADE.sub(lambda match: f"Ra {_OF_GRADE[match.group()]} µm", rest)
    standards = [" ".join(match.group().lower().split()) for match in _STANDARD.finditer(rest)]
    rest = _STANDARD.sub(" ", rest)
    for tag, pattern in _BEHIND if _NUMBERS_FIRST.fullmatch(rest.strip()) else _PATTERNS:
        for name in (tag, _SECOND.get(tag, "")):
            match = pattern.search(rest) if name and name not in values else None
            if match:
                values[name] = match["v"].strip()
                rest = _without(rest, match)
    if "surface_speed" in values and "rpm" in values:
        values.setdefault("limit", values.pop("rpm"))
    rest = _PAIR.sub(r" \1 \2 ", rest)
    numbers = tuple(match.group().strip() for match in _PLAIN.finditer(rest))
    return Tagged(values, numbers, (*standards, *_words(_PLAIN.sub(" ", rest))))


def _with_forms(rest: str, values: dict[str, str]) -> tuple[str, dict[str, str]]:
    """Sizes that bear the letter of a form, and chamfers as 2x45, taken out of a line."""
    of_centre_holes = _OF_CENTRE_HOLES.search(rest) is not None
    for tag, pattern in _LETTERED:
        match = pattern.search(rest) if tag == "undercut" or of_centre_holes else None
        if match:
            values |= {f"{tag}_form": match["form"], f"{tag}_size": match["v"].replace(" ", "").replace("×", "x")}
            rest = _without(rest, match)
    chamfer = _CHAMFER.search(rest)
    if chamfer:
        values |= {"chamfer": chamfer[1], "chamfer_angle": chamfer[2]}
        rest = _without(rest, chamfer)
    return rest, values


def _without(rest: str, match: re.Match[str]) -> str:
    return f"{rest[: match.start()]} {rest[match.end() :]}"


def _words(rest: str) -> Iterator[str]:
    words = (word.strip(".?!¿¡'\"()").removesuffix("'s") for word in re.split(r"[\s,;:=]+", rest.lower()))
    yield from (word for word in words if word and word not in FILLERS)
