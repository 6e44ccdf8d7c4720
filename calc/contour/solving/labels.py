"""Words that tell one solution from the others."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import NamedTuple, TypeAlias

from calc.contour.arc import Arc
from calc.contour.crossings import Crossing
from calc.contour.elements import Element
from calc.contour.line import Line
from calc.contour.points import Point
from calc.contour.solving.runs import Run
from calc.contour.solving.solution import Choice
from calc.contour.solving.unknowns import Unknowns
from calc.language.messages import Capital, Listed, Message, Phrase, Value

Contour: TypeAlias = tuple[Element, ...]

Trait: TypeAlias = Callable[[int, Contour], "str | None"]
"""What an element is like, in words, None where the trait does not apply."""

Comparison: TypeAlias = Callable[[int, Contour, Sequence[Contour]], "str | None"]
"""What an element is like in one contour compared with the others."""


class Told(NamedTuple):
    """What a label is made from."""

    choices: tuple[int, ...]
    sharp: Contour
    crossings: tuple[Crossing, ...]


def tell_apart(
    told: Sequence[Told], runs: Sequence[Run], unknowns: Unknowns
) -> list[tuple[Message, tuple[Choice, ...]]]:
    """A label for each solution, and the choice that it makes in each run that leaves one."""
    by_run = [_choices_of_run(rank, told, run, unknowns) for rank, run in enumerate(runs)]
    found = []
    for solution in told:
        own = [choices.get(way) for choices, way in zip(by_run, solution.choices, strict=True)]
        choices = tuple(choice for choice in own if choice is not None)
        found.append((_label([choice.label for choice in choices], solution), choices))
    return _made_distinct(found, told)


def _choices_of_run(rank: int, told: Sequence[Told], run: Run, unknowns: Unknowns) -> dict[int, Choice]:
    """The ways of one run that stand, by their number among its alternatives; none where there is but one."""
    standing: dict[int, Contour] = {}
    for solution in told:
        standing.setdefault(solution.choices[rank], solution.sharp)
    if len(standing) < 2:
        return {}
    elements = _elements_of(run, unknowns)
    labels = _labels(list(standing.values()), elements)
    ways = enumerate(zip(standing, labels, strict=True))
    return {way: Choice(elements, index, label) for index, (way, label) in ways}


def _elements_of(run: Run, unknowns: Unknowns) -> tuple[int, ...]:
    return tuple(
        piece.index
        for piece in unknowns.pieces
        if run.variables.intersection((piece.size, piece.leave, piece.arrive, piece.centre, piece.end))
    )


def _labels(contours: Sequence[Contour], elements: Sequence[int]) -> list[Message]:
    """The fewest traits that tell the contours apart; where words do not, the points do."""
    words: list[list[str]] = [[] for _ in contours]
    for trait, index in ((trait, index) for trait in TRAITS for index in elements):
        said = [trait(index, contour, contours) for contour in contours]
        if None in said or len({(*w, s) for w, s in zip(words, said, strict=True)}) == len(set(map(tuple, words))):
            continue
        words = [[*before, new or ""] for before, new in zip(words, said, strict=True)]
        if len(set(map(tuple, words))) == len(contours):
            break
    messages = [_in_one(*said) for said in words]
    if len({message.say() for message in messages}) < len(messages):
        messages = [_with_point(m, c, contours, elements) for m, c in zip(messages, contours, strict=True)]
    return messages


def _in_one(*parts: Value, between: str = ", ") -> Message:
    """Several traits as one label."""
    return Message("{traits}", {"traits": Capital(Listed(parts, between, between))}) if parts else Message("")


def _with_point(message: Message, contour: Contour, contours: Sequence[Contour], elements: Sequence[int]) -> Message:
    """The label with the point that differs most between the contours."""
    index = max(elements, key=lambda i: len({_rounded(other[i].end) for other in contours}))
    if isinstance(contour[index], Arc) and len({_rounded(other[index].end) for other in contours}) == 1:
        text, point = "centre of arc {number} at {point}", contour[index].carrier.centre  # type: ignore[union-attr]
    else:
        text, point = "element {number} ends at {point}", contour[index].end
    where = Message(text, {"number": index + 1, "point": point})
    return _in_one(message, where) if message.text else _in_one(where)


def _rounded(point: Point) -> tuple[float, float]:
    return (round(point.z, 3), round(point.r, 3))


def _label(labels: Sequence[Message], solution: Told) -> Message:
    """The labels of all choices in one sentence; a contour that crosses itself says so."""
    parts: list[Value] = list(labels)
    if solution.crossings:
        parts.append(Message("crosses itself at {crossing}", {"crossing": solution.crossings[0].point}))
    return _in_one(*parts, between="; ") if parts else Message("The only contour")


def _made_distinct(
    found: list[tuple[Message, tuple[Choice, ...]]], told: Sequence[Told]
) -> list[tuple[Message, tuple[Choice, ...]]]:
    said = [message.say() for message, _ in found]
    if len(set(said)) == len(said):
        return found
    contours, everything = [one.sharp for one in told], range(len(told[0].sharp))
    return [
        (_with_point(message, one.sharp, contours, everything), choices)
        for (message, choices), one in zip(found, told, strict=True)
    ]


# --- traits, the most telling first -----------------------------------------------------------------------------------


def _length_of_arc(index: int, contour: Contour) -> str | None:
    arc = contour[index]
    if not isinstance(arc, Arc):
        return None
    return (
        Phrase("the longer arc {number}", number=index + 1)
        if abs(arc.sweep) > math.pi * (1 + 1e-9)
        else Phrase("the shorter arc {number}", number=index + 1)
    )


def _side_of_centre(index: int, contour: Contour) -> str | None:
    arc = contour[index]
    if not isinstance(arc, Arc):
        return None
    inside = (arc.sweep > 0.0) == _part_is_left(contour)
    return (
        Phrase("centre of arc {number} inside the part", number=index + 1)
        if inside
        else Phrase("centre of arc {number} outside the part", number=index + 1)
    )


def _part_is_left(contour: Contour) -> bool:
    """The part lies to the left of travel that goes toward the chuck, or, on a face, away from the axis."""
    step = contour[0].start.to(contour[-1].end)
    return step.r > 0.0 if abs(step.z) < abs(step.r) * 1e-6 else step.z < 0.0


def _nearness(index: int, contour: Contour, contours: Sequence[Contour]) -> str | None:
    """Whether the element ends nearer to its start than in the other contours."""
    reach = sorted({round(other[index].chord, 6) for other in contours})
    if not 1 < len(reach) <= len(_PLACES[1]):
        return None
    kind = "line" if isinstance(contour[index], Line) else "arc"
    place = min(range(len(reach)), key=lambda i: abs(contour[index].chord - reach[i]))
    return Phrase(
        "{kind} {number} ends at the {which} point", kind=kind, number=index + 1, which=_PLACES[len(reach) > 2][place]
    )


_PLACES = (("nearer", "farther"), ("nearest", "second nearest", "third nearest", "fourth nearest"))


def _side_of_axis(index: int, contour: Contour) -> str | None:
    beyond = contour[index].end.r < -1e-9 * contour[index].size
    return (
        Phrase("element {number} ends beyond the axis", number=index + 1)
        if beyond
        else Phrase("element {number} ends on this side of the axis", number=index + 1)
    )


def _way_along_z(index: int, contour: Contour) -> str | None:
    dz = contour[index].end.z - contour[index].start.z
    if abs(dz) <= 1e-9 * contour[index].size:
        return None
    return (
        Phrase("element {number} runs toward the chuck", number=index + 1)
        if dz < 0.0
        else Phrase("element {number} runs away from the chuck", number=index + 1)
    )


def _way_along_r(index: int, contour: Contour) -> str | None:
    dr = contour[index].end.r - contour[index].start.r
    if abs(dr) <= 1e-9 * contour[index].size:
        return None
    return (
        Phrase("element {number} runs outward", number=index + 1)
        if dr > 0.0
        else Phrase("element {number} runs inward", number=index + 1)
    )


def _height_of_centre(index: int, contour: Contour, contours: Sequence[Contour]) -> str | None:
    """Whether the centre is nearer to the axis than in the other contours."""
    heights = sorted({round(abs(other[index].centre.r), 6) for other in contours if isinstance(other[index], Arc)})  # type: ignore[union-attr]  # an arc
    arc = contour[index]
    if not isinstance(arc, Arc) or len(heights) != 2:
        return None
    near = abs(abs(arc.centre.r) - heights[0]) <= abs(abs(arc.centre.r) - heights[1])
    return (
        Phrase("centre of arc {number} nearer to the axis", number=index + 1)
        if near
        else Phrase("centre of arc {number} farther from the axis", number=index + 1)
    )


def _alone(trait: Trait) -> Comparison:
    return lambda index, contour, contours: trait(index, contour)  # noqa: ARG005 - compared with none


TRAITS: tuple[Comparison, ...] = (
    _alone(_side_of_axis),
    _alone(_length_of_arc),
    _alone(_side_of_centre),
    _nearness,
    _height_of_centre,
    _alone(_way_along_z),
    _alone(_way_along_r),
)
