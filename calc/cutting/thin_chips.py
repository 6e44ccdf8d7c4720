"""A chip held against what an edge cuts and what the published tables cover: too thin it rubs, too thick is a guess."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from calc.cutting.feed_limits import LEAST_MEAN_CHIP
from calc.cutting.force import THICKEST, THINNEST
from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.quantities import LENGTH


@dataclass(frozen=True, slots=True)
class Shaving:
    """A chip's thickness [mm], the mean one where a nose cuts, and the result that its force stands in."""

    thickness: float
    about: str = "cutting_force"


def chip_cautions(chips: Sequence[Shaving]) -> Iterator[Caution]:
    """What the thinnest and the thickest of `chips` trigger.

    >>> [[caution.severity for caution in chip_cautions([Shaving(h)])] for h in (0.02, 0.04, 0.2, 3.0)]
    [[2], [1], [], [2]]
    """
    if not chips:
        return
    thin, thick = (end(chips, key=lambda chip: chip.thickness) for end in (min, max))
    values: dict[str, Value] = {
        "chip": Quantity(thin.thickness, LENGTH),
        "least": Quantity(LEAST_MEAN_CHIP, LENGTH),
        "thin": Quantity(THINNEST, LENGTH),
        "thick": Quantity(THICKEST, LENGTH),
    }
    if thin.thickness < LEAST_MEAN_CHIP:
        yield Caution(Message(_RUBS, values), 2, thin.about)
    elif thin.thickness < THINNEST:
        yield Caution(Message(_THIN, values), 1, thin.about)
    if thick.thickness > THICKEST:
        values["chip"] = Quantity(thick.thickness, LENGTH)
        yield Caution(Message(_THICK, values), 2, thick.about)


_RUBS = (
    "The chip is {chip} thick, less than {least}: the edge rubs more than it cuts, and the force is higher than this. "
    "Feed more or cut deeper."
)
_THIN = (
    "The chip is {chip} thick; the tables begin at {thin}. The real force is higher, as the edge presses more than it "
    "cuts."
)
_THICK = "The chip is {chip} thick; the tables end at {thick}. Take the force as a guess."
