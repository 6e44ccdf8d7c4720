"""An independent reader of plain ISO 6983 words: points and arcs as polylines, by geometry of its own."""

from __future__ import annotations

import cmath
import math
import re
from dataclasses import dataclass

WORD = re.compile(r"([GXZIKF])(-?\d*\.?\d*)")


@dataclass
class Motion:
    """One line: rapid or fed, the points that it passes (z + i r, mm), the gap of an arc's radii (mm)."""

    rapid: bool
    places: list[complex]
    feed: float
    gap: float = 0.0


def read_words(text: str) -> list[Motion]:
    """All motions; X as diameter, mm or inch as the heading says."""
    size = 25.4 if "g20" in text else 1.0
    here, mode, feed, motions = None, 0.0, 0.0, []
    for line in text.splitlines():
        bare = re.sub(r"\(.*?\)", "", line).strip()
        if not bare:
            continue
        found = {letter: float(digits) for letter, digits in WORD.findall(bare)}
        mode, feed = found.get("G", mode), found.get("F", feed)
        end = complex(found["Z"] * size, found["X"] * size / 2.0)
        if here is not None:
            motions.append(_motion(mode, here, end, found, size, feed * size))
        here = end
    return motions


def _motion(mode: float, here: complex, end: complex, found: dict[str, float], size: float, feed: float) -> Motion:
    if mode in (0.0, 1.0):
        return Motion(mode == 0.0, [here, end], feed)
    centre = here + complex(found["K"] * size, found["I"] * size)
    turn = cmath.phase((end - centre) / (here - centre))
    if mode == 2.0 and turn > 0.0:
        turn -= math.tau
    if mode == 3.0 and turn < 0.0:
        turn += math.tau
    steps = max(2, math.ceil(abs(turn) / 0.01))
    places = [centre + (here - centre) * cmath.exp(1j * turn * index / steps) for index in range(steps)]
    return Motion(False, [*places, end], feed, abs(abs(here - centre) - abs(end - centre)))
