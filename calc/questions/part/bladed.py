"""A blade led from plunge to plunge and along walls, each pass taken off the stock that the one before has left."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from calc.contour import Chain, Line, Point
from calc.cutting.blade import corner_lead
from calc.cutting.plunging import PlungeLoad, dwell_time
from calc.cutting.speed import spindle_at
from calc.language.messages import Caution, Message, Phrase
from calc.language.problems import Fault, OutOfRange
from calc.language.working import Step
from calc.machining.blades import TOUCH, Blade
from calc.machining.job import Move, ToolPass, Where
from calc.machining.passes import Piece, Referral, Spindle, pass_row
from calc.machining.reach.tool import SHANK_LENGTH
from calc.machining.removal.taking import Removal
from calc.machining.routing import Air
from calc.machining.straight_in import Leg, blade_outline, moves_of
from calc.questions.operations.grooving_cut import ENOUGH_TURNS
from calc.questions.operations.parting import SLOW_DIAMETER, SLOW_SHARE
from calc.questions.part.asked import Asked
from calc.questions.part.done import PassDone
from calc.questions.part.job import Grooving
from calc.questions.part.led_round import led_in, led_out
from calc.questions.part.parting_chamfers import Chamfer

USUAL_CORNER = 0.2
"""mm: the corner radius of a blade of which nothing is known (common practice, no source)."""

SHARPEST = 1e-3
"""mm: no corner is taken for sharper."""

LEAD = 0.5
"""mm: a blade is fed from so far off the surface (common practice, no source)."""

WORTH_IT = 1.0
"""mm: a rapid move down to the surface that is no longer than this is fed with the rest."""

BESIDE_A_WALL = 0.05
"""mm: so far off everything that rapid move keeps."""

HOME = 2.0
"""mm: rapid moves along a surface keep so far off it."""

SOLID = 1e-6
"""mm: a radius below this is that of no hole, but rounding of the sweep."""

PART_OFF = "part off"


@dataclass(frozen=True)
class Set:
    """How a blade is set: feed (mm/rev), surface speed (mm/min), its load, and what is said about it."""

    feed: float
    speed: float
    load: PlungeLoad
    cautions: tuple[Caution, ...] = ()
    notes: tuple[Message, ...] = ()
    steps: tuple[Step, ...] = ()


def blade_of(asked: Asked, where: Where) -> Blade:
    """The blade of an operation, by what it is fed into. Raises `OutOfRange` for another tool."""
    tool = asked.operation.tool
    if not isinstance(tool, Grooving):
        raise OutOfRange(Fault("tool", Message("This operation needs the width of its insert: give it.")))
    corner = corner_of(tool)
    return Blade(tool.width, corner, where, corner_lead.function(tool.width - 2.0 * corner, tool.edge_lead))


def corner_of(tool: Grooving) -> float:
    """The corner radius (mm) of a blade, the usual one where none is given, never none at all.

    >>> corner_of(Grooving(3.0)), corner_of(Grooving(3.0, 0.0))
    (0.2, 0.001)
    """
    corner = USUAL_CORNER if tool.corner is None else max(tool.corner, SHARPEST)
    return min(corner, tool.width / 2.0 - SHARPEST)


@dataclass(frozen=True, slots=True)
class _Pass:
    """A pass: its moves from `above` to `over` the stock, and what is touched meanwhile."""

    name: str
    above: Point
    moves: tuple[Move, ...]
    over: Point
    pieces: Sequence[Piece]
    full: bool = True  # whether the whole edge cuts
    deep: float | None = None  # mm, where it is known beforehand


class BladeRun:
    """The passes of a blade one after the other, each on the stock that the one before has left."""

    def __init__(self, asked: Asked, blade: Blade) -> None:
        self.asked, self.blade, self.stock = asked, blade, asked.before
        self.out = 0.0
        self.removals: list[Removal] = []
        self.passes: list[PassDone] = []
        tool = asked.operation.tool
        assert isinstance(tool, Grooving), "a blade is made of one"
        self.taking = asked.taking(blade_outline(blade.width, blade.corner, blade.where, self._height(), blade.lead))

    def _height(self) -> float:
        """In a bore the body is no higher than there is room for on the other side of the axis."""
        if self.blade.where != "bore":
            return SHANK_LENGTH
        _, inner = self.at(-self.asked.job.length, 0.0)
        return max(inner, LEAD)

    def at(self, low: float, high: float) -> tuple[float, float]:
        """The largest and the smallest radius of the stock between two z, mm; exactly 0 where it is solid."""
        inner, outer = self.stock.radii(low, high) or (0.0, self.stock.bounds[3])
        return outer, inner if inner > SOLID else 0.0

    def surface(self, chain: Chain) -> float:
        """Where a plunge into a stretch meets the stock: its radius, or its z on a face."""
        if self.blade.where == "face":
            return self.stock.bounds[2]
        return self.at(chain.bounds.z_min, chain.bounds.z_max)[1 if self.blade.where == "bore" else 0]

    def start(self, chain: Chain) -> float:
        """Where the reference corner is fed in from, along its feed: clear of all up to the front, mm."""
        blade, back = self.blade, LEAD + self.blade.corner
        if blade.where == "face":
            return self.stock.bounds[2] + back
        outer, inner = self.at(chain.bounds.z_min, self.stock.bounds[2])
        return inner - back if blade.where == "bore" else outer + back

    def _home(self, out: float) -> Point:
        """Where the tool waits: in front of the stock, at the height from which it is fed in; outside farther out."""
        front = self.stock.bounds[2] + HOME + self.blade.corner
        if self.blade.where == "face":
            return Point(front + HOME, self.stock.bounds[3] + HOME)
        return Point(front, out if self.blade.where == "bore" else out + HOME)

    def plunge(self, line: Line, settings: Set) -> None:
        """Straight in, some turns at the bottom, straight out."""
        number = sum(each.name.startswith("plunge") for each in self.passes) + 1
        above, down = self._coming(line, settings.feed)
        fed = Line(down[-1].end if down else line.start, line.end)
        legs = [*down, Leg(line.end, settings.feed), Leg(line.start, None, "rapid", "retract")]
        bottom = abs(line.end.r + self.blade.into.r * self.blade.corner)
        rpm = spindle_at(2.0 * bottom, settings.speed, self.asked.max_rpm).rpm
        pieces = [*self._sideways(down, settings), Piece(self._edge(fed), fed, settings.feed)]
        planned = _Pass(
            Phrase("plunge {number}", number=number),
            above,
            moves_of(above, legs),
            line.start,
            pieces,
            deep=self._deep(line.end),
        )
        self._done(planned, settings, dwell_time.function(1.0, ENOUGH_TURNS, rpm))

    def _coming(self, line: Line, feed: float) -> tuple[Point, list[Leg]]:
        """Where a pass down a line begins and how it comes near the surface: at rapid where that is free.

        Flush with a wall that is free beside it: there, and above the surface back to the line at `feed` (mm/rev).
        """
        blade, near = self.blade, self._near(line)
        if near is None:
            return line.start, []
        if self._is_free(line.start, near):
            return line.start, [Leg(near, None, "rapid", "approach")]
        for aside in (LEAD, -LEAD):
            off = blade.place(aside, 0.0)
            beside = Line(line.start.shifted(off.z, off.r), line.end.shifted(off.z, off.r))
            near = self._near(beside, aside)
            if near is not None and self._is_free(beside.start, near):
                return beside.start, [Leg(near, None, "rapid", "approach"), Leg(near.shifted(-off.z, -off.r), feed)]
        return line.start, []

    def _sideways(self, down: Sequence[Leg], settings: Set) -> Iterator[Piece]:
        """The way over the surface to the line of a pass that comes down beside it."""
        for before, leg in pairwise(down):
            over = Line(before.end, leg.end)
            yield Piece(self._edge(over), over, settings.feed)

    def _near(self, line: Line, aside: float = 0.0) -> Point | None:
        """Just above the surface that the blade comes to first down a line, or `aside` (mm) of it.

        None where that is not worth a move.
        """
        blade = self.blade
        back = LEAD + blade.corner
        surfaces = [self._surface_at(blade.along(line.start) + beside) for beside in {0.0, aside}]
        found = [each for each in surfaces if each is not None]
        if not found:
            return None
        surface = min(found) if blade.where == "bore" else max(found)
        near = blade.place(blade.along(line.start), surface - back if blade.where == "bore" else surface + back)
        return near if WORTH_IT < line.start.to(near).dot(blade.into) < line.length else None

    def _is_free(self, start: Point, end: Point) -> bool:
        air = Air(self.stock, self.taking.outline, self.asked.around)
        return air.free(Line(start, end), BESIDE_A_WALL)

    def _surface_at(self, along: float) -> float | None:
        """The stock that a plunge meets first under its width, against its feed (mm); None where there is none."""
        import shapely  # noqa: PLC0415 - loaded on first use

        blade = self.blade
        low, far = along - blade.corner + TOUCH, 1.0 + max(map(abs, self.stock.bounds))
        high = low + blade.width - 2.0 * TOUCH
        box = shapely.box(-far, low, far, high) if blade.where == "face" else shapely.box(low, 0.0, high, far)
        parts = [each.bounds for each in self.stock.common(box)]
        if blade.where == "bore":
            return min((each[1] for each in parts), default=None)
        return max((each[2 if blade.where == "face" else 3] for each in parts), default=None)

    @property
    def has_walls(self) -> bool:
        """Whether walls and bottom were passed over."""
        return any(each.name.startswith("wall") for each in self.passes)

    def _deep(self, end: Point) -> float | None:
        """How deep below the stock that stands over its width a plunge ends, mm; on a face not looked up."""
        blade = self.blade
        if blade.where == "face":
            return None
        low = end.z - blade.corner
        outer, inner = self.at(low + TOUCH, low + blade.width - TOUCH)
        bottom = end.r + blade.into.r * blade.corner
        return max(bottom - inner if blade.where == "bore" else outer - bottom, 0.0)

    def part_off(self, line: Line, settings: Set) -> None:
        """Straight in with less feed near the axis; the tool leaves the way it came."""
        pieces = [
            replace(piece, feed=settings.feed * (SLOW_SHARE if _inside(piece) else 1.0))
            for piece in Piece(self._edge(line), line, settings.feed).split_at_contact_r(SLOW_DIAMETER / 2.0)
        ]
        ends = [piece.centre.end for piece in pieces if piece.centre]
        legs = [Leg(end, piece.feed) for end, piece in zip(ends, pieces, strict=True)]
        moves = moves_of(line.start, [*legs, Leg(line.start, None, "rapid", "retract")])
        self._done(_Pass(PART_OFF, line.start, moves, line.start, pieces), settings)

    def chamfer(self, chamfer: Chamfer, settings: Set) -> None:
        """Along a chamfer beside the slot, then straight out."""
        path, feed = chamfer.path, settings.feed
        over = Point(path.end.z, path.start.r)
        moves = moves_of(path.start, [Leg(path.end, feed), Leg(over, None, "rapid", "retract")])
        pieces = [Piece(chamfer.cut, path, feed)]
        self._done(_Pass(chamfer.name, path.start, moves, over, pieces, full=False), settings)

    def wall(self, pieces: Sequence[Piece], settings: Set) -> None:
        """Along a wall and the bottom, then straight out."""
        paths = [piece.centre for piece in pieces if piece.centre]
        blade, first, last = self.blade, paths[0].start, paths[-1].end
        over = blade.place(blade.along(last), self.out)
        above, down = self._coming(Line(blade.place(blade.along(first), self.out), first), settings.feed)
        moves = moves_of(above, [*down, Leg(first, settings.feed)])
        into = Line(down[-1].end if down else above, first)
        pieces = [*self._sideways(down, settings), Piece(self._edge(into), into, settings.feed), *pieces]
        cut = Move(tuple(paths), settings.feed)
        off = moves_of(last, [Leg(over, None, "rapid", "retract")])
        number = sum(each.name.startswith("wall") for each in self.passes) + 1
        planned = _Pass(Phrase("wall {number}", number=number), above, (*moves, cut, *off), over, pieces, full=False)
        self._done(planned, settings)

    def _edge(self, line: Line) -> Line:
        """What the middle of the edge touches along a plunge."""
        into = self.blade.into.times(self.blade.corner)
        return line.shifted(into.z, into.r)

    def _done(self, one: _Pass, settings: Set, dwell: float = 0.0) -> None:
        """Lead to where a pass begins and home from where it ends, and take it off the stock."""
        blade = self.blade
        home = self._home(blade.out(one.above))
        height = blade.out(home)
        there = blade.place(blade.along(one.above), height)
        back = blade.place(blade.along(one.over), height)
        into = moves_of(home, [Leg(there, None, "rapid", "approach"), Leg(one.above, None, "rapid", "approach")])
        out = moves_of(one.over, [Leg(back, None, "rapid", "return"), Leg(home, None, "rapid", "return")])
        led_by = self.asked, self.taking.outline, blade.where
        led = ToolPass(one.name, (*led_in(*led_by, into, self.stock), *one.moves, *led_out(*led_by, out, self.stock)))
        removal = self.taking.take(self.stock, led)
        deep = _depth(removal, one.moves) if one.deep is None else one.deep
        removal = replace(removal, depth=deep if removal.area > 0.0 else 0.0)
        self.stock = removal.stock
        row = pass_row(one.name, one.pieces, Referral(), Spindle(settings.speed, self.asked.max_rpm), removal.depth)
        row = replace(row, time=row.time + dwell)
        force, power = (settings.load.force.force, settings.load.power) if one.full else (None, None)
        self.removals.append(removal)
        self.passes.append(PassDone(one.name, led, removal.volume, row, force, power, outline=self.taking.outline))


def _inside(piece: Piece) -> bool:
    contact = piece.contact
    return not isinstance(contact, Point) and abs(contact.point_at(contact.length / 2.0).r) < SLOW_DIAMETER / 2.0


def _depth(removal: Removal, moves: Sequence[Move]) -> float:
    """How deep in its direction a pass has cut, mm."""
    cut = sum(move.length for move in moves if move.why == "cut" and len(move.elements) == 1)
    return max(cut - LEAD, 0.0) if removal.area > 0.0 else 0.0
