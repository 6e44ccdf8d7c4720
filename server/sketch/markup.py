"""SVG text: short numbers, safe words, path data of exact lines and arcs."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from html import escape

from calc.contour import Arc, Element

FLAT = 0.05
"""Height in px of an arc over its chord below which it is drawn as its chord."""

FINE = 2
"""Decimals of a contour, px: arcs that join smoothly do so on a sketch that fills the screen, too."""

ARROW_LENGTH, ARROW_HALF_WIDTH = 10.0, 1.65


@dataclass(frozen=True, slots=True)
class Plane:
    """Where a point of the half plane (z, r in mm) stands in the sketch (px, y downward).

    >>> Plane(10.0, 100.0, 200.0).xy(1.0, 2.0)
    (110.0, 180.0)
    """

    scale: float
    x0: float
    y0: float

    def x(self, z: float) -> float:
        """Horizontal place of `z`, px."""
        return self.x0 + z * self.scale

    def y(self, r: float) -> float:
        """Vertical place of the radius `r`, px."""
        return self.y0 - r * self.scale

    def xy(self, z: float, r: float) -> tuple[float, float]:
        """Place of a point, px."""
        return self.x0 + z * self.scale, self.y0 - r * self.scale


def num(value: float, places: int = 1) -> str:
    """A number of px with so many decimals at most and nothing to spare.

    >>> num(12.3004), num(-0.001), num(7.0), num(7.25, 2)
    ('12.3', '0', '7', '7.25')
    """
    text = f"{value:.{places}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def move(x: float, y: float, places: int = 1) -> str:
    """Path data: go to a point."""
    return f"M{num(x, places)} {num(y, places)}"


def line(x1: float, y1: float, x2: float, y2: float) -> str:
    """Path data of a straight stroke, in its shortest form.

    >>> line(1, 2, 1, 9), line(1, 2, 9, 2), line(1, 2, 3, 4)
    ('M1 2V9', 'M1 2H9', 'M1 2L3 4')
    """
    return move(x1, y1) + _to(x1, y1, x2, y2)


def _to(x1: float, y1: float, x2: float, y2: float, places: int = 1) -> str:
    if abs(x1 - x2) < 0.005:
        return f"V{num(y2, places)}"
    if abs(y1 - y2) < 0.005:
        return f"H{num(x2, places)}"
    return f"L{num(x2, places)} {num(y2, places)}"


def elements_path(elements: Iterable[Element], plane: Plane, *, mirrored: bool = False, places: int = FINE) -> str:
    """Path data that goes on along contiguous elements (the pen already stands at the first one's start).

    An arc stays an exact arc. Seen with X up, a "ccw" one turns against the clock, which SVG calls sweep 0;
    `mirrored` draws the other side of the axis, where turns are reversed.
    """
    sign = -1.0 if mirrored else 1.0
    return "".join(_element_path(element, plane, sign, places) for element in elements)


def _element_path(element: Element, plane: Plane, sign: float, places: int) -> str:
    x2, y2 = plane.xy(element.end.z, sign * element.end.r)
    if isinstance(element, Arc) and element.sagitta * plane.scale >= FLAT:
        radius = num(element.radius * plane.scale, places)
        large = int(element.angle > math.pi)
        clockwise = int((element.turn == "cw") == (sign > 0.0))
        return f"A{radius} {radius} 0 {large} {clockwise} {num(x2, places)} {num(y2, places)}"
    x1, y1 = plane.xy(element.start.z, sign * element.start.r)
    return _to(x1, y1, x2, y2, places)


def arrow(x: float, y: float, ux: float, uy: float) -> str:
    """Path data of a filled arrow head whose tip is at (x, y) and which points along the unit vector (ux, uy).

    >>> arrow(50, 20, 1, 0)
    'M50 20l-10 -1.6v3.3z'
    """
    bx, by = -ARROW_LENGTH * ux, -ARROW_LENGTH * uy
    nx, ny = ARROW_HALF_WIDTH * uy, -ARROW_HALF_WIDTH * ux
    side = f"v{num(-2 * ny)}" if abs(nx) < 0.005 else f"l{num(-2 * nx)} {num(-2 * ny)}"
    return f"{move(x, y)}l{num(bx + nx)} {num(by + ny)}{side}z"


def path(cls: str, data: str, more: str = "") -> str:
    """A path element, or nothing when there is nothing to draw."""
    return f'<path class="{cls}"{more} d="{data}"/>' if data else ""


def circle(cls: str, x: float, y: float, radius: float) -> str:
    """A circle element."""
    return f'<circle class="{cls}" cx="{num(x)}" cy="{num(y)}" r="{num(radius)}"/>'


def group(cls: str, inner: str, more: str = "") -> str:
    """A group element, or nothing when it would be empty."""
    return f'<g class="{cls}"{more}>{inner}</g>' if inner else ""


def words(text: str) -> str:
    """Text made safe for an element or an attribute.

    >>> words('<b a="1">')
    '&lt;b a=&quot;1&quot;&gt;'
    """
    return escape("".join(c for c in text if c >= " "), quote=True)
