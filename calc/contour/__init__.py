"""The contour: a chain of lines and arcs in the half plane (z, r)."""

from calc.contour.arc import Arc, Turn
from calc.contour.carriers import Circle, Straight, meet
from calc.contour.chain import Chain, heading_change
from calc.contour.corner import TrimmedCorner, chamfer, fillet
from calc.contour.elements import Element
from calc.contour.envelope import lower_envelope
from calc.contour.errors import (
    ArcVanishes,
    BelowAxis,
    BrokenChain,
    ChamferTooLarge,
    ContourError,
    CrossesItself,
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
from calc.contour.points import Bounds, Point, Vector
from calc.contour.revolve import (
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
    "Chain",
    "ChamferTooLarge",
    "Circle",
    "ContourError",
    "CrossesItself",
    "Element",
    "EmptyChain",
    "FilletTooLarge",
    "JoinsSmoothly",
    "Line",
    "NeverMeet",
    "NoArc",
    "NoFillet",
    "NoLength",
    "NotClosed",
    "NotFinite",
    "NotPositive",
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
    "other_side",
    "plane_area",
    "same_carrier",
    "surface_of_revolution",
    "toward",
    "volume_of_revolution",
]
