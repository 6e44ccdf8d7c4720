"""What a measured size means for the part: within its limits, metal left to take off, or metal gone."""

from __future__ import annotations

from calc.contour import Arc
from calc.measuring.limits import Limits
from calc.measuring.places import Place

WITHIN, REWORK, SCRAP, OUT = "within limits", "rework", "scrap", "out of limits"


def verdict(place: Place, size: float, limits: Limits) -> str | None:
    """The verdict on a size (mm) at a place; None without limits.

    A size that leaves metal can be saved by another cut. A runout, a taper or the crests of a knurl out of limits say
    nothing of metal.

    >>> from calc.contour import Point, Vector
    >>> shaft = Place("diameter", Point(-2.0, 9.0), Vector(0.0, 1.0))
    >>> verdict(shaft, 18.2, Limits(17.9, 18.1)), verdict(shaft, 17.8, Limits(17.9, 18.1))
    ('rework', 'scrap')
    """
    if limits == Limits():
        return None
    if limits.allows(size):
        return WITHIN
    if place.what == "taper" or not place.follows_offsets:
        return OUT
    return REWORK if leaves_metal(place, larger=limits.is_above(size)) else SCRAP


def leaves_metal(place: Place, *, larger: bool) -> bool:
    """Whether a size that is `larger` (or else smaller) than wanted leaves metal for another cut."""
    if place.what == "radius":
        arc = place.element
        return isinstance(arc, Arc) and larger != (place.spot.to(arc.centre).dot(place.normal) > 0.0)
    if place.what in ("length", "depth", "point"):
        behind = place.spot.z <= 0.0 or place.what == "point"
        return larger == (place.normal.z * (-1.0 if behind else 1.0) > 0.0)
    return larger == (place.normal.r > 0.0)
