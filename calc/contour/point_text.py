"""A table of points as a text: a line for each, its X and its Z apart by a space, a tab or a semicolon."""

from __future__ import annotations

import re
from collections.abc import Callable

from calc.contour.arc_spline import MOST_POINTS
from calc.contour.points import Point
from calc.contour.solving.given import LONGEST
from calc.language.messages import Message, Quantity
from calc.language.problems import Fault
from calc.language.quantities import LENGTH, Kind, View, X, Z
from calc.language.reading import ReadingError, read, rewrite_for_switch, strip_unit

_APART = re.compile(r"[\s;]+")
_LINE = re.compile(r"[\r\n]+")


def lines_of(text: str) -> list[str]:
    """The lines of a table that say something.

    >>> lines_of("0 0\\r\\n\\n 10;-1 ")
    ['0 0', '10;-1']
    """
    return [line.strip() for line in _LINE.split(text) if line.strip(" \t;")]


def read_points(text: str, view: View, field: str = "points") -> tuple[tuple[Point, ...], tuple[Fault, ...]]:
    """The points of a `text` in a reader's units and signs, and what is wrong, said at `field` with its line.

    >>> read_points("0 0\\n20 -5", View())[0]
    (Point(z=0.0, r=0.0), Point(z=-5.0, r=10.0))
    """
    lines = lines_of(text)
    if len(lines) > MOST_POINTS:
        values = {"count": len(lines), "most": MOST_POINTS}
        return (), (Fault(field, Message("These are {count} points; at most {most} are fitted.", {**values})),)
    found: list[Point] = []
    for number, line in enumerate(lines, 1):
        point = _point(line, view)
        if isinstance(point, Message):
            return (), (Fault(field, Message("Line {number}: {why}", {"number": number, "why": point})),)
        found.append(point)
    return tuple(found), ()


def _point(line: str, view: View) -> Point | Message:
    parts = _APART.split(line.strip(" \t;"))
    if len(parts) != 2:
        return Message("“{line}” is not two numbers: write X and Z, such as 20 -5.", {"line": line[:40]})
    try:
        r, z = read(parts[0], X, view), read(parts[1], Z, view)
    except ReadingError as error:
        return error.message
    if r is None or z is None:
        return Message("a point needs its X and its Z.")
    if not max(abs(r), abs(z)) <= LONGEST:
        most = Quantity(LONGEST, LENGTH, brief=True)
        return Message("this is beyond what a part here can have: at most {most}.", {"most": most})
    return Point(float(z), float(r))


def points_rewritten(text: str, old: View, new: View) -> str:
    """The table for a page whose conventions change: same meaning, same digits.

    >>> points_rewritten("20 -5", View(), View("inch"))
    '20mm -5mm'
    """
    return _each(text, lambda typed, kind: rewrite_for_switch(typed, kind, old, new))


def points_stripped(text: str, view: View) -> str:
    """The table without the other system's units.

    >>> points_stripped("20mm -5mm", View("inch"))
    '20 -5'
    """
    return _each(text, lambda typed, kind: strip_unit(typed, kind, view))


def _each(text: str, change: Callable[[str, Kind], str]) -> str:
    changed = []
    for line in lines_of(text):
        parts = _APART.split(line.strip(" \t;"))
        is_point = len(parts) == 2
        changed.append(f"{change(parts[0], X)} {change(parts[1], Z)}" if is_point else line)
    return "\n".join(changed)
