"""The runouts among the readings of a part: by how much the axis stands off, why, and which reading would settle it."""

from __future__ import annotations

from collections.abc import Sequence

from calc.language.fields import Declared, result, word
from calc.language.messages import Phrase
from calc.language.quantities import COUNT, LENGTH
from calc.measuring.runout import Cause, Runout, Surface, cause_of, eccentricity, is_seen

SURFACES: dict[Surface, str] = {
    "": "not said",
    "turned": "turned in this clamping, still in the chuck",
    "before": "there before (bar, first end), in the chuck",
    "apart": "out of the chuck, against another diameter",
}
MEANS: dict[Cause, str] = {
    "spindle": "What this clamping turned runs true by itself: spindle bearings, a chuck that is loose, or work that "
    "moved or springs back",
    "off_centre": "Off by the same all along: the jaws hold off centre. Bore soft jaws to the diameter, or clean jaws "
    "and seat",
    "tilted": "It changes along the work: tilted in the jaws, not on its stop, or a bent bar",
    "in_two_clampings": "The two diameters were turned in two clampings: turn both in one, or hold the second in soft "
    "jaws bored in place",
    "one_reading": "Jaws off centre, work tilted, or a bent bar: one reading does not show which",
    "not_said": "Say which surface it is: what it means depends on that",
}
NEXT: dict[Cause, str] = {
    "spindle": "a runout in the spindle’s own taper or nose; none there, and the work has moved",
    "off_centre": "the same surface turned a third of a turn in the jaws: the high spot stays with the jaws",
    "tilted": "the same two places turned half a turn in the jaws: a bend turns with the bar, a tilt stays with the "
    "jaws",
    "in_two_clampings": "the runout of the held diameter in the chuck, before anything is turned",
    "one_reading": "a second runout farther along the same surface",
    "not_said": "nothing further yet",
}


class RunoutRow(Declared):
    """What a runout means."""

    number: float = result(COUNT, "Reading")
    off_axis: float = result(LENGTH, "axis off by", hint="half the runout")
    means: str = word("what it means")
    reading_next: str = word("which reading settles it")


def runout_rows(runouts: Sequence[tuple[int, Runout]]) -> list[RunoutRow]:
    """A row for each runout with the number of its reading (mm).

    >>> runout_rows([(3, Runout(-10.0, 0.04, 0.002, "turned"))])[0].means.split(":")[0]
    'What this clamping turned runs true by itself'
    """
    every = [runout for _, runout in runouts]
    return [_row(number, runout, every) for number, runout in runouts]


def _row(number: int, runout: Runout, every: Sequence[Runout]) -> RunoutRow:
    cause = cause_of(runout, every)
    seen = is_seen(runout)
    return RunoutRow(
        number=float(number),
        off_axis=eccentricity.at(Phrase("reading {number}", number=number))(runout.full),
        means=MEANS[cause] if seen else "Within the spread of the gauge: nothing is proved",
        reading_next=NEXT[cause] if seen else "none is needed",
    )
