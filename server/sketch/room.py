"""Room for words in one sketch: what words already take, which lines run where, and where there is some left."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from heapq import heapify, heappop, heapreplace
from typing import TypeVar

from server.sketch.boxes import ASCENT, DESCENT, Box, level_box
from server.sketch.strokes import Strokes, clipped, crosses, lines_of, strokes_of

EDGE = 0.2
"""How far a line may reach into the room of a text from above or below, where there is nothing of its signs, px."""

STEP_X, STEP_Y = 12.0, 10.0
"""How far apart the places are that are tried all over the sketch, px."""

Choice = TypeVar("Choice")


class Room:
    """The room of one sketch: the words and lines that already stand in it, and the whole of it."""

    def __init__(self, whole: Box) -> None:
        self.whole = whole
        self.texts: list[Box] = []
        self.marks: list[Box] = []
        self.strokes = Strokes()

    def take(self, box: Box) -> None:
        """Note that words stand here."""
        self.texts.append(box)

    def avoid(self, *boxes: Box) -> None:
        """Note marks that words should not cover."""
        self.marks.extend(boxes)

    def draw(self, data: str, within: Box | None = None) -> None:
        """Note the lines of path data, cut to what is seen of them."""
        strokes = strokes_of(data)
        self.strokes.add(strokes if within is None else clipped(strokes, within))

    def note(self, markup: str, within: Box | None = None) -> None:
        """Note every line of markup that is drawn, cut to what is seen of it."""
        for data in lines_of(markup):
            self.draw(data, within)

    def is_free(self, box: Box) -> bool:
        """Whether `box` is inside the sketch and free of words."""
        return box.within(self.whole) and not any(map(box.meets, self.texts))

    def is_clear(self, data: str, box: Box) -> bool:
        """Whether the lines of path data run through no words, those in `box` among them."""
        strokes = list(strokes_of(data))
        return not any(crosses(stroke, _ink(text)) for text in (*self.texts, box) for stroke in strokes)

    def is_inside(self, x: float, y: float) -> bool:
        """Whether a point is inside the sketch."""
        return self.whole.left <= x <= self.whole.right and self.whole.top <= y <= self.whole.bottom

    def is_open(self, box: Box) -> bool:
        """Whether `box` is free and words in it would cover no line and no mark."""
        return self.is_free(box) and not any(map(box.meets, self.marks)) and not self.strokes.meets(_ink(box))

    def covered(self, box: Box) -> int:
        """How many lines and marks words in `box` would cover."""
        return sum(map(box.meets, self.marks)) + self.strokes.crossing(_ink(box))

    def place(self, candidates: Iterable[tuple[Box, Choice]], *, clean: bool = False) -> Choice | None:
        """Take the first free candidate that covers the fewest lines; None when no candidate is free.

        With `clean` a candidate that covers any line counts as not free.
        """
        return self.place_led(((box, "", choice) for box, choice in candidates), clean=clean)

    def place_led(self, candidates: Iterable[tuple[Box, str, Choice]], *, clean: bool = False) -> Choice | None:
        """The same for words with lines of their own (path data), which must run through no other words."""
        best: tuple[int, Box, str, Choice] | None = None
        for box, data, choice in candidates:
            if (self.is_open(box) if clean else self.is_free(box)) and self.is_clear(data, box):
                covered = 0 if clean else self.covered(box)
                if best is None or covered < best[0]:
                    best = covered, box, data, choice
                if covered == 0:
                    break
        if best is None:
            return None
        self.take(best[1])
        self.draw(best[2])
        return best[3]

    def anywhere(self, width: float, near: Sequence[float]) -> tuple[float, float]:
        """The clean place (middle, base line) for a level text that is nearest to a point; below all when full."""
        found = self.place(((level_box(width, *spot), spot) for spot in self.nearest(width, near)), clean=True)
        return found or self.below(width / 2.0)

    def nearest(self, width: float, near: Sequence[float]) -> Iterator[tuple[float, float]]:
        """Places (middle, base line) of a level text all over the sketch, the nearest to a point first."""
        half = width / 2.0
        across = sorted((abs(x - near[0]), x) for x in _steps(self.whole.left + half, self.whole.right - half, STEP_X))
        down = _steps(self.whole.top + ASCENT, self.whole.bottom - DESCENT, STEP_Y)
        first = [(across[0][0] + abs(y - near[1]), across[0][1], y, 0) for y in down]
        heapify(first)  # of each row the nearest that is left: most who ask take one of the first
        while first:
            _, x, y, at = first[0]
            yield x, y
            if at + 1 < len(across):
                off, x = across[at + 1]
                heapreplace(first, (off + abs(y - near[1]), x, y, at + 1))
            else:
                heappop(first)

    def below(self, half: float) -> tuple[float, float]:
        """Make the sketch a row higher and take the row."""
        y = self.whole.bottom + ASCENT + 2.0
        x = self.whole.left + half
        self.whole = self.whole._replace(bottom=y + DESCENT)
        self.take(level_box(2.0 * half, x, y))
        return x, y


def _ink(box: Box) -> Box:
    left, top, right, bottom = box
    return Box(left, top + EDGE, right, bottom - EDGE)


def _steps(first: float, last: float, step: float) -> list[float]:
    return [first + i * step for i in range(int(max(last - first, 0.0) / step) + 1)]
