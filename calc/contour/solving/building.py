"""From values to elements: the sharp contour, its corners, whether it crosses itself, how solutions are described."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import replace
from typing import NamedTuple

from calc.contour.arc import Arc
from calc.contour.crossings import Crossing, crossings
from calc.contour.elements import Element
from calc.contour.errors import ElementError
from calc.contour.line import Line
from calc.contour.points import Point
from calc.contour.solving.combining import Combining, Whole
from calc.contour.solving.corners import with_corners
from calc.contour.solving.habits import Habits
from calc.contour.solving.labels import Told, tell_apart
from calc.contour.solving.noroot import NoRoot
from calc.contour.solving.solution import Solution, Solved
from calc.contour.solving.unknowns import Piece, Unknowns, Values
from calc.contour.solving.why import impossible
from calc.contour.tolerance import GAP
from calc.language.problems import Impossible


class _Candidate(NamedTuple):
    cost: float
    choices: tuple[int, ...]
    sharp: tuple[Element, ...]
    elements: tuple[Solved, ...]
    crossings: tuple[Crossing, ...] = ()

    def place(self) -> tuple[float, tuple[int, ...]]:
        """Where it stands among others; what rounding makes of equal costs does not count."""
        return (round(self.cost, 6), self.choices)

    @property
    def near(self) -> float:
        """What counts as nothing, mm."""
        return GAP * max(element.size for element in self.sharp)


def built(
    wholes: Sequence[Whole], combining: Combining, unknowns: Unknowns, most: int, habits: Habits
) -> tuple[tuple[Solution, ...], bool]:
    """The solutions of the likeliest combinations, and whether there are more than `most`, which are returned.

    Contours that cross themselves or run beyond the axis are left out where others do not. Raises `Impossible` where
    none can be built.
    """
    problem: Impossible | None = None
    candidates: list[_Candidate] = []
    for whole in wholes:
        try:
            candidate = _candidate(whole, unknowns, habits)
        except Impossible as error:
            problem = problem or error
            continue
        if candidate is not None and not any(_are_same(candidate, other) for other in candidates):
            candidates.append(candidate)
    if not candidates:
        raise problem or impossible(combining.refused or NoRoot([]), unknowns)
    sound = _soundest(sorted(candidates, key=_Candidate.place), most + 1)
    return _told(sound[:most], combining, unknowns), len(sound) > most


def _soundest(candidates: Sequence[_Candidate], most: int) -> list[_Candidate]:
    """At most so many, the likeliest first, of those that can be a part's contour.

    Failing that of those that only run beyond the axis, failing that of all.
    """
    sound: list[_Candidate] = []
    rest: list[_Candidate] = []
    for one in map(_crossed, candidates):
        if one.crossings or _is_beyond_axis(one):
            rest.append(one)
        else:
            sound.append(one)
            if len(sound) == most:
                break
    return (sound or [one for one in rest if not one.crossings] or rest)[:most]


def _crossed(one: _Candidate) -> _Candidate:
    """The same with the points where it meets itself."""
    return one._replace(crossings=tuple(crossings([solved.element for solved in one.elements], one.near)))


def _is_beyond_axis(one: _Candidate) -> bool:
    near = one.near
    return any(solved.element.bounds().r_min < -near for solved in one.elements)


def _candidate(whole: Whole, unknowns: Unknowns, habits: Habits) -> _Candidate | None:
    sharp = _sharp(whole.values, unknowns)
    if sharp is None:
        return None
    elements = with_corners(sharp, unknowns.elements)
    return _Candidate(whole.cost + habits.cost(sharp, unknowns.elements), whole.choices, sharp, elements)


def _sharp(values: Values, unknowns: Unknowns) -> tuple[Element, ...] | None:
    """One element for each given one; None where rounding has left no element."""
    try:
        return tuple(_element(piece, values) for piece in unknowns.pieces)
    except ElementError:
        return None


def _element(piece: Piece, values: Values) -> Element:
    start, end = _point(piece.start, values), _point(piece.end, values)
    if piece.is_line:
        return Line(start, end)
    return Arc(start, end, _point(piece.centre, values), "ccw" if values[piece.size].real > 0.0 else "cw")


def _point(place: int, values: Values) -> Point:
    return Point(values[place].real + 0.0, values[place + 1].real + 0.0)


def settled(whole: Whole, unknowns: Unknowns) -> dict[int, Element]:
    """The elements whose values are all known, by their index."""
    found: dict[int, Element] = {}
    for piece in unknowns.pieces:
        if all(whole.values.get(var) is not None for var in piece.variables):
            with suppress(ElementError):
                found[piece.index] = _element(piece, whole.values)
    return found


def _are_same(one: _Candidate, other: _Candidate) -> bool:
    """Whether two candidates are one contour within what the numerical part leaves."""
    near = 1e-8 * max(element.size for element in one.sharp)
    return all(_are_alike(a, b, near) for a, b in zip(one.sharp, other.sharp, strict=True))


def _are_alike(a: Element, b: Element, near: float) -> bool:
    if a.start.distance_to(b.start) > near or a.end.distance_to(b.end) > near:
        return False
    if isinstance(a, Arc) and isinstance(b, Arc):
        return a.turn == b.turn and a.centre.distance_to(b.centre) <= near
    return True


def _told(candidates: Sequence[_Candidate], combining: Combining, unknowns: Unknowns) -> tuple[Solution, ...]:
    told = tell_apart([Told(one.choices, one.sharp, one.crossings) for one in candidates], combining.runs, unknowns)
    return tuple(
        replace(Solution(one.elements, one.sharp, label, choices), crossings=one.crossings)
        for one, (label, choices) in zip(candidates, told, strict=True)
    )
