"""Which grooves of a part are plunged, where, with what width; undercuts that the finish cuts are none."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from calc.contour import Chain, Element
from calc.language.messages import Message, Quantity, Value
from calc.language.quantities import LENGTH
from calc.machining.blades import Blade, dips
from calc.machining.job import Contour, Cut, Where
from calc.questions.part.bladed import corner_of
from calc.questions.part.called import Reasoned
from calc.questions.part.choosing import BLADES, ROUNDED_OFF, SAME, Side, is_level, is_upright
from calc.questions.part.clear_of_steps import cuts_into
from calc.questions.part.job import Grooving, Operation, Print
from calc.questions.part.reasons import Reason
from calc.questions.part.undercuts import without_undercuts

Run = tuple[int, int]

USUAL_WIDTH = 3.0
"""mm: no wider blade is proposed where a narrower one goes in (common practice, no source)."""

BESIDE = 0.5
"""mm: a blade is so much narrower than its groove, so that it moves sideways (common practice, no source)."""

REST = 0.1
"""mm: what plunges leave on walls and bottom, which the blade passes over last (common practice, no source)."""


LITTLE = 0.04
"""mm: with no more room beside a blade nothing is left for a pass over the walls."""

PLAIN, BESIDE_IT = 3, 2
"""Elements: two walls and a bottom, which every blade that is narrow enough passes over; what is looked at on each
side of a groove."""


@dataclass(frozen=True, slots=True)
class Groove:
    """A groove: its elements (first, last), the surface it goes into, the diameter of its outer wall (mm)."""

    run: Run
    where: Where
    wide: float
    outer: float


def grooves_of(chain: Chain, side: Side, share: Run, *, first_end: bool) -> Iterator[Groove]:
    """The grooves of a share of a contour, undercuts left out: those of its side, then those in the face of its end.

    `chain` is in the frame of the end that is worked on, which is the `first_end` or not.
    """
    cut_by_finish = undercut_runs(chain, side)
    for run in dips(chain, side):
        inside = share[0] <= run[0] and run[1] <= share[1]
        if inside and run not in cut_by_finish:
            yield _groove(chain, run, side)
    if side == "outside":
        for run in face_runs(chain):
            ours = share[0] <= run[0] and run[1] <= share[1]
            if ours and (first_end or run[0] > share[0]):
                yield _groove(chain, run, "face")


def face_runs(chain: Chain) -> list[Run]:
    """The runs of elements of grooves in the face of an outside.

    >>> from itertools import pairwise
    >>> from calc.contour import Line, Point
    >>> corners = [(0.0, 0.0), (0.0, 15.0), (-3.0, 15.0), (-3.0, 18.0), (0.0, 18.0), (0.0, 30.0), (-20.0, 30.0)]
    >>> face_runs(Chain(tuple(Line(Point(*a), Point(*b)) for a, b in pairwise(corners))))
    [(1, 3)]
    """
    there = set(without_undercuts(chain, "outside"))
    return [run for run in dips(chain, "face") if there.issuperset(_of(chain, run))]


def undercut_runs(chain: Chain, side: Side) -> list[Run]:
    """The runs that are undercuts in corners: turning tools get into them."""
    there = set(without_undercuts(chain, side))
    return [run for run in dips(chain, side) if not there.intersection(_of(chain, run))]


def _of(chain: Chain, run: Run) -> tuple[Element, ...]:
    return chain.elements[run[0] : run[1] + 1]


def _groove(chain: Chain, run: Run, where: Where) -> Groove:
    elements = _of(chain, run)
    return Groove(run, where, bottom_width(elements, where), 2.0 * max(each.bounds().r_max for each in elements))


def bottom_width(elements: tuple[Element, ...], where: Where) -> float:
    """How wide a groove is at its bottom (mm): its deepest level element, of one in a face its deepest upright one."""
    face = where == "face"
    flats = [each for each in elements if (is_upright(each) if face else is_level(each))]
    inward = 1.0 if where == "bore" else -1.0
    sizes = [
        (
            inward * (each.start.z if face else each.start.r),
            abs(each.start.r - each.end.r if face else each.start.z - each.end.z),
        )
        for each in flats
    ]
    deepest = max((deep for deep, _ in sizes), default=0.0)
    return max((wide for deep, wide in sizes if deep > deepest - ROUNDED_OFF), default=0.0)


def grooved_by(groove: Groove, print_: Print, seen: Contour) -> Reasoned | Message:
    """The operation that plunges a groove with its reason, or that none of the usual blades goes in.

    `seen` is the print's contour as it is seen from the end that is worked on.
    """
    rows = print_.numbers[groove.run[0]], print_.numbers[groove.run[1]]
    fitting = [each for each in BLADES if each <= groove.wide - BESIDE]
    widths = fitting or [each for each in BLADES if each <= groove.wide + SAME]
    if not widths:
        text = "The groove of rows {first} to {last}, {width} wide at its bottom, is for a form tool: choose it."
        values: dict[str, Value] = {"first": rows[0], "last": rows[1], "width": Quantity(groove.wide, LENGTH)}
        return Message(text, values)
    usual = [each for each in reversed(widths) if each <= USUAL_WIDTH or each == min(widths)]
    width = next((each for each in usual if _is_clear(groove, seen, each)), None)
    if width is None:
        text = (
            "No usual blade goes along walls and bottom of the groove of rows {first} to {last} without cutting into "
            "its steps: choose its tool, and plunge it step by step."
        )
        return Message(text, {"first": rows[0], "last": rows[1]})
    rest = _rest(_of(seen.chain, groove.run), groove.wide - width)
    operation = Operation("groove", Grooving(width), Cut(along_z=rest, along_x=rest), *rows, where=groove.where)
    if groove.where == "face":
        return operation, Reason("face-groove", {"width": width, "d": groove.outer})
    return operation, Reason("groove", {"width": width})


def _rest(own: tuple[Element, ...], room: float) -> float:
    """What plunges leave (mm) for the passes over walls and bottom, with so much room (mm) beside the blade.

    A groove with steps is passed over even where there is little: plunges side by side leave parts of its steps.
    """
    if room > 2.0 * REST + SAME:
        return REST
    return round(room / 4.0, 3) if not _is_plain(own) and room > LITTLE else 0.0


def _is_plain(own: tuple[Element, ...]) -> bool:
    """Whether a groove has two walls and a bottom, square to each other."""
    return len(own) <= PLAIN and all(is_level(each) or is_upright(each) for each in own)


def _is_clear(groove: Groove, seen: Contour, width: float) -> bool:
    """Whether a blade goes along walls and bottom without cutting into the part beside what it finishes."""
    own = _of(seen.chain, groove.run)
    if _is_plain(own):
        return True
    near = (max(groove.run[0] - BESIDE_IT, 0), groove.run[1] + BESIDE_IT)
    around = replace(seen, chain=Chain(_of(seen.chain, near)))
    blade = Blade(width, corner_of(Grooving(width)), groove.where)
    return not cuts_into(blade, around, Chain(own))
