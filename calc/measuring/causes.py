"""What can be wrong when the first part comes off: each cause, how large it plausibly is, what precision is of use."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, NamedTuple

Name = Literal["offset_x", "offset_z", "nose_radius_change", "centre_height", "taper", "deflection", "growth"]


class State(NamedTuple):
    """How the tool really stands and what it really is, against what the control was given.

    `x` and `z`: by how much the tool point stands off (mm, radius, ISO signs); `nose`: true nose radius less the one
    believed (mm); `height_squared`: the square of the tool's height above or below the axis (mm2), whose effect is
    linear; `taper`: change of diameter per length toward +Z; `deflection`: how far the work springs away at Z 0 (mm,
    radius); `growth`: by how much the tool stands farther out in Z at the second part than at the first (mm).
    """

    x: float = 0.0
    z: float = 0.0
    nose: float = 0.0
    height_squared: float = 0.0
    taper: float = 0.0
    deflection: float = 0.0
    growth: float = 0.0


@dataclass(frozen=True, slots=True)
class Cause:
    """A cause as the solver knows it; lengths in mm, the height's in mm2.

    `plausible` bounds it (95 %) before anything is measured: a lathe in order has no larger error that nobody sees, so
    a part with fewer readings than causes is still answered. None: an offset can be anything. Once the readings show
    the cause by themselves, the bound is dropped. `useful` is a half width with which the setter can work. One that is
    `special` is only thought of where the readings can show it. One that is `shared` belongs to machine and clamping:
    every tool that worked in it shows the same.
    """

    name: Name
    words: str
    plausible: float | None
    useful: float
    special: bool = False
    shared: bool = False


# Plausible and useful sizes: common practice, no source. A nose within 0.2, a tool within 0.25 of centre height, a
# taper within 0.02 on 100, work springing away by 0.02, growth of 0.05; wanted to 0.04 on diameter, 0.03 along Z and of
# the nose, 0.2 of height, 0.01 on 100 of taper, 0.01 of deflection and growth.
CAUSES = (
    Cause("offset_x", "X offset", None, 0.02),
    Cause("offset_z", "Z offset", None, 0.03),
    Cause("nose_radius_change", "nose radius", 0.2, 0.03),
    Cause("centre_height", "tool’s centre height", 0.25**2, 0.2**2),
    Cause("taper", "taper of the work", 0.0002, 0.0001, shared=True),
    Cause("deflection", "work springing away", 0.02, 0.01, special=True),
    Cause("growth", "growth in Z between the parts", 0.05, 0.01, special=True, shared=True),
)
ANYTHING = 100.0
"""What is known beforehand (95 %) of an offset, and of a cause that the readings show by themselves: nothing."""
