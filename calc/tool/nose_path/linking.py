"""From the stretches that are clear to ways that the nose can go: runs, and pockets that it cannot get into."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from calc.tool.nose_path.stretches import Stretch


@dataclass(frozen=True, slots=True)
class Linked:
    """`runs` are stretches joined end to start; `pockets` are runs that lie behind a place too narrow for the nose."""

    runs: list[list[Stretch]] = field(default_factory=list)
    pockets: list[list[Stretch]] = field(default_factory=list)


def linked(stretches: Sequence[Stretch], near: float) -> Linked:
    """The stretches (in order of travel) joined where one starts within `near` (mm) of where another one ends.

    Between two that join, others belong to a pocket: the way has left the contour there and comes back behind them.
    """
    found = Linked()
    index = 0
    while index < len(stretches):
        run = [stretches[index]]
        while (ahead := _next(stretches, index, near)) is not None:
            inside = linked(stretches[index + 1 : ahead], near)
            found.pockets.extend([*inside.runs, *inside.pockets])
            run.append(stretches[ahead])
            index = ahead
        found.runs.append(run)
        index += 1
    return found


def _next(stretches: Sequence[Stretch], index: int, near: float) -> int | None:
    """The first stretch after `index` that starts where that one ends."""
    z, r = stretches[index].end
    for ahead in range(index + 1, len(stretches)):
        start = stretches[ahead].start
        if abs(start.z - z) <= near and abs(start.r - r) <= near:
            return ahead
    return None
