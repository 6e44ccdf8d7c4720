"""What the solver answers with."""

from __future__ import annotations

from dataclasses import dataclass, field

from calc.contour.crossings import Crossing
from calc.contour.elements import Element
from calc.contour.line import Line
from calc.contour.points import Point
from calc.language.messages import Message, Phrase

MOST_SOLUTIONS = 16


@dataclass(frozen=True, slots=True)
class Solved:
    """One element of a solution. ``of`` is the index of the given element; a corner bears that of the one it ends.

    ``undercut`` is the designation of the undercut that it belongs to.
    """

    element: Element
    of: int
    is_corner: bool = False
    undercut: str = ""

    @property
    def words(self) -> str:
        """What it is, where it breaks a corner.

        >>> from calc.contour.points import Point
        >>> Solved(Line(Point(0.0, 9.0), Point(-1.0, 10.0)), 0, is_corner=True).words
        'chamfer'
        """
        if self.undercut:
            return "undercut"
        return "" if not self.is_corner else "chamfer" if isinstance(self.element, Line) else "radius"


@dataclass(frozen=True, slots=True)
class Choice:
    """Which of its ways one run of unknowns takes.

    ``elements`` are the indices of the given elements that the run settles, ``index`` counts the ways from 0, the
    likeliest first, and ``label`` tells this way from the others in words.
    """

    elements: tuple[int, ...]
    index: int
    label: Message


@dataclass(frozen=True, slots=True)
class Solution:
    """One contour that has all the dimensions given.

    ``sharp`` are the elements before corners are broken, one for each given element; ``elements`` are what is turned,
    in order of travel. ``label`` tells this solution from the others. ``crossings`` are points where the contour meets
    itself, empty for a sound one.
    """

    elements: tuple[Solved, ...]
    sharp: tuple[Element, ...]
    label: Message
    choices: tuple[Choice, ...] = ()
    crossings: tuple[Crossing, ...] = ()

    @property
    def contour(self) -> tuple[Element, ...]:
        """The bare elements, corners included."""
        return tuple(solved.element for solved in self.elements)

    @property
    def names(self) -> tuple[str, ...]:
        """How each element is called: by the number of its row, a corner by the row that it ends."""
        return tuple(
            Phrase("{words} after {number}", words=each.words, number=each.of + 1)
            if each.is_corner
            else str(each.of + 1)
            for each in self.elements
        )

    @property
    def joints(self) -> tuple[Point, ...]:
        """The sharp corners and joints from the start to the end."""
        return (self.sharp[0].start, *(element.end for element in self.sharp))


@dataclass(frozen=True, slots=True)
class Solutions:
    """Every contour found, the likeliest first, at most 16.

    ``complete`` is False where there may be more that the numerical part has not found; ``more`` is True where more
    were found than are returned. ``notes`` say what was done to the dimensions, such as aiming at mid-limit.
    """

    solutions: tuple[Solution, ...]
    complete: bool
    more: bool
    notes: tuple[Message, ...] = field(default=())
