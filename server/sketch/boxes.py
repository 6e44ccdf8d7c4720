"""Room for words: how much a text takes up, and where there is some left."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple, TypeVar

from server.sketch.markup import num, words

TEXT = 18.0
"""Size of all text, px."""

ASCENT, DESCENT = 15.0, 4.0
"""What a line of text takes above and below its base line, px."""

HEIGHT = ASCENT + DESCENT

_NARROW, _DIGIT, _WIDE, _WIDEST = 0.37, 0.64, 0.79, 0.99
_WIDTHS = {**dict.fromkeys(" .,:;'|!ijl", _NARROW), **dict.fromkeys("MWmw%@+×±", _WIDEST), "Ø": 0.79, "°": 0.5}


class Box(NamedTuple):
    """An upright rectangle, px."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: Box) -> bool:
        """Whether the two share any area."""
        return (
            self.left < other.right and other.left < self.right and self.top < other.bottom and other.top < self.bottom
        )

    def within(self, other: Box) -> bool:
        """Whether this lies wholly inside `other`."""
        return (
            self.left >= other.left
            and self.right <= other.right
            and self.top >= other.top
            and self.bottom <= other.bottom
        )


def text_width(text: str) -> float:
    """Width of `text`, px: as in the widest of the usual system fonts, so that it never takes more.

    >>> text_width("60") < text_width("Ø60") < 40.0
    True
    """
    return TEXT * sum(_WIDTHS.get(c, _DIGIT if c.isdigit() or c.islower() else _WIDE) for c in text)


def text_box(text: str, x: float, y: float) -> Box:
    """The room of a level text whose base line is centred at (x, y)."""
    return level_box(text_width(text), x, y)


def level_box(width: float, x: float, y: float) -> Box:
    """The room of a level text of `width` px whose base line is centred at (x, y)."""
    half = width / 2.0
    return Box(x - half, y - ASCENT, x + half, y + DESCENT)


def upright_box(text: str, x: float, y: float) -> Box:
    """The room of a text that is read from the right, its base line centred at (x, y)."""
    half = text_width(text) / 2.0
    return Box(x - ASCENT, y - half, x + DESCENT, y + half)


def level_text(text: str, x: float, y: float) -> str:
    """A level text, centred."""
    return f'<text x="{num(x)}" y="{num(y)}">{words(text)}</text>'


def upright_text(text: str, x: float, y: float) -> str:
    """A text read from the right, as along an upright dimension line."""
    return f'<text transform="translate({num(x)} {num(y)})rotate(-90)">{words(text)}</text>'


Choice = TypeVar("Choice")


class Room:
    """The room of one sketch: what words already take, what they should rather not cover, and the whole of it."""

    def __init__(self, whole: Box) -> None:
        self.whole = whole
        self.texts: list[Box] = []
        self.lines: list[Box] = []

    def take(self, box: Box) -> None:
        """Note that words stand here."""
        self.texts.append(box)

    def avoid(self, *boxes: Box) -> None:
        """Note lines and marks that words should not cover when they can help it."""
        self.lines.extend(boxes)

    def is_free(self, box: Box) -> bool:
        """Whether `box` is inside the sketch and free of words."""
        return box.within(self.whole) and not any(map(box.meets, self.texts))

    def is_inside(self, x: float, y: float) -> bool:
        """Whether a point is inside the sketch."""
        return self.whole.left <= x <= self.whole.right and self.whole.top <= y <= self.whole.bottom

    def covers_lines(self, box: Box) -> bool:
        """Whether words in `box` would cover a line or a mark."""
        return any(map(box.meets, self.lines))

    def place(self, candidates: Iterable[tuple[Box, Choice]]) -> Choice | None:
        """Take the first free candidate that covers the fewest lines; None when no candidate is free."""
        best: tuple[int, Box, Choice] | None = None
        for box, choice in candidates:
            if self.is_free(box):
                covered = sum(map(box.meets, self.lines))
                if best is None or covered < best[0]:
                    best = covered, box, choice
                if covered == 0:
                    break
        if best is None:
            return None
        self.take(best[1])
        return best[2]

    def anywhere(self, width: float, near: Sequence[float]) -> tuple[float, float]:
        """A free place (left end, base line) for a level text, the nearest to a point; below all when full."""
        half = width / 2.0
        spots = [
            (abs(x - near[0]) + abs(y - near[1]), x, y)
            for x in _steps(self.whole.left + half, self.whole.right - half, 12.0)
            for y in _steps(self.whole.top + ASCENT, self.whole.bottom - DESCENT, 10.0)
        ]
        for _, x, y in sorted(spots):
            box = Box(x - half, y - ASCENT, x + half, y + DESCENT)
            if self.is_free(box):
                self.take(box)
                return x, y
        return self.below(half)

    def below(self, half: float) -> tuple[float, float]:
        """Make the sketch a row higher and take the row."""
        y = self.whole.bottom + ASCENT + 2.0
        x = self.whole.left + half
        self.whole = self.whole._replace(bottom=y + DESCENT)
        self.take(Box(x - half, y - ASCENT, x + half, y + DESCENT))
        return x, y


def _steps(first: float, last: float, step: float) -> list[float]:
    return [first + i * step for i in range(int(max(last - first, 0.0) / step) + 1)]
