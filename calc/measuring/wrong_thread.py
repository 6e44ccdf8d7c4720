"""What a thread becomes when its tool is set wrong: pitch diameter and flanks."""

from __future__ import annotations

from math import atan, hypot, sin, tan
from typing import NamedTuple

from calc.language.limited import Limited, aimed
from calc.measuring.wrong import Wrong
from calc.threads.thread import Thread


class ThreadOff(NamedTuple):
    """By how much the pitch diameter (mm) and the flanks (rad, of half the angle) are off; whether the class allows it.

    `fits` is None for a thread without limits.
    """

    pitch: float
    flank: float
    fits: bool | None


def thread_off(thread: Thread, wrong: Wrong) -> ThreadOff:
    """How far a thread is off whose tool was led to its tip's diameter as if nothing were wrong.

    X moves the pitch diameter by twice as much; a nose larger by d widens the groove, outside d2 by -2 d (1/sin a - 1);
    a tool at the height h cuts at sqrt(x2 + h2), where its flanks lean more: tan a' = tan a sqrt(x2 + h2) / x.
    Source: geometry of a round tip between both flanks; right triangle of radius and height.

    >>> from calc.threads.thread import thread_of
    >>> off = thread_off(thread_of("M8-6g"), Wrong(height=0.5))
    >>> round(off.pitch, 4), off.fits
    (0.0701, False)
    """
    alpha, outside = thread.sizes.alpha, 1.0 if thread.sizes.outside else -1.0
    pitch = aimed(thread.sizes.pitch)
    r = (pitch / 2.0) * wrong.x_factor + wrong.x - outside * wrong.nose_change * (1.0 / sin(alpha) - 1.0)
    turned = hypot(r, wrong.height)
    found = 2.0 * turned
    limits = thread.sizes.pitch if isinstance(thread.sizes.pitch, Limited) else None
    return ThreadOff(
        found - pitch,
        atan(tan(alpha) * turned / r) - alpha if r > 0.0 else 0.0,
        None if limits is None else limits.lower <= found <= limits.upper,
    )
