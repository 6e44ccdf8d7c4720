"""What the tool is held against: the part's whole boundary, and which of its elements are to be machined."""

from __future__ import annotations

from dataclasses import dataclass

from calc.contour import Chain, Element, Line, Point, Side, other_side
from calc.language.messages import Phrase
from calc.shapes.dish.geometry import Dish

FAR = 1000.0
"""How far the outside of the bar is followed toward the chuck, mm."""


@dataclass(frozen=True, slots=True)
class Work:
    """The boundary of a part (mm), travelled with the tool on `side`; `names` tells its elements apart.

    `machined` are the elements that the tool shall cut, the others it must only clear. Both sides of the axis count.
    """

    boundary: Chain
    names: tuple[str, ...]
    machined: range
    side: Side

    @property
    def cut(self) -> Chain:
        """The elements that the tool shall cut."""
        return Chain(self.boundary.elements[self.machined.start : self.machined.stop])

    def reversed(self) -> Work:
        """The same work travelled the other way."""
        count = len(self.names)
        return Work(
            self.boundary.reversed(),
            self.names[::-1],
            range(count - self.machined.stop, count - self.machined.start),
            other_side(self.side),
        )

    def name_of(self, index: int) -> str:
        """The name of element `index` of the boundary; those of the far side follow the near ones."""
        count = len(self.names)
        return (
            self.names[index] if index < count else Phrase("{names} on the far side", names=self.names[index - count])
        )


def contour_work(chain: Chain, side: Side) -> Work:
    """The work of a contour (mm) all of which the tool shall cut, standing on `side` of travel.

    >>> contour_work(Chain((Line(Point(0.0, 10.0), Point(-5.0, 10.0)),)), "right").names
    ('element 1',)
    """
    return Work(chain, tuple(chain.called(index) for index in range(len(chain))), range(len(chain)), side)


def dish_work(dish: Dish, bar_radius: float | None = None) -> Work:
    """The work of a dish in a bar (a little wider than its mouth if not known), cut from the mouth to its end.

    >>> from calc.shapes.dish.bowl import DishInputs
    >>> from calc.shapes.dish.geometry import solve_dish
    >>> work = dish_work(solve_dish(DishInputs(radius=75.0, depth=4.5)), 30.0)
    >>> work.names, list(work.machined)
    (('the outside', 'the face', 'the dish'), [2])
    """
    outside = max(bar_radius or 1.15 * dish.cut.start.r, dish.cut.start.r)
    part = dish.part(outside).elements
    named: list[tuple[str, Element]] = [("the outside", Line(Point(-FAR, outside), Point(0.0, outside)))]
    if outside > dish.cut.start.r:
        named.append(("the face", part[0]))
        part = part[1:]
    first = len(named)
    names = ["the edge at the mouth", "the dish"] if dish.edge.element else ["the dish"]
    named += zip(names, part, strict=False)
    last = len(named)
    if dish.hole_radius:
        named.append(("the hole", part[-1]))
    return Work(
        Chain(tuple(element for _, element in named)), tuple(name for name, _ in named), range(first, last), "left"
    )
