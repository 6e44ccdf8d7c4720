"""What a runout means: jaws, a tilt or a bent bar, the spindle, two clampings; and which reading settles it."""

from __future__ import annotations

import pytest

from calc.measuring.runout import Runout, cause_of
from calc.questions.measuring.runout_rows import runout_rows


def before(z: float, full: float) -> Runout:
    return Runout(z, full, 0.002, "before")


@pytest.mark.parametrize(
    ("readings", "said", "tells"),
    [
        ([before(-5.0, 0.06)], "one reading does not show which", "a second runout farther along"),
        ([before(-5.0, 0.06), before(-60.0, 0.061)], "jaws hold off centre. Bore soft jaws", "stays with the jaws"),
        (
            [before(-5.0, 0.06), before(-60.0, 0.02)],
            "tilted in the jaws, not on its stop, or a bent bar",
            "half a turn",
        ),
        ([Runout(-5.0, 0.02, 0.002, "turned")], "spindle bearings", "spindle’s own taper"),
        ([Runout(None, 0.05, 0.002, "apart")], "two clampings", "held diameter in the chuck"),
        ([Runout(-5.0, 0.05, 0.002, "")], "Say which surface", "nothing further"),
        ([before(-5.0, 0.001)], "nothing is proved", "none is needed"),
    ],
)
def test_what_a_runout_means_and_which_reading_tells(readings: list[Runout], said: str, tells: str) -> None:
    """Common practice, no source."""
    row = runout_rows(list(enumerate(readings, 1)))[0]
    assert said in row.means
    assert tells in row.reading_next
    assert row.off_axis == readings[0].full / 2.0


def test_a_difference_within_the_gauges_spread_is_no_tilt() -> None:
    """0.002 and 0.002 together are 0.0028."""
    near = before(-5.0, 0.06)
    assert cause_of(near, [near, before(-60.0, 0.0625)]) == "off_centre"
    assert cause_of(near, [near, before(-60.0, 0.0632)]) == "tilted"


def test_a_runout_of_the_turned_surface_says_nothing_of_the_jaws() -> None:
    turned = Runout(-5.0, 0.02, 0.002, "turned")
    assert cause_of(turned, [turned, before(-60.0, 0.1)]) == "spindle"
