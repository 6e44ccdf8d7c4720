"""The feed for a wanted finish, and which limit decides it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from calc.answer.feature import Answer, Feature, Rows
from calc.cutting import nouns
from calc.cutting.chip import Edge, Engagement, engagement
from calc.cutting.feed_limits import CEILING, FeedLimit, decide, default_largest_chip, feed_limits
from calc.cutting.finish import (
    Surface,
    SurfaceShape,
    feed_for_mean_roughness,
    feed_for_peak_height,
    finish,
    finish_cautions,
    surface_of,
)
from calc.cutting.finish_limits import peak_with_pressing, pressing_caution, smallest_chip, smoothest_feed
from calc.cutting.finish_tables import GradeRow, grades_for
from calc.cutting.thin_chips import rubbing
from calc.language.checks import require
from calc.language.fields import Declared, choice, given, result, word
from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.problems import Fault, Missing
from calc.language.quantities import FEED, LENGTH, RADIUS, ROUGHNESS
from calc.questions.cutting.finish import SURFACES

FINEST = 0.00001  # Ra or peak height [mm]: finer than the finest grade
SMALLEST_RADIUS = 0.01  # mm
SMALLEST_CUT = 0.001  # depth, feed or chip [mm]


class FinishFeedInputs(Declared):
    """The wanted finish, the nose, the surface, and what else limits a feed."""

    ra: float | None = nouns.RA.given()
    peak_height: float | None = given(
        ROUGHNESS, "Wanted peak height", "h", above=0.0, least=FINEST, hint="if the print gives it"
    )
    nose_radius: float = nouns.NOSE_RADIUS.needed()
    surface: SurfaceShape = choice("Surface", SURFACES, "flat")
    surface_radius: float | None = given(
        RADIUS, "Surface radius", "R", above=0.0, least=SMALLEST_RADIUS, hint="blank for a flat surface"
    )
    depth: float | None = nouns.DEPTH_OF_CUT.given(hint="along the normal")
    entering_angle: float | None = nouns.ENTERING_ANGLE.given(hint="blank for a round insert")
    largest_chip: float | None = given(
        LENGTH, "Largest chip", "h_max", above=0.0, least=SMALLEST_CUT, blank="the usual for a round insert"
    )
    ceiling: float | None = given(
        FEED,
        "Feed never above",
        above=0.0,
        least=SMALLEST_CUT,
        start=(0.5, 0.02),
        because="finishing feeds are seldom higher",
    )
    edge_rounding: float | None = nouns.EDGE_ROUNDING.given(
        hint="for the smallest feed; honed often 0.03 mm (.0012 in)"
    )


class FinishFeedResults(Declared):
    """The feed to take and what it leaves; what the finish alone and what the other limits alone would allow."""

    feed: float = result(FEED, "Feed", "f")
    limited_by: str = word("Limited by")
    finish_feed: float = result(FEED, "By the finish formula alone")
    feed_limit: float = result(FEED, "By the other limits alone")
    ra: float = result(ROUGHNESS, "Ra at this feed", "Ra")
    peak_height: float = result(ROUGHNESS, "Peak height at this feed", "h")
    grade: str | None = word("Roughness grade", hint="ISO 1302:1992; none when worse than N12")
    mean_chip: float | None = result(LENGTH, "Mean chip thickness", "h_m")
    least_feed: float | None = result(FEED, "Rougher again below", "f_min")


class _Wanted(NamedTuple):
    """A wanted finish: the feed that it allows by itself [mm/rev], and how it is said."""

    feed: float
    said: Message


def solve(inputs: FinishFeedInputs) -> Answer[FinishFeedResults]:
    """The feed and its limits. Raises Missing, OutOfRange, Contradiction, and Impossible where the nose does not fit.

    >>> found = solve(FinishFeedInputs(ra=0.0016, nose_radius=0.8)).results
    >>> round(found.feed, 4), found.limited_by
    (0.1995, 'finish')
    """
    require(inputs)
    nose, surface = inputs.nose_radius, surface_of(inputs.surface, inputs.surface_radius)
    wanted = sorted(_wanted(inputs, nose, surface), key=lambda one: one.feed)
    cut = _cut(inputs, nose)
    limits = _limits(inputs, nose, wanted[0].feed, cut)
    decision = decide(limits, nose, wanted[0].said)
    left = finish(decision.feed, nose, surface)
    mean, rubs = (None, None) if cut is None else rubbing(decision.feed, cut, decision)
    least, presses = _least_feed(inputs, decision.feed, nose)
    results = FinishFeedResults(
        feed=decision.feed,
        limited_by=decision.limited_by,
        finish_feed=wanted[0].feed,
        feed_limit=decision.feed_limit,
        ra=left.ra,
        peak_height=left.peak_height,
        grade=left.grade,
        mean_chip=mean,
        least_feed=least,
    )
    return Answer(
        results=results,
        headline="feed",
        cautions=(*finish_cautions(decision.feed, nose, left.ra), *(one for one in (rubs, presses) if one is not None)),
        notes=tuple(_notes(decision.why, wanted, cut)),
        tables={"limits": limits, "grades": tuple(grades_for(nose, surface))},
    )


def _least_feed(inputs: FinishFeedInputs, feed: float, nose: float) -> tuple[float | None, Caution | None]:
    """The feed below which it gets rougher again, with a caution when `feed` [mm/rev] is below it."""
    if inputs.edge_rounding is None:
        return None, None
    smallest = smallest_chip(inputs.edge_rounding)
    least = smoothest_feed(nose, smallest)
    return least, pressing_caution(feed, least, peak_with_pressing(least, nose, smallest))


def _wanted(inputs: FinishFeedInputs, nose: float, surface: Surface) -> list[_Wanted]:
    """Every finish that is wanted; Ra and peak height are both upper limits, so both may be given."""
    wanted = []
    if inputs.ra is not None:
        said = Message("Ra {ra}", {"ra": Quantity(inputs.ra, ROUGHNESS)})
        wanted.append(_Wanted(feed_for_mean_roughness(inputs.ra, nose, surface), said))
    if inputs.peak_height is not None:
        said = Message("peaks of {peak}", {"peak": Quantity(inputs.peak_height, ROUGHNESS)})
        wanted.append(_Wanted(feed_for_peak_height(inputs.peak_height, nose, surface), said))
    if not wanted:
        raise Missing(Fault("ra", Message("Give the wanted Ra or the wanted peak height.")))
    return wanted


def _cut(inputs: FinishFeedInputs, nose: float) -> Engagement | None:
    if inputs.depth is None:
        return None
    angle = inputs.entering_angle
    return engagement(inputs.depth, Edge(nose) if angle is None else Edge(nose, angle))


def _limits(inputs: FinishFeedInputs, nose: float, feed: float, cut: Engagement | None) -> tuple[FeedLimit, ...]:
    """What bounds the feed, with the `feed` [mm/rev] that the finish allows."""
    return feed_limits(
        nose,
        finish_feed=feed,
        cut=cut,
        largest_chip=_largest_chip(inputs, nose),
        ceiling=CEILING if inputs.ceiling is None else inputs.ceiling,
    )


def _largest_chip(inputs: FinishFeedInputs, nose: float) -> float | None:
    if inputs.largest_chip is not None:
        return inputs.largest_chip
    return default_largest_chip(nose)


def _notes(why: Message, wanted: list[_Wanted], cut: Engagement | None) -> Iterator[Message]:
    yield why
    for looser in wanted[1:]:
        values: dict[str, Value] = {"one": wanted[0].said, "other": looser.said, "more": Quantity(looser.feed, FEED)}
        yield Message("{one} asks for less feed than {other}, which would allow {more}.", values)
    if cut is None:
        yield Message("The depth of cut is not given, so its limit and the chip's are not checked.")


FEATURE = Feature(
    path="nose-radius/feed",
    title="Feed for a finish",
    summary="The feed for a wanted Ra or peak height, checked against depth, chip, nose and ceiling: which decides.",
    solve=solve,
    page="/finish-feed",
    supporting=("finish_feed", "limited_by", "ra", "grade"),
    rows={
        "limits": Rows(FeedLimit, "Limits of the feed", "Limits"),
        "grades": Rows(GradeRow, "Roughness grades, ISO 1302:1992, with this nose", "Grades"),
    },
    example={"ra": "0.4", "nose_radius": "6", "surface": "concave", "surface_radius": "75", "depth": "0.15"},
)
