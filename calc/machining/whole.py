"""A part turned round: its stock and its contours in the frame of its other end."""

from __future__ import annotations

from calc.contour import Arc, Chain, Element, Line, Point, other_side
from calc.contour.arc import opposite
from calc.machining.job import Contour
from calc.machining.removal.stock import Stock, stock_of


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
    return Contour(chain, other_side(part.side), part.faced)


def _turned(element: Element, length: float) -> Element:
    def there(point: Point) -> Point:
        return Point(-length - point.z, point.r)

    if isinstance(element, Line):
        return Line(there(element.start), there(element.end))
    return Arc(there(element.start), there(element.end), there(element.centre), opposite(element.turn))
