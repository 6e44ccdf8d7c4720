"""The profile of a thread to scale: one pitch of it, with the most and with the least metal."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import sin, tan

from calc.answer.drawing import Level, Profile
from calc.contour import Arc, Chain, Element, Line, Point
from calc.language.limited import Limited
from calc.threads.sizes import Sizes

LEAST_FLAT = 1e-6  # mm


@dataclass(frozen=True, slots=True)
class Shape:
    """One profile, mm as radii: pitch line, crest, root; which of crest and root are round; `up` is +1 outside."""

    P: float
    alpha: float
    pitch: float
    crest: float
    root: float
    round_crest: bool
    round_root: bool
    up: float

    def half_width(self, r: float) -> float:
        """Half of the metal's width along the axis at radius `r` [mm]."""
        return self.P / 4 - self.up * (r - self.pitch) * tan(self.alpha)


def shapes(sizes: Sizes) -> tuple[Shape, Shape | None]:
    """The profile with the most metal, and that with the least where the class limits both.

    >>> from calc.threads.thread import thread_of
    >>> most, least = shapes(thread_of("M24-6g").sizes)
    >>> most.crest, round(least.root, 4)
    (11.976, 9.9775)
    """
    crest, root = (sizes.major, sizes.minor) if sizes.outside else (sizes.minor, sizes.major)
    most = _shape(sizes, _end(sizes.pitch, sizes.outside), _end(crest, sizes.outside), _end(root, sizes.outside))
    if not isinstance(sizes.pitch, Limited):
        return most, None
    less = not sizes.outside
    return most, _shape(sizes, _end(sizes.pitch, less), _end(crest, less), _end(root, less))


def _end(diameter: float | Limited, upper: bool) -> float:
    if isinstance(diameter, Limited):
        return (diameter.upper if upper else diameter.lower) / 2
    return diameter / 2


def _shape(sizes: Sizes, pitch: float, crest: float, root: float) -> Shape:
    round_root, up = sizes.root is None, 1.0 if sizes.outside else -1.0
    return Shape(sizes.pitch_length, sizes.alpha, pitch, crest, root, sizes.crest == 0.0, round_root, up)


def profile_chain(shape: Shape) -> Chain:
    """The profile over one pitch, from the middle of a crest at z = 0 through the groove to the next crest.

    >>> from calc.threads.thread import thread_of
    >>> chain = profile_chain(shapes(thread_of("M24-6g").sizes)[0])
    >>> chain.start.z, chain.end.z
    (0.0, 3.0)
    """
    P = shape.P
    (left_root, left_crest), (right_root, right_crest) = _flank(shape, 0.0, 1.0), _flank(shape, P, -1.0)
    return Chain(
        (
            *_turn(shape, Point(0.0, shape.crest), left_crest, at_root=False, middle=0.0),
            Line(left_crest, left_root),
            *_turn(shape, left_root, right_root, at_root=True, middle=P / 2),
            Line(right_root, right_crest),
            *_turn(shape, right_crest, Point(P, shape.crest), at_root=False, middle=P),
        )
    )


def _flank(shape: Shape, middle: float, side: float) -> tuple[Point, Point]:
    """Where the flank on one `side` (-1 left, +1 right) of the crest at z `middle` leaves root and crest."""
    ends = []
    for r, is_round in ((shape.root, shape.round_root), (shape.crest, shape.round_crest)):
        height = r if not is_round else _tangent(shape, r)
        ends.append(Point(middle + side * shape.half_width(height), height))
    return ends[0], ends[1]


def _rounding(shape: Shape, r: float) -> tuple[float, float]:
    """Radius of the arc at a round end `r`, and the radius at which its centre stands."""
    away = 1.0 if (r - shape.pitch) * shape.up > 0 else -1.0
    tip = shape.pitch + shape.up * away * shape.P / 4 / tan(shape.alpha)
    radius = abs(tip - r) * sin(shape.alpha) / (1 - sin(shape.alpha))
    return radius, r - shape.up * away * radius


def _tangent(shape: Shape, r: float) -> float:
    radius, centre = _rounding(shape, r)
    return centre + (radius * sin(shape.alpha) if r > centre else -radius * sin(shape.alpha))


def _turn(shape: Shape, start: Point, end: Point, *, at_root: bool, middle: float) -> Iterator[Element]:
    """The flat or the arc at a root or a crest."""
    if start.distance_to(end) < LEAST_FLAT:
        return
    if not (shape.round_root if at_root else shape.round_crest):
        yield Line(start, end)
        return
    r = shape.root if at_root else shape.crest
    _, centre = _rounding(shape, r)
    valley = at_root == (shape.up > 0)
    yield Arc(start, end, Point(middle, centre), "ccw" if valley else "cw")


def wire_centre(sizes: Sizes, over_wires: float, wire: float) -> Point:
    """Where a `wire` [mm] lies in the groove at z = P/2 when `over_wires` [mm] is measured over three.

    >>> from calc.threads.thread import thread_of
    >>> wire_centre(thread_of("M24").sizes, 24.5, 1.7)
    Point(z=1.5, r=11.4)
    """
    return Point(sizes.pitch_length / 2, (over_wires - wire) / 2)


def profile_of(sizes: Sizes, wire: tuple[Point, float] | None = None) -> Profile:
    """What the sketch shows of a thread: both profiles, its three diameters, and a `wire` (centre, diameter) in it.

    >>> from calc.threads.thread import thread_of
    >>> [level.symbol for level in profile_of(thread_of("M24").sizes).levels]
    ['d', 'd2', 'd3']
    """
    most, least = shapes(sizes)
    symbols = ("d", "d2", "d3") if sizes.outside else ("D", "D2", "D1")
    named = zip(("major_diameter", "pitch_diameter", "minor_diameter"), symbols, strict=True)
    diameters = (sizes.major, sizes.pitch, sizes.minor)
    return Profile(
        most=profile_chain(most),
        least=profile_chain(least) if least else None,
        pitch=sizes.pitch_length,
        outside=sizes.outside,
        levels=tuple(Level(symbol, field, size) for (field, symbol), size in zip(named, diameters, strict=True)),
        wire=wire,
    )
