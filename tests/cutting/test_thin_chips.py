"""When a chip is too thin: by the kind of edge, without false alarms for what is small of its own.

That a honed edge cuts from about 0.03 mm on, a ground one from half of that, is common practice, no source.
"""

from __future__ import annotations

from math import radians

import pytest

from calc.cutting.drilling import drill_chip, starting_feed
from calc.cutting.force import share_of_highest
from calc.cutting.materials import material
from calc.cutting.thin_chips import Shaving, chip_cautions, drill_shaving
from calc.cutting.tools import habits

POINT = radians(118.0)


@pytest.mark.parametrize("diameter", [0.5, 1.0, 2.0, 3.0, 6.0, 12.0, 40.0])
@pytest.mark.parametrize("name", ["C45", "X5CrNi18-10", "6061-T6", "TiAl6V4", "GJL-250"])
def test_no_usual_feed_of_a_drill_is_called_too_thin(name: str, diameter: float) -> None:
    work = material(name)
    lowest = starting_feed(habits(work.group).drill_feed.low, diameter)
    chip = drill_shaving(drill_chip(lowest, POINT), work, diameter, POINT, None)
    assert list(chip_cautions([chip])) == []


@pytest.mark.parametrize("diameter", [1.0, 12.0, 40.0])
def test_a_tenth_of_the_usual_feed_of_a_drill_is(diameter: float) -> None:
    work = material("C45")
    feed = 0.1 * starting_feed(habits("P").drill_feed.low, diameter)
    chip = drill_shaving(drill_chip(feed, POINT), work, diameter, POINT, None)
    (caution,) = chip_cautions([chip])
    assert caution.message.say().endswith("Feed more.")


def test_of_a_force_it_is_told_only_where_there_is_one() -> None:
    with_force, without = (next(chip_cautions([Shaving(0.01, forced=forced)])) for forced in (True, False))
    assert "the force is higher" in with_force.message.say()
    assert "force" not in without.message.say()


def test_the_highest_published_force_is_that_of_the_same_chip() -> None:
    """C45 by Kienzle 2220 and 0.14, by König and Essel 1680 and 0.26: at 1 mm 1, at 0.02 mm 4645 over 3839."""
    assert share_of_highest(material("C45"), 1.0) == 1.0
    assert share_of_highest(material("C45"), 0.02) == pytest.approx((1680 * 0.02**-0.26) / (2220 * 0.02**-0.14))
