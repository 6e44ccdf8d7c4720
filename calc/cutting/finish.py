"""The finish that a round nose leaves for a feed, and the feed for a wanted finish."""

from __future__ import annotations

from dataclasses import dataclass
from math import sin
from typing import Literal, TypeAlias

from calc.contour.tolerance import ROUNDING
from calc.cutting import finish_formulas as formulas
from calc.cutting import trailing_edge as edge_formulas
from calc.cutting.roughness_grades import grade_of
from calc.cutting.scallop import Scallop, feed_for_ra, peak, ra_per_peak, rq, widest_feed
from calc.language.checks import require_positive
from calc.language.messages import Caution, Message, Quantity
from calc.language.problems import Contradiction, Fault, Impossible, Missing
from calc.language.quantities import FEED, RADIUS, ROUGHNESS

SurfaceShape: TypeAlias = Literal["flat", "concave", "convex"]

FINEST_PROMISED = 0.0008  # Ra [mm]; common practice, no source: below it wear and vibration decide, not the feed


@dataclass(frozen=True, slots=True)
class Surface:
    """What is cut: its shape, and its radius [mm] when it is curved."""

    shape: SurfaceShape = "flat"
    radius: float | None = None

    @property
    def curvature(self) -> float:
        """Curvature [1/mm]: above 0 concave, 0 flat, below 0 convex."""
        if self.radius is None:
            return 0.0
        return 1 / self.radius if self.shape == "concave" else -1 / self.radius


FLAT = Surface()


@dataclass(frozen=True, slots=True)
class Finish:
    """The finish of one cut: heights [mm], and the roughness grade (None: worse than N12).

    `by_edge` says that the straight trailing edge cut beside the nose; then Rq is not known.
    """

    peak_height: float
    peak_height_rule: float
    ra: float
    ra_rule: float
    grade: str | None
    rq: float | None = None
    by_edge: bool = False


def surface_of(shape: SurfaceShape, radius: float | None) -> Surface:
    """The surface from its shape and radius [mm, above 0]. Raises Missing, OutOfRange or Contradiction.

    >>> surface_of("concave", 75.0).curvature == 1 / 75
    True
    >>> surface_of("flat", 75.0)  # doctest: +ELLIPSIS
    Traceback (most recent call last):
    calc.language.problems.Contradiction: surface: A flat surface has no radius: choose concave or convex, or leave...
    """
    if shape == "flat":
        if radius is not None:
            said = Message("A flat surface has no radius: choose concave or convex, or leave it blank.")
            raise Contradiction(Fault("surface", said), fields=("surface", "surface_radius"))
        return FLAT
    if radius is None:
        said = Message("Give the radius of the {shape} surface.", {"shape": shape})
        raise Missing(Fault("surface_radius", said))
    require_positive(surface_radius=radius)
    return Surface(shape, radius)


def finish(feed: float, nose_radius: float, surface: Surface = FLAT, trailing_angle: float | None = None) -> Finish:
    """The finish that `feed` [mm/rev] leaves with a nose [mm] on a surface; the feed is measured along the contour.

    `trailing_angle` [rad] is that of the straight edge behind the nose, where it is to be minded; on a flat surface.

    Raises OutOfRange for values not above 0, Impossible when the nose does not fit into the surface or neighbouring
    prints of the nose no longer meet. Source: geometry; definition of Ra (ISO 21920-2); grades of ISO 1302:1992.

    >>> found = finish(0.2, 0.8)
    >>> round(found.peak_height * 1000, 4), round(found.ra * 1000, 4), found.grade
    (6.2746, 1.6088, 'N8')
    """
    require_positive(feed=feed, nose_radius=nose_radius)
    if trailing_angle is not None and surface.radius is None:
        edge_cuts_from = edge_formulas.feed_of_trailing_edge(nose_radius, trailing_angle)
        if feed > edge_cuts_from:
            return _finish_by_edge(feed, nose_radius, trailing_angle)
    shape = scallop_of(nose_radius, surface)
    widest = widest_feed(shape)
    if feed > widest:
        raise Impossible(Fault("feed", _too_wide(feed, nose_radius, widest)))
    height = _peak_height(feed, nose_radius, surface)
    height_rule = _peak_rule(feed, nose_radius, surface)
    ra = formulas.ra_from_peak(ra_per_peak(shape, feed), height)
    return Finish(height, height_rule, ra, formulas.ra_rule(height_rule), grade_of(ra), rq(shape, feed))


def _finish_by_edge(feed: float, nose_radius: float, trailing_angle: float) -> Finish:
    """The finish where the straight edge cuts beside the nose. Raises Impossible for a feed beyond nose and edge."""
    if feed > 2 * nose_radius / sin(trailing_angle):
        raise Impossible(Fault("feed", Message(_BEYOND_EDGE, {"feed": Quantity(feed, FEED)})))
    height = edge_formulas.peak_with_trailing_edge(feed, nose_radius, trailing_angle)
    if height > nose_radius:
        raise Impossible(Fault("feed", Message(_BEYOND_EDGE, {"feed": Quantity(feed, FEED)})))
    ridge = edge_formulas.Ridge(feed, nose_radius, trailing_angle, height)
    ra = formulas.ra_from_peak(ridge.ra() / height, height)
    rule = formulas.peak_rule_flat(feed, nose_radius)
    return Finish(height, rule, ra, formulas.ra_rule(rule), grade_of(ra), None, by_edge=True)


def feed_for_peak_height(peak_height: float, nose_radius: float, surface: Surface = FLAT) -> float:
    """The feed [mm/rev] that leaves peaks of `peak_height` [mm]; the widest possible when even that leaves less.

    Raises OutOfRange and Impossible as `finish` does. Source: geometry, closed form.

    >>> round(feed_for_peak_height(0.0062746067, 0.8), 6)
    0.2
    """
    require_positive(peak_height=peak_height, nose_radius=nose_radius)
    shape = scallop_of(nose_radius, surface)
    widest = widest_feed(shape)
    if peak_height >= peak(shape, widest):
        return widest
    if surface.radius is None:
        return formulas.feed_for_peak_flat(peak_height, nose_radius)
    concave = surface.shape == "concave"
    half_step = formulas.half_step_for_peak_concave if concave else formulas.half_step_for_peak_convex
    return formulas.feed_on_arc(half_step(peak_height, nose_radius, surface.radius), surface.radius)


def feed_for_mean_roughness(ra: float, nose_radius: float, surface: Surface = FLAT) -> float:
    """The feed [mm/rev] that leaves exactly `ra` [mm]; the widest possible when even that leaves less.

    The working shows the rule's feed and the share of it that is exact. Raises OutOfRange and Impossible as `finish`
    does. Source: definition of Ra (ISO 21920-2), solved numerically.

    >>> round(feed_for_mean_roughness(0.0004, 6.0, Surface("concave", 75.0)), 4)
    0.2852
    """
    require_positive(ra=ra, nose_radius=nose_radius)
    shape = scallop_of(nose_radius, surface)
    by_rule = _feed_by_rule(ra, nose_radius, surface)
    feed = feed_for_ra(shape, ra)
    return min(formulas.exact_feed(feed / by_rule, by_rule), widest_feed(shape))


def scallop_of(nose_radius: float, surface: Surface) -> Scallop:
    """The shape a nose [mm] leaves on a surface. Raises Impossible when the nose does not fit into it.

    >>> scallop_of(80.0, Surface("concave", 75.0))
    Traceback (most recent call last):
    calc.language.problems.Impossible: nose_radius: A nose of R80.000 mm does not fit into the concave R75.000 mm.
    """
    curvature = surface.curvature
    if nose_radius * curvature >= 1.0 - ROUNDING:
        values = {"nose": Quantity(nose_radius, RADIUS), "surface": Quantity(1.0 / curvature, RADIUS)}
        said = Message("A nose of {nose} does not fit into the concave {surface}.", values)
        raise Impossible(Fault("nose_radius", said))
    return Scallop(nose_radius, curvature)


def finish_cautions(feed: float, nose_radius: float, ra: float) -> list[Caution]:
    """What to mind about a computed finish at `feed` [mm/rev] with a nose [mm] that should leave `ra` [mm].

    >>> [caution.about for caution in finish_cautions(0.2, 6.0, 0.0002)]
    ['ra']
    """
    cautions = []
    if feed > formulas.feed_for_nose.function(nose_radius):
        cautions.append(Caution(_beyond_nose(feed, nose_radius), 2, "feed"))
    if ra < FINEST_PROMISED:
        cautions.append(Caution(_too_fine(ra), 1, "ra"))
    return cautions


def _peak_height(feed: float, r: float, surface: Surface) -> float:
    R = surface.radius
    if R is None:
        return formulas.peak_height_flat(feed, r)
    beta = formulas.half_step(feed, R)
    if surface.shape == "concave":
        return formulas.peak_height_concave(formulas.half_spacing_inside(R, r, beta), r, R, beta)
    spacing = min(formulas.half_spacing_outside(R, r, beta), r)  # at the widest feed they are equal but for rounding
    return formulas.peak_height_convex(spacing, r, R, beta)


def _peak_rule(feed: float, r: float, surface: Surface) -> float:
    if surface.radius is None:
        return formulas.peak_rule_flat(feed, r)
    rule = formulas.peak_rule_concave if surface.shape == "concave" else formulas.peak_rule_convex
    return rule(feed, r, surface.radius)


def _feed_by_rule(ra: float, r: float, surface: Surface) -> float:
    if surface.radius is None:
        return formulas.feed_rule_flat(ra, r)
    rule = formulas.feed_rule_concave if surface.shape == "concave" else formulas.feed_rule_convex
    return rule(ra, r, surface.radius)


_BEYOND_EDGE = "At {feed} the ridges stand higher than the nose: the leading edge decides, and no finish can be given."


def _too_wide(feed: float, nose_radius: float, widest: float) -> Message:
    return Message(
        "At {feed} the prints of a {nose} nose no longer meet, so no finish can be given; up to {widest} they do.",
        {"feed": Quantity(feed, FEED), "nose": Quantity(nose_radius, RADIUS), "widest": Quantity(widest, FEED)},
    )


def _beyond_nose(feed: float, nose_radius: float) -> Message:
    return Message(
        "{feed} is more than half the {nose} nose: beside the nose the straight edge cuts too, and the finish is not "
        "this one. Feed less, or take a larger nose.",
        {"feed": Quantity(feed, FEED), "nose": Quantity(nose_radius, RADIUS)},
    )


def _too_fine(ra: float) -> Message:
    return Message(
        "Feed and nose alone would leave Ra {ra}. Below {finest} wear, vibration and the chip decide as much: take "
        "it as the best case, and measure.",
        {"ra": Quantity(ra, ROUGHNESS), "finest": Quantity(FINEST_PROMISED, ROUGHNESS)},
    )
