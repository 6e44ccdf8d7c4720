"""Passes as they come taken off a stock, and the result held to the print."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import shapely

from calc.contour import Chain
from calc.machining.job import ToolPass
from calc.machining.removal.judging import Judged
from calc.machining.removal.region import Regions
from calc.machining.removal.stock import stock_of
from calc.machining.removal.sweep import Outline
from calc.machining.removal.taking import Removal, Taking, guard_of


@dataclass(frozen=True)
class Swept:
    """What all passes did."""

    work: Regions
    removals: tuple[Removal, ...]
    judged: Judged

    @property
    def left(self) -> shapely.Geometry:
        return self.removals[-1].left if self.removals else self.work.stock


def sweep(work: Regions, outline: Outline, passes: Sequence[ToolPass], chain: Chain) -> Swept:
    taking = Taking(outline, guard_of(work.finished))
    stock, removals = stock_of(work.stock), []
    for each in passes:
        removals.append(taking.take(stock, each))
        stock = removals[-1].stock
    path = passes[-1].cutting if passes else ()
    return Swept(work, tuple(removals), Judged(work, stock.whole, chain, outline.nose, path))
