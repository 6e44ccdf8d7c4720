"""Pictures of a sequence: what is left of the stock, the tool's way, the tool moving along it; all at one scale."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache

from calc.answer.drawing import Picture
from calc.contour import Bounds, Chain, Point
from calc.language.messages import say_text
from calc.language.quantities import METRIC, View
from server.sketch.markup import Plane, group, line, num, path, words
from server.sketch.part import chain_path
from server.sketch.polyline import polyline
from server.sketch.scale_bar import bar, bar_length

WIDTH, HIGHEST = 380.0, 300.0
"""Natural width of a picture and its greatest height, px."""

MARGIN = 8.0
BAR_ROOM = 22.0
"""Room below the axis for the bar that shows the scale, px."""

THINNED = 0.15
"""By how much an outline may run beside the true one, px."""

SECONDS_PER_PX, LEAST_SECONDS, MOST_SECONDS = 0.008, 1.5, 8.0
"""How long the moving insert takes over its way."""


def draw_pictures(pictures: Sequence[Picture], view: View = METRIC) -> list[str]:
    """Each picture as an SVG element of its own, all in the same frame.

    >>> draw_pictures([])
    []
    """
    if not pictures:
        return []
    plane, width, height = _framed(pictures)
    length, said = bar_length(plane.scale, view)
    scale = bar(MARGIN, height - MARGIN, length * plane.scale, said)
    return [
        _drawn(picture, say_text(picture.label, view), index, plane, (width, height), scale)
        for index, picture in enumerate(pictures)
    ]


def _framed(pictures: Sequence[Picture]) -> tuple[Plane, float, float]:
    """The plane that shows the stock in front of the contour's end, and the size of the pictures, px."""
    stock = Bounds.around(*(point for ring in pictures[0].left for point in ring))
    printed = pictures[0].printed.bounds
    high = stock.r_max
    back = printed.z_min - 0.12 * (printed.z_max - printed.z_min) - 0.3 * high
    wide = stock.z_max - max(stock.z_min, back)
    front = 0.12 * wide
    scale = min((WIDTH - 2 * MARGIN) / (wide + front), (HIGHEST - 2 * MARGIN) / (1.15 * high))
    plane = Plane(scale, MARGIN - max(stock.z_min, back) * scale, MARGIN + 1.12 * high * scale)
    return plane, WIDTH, plane.y0 + MARGIN + BAR_ROOM


def _drawn(picture: Picture, title: str, index: int, plane: Plane, size: tuple[float, float], scale: str) -> str:
    """A picture of the given size, px, with the bar of its scale."""
    width, height = size
    key = f"step{index}"
    body = path("bf", _rings(picture.before, plane), ' fill-rule="evenodd"')
    body += path("lt", _rings(picture.left, plane), ' fill-rule="evenodd"')
    body += path("wr", _rings(picture.wrong, plane), ' fill-rule="evenodd"')
    body += path("o", _chains((picture.printed, *picture.also), plane))
    body += path("rp", _chains(_joined(picture.rapid), plane))
    body += path("nc", _chains(_joined(picture.way), plane))
    if picture.way and picture.insert:
        body += _tool(picture, plane)
    body += path("c", line(0.0, plane.y0, width, plane.y0))
    body += scale
    return (
        f'<svg class="sketch" xmlns="http://www.w3.org/2000/svg" role="img" aria-labelledby="{key}-t" '
        f'viewBox="0 0 {num(width)} {num(height)}" width="{num(width)}" height="{num(height)}">'
        f'<title id="{key}-t">{words(title)}</title>{body}</svg>'
    )


def _rings(rings: Iterable[Sequence[Point]], plane: Plane) -> str:
    """Closed outlines in whole tenths of a px, without the points that cannot be told apart."""
    data = ""
    for ring in rings:
        spots = list(dict.fromkeys((round(plane.x(point.z), 1), round(plane.y(point.r), 1)) for point in ring))
        data += polyline([*spots, spots[0]], THINNED) + "z" if len(spots) > 1 else ""
    return data


def _tool(picture: Picture, plane: Plane) -> str:
    """The tool at the end of its way, and a second one that moves along the way where movement is welcome."""
    tool = path("hd", _shape(picture.holder, plane.scale)) + path("in", _shape((picture.insert,), plane.scale))
    end = picture.way[-1].end
    length = sum(chain.length for chain in picture.way)
    seconds = min(max(SECONDS_PER_PX * length * plane.scale, LEAST_SECONDS), MOST_SECONDS)
    still = group("st", tool, f' transform="translate({num(plane.x(end.z))} {num(plane.y(end.r))})"')
    way = _chains(_joined(picture.way), plane)
    moving = f'<animateMotion dur="{num(seconds)}s" repeatCount="indefinite" path="{way}"/>'
    return still + group("mv", tool + moving)


def _chains(chains: Iterable[Chain], plane: Plane) -> str:
    return "".join(chain_path(chain, plane, 1) for chain in chains)


def _joined(way: Sequence[Chain]) -> list[Chain]:
    """A way in as few pieces as it has: a piece that begins where the one before ends goes on from there."""
    found: list[Chain] = []
    for chain in way:
        if found and found[-1].end == chain.start:
            found[-1] = Chain((*found[-1].elements, *chain.elements))
        else:
            found.append(chain)
    return found


@lru_cache(maxsize=16)
def _shape(rings: tuple[tuple[Point, ...], ...], scale: float) -> str:
    """Outlines about the nose centre, px; most pictures of a sequence show the same tool."""
    return _rings(rings, Plane(scale, 0.0, 0.0))
