"""How near is the same: every limit is a ratio, to be multiplied by the size of what is compared.

Nothing here is a length, so an inch part and the same part in mm are decided alike.
"""

ROUNDING = 2.0**-44
"""What computing in double precision leaves behind, with room: 256 units in the last place."""

GAP = 1e-9
"""Two ends nearer than this are one joint; two radii of one arc agree within it."""

SMOOTH = 1e-6
"""Radians: two elements whose headings differ by less join smoothly (1 µm of step on 1 m)."""
