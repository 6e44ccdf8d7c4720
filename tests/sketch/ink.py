"""What a sketch leaves on the paper, as shapes of a geometry library: where its lines run and where its words stand."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from itertools import combinations
from xml.etree.ElementTree import Element

from shapely import STRtree
from shapely.geometry import LineString, Point, Polygon, box
from shapely.geometry.base import BaseGeometry

from tests.sketch.svg import NS, TOKEN, along, parsed, size_of, texts

Spot = tuple[float, float]
HIDDEN = {"f", "bf", "lt", "wr", "b0", "bh", "pg"}
"""Fills without a line, and the grid of a plot, which runs behind everything."""
LEAST = 0.75
"""px: a line that only touches the edge of a text's rectangle leaves it legible."""
TOUCH = 0.001
"""px: a line that runs along the edge of a text's rectangle touches it, too."""
COUNTS = {"M": 2, "L": 2, "H": 1, "V": 1, "A": 7, "Q": 4, "T": 2}


def runs(data: str) -> Iterator[list[Spot]]:
    """The polylines of path data, curves as points along them (SVG 2, section 9: paths)."""
    run: list[Spot] = []
    control: Spot | None = None
    for command, numbers in _commands(data):
        upper, (x, y) = command.upper(), run[-1] if run else (0.0, 0.0)
        dx, dy = (x, y) if command.islower() else (0.0, 0.0)
        last, control = control, None
        if upper == "M":
            if len(run) > 1:
                yield run
            run = [(numbers[0] + dx, numbers[1] + dy)]
        elif upper == "Z":
            run = [*run, run[0]]
            yield run
            run = [run[0]]
        elif upper == "H":
            run = [*run, (numbers[0] + dx, y)]
        elif upper == "V":
            run = [*run, (x, numbers[0] + dy)]
        elif upper == "L":
            run = [*run, (numbers[0] + dx, numbers[1] + dy)]
        elif upper == "A":
            run = [*run, *_arc((x, y), (numbers[5] + dx, numbers[6] + dy), numbers)]
        else:
            end = numbers[-2] + dx, numbers[-1] + dy
            mirrored = (2.0 * x - last[0], 2.0 * y - last[1]) if last else (x, y)
            control = (numbers[0] + dx, numbers[1] + dy) if upper == "Q" else mirrored
            run = [*run, *(_bezier((x, y), control, end, i / 8.0) for i in range(1, 9))]
    if len(run) > 1:
        yield run


def _arc(start: Spot, end: Spot, numbers: list[float]) -> list[Spot]:
    """Points along an arc after its start; none where it has no length."""
    if math.dist(start, end) <= 1e-9:
        return []
    return along(start, end, numbers[0], bool(numbers[3]), bool(numbers[4]), 4 * quarter(numbers[0]))[1:]


def _commands(data: str) -> Iterator[tuple[str, list[float]]]:
    command = ""
    tokens = TOKEN.findall(data)
    at = 0
    while at < len(tokens):
        if tokens[at].isalpha():
            command, at = tokens[at], at + 1
        count = COUNTS.get(command.upper(), 0)
        yield command, [float(token) for token in tokens[at : at + count]]
        at += count
        command = {"M": "L", "m": "l"}.get(command, command)


def quarter(radius: float) -> int:
    """In how many chords a quarter of a circle stands off its chords by no more than a tenth of a px."""
    return max(16, math.ceil(math.pi / 2.0 / math.sqrt(0.8 / radius)))


def _bezier(a: Spot, b: Spot, c: Spot, t: float) -> Spot:
    first, second, third = (1.0 - t) ** 2, 2.0 * t * (1.0 - t), t * t
    return first * a[0] + second * b[0] + third * c[0], first * a[1] + second * b[1] + third * c[1]


def lines(svg: Element) -> list[BaseGeometry]:
    """Every line that is seen: cut to the window that its group is cut to."""
    windows = {each.attrib["id"]: _window(each) for each in svg.iter(f"{NS}clipPath")}
    return list(_lines(svg, None, windows))


def _lines(
    element: Element, cut: BaseGeometry | None, windows: dict[str, BaseGeometry | None]
) -> Iterator[BaseGeometry]:
    if element.tag in (f"{NS}defs", f"{NS}text") or set(element.get("class", "").split()) & HIDDEN:
        return
    named = re.fullmatch(r"url\(#(.+)\)", element.get("clip-path", ""))
    cut = windows[named[1]] if named else cut
    for shape in _shapes(element):
        seen = shape if cut is None else shape.intersection(cut)
        if not seen.is_empty:
            yield seen
    for child in element:
        yield from _lines(child, cut, windows)


def _shapes(element: Element) -> Iterator[BaseGeometry]:
    if element.tag == f"{NS}path":
        yield from (LineString(run) for run in runs(element.attrib["d"]))
    elif element.tag == f"{NS}circle":
        x, y, r = (float(element.attrib[name]) for name in ("cx", "cy", "r"))
        yield Point(x, y).buffer(r, quad_segs=quarter(r)).exterior if r > 4.0 else Point(x, y).buffer(r)


def _window(clip: Element) -> BaseGeometry | None:
    for each in clip:
        if each.tag == f"{NS}rect":
            x, y, width, height = (float(each.attrib[name]) for name in ("x", "y", "width", "height"))
            return box(x, y, x + width, y + height)
        if each.tag == f"{NS}circle":
            return Point(float(each.attrib["cx"]), float(each.attrib["cy"])).buffer(float(each.attrib["r"]))
    return None


def collisions(markup: str) -> list[str]:
    """What stands on something else: text on text, on a line, or over the frame."""
    svg = parsed(markup)
    width, height = size_of(svg)
    frame = box(0.0, 0.0, width, height)
    words = [(each.text, box(*each.box)) for each in texts(svg)]
    found = [f"{text!r} over the frame" for text, taken in words if not frame.covers(taken)]
    found += [f"{a!r} over {b!r}" for (a, p), (b, q) in combinations(words, 2) if p.intersection(q).area > LEAST]
    drawn = lines(svg)
    tree = STRtree(drawn)
    for text, taken in words:
        crossed = [drawn[i] for i in tree.query(taken) if _inside(drawn[i], taken) > LEAST]
        if crossed:
            found.append(f"{text!r} over {len(crossed)} lines")
    return found


def _inside(line: BaseGeometry, taken: Polygon) -> float:
    shared = line.intersection(taken.buffer(-TOUCH))
    return float(shared.area if shared.area else shared.length)
