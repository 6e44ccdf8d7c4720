"""What a measured arc means: by how much it differs from the print, and what in the setting makes such a difference."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from calc.contour import Point
from calc.language.messages import Message, Quantity, Value, in_a_row
from calc.language.quantities import LENGTH, RADIUS, X, Z
from calc.measuring.limits import Limits

Surface = Literal["concave", "convex"]


@dataclass(frozen=True, slots=True)
class PrintedArc:
    """The arc as the print has it (mm): what is blank is not compared."""

    radius: float | None = None
    limits: Limits = Limits()
    centre_z: float | None = None
    centre_r: float | None = None


@dataclass(frozen=True, slots=True)
class MeasuredArc:
    """The arc as it was measured (mm), with half widths at 95 % of its radius and centre."""

    radius: float
    centre: Point
    spread: float | None
    centre_spread: Point | None
    surface: Surface | None


def meaning(arc: MeasuredArc, printed: PrintedArc) -> Iterator[Message]:
    """What the differences from the print mean for nose radius, X and Z offset, in sentences; none where all agree.

    Source: path of a round nose; a too large nose that was set by touching off makes hollow arcs larger.

    >>> found = MeasuredArc(74.9, Point(70.4, 0.0), 0.01, Point(0.01, 0.01), "concave")
    >>> next(meaning(found, PrintedArc(75.0))).say().partition(":")[0]
    'The radius is 0.100 mm smaller than the print’s R75.000 mm'
    """
    if printed.radius is not None:
        yield from _radius(arc, printed.radius)
    if printed.centre_r is not None:
        yield from _off_the_axis(arc, printed.centre_r)
    if printed.centre_z is not None:
        yield from _along_z(arc, printed.centre_z)


def _radius(arc: MeasuredArc, printed: float) -> Iterator[Message]:
    off = arc.radius - printed
    if not _stands_out(off, arc.spread):
        return
    values: dict[str, Value] = {
        "off": Quantity(abs(off), LENGTH),
        "radius": Quantity(printed, RADIUS),
        "how": "larger" if off > 0.0 else "smaller",
    }
    text = "The radius is {off} {how} than the print’s {radius}: a nose radius that is off changes an arc like this."
    if arc.surface is not None:
        values["nose"] = "larger" if (off > 0.0) == (arc.surface == "concave") else "smaller"
        text = (
            "The radius is {off} {how} than the print’s {radius}: the true nose is {nose} by that much than the "
            "control or the calculation was given. Offsets do not change a radius."
        )
    yield Message(text, values)


def _off_the_axis(arc: MeasuredArc, printed: float) -> Iterator[Message]:
    off = arc.centre.r - printed
    if not _stands_out(off, arc.centre_spread and arc.centre_spread.r):
        return
    axis = printed == 0.0 and arc.surface is not None
    said = Message(
        "The arc’s centre is at {x} where the print has {printed}: an X offset that is off, or a nose other than "
        "the one given, moves it like this.",
        {"x": Quantity(arc.centre.r, X), "printed": Quantity(printed, X)},
    )
    middle = Message("On the axis it leaves {middle}.", {"middle": _middle(off, arc.surface or "concave")})
    yield in_a_row(said, middle) if axis else said


def _middle(off: float, surface: Surface) -> str:
    if surface == "concave":
        return "a raised middle with a ring about it" if off > 0.0 else "a hollow that comes to a point"
    return "a dimple with a ring about it" if off > 0.0 else "a point"


def _along_z(arc: MeasuredArc, printed: float) -> Iterator[Message]:
    off = arc.centre.z - printed
    if _stands_out(off, arc.centre_spread and arc.centre_spread.z):
        yield Message(
            "The arc’s centre is at {z} where the print has {printed}: a Z offset or a nose radius that is off.",
            {"z": Quantity(arc.centre.z, Z), "printed": Quantity(printed, Z)},
        )


def _stands_out(off: float, spread: float | None) -> bool:
    return abs(off) > max(LEAST if spread is None else spread, LEAST)


LEAST = 0.0005
"""mm: what a page does not show any more."""
