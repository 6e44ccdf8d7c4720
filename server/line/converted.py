"""A value with a unit in the other system of units: what a line asks that is nothing but one value."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import NamedTuple

from calc.language.given import Given
from calc.language.kinds import STIFFNESS
from calc.language.limited import limited
from calc.language.quantities import (
    DENSITY,
    FEED,
    FORCE,
    LENGTH,
    MASS,
    POWER,
    PRESSURE,
    REMOVAL_RATE,
    ROUGHNESS,
    SURFACE_SPEED,
    TORQUE,
    Kind,
    View,
)
from calc.language.reading import ReadingError, read, rewrite_for_switch
from calc.threads.designation import INCH
from calc.threads.tables import table
from server.line.inches import FRACTION, has_inch_unit

KINDS: tuple[Kind, ...] = (
    *(LENGTH, SURFACE_SPEED, FEED, ROUGHNESS, FORCE, TORQUE, POWER, MASS),
    *(PRESSURE, REMOVAL_RATE, DENSITY, STIFFNESS),
)
_ASKED = re.compile(
    r"^(?P<value>.+?)(?:\s+(?:in|to|into|as|=|->|nach|en|a)\s+"
    r"(?:mm|millimet\w+|in|inch\w*|zoll|pulgadas?|\S{1,8}|(?:lbf?|ft|cu|sq) (?:ft|in|lbf?)))?\s*\??$",
    re.IGNORECASE,
)
_MICRO = re.compile(r"(?:\b|\d)(?:[uµμ](?:m|in)\b|micr)", re.IGNORECASE)


_BARE_INCHES = re.compile(r"(?P<value>\d*\.\d+|\d+)\s+(?:in|en|to|into)\s+(?:mm|millimet\w+)\s*\??", re.IGNORECASE)
"""A number alone that is to become mm: of inches."""
_DRILL = re.compile(
    r"(?:letter|buchstabe|letra)\s(?P<letter>[a-z])\s(?:drill|bohrer|broca)(?: size)?|"
    r"(?:number|no\.?|nr\.?|num\.?|#)\s?(?P<number>\d{1,2})\s(?:drill|bohrer|broca)(?: size)?|"
    r"(?:drill|broca|bohrer)\s(?:letter|letra|buchstabe)\s(?P<other>[a-z])",
    re.IGNORECASE,
)


class Converted(NamedTuple):
    """The value's kind, the view in whose units it is asked for, and its text there where it has limits."""

    kind: Kind
    value: float
    view: View
    limited: str = ""


def converted(line: str, view: View) -> Converted | None:
    """The value of a line that is one value with a unit, or a fraction of an inch, for the other system of units.

    >>> found = converted('1-1/4"', View())
    >>> found.kind.say(found.value, found.view)
    '31.750 mm'
    >>> found = converted("25.4 mm in inch", View())
    >>> found.kind.say(found.value, found.view)
    '1.0000 in'
    >>> converted("50", View()) is None
    True
    """
    match, bare = _ASKED.fullmatch(line.strip()), _BARE_INCHES.fullmatch(line.strip())
    text = match["value"].strip() if match else ""
    if FRACTION.fullmatch(text):
        text = f"{text} in"
    elif bare:
        text = f"{bare['value']} in"
    elif not re.search(r"\d\s*[a-zµμ\"']", text, re.IGNORECASE):
        return None
    for kind in (ROUGHNESS, *KINDS) if _MICRO.search(line) else KINDS:
        try:
            value = read(text, kind, View(language=view.language))
        except ReadingError:
            continue
        if value is not None and value > 0.0:
            asked = replace(view, units="mm" if has_inch_unit(text, (kind,)) else "inch")
            return Converted(kind, value, asked, _with_limits(text, value, asked))
    return None


def _with_limits(text: str, value: Given, asked: View) -> str:
    """The text of a size with limits, with its unit, for a page in the units that it is asked in; else blank."""
    if limited(value) is None:
        return ""
    own = replace(asked, units="mm" if asked.units == "inch" else "inch")
    return rewrite_for_switch(text, LENGTH, own, asked)


def named_drill(line: str) -> float | None:
    """The diameter (mm) of a drill that a line names by its number or letter (ASME B94.11M); None for any other line.

    >>> round(named_drill("#7 drill size"), 4), round(named_drill("letter F drill"), 4), named_drill("drill 7")
    (5.1054, 6.5278, None)
    """
    match = _DRILL.fullmatch(line.strip(" ?"))
    if match is None:
        return None
    drills = table("unified")["drills"]
    letter = (match["letter"] or match["other"] or "").upper()
    place = ord(letter) - ord("A") if letter else int(match["number"]) - 1
    listed = drills["letters" if letter else "numbers"]
    return float(listed[place]) * INCH if 0 <= place < len(listed) else None
