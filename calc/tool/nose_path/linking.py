"""From the stretches that are clear to paths that the nose can go: runs, and pockets that it cannot get into."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field

from calc.contour.many import Places
from calc.tool.nose_path.stretches import Stretches


@dataclass(frozen=True, slots=True)
class Linked:
    """`runs` are stretches (by index) joined end to start; `pockets` are runs behind a place too narrow for a nose."""

    runs: list[list[int]] = field(default_factory=list)
    pockets: list[list[int]] = field(default_factory=list)


def linked(stretches: Stretches, near: float) -> Linked:
    """The stretches (in order of travel) joined where one starts within `near` (mm) of where another one ends.

    Between two that join, others belong to a pocket: the path has left the contour there and comes back behind them.
    """
    following = _Following(stretches.start, near)
    ahead = [following.first_after(index, end) for index, end in enumerate(stretches.end.tolist())]
    found = Linked()
    _link(0, len(stretches), ahead, found.runs, found.pockets)
    return found


def _link(index: int, stop: int, ahead: list[int | None], runs: list[list[int]], pockets: list[list[int]]) -> None:
    """Join the stretches from `index` to before `stop` into runs; what lies inside a jump goes to the pockets."""
    while index < stop:
        run = [index]
        while (after := ahead[index]) is not None and after < stop:
            _link(index + 1, after, ahead, pockets, pockets)
            run.append(after)
            index = after
        runs.append(run)
        index += 1


class _Following:
    """The starts of stretches, to be found by their place."""

    def __init__(self, starts: Places, near: float) -> None:
        self.starts: list[complex] = starts.tolist()
        self.near = near
        self.cells: dict[tuple[int, int], list[int]] = defaultdict(list)
        for index, start in enumerate(self.starts):
            self.cells[self._cell(start)].append(index)

    def first_after(self, index: int, end: complex) -> int | None:
        """The first stretch after `index` that starts within reach of `end`, None without one."""
        if index + 1 < len(self.starts) and self._meets(index + 1, end):
            return index + 1
        column, row = self._cell(end)
        around = [(column + dz, row + dr) for dz in (-1, 0, 1) for dr in (-1, 0, 1)]
        near = (other for cell in around for other in self.cells.get(cell, ()))
        return min((other for other in near if other > index and self._meets(other, end)), default=None)

    def _meets(self, other: int, end: complex) -> bool:
        step = self.starts[other] - end
        return max(abs(step.real), abs(step.imag)) <= self.near

    def _cell(self, place: complex) -> tuple[int, int]:
        return int(place.real // self.near), int(place.imag // self.near)
