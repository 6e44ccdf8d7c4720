"""Where lines run, as short straight strokes in a grid, which says quickly whether a line is under some words."""

from __future__ import annotations

import math
import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence

from server.sketch.boxes import Box

Spot = tuple[float, float]
Stroke = tuple[float, float, float, float]

CELL = 24.0
"""Width of a cell of the grid, px: about as high as a text."""

SAGITTA, MOST_CHORDS = 0.25, 4000
"""How far an arc stands off the chords that stand for it, px; and how many they are at most."""

FILLS = ("f", "bf", "lt", "wr")
"""The classes of paths that are filled and have no line."""

_PATH = re.compile(r'<path class="([^"]*)"[^>]* d="([^"]*)"')
_CIRCLE = re.compile(r'<circle[^>]* cx="([^"]+)" cy="([^"]+)" r="([^"]+)"')
_TOKEN = re.compile(r"[A-Za-z]|-?\d*\.?\d+")
_COUNTS = {"M": 2, "L": 2, "H": 1, "V": 1, "A": 7, "Q": 4, "T": 2, "Z": 0}


class Strokes:
    """Strokes that can be asked for those near a rectangle."""

    def __init__(self) -> None:
        self._cells: dict[tuple[int, int], list[Stroke]] = defaultdict(list)

    def add(self, strokes: Iterable[Stroke]) -> None:
        """Note strokes; a long one is cut, so that each lies in few cells."""
        for stroke in strokes:
            for piece in _pieces(stroke):
                self._cells[_cell(piece[0], piece[1])].append(piece)

    def crossing(self, box: Box) -> int:
        """How many pieces of strokes run through the rectangle."""
        return sum(crosses(piece, box) for piece in self._near(box))

    def meets(self, box: Box) -> bool:
        """Whether any stroke runs through the rectangle."""
        return any(crosses(piece, box) for piece in self._near(box))

    def _near(self, box: Box) -> Iterator[Stroke]:
        (left, top), (right, bottom) = _cell(box.left, box.top), _cell(box.right, box.bottom)
        for column in range(left - 1, right + 2):
            for row in range(top - 1, bottom + 2):
                yield from self._cells.get((column, row), ())


def _cell(x: float, y: float) -> tuple[int, int]:
    return math.floor(x / CELL), math.floor(y / CELL)


def _pieces(stroke: Stroke) -> Iterator[Stroke]:
    x1, y1, x2, y2 = stroke
    count = math.ceil(math.hypot(x2 - x1, y2 - y1) / CELL)
    if count <= 1:
        yield stroke
        return
    for index in range(count):
        a, b = index / count, (index + 1) / count
        yield x1 + a * (x2 - x1), y1 + a * (y2 - y1), x1 + b * (x2 - x1), y1 + b * (y2 - y1)


def crosses(stroke: Stroke, box: Box) -> bool:
    """Whether a straight stroke runs through a rectangle: neither beside it nor with all corners on one side.

    >>> crosses((0.0, 0.0, 9.0, 9.0), Box(4.0, 3.0, 6.0, 5.0))
    True
    >>> crosses((0.0, 0.0, 9.0, 9.0), Box(7.0, 3.0, 9.0, 5.0))
    False
    """
    (x1, y1, x2, y2), (left, top, right, bottom) = stroke, box
    if (x1 <= left and x2 <= left) or (x1 >= right and x2 >= right):
        return False
    if (y1 <= top and y2 <= top) or (y1 >= bottom and y2 >= bottom):
        return False
    dx, dy = x2 - x1, y2 - y1
    up, down, back, ahead = dx * (top - y1), dx * (bottom - y1), dy * (left - x1), dy * (right - x1)
    low, high = min(up, down) - max(back, ahead), max(up, down) - min(back, ahead)
    return low < 0.0 < high or (dx == dy == 0.0)


def clipped(strokes: Iterable[Stroke], box: Box) -> Iterator[Stroke]:
    """What of the strokes lies within a rectangle (after Liang and Barsky).

    >>> list(clipped([(0.0, 5.0, 20.0, 5.0)], Box(4.0, 0.0, 9.0, 9.0)))
    [(4.0, 5.0, 9.0, 5.0)]
    """
    left, top, right, bottom = box
    for stroke in strokes:
        x1, y1, x2, y2 = stroke
        if left <= x1 <= right and left <= x2 <= right and top <= y1 <= bottom and top <= y2 <= bottom:
            yield stroke
            continue
        dx, dy = x2 - x1, y2 - y1
        first, last = 0.0, 1.0
        for step, room in ((-dx, x1 - left), (dx, right - x1), (-dy, y1 - top), (dy, bottom - y1)):
            if step < 0.0:
                first = max(first, room / step)
            elif step > 0.0:
                last = min(last, room / step)
            elif room < 0.0:
                last = -1.0
        if first < last:
            yield x1 + first * dx, y1 + first * dy, x1 + last * dx, y1 + last * dy


def strokes_of(data: str) -> Iterator[Stroke]:
    """The strokes of path data; a curve as chords.

    >>> list(strokes_of("M1 2H5v3"))
    [(1.0, 2.0, 5.0, 2.0), (5.0, 2.0, 5.0, 5.0)]
    """
    at = start = control = (0.0, 0.0)
    for command, numbers in _commands(data):
        kind, offset = command.upper(), at if command.islower() else (0.0, 0.0)
        if kind in "QT":
            end = numbers[-2] + offset[0], numbers[-1] + offset[1]
            mirrored = 2.0 * at[0] - control[0], 2.0 * at[1] - control[1]
            control = (numbers[0] + offset[0], numbers[1] + offset[1]) if kind == "Q" else mirrored
            spots = [_between(at, control, end, share) for share in (0.25, 0.5, 0.75, 1.0)]
        else:
            spots = _spots(kind, numbers, at, offset, start)
            control = spots[-1]
        if kind == "M":
            start = spots[0]
        else:
            for a, b in zip([at, *spots], spots, strict=False):
                yield *a, *b
        at = spots[-1]


def _between(a: Spot, control: Spot, b: Spot, share: float) -> Spot:
    """A point of a quadratic curve."""
    left, middle, right = (1.0 - share) ** 2, 2.0 * share * (1.0 - share), share**2
    return left * a[0] + middle * control[0] + right * b[0], left * a[1] + middle * control[1] + right * b[1]


def lines_of(markup: str) -> Iterator[str]:
    """Path data of every line that markup of ours draws; fills without a line are left out.

    >>> list(lines_of('<path class="f" d="M0 0H9"/><path class="o" d="M1 2H5"/>'))
    ['M1 2H5']
    """
    yield from (data for cls, data in _PATH.findall(markup) if cls not in FILLS)
    for x, y, size in (map(float, found) for found in _CIRCLE.findall(markup)):
        yield f"M{x - size} {y}A{size} {size} 0 1 1 {x + size} {y}A{size} {size} 0 1 1 {x - size} {y}"


def _commands(data: str) -> Iterator[tuple[str, Sequence[float]]]:
    tokens, at, command = _TOKEN.findall(data), 0, "M"
    while at < len(tokens):
        if tokens[at].isalpha():
            command, at = tokens[at], at + 1
        count = _COUNTS[command.upper()]
        yield command, [float(token) for token in tokens[at : at + count]]
        at += count
        command = {"M": "L", "m": "l"}.get(command, command)


def _spots(kind: str, numbers: Sequence[float], at: Spot, offset: Spot, start: Spot) -> list[Spot]:
    """Where the pen goes on a straight stroke or an arc."""
    if kind == "Z":
        return [start]
    if kind == "H":
        return [(numbers[0] + offset[0], at[1])]
    if kind == "V":
        return [(at[0], numbers[0] + offset[1])]
    end = numbers[-2] + offset[0], numbers[-1] + offset[1]
    return _bow(at, end, numbers[0], bool(numbers[3]), bool(numbers[4])) if kind == "A" else [end]


def _bow(a: Spot, b: Spot, radius: float, is_large: bool, is_clockwise: bool) -> list[Spot]:
    """Points along an arc of a circle after its start."""
    hx, hy = (b[0] - a[0]) / 2.0, (b[1] - a[1]) / 2.0
    half = math.hypot(hx, hy)
    if half == 0.0:
        return [b]
    radius = max(radius, half)
    away = math.sqrt(radius * radius - half * half) / half * (1.0 if is_large != is_clockwise else -1.0)
    cx, cy = (a[0] + b[0]) / 2.0 - away * hy, (a[1] + b[1]) / 2.0 + away * hx
    first = math.atan2(a[1] - cy, a[0] - cx)
    turn = (math.atan2(b[1] - cy, b[0] - cx) - first) % math.tau
    turn -= 0.0 if is_clockwise else math.tau
    count = max(2, min(math.ceil(abs(turn) / math.sqrt(8.0 * SAGITTA / radius)), MOST_CHORDS))
    angles = [first + turn * index / count for index in range(1, count)]
    return [*((cx + radius * math.cos(t), cy + radius * math.sin(t)) for t in angles), b]
