"""Roughness grades: ISO 1302:1992, table of grade numbers (left out of the standard since its 2002 edition).

The numbers are upper limits: a surface is of the finest grade whose limit it does not pass.
"""

from __future__ import annotations

# Grade and its limit of Ra in micrometres. Drawings in inches print the rounded microinches 1, 2, 4 ... 32, 63, 125.
GRADES = (
    ("N1", 0.025),
    ("N2", 0.05),
    ("N3", 0.1),
    ("N4", 0.2),
    ("N5", 0.4),
    ("N6", 0.8),
    ("N7", 1.6),
    ("N8", 3.2),
    ("N9", 6.3),
    ("N10", 12.5),
    ("N11", 25.0),
    ("N12", 50.0),
)  # fmt: skip

_ROUNDING = 1 + 1e-9


def grade_of(ra: float) -> str | None:
    """The grade that a surface of `ra` [mm, above 0] meets; None when it is worse than N12. Source: ISO 1302:1992.

    >>> grade_of(0.0016), grade_of(0.0074), grade_of(0.051)
    ('N7', 'N10', None)
    """
    micrometres = ra * 1000
    return next((grade for grade, limit in GRADES if micrometres <= limit * _ROUNDING), None)
