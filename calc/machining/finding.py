"""Which tool reaches a contour: of the common pairs of insert and holder those that do, the strongest first."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import islice, pairwise
from typing import Literal

import numpy as np

from calc.contour import Arc, Chain, Point, Side, toward
from calc.contour.many import Many, many_of
from calc.cutting.finish import feed_for_mean_roughness
from calc.language.messages import Listed, Message, Phrase, Quantity, Value, in_a_row
from calc.language.quantities import ANGLE, DIAMETER, FEED, RADIUS
from calc.machining.reach.bodies import Ride, hits_anything, ride_along
from calc.machining.reach.examine import Cutter, bar_bore, held_cutter
from calc.machining.reach.tool import Tool
from calc.machining.reach.work import contour_work
from calc.machining.roughing.reachable import USUAL_MARGIN, Edges, Reachable, Shadow, reachable
from calc.tool.catalogue import Pair, Place, pairs
from calc.tool.nose_path import NosePath, nose_path

Hand = Literal["R", "L", "either"]
SHARP_CORNER = 1.6
"""mm: the largest nose that is taken into a sharp inside corner (common practice, no source)."""

LEAST_FEED = 0.05
"""mm per revolution: a finish that asks for less asks for a larger nose (common practice, no source)."""

EVEN = 1e-6
"""mm: a nose and an inside radius that differ by less are one; where rounding keeps it out a smaller one is tried."""

UNSIZED = 0.0  # mm: an insert of no size stands behind all others
NEAR = 1e-6
"""Share of the contour's length that counts as none."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """A part of the contour by its length from the start, mm."""

    start: float
    end: float

    @property
    def length(self) -> float:
        """How long it is, mm."""
        return self.end - self.start


@dataclass(frozen=True, slots=True)
class Found:
    """A tool with the stretch of the contour that it reaches; `first` and `last` are element indices."""

    insert: str
    holder: str
    reaches: bool
    stretch: Stretch
    first: int
    last: int
    reason: Message
    cutter: Cutter


@dataclass(frozen=True, slots=True)
class Wanted:
    """What a tool is looked for: the contour with the tool on its `side`, where, the finish, the hand.

    `roughness` (Ra, mm) and `hole` (the radius, mm, of the hole that a bar enters) may not be known.
    """

    chain: Chain
    side: Side
    place: Place = "outside"
    roughness: float | None = None
    hand: Hand = "either"
    hole: float | None = None

    def starts(self) -> list[float]:
        """Where each element starts, mm from the start of the contour, and where the last one ends."""
        places = [0.0]
        for element in self.chain:
            places.append(places[-1] + element.length)
        return places


def find_tools(wanted: Wanted) -> list[Found]:
    """The tools that reach the whole contour, the strongest first; where none does, the pair that reaches most.

    >>> from calc.shapes.chosen import shape_chain
    >>> found = find_tools(Wanted(shape_chain("stem", None), "right", hand="R"))
    >>> found[0].insert, found[0].holder, found[0].reaches
    ('CNMG 120416', 'PCLNR 2525M12', True)
    """
    search = _Search(wanted)
    tried = sorted((found for pair in pairs(wanted.place) for found in search.tried(pair)), key=_weakness)
    whole = [found for found in tried if found.reaches and search.stays_clear(found)]
    return whole or _pair(search, [found for found in tried if not found.reaches])


class _Search:
    """What tools of one nose, or of the same edges, have in common is worked out once."""

    def __init__(self, wanted: Wanted) -> None:
        self.wanted = wanted
        self.starts = wanted.starts()
        self.largest = _largest_nose(wanted)
        self._shape = many_of(wanted.chain.elements)
        self._left: dict[tuple[float, float] | None, Reachable] = {}
        self._narrow: dict[float, list[Stretch]] = {}
        self._rides: dict[tuple[float, float | None, tuple[Shadow, ...]], tuple[Ride, Many]] = {}
        self._paths: dict[tuple[float, tuple[Shadow, ...]], NosePath | None] = {}
        self._clear: dict[tuple[str, str], bool] = {}

    def tried(self, pair: Pair) -> Iterator[Found]:
        """The pair with the largest nose that finish and inside radii allow; nothing where it cannot be used at all."""
        wanted = self.wanted
        if wanted.hand not in ("either", pair.holder.hand) and pair.holder.hand != "N":
            return
        bore = bar_bore(pair.holder)
        if wanted.hole is not None and bore is not None and bore > 2.0 * wanted.hole:
            return
        found: list[Found] = []
        for name, insert in pair.inserts:
            nose = insert.nose
            if nose is None or nose > self.largest + EVEN or not _fine_enough(wanted, nose):
                continue
            found = list(self._reached(held_cutter(insert, pair.holder, nose), name, pair.holder_name))
            if nose < self.largest - EVEN or any(each.reaches for each in found):
                break
        yield from found

    def _reached(self, cutter: Cutter, insert: str, holder: str) -> Iterator[Found]:
        """What the tool reaches: all but the shadows of its edges and what its nose stays out of."""
        tool, length = cutter.tool, self.starts[-1]
        left = self._reachable(tool)
        stretch = max(_between([*self._shadows(left), *self._too_narrow(tool.nose)], length), key=lambda s: s.length)
        if stretch.length <= NEAR * length:
            return
        whole = stretch.length >= (1.0 - NEAR) * length
        first, last = _elements(self.wanted, stretch)
        yield Found(insert, holder, whole, stretch, first, last, _reason(self.wanted, cutter), cutter)

    def stays_clear(self, found: Found) -> bool:
        """Whether neither the insert's body nor the holder of a tool hits the contour while its nose goes along it.

        That takes longest, so it is asked only of tools that may be the answer.
        """
        key = found.insert, found.holder
        if key not in self._clear:
            tool = found.cutter.tool
            ride, sides = self._ride(found.cutter, self._reachable(tool))
            self._clear[key] = len(ride.places) > 0 and not hits_anything(tool, sides, ride)
        return self._clear[key]

    def _reachable(self, tool: Tool) -> Reachable:
        key = None if tool.low is None or tool.high is None else (tool.low, tool.high)
        if key not in self._left:
            edges = None if key is None else Edges(*key).kept_off(USUAL_MARGIN)
            self._left[key] = reachable(self.wanted.chain, self.wanted.side, edges)
        return self._left[key]

    def _ride(self, cutter: Cutter, left: Reachable) -> tuple[Ride, Many]:
        key = cutter.nose, cutter.circle, left.shadows
        if key not in self._rides:
            elements = left.chain.elements
            sides = many_of([*elements, *(element.mirrored() for element in elements)])
            path = self._path(cutter.nose, left)
            work = contour_work(left.chain, self.wanted.side)
            self._rides[key] = ride_along(work, cutter.nose, cutter.circle, path), sides
        return self._rides[key]

    def _path(self, nose: float, left: Reachable) -> NosePath | None:
        """The path of a nose (mm) along what edges leave; None of a sharp one."""
        key = nose, left.shadows
        if key not in self._paths:
            self._paths[key] = nose_path(left.chain, nose, self.wanted.side) if nose > 0.0 else None
        return self._paths[key]

    def _shadows(self, left: Reachable) -> Iterator[Stretch]:
        for shadow in left.shadows:
            yield Stretch(*sorted(self._along(point) for point in (shadow.start, shadow.end)))

    def _along(self, point: Point) -> float:
        """How far along the contour (mm) a point on it is."""
        elements = self.wanted.chain.elements
        index = int(self._shape.distance(np.full(len(elements), complex(*point))).argmin())
        return self.starts[index] + min(max(elements[index].locate(point), 0.0), elements[index].length)

    def _too_narrow(self, nose: float) -> list[Stretch]:
        if nose not in self._narrow:
            path = self._path(nose, Reachable(self.wanted.chain, ()))
            gaps = path.unreached if path is not None else ()
            self._narrow[nose] = [
                Stretch(self.starts[gap.first.of] + gap.first.s, self.starts[gap.last.of] + gap.last.s)
                for gap in gaps
                if gap.reason != "corner"
            ]
        return self._narrow[nose]


def _weakness(found: Found) -> tuple[float, float, float, float, str]:
    """Sorts the strongest first: included angle, size, nose, shank; then by name."""
    cutter = found.cutter
    shank = cutter.shank.width if cutter.shank else 0.0
    angle = math.pi if cutter.shape.angle is None else cutter.shape.angle
    size = UNSIZED if cutter.size is None else cutter.size
    return (-angle, -size, -cutter.nose, -shank, found.holder)


def _largest_nose(wanted: Wanted) -> float:
    """The largest nose (mm) that fits the smallest inside radius, and a sharp inside corner if there is one."""
    inward = toward(wanted.side)
    hollow = [e.radius for e in wanted.chain if isinstance(e, Arc) and e.curvature * inward > 0.0]
    sharp = [SHARP_CORNER for joint in wanted.chain.joints if joint.turn * inward > math.radians(1.0)]
    return min([*hollow, *sharp], default=math.inf)


def _fine_enough(wanted: Wanted, nose: float) -> bool:
    """Whether the finish can be had at a feed that still cuts."""
    return wanted.roughness is None or feed_for_mean_roughness(wanted.roughness, nose) >= LEAST_FEED


def _between(out_of_reach: Sequence[Stretch], length: float) -> Iterator[Stretch]:
    """The stretches that are left between those out of reach; one of no length where all is."""
    done = 0.0
    for stretch in sorted(out_of_reach, key=lambda each: each.start):
        yield Stretch(done, max(done, stretch.start))
        done = max(done, stretch.end)
    yield Stretch(done, max(done, length))


def _elements(wanted: Wanted, stretch: Stretch) -> tuple[int, int]:
    starts = wanted.starts()
    near = NEAR * starts[-1]
    inside = [index for index, (a, b) in enumerate(pairwise(starts))
              if b > stretch.start + near and a < stretch.end - near]  # fmt: skip
    return inside[0], inside[-1]


def _reason(wanted: Wanted, cutter: Cutter) -> Message:
    values: dict[str, Value] = {"nose": Quantity(cutter.nose, RADIUS, brief=True)}
    text = "Nose {nose}, the largest of its kind that finish and inside radii allow"
    if cutter.shape.angle is None:
        text = "Round, {nose}: no edge stands in the way"
    elif cutter.hold is not None:
        values["angle"] = Quantity(cutter.shape.angle, ANGLE, brief=True)
        values["entering"] = Quantity(cutter.hold.entering_angle, ANGLE, brief=True)
        text = (
            "{angle} corner at an entering angle of {entering}; nose {nose}, the largest that finish and inside "
            "radii allow"
        )
    said: list[Value] = [Message(text, values)]
    if cutter.bar_bore is not None:
        said.append(Message("the bar goes into bores from {bore}", {"bore": Quantity(cutter.bar_bore, DIAMETER)}))
    if wanted.roughness is not None:
        feed = Quantity(feed_for_mean_roughness(wanted.roughness, cutter.nose), FEED)
        said.append(Message("the finish allows {feed}", {"feed": feed}))
    return Message("{reasons}.", {"reasons": Listed(tuple(said), "; ", "; ")})


def _pair(search: _Search, tried: Sequence[Found]) -> list[Found]:
    """Of tools none of which reaches all, two that do it together, the strongest such two; else the farthest reaching.

    The first goes from the contour's start, the second to its end; each says where they meet.
    """
    length = search.starts[-1]
    near = NEAR * length
    fore = [found for found in tried if found.stretch.start <= near]
    back = [found for found in tried if found.stretch.end >= length - near]
    couples = [(one, other) for one in fore for other in back if other.stretch.start <= one.stretch.end + near]
    strength = {id(found): _weakness(found) for found in tried}
    couples.sort(key=lambda couple: sorted((strength[id(each)] for each in couple), reverse=True))
    both = next((each for each in couples if all(map(search.stays_clear, each))), None)
    if both is None:
        farthest = sorted(tried, key=lambda found: -found.stretch.length)
        return list(islice(filter(search.stays_clear, farthest), 2))
    one, other = both
    place = place_at(search.wanted, one.stretch.end)
    return [_meeting(one, other, place), _meeting(other, one, place)]


def place_at(wanted: Wanted, along: float) -> Point:
    """The point of the contour `along` mm from its start.

    >>> from calc.contour import Line
    >>> place_at(Wanted(Chain((Line(Point(0.0, 9.0), Point(-5.0, 9.0)),)), "right"), 2.0)
    Point(z=-2.0, r=9.0)
    """
    starts = wanted.starts()
    index = min(len(wanted.chain) - 1, max(i for i, start in enumerate(starts[:-1]) if start <= along))
    return wanted.chain.elements[index].point_at(along - starts[index])


def _meeting(found: Found, other: Found, place: Point) -> Found:
    values: dict[str, Value] = {
        "other": Phrase("{insert} in {holder}", insert=other.insert, holder=other.holder),
        "place": place,
    }
    text = "With {other} it reaches all: they meet at {place} or before."
    return replace(found, reason=in_a_row(found.reason, Message(text, values)))
