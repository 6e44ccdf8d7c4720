"""The formulas of the finish that a round nose leaves, as a reader follows them.

Each turn leaves the print of the nose; neighbouring prints meet in a peak. On a flat surface the nose centres lie on a
line, on an arc of radius R they lie on an arc of radius R - r inside it or R + r outside it, and the feed is measured
along the contour.
"""

from __future__ import annotations

from math import asin, sin, sqrt

from calc.language.quantities import Angle, Feed, Length, Radius, Ratio, Roughness
from calc.language.working import formula

_CIRCLES = "geometry: neighbouring nose circles meet"
_RULE = "common practice; the circle taken as a parabola"
_FEED_ON_ARC = "definition: the feed is measured along the contour"


@formula(source=_FEED_ON_ARC, means="half the angle from one nose centre to the next", result="beta")
def half_step(f: Feed, R: Radius) -> Angle:
    """Half of the angle [rad] that feed `f` [mm] spans on a surface of radius `R` [mm]. Source: arc length.

    >>> half_step(0.2, 50.0)
    0.002
    """
    return f / (2 * R)


@formula(source="geometry", means="half the distance from one nose centre to the next", result="w")
def half_spacing_inside(R: Radius, r: Radius, beta: Angle) -> Length:
    """Half of the distance [mm] between nose centres inside a concave surface of radius `R` [mm]. Source: geometry.

    >>> round(half_spacing_inside(75.0, 6.0, 0.002), 6)
    0.138
    """
    return (R - r) * sin(beta)


@formula(source="geometry", means="half the distance from one nose centre to the next", result="w")
def half_spacing_outside(R: Radius, r: Radius, beta: Angle) -> Length:
    """Half of the distance [mm] between nose centres outside a convex surface of radius `R` [mm]. Source: geometry.

    >>> round(half_spacing_outside(75.0, 6.0, 0.002), 6)
    0.162
    """
    return (R + r) * sin(beta)


@formula(source=_CIRCLES, means="peak height, exact", result="h")
def peak_height_flat(f: Feed, r: Radius) -> Roughness:
    """Peak height [mm] on a flat surface for feed `f` up to twice the nose radius `r` [mm].

    The same as r - sqrt(r**2 - f**2/4), without the difference of two nearly equal numbers. Source: geometry.

    >>> round(peak_height_flat(0.2, 0.8) * 1000, 4)
    6.2746
    """
    return f**2 / (4 * (r + sqrt(r**2 - f**2 / 4)))


@formula(source=_CIRCLES, means="peak height, exact", result="h")
def peak_height_concave(w: Length, r: Radius, R: Radius, beta: Angle) -> Roughness:
    """Peak height [mm] in a concave surface: the nose circle's rise at `w` [mm], and what its centres stand back.

    Source: geometry.

    >>> round(peak_height_concave(half_spacing_inside(75.0, 6.0, 0.002), 6.0, 75.0, 0.002) * 1000, 4)
    1.7252
    """
    return w**2 / (r + sqrt(r**2 - w**2)) + 2 * (R - r) * sin(beta / 2) ** 2


@formula(source=_CIRCLES, means="peak height, exact", result="h")
def peak_height_convex(w: Length, r: Radius, R: Radius, beta: Angle) -> Roughness:
    """Peak height [mm] on a convex surface: the nose circle's rise at `w` [mm], less what its centres stand back.

    Source: geometry.

    >>> round(peak_height_convex(half_spacing_outside(75.0, 6.0, 0.002), 6.0, 75.0, 0.002) * 1000, 4)
    2.0254
    """
    return w**2 / (r + sqrt(r**2 - w**2)) - 2 * (R + r) * sin(beta / 2) ** 2


@formula(source=_RULE, means="peak height by the rule", result="h_rule")
def peak_rule_flat(f: Feed, r: Radius) -> Roughness:
    """Peak height [mm] by the rule on a flat surface. Source: common practice.

    >>> round(peak_rule_flat(0.2, 0.8) * 1000, 9)
    6.25
    """
    return f**2 / (8 * r)


@formula(source=_RULE, means="peak height by the rule", result="h_rule")
def peak_rule_concave(f: Feed, r: Radius, R: Radius) -> Roughness:
    """Peak height [mm] by the rule in a concave surface of radius `R` [mm]. Source: the rule, curvatures subtracted.

    >>> round(peak_rule_concave(0.3, 6.0, 75.0) * 1000, 4)
    1.725
    """
    return f**2 / 8 * (1 / r - 1 / R)


@formula(source=_RULE, means="peak height by the rule", result="h_rule")
def peak_rule_convex(f: Feed, r: Radius, R: Radius) -> Roughness:
    """Peak height [mm] by the rule on a convex surface of radius `R` [mm]. Source: the rule, curvatures added.

    >>> round(peak_rule_convex(0.3, 6.0, 75.0) * 1000, 4)
    2.025
    """
    return f**2 / 8 * (1 / r + 1 / R)


@formula(
    source="mean deviation from the mean line (ISO 21920-2), the nose circle integrated exactly over one feed",
    means="Ra, exact",
    result="Ra",
    symbols={"c": "c_Ra"},
)
def ra_from_peak(c: Ratio, h: Roughness) -> Roughness:
    """Ra [mm] from the peak height `h` [mm] and the share `c` of it that the shape of the peaks makes.

    The share is 4/(9 sqrt 3) = 0.257 for shallow peaks. Source: definition of Ra (ISO 21920-2).

    >>> round(ra_from_peak(0.2564, peak_height_flat(0.2, 0.8)) * 1000, 4)
    1.6088
    """
    return c * h


@formula(source=_RULE, means="Ra by the rule", result="Ra_rule")
def ra_rule(h_rule: Roughness) -> Roughness:
    """Ra [mm] from the peak height by the rule: for a parabola exactly 4/(9 sqrt 3) of it. Source: mean of a parabola.

    >>> round(ra_rule(peak_rule_flat(0.2, 0.8)) * 1000, 4)
    1.6038
    """
    return 4 * h_rule / (9 * sqrt(3))


@formula(source=_CIRCLES, means="feed for a peak height", result="f")
def feed_for_peak_flat(h: Roughness, r: Radius) -> Feed:
    """Feed [mm/rev] that leaves peaks of `h` [mm, at most the nose radius] on a flat surface. Source: geometry.

    >>> round(feed_for_peak_flat(0.0062746066, 0.8), 6)
    0.2
    """
    return 2 * sqrt(h * (2 * r - h))


@formula(source=_CIRCLES, means="half the angle from one nose centre to the next", result="beta")
def half_step_for_peak_concave(h: Roughness, r: Radius, R: Radius) -> Angle:
    """Half of the angle [rad] of the feed that leaves peaks of `h` [mm] in a concave surface. Source: law of cosines.

    >>> round(feed_on_arc(half_step_for_peak_concave(0.0017252, 6.0, 75.0), 75.0), 4)
    0.3
    """
    return 2 * asin(sqrt(h * (2 * r - h) / (4 * (R - r) * (R - h))))


@formula(source=_CIRCLES, means="half the angle from one nose centre to the next", result="beta")
def half_step_for_peak_convex(h: Roughness, r: Radius, R: Radius) -> Angle:
    """Half of the angle [rad] of the feed that leaves peaks of `h` [mm] on a convex surface. Source: law of cosines.

    >>> round(feed_on_arc(half_step_for_peak_convex(0.0020254, 6.0, 75.0), 75.0), 4)
    0.3
    """
    return 2 * asin(sqrt(h * (2 * r - h) / (4 * (R + r) * (R + h))))


@formula(source=_FEED_ON_ARC, means="feed along the contour", result="f")
def feed_on_arc(beta: Angle, R: Radius) -> Feed:
    """Feed [mm/rev] that spans twice the angle `beta` [rad] on a surface of radius `R` [mm]. Source: arc length.

    >>> feed_on_arc(0.002, 50.0)
    0.2
    """
    return 2 * R * beta


@formula(source=_RULE, means="feed for a Ra by the rule", result="f_rule")
def feed_rule_flat(Ra: Roughness, r: Radius) -> Feed:
    """Feed [mm/rev] for a wanted Ra [mm] by the rule on a flat surface. Source: the rule, solved for the feed.

    >>> round(feed_rule_flat(0.0016, 0.8), 4)
    0.1998
    """
    return sqrt(18 * sqrt(3) * Ra * r)


@formula(source=_RULE, means="feed for a Ra by the rule", result="f_rule")
def feed_rule_concave(Ra: Roughness, r: Radius, R: Radius) -> Feed:
    """Feed [mm/rev] for a wanted Ra [mm] by the rule in a concave surface. Source: the rule, solved for the feed.

    >>> round(feed_rule_concave(0.0004, 6.0, 75.0), 4)
    0.2852
    """
    return sqrt(18 * sqrt(3) * Ra * r * R / (R - r))


@formula(source=_RULE, means="feed for a Ra by the rule", result="f_rule")
def feed_rule_convex(Ra: Roughness, r: Radius, R: Radius) -> Feed:
    """Feed [mm/rev] for a wanted Ra [mm] by the rule on a convex surface. Source: the rule, solved for the feed.

    >>> round(feed_rule_convex(0.0004, 6.0, 75.0), 4)
    0.2632
    """
    return sqrt(18 * sqrt(3) * Ra * r * R / (R + r))


@formula(source="solved so that the exact Ra is the wanted one", means="feed for a Ra, exact", result="f")
def exact_feed(c: Ratio, f_rule: Feed) -> Feed:
    """Feed [mm/rev] from the rule's and the ratio `c` of the exact feed to it. Source: definition of Ra (ISO 21920-2).

    >>> round(exact_feed(0.99828, 0.1998), 4)
    0.1995
    """
    return c * f_rule


@formula(source="common practice, no source", means="largest feed for the nose", result="f_nose")
def feed_for_nose(r: Radius) -> Feed:
    """Largest feed [mm/rev] that a nose of radius `r` [mm] is given. Source: common practice.

    >>> feed_for_nose(0.8)
    0.4
    """
    return r / 2
