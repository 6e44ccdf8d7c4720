"""Which operation of a part cut a surface last, and how its tool stands in the print's frame."""

from __future__ import annotations

from dataclasses import dataclass

from calc.contour import Chain
from calc.language.messages import Phrase, Typed
from calc.language.problems import Problem
from calc.measuring.places import Place
from calc.questions.part.asked import between
from calc.questions.part.declared import KINDS
from calc.questions.part.job import End, Job, Operation, Print, Roll, Threading, Turning
from calc.questions.part.turret import ToolKey, places_in, tool_key
from calc.threads.thread import thread_of
from calc.tool.point import STEPS

OUTSIDE = ("face", "finish", "groove", "part-off", "rough")
INSIDE = ("bore", "drill", "groove", "ream")
USUAL_POINT = {"outside": 3, "inside": 2}
"""The tool point of a tool that has none of its own: a blade, a drill, a threading tool (common practice)."""


@dataclass(frozen=True, slots=True)
class Maker:
    """An operation with its number (from 1), the end that it works on, and its tool as the print's frame has it.

    At the second end, turned round, the tool point is that of the mirror and Z counts the other way: `z_sign` is -1.
    """

    number: int
    operation: Operation
    end: End
    place: int

    @property
    def key(self) -> tuple[ToolKey, End]:
        """What makes readings those of one tool in one clamping."""
        return tool_key(self.operation), self.end

    @property
    def z_sign(self) -> float:
        """-1 at the second end, whose Z runs against that of the print."""
        return -1.0 if self.end == "second" else 1.0

    @property
    def nose(self) -> float | None:
        """The nose radius (mm) of a turning tool."""
        tool = self.operation.tool
        return tool.tool.nose if isinstance(tool, Turning) else None

    def tool_point(self, where: str) -> int:
        """The tool point, 0 to 9, seen in the print's frame, of a tool that works outside or inside (`where`).

        >>> Maker(1, Operation("groove", None), "second", 2).tool_point("outside")
        4
        """
        tool = self.operation.tool
        number = tool.tool.point if isinstance(tool, Turning) else USUAL_POINT[where]
        return mirrored(number) if self.end == "second" else number

    @property
    def name(self) -> str:
        """The tool and what it does: `T2, finishing`, or the name that somebody gave the operation."""
        text = "T{place}, {operation}, second end" if self.end == "second" else "T{place}, {operation}"
        called = Typed(self.operation.name) if self.operation.name else KINDS[self.operation.kind]
        return Phrase(text, place=self.place, operation=called)


def mirrored(number: int) -> int:
    """The tool point (0 to 9) of the same tool seen from the other end.

    >>> [mirrored(number) for number in (3, 2, 8, 0)]
    [4, 1, 8, 0]
    """
    step = STEPS[number]
    if step.z == 0.0:
        return number
    return next(each for each, other in STEPS.items() if (other.z, other.r) == (-step.z, step.r))


def makers_of(job: Job) -> list[Maker]:
    """The operations of a part that cut, in order. Raises `Impossible` where places of the turret contradict."""
    every = [(operation, setup.end) for setup in job.setups for operation in setup.operations]
    places = places_in([operation for operation, _ in every])
    return [
        Maker(number, operation, end, places[tool_key(operation)])
        for number, (operation, end) in enumerate(every, 1)
        if operation.tool is not None
    ]


def made_by(job: Job, makers: list[Maker], place: Place, where: str, thread: str | None) -> Maker | None:
    """The last operation that cut a `place` outside or inside (`where`), the `thread` or the knurl there; or None."""
    if place.what == "over_wires":
        return next((each for each in reversed(makers) if _cuts_thread(each.operation, where, thread)), None)
    if place.what == "over_knurl":
        return next((each for each in reversed(makers) if _rolls(each.operation, job.outside, place.spot.z)), None)
    print_ = job.inside if where == "inside" else job.outside
    if print_ is None or place.element not in print_.chain.elements:
        return None
    index = print_.chain.elements.index(place.element)
    return next((each for each in reversed(makers) if _reaches(each.operation, print_, index, where)), None)


def faced_by(job: Job, makers: list[Maker], end: End) -> Maker | None:
    """The last operation that faced an end to the axis; None where none did, or where nothing is left there."""
    elements = job.outside.chain.elements
    at_axis = [each.start if end == "first" else each.end for each in elements]
    face = next((index for index, point in enumerate(at_axis) if point.r == 0.0), None)
    if face is None:
        return None
    there = (each for each in reversed(makers) if each.end == end and each.operation.kind != "part-off")
    return next((each for each in there if _faces(each, job.outside, face)), None)


def _faces(maker: Maker, print_: Print, face: int) -> bool:
    """Whether an operation cuts the element at the axis of its own end."""
    is_far = maker.end == "second" and maker.operation.kind == "face"
    return is_far or _reaches(maker.operation, print_, face, "outside")


def _cuts_thread(operation: Operation, where: str, thread: str | None) -> bool:
    tool = operation.tool
    if operation.kind not in ("thread", "tap") or not isinstance(tool, Threading):
        return False
    outside = operation.where != "bore" and thread_of(tool.designation).sizes.outside
    same = thread is None or thread_of(thread).named.diameter == thread_of(tool.designation).named.diameter
    return same and outside == (where == "outside")


def _rolls(operation: Operation, print_: Print, z: float) -> bool:
    """Whether an operation rolls a knurl at a z (mm) of the outside."""
    if not isinstance(operation.tool, Roll):
        return False
    first, last = between(print_, operation.first, operation.last)
    bounds = Chain(print_.chain.elements[first : last + 1]).bounds
    return bounds.z_min <= z <= bounds.z_max


def _reaches(operation: Operation, print_: Print, index: int, where: str) -> bool:
    """Whether the rows of an operation on this side hold an element of the print."""
    side = operation.where or ("bore" if operation.kind in INSIDE and operation.kind not in OUTSIDE else "outside")
    kinds = INSIDE if where == "inside" else OUTSIDE
    if operation.kind not in kinds or (side == "bore") != (where == "inside"):
        return False
    if operation.kind == "face":
        return _is_front(print_.chain, index)
    if operation.kind == "part-off":
        return print_.chain.elements[index].end.z <= print_.chain.bounds.z_min
    try:
        first, last = between(print_, operation.first, operation.last)
    except Problem:
        return False
    return first <= index <= last


def _is_front(chain: Chain, index: int) -> bool:
    element = chain.elements[index]
    return element.start.z == element.end.z == chain.bounds.z_max
