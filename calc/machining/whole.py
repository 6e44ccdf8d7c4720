"""A whole part: operations in order on both ends, each on the stock that the one before left."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from calc.contour import Arc, Chain, Element, Line, Point
from calc.contour.arc import opposite
from calc.machining.job import Contour, Operation, Setup
from calc.machining.machine import Done, machine
from calc.machining.removal.judging import judge, worst_of
from calc.machining.removal.region import work_of
from calc.machining.removal.stock import Stock, stock_of
from calc.machining.roughing.planning import in_cutting_direction


@dataclass(frozen=True, slots=True)
class Step:
    """An operation, its stretch and the whole contour (both in the first end's frame), whether the part is turned."""

    operation: Operation
    part: Contour
    whole: Contour
    second: bool = False


def in_order(
    steps: Sequence[Step], stock: Stock, length: float, setup: Setup | None = None
) -> Iterator[tuple[Stock, Done]]:
    """Run the steps on a stock; a part of `length` (mm) that is turned round has its zero on its other face.

    Raises what `machine` raises.

    >>> import shapely
    >>> list(in_order([], stock_of(shapely.box(-5.0, 0.0, 0.0, 9.0)), 5.0))
    []
    """
    second = False
    for step in steps:
        if step.second != second:
            stock, second = turned_stock(stock, length), step.second
        part = turned_contour(step.part, length) if second else step.part
        done = machine(step.operation, stock, part, setup)
        yield stock, done
        stock = done.after


def too_deep(step: Step, before: Stock, done: Done, length: float) -> float:
    """How deep an operation cut into the whole contour (mm), rows outside its stretch included.

    `before` is in the frame of the end that is worked on; `length` is that of the part, mm.
    """
    whole = turned_contour(step.whole, length) if step.second else step.whole
    chain, side = in_cutting_direction(whole.chain, whole.side, step.operation.where)
    outside = step.operation.where != "bore"
    regions = work_of(before.whole, chain, side, step.operation.tool.nose, faced=outside)
    worst = worst_of(judge(regions, done.after.whole, chain, step.operation.tool.nose).too_deep)
    return worst.depth if worst else 0.0


def turned_stock(stock: Stock, length: float) -> Stock:
    """The stock of a part turned round, with zero on the other face of a part of `length` (mm).

    >>> import shapely
    >>> turned_stock(stock_of(shapely.box(-8.0, 0.0, 1.0, 9.0)), 5.0).bounds
    (-6.0, 0.0, 3.0, 9.0)
    """
    from shapely import affinity  # noqa: PLC0415 - loaded on first use

    return stock_of(affinity.affine_transform(stock.whole, [-1.0, 0.0, 0.0, 1.0, -length, 0.0]))


def turned_contour(part: Contour, length: float) -> Contour:
    """The contour of a part turned round; the tool stands on the other side of the direction of travel.

    >>> part = Contour(Chain((Line(Point(0.0, 4.0), Point(-5.0, 4.0)),)), "right")
    >>> turned_contour(part, 5.0).chain.start.z, turned_contour(part, 5.0).side
    (-5.0, 'left')
    """
    chain = Chain(tuple(_turned(element, length) for element in part.chain))
    return Contour(chain, "left" if part.side == "right" else "right", part.faced)


def _turned(element: Element, length: float) -> Element:
    def there(point: Point) -> Point:
        return Point(-length - point.z, point.r)

    if isinstance(element, Line):
        return Line(there(element.start), there(element.end))
    return Arc(there(element.start), there(element.end), there(element.centre), opposite(element.turn))
