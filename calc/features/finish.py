"""The finish that a feed and a nose radius leave."""

from __future__ import annotations

from dataclasses import dataclass
from typing import cast

from calc.cutting.checks import require
from calc.cutting.finish import SurfaceShape, finish, finish_cautions, surface_of
from calc.feature import Answer, Feature
from calc.fields import choice, given, result, word
from calc.quantities import FEED, RADIUS, ROUGHNESS

SURFACES = {"flat": "flat: a face, a cylinder, a taper", "concave": "concave: a dish", "convex": "convex: a crown"}


@dataclass(frozen=True, kw_only=True)
class FinishInputs:
    """Feed, nose, and the surface that is cut."""

    feed: float | None = given(FEED, "Feed", "f", above=0.0, least=0.001, hint="measured along the contour")
    nose_radius: float | None = given(RADIUS, "Nose radius", "r", above=0.0, least=0.01)
    surface: str = choice("Surface", SURFACES, "flat")
    surface_radius: float | None = given(
        RADIUS, "Surface radius", "R", above=0.0, least=0.01, hint="blank for a flat surface"
    )


@dataclass(frozen=True, kw_only=True)
class FinishResults:
    """Peak height and Ra, exact and by the rule, and the grade of the exact Ra."""

    peak_height: float = result(ROUGHNESS, "Peak height", "h")
    peak_height_rule: float = result(ROUGHNESS, "Peak height by the rule", "h_rule")
    ra: float = result(ROUGHNESS, "Ra", "Ra")
    ra_rule: float = result(ROUGHNESS, "Ra by the rule", "Ra_rule")
    grade: str | None = word("Roughness grade", hint="ISO 1302:1992; none when worse than N12")


def solve(inputs: FinishInputs) -> Answer[FinishResults]:
    """The finish. Raises Missing, OutOfRange, Contradiction, and Impossible where nose, surface and feed do not go.

    >>> found = solve(FinishInputs(feed=0.2, nose_radius=0.8)).results
    >>> round(1000 * found.peak_height, 4), found.grade
    (6.2746, 'N8')
    """
    require(inputs, "feed", "nose_radius")
    feed, nose = inputs.feed or 0.0, inputs.nose_radius or 0.0
    surface = surface_of(cast("SurfaceShape", inputs.surface), inputs.surface_radius)
    found = finish(feed, nose, surface)
    return Answer(
        results=FinishResults(
            peak_height=found.peak_height,
            peak_height_rule=found.peak_height_rule,
            ra=found.ra,
            ra_rule=found.ra_rule,
            grade=found.grade,
        ),
        headline="ra",
        cautions=tuple(finish_cautions(feed, nose, found.ra)),
    )


FEATURE = Feature(
    path="nose-radius/finish",
    title="Finish from feed and nose",
    summary="Peak height and Ra that feed and nose leave on flat, concave and convex surfaces, exact and by the rule.",
    inputs=FinishInputs,
    results=FinishResults,
    solve=solve,
    example={"feed": "0.2", "nose_radius": "6", "surface": "concave", "surface_radius": "75"},
)
