"""The contour: a chain of lines and arcs in the half plane (z, r)."""

from calc.contour.arc import Arc, Turn, opposite
from calc.contour.carriers import Carrier, Circle, Straight, meet
from calc.contour.chain import Chain, Joint, heading_change
from calc.contour.curve import Side
from calc.contour.elements import Element
from calc.contour.errors import (
    ArcVanishes,
    BelowAxis,
    BrokenChain,
    ChainError,
    ChamferTooLarge,
    ContourError,
    CornerError,
    CrossesItself,
    ElementError,
    EmptyChain,
    FilletTooLarge,
    NoArc,
    NoCorner,
    NoLength,
    NotClosed,
    NotFinite,
    NotPositive,
    RadiiDisagree,
    RadiusTooSmall,
)
from calc.contour.line import Line
from calc.contour.points import Bounds, Point, Vector

__all__ = [
    "Arc",
    "ArcVanishes",
    "BelowAxis",
    "Bounds",
    "BrokenChain",
    "Carrier",
    "Chain",
    "ChainError",
    "ChamferTooLarge",
    "Circle",
    "ContourError",
    "CornerError",
    "CrossesItself",
    "Element",
    "ElementError",
    "EmptyChain",
    "FilletTooLarge",
    "Joint",
    "Line",
    "NoArc",
    "NoCorner",
    "NoLength",
    "NotClosed",
    "NotFinite",
    "NotPositive",
    "Point",
    "RadiiDisagree",
    "RadiusTooSmall",
    "Side",
    "Straight",
    "Turn",
    "Vector",
    "heading_change",
    "meet",
    "opposite",
]
