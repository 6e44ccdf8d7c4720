"""How a thread of the print is turned: to its relief, or so far before a shoulder that the tool can come out."""

from __future__ import annotations

from calc.contour import Chain
from calc.machining.job import Cut
from calc.questions.part.called import Called, Reasoned
from calc.questions.part.job import Operation, Print, Threading
from calc.questions.part.reasons import Reason
from calc.threads.thread import thread_of

RUN_OUT = 3.0
"""Pitches: a full thread ends so far before a shoulder without a relief (DIN 76-1, distance a, from memory)."""

BESIDE = 0.01
"""mm: a wall that rises no more than this is no shoulder."""


def threading(each: Called, print_: Print, chain: Chain) -> Reasoned:
    """The operation of a called thread with its reason; `chain` is its print seen from the end that is worked on."""
    tool, rows = Threading(each.designation), (each.first, each.last)
    short = _short_of_a_shoulder(each, print_, chain)
    if short is None:
        return Operation("thread", tool, Cut(), *rows, where=each.where), Reason("thread", {"thread": each.designation})
    depth, rest = short
    reason = Reason("thread-runs-out", {"thread": each.designation, "rest": rest})
    return Operation("thread", tool, Cut(), *rows, depth=depth, where=each.where), reason


def _short_of_a_shoulder(each: Called, print_: Print, chain: Chain) -> tuple[float, float] | None:
    """How long the thread is full and what stays before the shoulder (mm); None where nothing stands in its way."""
    indices = [index for index, row in enumerate(print_.numbers) if each.first <= row <= each.last]
    if not indices:
        return None
    own = [chain.elements[index] for index in indices]
    front, end = max(each.bounds().z_max for each in own), min(each.bounds().z_min for each in own)
    out = 1.0 if each.where == "outside" else -1.0
    crest = max(out * r for element in own for r in (element.start.r, element.end.r))
    last = min((own[0].start, own[-1].end), key=lambda point: point.z)
    beside = (chain.elements[index] for index in (indices[0] - 1, indices[-1] + 1) if 0 <= index < len(chain))
    walls = [each for each in beside if abs(max(each.start.z, each.end.z) - end) < BESIDE]
    blocked = any(max(out * wall.start.r, out * wall.end.r) > crest + BESIDE for wall in walls)
    relieved = out * last.r < crest - BESIDE
    rest = RUN_OUT * thread_of(each.designation, "outside" if out > 0.0 else "inside").named.pitch
    length = front - end - rest
    return (length, rest) if blocked and not relieved and length > rest else None
