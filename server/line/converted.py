"""A value with a unit in the other system of units: what a line asks that is nothing but one value."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import NamedTuple

from calc.language.kinds import STIFFNESS
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
from calc.language.reading import ReadingError, read
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


class Converted(NamedTuple):
    """The value's kind, and the view in whose units it is asked for."""

    kind: Kind
    value: float
    view: View


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
    match = _ASKED.fullmatch(line.strip())
    text = match["value"].strip() if match else ""
    fraction = FRACTION.fullmatch(text)
    if not fraction and not re.search(r"\d\s*[a-zµμ\"']", text, re.IGNORECASE):
        return None
    text = f"{text} in" if fraction else text
    for kind in (ROUGHNESS, *KINDS) if _MICRO.search(line) else KINDS:
        try:
            value = read(text, kind, View(language=view.language))
        except ReadingError:
            continue
        if isinstance(value, float) and value > 0.0:
            return Converted(kind, value, replace(view, units="mm" if has_inch_unit(text, (kind,)) else "inch"))
    return None
