"""The finish that a feed and a nose radius leave."""

from __future__ import annotations

from collections.abc import Iterator
from math import radians
from typing import Literal

from calc.answer.feature import Answer, Feature, Rows
from calc.cutting import nouns
from calc.cutting.chip import Edge
from calc.cutting.feeding import fed_edge
from calc.cutting.finish import SurfaceShape, finish, finish_cautions, surface_of
from calc.cutting.finish_limits import (
    WIPER_SHARE,
    peak_with_pressing,
    pressed_peak,
    pressing_caution,
    smallest_chip,
    smoothest_feed,
    wiper_ra,
)
from calc.cutting.finish_tables import FeedRow, GradeRow, feeds_and_noses, grades_for
from calc.cutting.limits import Case, limits
from calc.language.checks import require
from calc.language.fields import Declared, choice, given, result, word
from calc.language.messages import Caution, Digits, Message, Phrase, joined
from calc.language.quantities import ANGLE, FEED, RADIUS, ROUGHNESS, UnitSystem, View

EdgeKind = Literal["round", "wiper"]
EDGES: dict[EdgeKind, str] = {"round": "plain round nose", "wiper": "with a wiper"}
SURFACES: dict[SurfaceShape, str] = {
    "flat": "flat: a face, a cylinder, a taper",
    "concave": "concave: a dish",
    "convex": "convex: a crown",
}


class FinishInputs(Declared):
    """Feed, nose, and the surface that is cut."""

    feed: float = nouns.FEED_RATE.needed(hint="measured along the contour")
    nose_radius: float = nouns.NOSE_RADIUS.needed()
    surface: SurfaceShape = choice("Surface", SURFACES, "flat")
    surface_radius: float | None = given(
        RADIUS, "Surface radius", "R", above=0.0, least=0.01, hint="blank for a flat surface"
    )
    edge: EdgeKind = choice("Edge", EDGES, "round")
    trailing_angle: float | None = given(
        ANGLE,
        "Trailing edge angle",
        "κ'",
        above=0.0,
        least=radians(1.0),
        most=radians(85.0),
        hint="between the straight edge behind the nose and the surface; for feeds beyond the nose",
    )
    edge_rounding: float | None = nouns.EDGE_ROUNDING.given(
        hint="for the smallest feed; honed often 0.03 mm (.0012 in)"
    )


class FinishResults(Declared):
    """Peak height and Ra, exact and by the rule, and the grade of the exact Ra."""

    peak_height: float = result(ROUGHNESS, "Peak height, theoretical Rz", "h")
    peak_height_rule: float = result(ROUGHNESS, "Peak height by the rule", "h_rule")
    ra: float = result(ROUGHNESS, "Mean roughness", "Ra")
    ra_rule: float = result(ROUGHNESS, "Ra by the rule", "Ra_rule")
    rq: float | None = result(ROUGHNESS, "Root mean square roughness", "Rq")
    grade: str | None = word("Roughness grade", hint="ISO 1302:1992; none when worse than N12")
    ra_both: str = word("Ra in both systems")
    ra_wiper: float | None = result(ROUGHNESS, "Ra with the wiper, about", "Ra_w")
    least_feed: float | None = result(FEED, "Rougher again below", "f_min")
    peak_height_pressed: float | None = result(ROUGHNESS, "Peak height with what is pressed aside", "h_s")


def solve(inputs: FinishInputs) -> Answer[FinishResults]:
    """The finish. Raises Missing, OutOfRange, Contradiction, and Impossible where nose, surface and feed do not go.

    >>> found = solve(FinishInputs(feed=0.2, nose_radius=0.8)).results
    >>> round(1000 * found.peak_height, 4), found.grade
    (6.2746, 'N8')
    """
    require(inputs)
    feed, nose = inputs.feed, inputs.nose_radius
    surface = surface_of(inputs.surface, inputs.surface_radius)
    found = finish(feed, nose, surface, inputs.trailing_angle)
    least, pressed, lowest = _pressed(inputs, feed, nose)
    pressing = None if least is None or lowest is None else pressing_caution(feed, least, lowest)
    cautions = [one for one in finish_cautions(feed, nose, found.ra) if not (found.by_edge and one.about == "feed")]
    return Answer(
        results=FinishResults(
            peak_height=found.peak_height,
            peak_height_rule=found.peak_height_rule,
            ra=found.ra,
            ra_rule=found.ra_rule,
            rq=found.rq,
            grade=found.grade,
            ra_both=_both_systems(found.ra),
            ra_wiper=wiper_ra(WIPER_SHARE, found.ra) if inputs.edge == "wiper" and inputs.surface == "flat" else None,
            least_feed=least,
            peak_height_pressed=pressed,
        ),
        headline="ra",
        cautions=(
            *limits(Case(fed=(fed_edge(feed, edge=None if found.by_edge else Edge(nose)),))),
            *cautions,
            *(() if pressing is None else (pressing,)),
            *_wiper(inputs),
        ),
        tables={"grades": tuple(grades_for(nose, surface)), "feeds": tuple(feeds_and_noses(nose, surface))},
    )


def _pressed(inputs: FinishInputs, feed: float, nose: float) -> tuple[float | None, float | None, float | None]:
    """The feed below which it gets rougher again, the peaks with what is pressed aside, the lowest of them.

    None when not asked; the middle one below that feed, where the published model ends.
    """
    if inputs.edge_rounding is None:
        return None, None, None
    chip = smallest_chip(inputs.edge_rounding)
    least = smoothest_feed(nose, chip)
    return least, pressed_peak(feed, nose, chip), peak_with_pressing.function(least, nose, chip)


def _wiper(inputs: FinishInputs) -> Iterator[Caution]:
    if inputs.edge == "wiper":
        text = _WIPER_CURVED if inputs.surface != "flat" else _WIPER_FLAT
        yield Caution(Message(text), 2 if inputs.surface != "flat" else 1, "ra_wiper")


def _both_systems(ra: float) -> str:
    """Ra in both systems at once, as prints of both come to the same machine."""
    um, uin = (ROUGHNESS.unit(View(units)) for units in _SYSTEMS)
    return joined(Phrase("{ra} {unit}", ra=Digits(unit.text(ra)), unit=unit.label) for unit in (um, uin))


_SYSTEMS: tuple[UnitSystem, ...] = ("mm", "inch")

_WIPER_FLAT = (
    "With a wiper the Ra is an approximation, about half that of the plain nose, and only where the tool moves square "
    "or along the axis as the wiper is ground for: on a taper it is none. Measure."
)
_WIPER_CURVED = (
    "On an arc a wiper does not lie along the surface: the plain nose decides, and the contour may be off by the "
    "wiper's own shape. Calculate with the plain nose, or take an edge without a wiper."
)


FEATURE = Feature(
    path="nose-radius/finish",
    title="Finish from feed and nose",
    summary="Peak height and Ra that feed and nose leave on flat, concave and convex surfaces, exact and by the rule.",
    solve=solve,
    page="/finish",
    supporting=("peak_height", "grade", "ra_rule", "peak_height_rule"),
    rows={
        "grades": Rows(GradeRow, "Roughness grades, ISO 1302:1992, with this nose", "Grades"),
        "feeds": Rows(FeedRow, "Ra over feed and nose, up to half the nose", "Other feeds and noses"),
    },
    example={"feed": "0.2", "nose_radius": "6", "surface": "concave", "surface_radius": "75"},
)
