"""What a sketch shows, as data: contour, dimensions, paths, the nose where it stands. The server has the one drawer."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal

from calc.contour import Chain, Point
from calc.language.limited import Limited
from calc.language.messages import Message
from calc.language.quantities import Kind


@dataclass(frozen=True, slots=True)
class Dimension:
    """A dimension on the sketch, between two spots `a` and `b`.

    - "diameter": across the axis at the radius of `a`, measured from the spot `a` (`b` is its mirror image);
    - "length": along z from `a` to `b`;
    - "radius": of the arc through `a` about the centre `b`;
    - "angle": at `vertex`, from the leg through `a` to the leg through `b`;
    - "chamfer": the leg of a chamfer and its `angle` (rad; None: both legs), at `a`, told from the side of `b`;
    - "taper": diameter per length of the cone at `a`, told from the side of `b`.

    `value` is None (or NaN) while it is not known: `symbol` stands in its place. `field` is the input or result it
    belongs to, so that a focused field lights its dimension up. With `by` a second size follows, as the depth of
    a groove after its width. `detail` is the label of the `Detail` that shows it;
    without one it stands in the main view. An `auxiliary` one follows from the others and stands in brackets. One
    that is there only `if_room` is left out where it would stand on something else.
    """

    shape: Literal["diameter", "length", "radius", "angle", "chamfer", "taper"]
    a: Point
    b: Point
    value: float | None
    kind: Kind
    field: str = ""
    symbol: str = ""
    vertex: Point | None = None
    detail: str = ""
    angle: float | None = None
    by: tuple[float, Kind] | None = None
    auxiliary: bool = False
    if_room: bool = False

    @property
    def is_known(self) -> bool:
        """Whether there is a number to show.

        >>> from calc.language.quantities import LENGTH
        >>> Dimension("length", Point(0.0, 5.0), Point(-1.0, 0.0), math.nan, LENGTH, symbol="t").is_known
        False
        """
        return self.value is not None and math.isfinite(self.value)


@dataclass(frozen=True, slots=True)
class Path:
    """A chain that is not the part: a path of nose centre or tool point, a pass, what is left, what it works with."""

    role: Literal["nose centre", "tool point", "pass", "left", "turned", "stock", "mate", "work"]
    chain: Chain
    label: str = ""


@dataclass(frozen=True, slots=True)
class Nose:
    """The round nose standing at a place: its centre, radius, and the tool point that the control is given."""

    centre: Point
    radius: float
    tool_point: Point
    label: str = ""


@dataclass(frozen=True, slots=True)
class Outline:
    """A closed outline of the tool where it stands: the insert, its holder; or the inscribed circle of an insert."""

    role: Literal["insert", "holder", "inscribed circle"]
    chain: Chain


@dataclass(frozen=True, slots=True)
class Detail:
    """A part of the drawing worth a closer look: around `spot`, `size` mm across."""

    spot: Point
    size: float
    label: str


@dataclass(frozen=True, slots=True)
class EndView:
    """A regular bar seen from its end: an even number of sides, mm across flats, the round bar it is cut from (mm).

    A dimension here gives its name and value; its spots are of no meaning.
    """

    sides: int
    flats: float
    bar: float
    across_flats: Dimension
    across_corners: Dimension
    bar_diameter: Dimension

    def with_symbols_only(self) -> EndView:
        """The view while nothing is known."""
        dimensions = (self.across_flats, self.across_corners, self.bar_diameter)
        return EndView(self.sides, self.flats, self.bar, *(replace(each, value=None) for each in dimensions))


@dataclass(frozen=True, slots=True)
class Level:
    """A diameter of a thread's profile: symbol, the result it belongs to, its value or limits (mm), None if unknown."""

    symbol: str
    field: str
    size: float | Limited | None


@dataclass(frozen=True, slots=True)
class Profile:
    """A thread's profile to scale: with the most metal and with the least, one pitch from crest to crest.

    `levels` are its diameters from the outside in, `wire` a measuring wire in its groove (centre, diameter).
    """

    most: Chain
    least: Chain | None
    pitch: float
    outside: bool
    levels: tuple[Level, ...]
    wire: tuple[Point, float] | None = None

    def with_symbols_only(self) -> Profile:
        """The profile while nothing is known."""
        return replace(self, levels=tuple(replace(level, size=None) for level in self.levels))


@dataclass(frozen=True, slots=True)
class Turning:
    """How a thread's hand comes about, drawn beside the main view: left or right, lead angle (rad), outside or inside.

    Each of the `ways` says whether the work turns forward, whether the feed is toward the chuck, and lines of words.
    """

    left: bool
    lead_angle: float
    outside: bool
    ways: tuple[tuple[bool, bool, tuple[str, ...]], ...]


@dataclass(frozen=True, slots=True)
class Picture:
    """One step of a sequence: what is left of the stock (rings of points, mm), the tool's way, the tool, the print.

    `way` is what is fed; the tool (its `insert` and `holder` rings, about the nose centre) stands at the end of the way
    and is shown moving along it. `wrong` are rings of what should not have been hit, or what still stands. `also` are
    further contours of the print, such as its bore. `before` are rings of the stock before the step, `rapid` the tool's
    way in rapid. One that opens no `chapter` goes on with the one before.
    """

    label: str
    left: tuple[tuple[Point, ...], ...]
    printed: Chain
    way: tuple[Chain, ...] = ()
    insert: tuple[Point, ...] = ()
    holder: tuple[tuple[Point, ...], ...] = ()
    wrong: tuple[tuple[Point, ...], ...] = ()
    note: Message | None = None
    also: tuple[Chain, ...] = ()
    before: tuple[tuple[Point, ...], ...] = ()
    rapid: tuple[Chain, ...] = ()
    chapter: bool = True


@dataclass(frozen=True, slots=True)
class Drawing:
    """Everything that one sketch shows; `part` runs from the outside of the bar to the axis (or the hole).

    `stock_face` is the z of the raw face, `spots` are named points. The work zero is at z = 0 on the axis. `outlines`
    show the tool. An insert `seen_from_above` is no turned part: `part` is then its closed outline. An `end_view`
    or a thread's `profile` is drawn in place of all else.
    """

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
    outlines: tuple[Outline, ...] = ()
    seen_from_above: bool = False
    end_view: EndView | None = None
    profile: Profile | None = None
    turning: Turning | None = None

    @property
    def is_to_scale(self) -> bool:
        """Whether what is drawn is somebody's part: one with symbols alone has no size."""
        return not self.dimensions or any(each.is_known for each in self.dimensions)

    def with_symbols_only(self) -> Drawing:
        """The drawing while nothing is known: every dimension as its symbol, no named points."""
        unknown = tuple(replace(dimension, value=None) for dimension in self.dimensions)
        return replace(
            self,
            dimensions=unknown,
            spots=(),
            description="The symbols stand at the fields of this page.",
            end_view=self.end_view and self.end_view.with_symbols_only(),
            profile=self.profile and self.profile.with_symbols_only(),
        )
