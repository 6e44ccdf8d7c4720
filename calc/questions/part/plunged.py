"""Grooves and parting off: a blade that is fed straight in, and along walls and bottom to finish."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from calc.answer.feature import Answer
from calc.contour import Chain, Line, Point
from calc.cutting.machine import Work
from calc.cutting.plunging import Plunge, PlungeLoad, dwell_time, load_of_plunge
from calc.cutting.speed import spindle_at
from calc.language.messages import Caution, Message, Quantity
from calc.language.problems import Fault, Impossible, Missing, OutOfRange
from calc.language.quantities import LENGTH
from calc.language.working import Step
from calc.machining.blades import Blade, dips, forbidden, plunge_lines, walls
from calc.machining.job import Contour, Move, ToolPass, Where
from calc.machining.passes import Piece, Referral, Spindle, pass_row
from calc.machining.removal.judging import Place
from calc.machining.removal.taking import Removal
from calc.machining.roughing.planning import in_cutting_direction
from calc.machining.straight_in import Leg, blade_outline, moves_of
from calc.questions.operations.face_groove import FEATURE as FACE_GROOVE
from calc.questions.operations.face_groove import FaceGrooveInputs, FaceGrooveResults
from calc.questions.operations.grooving_cut import ENOUGH_TURNS, GroovingInputs, GroovingResults
from calc.questions.operations.grooving_cut import FEATURE as GROOVING
from calc.questions.operations.parting import FEATURE as PARTING
from calc.questions.operations.parting import SLOW_DIAMETER, SLOW_SHARE, PartingInputs, PartingResults, at_the_outside
from calc.questions.part.asked import Asked, cut_too_deep, left_on, reported
from calc.questions.part.done import OperationDone, PassDone
from calc.questions.part.job import Grooving

USUAL_CORNER = 0.2
"""mm: the corner radius of a blade of which nothing is known (common practice, no source)."""

SHARPEST = 1e-3
"""mm: no corner is taken for sharper."""

LEAD = 0.5
"""mm: a blade is fed from so far off the surface (common practice, no source)."""

HOME = 2.0
"""mm: rapid moves along a surface keep so far off it."""

PART_OFF = "part off"

PAST = 0.2
"""mm: parting off goes so far beyond the axis, or into the bore (common practice, no source)."""


@dataclass(frozen=True)
class Set:
    """How a blade is set: feed (mm/rev), surface speed (mm/min), its load, and what is said about it."""

    feed: float
    speed: float
    load: PlungeLoad
    cautions: tuple[Caution, ...] = ()
    notes: tuple[Message, ...] = ()
    steps: tuple[Step, ...] = ()


def grooved(asked: Asked) -> OperationDone:
    """Grooves: plunges side by side down to the allowances, then walls and bottom if any. Raises `Problem`."""
    where: Where = asked.operation.where or "outside"
    blade = _blade(asked, where)
    run = _Run(asked, blade)
    found: list[Place] = []
    settings: Set | None = None
    for stretch in _grooves(asked, where):
        settings = _groove(run, stretch, settings)
    assert settings is not None, "there is a groove, or it was refused"
    for stretch in _grooves(asked, where):
        left = left_on(stretch, asked.before, run.stock, blade.corner)
        found += [left] if left else []
    return reported(
        asked,
        run.removals,
        run.passes,
        left=max(found, key=lambda place: place.depth, default=None),
        too_deep=cut_too_deep(
            asked, asked.seen(asked.job.contour("bore" if where == "bore" else "outside")), run.stock
        ),
        cautions=(*settings.cautions, *_reach_caution(asked, run)),
        notes=settings.notes,
        steps=settings.steps,
    )


def _blade(asked: Asked, where: Where) -> Blade:
    tool = asked.operation.tool
    if not isinstance(tool, Grooving):
        raise OutOfRange(Fault("tool", Message("This kind of operation needs an insert of a width: give it.")))
    return Blade(tool.width, corner_of(tool), where)


def corner_of(tool: Grooving) -> float:
    """The corner radius (mm) of a blade, the usual one where none is given, never none at all.

    >>> corner_of(Grooving(3.0)), corner_of(Grooving(3.0, 0.0))
    (0.2, 0.001)
    """
    corner = USUAL_CORNER if tool.corner is None else max(tool.corner, SHARPEST)
    return min(corner, tool.width / 2.0 - SHARPEST)


def _grooves(asked: Asked, where: Where) -> list[Contour]:
    """The grooves that are worked on: the rows that are given, else each of the contour's. Raises `Impossible`."""
    side: Where = "bore" if where == "bore" else "outside"
    stretch = asked.stretch(side)
    if asked.operation.first is not None or asked.operation.last is not None:
        return [stretch]
    found = [
        replace(stretch, chain=Chain(stretch.chain.elements[first : last + 1]))
        for first, last in dips(stretch.chain, where)
    ]
    if not found:
        raise Impossible(Fault("from", Message("This contour has no groove there: name the rows.")))
    return found


def _groove(run: _Run, stretch: Contour, settings: Set | None) -> Set:
    asked, blade = run.asked, run.blade
    cut, whole = asked.operation.cut, asked.seen(asked.job.contour("bore" if blade.where == "bore" else "outside"))
    chain, side = in_cutting_direction(whole.chain, whole.side, "bore" if blade.where == "bore" else "outside")
    reach = max(abs(each) for each in (*asked.before.bounds, *chain.bounds))
    ground = forbidden(blade, Contour(chain, side), cut.along_z, cut.along_x, reach)
    rests = (cut.along_x, cut.along_x) if blade.where == "face" else (cut.along_z, cut.along_z)
    run.out = run.start(stretch.chain)
    lines = plunge_lines(blade, stretch.chain, rests, run.out, ground)
    settings = settings or _settings(run, stretch.chain, lines)
    for line in lines:
        run.plunge(line, settings)
    if cut.along_x or cut.along_z or _not_square(stretch.chain):
        for pieces in walls(blade, whole, stretch.chain, settings.feed):
            run.wall(pieces, settings)
    return settings


def _not_square(chain: Chain) -> bool:
    """Whether a stretch has an element that plunges leave steps beside: a slope or an arc."""
    return any(
        not isinstance(each, Line) or 0.0 not in (abs(each.direction.z), abs(each.direction.r)) for each in chain
    )


def _settings(run: _Run, chain: Chain, lines: Sequence[Line]) -> Set:
    """Feed, speed and load of the deepest plunge, as the cut of a groove by itself has them."""
    asked, blade = run.asked, run.blade
    cut = asked.operation.cut
    low, high = chain.bounds.z_min, chain.bounds.z_max
    if blade.where == "face":
        return _on_face(asked, blade, chain)
    start, bottom = 2.0 * run.surface(chain), 2.0 * _deepest(blade, lines)
    answer, steps = GROOVING.answer(
        GroovingInputs(
            material=asked.material,
            start_diameter=start,
            bottom_diameter=bottom,
            groove_width=high - low,
            insert_width=blade.width,
            feed=cut.feed,
            surface_speed=cut.surface_speed,
            machine=asked.job.machine,
            work=_held(asked, asked.before.bounds[3]),
        )
    )
    return _set(asked, blade, (start, bottom), answer, steps)


def _deepest(blade: Blade, lines: Sequence[Line]) -> float:
    """The radius (mm) to which the edge goes at most."""
    radii = [line.end.r + blade.into.r * blade.corner for line in lines]
    if not radii:
        raise Impossible(Fault("tool.width", Message("The insert reaches nothing of this groove.")))
    return max(radii) if blade.where == "bore" else min(radii)


def _on_face(asked: Asked, blade: Blade, chain: Chain) -> Set:
    """The same on a face, as the groove of a face by itself has them."""
    cut, bounds = asked.operation.cut, chain.bounds
    answer, steps = FACE_GROOVE.answer(
        FaceGrooveInputs(
            material=asked.material,
            groove_outer=2.0 * bounds.r_max,
            groove_inner=2.0 * bounds.r_min,
            face_depth=bounds.z_max - bounds.z_min,
            insert_width=blade.width,
            feed=cut.feed,
            surface_speed=cut.surface_speed,
            machine=asked.job.machine,
            work=_held(asked, asked.before.bounds[3]),
        )
    )
    return _set(asked, blade, (2.0 * bounds.r_max, 2.0 * bounds.r_max), answer, steps)


def _held(asked: Asked, radius: float) -> Work:
    """The work as it is held, of a radius (mm)."""
    return Work(work_diameter=2.0 * radius, length_out=asked.setup.length_out)


def _set(
    asked: Asked,
    blade: Blade,
    between: tuple[float, float],
    answer: Answer[GroovingResults] | Answer[FaceGrooveResults] | Answer[PartingResults],
    steps: Sequence[Step],
) -> Set:
    """What the plunge by itself answered, with its load from the first to the last diameter (mm)."""
    if asked.work is None:
        raise Missing(Fault("part.material", Message("This kind of operation needs the material.")))
    found, (start, end) = answer.results, between
    plunge = Plunge(start, end, blade.width, found.feed, found.surface_speed)
    spindle = spindle_at(start, plunge.speed, asked.max_rpm)
    operation = "part" if asked.operation.kind == "part-off" else "groove"
    load = load_of_plunge(at_the_outside(plunge, spindle), asked.work, operation)
    return Set(found.feed, found.surface_speed, load, answer.cautions, answer.notes, tuple(steps))


def _reach_caution(asked: Asked, run: _Run) -> Iterator[Caution]:
    tool = asked.operation.tool
    deepest = max((removal.depth for removal in run.removals), default=0.0)
    if isinstance(tool, Grooving) and tool.reach is not None and deepest > tool.reach:
        values = {"depth": Quantity(deepest, LENGTH), "reach": Quantity(tool.reach, LENGTH)}
        text = "The groove is {depth} deep, but the insert reaches {reach}: its holder runs into the part. Take a "
        yield Caution(Message(text + "longer one.", values), 3, "tool")


def parted(asked: Asked) -> OperationDone:
    """The part cut off behind its second face, to past the axis or into the bore. Raises `Problem`."""
    blade = _blade(asked, "outside")
    run, cut = _Run(asked, blade), asked.operation.cut
    z = -asked.job.length - cut.along_z - blade.width + blade.corner
    outer, inner = run.at(z - blade.corner, z + blade.width - blade.corner)
    answer, steps = PARTING.answer(
        PartingInputs(
            material=asked.material,
            outer_diameter=2.0 * outer,
            inner_diameter=2.0 * inner,
            insert_width=blade.width,
            feed=cut.feed,
            surface_speed=cut.surface_speed,
            machine=asked.job.machine,
            work=_held(asked, outer),
        )
    )
    settings = _set(asked, blade, (2.0 * outer, 2.0 * inner), answer, steps)
    line = Line(Point(z, outer + LEAD + blade.corner), Point(z, inner - PAST + blade.corner))
    run.part_off(line, settings)
    whole = asked.seen(asked.job.contour("outside"))
    return reported(
        asked,
        run.removals,
        run.passes,
        too_deep=cut_too_deep(asked, whole, run.stock),
        cautions=settings.cautions,
        notes=settings.notes,
        steps=settings.steps,
    )


@dataclass(frozen=True, slots=True)
class _Pass:
    """A pass: its moves from `above` to `over` the stock, and what is touched meanwhile."""

    name: str
    above: Point
    moves: tuple[Move, ...]
    over: Point
    pieces: Sequence[Piece]


class _Run:
    """The passes of a blade one after the other, each on the stock that the one before has left."""

    def __init__(self, asked: Asked, blade: Blade) -> None:
        self.asked, self.blade, self.stock = asked, blade, asked.before
        self.out = 0.0
        self.removals: list[Removal] = []
        self.passes: list[PassDone] = []
        tool = asked.operation.tool
        assert isinstance(tool, Grooving), "a blade is made of one"
        self.taking = asked.taking(blade_outline(blade.width, blade.corner, blade.where, *self._height()))

    def _height(self) -> tuple[float, ...]:
        """In a bore the body is no higher than there is room for on the other side of the axis."""
        if self.blade.where != "bore":
            return ()
        _, inner = self.at(-self.asked.job.length, 0.0)
        return (max(inner, LEAD),)

    def at(self, low: float, high: float) -> tuple[float, float]:
        """The largest and the smallest radius of the stock between two z, mm."""
        import shapely  # noqa: PLC0415 - loaded on first use

        parts = self.stock.common(shapely.box(low, 0.0, high, self.stock.bounds[3] + 1.0))
        if not parts:
            return self.stock.bounds[3], 0.0
        return max(float(each.bounds[3]) for each in parts), max(min(float(each.bounds[1]) for each in parts), 0.0)

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
        legs = [Leg(line.end, settings.feed), Leg(line.start, None, "rapid", "retract")]
        bottom = abs(line.end.r + self.blade.into.r * self.blade.corner)
        rpm = spindle_at(2.0 * bottom, settings.speed, self.asked.max_rpm).rpm
        pieces = [Piece(self._edge(line), line, settings.feed)]
        planned = _Pass(f"plunge {number}", line.start, moves_of(line.start, legs), line.start, pieces)
        self._done(planned, settings, dwell_time.function(1.0, ENOUGH_TURNS, rpm))

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

    def wall(self, pieces: Sequence[Piece], settings: Set) -> None:
        """Along a wall and the bottom, then straight out."""
        paths = [piece.centre for piece in pieces if piece.centre]
        blade, first, last = self.blade, paths[0].start, paths[-1].end
        above, over = blade.place(blade.along(first), self.out), blade.place(blade.along(last), self.out)
        moves = moves_of(above, [Leg(first, settings.feed, "feed", "approach")])
        cut = Move(tuple(paths), settings.feed)
        off = moves_of(last, [Leg(over, None, "rapid", "retract")])
        number = sum(each.name.startswith("wall") for each in self.passes) + 1
        self._done(_Pass(f"wall {number}", above, (*moves, cut, *off), over, pieces), settings)

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
        led = ToolPass(
            one.name,
            (
                *moves_of(home, [Leg(there, None, "rapid", "approach"), Leg(one.above, None, "rapid", "approach")]),
                *one.moves,
                *moves_of(one.over, [Leg(back, None, "rapid", "return"), Leg(home, None, "rapid", "return")]),
            ),
        )
        removal = self.taking.take(self.stock, led)
        removal = replace(removal, depth=_depth(removal, one.moves))
        self.stock = removal.stock
        row = pass_row(one.name, one.pieces, Referral(), Spindle(settings.speed, self.asked.max_rpm), removal.depth)
        row = replace(row, time=row.time + dwell)
        whole = len(one.pieces) == 1 or one.name == PART_OFF
        force, power = (settings.load.force.force, settings.load.power) if whole else (None, None)
        self.removals.append(removal)
        self.passes.append(PassDone(one.name, led, removal.volume, row, force, power, outline=self.taking.outline))


def _inside(piece: Piece) -> bool:
    contact = piece.contact
    return not isinstance(contact, Point) and abs(contact.point_at(contact.length / 2.0).r) < SLOW_DIAMETER / 2.0


def _depth(removal: Removal, moves: Sequence[Move]) -> float:
    """How deep in its direction a pass has cut, mm."""
    cut = sum(move.length for move in moves if move.why == "cut" and len(move.elements) == 1)
    return max(cut - LEAD, 0.0) if removal.area > 0.0 else 0.0
