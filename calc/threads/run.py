"""Running a thread: the spindle speed that all limits allow, the room it needs at both ends, the time it takes."""

from __future__ import annotations

from dataclasses import dataclass

from calc.cutting.machine import Machine
from calc.cutting.speed import spindle_speed
from calc.language.fields import Declared, given
from calc.language.kinds import SECONDS
from calc.language.messages import Message, Quantity, Value
from calc.language.problems import Fault, Impossible
from calc.language.quantities import LENGTH, RATIO, SPINDLE_SPEED
from calc.threads import synchrony as formulas
from calc.threads.synchrony import FEED_RATE
from calc.threads.thread import Thread

USUAL_RAPID = 8000.0  # mm/min for the returns; common practice, no source


class Drive(Declared):
    """What the feed drive does while it follows the spindle."""

    max_feed_rate: float | None = given(
        FEED_RATE, "Highest feed rate", "v_max", above=0.0, hint="in step with the spindle"
    )
    drive_lag: float | None = given(SECONDS, "Time constant of the drive", "T", above=0.0, most=0.1, blank="1/30 s")
    lead_error: float | None = given(
        RATIO, "Error of the lead allowed at the start", "e", above=0.0, most=0.2, hint="share", blank="0.01"
    )
    rapid_rate: float | None = given(FEED_RATE, "Rapid rate", "v_r", above=0.0, hint="of the returns", blank="8 m/min")


@dataclass(frozen=True, slots=True)
class Run:
    """How a thread runs: speed [1/min] and what holds it ("" for nothing), rates [mm/min], room [mm] at both ends."""

    rpm: float
    limited_by: str
    feed_rate: float
    run_up: float
    run_out: float
    rapid: float


def run_of(thread: Thread, speed: float, machine: Machine, drive: Drive) -> Run:
    """How `thread` runs at the surface `speed` [mm/min] on its major diameter, within the limits of machine and drive.

    Source: as the formulas.

    >>> from calc.threads.thread import thread_of
    >>> run = run_of(thread_of("M24x2"), 120_000.0, Machine(max_rpm=1000.0), Drive())
    >>> run.rpm, run.limited_by, round(run.run_out, 3)
    (1000.0, 'spindle limit', 1.111)
    """
    rpm, limited_by = spindle_speed(speed, thread.named.diameter), ""
    ceilings = [(machine.max_rpm, "spindle limit"), (machine.chuck_limit, "chuck's marked limit")]
    if drive.max_feed_rate is not None:
        ceilings.append((formulas.speed_of_feed(drive.max_feed_rate, thread.lead), "feed rate"))
    for ceiling, name in ceilings:
        if ceiling is not None and ceiling < rpm:
            rpm, limited_by = ceiling, name
    rate = formulas.feed_rate(thread.lead, rpm)
    lag = lag_of(drive)
    error = formulas.USUAL_ERROR if drive.lead_error is None else drive.lead_error
    return Run(
        rpm,
        limited_by,
        rate,
        formulas.run_up(rate, lag, error),
        formulas.run_out(rate, lag),
        USUAL_RAPID if drive.rapid_rate is None else drive.rapid_rate,
    )


def lag_of(drive: Drive) -> float:
    """The time constant [min] of a drive, the usual one where none is given.

    >>> round(lag_of(Drive()) * 60, 4)
    0.0333
    """
    return formulas.USUAL_LAG if drive.drive_lag is None else drive.drive_lag


def room_needed(thread: Thread, run: Run) -> float:
    """The room [mm] behind the full thread that the tool takes: its run-out, and half a pitch of its own width.

    >>> from calc.threads.thread import thread_of
    >>> thread = thread_of("M24x2")
    >>> round(room_needed(thread, run_of(thread, 75_398.2, Machine(), Drive())), 2)
    2.11
    """
    return run.run_out + thread.named.pitch / 2


def require_room(thread: Thread, run: Run, drive: Drive, room: float | None) -> None:
    """Refuse a `room` [mm] behind the thread in which the tool cannot stop; None is no limit.

    Raises Impossible, with the speed at which it would.

    >>> from calc.threads.thread import thread_of
    >>> thread = thread_of("M24x2")
    >>> require_room(thread, run_of(thread, 150_000.0, Machine(), Drive()), Drive(), 2.5)
    Traceback (most recent call last):
    calc.language.problems.Impossible: relief: ...
    """
    needed = room_needed(thread, run)
    if room is None or room >= needed:
        return
    left = room - thread.named.pitch / 2
    values: dict[str, Value] = {
        "room": Quantity(room, LENGTH, brief=True),
        "rpm": Quantity(run.rpm, SPINDLE_SPEED),
        "needed": Quantity(needed, LENGTH),
        "out": Quantity(run.run_out, LENGTH),
    }
    if left <= 0.0:
        text = (
            "{room} behind the thread is less than half of the pitch: the insert itself finds no room. At {rpm} "
            "it takes "
            "{needed}, {out} of it to stop. Make the relief longer."
        )
        raise Impossible(Fault("relief", Message(text, values)))
    values["most"] = Quantity(formulas.speed_to_stop(left, lag_of(drive), thread.lead), SPINDLE_SPEED)
    text = (
        "In {room} behind the thread the tool cannot stop at {rpm}: it takes {needed}, {out} of it to stop. "
        "Turn no faster "
        "than {most}, or make the relief longer."
    )
    raise Impossible(Fault("relief", Message(text, values)))


@dataclass(frozen=True, slots=True)
class Times:
    """Time [min] in cut, and with the returns."""

    in_cut: float
    total: float


def times_of(run: Run, length: float, count: int) -> Times:
    """The time of `count` passes over `length` [mm] of thread, run-up and run-out with it. Source: the formulas.

    >>> from calc.threads.thread import thread_of
    >>> run = run_of(thread_of("M24x2"), 120_000.0, Machine(max_rpm=1000.0), Drive())
    >>> round(times_of(run, 30.0, 8).in_cut, 4)
    0.1405
    """
    whole = run.run_up + length + run.run_out
    in_cut = formulas.time_in_cut(float(count), whole, run.feed_rate)
    return Times(in_cut, in_cut + formulas.time_of_returns(float(count), whole, run.rapid))
