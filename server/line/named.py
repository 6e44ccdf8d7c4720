"""Designations that stand anywhere in a line: threads, sizes with a class, tapers, inserts, holders, materials."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import NamedTuple

from calc.cutting.names import find
from calc.language.limited import limited
from calc.language.problems import Problem
from calc.language.quantities import DIAMETER, View
from calc.language.reading import ReadingError, read
from calc.shapes.taper.standards import standard_taper
from calc.threads.designation import read_designation
from calc.tool.holder import read_holder
from calc.tool.insert import read_insert

_NUM = r"\d+(?:[.,]\d+)?"
_CLASS = r"(?:[a-hj-npr-z]|js|c?d|ef|fg|z[abc])\d{1,2}"
_THREADS = (
    rf"\b(?:M|Tr|MJ)\s?{_NUM}(?:\s?[x×*]\s?{_NUM})?(?:\s?P{_NUM})?(?:\s?-?\s?\d[a-hA-H](?:\d[a-hA-H])?)?"
    r"(?:\s?-?\s?LH)?(?![\w.])",
    r"\b(?:G|Rc|Rp|R)\s?(?:\d\s\d/\d|\d/\d+)(?:\s?[AB])?(?![\w.])",
    r"(?<![\w./])(?:\d[ -])?\d/\d(?:-\d{1,2}(?:\.5)?)?\s?NPTF?\b",
    r"(?<![\w./])(?:#\s?)?(?:\d[ -])?\d{1,2}(?:/\d{1,2})?-\d{1,2}(?:\s?UN(?:C|F|EF|S|J)?)?(?:-\d[AB])?(?![\w./])",
    r"(?<![\w./])(?:\d[ -])?\d/\d-\d{1,2}\s?(?:BSW|BSF)\b",
)
_TAPERS = (
    r"\b(?:morse(?:kegel)?|mk|mt|cm|cone morse|cono morse|sk|iso|bt|nt|jacobs|jt|b&s|brown|jarno)"
    r"\s?(?:taper|kegel|no\.?)?\s?\d{1,2}(?!\w)(?!\s?\d)",
)
_INSERTS = (r"\b[A-Z]{4}\s?(?:\d{2}\s?(?:\d{2}|T\d)\s?(?:\d{2}|M0)|\d{3,4}(?:\.\d)?)(?:-?[A-Z]{1,3}\d?)?(?!\w)",)
_HOLDERS = (r"\b(?:[A-Z]\d{2}[A-Z]\s?-\s?)?[A-Z]{5}\s?-?\s?(?:\d{4}\s?[A-Z]\s?)?\d{2,3}(?!\w)",)
_RATIOS = (r"(?<![\d.])1\s?:\s?\d+(?:[.,]\d+)?(?![\w.])", r"(?<![\w./])7\s?[:/]\s?24(?![\w./])(?!\s*\d)")
_PAIRS = re.compile(
    rf"(?<![\d.,])(?<!tr)(?<!tr )(?P<size>(?:[Øø⌀]\s?)?{_NUM}(?:\s?(?:mm|inch|in|\"))?)\s?"
    rf"(?P<one>{_CLASS})\s?[/ ]\s?(?P<other>{_CLASS})(?![\w.])",
    re.IGNORECASE,
)
_SIZES = (
    rf"(?<![\w./])(?:[Øø⌀]\s?)?(?:{_NUM}|(?:\d+[ -])?\d+/\d+)(?:\s?(?:mm|inch|in|zoll|\"))?\s?{_CLASS}(?![\w.])",
    r"(?<![\w./])(?:[Øø⌀]\s?)?\d*[.,]?\d+(?:\s?mm)?\s?(?:±\s?|\+/-\s?)[\d.,]*\d(?![\w/])",
    r"(?<![\w./])(?:[Øø⌀]\s?)?\d*[.,]?\d+(?:\s?mm)?\s?[+-]\s?[\d.,]*\d\s?[/ ]\s?[+-]?\s?[\d.,]*\d(?![\w/])",
)
_MATERIAL = re.compile(
    r"(?<![\w.])(?=[\w.+-]*[A-Za-z])(?=[\w.+-]*\d)[A-Za-z0-9][\w.+-]*(?!\w)|(?<![\w.])\d\.\d{4}(?!\w)"
)
_BARE_MATERIAL = re.compile(r"(?<![\w.])\d{3,4}(?![\w.,/])(?!\s?(?:mm|in|rpm|1/min|u/min|upm|rev|m/|ft|sfm|fpm|\"))")
_SERIES_FIRST = re.compile(r"\b(UN(?:C|F|EF)|NPT)\s+(#?\d[\d/ -]*)", re.IGNORECASE)
_CAPITAL_APART = re.compile(rf"({_NUM}) ([A-HJ-NPR-Z]) (\d{{1,2}})(?![\w.])")


class Named(NamedTuple):
    """Designations of a line by what they are, and the line without them."""

    values: dict[str, str]
    rest: str


def known(reader: Callable[[str], object], text: str) -> bool:
    """Whether a reader of designations knows the text."""
    try:
        reader(text)
    except Problem:
        return False
    return True


def has_limits(text: str) -> bool:
    """Whether the text is a size with a tolerance class or deviations.

    >>> has_limits("24 g6"), has_limits("24 d60")
    (True, False)
    """
    try:
        return limited(read(text, DIAMETER, View())) is not None
    except ReadingError:
        return False


_KINDS: tuple[tuple[str, tuple[re.Pattern[str], ...], Callable[[str], bool]], ...] = tuple(
    (tag, tuple(re.compile(each, re.IGNORECASE) for each in patterns), fits)
    for tag, patterns, fits in (
        ("thread", _THREADS, lambda text: known(read_designation, text)),
        ("standard", _TAPERS, lambda text: known(standard_taper, text)),
        ("holder", _HOLDERS, lambda text: known(read_holder, text)),
        ("insert", _INSERTS, lambda text: known(read_insert, text)),
        ("ratio", _RATIOS, bool),
        ("size", _SIZES, has_limits),
    )
)


def named(line: str) -> Iterator[Named]:
    """Each way to take the designations out of a line: a bare number may be a material, or a number; a name, a form.

    >>> [each.values for each in named("drill M8 in 304")]
    [{'thread': 'M8', 'material': '304'}, {'thread': 'M8'}]
    >>> next(named("24 H7/g6")).values
    {'size': '24 g6', 'hole_size': '24 H7'}
    """
    line = _CAPITAL_APART.sub(r"\1 \2\3", _SERIES_FIRST.sub(r"\2 \1", line))
    values, rest = _fit(line)
    for tag, patterns, fits in _KINDS:
        for pattern in patterns:
            match = next((each for each in pattern.finditer(rest) if fits(each.group().strip())), None)
            if match is not None and tag not in values:
                values[tag] = match.group().strip()
                rest = _without(rest, match)
    values, rest = _second_size(values, rest)
    material = _material(_MATERIAL, rest)
    if material is not None:
        yield Named({**values, "material": material.group().strip()}, _without(rest, material))
        if material.group()[0].isdigit():
            return
    bare = _material(_BARE_MATERIAL, rest)
    if bare is not None:
        yield Named({**values, "material": bare.group()}, _without(rest, bare))
    yield Named(values, rest)


def _fit(line: str) -> tuple[dict[str, str], str]:
    """Shaft and hole of a fit written together, as 24 H7/g6."""
    match = _PAIRS.search(line)
    if match is None:
        return {}, line
    shaft, hole = sorted((match["one"], match["other"]), key=str.isupper)
    sizes = f"{match['size'].strip()} {shaft}", f"{match['size'].strip()} {hole}"
    if shaft.isupper() or not hole[0].isupper() or not all(map(has_limits, sizes)):
        return {}, line
    return {"size": sizes[0], "hole_size": sizes[1]}, _without(line, match)


def _second_size(values: dict[str, str], rest: str) -> tuple[dict[str, str], str]:
    """A second size with a class: the hole of a fit where one class is small and the other capital."""
    if "size" not in values or "hole_size" in values:
        return values, rest
    match = next((each for each in _KINDS[-1][1][0].finditer(rest) if has_limits(each.group())), None)
    if match is None or _is_hole(match.group()) == _is_hole(values["size"]):
        return values, rest
    shaft, hole = sorted((values["size"], match.group().strip()), key=_is_hole)
    return {**values, "size": shaft, "hole_size": hole}, _without(rest, match)


def _is_hole(size: str) -> bool:
    return any(letter.isupper() for letter in size.replace("Ø", ""))


def _material(pattern: re.Pattern[str], rest: str) -> re.Match[str] | None:
    """The first of what looks like the name of a material that is one."""
    for match in pattern.finditer(rest):
        found = find(match.group())
        if found is not None and found.one is not None:
            return match
    return None


def _without(line: str, match: re.Match[str]) -> str:
    return f"{line[: match.start()]} {line[match.end() :]}"
