"""How far the work stands out at least, where nobody has said it: as far as it is cut."""

from __future__ import annotations

from collections.abc import Iterator

from calc.cutting.limits import overhang_cautions
from calc.language.messages import Caution
from calc.questions.part.done import OperationDone, PartDone
from calc.questions.part.job import Job


def standing_out_cautions(done: PartDone, job: Job) -> Iterator[Caution]:
    """What speaks against a first end that is cut far from its jaws, held by nothing else.

    Where the length out is given, each operation is held to that.
    """
    first = next((setup for setup in job.setups if setup.end == "first"), None)
    if (
        first is None
        or first.length_out is not None
        or first.tailstock_diameter is not None
        or first.steady is not None
    ):
        return
    deepest = min((_lowest(one) for one in done.operations if one.end == "first"), default=0.0)
    bounds = job.stock.bounds
    yield from overhang_cautions(bounds[2] - deepest, 2.0 * bounds[3])


def _lowest(one: OperationDone) -> float:
    """The lowest z (mm) to which anything is fed from outside."""
    if one.operation.kind not in ("rough", "finish", "groove", "thread", "knurl", "part-off"):
        return 0.0
    moves = (move for each in one.passes for move in each.tool_pass.moves if move.kind == "feed")
    return min((element.bounds().z_min for move in moves for element in move.elements), default=0.0)
