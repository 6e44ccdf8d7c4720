"""Threads turned in passes, knurls, and stops to measure: what changes no outline of the stock."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Literal

from calc.answer.feature import Answer
from calc.contour import Chain, Line, Point
from calc.cutting.force import cutting_power
from calc.cutting.machine import limited_rpm
from calc.cutting.speed import spindle_speed, surface_speed
from calc.cutting.time import time_at_limit
from calc.language.messages import Caution, Message, Phrase, Quantity, Value
from calc.language.problems import Fault, OutOfRange
from calc.language.quantities import DIAMETER, LENGTH
from calc.language.working import Step
from calc.machining.job import Contour, Move, ToolPass, Why
from calc.machining.reach.tool import SHANK_LENGTH
from calc.machining.removal.stock import Stock
from calc.machining.removal.sweep import Outline
from calc.machining.straight_in import SHARP, Leg, moves_of
from calc.questions.operations.knurl import FEATURE as KNURL
from calc.questions.operations.knurl import KnurlInputs, KnurlResults
from calc.questions.part.asked import Asked, reported, speed_cautions
from calc.questions.part.done import OperationDone, PassDone
from calc.questions.part.job import Roll, Threading
from calc.questions.part.led_round import led_in, led_out
from calc.questions.part.rows import SetTo, straight_row
from calc.questions.threads.passes_fields import (
    InfeedInputs,
    PassRow,
    SpeedInputs,
    ThreadPassesInputs,
    ThreadPassesResults,
)
from calc.questions.threads.thread_passes import FEATURE as PASSES
from calc.threads.thread import Thread, thread_of

Size = Literal["outside", "bore"]
CLEAR = 1.0
"""mm: a threading tool goes back so far off the crests (common practice, no source)."""

FLANKS = 1.5
"""Pitches: so far up a threading tool has its flanks, its body begins there (common practice, no source)."""

BESIDE = 0.01
"""mm: stock that stands no more than this beyond the crests is no shoulder."""

OFF_SIZE = 0.02
"""mm on the diameter: a blank for a knurl that is farther off is named (common practice, no source)."""
AT_ENDS = 0.1
"""Share of a knurl at either end where the blank is not looked at (common practice, no source)."""


def threaded(asked: Asked) -> OperationDone:
    """A thread in passes, as by itself; the stock stays at its crests, the thread is named. Raises `Problem`."""
    thread = _thread_of(asked)
    stretch = asked.stretch("outside" if thread.sizes.outside else "bore")
    front = stretch.chain.bounds.z_max
    length = asked.operation.depth or front - _end_of_crests(stretch.chain, outside=thread.sizes.outside)
    answer, steps = _passes_alone(asked, thread, front, length)
    led = _Led(asked, thread, answer.results, front, length)
    rows: Sequence[PassRow] = answer.tables["passes"]
    text = "{thread}: the stock stands at the crests, {depth} of thread is left in it; the flanks are not swept."
    depth = Quantity(answer.results.shared.thread_depth, LENGTH)
    values: dict[str, Value] = {"thread": thread.named.text, "depth": depth}
    return reported(
        asked,
        [],
        led.round([led.done(row, start) for row in rows for start in range(thread.named.starts)]),
        cautions=(*_not_turned_yet(asked, thread, (front - length - answer.results.run_out, front)), *answer.cautions),
        notes=(Message(text, values), *answer.notes),
        steps=steps,
    )


def _end_of_crests(chain: Chain, *, outside: bool) -> float:
    """The z (mm) to which a thread on these rows is full: where their relief goes into the work, else their end."""
    ends = ((e.start, e.end) if e.start.z > e.end.z else (e.end, e.start) for e in chain)
    into = -1.0 if outside else 1.0
    return max(
        (front.z for front, back in ends if front.z > back.z and into * (back.r - front.r) > BESIDE),
        default=chain.bounds.z_min,
    )


def _tool_of(asked: Asked) -> Threading:
    """The threading tool. Raises `OutOfRange` for another."""
    tool = asked.operation.tool
    if not isinstance(tool, Threading):
        raise OutOfRange(Fault("tool", Message("Threading needs the thread: give its designation.")))
    return tool


def _thread_of(asked: Asked) -> Thread:
    """The thread that is asked for, outside or inside as it is said. Raises `Problem`."""
    given = asked.operation.where
    where = "" if given is None else ("inside" if given == "bore" else "outside")
    return thread_of(_tool_of(asked).designation, where)


def _passes_alone(
    asked: Asked, thread: Thread, front: float, length: float
) -> tuple[Answer[ThreadPassesResults], list[Step]]:
    """What the thread by itself answers, from its front (z, mm) over a length (mm)."""
    tool = _tool_of(asked)
    return PASSES.answer(
        ThreadPassesInputs(
            designation=tool.designation,
            where="outside" if thread.sizes.outside else "inside",
            length=length,
            relief=_room(asked, thread, front - length),
            infeed=InfeedInputs(
                pass_count=tool.pass_count, spring_passes=tool.spring_passes, nose_radius=tool.nose_radius
            ),
            speed=SpeedInputs(material=asked.job.material, surface_speed=asked.operation.cut.surface_speed),
            machine=asked.job.machine,
        )
    )


def _room(asked: Asked, thread: Thread, end: float) -> float | None:
    """The room (mm) behind the thread's `end` (z) up to where the print stands beyond its crests; None: nowhere."""
    behind = _beyond_crests(asked.finished, thread, (asked.finished.bounds[0] - 1.0, end - BESIDE))
    return max(end - max(behind), BESIDE) if behind else None


def _beyond_crests(stock: Stock, thread: Thread, between: tuple[float, float]) -> list[float]:
    """The foremost z of each part of a stock that stands beyond a thread's crests between two z, mm."""
    import shapely  # noqa: PLC0415 - loaded on first use

    crest = _crest(thread)
    low, high = (crest + BESIDE, stock.bounds[3] + 1.0) if thread.sizes.outside else (-1.0, crest - BESIDE)
    if high <= low:
        return []
    return [float(part.bounds[2]) for part in stock.common(shapely.box(between[0], low, between[1], high))]


def _not_turned_yet(asked: Asked, thread: Thread, between: tuple[float, float]) -> Iterator[Caution]:
    """Whether stock stands beyond the crests where the thread or its run-out goes, from one z to another (mm)."""
    if _beyond_crests(asked.before, thread, (between[0] + BESIDE, between[1])):
        text = "Stock stands beyond the crests where {thread} or its run-out goes: turn it to size first."
        yield Caution(Message(text, {"thread": thread.named.text}), 3, "from")


def _crest(thread: Thread) -> float:
    """The radius of the crests, mm: the major one outside, the minor one inside."""
    return thread.named.diameter / 2.0 if thread.sizes.outside else thread.sizes.basic.minor / 2.0


def threading_outline(thread: Thread, height: float) -> Outline:
    """A threading tool about its tip, its body as high as `height` (mm); its flanks as those of 60 degrees.

    >>> round(max(corner.r for corner in threading_outline(thread_of("M24x2-6g"), 40.0).core), 3)
    40.0
    """
    deep = FLANKS * thread.named.pitch
    wide, out = deep * math.tan(math.radians(30.0)), 1.0 if thread.sizes.outside else -1.0
    corners = [(0.0, SHARP), (wide, deep), (wide, height), (-wide, height), (-wide, deep)]
    core = tuple(Point(z, out * r) for z, r in corners)
    return Outline(core if thread.sizes.outside else core[::-1], SHARP)


class _Led:
    """Leads a threading tool: in front of the thread to depth, along it in step with the spindle, off and back."""

    def __init__(self, asked: Asked, thread: Thread, found: ThreadPassesResults, front: float, length: float) -> None:
        self.thread, self.found, self.front, self.length = thread, found, front, length
        out = CLEAR if thread.sizes.outside else -CLEAR
        at = asked.before.bounds[3] if thread.sizes.outside and asked.before.bounds[2] > front + BESIDE else None
        self.clear = max(_crest(thread) + out if at is None else at + out, 0.0)
        self.asked = asked
        self.is_watched = asked.around is not None or asked.setup.turning_at is not None
        height = SHANK_LENGTH if thread.sizes.outside else max(self.clear, FLANKS * thread.named.pitch)
        self.outline = threading_outline(thread, height)

    def round(self, passes: list[PassDone]) -> list[PassDone]:
        """The passes, the first from where the tool waits and the last back there, round what stands around."""
        if self.asked.around is None:
            return passes
        stock, outside = self.asked.before, self.thread.sizes.outside
        begin, end = passes[0].tool_pass.moves[0].elements[0].start, passes[-1].tool_pass.moves[-1].elements[-1].end
        home = Point(stock.bounds[2] + self.found.run_up, stock.bounds[3] + CLEAR if outside else self.clear)
        where: Size = "outside" if outside else "bore"
        there = moves_of(home, [_rapid(Point(begin.z, home.r), "approach"), _rapid(begin, "approach")])
        back = moves_of(end, [_rapid(Point(end.z, home.r), "return"), _rapid(home, "return")])
        into = led_in(self.asked, self.outline, where, there, stock)
        out = led_out(self.asked, self.outline, where, back, stock)
        first, *rest = passes
        passes = [replace(first, tool_pass=replace(first.tool_pass, moves=(*into, *first.tool_pass.moves))), *rest]
        last = passes[-1]
        return [*passes[:-1], replace(last, tool_pass=replace(last.tool_pass, moves=(*last.tool_pass.moves, *out)))]

    def done(self, row: PassRow, start: int) -> PassDone:
        """One pass of one start: its moves at the tip, its row, its force and power."""
        found, lead = self.found, self.thread.lead
        z = self.front + found.run_up + start * self.thread.named.pitch
        if row.shift is not None:
            z -= row.shift
        end = self.front - self.length - found.run_out
        tip, clear = Line(self._at(row, z), self._at(row, end)), self.clear
        text = "pass {number}, start {start}" if self.thread.named.starts > 1 else "pass {number}"
        name = Phrase(text, number=round(row.number), start=start + 1)
        begin = Point(z, clear)
        legs = [
            Leg(tip.start, None, "rapid", "approach"),
            Leg(tip.end, lead),
            Leg(Point(end, clear), None, "rapid", "retract"),
            Leg(begin, None, "rapid", "return"),
        ]
        diameter = self.thread.named.diameter
        speed = surface_speed.function(diameter, found.rpm)
        time = time_at_limit.function(tip.length, lead, found.rpm)
        made = straight_row(name, tip, SetTo(lead, speed, found.rpm), row.infeed, time, air=tip.length - self.length)
        power = cutting_power.function(row.force, speed)
        led = ToolPass(name, moves_of(begin, legs))
        return PassDone(name, led, 0.0, made, row.force, power, outline=self.outline if self.is_watched else None)

    def _at(self, row: PassRow, z: float) -> Point:
        """The tip at a z: on a cylinder, or on a taper from the face to the end of the thread."""
        grows = 0.0 if row.end_diameter is None else (row.end_diameter - row.diameter) / self.length
        return Point(z, (row.diameter + grows * (self.front - z)) / 2.0)


def _rapid(there: Point, why: Why) -> Leg:
    return Leg(there, None, "rapid", why)


def knurled(asked: Asked) -> OperationDone:
    """A knurl rolled along its rows: the blank to turn, the diameter that comes out, the time. Raises `Problem`."""
    tool, cut = asked.operation.tool, asked.operation.cut
    if not isinstance(tool, Roll):
        raise OutOfRange(Fault("tool", Message("A knurl needs its pitch and form.")))
    speed, feed = asked.needed("surface_speed", cut.surface_speed), asked.needed("feed", cut.feed)
    stretch = asked.stretch("outside")
    diameter = 2.0 * stretch.chain.bounds.r_max if tool.over is None else tool.over
    answer, steps = KNURL.answer(KnurlInputs(diameter=diameter, pitch=tool.pitch, form=tool.form))
    found = answer.results
    rpm = limited_rpm(spindle_speed.function(speed, found.diameter_before), asked.job.machine)
    text = "The knurl raises {before} to {after} over its crests and takes nothing off: the stock stands at the blank."
    values: dict[str, Value] = {
        "before": Quantity(found.diameter_before, DIAMETER),
        "after": Quantity(found.diameter_after, DIAMETER),
    }
    return reported(
        asked,
        [],
        [_rolled(stretch, found, feed, rpm)],
        cautions=(
            *_off_size(asked, stretch, found.diameter_before),
            *answer.cautions,
            *speed_cautions(asked, rpm),
        ),
        notes=(Message(text, values), *answer.notes),
        steps=steps,
    )


def _rolled(stretch: Contour, found: KnurlResults, feed: float, rpm: float) -> PassDone:
    """The pass of the rolls along a stretch at a feed (mm/rev) and a spindle speed (1/min)."""
    bounds, r = stretch.chain.bounds, found.diameter_before / 2.0
    line = Line(Point(bounds.z_max, r), Point(bounds.z_min, r))
    off = Line(line.end, Point(bounds.z_min, found.diameter_after / 2.0 + CLEAR))
    speed = surface_speed.function(found.diameter_before, rpm)
    row = straight_row("knurl", line, SetTo(feed, speed, rpm), 0.0, time_at_limit.function(line.length, feed, rpm))
    led = ToolPass("knurl", (Move((line,), feed), Move((off,), None, "rapid", "retract")))
    return PassDone("knurl", led, 0.0, row)


def _off_size(asked: Asked, stretch: Contour, blank: float) -> Iterator[Caution]:
    """Whether the stock stands at the blank where the knurl comes; at its ends noses leave some."""
    bounds = stretch.chain.bounds
    ends = AT_ENDS * (bounds.z_max - bounds.z_min)
    found = asked.before.radii(bounds.z_min + ends, bounds.z_max - ends)
    there = 0.0 if found is None else 2.0 * found[1]
    if abs(there - blank) > OFF_SIZE:
        values = {"there": Quantity(there, DIAMETER), "blank": Quantity(blank, DIAMETER)}
        text = "The stock stands at {there} where the knurl needs a blank of {blank}: turn it to that first."
        yield Caution(Message(text, {**values}), 3, "from")


def measured(asked: Asked) -> OperationDone:
    """A stop to measure: nothing is cut; the diameters of its rows are named."""
    side: Size = "bore" if asked.operation.where == "bore" else "outside"
    stretch = asked.stretch(side)
    level = [each for each in stretch.chain if isinstance(each, Line) and abs(each.start.r - each.end.r) < BESIDE]
    diameters = dict.fromkeys(round(2.0 * each.start.r, 6) for each in level)
    notes = [Message("Stop, clean and measure before the next operation.")]
    notes += [Message("Nominal: {size}.", {"size": Quantity(each, DIAMETER)}) for each in diameters if each > 0.0]
    return replace(reported(asked, [], [], notes=notes), time=0.0)
