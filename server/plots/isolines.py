"""Lines of equal value through a grid, and the regions above them, in the grid's own steps."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Any, TypeAlias

import numpy as np

Grid: TypeAlias = "np.ndarray[Any, np.dtype[np.float64]]"
Spot: TypeAlias = tuple[float, float]
"""A place in a grid: columns from the left, rows from the first one."""

_Edge: TypeAlias = tuple[int, int, int, int]
_SIDES = {"bottom": (0, 0, 0, 1), "right": (0, 1, 1, 1), "top": (1, 0, 1, 1), "left": (0, 0, 1, 0)}
# Which sides of a cell a line joins, by the corners (bottom left, bottom right, top right, top left) that are above.
_JOINED: dict[tuple[bool, bool, bool, bool], tuple[tuple[str, str], ...]] = {
    (True, False, False, False): (("left", "bottom"),),
    (False, True, False, False): (("bottom", "right"),),
    (False, False, True, False): (("right", "top"),),
    (False, False, False, True): (("top", "left"),),
    (True, True, False, False): (("left", "right"),),
    (False, True, True, False): (("bottom", "top"),),
}
_SADDLE = ((("left", "bottom"), ("right", "top")), (("bottom", "right"), ("top", "left")))


def isolines(values: Grid, level: float) -> list[list[Spot]]:
    """The lines along which `values[row, column]`, taken straight between its points, equals `level`.

    >>> isolines(np.array([[0.0, 1.0], [0.0, 1.0]]), 0.25)
    [[(0.25, 0.0), (0.25, 1.0)]]
    """
    neighbours: dict[_Edge, list[_Edge]] = {}
    for one, other in _segments(values, level):
        neighbours.setdefault(one, []).append(other)
        neighbours.setdefault(other, []).append(one)
    return [[_crossing(values, level, edge) for edge in chain] for chain in _chains(neighbours)]


def _segments(values: Grid, level: float) -> Iterator[tuple[_Edge, _Edge]]:
    above = values > level
    count = above[:-1, :-1].astype(int) + above[:-1, 1:] + above[1:, 1:] + above[1:, :-1]
    for row, column in np.argwhere((count > 0) & (count < 4)).tolist():
        corners = (
            bool(above[row, column]),
            bool(above[row, column + 1]),
            bool(above[row + 1, column + 1]),
            bool(above[row + 1, column]),
        )
        middle = values[row : row + 2, column : column + 2].mean() > level
        for one, other in _joined(corners, bool(middle)):
            yield _edge(row, column, one), _edge(row, column, other)


def _joined(corners: tuple[bool, bool, bool, bool], middle: bool) -> tuple[tuple[str, str], ...]:
    a, b, c, d = corners
    if a == c and b == d and a != b:
        return _SADDLE[1 if a == middle else 0]
    found = _JOINED.get(corners)
    return found if found is not None else _JOINED[(not a, not b, not c, not d)]


def _edge(row: int, column: int, side: str) -> _Edge:
    row1, column1, row2, column2 = _SIDES[side]
    return row + row1, column + column1, row + row2, column + column2


def _crossing(values: Grid, level: float, edge: _Edge) -> Spot:
    row1, column1, row2, column2 = edge
    low, high = float(values[row1, column1]), float(values[row2, column2])
    share = (level - low) / (high - low)
    return column1 + share * (column2 - column1), row1 + share * (row2 - row1)


def _chains(neighbours: dict[_Edge, list[_Edge]]) -> Iterator[list[_Edge]]:
    """The edges in the order of the lines: open lines from an end, then closed ones."""
    left = dict(neighbours)
    starts = [edge for edge, joined in neighbours.items() if len(joined) == 1] + list(neighbours)
    for start in starts:
        if start in left:
            yield _walked(start, neighbours, left)


def _walked(start: _Edge, neighbours: dict[_Edge, list[_Edge]], left: dict[_Edge, list[_Edge]]) -> list[_Edge]:
    chain, edge = [start], start
    del left[start]
    while following := next((other for other in neighbours[edge] if other in left), None):
        chain.append(following)
        del left[following]
        edge = following
    if len(chain) > 2 and start in neighbours[edge]:
        chain.append(start)
    return chain


def regions(values: Grid, rows: int) -> list[list[Spot]]:
    """The outlines of where `values` is above 0, followed along `rows` level cuts through the grid.

    >>> regions(np.array([[-1.0, 1.0], [-1.0, 1.0]]), 2)
    [[(0.5, 0.0), (0.5, 1.0), (1.0, 1.0), (1.0, 0.0)]]
    """
    finished: list[list[tuple[float, float, float]]] = []
    open_ones: list[list[tuple[float, float, float]]] = []
    for height in np.linspace(0.0, values.shape[0] - 1.0, rows).tolist():
        cuts = [(start, end, height) for start, end in _runs(_cut(values, height))]
        if len(cuts) != len(open_ones) or not all(map(_touch, open_ones, cuts)):
            finished += open_ones
            open_ones = [[cut] for cut in cuts]
        else:
            for region, cut in zip(open_ones, cuts, strict=True):
                region.append(cut)
    return [_outline(region) for region in finished + open_ones if len(region) > 1]


def _touch(region: Sequence[tuple[float, float, float]], cut: tuple[float, float, float]) -> bool:
    return region[-1][0] <= cut[1] and cut[0] <= region[-1][1]


def _outline(region: Sequence[tuple[float, float, float]]) -> list[Spot]:
    rising = [(start, height) for start, _, height in region]
    return rising + [(end, height) for _, end, height in reversed(region)]


def _cut(values: Grid, height: float) -> list[float]:
    row = min(int(height), values.shape[0] - 2)
    share = height - row
    cut: list[float] = ((1 - share) * values[row] + share * values[row + 1]).tolist()
    return cut


def _runs(cut: list[float]) -> Iterator[tuple[float, float]]:
    """Where a row of values is above 0, straight between them."""
    start = 0.0 if cut[0] > 0.0 else math.nan
    for column, (before, after) in enumerate(pairwise(cut)):
        if (before > 0.0) == (after > 0.0):
            continue
        crossing = column + before / (before - after)
        if after > 0.0:
            start = crossing
        else:
            yield start, crossing
            start = math.nan
    if cut[-1] > 0.0:
        yield start, len(cut) - 1.0
