"""A whole part as plain words of ISO 6983, operation by operation: a text to compare with, not a program to run."""

from __future__ import annotations

import re
from collections.abc import Iterator

from calc.contour import Vector
from calc.language.quantities import LENGTH, SPINDLE_SPEED, SURFACE_SPEED, View
from calc.machining.pass_words import PassWords
from calc.machining.straight_in import ACROSS, INTO
from calc.machining.words import comment, feed_digits
from calc.questions.part.bladed import corner_of
from calc.questions.part.done import AT_ONE_SPEED, OperationDone, PartDone
from calc.questions.part.job import (
    AnyTool,
    CentreDrill,
    Counterbore,
    Countersink,
    Drill,
    Grooving,
    Reamer,
    Roll,
    Turning,
)
from calc.questions.part.restart import restart_notes
from calc.questions.part.turret import name_on_axis, place_of, places_of, tools_of
from calc.tool.point import STEPS


def part_words(done: PartDone, view: View, max_rpm: float | None) -> str:
    """The text: what it is, the tools in the order of their use, then each operation with its speed words and moves.

    `max_rpm` (1/min) is the spindle's limit. Of an operation that hits something no moves are written. Source: ISO
    6983-1.
    """
    return "\n".join([*_heading(view), *_table(done, view), *_operations(done, view, max_rpm)])


def _heading(view: View) -> Iterator[str]:
    units = "g21, mm" if view.units == "mm" else "g20, inch"
    x = "diameter" if view.x == "diameter" else "radius"
    yield "(a whole part to compare with, not a program to run: no coolant, no safe tool change)"
    yield f"(tool points; {units}, x as {x}, i as radius, +z away from the chuck, g95: feed per revolution)"
    yield "(g92: spindle limit, g96: surface speed, g97: spindle speed; zero is the finished face of the end at work)"


def _table(done: PartDone, view: View) -> Iterator[str]:
    for number, (tool, _) in enumerate(tools_of(done), 1):
        yield f"(t{number}: {tool_name(tool, view)})"


def tool_name(tool: AnyTool, view: View) -> str:
    """What a tool is called for a reader with `view`: its designations, else what it is with its size.

    >>> tool_name(Drill(12.0), View())
    'twist drill 12 mm'
    """
    if isinstance(tool, Turning):
        return ", ".join(each for each in (tool.insert, tool.holder) if each) or f"nose {_say(tool.tool.nose, view)}"
    if isinstance(tool, CentreDrill):
        return f"centre drill {tool.form} {tool.size}"
    if isinstance(tool, Drill | Reamer | Counterbore | Countersink):
        return f"{name_on_axis(tool)} {_say(tool.diameter, view)}"
    if isinstance(tool, Grooving):
        return f"blade {_say(tool.width, view)} wide"
    if isinstance(tool, Roll):
        return f"knurling rolls {_say(tool.pitch, view)}, {tool.form}"
    return f"for {tool.designation}"


def _say(length: float, view: View) -> str:
    return LENGTH.say(length, view, brief=True)


def _operations(done: PartDone, view: View, max_rpm: float | None) -> Iterator[str]:
    places, end = places_of(done), done.to_run[0][1].end if done.is_restart else "first"
    for note in restart_notes(done):
        yield comment(note.say(view))
    for number, each in done.to_run:
        if each.end != end:
            end = each.end
            yield "m0"
            yield f"(turn the part round: {end} end)"
        yield comment(f"operation {number}: {each.name}")
        if each.operation.tool is None:
            yield "m0"
            yield from (comment(note.say(view)) for note in each.notes)
            continue
        yield place_of(each, places)
        yield from _speed(each, view, max_rpm)
        yield from _moves(each, view)


def _speed(one: OperationDone, view: View, max_rpm: float | None) -> Iterator[str]:
    row = one.first_row
    if row is None:
        return
    if one.operation.kind in AT_ONE_SPEED:
        if one.fixed_speed is not None:
            yield f"G97 S{SPINDLE_SPEED.unit(view).shown(one.fixed_speed):.0f}"
        return
    if max_rpm is not None:
        yield f"G92 S{SPINDLE_SPEED.unit(view).shown(max_rpm):.0f}"
    yield f"G96 S{SURFACE_SPEED.unit(view).shown(row.surface_speed):.0f}"


def _moves(one: OperationDone, view: View) -> Iterator[str]:
    if one.hits:
        yield "(no moves: this operation hits something, see its cautions)"
        return
    lines = PassWords(view, _to_point(one)).moves(each.tool_pass for each in one.passes)
    if one.operation.kind == "thread":
        lead = next((feed_digits(move.feed, view) for move in one.moves if move.feed is not None), "")
        lines = (_led(line, lead) for line in lines)
    yield from lines


def _led(line: str, lead: str) -> str:
    """A line of a thread: the tool goes along in step with the spindle."""
    return f"G33 {re.sub(' F.*', '', line[3:])} K{lead}" if line.startswith("G1 ") else line


def _to_point(one: OperationDone) -> Vector:
    """From what the moves are the path of to the point that is touched off."""
    tool, where = one.operation.tool, one.operation.where or "outside"
    if isinstance(tool, Turning):
        return STEPS[tool.tool.point].times(tool.tool.nose)
    if isinstance(tool, Grooving):
        into, across = INTO[where], ACROSS[where]
        return Vector(into.z - across.z, into.r - across.r).times(corner_of(tool))
    return Vector(0.0, 0.0)
