"""Rapid moves of blades and threading tools round what stands around the work; a drill is on the axis all the time."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from calc.machining.job import Move, Where
from calc.machining.removal.stock import Stock
from calc.machining.removal.sweep import Outline
from calc.machining.roughing.planning import Leading
from calc.machining.routing import Air, Router
from calc.questions.part.asked import Asked


def led_in(asked: Asked, outline: Outline, where: Where, straight: Sequence[Move], stock: Stock) -> tuple[Move, ...]:
    """Rapid moves from where the tool waits to where it begins: `straight`, or round what stands in their way.

    Where no path is left they stay as they are, so that what they run into is named.
    """
    path = [element for move in straight for element in move.elements]
    if asked.around is None or not path:
        return tuple(straight)
    air = Air(stock, outline, asked.around)
    if all(air.clear_around(element) for element in path):
        return tuple(straight)
    router = Router(path[0].start, where, Leading(outline.nose), outline, stock, asked.around)
    return tuple(router.path_to(path[-1].end, stock) or straight)


def led_out(asked: Asked, outline: Outline, where: Where, straight: Sequence[Move], stock: Stock) -> tuple[Move, ...]:
    """The same back to where the tool waits."""
    found = led_in(asked, outline, where, [_back(move) for move in reversed(straight)], stock)
    return tuple(replace(_back(move), why="return") for move in reversed(found))


def _back(move: Move) -> Move:
    return replace(move, elements=tuple(element.reversed() for element in reversed(move.elements)))
