"""Dimensions as a print writes them: limits that belong to a length, chamfers such as 1x45°, a thread's diameter."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from typing import NamedTuple, Protocol

from calc.contour.solving.given import GivenCorner
from calc.contour.undercut import Undercut
from calc.language.given import Given
from calc.language.quantities import ANGLE, LENGTH, Kind, View
from calc.language.reading import ReadingError, read, rewrite_for_switch, strip_unit

_CHAMFER = re.compile(r"\s*(?P<mark>[Cc]?)\s*(?P<size>[^xX×]*?)\s*(?:[xX×]\s*(?P<angle>[^xX×]+))?\s*")
_THREAD = re.compile(r"\s*M\s*(?P<diameter>\d+(?:[.,]\d+)?)\s*(?:[xX×]\s*\d+(?:[.,]\d+)?)?\s*")
_LIMITS = re.compile(r"(?P<size>\s*[-+]?\s*\S*?\d\S*?)(?P<limits>\s+[-+±].*|±.*)")
_ANGLED = re.compile(r"(?P<size>.*\d[^xX×]*)(?P<limits>[xX×]\s*\d+(?:[.,]\d+)?\s*°?\s*)")
_USUAL = math.radians(45.0)


class Chamfer(NamedTuple):
    """A chamfer's size (mm), and its angle (rad) where the print has one: then the size is measured along Z."""

    size: Given | None
    angle: float | None


def read_chamfer(text: str, view: View) -> Chamfer:
    """A chamfer as typed: `1x45°`, `2x30`, `C1` as the print has them, `1` for equal legs along both elements.

    Raises `ReadingError` as `read`. Source of C1: JIS Z 8317, a chamfer of 45°; ISO 129-1 for 1x45°.

    >>> read_chamfer("1x45°", View()), read_chamfer("C0.5", View()).angle == math.radians(45.0)
    (Chamfer(size=1.0, angle=0.7853981633974483), True)
    >>> read_chamfer("0.8", View())
    Chamfer(size=0.8, angle=None)
    """
    match = _CHAMFER.fullmatch(text)
    if match is None or not match["size"]:
        return Chamfer(read(text, LENGTH, view), None)
    angle = read(match["angle"], ANGLE, view) if match["angle"] else None
    if match["mark"] and angle is None:
        angle = Given(_USUAL)
    return Chamfer(read(match["size"], LENGTH, view), angle)


class ThreadCalled(NamedTuple):
    """A thread on a print: the radius (mm) to turn or bore before it is cut, how far its usual chamfer goes (mm).

    `has_class` says whether the print has its class, or the usual one is assumed.
    """

    radius: Given
    chamfer: float
    has_class: bool


class GrooveCalled(NamedTuple):
    """A groove on a print: its width and the radius of its bottom (mm), with limits, and what it is called in full.

    `corner` is the radius in its bottom, 0 for sharp corners; `nominal` is the radius of the cylinder that it is for.
    """

    words: str
    width: Given
    bottom: Given
    corner: float
    nominal: float


class Names(Protocol):
    """What designations of the standards on a print stand for; their tables are kept in rooms above this one."""

    def undercut(self, text: str) -> Undercut:
        """The undercut that a print calls `text`. Raises `ReadingError`."""

    def relief(self, text: str, thread: str) -> Undercut:
        """The relief that a print calls `text`, of the `thread` beside it. Raises `ReadingError`."""

    def is_thread(self, text: str) -> bool:
        """Whether a print would call a thread `text`."""

    def thread(self, text: str) -> ThreadCalled:
        """The thread that a print calls `text`. Raises `ReadingError` for none, or one that is not on a cylinder."""

    def groove(self, text: str, radius: float | None, *, outward: bool) -> GrooveCalled:
        """The groove that a print calls `text` in a cylinder of `radius` (mm). Raises `ReadingError`."""

    def knurled(self, text: str) -> str | None:
        """The size that stands in `text` beside a knurl; None for no knurl. Raises `ReadingError` for none known."""

    def turned(self, text: str) -> Given | None:
        """The radius (mm) to turn before the thread `text` is cut; None for what is no thread with a class.

        Raises `ReadingError` for a thread that is not on a cylinder, or is none.
        """


class NoNames:
    """No designation is known."""

    def undercut(self, text: str) -> Undercut:
        """Raises `ReadingError`."""
        raise ReadingError(text, NOT_HERE)

    def relief(self, text: str, thread: str) -> Undercut:  # noqa: ARG002 - the protocol's
        """Raises `ReadingError`."""
        raise ReadingError(text, NOT_HERE)

    def is_thread(self, text: str) -> bool:  # noqa: ARG002 - the protocol's
        """No text is."""
        return False

    def thread(self, text: str) -> ThreadCalled:
        """Raises `ReadingError`."""
        raise ReadingError(text, NOT_HERE)

    def groove(self, text: str, radius: float | None, *, outward: bool) -> GrooveCalled:  # noqa: ARG002 - the same
        """Raises `ReadingError`."""
        raise ReadingError(text, NOT_HERE)

    def knurled(self, text: str) -> str | None:  # noqa: ARG002 - the protocol's
        """No text is."""
        return None

    def turned(self, text: str) -> Given | None:  # noqa: ARG002 - the protocol's
        """None for all."""
        return None


NOT_HERE = "“{typed}” cannot be looked up here: give the elements one by one."


def read_break(text: str, view: View) -> GivenCorner | None:
    """The break of a groove's edges: `R0.2` a radius, else a chamfer as `read_chamfer`; None for a blank.

    Raises `ReadingError` as `read`.

    >>> read_break("R0.2", View()), read_break("0.2x45°", View()).kind
    (GivenCorner(kind='radius', size=0.2, angle=None, along='z', undercut=None), 'chamfer')
    """
    if text.strip()[:1] in ("R", "r"):
        size = read(text.strip()[1:], LENGTH, view)
        return None if size is None else GivenCorner("radius", size)
    chamfer = read_chamfer(text, view)
    return None if chamfer.size is None else GivenCorner("chamfer", chamfer.size, chamfer.angle)


def negative(given: float) -> float:
    """The length the other way, with its limits.

    >>> held = negative(Given(1.05, nominal=1.0, limits=(1.0, 1.1)))
    >>> held, held.lower
    (-1.05, -1.1)
    """
    if not isinstance(given, Given):
        return -given
    limits = None if given.lower is None or given.upper is None else (-given.lower, -given.upper)
    return Given(-given, given.slack, None if given.nominal is None else -given.nominal, limits)


def from_datum(given: Given | None, kind: Kind, view: View) -> Given | None:
    """The value with its limits as those of the length from its datum: Z-28 +0.1/0 is 28.0 to 28.1 long.

    Only a Z that is typed negative changes: its limits are turned round with its sign.

    >>> from calc.language.quantities import Z
    >>> held = from_datum(read("-28 +0.1/0", Z, View()), Z, View())
    >>> float(held), held.nominal, held.lower, held.upper
    (-28.05, -28.0, -28.1, -28.0)
    """
    if given is None or given.nominal is None or kind.role != "z" or kind.shown(given.nominal, view) >= 0.0:
        return given
    twice = 2.0 * given.nominal
    limits = None if given.lower is None or given.upper is None else (twice - given.lower, twice - given.upper)
    return Given(twice - given, given.slack, given.nominal, limits)


def plain_size(text: str, kind: Kind) -> str:
    """The text of an X without what says that it carries a thread: M10 is turned to Ø10.

    >>> from calc.language.quantities import X
    >>> plain_size("M10x1.5", X), plain_size("24 g6", X)
    ('Ø10mm', '24 g6')
    """
    match = _THREAD.fullmatch(text) if kind.role == "x" else None
    return text if match is None else f"Ø{match['diameter']}mm"


def rewritten(text: str, kind: Kind, old: View, new: View) -> str:
    """The text for a page whose conventions change; limits stay those of the length, whichever way +Z points.

    >>> from calc.language.quantities import Z
    >>> rewritten("-28 +0.1/0", Z, View(), View(zplus="in")), rewritten("1x45°", LENGTH, View(), View("inch"))
    ('28 +0.1/0', '1mmx45°')
    """
    return _around(text, kind, lambda size: rewrite_for_switch(size, kind, old, new))


def stripped(text: str, kind: Kind, view: View) -> str:
    """The text without the other system's unit.

    >>> stripped("1mmx45°", LENGTH, View("inch"))
    '1x45°'
    """
    return _around(text, kind, lambda size: strip_unit(size, kind, view))


def _around(text: str, kind: Kind, change: Callable[[str], str]) -> str:
    """Change the size alone, where limits of a Z or the angle of a chamfer stand behind it."""
    pattern = _LIMITS if kind.role == "z" else _ANGLED if kind is LENGTH else None
    match = pattern.fullmatch(text) if pattern else None
    return change(text) if match is None else change(match["size"]) + match["limits"]
