"""How wide an interval must be for 95 % when its width is judged by few readings."""

from __future__ import annotations

NORMAL_95 = 1.959964
"""The same for a width that is known: the normal law's factor."""
# Student's factor at 95 % (two sides) for 1 to 30 degrees of freedom; common statistical tables.
_FACTORS = (
    12.7062, 4.3027, 3.1824, 2.7764, 2.5706, 2.4469, 2.3646, 2.3060, 2.2622, 2.2281, 2.2010, 2.1788, 2.1604, 2.1448,
    2.1314, 2.1199, 2.1098, 2.1009, 2.0930, 2.0860, 2.0796, 2.0739, 2.0687, 2.0639, 2.0595, 2.0555, 2.0518, 2.0484,
    2.0452, 2.0423,
)  # fmt: skip


def quantile_95(free: int) -> float:
    """Student's factor at 95 %, two sides, for `free` degrees of freedom (1 or more).

    Source: tables of Student's distribution; above 30 the first terms of its expansion about the normal law.

    >>> quantile_95(1), quantile_95(4), round(quantile_95(60), 3)
    (12.7062, 2.7764, 2.0)
    """
    if free <= len(_FACTORS):
        return _FACTORS[free - 1]
    z = NORMAL_95
    return z + (z**3 + z) / (4.0 * free) + (5.0 * z**5 + 16.0 * z**3 + 3.0 * z) / (96.0 * free**2)
