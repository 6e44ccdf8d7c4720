"""A chip held against what an edge cuts and what the published tables cover: too thin it rubs, too thick is a guess."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from calc.cutting.chip import Engagement, feed_for_mean_chip
from calc.cutting.drilling import drill_chip, insert_drill_chip, starting_feed
from calc.cutting.feed_limits import LEAST_MEAN_CHIP, LIMIT_WORDS, FeedDecision
from calc.cutting.force import THICKEST, THINNEST
from calc.cutting.materials import Material
from calc.cutting.thickest_chip import mean_thickness
from calc.cutting.tools import habits
from calc.language.checks import require_positive
from calc.language.messages import Caution, Message, Quantity, Value, in_a_row
from calc.language.quantities import FEED, LENGTH

LEAST_GROUND = 0.015  # mm, by the ground edge of a drill, a tap or a threading insert; common practice, no source
HALF_A_DIGIT = 0.0005  # mm: what is shown as the least is not told to be less
FAR_BELOW = 0.5  # of the lowest usual feed, from which a drill rubs; common practice, no source

WHOLE = 1.0  # share of a twist drill's usual feed that a twist drill takes


@dataclass(frozen=True, slots=True)
class Shaving:
    """A chip's thickness [mm], the mean one where a nose cuts, and the result or input that it stands at.

    `least` [mm] is the thinnest that this edge cuts; `forced` says whether a force by the published tables stands
    beside it, `tabled` [mm] from where on their end is worth a word; `remedy` is what makes the chip thicker.
    """

    thickness: float
    about: str = "cutting_force"
    least: float = LEAST_MEAN_CHIP
    forced: bool = True
    tabled: float = THINNEST
    remedy: str = "Feed more or cut deeper."


def drill_shaving(thickness: float, work: Material, diameter: float, point: float, share: float | None) -> Shaving:
    """The chip of a drill of `diameter` [mm] and point angle [rad] in `work`, from its `thickness` [mm].

    `share` is that of a twist drill's feed for a drill with inserts, None for a twist drill. A small drill is not asked
    for a thicker chip than its usual feeds give. Source: common practice.

    >>> from math import radians
    >>> from calc.cutting.materials import material
    >>> drill_shaving(0.01, material("C45"), 10.0, radians(118.0), None).least
    0.015
    >>> drill_shaving(0.01, material("C45"), 1.0, radians(118.0), None).least < 0.01
    True
    """
    shared = WHOLE if share is None else share
    lowest = starting_feed.function(shared * habits(work.group).drill_feed.low, diameter)
    chip = drill_chip.function if share is None else insert_drill_chip.function
    least = min(LEAST_GROUND if share is None else LEAST_MEAN_CHIP, FAR_BELOW * chip(lowest, point))
    return Shaving(thickness, "feed", least, tabled=0.0, remedy="Feed more.")


def chip_cautions(chips: Sequence[Shaving]) -> Iterator[Caution]:
    """What the thinnest and the thickest of `chips` trigger.

    >>> [[caution.severity for caution in chip_cautions([Shaving(h)])] for h in (0.02, 0.04, 0.2, 3.0)]
    [[2], [1], [], [2]]
    >>> [list(chip_cautions([Shaving(h, forced=False)])) for h in (0.04, 3.0)]
    [[], []]
    """
    if not chips:
        return
    thin, thick = (end(chips, key=lambda chip: chip.thickness) for end in (min, max))
    values: dict[str, Value] = {
        "chip": Quantity(thin.thickness, LENGTH),
        "least": Quantity(thin.least, LENGTH),
        "thin": Quantity(THINNEST, LENGTH),
        "thick": Quantity(THICKEST, LENGTH),
    }
    if thin.thickness < thin.least - HALF_A_DIGIT:
        said = Message(_RUBS_FORCED if thin.forced else _RUBS, values)
        yield Caution(in_a_row(said, Message(thin.remedy)), 2, thin.about)
    elif thin.forced and thin.thickness < thin.tabled:
        yield Caution(Message(_THIN, values), 1, thin.about)
    if thick.forced and thick.thickness > THICKEST:
        values["chip"] = Quantity(thick.thickness, LENGTH)
        yield Caution(Message(_THICK, values), 2, thick.about)


def rubbing(
    feed: float, cut: Engagement, decision: FeedDecision, least: float = LEAST_MEAN_CHIP
) -> tuple[float, Caution | None]:
    """The mean chip thickness [mm] of a finishing `feed` [mm/rev], and a caution when it is below `least` [mm].

    The caution says which feed would make a chip, and whether the limits that decided allow it. Source: common
    practice for the least chip, geometry for its thickness.

    >>> from calc.cutting.chip import Edge, engagement
    >>> from calc.cutting.feed_limits import decide, feed_limits
    >>> cut = engagement(0.15, Edge(6.0))
    >>> mean, caution = rubbing(0.15, cut, decide(feed_limits(6.0, cut=cut), 6.0))
    >>> round(mean, 4), caution is None
    (0.0167, False)
    """
    require_positive(feed=feed, least=least)
    mean = mean_thickness(feed, cut)
    if mean >= least - HALF_A_DIGIT:
        return mean, None
    floor = feed_for_mean_chip(least, cut.depth, cut.width)
    values: dict[str, Value] = {
        "feed": Quantity(feed, FEED),
        "depth": Quantity(cut.depth, LENGTH),
        "mean": Quantity(mean, LENGTH),
        "least": Quantity(least, LENGTH),
        "floor": Quantity(floor, FEED),
        "limit": LIMIT_WORDS[decision.limited_by],
    }
    then = _FEED_MORE if floor <= decision.feed else _NOT_ALLOWED
    return mean, Caution(in_a_row(Message(_RUBS_IN_FINISHING, values), Message(then, values)), 2, "feed")


_RUBS = "The chip is {chip} thick, less than {least}: the edge rubs more than it cuts."
_RUBS_FORCED = (
    "The chip is {chip} thick, less than {least}: the edge rubs more than it cuts, and the force is higher than this."
)
_THIN = (
    "The chip is {chip} thick; the tables begin at {thin}. The real force is higher, as the edge presses more than it "
    "cuts."
)
_THICK = "The chip is {chip} thick; the tables end at {thick}. Take the force as a rough guide."
_RUBS_IN_FINISHING = (
    "At {feed} and {depth} deep the chip is {mean} thick on average, less than {least}: the edge rubs more than it "
    "cuts."
)
_FEED_MORE = "Feed {floor} or a little more: depth, chip, nose and finish allow it."
_NOT_ALLOWED = "It would take {floor}, which {limit} does not allow: cut deeper or take a smaller nose."
