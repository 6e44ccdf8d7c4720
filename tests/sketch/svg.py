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
    **dict.fromkeys("'", 275),
    **dict.fromkeys("ijl", 278),
    **dict.fromkeys("IJ", 295),
    **dict.fromkeys(" ,.·", 318),
    **dict.fromkeys("/:;|", 337),
    **dict.fromkeys("f", 352),
    **dict.fromkeys("-", 361),
    **dict.fromkeys("()[]", 390),
    **dict.fromkeys("t", 392),
    **dict.fromkeys("!²³", 401),
    **dict.fromkeys("r", 411),
    **dict.fromkeys("*_`°–", 500),
    **dict.fromkeys("s", 521),
    **dict.fromkeys("z", 525),
    **dict.fromkeys("?", 531),
    **dict.fromkeys("ε", 541),
    **dict.fromkeys("c", 550),
    **dict.fromkeys("L", 557),
    **dict.fromkeys("F", 575),
    **dict.fromkeys("k", 579),
    **dict.fromkeys("κ", 589),
    **dict.fromkeys("vxy", 592),
    **dict.fromkeys("π", 602),
    **dict.fromkeys("P", 603),
    **dict.fromkeys("TY", 611),
    **dict.fromkeys("oø", 612),
    **dict.fromkeys("a", 613),
    **dict.fromkeys("e", 615),
    **dict.fromkeys("E", 632),
    **dict.fromkeys("hnuσ", 634),
    **dict.fromkeys("Sbdgpq", 635),
    **dict.fromkeys("$0123456789{}μ", 636),
    **dict.fromkeys("β", 638),
    **dict.fromkeys("K", 656),
    **dict.fromkeys("α", 659),
    **dict.fromkeys("AV", 684),
    **dict.fromkeys("XZ", 685),
    **dict.fromkeys("B", 686),
    **dict.fromkeys("R", 695),
    **dict.fromkeys("C", 698),
    **dict.fromkeys("U", 732),
    **dict.fromkeys("N", 748),
    **dict.fromkeys("H", 752),
    **dict.fromkeys("D", 770),
    **dict.fromkeys("G", 775),
    **dict.fromkeys("&", 780),
    **dict.fromkeys("OQØ", 787),
    **dict.fromkeys("w", 818),
    **dict.fromkeys("#+<=>^~×±−≤≥", 838),
    **dict.fromkeys("M", 863),
    **dict.fromkeys("%", 950),
    **dict.fromkeys("m", 974),
    **dict.fromkeys("W", 989),
    **dict.fromkeys("@…", 1000),
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
    return [words_of(element) for element in svg.iter(f"{NS}text")]


def words_of(element: Element) -> Words:
    """One text with its rectangle."""
    text = "".join(element.itertext())
    indexes = [(each.text or "", float(each.attrib["font-size"])) for each in element]
    width = width_of(element.text or "") + sum(width_of(index, size) for index, size in indexes)
    half, up, down = width / 2.0, 13.5, 3.5  # cap height and the foot of a slashed O or an index
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
            arcs.append(along((x, y), (x2, y2), r, bool(large), bool(sweep), count))
            x, y, i = x2, y2, i + 7
        else:
            break  # the curves of a break line: nothing after them is an arc of the part
    return arcs


def along(
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
