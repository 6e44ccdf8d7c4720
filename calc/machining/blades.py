"""A blade's work on a contour: which rows are grooves, where it may go, its plunges side by side, its finishing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from calc.contour import Arc, Chain, Element, Line, Point, Vector, intersections
from calc.cutting.plunging import STEP, plunges
from calc.language.messages import Message, Quantity
from calc.language.problems import Fault, Impossible
from calc.language.quantities import LENGTH
from calc.machining.job import Contour, Where
from calc.machining.passes import MOST_PASSES, Piece
from calc.machining.removal.polygons import Area
from calc.machining.removal.region import led_on, tool_side
from calc.machining.removal.sweep import Outline, swept
from calc.machining.straight_in import ACROSS, INTO
from calc.tool.nose_path import nose_path

SHALLOW = 1e-6
"""mm: lengths along a blade's width and feed that differ by less are one."""

CREST = 2e-3
"""mm: what lies no deeper than this behind a crest is no groove: sizes with limits and rounded ones leave such crests
where a ball or an arc runs into a cylinder."""

TOUCH = 1e-6
"""mm: a blade that runs along a wall is taken for so much smaller, so that it is free to."""

BARELY = 1e-3
"""mm: a plunge that is no deeper than this into the stock is left out."""


@dataclass(frozen=True, slots=True)
class Blade:
    """A blade (mm): its width, the radius of its corners, where it works, how far its other corner leads.

    The other corner is that on the side of `across`, which is the part's where a part is parted off.
    """

    width: float
    corner: float
    where: Where
    lead: float = 0.0

    @property
    def across(self) -> Vector:
        """From its reference corner's centre to the other's."""
        return ACROSS[self.where].times(self.width - 2.0 * self.corner)

    @property
    def into(self) -> Vector:
        """The direction in which it is fed in."""
        return INTO[self.where]

    def place(self, along: float, out: float) -> Point:
        """The place at `along` its width's axis and `out` against its feed (z or r, mm; r itself outside)."""
        return Point(out, along) if self.where == "face" else Point(along, out)

    def along(self, point: Point) -> float:
        """How far a point is along the axis of its width, mm."""
        return point.r if self.where == "face" else point.z

    def out(self, point: Point) -> float:
        """How far a point is along the axis of its feed (r, or z on a face), mm."""
        return point.z if self.where == "face" else point.r


def dips(chain: Chain, where: Where) -> list[tuple[int, int]]:
    """The runs of elements (first, last) that lie deeper than what is on both sides of them.

    >>> corners = [(0.0, 9.0), (-5.0, 9.0), (-5.0, 7.0), (-9.0, 7.0), (-9.0, 9.0), (-12.0, 9.0)]
    >>> dips(Chain(tuple(Line(Point(*a), Point(*b)) for a, b in zip(corners, corners[1:]))), "outside")
    [(1, 3)]
    """
    outs = [_span(element, where) for element in chain]
    runs: list[tuple[int, int]] = []
    for index, (low, high) in enumerate(outs):
        before, after = (max((top for _, top in part), default=low) for part in (outs[:index], outs[index + 1 :]))
        if (low + high) / 2.0 < min(before, after) - CREST:
            runs = [*runs[:-1], (runs[-1][0], index)] if runs and runs[-1][1] == index - 1 else [*runs, (index, index)]
    return runs


def _span(element: Element, where: Where) -> tuple[float, float]:
    """From how far in to how far out an element reaches, against the feed of a blade."""
    bounds = element.bounds()
    if where == "face":
        return bounds.z_min, bounds.z_max
    return (-bounds.r_max, -bounds.r_min) if where == "bore" else (bounds.r_min, bounds.r_max)


def forbidden(blade: Blade, part: Contour, along_z: float, along_x: float, reach: float) -> Area:
    """Where the blade's reference corner may not be: where it would be in the part or its allowances.

    `along_z` and `along_x` (mm) are kept; nothing is farther than `reach` (mm) from zero.
    """
    import shapely  # noqa: PLC0415 - loaded on first use

    far = 4.0 * reach
    foot = Point(0.0, 0.0)
    body = [each.moved(blade.into, -length) for each in (foot, foot.moved(blade.across)) for length in (0.0, far)]
    keep = [Vector(z, r) for z in (-along_z, along_z) for r in (-along_x, along_x)]
    corners = [complex(a.z - b.z, a.r - b.r) for a in keep for b in body]
    hull = shapely.convex_hull(shapely.MultiPoint([(each.real, each.imag) for each in corners]))
    core = tuple(Point(z, r) for z, r in shapely.geometry.polygon.orient(hull).exterior.coords[:-1])
    near = swept(Outline(core, blade.corner - TOUCH), list(led_on(part.chain, part.side, reach + blade.width)))
    whole = shapely.box(-8.0 * reach, -8.0 * reach, 8.0 * reach, 8.0 * reach)
    return whole.difference(tool_side(part.chain, part.side, far)).union(near)


def plunge_lines(blade: Blade, stretch: Chain, rests: tuple[float, float], start: float, ground: Area) -> list[Line]:
    """The plunges of the reference corner over a stretch, from `start` (r, or z on a face) in, the last first.

    `rests` (mm) stay on the two walls. Raises `Impossible` for a blade that is wider than the groove.
    """
    import shapely  # noqa: PLC0415 - loaded on first use

    low, high = _reach_along(blade, stretch)
    first, last = low + rests[0] + blade.corner, high - rests[1] - blade.width + blade.corner
    if last < first - SHALLOW:
        values = {"insert": Quantity(blade.width, LENGTH), "width": Quantity(high - low - sum(rests), LENGTH)}
        text = "The insert, {insert} wide, does not go into a groove {width} wide."
        raise Impossible(Fault("tool.width", Message(text, values)))
    count = round(plunges.function(max(last - first, 0.0) + blade.width, blade.width, STEP))
    if count > MOST_PASSES:
        text = "The insert is too narrow for this groove: it would take {count} plunges, at most {most} are planned."
        raise Impossible(Fault("tool.width", Message(text, {"count": count, "most": MOST_PASSES})))
    places = [last - (last - first) * number / max(count - 1, 1) for number in range(count)]
    far = blade.out(Point(0.0, 0.0).moved(blade.into, 1e4))
    lines = []
    for along in places:
        ray = shapely.LineString([blade.place(along, start), blade.place(along, far)])
        free = ray.difference(ground)
        parts = [part for part in getattr(free, "geoms", [free]) if not part.is_empty]
        top = next((part for part in parts if part.distance(shapely.Point(ray.coords[0])) < BARELY), None)
        if top is not None and top.length > BARELY:
            lines.append(Line(Point(*top.coords[0]), Point(*top.coords[-1])))
    return lines


def _reach_along(blade: Blade, stretch: Chain) -> tuple[float, float]:
    bounds = stretch.bounds
    return (bounds.r_min, bounds.r_max) if blade.where == "face" else (bounds.z_min, bounds.z_max)


def walls(blade: Blade, part: Contour, stretch: Chain, feed: float) -> Iterator[list[Piece]]:
    """The finishing of a groove: down the far wall and along the bottom to its middle, then from the other side.

    `stretch` holds the elements of the part's contour that make the groove; the corners keep clear of all others.

    The pieces, at a `feed` (mm/rev), are the path of the reference corner and what the corner that cuts then touches.
    """
    runs = nose_path(part.chain, blade.corner, part.side).runs
    own = [part.chain.elements[step.of] in stretch.elements for run in runs for step in run]
    every = [Piece(step.contact, step.element, feed) for run in runs for step in run]
    pieces = _trimmed([piece for piece, is_own in zip(every, own, strict=True) if is_own])
    ends = [blade.along(point) for point in (stretch.start, stretch.end)]
    fore, back = (pieces, _backward(pieces)) if ends[0] > ends[1] else (_backward(pieces), pieces)
    shift = blade.across.times(-1.0)
    fore = [replace(each, centre=_path(each).shifted(shift.z, shift.r)) for each in fore]
    middle = _meeting(blade, [_path(each) for each in fore], [_path(each) for each in back])
    if middle is None:
        text = "The insert is wider than the bottom of the groove: walls and bottom cannot be finished with it."
        raise Impossible(Fault("tool.width", Message(text)))
    for way in (_until(blade, fore, middle, -1.0), _until(blade, back, middle, 1.0)):
        if way:
            yield way


def _trimmed(pieces: list[Piece]) -> list[Piece]:
    """The pieces without those at their ends that only swing round a corner."""
    on = [index for index, piece in enumerate(pieces) if not isinstance(piece.contact, Point)]
    return pieces[on[0] : on[-1] + 1] if on else []


def _meeting(blade: Blade, fore: Sequence[Element], back: Sequence[Element]) -> float | None:
    """Where along its width the reference corner is on both paths: half way along what they share, or a crossing.

    Of a stepped groove that is on its deepest flat: down the steps to there both corners are clear.
    """
    shared = [(a, _shared(blade, a, b)) for a in fore for b in back]
    flats = [(_depth_of(blade, a), span[1] - span[0], sum(span) / 2.0) for a, span in shared if span is not None]
    if flats:
        return max(flats)[2]
    spots = [spot for a in fore for b in back for spot in intersections(a, b)]
    return blade.along(spots[0]) if spots else None


def _depth_of(blade: Blade, flat: Element) -> float:
    """How far in along its feed a level path is, mm."""
    way = flat.start if blade.where == "face" else Point(0.0, flat.start.r)
    return way.z * blade.into.z + way.r * blade.into.r


def _shared(blade: Blade, a: Element, b: Element) -> tuple[float, float] | None:
    """The stretch (mm along the width) that two level paths share; None where they share none."""
    outs = [blade.out(point) for point in (a.start, a.end, b.start, b.end)]
    if isinstance(a, Arc) or isinstance(b, Arc) or max(outs) - min(outs) > SHALLOW:
        return None
    low, high = (
        max(min(blade.along(each.start), blade.along(each.end)) for each in (a, b)),
        min(max(blade.along(each.start), blade.along(each.end)) for each in (a, b)),
    )
    return (low, high) if high >= low - SHALLOW else None


def _path(piece: Piece) -> Element:
    assert piece.centre is not None, "a blade's corner has a path"
    return piece.centre


def _backward(pieces: Sequence[Piece]) -> list[Piece]:
    """The pieces travelled the other way."""
    return [
        replace(
            each,
            contact=each.contact if isinstance(each.contact, Point) else each.contact.reversed(),
            centre=_path(each).reversed(),
        )
        for each in reversed(pieces)
    ]


def _until(blade: Blade, pieces: Sequence[Piece], middle: float, ahead: float) -> list[Piece]:
    """The pieces up to where the reference corner passes the middle (mm along), going up (1) or down (-1)."""
    kept: list[Piece] = []
    for piece in pieces:
        centre = _path(piece)
        if ahead * (blade.along(centre.end) - middle) <= SHALLOW:
            kept.append(piece)
            continue
        share = _share(blade, centre, middle)
        if share > SHALLOW:
            contact = piece.contact
            short = contact if isinstance(contact, Point) else contact.between(0.0, share * contact.length)
            kept.append(replace(piece, contact=short, centre=centre.between(0.0, share * centre.length)))
        break
    return kept


def _share(blade: Blade, path: Element, middle: float) -> float:
    """The share of a path after which it passes the middle; 0 where it begins beyond."""
    far = 4.0 * (path.size + abs(middle))
    spots = intersections(Line(blade.place(middle, -far), blade.place(middle, far)), path)
    return min((max(path.locate(spot), 0.0) / path.length for spot in spots), default=0.0)
