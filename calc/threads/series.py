"""Standard threads of the same kind as one that is written: the sizes beside it in its own series."""

from __future__ import annotations

from collections.abc import Iterator

from calc.threads.designation import Designation, read_designation
from calc.threads.tables import table

NEAR = (0.4, 2.5)
"""A thread beside another has a diameter within these parts of its own."""


def beside(text: str) -> tuple[str, ...]:
    """Designations of standard threads of the same series, class, hand and starts, smallest first, `text` left out.

    Coarse stays coarse and fine stays fine. Raises OutOfRange for what is no thread.

    >>> beside("M24x2-6g")[:3], beside("1/4-20 UNC-2B")[:2], beside("G 1/2 A")[-1]
    (('M10x1.25-6g', 'M10x1-6g', 'M10x0.75-6g'), ('#4-40 UNC-2B', '#5-40 UNC-2B'), 'G 1 1/2 A')
    """
    own = read_designation(text)
    found = dict.fromkeys(_written(own, each) for each in _sizes(own))
    named = [(read_designation(each), each) for each in found]
    low, high = (share * own.diameter for share in NEAR)
    near = [(one.diameter, each) for one, each in named if low <= one.diameter <= high and not _same(one, own)]
    return tuple(each for _, each in sorted(near, key=lambda pair: pair[0]))


def _same(one: Designation, other: Designation) -> bool:
    return (one.diameter, one.pitch) == (other.diameter, other.pitch)


def _sizes(own: Designation) -> Iterator[str]:
    """The standard sizes of the family as they are written, without what stands behind the size."""
    power = table("power")
    if own.family == "M":
        yield from _metric(own)
    elif own.family == "Tr":
        for diameter, pitches in power["trapezoidal"]["pitches"].items():
            pitch = pitches[0]
            yield f"Tr {diameter}x{own.starts * pitch:g} P{pitch:g}" if own.starts > 1 else f"Tr {diameter}x{pitch:g}"
    elif own.family == "UN":
        series = own.series if own.series in ("UNC", "UNF", "UNEF") else "UNC"
        yield from (f"{size}-{per_inch:g} {series}" for size, per_inch in table("unified")[series].items())
    elif own.family == "ACME":
        yield from (f"ACME {size}-{per_inch:g}" for size, per_inch in power["acme"].items())
    elif own.family == "Rd":
        yield from (f"Rd {diameter}" for diameter in ROUND)
    else:
        rows = table("pipe")[{"G": "parallel", "R": "taper", "NPT": "npt"}[own.family]]
        yield from (f"{own.series} {size}" for size in rows)


ROUND = (8, 9, 10, 11, 12, 14, 16, 18, 20, 22, 24, 26, 28, 30, 32, 36, 40, 44, 48, 52, 55, 60, 65, 70, 75, 80, 90, 100)
"""Diameters of round threads [mm]; DIN 405, from memory."""


def _metric(own: Designation) -> Iterator[str]:
    rows = table("metric")["pitches"]
    coarse = rows.get(f"{own.diameter:g}", [0])[0] == own.pitch
    for diameter, pitches in rows.items():
        if coarse and pitches[0]:
            yield f"M{diameter}"
        elif not coarse:
            yield from (f"M{diameter}x{pitch:g}" for pitch in pitches[1:])


def _written(own: Designation, size: str) -> str:
    """A size with the class, the hand and, of an inch thread, the starts of one's own."""
    starts = (f"{own.starts}START",) if own.starts > 1 and own.family != "Tr" else ()
    classes = (" " if own.family == "G" else "-").join(("", *own.classes))
    return "-".join([size + classes, *starts, *(["LH"] if own.left else [])])
