"""The contour: a chain of lines and arcs in the half plane (z, r)."""

from calc.contour.arc import Arc, Turn, opposite
from calc.contour.carriers import Carrier, Circle, Straight, meet
from calc.contour.chain import Chain, Joint, heading_change
from calc.contour.corner import TrimmedCorner, chamfer, fillet
from calc.contour.crossings import Crossing
from calc.contour.elements import Element
from calc.contour.envelope import lower_envelope
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
    JoinsSmoothly,
    NeverMeet,
    NoArc,
    NoFillet,
    NoLength,
    NotClosed,
    NotFinite,
    NotPositive,
    RadiiDisagree,
    RadiusTooSmall,
)
from calc.contour.intersect import intersections, same_carrier
from calc.contour.line import Line
from calc.contour.parallels import Parallel
from calc.contour.points import Bounds, Point, Vector
from calc.contour.revolve import (
    Moments,
    enclosed_volume,
    moments,
    plane_area,
    surface_of_revolution,
    volume_of_revolution,
)
from calc.contour.sides import Side, other_side, toward

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
    "Crossing",
    "Element",
    "ElementError",
    "EmptyChain",
    "FilletTooLarge",
    "JoinsSmoothly",
    "Joint",
    "Line",
    "Moments",
    "NeverMeet",
    "NoArc",
    "NoFillet",
    "NoLength",
    "NotClosed",
    "NotFinite",
    "NotPositive",
    "Parallel",
    "Point",
    "RadiiDisagree",
    "RadiusTooSmall",
    "Side",
    "Straight",
    "TrimmedCorner",
    "Turn",
    "Vector",
    "chamfer",
    "enclosed_volume",
    "fillet",
    "heading_change",
    "intersections",
    "lower_envelope",
    "meet",
    "moments",
    "opposite",
    "other_side",
    "plane_area",
    "same_carrier",
    "surface_of_revolution",
    "toward",
    "volume_of_revolution",
]
