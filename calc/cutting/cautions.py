"""What to mind where a spindle speed is shown: only what this case triggers, with its consequence and its remedy."""

from __future__ import annotations

from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.quantities import DIAMETER, LENGTH, SPINDLE_SPEED

LONGEST_OVERHANG = 3.0  # length out over diameter, held in a chuck alone; common practice, no source


def chuck_caution(max_rpm: float | None, chuck_limit: float | None) -> Caution | None:
    """The spindle limit [1/min] held against the chuck's marked one [1/min]; None where nothing is to be said.

    >>> chuck_caution(2000.0, 3200.0) is None, chuck_caution(4000.0, 3200.0).severity
    (True, 3)
    """
    if max_rpm is None:
        return Caution(Message(_NO_LIMIT), 3, "max_rpm")
    if chuck_limit is None or max_rpm <= chuck_limit:
        return None
    values = {"limit": Quantity(max_rpm, SPINDLE_SPEED), "chuck": Quantity(chuck_limit, SPINDLE_SPEED)}
    return Caution(Message(_ABOVE_CHUCK, values), 3, "max_rpm")


def running_caution(rpm: float | None, chuck_limit: float | None) -> Caution | None:
    """The speed at which the cut runs [1/min] held against the chuck's marked limit [1/min]; None where it is kept.

    >>> running_caution(3000.0, 3200.0) is None, running_caution(9470.0, 3200.0).severity
    (True, 3)
    """
    if rpm is None or chuck_limit is None or rpm <= chuck_limit:
        return None
    values = {"speed": Quantity(rpm, SPINDLE_SPEED), "chuck": Quantity(chuck_limit, SPINDLE_SPEED)}
    return Caution(Message(_RUNS_ABOVE_CHUCK, values), 3, "max_rpm")


def overhang_caution(length_out: float | None, diameter: float | None) -> Caution | None:
    """The length out of the chuck [mm] held against the work's diameter [mm]; None where nothing is to be said.

    >>> overhang_caution(60.0, 60.0) is None, overhang_caution(240.0, 60.0).about
    (True, 'length_out')
    """
    if not length_out or not diameter or length_out <= LONGEST_OVERHANG * diameter:
        return None
    values: dict[str, Value] = {
        "length": Quantity(length_out, LENGTH),
        "diameter": Quantity(diameter, DIAMETER),
        "ratio": f"{length_out / diameter:.1f}",
        "most": f"{LONGEST_OVERHANG:.0f}",
    }
    return Caution(Message(_LONG_OUT, values), 3, "length_out")


_NO_LIMIT = (
    "Without a spindle limit the spindle runs up toward the axis as far as the machine goes, and may throw the part. "
    "Set a limit not above the chuck's marking."
)
_ABOVE_CHUCK = (
    "The spindle limit of {limit} is above the {chuck} marked on the chuck: the jaws may lose their grip. Set it no "
    "higher than the marking."
)
_RUNS_ABOVE_CHUCK = (
    "At {speed} the chuck is over its marked {chuck}: the jaws may lose their grip. Set a spindle limit of {chuck} or "
    "less."
)
_LONG_OUT = (
    "{length} out of the chuck on {diameter} is {ratio} diameters, more than {most} without a tailstock: the work may "
    "bend, whip and climb out. Support it, or turn slower."
)
