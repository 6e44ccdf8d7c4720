"""What can go wrong with a contour, each error with the offending lengths (mm) and points as attributes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar, dataclass_transform

from calc.contour.points import Point
from calc.language.messages import Message, Quantity, Value
from calc.language.quantities import LENGTH


@dataclass_transform(eq_default=False)
class ContourError(ValueError):
    """Base of all errors of the contour. ``wording`` is the sentence, with the names of the attributes in braces."""

    wording: ClassVar[str] = "the contour is not possible"

    def __init_subclass__(cls) -> None:
        dataclass(eq=False)(cls)

    @property
    def message(self) -> Message:
        """The sentence with its quantities, to be said in the reader's units."""
        return Message(self.wording, {name: _in_words(value) for name, value in vars(self).items()})

    def __str__(self) -> str:
        return self.message.say()


def _in_words(value: float | Point | str | int) -> Value:
    return Quantity(value, LENGTH) if isinstance(value, float) else value


class ElementError(ContourError):
    """An element that cannot be."""


class NotFinite(ElementError):
    """A coordinate or a size is NaN or infinite."""

    wording: ClassVar[str] = "{name} is {value}, which is not a length"
    name: str
    value: str


class NotPositive(ElementError):
    """A size that must be above zero is not."""

    wording: ClassVar[str] = "{name} is {value}, it must be above zero"
    name: str
    value: float


class NoLength(ElementError):
    """An element starts where it ends."""

    wording: ClassVar[str] = "the element starts and ends at {point}"
    point: Point


class RadiiDisagree(ElementError):
    """The ends of an arc are not equally far from its centre."""

    wording: ClassVar[str] = "the arc starts {start_radius} and ends {end_radius} from its centre"
    start_radius: float
    end_radius: float


class RadiusTooSmall(ElementError):
    """No arc of this radius spans the two points."""

    wording: ClassVar[str] = "radius {radius} does not span the two points, the smallest that does is {smallest}"
    radius: float
    smallest: float


class NoArc(ElementError):
    """The points lie on a straight line, or the heading leads straight to the end (or straight away from it)."""

    wording: ClassVar[str] = "a straight line, not an arc, leads from {start} to {end}"
    start: Point
    end: Point


class ArcVanishes(ElementError):
    """The parallel of an arc, toward its centre, by its radius or more."""

    wording: ClassVar[str] = "an arc of radius {radius} has no parallel {distance} toward its centre"
    radius: float
    distance: float


class CornerError(ContourError):
    """A corner that cannot be broken or rounded as asked."""


class JoinsSmoothly(CornerError):
    """There is no corner between two elements that join smoothly."""

    wording: ClassVar[str] = "the elements join smoothly at {point}: there is no corner"
    point: Point


class NeverMeet(CornerError):
    """Two elements that would not meet in a corner however far they were prolonged."""

    wording: ClassVar[str] = "the elements make no corner, {gap} is between them"
    gap: float


class FilletTooLarge(CornerError):
    """The radius does not fit between the ends of the two elements."""

    wording: ClassVar[str] = "radius {radius} does not fit, the largest that does is {largest}"
    radius: float
    largest: float


class NoFillet(CornerError):
    """No arc of this radius, nor of a smaller one, leads from the first element into the second."""

    wording: ClassVar[str] = "no arc of radius {radius} leads smoothly from one element into the other"
    radius: float


class ChamferTooLarge(CornerError):
    """The leg is longer than an element reaches from the corner."""

    wording: ClassVar[str] = "a leg of {leg} does not fit, the longest that does is {largest}"
    leg: float
    largest: float


class NotSquare(CornerError):
    """An undercut between elements that are not a cylinder and a face."""

    wording: ClassVar[str] = "an undercut stands between a cylinder and a face: the corner here is another one"


class UndercutTooLarge(CornerError):
    """The undercut is longer than the cylinder, or higher than the face."""

    wording: ClassVar[str] = "the undercut takes {needed} of the {what}, which has {there}"
    needed: float
    what: str
    there: float


class ShoulderOtherWay(CornerError):
    """A thread relief whose shoulder is not on the side of the thread."""

    wording: ClassVar[str] = (
        "this is {side} thread and the face goes to the other side: write its class, 6g for outside, 6H for inside"
    )
    side: str


class ChainError(ContourError):
    """Elements that do not make a chain, or a chain that is not the contour of a part."""


class EmptyChain(ChainError):
    """A chain without elements."""

    wording: ClassVar[str] = "a contour needs at least one element"


class BrokenChain(ChainError):
    """Element ``index`` does not start where the one before it ends."""

    wording: ClassVar[str] = "element {index} starts {gap} from the end of the one before it"
    index: int
    gap: float


class BelowAxis(ChainError):
    """Element ``index`` of a part's contour runs to a negative radius."""

    wording: ClassVar[str] = "element {index} runs to radius {radius}, beyond the axis"
    index: int
    radius: float


class CrossesItself(ChainError):
    """Elements ``first`` and ``second`` share a point that is not their joint."""

    wording: ClassVar[str] = "elements {first} and {second} meet at {point}"
    first: int
    second: int
    point: Point


class NotClosed(ChainError):
    """A chain that should come back to its start and does not."""

    wording: ClassVar[str] = "the contour ends {gap} from its start"
    gap: float
