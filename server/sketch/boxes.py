"""How much room a text takes up, and a text as markup: a sign that follows an underscore is set as its index."""

from __future__ import annotations

from functools import lru_cache
from typing import NamedTuple

from server.sketch.markup import num, words

TEXT = 18.0
"""Size of all text, px."""

ASCENT, DESCENT = 15.0, 4.0
"""What a line of text takes above and below its base line, px."""

HEIGHT = ASCENT + DESCENT

INDEX, SUNK = 16.0, 3.0
"""Size of an index, and how far it stands below the base line, px."""

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

    def nearest(self, x: float, y: float) -> tuple[float, float]:
        """The point of the rectangle that is nearest to (x, y)."""
        return min(max(x, self.left), self.right), min(max(y, self.top), self.bottom)

    def within(self, other: Box) -> bool:
        """Whether this lies wholly inside `other`."""
        return (
            self.left >= other.left
            and self.right <= other.right
            and self.top >= other.top
            and self.bottom <= other.bottom
        )


@lru_cache(maxsize=256)
def text_width(text: str) -> float:
    """Width of `text`, px: as in the widest of the usual system fonts, so that it never takes more.

    >>> text_width("60") < text_width("Ø60") < 40.0
    True
    """
    sign, _, index = text.partition("_")
    return TEXT * _ems(sign) + INDEX * _ems(index)


def _ems(text: str) -> float:
    return sum(_WIDTHS.get(c, _DIGIT if c.isdigit() or c.islower() else _WIDE) for c in text)


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
    return f'<text x="{num(x)}" y="{num(y)}">{_signs(text)}</text>'


def upright_text(text: str, x: float, y: float) -> str:
    """A text read from the right, as along an upright dimension line."""
    return f'<text transform="translate({num(x)} {num(y)})rotate(-90)">{_signs(text)}</text>'


def _signs(text: str) -> str:
    sign, _, index = text.partition("_")
    return words(sign) + (f'<tspan dy="{num(SUNK)}" font-size="{num(INDEX)}">{words(index)}</tspan>' if index else "")
