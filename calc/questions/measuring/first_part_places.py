"""Where each reading of the first part was taken, which size is wanted there, and its limits."""

from __future__ import annotations

from collections.abc import Sequence
from typing import cast

from calc.contour import Chain, Point, Side, Vector
from calc.language.limited import aimed, limited
from calc.language.messages import Message, Quantity
from calc.language.problems import Fault, Missing, OutOfRange, Problem
from calc.language.quantities import LENGTH
from calc.measuring.causes import State
from calc.measuring.limits import Limits, read_limits
from calc.measuring.places import (
    ALONG_R,
    ANYWHERE,
    Place,
    What,
    faced_for_it,
    find,
    find_taper,
    size,
    turned_for_it,
)
from calc.measuring.touched import Along, find_point
from calc.questions.measuring.first_part_fields import CheckKind, Reading
from calc.threads.checking import wires_for
from calc.threads.sizes import Diameters
from calc.threads.thread import thread_of

POINTS: dict[CheckKind, Along] = {"point_z": "z", "point_x": "x"}
LACKS: dict[What, str] = {
    "over_wires": "Give the thread, or the size over wires that the print has.",
    "over_knurl": "Give the diameter over the knurl that the print has.",
}
ANOTHER_PLACE = 0.5
"""mm: a nominal size that is farther than this from the contour's belongs to another place."""


def places_of(chain: Chain, side: Side, number: int, readings: Sequence[Reading]) -> list[Place]:
    """Where each reading was taken by a tool of tool point `number` (0 to 9).

    Raises OutOfRange for all whose place the contour does not have.
    """
    faults: list[Fault] = []
    places = []
    for index, reading in enumerate(readings):
        try:
            places.append(_threaded(reading) or _place(chain, side, number, reading))
        except Problem as problem:
            faults += [Fault(f"readings.{index}.{fault.field}", fault.message) for fault in problem.faults]
    if faults:
        raise OutOfRange(*faults)
    return places


def _threaded(reading: Reading) -> Place | None:
    """The place of a check of a thread; None for other checks. Raises what its designation and wires do."""
    size_there = _of_thread(reading)
    if size_there is None:
        return None
    inside = not thread_of(reading.thread or "").sizes.outside
    out = Vector(0.0, -1.0) if inside else ALONG_R
    return Place("over_wires", Point(ANYWHERE if reading.at is None else reading.at, aimed(size_there) / 2.0), out)


def _of_thread(reading: Reading) -> Diameters | None:
    """The size (mm) that a thread asks for, with its limits; None where the reading is of none.

    Raises Missing without a designation that is needed, and what the designation and the wire do.
    """
    if reading.what not in ("over_wires", "pitch_diameter") or (reading.what == "over_wires" and not reading.thread):
        return None
    if not reading.thread:
        raise Missing(Fault("thread", Message("Which thread is it? Write it as M24x2-6g.")))
    try:
        thread = thread_of(reading.thread)
        over = wires_for(thread, reading.wire, thread.sizes.pitch, "three", None)
    except Problem as problem:
        raise problem.renamed(lambda field: "thread" if field == "designation" else field) from problem
    if reading.what == "pitch_diameter":
        return thread.sizes.pitch
    if over is None:
        text = "Wires are for outside parallel threads: give the pitch diameter of this one."
        raise OutOfRange(Fault("what", Message(text)))
    return over.over


def _place(chain: Chain, side: Side, number: int, reading: Reading) -> Place:
    what, wanted, nominal = cast("What", reading.what), _aimed(reading), _nominal(reading)
    if what in LACKS and wanted is None:
        raise Missing(Fault("nominal", Message(LACKS[what])))
    if reading.what in POINTS:
        return _point(chain, side, reading)
    if what == "taper":
        return _taper(chain, side, reading)
    found = find(chain, side, what, reading.at, wanted) or find(chain, side, what, reading.at, nominal)
    if found is None and what == "diameter" and reading.at is not None and wanted is not None:
        found = turned_for_it(wanted / 2.0, reading.at, number)
    if found is None and what == "length" and wanted is not None:
        found = faced_for_it(-wanted if reading.at is None else reading.at, chain.bounds.r_max, number)
    if found is None:
        text = "The contour has no place for a {what} there: give the Z where it is measured, or the print's size."
        raise OutOfRange(Fault("at", Message(text, {"what": reading.what})))
    off = 0.0 if wanted is None or what == "runout" else abs(size_wanted(found) - wanted)
    if off > ANOTHER_PLACE:
        text = "The contour has {size} there, {off} from the print's size: is the Z right, or the contour?"
        values = {"size": Quantity(size_wanted(found), LENGTH), "off": Quantity(off, LENGTH)}
        raise OutOfRange(Fault("nominal", Message(text, values)))
    return found


def _point(chain: Chain, side: Side, reading: Reading) -> Place:
    """A point that a probe touched. Raises Missing without where, OutOfRange where the contour has none there."""
    field = "on_diameter" if reading.what == "point_z" else "at"
    at = reading.at if field == "at" else reading.on_diameter
    if at is None:
        text = "Give the diameter on which it was touched." if field == "on_diameter" else "Give the Z of the touch."
        raise Missing(Fault(field, Message(text)))
    ball = 0.0 if reading.ball_diameter is None else reading.ball_diameter / 2.0
    along = POINTS[reading.what]
    found = find_point(chain, side, along, at / 2.0 if along == "z" else at, ball, _aimed(reading))
    if found is None:
        raise OutOfRange(Fault(field, Message("The contour has no point to touch there: check where, and the ball.")))
    return found


def _nominal(reading: Reading) -> float | None:
    """The size on the print (mm) without its limits."""
    both = limited(reading.nominal)
    return both.value if both else reading.nominal


def _aimed(reading: Reading) -> float | None:
    """The middle of a size's limits (mm), which the contour may have instead of the size on the print."""
    both, nominal = limited(reading.nominal), _nominal(reading)
    if nominal is None or reading.lower is None or reading.upper is None:
        return both.aimed if both else nominal
    low, high = read_limits(nominal, reading.lower, reading.upper)
    return nominal if low is None or high is None else (low + high) / 2.0


def _taper(chain: Chain, side: Side, reading: Reading) -> Place:
    """Both places of a taper. Raises Missing without one of them, OutOfRange where the contour has none there."""
    if reading.at is None or reading.to_z is None:
        text = "A taper is measured at two places: give both Z."
        raise Missing(Fault("at" if reading.at is None else "to_z", Message(text)))
    found = find_taper(chain, side, reading.at, reading.to_z)
    if found is None or reading.at == reading.to_z:
        raise OutOfRange(Fault("to_z", Message("The contour has no two diameters there: check both Z.")))
    return found


def size_wanted(place: Place) -> float:
    """The size (mm) that the contour has at a place."""
    return size(place, State(), 0)


def limits_of(reading: Reading, place: Place) -> Limits:
    """The limits (mm) that the print gives for a reading's size at its place."""
    both = limited(_of_thread(reading) or reading.nominal)
    if both is not None and reading.upper is None and reading.lower is None:
        return Limits(both.lower, both.upper)
    nominal = both.value if both else reading.nominal
    return read_limits(size_wanted(place) if nominal is None else nominal, reading.lower, reading.upper)
