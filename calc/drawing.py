"""What a sketch shows, as data: contour, dimensions, paths, the nose where it stands. The server has the one drawer."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from calc.contour import Chain, Point
from calc.quantities import Kind


@dataclass(frozen=True, slots=True)
class Dimension:
    """A dimension on the sketch: between two spots, along z, along r (as a diameter when `across`), or of a radius.

    `field` is the input or result it belongs to, so that a focused field lights its dimension up; `symbol` stands
    where the value is not known.
    """

    shape: Literal["diameter", "length", "radius", "angle"]
    a: Point
    b: Point
    value: float
    kind: Kind
    field: str = ""
    symbol: str = ""


@dataclass(frozen=True, slots=True)
class Path:
    """A chain that is not the part: the nose centre's way, the tool point's way, a pass, what is left uncompensated."""

    role: Literal["nose centre", "tool point", "pass", "left", "stock"]
    chain: Chain
    label: str = ""


@dataclass(frozen=True, slots=True)
class Nose:
    """The round nose standing at a place: its centre, radius, and the tool point that the control is told."""

    centre: Point
    radius: float
    tool_point: Point
    label: str = ""


@dataclass(frozen=True, slots=True)
class Detail:
    """A part of the drawing worth a closer look: around `spot`, `size` mm across."""

    spot: Point
    size: float
    label: str


@dataclass(frozen=True, slots=True)
class Drawing:
    """Everything that one sketch shows; `part` runs from the outside of the bar to the axis (or the hole)."""

    title: str
    description: str
    part: Chain
    bar_radius: float | None = None
    hole_radius: float = 0.0
    stock_face: float | None = None
    dimensions: tuple[Dimension, ...] = ()
    paths: tuple[Path, ...] = ()
    noses: tuple[Nose, ...] = ()
    spots: tuple[tuple[str, Point], ...] = ()
    details: tuple[Detail, ...] = ()
