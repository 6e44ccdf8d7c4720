"""Reads SVG by its own specification, knowing nothing of the drawer: texts, numbers, and where an arc really runs."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from xml.etree.ElementTree import Element, fromstring

NS = "{http://www.w3.org/2000/svg}"

# Advance widths of DejaVu Sans, the widest of the usual system fonts, in thousandths of the size
# (from the font's own table of metrics).
THOUSANDTHS = {
    **dict.fromkeys("0123456789", 636),
    **dict(zip("abcdefghijklm", (613, 635, 550, 635, 615, 352, 635, 634, 278, 278, 579, 278, 974), strict=True)),
    **dict(zip("nopqrstuvwxyz", (634, 612, 635, 635, 411, 521, 392, 634, 592, 818, 592, 592, 525), strict=True)),
    **dict(
        zip(
            "ABCDPRXZØ .-+()°:",
            (684, 686, 698, 770, 603, 695, 685, 685, 787, 318, 318, 361, 838, 390, 390, 500, 337),
            strict=True,
        )
    ),
}
ADVANCE = {letter: share / 1000 for letter, share in THOUSANDTHS.items()}


@dataclass(frozen=True)
class Words:
    """A text with the rectangle that it takes: left, top, right, bottom."""

    text: str
    box: tuple[float, float, float, float]


def parsed(markup: str) -> Element:
    """The element; raises for markup that is not well-formed XML."""
    return fromstring(markup)


def size_of(svg: Element) -> tuple[float, float]:
    """Width and height of the view box."""
    _, _, width, height = map(float, svg.attrib["viewBox"].split())
    return width, height


def width_of(text: str, size: float = 18.0) -> float:
    """The width of a text."""
    return size * sum(ADVANCE[c] for c in text)


def texts(svg: Element) -> list[Words]:
    """All texts; each is centred on its place, and may be turned to be read from the right."""
    return [_words(element) for element in svg.iter(f"{NS}text")]


def _words(element: Element) -> Words:
    text = "".join(element.itertext())
    half, up, down = width_of(text) / 2.0, 13.5, 3.5  # cap height and the foot of a slashed O
    turned = re.fullmatch(r"translate\((\S+) (\S+)\)rotate\(-90\)", element.get("transform", ""))
    if turned:
        x, y = map(float, turned.groups())
        return Words(text, (x - up, y - half, x + down, y + half))
    x, y = float(element.attrib["x"]), float(element.attrib["y"])
    return Words(text, (x - half, y - up, x + half, y + down))


def overlap(a: Words, b: Words) -> bool:
    """Whether two texts share any area."""
    (l1, t1, r1, b1), (l2, t2, r2, b2) = a.box, b.box
    return l1 < r2 and l2 < r1 and t1 < b2 and t2 < b1


TOKEN = re.compile(r"[A-Za-z]|-?\d*\.?\d+(?:e-?\d+)?")


def arc_points(data: str, count: int = 9) -> list[list[tuple[float, float]]]:
    """For each elliptical arc command of path data: points along it, `count` of them, ends included."""
    arcs: list[list[tuple[float, float]]] = []
    tokens = TOKEN.findall(data)
    x = y = 0.0
    i, command = 0, ""
    while i < len(tokens):
        if tokens[i].isalpha():
            command, i = tokens[i], i + 1
            continue
        if command in "ML":
            x, y, i = float(tokens[i]), float(tokens[i + 1]), i + 2
        elif command == "H":
            x, i = float(tokens[i]), i + 1
        elif command == "V":
            y, i = float(tokens[i]), i + 1
        elif command == "A":
            r, _, _, large, sweep, x2, y2 = map(float, tokens[i : i + 7])
            arcs.append(_along((x, y), (x2, y2), r, bool(large), bool(sweep), count))
            x, y, i = x2, y2, i + 7
        else:
            break  # the curves of a break line: nothing after them is an arc of the part
    return arcs


def _along(
    a: tuple[float, float], b: tuple[float, float], r: float, large: bool, sweep: bool, count: int
) -> list[tuple[float, float]]:
    """SVG 2, implementation notes, "conversion from endpoint to center parameterization", for a circle."""
    hx, hy = (a[0] - b[0]) / 2.0, (a[1] - b[1]) / 2.0
    half = math.hypot(hx, hy)
    r = max(r, half)
    k = math.sqrt(max(r * r - half * half, 0.0)) / half * (-1.0 if large == sweep else 1.0)
    cx, cy = k * hy + (a[0] + b[0]) / 2.0, -k * hx + (a[1] + b[1]) / 2.0
    start, end = math.atan2(a[1] - cy, a[0] - cx), math.atan2(b[1] - cy, b[0] - cx)
    turn = (end - start) % math.tau
    if not sweep:
        turn -= math.tau
    steps = [start + turn * i / (count - 1) for i in range(count)]
    return [(cx + r * math.cos(t), cy + r * math.sin(t)) for t in steps]
