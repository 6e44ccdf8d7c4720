"""Which insert a groove is cut with: usual widths, the widest that fits, the one to take and why."""

from __future__ import annotations

from dataclasses import dataclass

from calc.language.messages import Message, Quantity, Value
from calc.language.quantities import LENGTH

USUAL_WIDTHS = (0.8, 1.0, 1.2, 1.5, 1.6, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0)  # mm, inserts to be had; from memory
WIDEST_TAKEN = 4.0  # mm: wider ones push hard and chatter; common practice, no source
DEEPEST = 5.0  # insert widths deep for a plain grooving tool; common practice, no source
SAME = 1e-6  # mm


@dataclass(frozen=True, slots=True)
class Chosen:
    """An insert's width [mm] and the reason for it."""

    width: float
    why: Message


def widest_insert(room: float) -> float | None:
    """The widest usual insert [mm] that goes into a groove with `room` [mm] for it; None where none does.

    >>> widest_insert(3.2), widest_insert(0.5)
    (3.0, None)
    """
    return max((width for width in USUAL_WIDTHS if width <= room + SAME), default=None)


def next_insert(least: float) -> float | None:
    """The narrowest usual insert [mm] that is at least so wide [mm]; None where all are narrower.

    >>> next_insert(4.566), next_insert(4.0), next_insert(9.0)
    (5.0, 4.0, None)
    """
    return next((width for width in USUAL_WIDTHS if width >= least - SAME), None)


def chosen_insert(room: float, deep: float) -> Chosen | None:
    """The insert for a groove that leaves it `room` and is `deep` [mm]; None where no usual one goes in.

    The widest that goes in, up to 4 mm; up to a fifth of the depth where that is more. One as wide as the groove
    makes it in one plunge. Source: common practice.

    >>> [chosen_insert(room, 4.0).width for room in (1.3, 3.0, 8.0, 40.0)]
    [1.2, 3.0, 4.0, 4.0]
    >>> chosen_insert(12.0, 28.0).width
    6.0
    """
    most = max(WIDEST_TAKEN, next_insert(deep / DEEPEST) or USUAL_WIDTHS[-1])
    width = widest_insert(min(room, most))
    if width is None:
        return None
    return Chosen(width, Message(_why(room, width, most), _values(room, width, deep)))


def _why(room: float, width: float, most: float) -> str:
    if abs(room - width) < SAME:
        return _AS_WIDE
    if width < most:
        return _WIDEST
    return _DEEP if most > WIDEST_TAKEN else _NO_WIDER


def _values(room: float, width: float, deep: float) -> dict[str, Value]:
    return {
        "width": Quantity(width, LENGTH, brief=True),
        "room": Quantity(room, LENGTH),
        "most": Quantity(WIDEST_TAKEN, LENGTH, brief=True),
        "deep": Quantity(deep, LENGTH),
        "times": f"{DEEPEST:.0f}",
    }


_AS_WIDE = "An insert of {width} is taken: as wide as the groove, it makes it in one plunge, and its own width counts."
_WIDEST = "An insert of {width} is taken, the widest usual one that fits into {room}."
_NO_WIDER = "An insert of {width} is taken: wider ones than {most} go in, but push harder and chatter sooner."
_DEEP = (
    "An insert of {width} is taken, wider than {most}: {deep} deep, a narrower one goes in more than {times} widths."
)
