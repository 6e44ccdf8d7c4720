"""What a threading insert must be: its nose, the tilt of its shim, the clearance that is left at its flanks."""

from __future__ import annotations

from dataclasses import dataclass
from math import atan, degrees, radians, sin, tan
from typing import Literal

from calc.language.limited import Limited, aimed
from calc.language.quantities import Angle, Diameter, Length, Ratio
from calc.language.working import formula
from calc.threads.profile import sharp_height
from calc.threads.thread import Thread

InsertProfile = Literal["full", "partial"]
PROFILES: dict[InsertProfile, str] = {
    "full": "full profile, for this pitch alone",
    "partial": "partial profile, for a range of pitches",
}
CLEARANCE = {
    True: radians(10.0),
    False: radians(15.0),
}  # of threading inserts outside, inside; trade handbooks, from memory
SHIM_STEP = 1.0  # degrees from one shim to the next; common practice, no source
MOST_SHIM = 4.0  # degrees, the steepest shim that is usual; common practice, no source


@dataclass(frozen=True, slots=True)
class NoseRange:
    """The nose radii [mm] that a thread's root allows."""

    least: float
    most: float


@formula(source="clearance tilted into the flank", means="clearance at the flanks", result="alpha_f")
def flank_clearance(alpha_n: Angle, alpha: Angle) -> Angle:
    """Clearance [rad] at flanks `alpha` to the normal of an insert with the clearance `alpha_n` at its tip [rad].

    Source: geometry; printed threading handbooks have 5.8 degrees for 10 and 8.8 for 15 at a 60 degree thread.

    >>> from math import degrees, radians
    >>> round(degrees(flank_clearance(radians(10.0), radians(30.0))), 1)
    5.8
    """
    return atan(tan(alpha_n) * tan(alpha))


@formula(source="nose between both flanks", means="diameter at the tip of the tool outside", result="d_t")
def tip_outside(d_2: Diameter, H: Length, r: Length, q: Ratio) -> Diameter:
    """Diameter [mm] at the tip of a tool with nose `r` [mm] that leaves the pitch diameter `d_2` [mm] outside.

    `H` is the sharp height, `q` the reach of the nose over its radius (1 at 60 degrees). Source: geometry.

    >>> round(tip_outside(21.903, 2.598076, 0.433, 1.0), 3)
    20.171
    """
    return d_2 - H + 2 * q * r


@formula(source="nose between both flanks", means="diameter at the tip of the tool inside", result="d_t")
def tip_inside(D_2: Diameter, H: Length, r: Length, q: Ratio) -> Diameter:
    """Diameter [mm] at the tip of a tool with nose `r` [mm] that leaves the pitch diameter `D_2` [mm] inside.

    `H` and `q` as for `tip_outside`. Source: geometry.

    >>> round(tip_inside(22.184, 2.598076, 0.2, 1.0), 3)
    24.382
    """
    return D_2 + H - 2 * q * r


def nose_reach(alpha: float) -> float:
    """How far the flanks' meeting point lies below a round nose, over its radius, flanks at `alpha` [rad].

    Source: geometry: 1 / sin(alpha) - 1.

    >>> from math import radians
    >>> round(nose_reach(radians(30.0)), 9)
    1.0
    """
    return 1.0 / sin(alpha) - 1.0


def nose_range(thread: Thread) -> NoseRange | None:
    """The nose radii that leave a root within its limits at the aimed pitch diameter; None where it has no limits.

    Outside between the root's limits; inside from sharp up to the radius that just clears the major diameter.

    >>> from calc.threads.thread import thread_of
    >>> found = nose_range(thread_of("M24-6g"))
    >>> round(found.least, 3), round(found.most, 3)
    (0.325, 0.483)
    """
    sizes = thread.sizes
    height = sharp_height.function(sizes.pitch_length, sizes.alpha)
    reach = 2.0 * nose_reach(sizes.alpha)
    pitch = aimed(sizes.pitch)
    if sizes.outside and isinstance(sizes.minor, Limited):
        low, high = ((end - pitch + height) / reach for end in (sizes.minor.lower, sizes.minor.upper))
        return NoseRange(max(low, 0.0), high)
    if not sizes.outside and isinstance(sizes.major, Limited):
        return NoseRange(0.0, (pitch + height - sizes.major.lower) / reach)
    return None


def tip_diameter(thread: Thread, nose: float | None) -> float:
    """The diameter [mm] to which the tool's tip goes for the aimed pitch diameter; with a `nose` [mm] by its geometry.

    Without one: outside the middle of the root's limits, inside the profile's own root at the aimed pitch diameter.

    >>> from calc.threads.thread import thread_of
    >>> round(tip_diameter(thread_of("M24-6g"), None), 3), round(tip_diameter(thread_of("M24-6g"), 0.433), 3)
    (20.113, 20.171)
    """
    sizes = thread.sizes
    if nose is not None:
        height = sharp_height(sizes.pitch_length, sizes.alpha)
        tip = tip_outside if sizes.outside else tip_inside
        return tip(aimed(sizes.pitch), height, nose, nose_reach(sizes.alpha))
    if sizes.outside:
        return aimed(sizes.minor)
    basic = sizes.major.value if isinstance(sizes.major, Limited) else sizes.major
    return basic + aimed(sizes.pitch) - sizes.basic.pitch


def shim_angle(thread: Thread, *, pulling: bool) -> float:
    """The shim [rad] whose tilt is nearest to the lead angle; against it where the tool is fed away from its hand.

    `pulling` for a thread cut away from the side that the tool is made for. Source: common practice, no source.

    >>> from math import degrees
    >>> from calc.threads.thread import thread_of
    >>> round(degrees(shim_angle(thread_of("Tr 40x7"), pulling=False)))
    3
    """
    tilt = min(round(degrees(thread.lead_angle) / SHIM_STEP) * SHIM_STEP, MOST_SHIM)
    return radians(-tilt if pulling else tilt)
