"""The finish on a flat surface when the feed is so large that the straight trailing edge cuts beside the nose.

Each turn leaves the nose's arc, then the straight edge at its angle to the surface, up to the arc of the next turn.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import asin, cos, sin, sqrt, tan

from calc.language.quantities import Angle, Feed, Length, Radius, Roughness
from calc.language.working import formula

_SHAW = "geometry of nose and trailing edge; as in handbooks of metal cutting, from memory"


@formula(source=_SHAW, means="feed from which the trailing edge cuts", result="f_1", symbols={"kappa": "κ'"})
def feed_of_trailing_edge(r: Radius, kappa: Angle) -> Feed:
    """Feed [mm/rev] above which the trailing edge at `kappa` [rad] cuts beside the nose of `r` [mm]. Source: geometry.

    >>> from math import radians
    >>> round(feed_of_trailing_edge(0.4, radians(5.0)), 6)
    0.069725
    """
    return 2 * r * sin(kappa)


@formula(source=_SHAW, means="peak height with the trailing edge, exact", result="h", symbols={"kappa": "κ'"})
def peak_with_trailing_edge(f: Feed, r: Radius, kappa: Angle) -> Roughness:
    """Peak height [mm] at feed `f` [mm/rev], nose `r` [mm], trailing edge at `kappa` [rad], which cuts beside the nose.

    Source: geometry: where the edge meets the next turn's arc.

    >>> from math import radians
    >>> round(peak_with_trailing_edge(0.5, 0.4, radians(29.0)) * 1000, 4)
    83.9257
    """
    return (
        r * (1 - cos(kappa)) + f * sin(kappa) * cos(kappa) - sqrt(2 * f * r * sin(kappa) ** 3 - f**2 * sin(kappa) ** 4)
    )


@dataclass(frozen=True, slots=True)
class Ridge:
    """The profile over one feed [mm]: nose radius [mm], angle of the trailing edge [rad], peak height [mm]."""

    feed: Feed
    nose_radius: Radius
    trailing_angle: Angle
    height: Length

    def mean(self) -> float:
        """Height of the mean line [mm]: the area below the profile over the feed.

        >>> from math import radians
        >>> ridge = Ridge(0.5, 0.4, radians(29.0), peak_with_trailing_edge.function(0.5, 0.4, radians(29.0)))
        >>> 0.0 < ridge.mean() < ridge.height / 2
        True
        """
        peak = self._peak_at()
        return (self._below(peak) + _arc(self.nose_radius, self.feed - peak)) / self.feed

    def ra(self) -> float:
        """Ra [mm]: twice the area of the valley below the mean line, over the feed. Source: ISO 21920-2."""
        mean, r = self.mean(), self.nose_radius
        left, right = self._left_at(mean), sqrt(mean * (2 * r - mean))
        area = mean * (left + right) - self._below(left) - _arc(r, right)
        return 2 * area / self.feed

    def _peak_at(self) -> float:
        return self.feed - sqrt(self.height * (2 * self.nose_radius - self.height))

    def _left_at(self, height: float) -> float:
        """Where the trailing side reaches a height [mm]."""
        r, kappa = self.nose_radius, self.trailing_angle
        end = r * (1 - cos(kappa))
        if height <= end:
            return sqrt(height * (2 * r - height))
        return r * sin(kappa) + (height - end) / tan(kappa)

    def _below(self, x: float) -> float:
        """Area [mm2] below the trailing side from the deepest point to `x` [mm]."""
        r, kappa = self.nose_radius, self.trailing_angle
        end = r * sin(kappa)
        if x <= end:
            return _arc(r, x)
        beyond = x - end
        return _arc(r, end) + beyond * r * (1 - cos(kappa)) + beyond**2 * tan(kappa) / 2


def _arc(r: float, x: float) -> float:
    """Area [mm2] between a nose arc and its tangent, from the point of contact to `x` [mm]."""
    return r * x - (x * sqrt(r**2 - x**2) + r**2 * asin(x / r)) / 2
