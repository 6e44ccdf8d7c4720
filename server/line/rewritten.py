"""What a typed line can be written as: threads without a pitch, pipe threads by a trade name, grouped thousands."""

from __future__ import annotations

import re
from collections.abc import Iterator

from calc.cutting.names import find
from calc.language.translating import Language, has_comma
from calc.threads.tables import table

_SIZE = r"(?P<size>#?\s?(?:\d{1,2}[ -])?\d{1,2}(?:/\d{1,2})?)"
_SERIES = r"(?P<series>UNC|UNF|UNEF)"
_WITHOUT_PITCH = (
    re.compile(rf"\b{_SERIES}\s+{_SIZE}(?![\d/-]|\.\d)", re.IGNORECASE),
    re.compile(rf"(?<![\d./-]){_SIZE}(?:\"|\s?(?:in|inch|zoll))?\s?{_SERIES}\b", re.IGNORECASE),
)
"""A unified thread by its size and series alone."""
_PIPE = re.compile(r"\bBSP(?P<kind>[PTF]?)\s?(?P<size>(?:\d[ -])?\d(?:/\d)?)(?![\d/])\"?", re.IGNORECASE)
_PIPES = {"": ("G", "R"), "P": ("G",), "F": ("G",), "T": ("R",)}
"""The letters of ISO 228-1 (parallel) and ISO 7-1 (taper) that the trade's names of pipe threads stand for."""
_METRIC = r"M\s?\d+(?:\.\d)?"
_FINE = re.compile(
    rf"\b(?:(?P<a>{_METRIC})\s+(?:fine|fein|feingewinde|fino|paso fino)"
    rf"|(?:fine|feingewinde|paso fino)\s+(?P<b>{_METRIC}))(?![\w.])",
    re.IGNORECASE,
)
_MORSE = re.compile(
    r"(?:\bno\.?|\bnr\.?|#)\s*(?P<a>[0-7])\s+morse\b|(?<![\d.,/])(?P<b>[0-7])\s?(?:mt|mk)\b", re.IGNORECASE
)
_BEFORE_RPM = re.compile(
    r"(?<![\d.,/])(?P<grade>\d{4}(?<!00))\s+(?P<ask>rpm|drehzahl|revoluciones)\s*\??$", re.IGNORECASE
)
_TAPER = re.compile(r"\b(?:taper|tapered|cone|conical|kegel|konus|cono|conicidad)\b", re.IGNORECASE)
_SAID = re.compile(r"half|included|incl\b|per side|halber|je seite|semiángulo|incluido|por lado", re.IGNORECASE)
_AN_ANGLE = re.compile(
    r"\d+(?:[.,]\d+)?\s?(?:°|deg(?:rees?)?\b|grados?\b|grad\b)(?:\s?\d+(?:[.,]\d+)?\s?['\"])*", re.IGNORECASE
)
_COARSE = re.compile(r"\b(?:coarse|regelgewinde|paso grueso)\b", re.IGNORECASE)
_GROUPED = re.compile(
    r"(?<![\d.,])([1-9]\d{0,2})(?P<mark>[.,])(\d{3})(?![\d.,])(?=\s?(?:rpm|1/min|u/min|rev/min|upm|m/min|ft/min|sfm|fpm|nm?\b|w\b|psi|lbf?\b))",
    re.IGNORECASE,
)
"""A number that may have a mark between its thousands, before a unit that thousands of are common of."""


def rewritten(line: str) -> tuple[str, ...]:
    """The lines that this one stands for, as the readers of designations know them; none where it is plain.

    >>> rewritten("UNC 1/4"), rewritten("3/8 UNF tap drill"), rewritten("BSP 3/4")
    (('1/4-20 UNC',), ('3/8-24 UNF tap drill',), ('G 3/4', 'R 3/4'))
    >>> rewritten("M12 fine"), rewritten("1/4-20 UNC")
    (('M12x1.5', 'M12x1.25', 'M12x1'), ())
    """
    found = tuple(dict.fromkeys((*_unified(line), *_pipes(line), *_metric(line), *_morse(line), *_cone(line))))
    return tuple(each for each in found if each != line)


def _unified(line: str) -> Iterator[str]:
    for pattern in _WITHOUT_PITCH:
        for match in pattern.finditer(line):
            series, size = match["series"].upper(), " ".join(match["size"].replace("-", " ").split()).replace("# ", "#")
            rows = table("unified")[series]
            found = [each for each in (size, f"#{size}") if each in rows]
            for row in found:
                yield f"{line[: match.start()]}{row}-{rows[row]:g} {series}{line[match.end() :]}"
            if found:
                return


def _pipes(line: str) -> Iterator[str]:
    match = _PIPE.search(line)
    if match is not None:
        for letter in _PIPES[match["kind"].upper()]:
            yield f"{line[: match.start()]}{letter} {match['size']}{line[match.end() :]}"


def _metric(line: str) -> Iterator[str]:
    match = _FINE.search(line)
    if match is not None:
        size = (match["a"] or match["b"]).upper().replace(" ", "")
        for pitch in table("metric")["pitches"].get(size[1:], ())[1:]:
            yield f"{line[: match.start()]}{size}x{pitch:g}{line[match.end() :]}"
    elif _COARSE.search(line):
        yield " ".join(_COARSE.sub(" ", line).split())


def _morse(line: str) -> Iterator[str]:
    match = _MORSE.search(line)
    if match is not None:
        yield f"{line[: match.start()]}Morse {match['a'] or match['b']}{line[match.end() :]}"


def _cone(line: str) -> Iterator[str]:
    """A taper by an angle of which nothing says whether it is the half or the included one: both are offered."""
    if _TAPER.search(line) and not _SAID.search(line):
        for match in _AN_ANGLE.finditer(line):
            for which in ("half angle", "included"):
                yield f"{line[: match.start()]}{which} {match.group()}{line[match.end() :]}"
            return


def with_grade(line: str) -> str:
    """The line with the number before the speed that is asked for as a grade; blank where it is none.

    >>> with_grade("10 mm drill 4140 rpm"), with_grade("50 mm 1200 rpm")
    ('10 mm drill rpm 4140', '')
    """
    match = _BEFORE_RPM.search(line)
    found = find(match["grade"]) if match is not None else None
    is_grade = match is not None and found is not None and found.one is not None
    return f"{line[: match.start()]}{match['ask']} {match['grade']}" if match is not None and is_grade else ""


def in_thousands(line: str, language: Language) -> str:
    """The line with the number whose mark may group thousands as that; blank where none has such a mark.

    >>> in_thousands("1.500 U/min Ø20", "de"), in_thousands("1,500 rpm Ø20", "en"), in_thousands("1.500 rpm", "en")
    ('1500 U/min Ø20', '1500 rpm Ø20', '')
    """
    mark = "." if has_comma(language) else ","
    found = _GROUPED.sub(lambda each: f"{each[1]}{each[3]}" if each["mark"] == mark else each[0], line)
    return found if found != line else ""
