"""Roughness grades: ISO 1302:1992, table of grade numbers (left out of the standard since its 2002 edition).

The numbers are upper limits: a surface is of the finest grade whose limit it does not pass. The two columns are rounded
each for itself (63 microinches are 1.6002 micrometres), so a surface that keeps either of them is of the grade.
"""

from __future__ import annotations

# Grade, limit of Ra in micrometres, limit in microinches.
GRADES = (
    ("N1", 0.025, 1),
    ("N2", 0.05, 2),
    ("N3", 0.1, 4),
    ("N4", 0.2, 8),
    ("N5", 0.4, 16),
    ("N6", 0.8, 32),
    ("N7", 1.6, 63),
    ("N8", 3.2, 125),
    ("N9", 6.3, 250),
    ("N10", 12.5, 500),
    ("N11", 25.0, 1000),
    ("N12", 50.0, 2000),
)

_MICROINCH = 0.0254  # micrometres
_ROUNDING = 1 + 1e-9


def grade_of(ra: float) -> str | None:
    """The grade that a surface of `ra` [mm, above 0] meets; None when it is worse than N12. Source: ISO 1302:1992.

    >>> grade_of(0.0016), grade_of(0.0074), grade_of(0.051)
    ('N7', 'N10', None)
    """
    micrometres = ra * 1000
    return next((grade for grade, um, uin in GRADES if micrometres <= max(um, uin * _MICROINCH) * _ROUNDING), None)
