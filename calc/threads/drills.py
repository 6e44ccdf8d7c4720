"""The drill for a tapped or bored-out hole, and how much of the thread it leaves."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from calc.language.quantities import Diameter, Length, Ratio
from calc.language.working import formula
from calc.threads.designation import INCH
from calc.threads.profile import sharp_height
from calc.threads.tables import table
from calc.threads.thread import Thread

USUAL_SHARE = 0.75  # of the depth 3/4 H, for unified threads; common practice, no source
FINE_STEPS = 3.0  # mm: below it drills go by 0.05 mm, from it on by 0.1 mm; ISO 2306
_PIPE_DRILLS = {"1/8": 8.8, "1/4": 11.8, "3/8": 15.25, "1/2": 19.0, "5/8": 21.0, "3/4": 24.5, "7/8": 28.25, "1": 30.75}
"""Drills [mm] for G threads; ISO 2306, from memory."""


@dataclass(frozen=True, slots=True)
class TapDrill:
    """A drill: its diameter [mm], and what it is called in the drawer (a number, a letter, a fraction), "" in mm."""

    diameter: float
    name: str = ""


@formula(source="ISO 2306", means="drill before tapping", result="d_t")
def drill_before_tapping(D: Diameter, P: Length) -> Diameter:
    """Drill [mm] before tapping a thread `D` with pitch `P` [mm], before rounding. Source: ISO 2306.

    >>> drill_before_tapping(8.0, 1.25)
    6.75
    """
    return D - P


@formula(source="tap-drill charts: of the depth 3/4 H per side", means="share of the thread", result="q")
def thread_share(D: Diameter, d_t: Diameter, H: Length) -> Ratio:
    """Share of a full thread `D` that a hole `d_t` leaves, the depth 3/4 `H` per side being full, all [mm].

    Source: definition of tap-drill charts (D less 1.299 P is 100 %).

    >>> round(thread_share(8.0, 6.8, 1.0825), 3)
    0.739
    """
    return (D - d_t) / (1.5 * H)


def share_left(thread: Thread, diameter: float) -> float:
    """The share of the thread that a hole of `diameter` [mm] leaves. Source: as `thread_share`.

    >>> from calc.threads.thread import thread_of
    >>> round(share_left(thread_of("M8", "inside"), 6.8), 3)
    0.739
    """
    sizes = thread.sizes
    return thread_share(thread.named.diameter, diameter, sharp_height(sizes.pitch_length, sizes.alpha))


def tap_drill(thread: Thread) -> TapDrill | None:
    """The drill for the inside thread that goes with `thread`; None for those that are not drilled to size.

    Metric: D - P, rounded as ISO 2306 does. Unified: the inch drill nearest to three quarters of the thread. G and
    taper pipe threads: by the tables.

    >>> from calc.threads.thread import thread_of
    >>> tap_drill(thread_of("M8")).diameter, tap_drill(thread_of("M12")).diameter
    (6.8, 10.2)
    >>> tap_drill(thread_of("1/4-20 UNC")).name, tap_drill(thread_of("NPT 1/2")).name
    ('#7', '23/32')
    """
    named = thread.named
    if named.family == "M":
        return TapDrill(_metric_step(drill_before_tapping(named.diameter, named.pitch)))
    if named.family == "UN":
        height = sharp_height.function(named.pitch, thread.sizes.alpha)
        return nearest_inch_drill(named.diameter - USUAL_SHARE * 1.5 * height)
    if named.family == "NPT":
        return nearest_inch_drill(table("pipe")["npt"][named.size][4] * INCH)
    if named.family == "G" and named.size in _PIPE_DRILLS:
        return TapDrill(_PIPE_DRILLS[named.size])
    return None


def _metric_step(diameter: float) -> float:
    """Rounded to the steps of drills; halves to the even tenth, as ISO 2306 has 6.8 for 6.75 and 10.2 for 10.25."""
    if diameter < FINE_STEPS:
        return round(round(diameter / 0.05) * 0.05, 2)
    return round(round(round(diameter * 10.0, 6)) / 10.0, 1)


@cache
def inch_drills() -> tuple[tuple[float, str], ...]:
    """Number, letter and fraction drills up to 4 in, as (diameter [in], name), by size. Source: ASME B94.11M.

    >>> dict(map(reversed, inch_drills()))["#7"]
    0.201
    """
    drills = table("unified")["drills"]
    named = [(inches, f"#{number}") for number, inches in enumerate(drills["numbers"], 1)]
    named += [(inches, chr(ord("A") + place)) for place, inches in enumerate(drills["letters"])]
    named += [(sixty / 64, _fraction(sixty)) for sixty in range(1, 257)]
    return tuple(sorted(named))


def _fraction(sixty: int) -> str:
    whole, rest = divmod(sixty, 64)
    under = 64
    while rest and rest % 2 == 0:
        rest, under = rest // 2, under // 2
    return " ".join([*([str(whole)] if whole else []), *([f"{rest}/{under}"] if rest else [])])


def nearest_inch_drill(diameter: float) -> TapDrill:
    """The inch drill nearest to a `diameter` [mm]; beyond 4 in the diameter itself.

    >>> nearest_inch_drill(0.4375 * 25.4).name
    '7/16'
    """
    inches, name = min(inch_drills(), key=lambda drill: abs(drill[0] - diameter / INCH))
    return TapDrill(inches * INCH, name) if diameter / INCH < inch_drills()[-1][0] else TapDrill(diameter)
