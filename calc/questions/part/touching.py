"""What the display reads when a tool's nose or edge touches the stock that the tool first finds: its touch-off."""

from __future__ import annotations

from dataclasses import dataclass

from calc.language.working import recording
from calc.questions.part.done import OperationDone
from calc.questions.part.job import Grooving, OnAxis, Roll, Threading, Turning
from calc.tool.point import STEPS, touch_off_x, touch_off_z

MOUTH = 3.0
"""mm: so near to the front a bar is touched off in a hole (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Touched:
    """The tool point (mm, X as radius) with the tool on the outside or in the hole, and on the face; None: nowhere."""

    x: float | None = None
    z: float | None = None


def touched(one: OperationDone) -> Touched:
    """The touch-off of an operation's tool on the stock before it, in the frame of the end that is worked on.

    A drill, reamer or tap stands on the axis; of a blade the corner on the chuck's side is given. Source: common
    practice, as the touch-off of a nose.
    """
    tool, front = one.operation.tool, one.before.bounds[2]
    if isinstance(tool, Turning):
        return _turning(one, tool, front)
    if isinstance(tool, OnAxis):
        return Touched(0.0, front)
    if isinstance(tool, Grooving):
        on_face = one.operation.where == "face"
        return Touched(None if on_face else _wall(one), front)
    return Touched(_wall(one)) if isinstance(tool, Threading | Roll) else Touched()


def _turning(one: OperationDone, tool: Turning, front: float) -> Touched:
    nose, step = tool.tool.nose, STEPS[tool.tool.point]
    wall = _wall(one)
    with recording():
        z = front + touch_off_z(nose, step.z)
        if not _in_bore(one):
            return Touched(touch_off_x(2.0 * one.before.bounds[3], nose, step.r), z)
    return Touched(None if wall is None else wall - nose * (1.0 - step.r), z)


def _in_bore(one: OperationDone) -> bool:
    return one.operation.kind == "bore" or one.operation.where == "bore"


def _wall(one: OperationDone) -> float | None:
    """The radius of what is touched beside the axis: the outside, or the hole that is there already."""
    if not _in_bore(one):
        return one.before.bounds[3]
    front = one.before.bounds[2]
    found = one.before.radii(front - MOUTH, front)  # at the mouth: a blind hole goes no farther
    return None if found is None or found[0] == 0.0 else found[0]
