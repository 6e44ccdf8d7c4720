"""A part played step by step: the stock before and after each pass, the tool, its moves, the numbers there."""

from __future__ import annotations

import math
from collections.abc import Iterator

from calc.answer.drawing import Picture
from calc.contour import Chain, Point
from calc.language.messages import Listed, Message, Phrase, Quantity, Value
from calc.language.quantities import FEED, LENGTH, SPINDLE_SPEED, SURFACE_SPEED, TIME, VOLUME
from calc.machining.pictures import insert_of, rings_of
from calc.machining.removal.stock import Stock
from calc.machining.removal.sweep import Outline
from calc.machining.straight_in import drill_outline
from calc.questions.part.done import OperationDone, PartDone, PassDone
from calc.questions.part.job import CentreDrill, Counterbore, Countersink, Drill, Reamer, Turning
from calc.questions.part.mouths import mouth_outline
from calc.tool.point import STEPS

MOST_STEPS = 60
"""With more passes than this a step is a whole operation."""


def played(done: PartDone, max_rpm: float | None) -> tuple[Picture, ...]:
    """The stock, then a step for each pass (for each operation where they are many), in order.

    `max_rpm` (1/min) is the spindle's limit, shown beside every speed.
    """
    first = done.to_run[0][1]
    label = "what stands" if done.is_restart else "the stock"
    start = Picture(label, rings_of(first.before.whole), first.contours[0].chain, also=_others(first))
    many = sum(len(each.passes) for _, each in done.to_run) > MOST_STEPS
    steps = [step for number, one in done.to_run for step in _steps(number, one, max_rpm, many=many)]
    return (start, *steps)


def _others(one: OperationDone) -> tuple[Chain, ...]:
    return tuple(each.chain for each in one.contours[1:])


def _steps(number: int, one: OperationDone, max_rpm: float | None, *, many: bool) -> Iterator[Picture]:
    """The steps of one operation, of which the first opens its chapter."""
    if many or not one.passes:
        yield _picture(
            Phrase("{number} {name}", number=number, name=one.name), one, one.before, one.after, one.passes, _whole(one)
        )
        return
    before = one.before
    for index, each in enumerate(one.passes):
        last = index == len(one.passes) - 1
        after = one.after if last else each.stock or before
        label = Phrase("{number} {name}", number=number, name=one.name if index == 0 else each.name)
        step = _picture(label, one, before, after, (each,), _of_pass(one, each, max_rpm), chapter=index == 0)
        yield step
        before = after


def _picture(
    label: str,
    one: OperationDone,
    before: Stock,
    after: Stock,
    passes: tuple[PassDone, ...],
    note: Message,
    *,
    chapter: bool = True,
) -> Picture:
    outline = outline_of(one)
    moves = [move for each in passes for move in each.tool_pass.moves]
    return Picture(
        label,
        rings_of(after.whole),
        one.contours[0].chain,
        tuple(Chain(move.elements) for move in moves if move.kind == "feed"),
        insert_of(outline) if outline else (),
        outline.holders if outline else (),
        note=note,
        also=_others(one),
        before=rings_of(before.whole),
        rapid=tuple(Chain(move.elements) for move in moves if move.kind == "rapid"),
        chapter=chapter,
    )


def outline_of(one: OperationDone) -> Outline | None:
    """The tool's outline about its nose centre or tip; None for tools that are not drawn."""
    tool = one.operation.tool
    if isinstance(tool, Turning):
        return tool.tool.outline
    if isinstance(tool, Drill):
        return drill_outline(tool.diameter, tool.point)
    if isinstance(tool, CentreDrill | Counterbore | Countersink):
        return mouth_outline(tool)
    return drill_outline(tool.diameter, math.pi) if isinstance(tool, Reamer) else None


def _whole(one: OperationDone) -> Message:
    values: dict[str, Value] = {
        "count": len(one.passes),
        "volume": Quantity(one.before.volume - one.after.volume, VOLUME),
    }
    if one.time is None:
        return Message("passes: {count}, taken: {volume}", values)
    return Message("passes: {count}, taken: {volume} in {time}", {**values, "time": Quantity(one.time, TIME)})


def _of_pass(one: OperationDone, each: PassDone, max_rpm: float | None) -> Message:
    """Where the pass goes, how deep, how fast, with the spindle's limit beside the speed."""
    parts = list[Message]()
    cut = [move for move in each.tool_pass.moves if move.why == "cut"]
    if cut:
        start, end = _point(one, cut[0].elements[0].start), _point(one, cut[-1].elements[-1].end)
        parts.append(Message("tool point {start} to {end}", {"start": start, "end": end}))
    row, how = each.row, one.operation.cut
    if row is not None:
        parts.append(Message("depth {depth}", {"depth": Quantity(row.depth, LENGTH)}))
    if how.surface_speed is not None:
        parts.append(Message("speed {speed}", {"speed": Quantity(how.surface_speed, SURFACE_SPEED)}))
    if how.feed is not None:
        parts.append(Message("feed {feed}", {"feed": Quantity(how.feed, FEED)}))
    speeds = [] if row is None else [speed for speed in (row.rpm_start, row.rpm_end) if speed is not None]
    if speeds:
        values: dict[str, Value] = {
            "slow": Quantity(min(speeds), SPINDLE_SPEED),
            "fast": Quantity(max(speeds), SPINDLE_SPEED),
        }
        text = "spindle {slow}" if max(speeds) - min(speeds) < 1.0 else "spindle {slow} to {fast}"
        if max_rpm is not None:
            values["limit"] = Quantity(max_rpm, SPINDLE_SPEED)
            text = (
                "spindle {slow} (limit {limit})" if "{fast}" not in text else "spindle {slow} to {fast} (limit {limit})"
            )
        parts.append(Message(text, values))
    if row is not None:
        parts.append(Message("{time}", {"time": Quantity(row.time, TIME)}))
    return Message("{parts}", {"parts": Listed(tuple(parts), "; ", "; ")}) if parts else Message("")


def _point(one: OperationDone, centre: Point) -> Point:
    """The tool point where the nose centre stands."""
    tool = one.operation.tool
    return centre.moved(STEPS[tool.tool.point].times(tool.tool.nose)) if isinstance(tool, Turning) else centre
