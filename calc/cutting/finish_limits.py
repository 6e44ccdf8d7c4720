"""Where the finish of a round nose stops following its formula: very small feeds, and edges with a wiper.

Below a smallest thickness the edge presses the chip aside instead of cutting it, and the ridge that stays grows again
as the feed falls.
"""

from __future__ import annotations

from math import sqrt

from calc.cutting.chip import LEAST_CHIP_SHARE, least_chip
from calc.language.messages import Caution, Message, Quantity
from calc.language.quantities import FEED, ROUGHNESS, Feed, Length, Radius, Ratio, Roughness
from calc.language.working import formula

WIPER_SHARE = 0.5  # of the Ra of a plain nose at the same feed; printed turning guides, from memory: an approximation
_PLOUGHING = "Die Entstehung der Oberflächenrauheit beim Feindrehen (1961), from memory"
_WIPER = "printed turning guides, from memory: half the Ra at the same feed; an approximation"


@formula(source=_PLOUGHING, means="feed below which it gets rougher again", result="f_min")
def smoothest_feed(r: Radius, h_min: Length) -> Feed:
    """Feed [mm/rev] at which a nose of `r` [mm] leaves the lowest peaks, if chips below `h_min` [mm] do not come off.

    Source: Die Entstehung der Oberflächenrauheit beim Feindrehen (1961), from memory; its peak height, made least.

    >>> round(smoothest_feed(0.8, 0.009), 4)
    0.12
    """
    return sqrt(2 * r * h_min)


@formula(source=_PLOUGHING, means="peak height with what is pressed aside", result="h_s")
def peak_with_pressing(f: Feed, r: Radius, h_min: Length) -> Roughness:
    """Peak height [mm] at feed `f` [mm/rev] with a nose of `r` [mm] and a smallest chip thickness of `h_min` [mm].

    Source: Die Entstehung der Oberflächenrauheit beim Feindrehen (1961), from memory.

    >>> round(peak_with_pressing(0.2, 0.8, 0.0) * 1000, 9)
    6.25
    >>> round(peak_with_pressing(0.12, 0.8, 0.009) * 1000, 9)
    9.0
    """
    return f**2 / (8 * r) + h_min / 2 * (1 + r * h_min / f**2)


@formula(source=_WIPER, means="Ra with a wiper", result="Ra_w")
def wiper_ra(c: Ratio, Ra: Roughness) -> Roughness:
    """Ra [mm] of an edge with a wiper, as the share `c` of that of the plain nose. Source: printed turning guides.

    >>> wiper_ra(0.5, 0.0016)
    0.0008
    """
    return c * Ra


def smallest_chip(edge_radius: float) -> float:
    """The smallest chip thickness [mm] of an edge rounded by `edge_radius` [mm]. Source: as `least_chip`.

    >>> round(smallest_chip(0.03), 4)
    0.009
    """
    return least_chip(LEAST_CHIP_SHARE, edge_radius)


def pressed_peak(feed: float, nose_radius: float, least_chip: float) -> float | None:
    """Peak height [mm] with what is pressed aside at `feed` [mm/rev]; None below the feed that leaves the lowest peaks.

    The published model was made for feeds from there on; below, its peaks run away (17.9 um at 0.05 mm/rev, nose
    0.8 mm, smallest chip 0.009 mm), which no turned surface shows.

    >>> pressed_peak(0.05, 0.8, 0.009) is None, round(pressed_peak(0.2, 0.8, 0.009) * 1000, 2)
    (True, 11.56)
    """
    if feed < smoothest_feed(nose_radius, least_chip):
        return None
    return peak_with_pressing(feed, nose_radius, least_chip)


def pressing_caution(feed: float, least: float, peak: float) -> Caution | None:
    """A caution when `feed` [mm/rev] is below the `least` that the model of pressing holds for; `peak` [mm] there.

    >>> pressing_caution(0.2, 0.12, 0.009) is None
    True
    """
    if feed >= least:
        return None
    values = {"feed": Quantity(feed, FEED), "least": Quantity(least, FEED), "peak": Quantity(peak, ROUGHNESS)}
    return Caution(Message(_PRESSES, values), 2, "feed")


_PRESSES = (
    "{feed} is below the {least} from which the finish formula holds with this edge: the chip is pressed aside, and "
    "the published model ends there with peaks of about {peak}. Expect no less; feed more, or take a sharper edge."
)
