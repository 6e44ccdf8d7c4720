"""The chip of a turning cut: how thick, how wide, and the feed that holds a thickness."""

from __future__ import annotations

from collections.abc import Iterator

from calc.answer.feature import Answer, Feature, Rows
from calc.cutting import nouns
from calc.cutting.chip import (
    LEAST_CHIP_SHARE,
    Edge,
    Engagement,
    engagement,
    engagement_angle,
    feed_for_largest_chip,
    feed_for_mean_chip,
    feed_over_chip,
    least_chip,
)
from calc.cutting.feed_limits import SMALLEST_ROUND_INSERT
from calc.cutting.feeding import fed_edge
from calc.cutting.limits import Case, limits
from calc.cutting.thickest_chip import feed_for_thickest_chip, mean_thickness, thickest_chip
from calc.cutting.thin_chips import Shaving
from calc.language.checks import require
from calc.language.fields import Declared, given, result
from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.problems import Fault, Missing
from calc.language.quantities import ANGLE, FEED, LENGTH, RADIUS, RATIO

DEPTH_SHARES = (0.05, 0.10, 0.15, 0.20, 0.25, 0.35, 0.5)  # of a round insert's diameter
DEEPEST_SHARE = 0.25  # of a round insert's diameter; common practice, no source


class ChipInputs(Declared):
    """The cut and the edge; a thickness to hold; how sharp the edge is."""

    depth: float = nouns.DEPTH_OF_CUT.needed()
    feed: float = nouns.FEED_RATE.needed()
    nose_radius: float = nouns.NOSE_OR_SHARP.given(
        default=0.0, hint="of a round insert half its diameter", blank="a sharp corner"
    )
    entering_angle: float | None = nouns.ENTERING_ANGLE.given(hint="blank for a round insert")
    wanted_chip: float | None = given(
        LENGTH,
        "Chip thickness to hold",
        "h",
        above=0.0,
        least=0.001,
        hint="largest or mean: both feeds are shown",
    )
    edge_rounding: float | None = nouns.EDGE_ROUNDING.given(
        hint="honed carbide often 0.02 to 0.05 mm (.0008 to .002 in)"
    )


class ChipResults(Declared):
    """Thickness, width, and the feeds that hold a thickness."""

    chip_thickness: float = result(LENGTH, "Chip thickness, largest", "h_max")
    mean_chip: float = result(LENGTH, "Chip thickness, mean", "h_m")
    chip_width: float = result(LENGTH, "Edge in cut", "b", hint="the chip's width")
    thickest_at: float = result(ANGLE, "Thickest where the edge stands at", "φ", hint="measured from the feed")
    feed_over_chip: float = result(RATIO, "Feed over largest chip", "q_f")
    feed_for_chip: float | None = result(
        FEED, "Feed for that largest thickness, by the rule", "f_chip", hint="thickness over the sine of φ"
    )
    feed_for_chip_exact: float | None = result(FEED, "Feed for that largest thickness, exact", "f_chip")
    feed_for_mean: float | None = result(FEED, "Feed for that mean thickness", "f_mean")
    least_chip: float | None = result(LENGTH, "Smallest sensible thickness", "h_min")
    least_feed: float | None = result(FEED, "Feed for it, at the thickest place")


class DepthRow(Declared):
    """A round insert at one depth: its angle, and the feed for a largest thickness."""

    depth: float = result(LENGTH, "Depth")
    thickest_at: float = result(ANGLE, "Angle at the depth line")
    feed_over_chip: float = result(RATIO, "Feed over chip")
    feed: float | None = result(FEED, "Feed for the same largest chip")


def solve(inputs: ChipInputs) -> Answer[ChipResults]:
    """The chip. Raises Missing and OutOfRange.

    >>> found = solve(ChipInputs(depth=0.9, feed=0.14, nose_radius=3.0)).results
    >>> round(found.chip_thickness, 4)
    0.0983
    """
    require(inputs)
    depth, feed = inputs.depth, inputs.feed
    edge = _edge(inputs)
    cut = engagement(depth, edge)
    thickest = thickest_chip(feed, depth, edge)
    mean = mean_thickness(feed, cut)
    least = None if inputs.edge_rounding is None else least_chip(LEAST_CHIP_SHARE, inputs.edge_rounding)
    wanted = inputs.wanted_chip
    return Answer(
        results=ChipResults(
            chip_thickness=thickest,
            mean_chip=mean,
            chip_width=cut.width,
            thickest_at=cut.thickest_at,
            feed_over_chip=feed_over_chip(cut.thickest_at),
            feed_for_chip=None if wanted is None else feed_for_largest_chip(wanted, cut.thickest_at),
            feed_for_chip_exact=None if wanted is None else feed_for_thickest_chip(wanted, depth, edge),
            feed_for_mean=None if wanted is None else feed_for_mean_chip(wanted, depth, cut.width),
            least_chip=least,
            least_feed=None
            if least is None
            else feed_for_largest_chip.at("of the smallest chip", h_max="h_min")(least, cut.thickest_at),
        ),
        headline="chip_thickness",
        cautions=tuple(_cautions(inputs, edge, thickest, mean, least)),
        notes=(_where(cut, edge),),
        tables={"depths": tuple(_depths(inputs, edge, wanted or thickest))},
    )


def _edge(inputs: ChipInputs) -> Edge:
    nose, angle = inputs.nose_radius, inputs.entering_angle
    if angle is not None:
        return Edge(nose, angle)
    if nose == 0.0:
        said = Message("Give the entering angle, or the nose radius of a round insert.")
        raise Missing(Fault("entering_angle", said))
    return Edge(nose)


def _depths(inputs: ChipInputs, edge: Edge, thickness: float) -> Iterator[DepthRow]:
    """A round insert over its depths; none for a pointed one."""
    if inputs.entering_angle is not None:
        return
    for share in DEPTH_SHARES:
        depth = share * 2 * edge.nose_radius
        angle = engagement_angle.function(depth, edge.nose_radius)
        factor = feed_over_chip.function(angle)
        yield DepthRow(depth=depth, thickest_at=angle, feed_over_chip=factor, feed=factor * thickness)


def _where(cut: Engagement, edge: Edge) -> Message:
    values: dict[str, Value] = {"depth": Quantity(cut.depth, LENGTH), "nose": Quantity(edge.nose_radius, RADIUS)}
    if edge.nose_radius == 0.0:
        return Message("A sharp corner: the chip is as thick all along the edge.", values)
    if cut.depth <= edge.nose_depth():
        return Message(
            "{depth} lies within the nose of {nose}: the chip is thickest at the depth line and runs out to nothing.",
            values,
        )
    return Message(
        "{depth} is deeper than the nose of {nose} reaches: beyond it the straight edge cuts, where the chip is "
        "thickest.",
        values,
    )


def _cautions(inputs: ChipInputs, edge: Edge, thickest: float, mean: float, least: float | None) -> Iterator[Caution]:
    depth, nose = inputs.depth, edge.nose_radius
    values: dict[str, Value] = {"depth": Quantity(depth, LENGTH), "nose": Quantity(nose, RADIUS)}
    if inputs.entering_angle is None and depth > nose:
        yield Caution(Message(_DEEPER_THAN_ROUND, values), 3, "depth")
    elif inputs.entering_angle is None and nose >= SMALLEST_ROUND_INSERT and depth > DEEPEST_SHARE * 2 * nose:
        values["most"] = Quantity(DEEPEST_SHARE * 2 * nose, LENGTH)
        yield Caution(Message(_DEEP, values), 1, "depth")
    if least is not None and mean < least:
        thin: dict[str, Value] = {
            "chip": Quantity(thickest, LENGTH),
            "mean": Quantity(mean, LENGTH),
            "least": Quantity(least, LENGTH),
        }
        yield Caution(Message(_RUBS if thickest < least else _PARTLY_RUBS, thin), 2, "chip_thickness")
    chips = () if least is not None and mean < least else (Shaving(mean, "mean_chip", forced=False),)
    yield from limits(Case(fed=(fed_edge(inputs.feed, edge=edge, depth=depth),), chips=chips))


_DEEPER_THAN_ROUND = (
    "{depth} is deeper than a round insert of {nose} can cut; it is calculated as if the edge went on straight. "
    "Give the entering angle, or cut less deep."
)
_DEEP = (
    "{depth} is more than a quarter of a round insert's diameter, {most}: the forces rise steeply and the insert may "
    "turn in its seat. Cut less deep."
)
_RUBS = (
    "The chip is {chip} thick at most, less than the {least} that this edge can take off: it rubs, work-hardens and "
    "wears. Feed more, cut deeper or take a sharper edge."
)
_PARTLY_RUBS = (
    "The chip is {mean} thick on average, less than the {least} that this edge can take off: part of the edge rubs. "
    "Feed more, cut deeper or take a sharper edge."
)

FEATURE = Feature(
    path="speed-feed/chip",
    title="Chip thickness",
    summary="Thickness and width of the chip from depth, feed and edge; the feed that holds a thickness.",
    solve=solve,
    page="/chip",
    supporting=("mean_chip", "chip_width", "feed_for_chip", "feed_for_mean"),
    rows={"depths": Rows(DepthRow, "A round insert at other depths")},
    example={"depth": "0.9", "feed": "0.14", "nose_radius": "3", "wanted_chip": "0.1", "edge_rounding": "0.03"},
)
