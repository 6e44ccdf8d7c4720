"""Which of many boxes overlap: of very many found cell by cell along one axis, not pair by pair."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Indices = NDArray[np.intp]
Places = NDArray[np.complex128]

OUTWARD = np.array([-1.0, 1.0, -1.0, 1.0])
"""How the bounds of a box move when it grows by 1 mm."""

AT_ONCE = 200_000
"""Pairs that share a cell and are compared at once: more takes memory and no less time."""

FEW = 1_000_000
"""Up to so many pairs are compared one with all, which is quicker then."""


def box_of(places: Places) -> Floats:
    """The one box (mm, a row of its own) around places z + i r.

    >>> box_of(np.array([2.0 + 5.0j, 3.0 + 1.0j])).tolist()
    [[2.0, 3.0, 1.0, 5.0]]
    """
    return np.array([[places.real.min(), places.real.max(), places.imag.min(), places.imag.max()]])


def grown(boxes: Floats, by: float | Floats) -> Floats:
    """The boxes, larger all round by so much (mm), one for all or a column of one for each.

    >>> grown(np.array([[2.0, 3.0, 1.0, 5.0]]), 0.5).tolist()
    [[1.5, 3.5, 0.5, 5.5]]
    """
    larger: Floats = boxes + by * OUTWARD
    return larger


def overlapping(some: Floats, others: Floats) -> tuple[Indices, Indices]:
    """The pairs (index in `some`, index in `others`) of boxes that overlap, touching ones too, in order.

    A row is z_min, z_max, r_min, r_max (mm). Work grows with the boxes and with the pairs that share a cell.

    >>> a, b = np.array([[0.0, 1.0, 0.0, 1.0]]), np.array([[2.0, 3.0, 0.0, 1.0], [1.0, 4.0, 0.5, 2.0]])
    >>> [indices.tolist() for indices in overlapping(a, b)]
    [[0], [1]]
    """
    found = list(overlaps(some, others))
    nothing = np.zeros(0, dtype=np.intp)
    i, j = (np.concatenate([nothing, *(pair[side] for pair in found)]) for side in (0, 1))
    if len(some) * len(others) <= FEW:
        return i, j
    in_order = np.lexsort((j, i))
    return i[in_order], j[in_order]


def overlaps(some: Floats, others: Floats) -> Iterator[tuple[Indices, Indices]]:
    """The same pairs in groups and in no order, for what need not hold all of them at once.

    >>> a = np.array([[0.0, 1.0, 0.0, 1.0]])
    >>> [i.tolist() for i, _ in overlaps(a, a)]
    [[0]]
    """
    if not len(some) or not len(others):
        return
    if len(some) * len(others) <= FEW:
        i, j = np.nonzero(_hit(some[:, None, :], others[None, :, :]))
        yield i, j
    else:
        yield from _by_cells(some, others)


def _by_cells(some: Floats, others: Floats) -> Iterator[tuple[Indices, Indices]]:
    """The pairs that share a cell of the axis; half and half where boxes reach over very many cells."""
    axis = _axis(some, others)
    low = min(some[:, axis].min(), others[:, axis].min())
    extent = max(some[:, axis + 1].max(), others[:, axis + 1].max()) - low
    width = max(extent / min(len(some), len(others)), 1e-300)
    first_a, count_a = _cells(some, axis, low, width)
    if count_a.sum() > FEW:
        half = len(some) // 2
        yield from overlaps(some[:half], others)
        yield from ((i + half, j) for i, j in overlaps(some[half:], others))
        return
    first_b, count_b = _cells(others, axis, low, width)
    a, cell_a = _spread(first_a, count_a)
    b, cell_b = _spread(first_b, count_b)
    order = np.argsort(cell_b, kind="stable")
    b, cell_b = b[order], cell_b[order]
    begin, end = np.searchsorted(cell_b, cell_a, "left"), np.searchsorted(cell_b, cell_a, "right")
    times = end - begin
    for rows in _groups(times):
        i, cells = np.repeat(a[rows], times[rows]), np.repeat(cell_a[rows], times[rows])
        j = b[_ranges(begin[rows], times[rows])]
        once = cells == np.maximum(first_a[i], first_b[j])
        i, j = i[once], j[once]
        hit = _hit(some[i], others[j])
        yield i[hit], j[hit]


def in_groups(count: int) -> Iterator[slice]:
    """So many pairs in groups that are worked on at once: all of them together may not fit into memory.

    >>> list(in_groups(250_000))
    [slice(0, 200000, None), slice(200000, 250000, None)]
    """
    return (slice(first, min(first + AT_ONCE, count)) for first in range(0, count, AT_ONCE))


def _groups(times: Indices) -> Iterator[slice]:
    """The rows in groups that make at most so many pairs at once, or of one row each."""
    ends = np.cumsum(times)
    first = 0
    while first < len(times):
        done = ends[first - 1] if first else 0
        last = max(first + 1, int(np.searchsorted(ends, done + AT_ONCE, "right")))
        yield slice(first, last)
        first = last


def _hit(a: Floats, b: Floats) -> NDArray[np.bool_]:
    hit = (a[..., 0] <= b[..., 1]) & (b[..., 0] <= a[..., 1])
    hit &= (a[..., 2] <= b[..., 3]) & (b[..., 2] <= a[..., 3])
    return np.asarray(hit)


def _axis(some: Floats, others: Floats) -> int:
    """The axis along which the boxes are smallest against the whole: 0 for z, 2 for r."""
    every = np.concatenate([some, others])
    shares = []
    for axis in (0, 2):
        extent = every[:, axis + 1].max() - every[:, axis].min()
        shares.append((every[:, axis + 1] - every[:, axis]).sum() / max(extent, 1e-300))
    return 0 if shares[0] <= shares[1] else 2


def _cells(boxes: Floats, axis: int, low: float, width: float) -> tuple[Indices, Indices]:
    first = np.floor((boxes[:, axis] - low) / width).astype(np.intp)
    last = np.floor((boxes[:, axis + 1] - low) / width).astype(np.intp)
    return first, last - first + 1


def _spread(first: Indices, count: Indices) -> tuple[Indices, Indices]:
    return np.repeat(np.arange(len(first)), count), _ranges(first, count)


def _ranges(begin: Indices, count: Indices) -> Indices:
    """All indices of the ranges that begin and count so, one range after the other."""
    total = int(count.sum())
    shift = np.repeat(begin - np.concatenate([[0], np.cumsum(count)[:-1]]), count)
    return np.asarray(np.arange(total) + shift)
