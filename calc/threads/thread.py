"""A thread on one side of a print: its designation, its sizes, its helix, and the gauge plane of a taper one."""

from __future__ import annotations

from dataclasses import dataclass

from calc.language.messages import Message, Value
from calc.language.problems import Contradiction, Fault
from calc.threads import profile
from calc.threads.acme import acme_sizes
from calc.threads.designation import Designation, read_designation
from calc.threads.metric import metric_sizes
from calc.threads.pipe import GaugePlane, parallel_sizes, taper_sizes
from calc.threads.rounded import round_sizes
from calc.threads.sizes import Sizes
from calc.threads.trapezoidal import trapezoidal_sizes
from calc.threads.unified import unified_sizes

_BY_FAMILY = {
    "M": metric_sizes,
    "UN": unified_sizes,
    "Tr": trapezoidal_sizes,
    "ACME": acme_sizes,
    "Rd": round_sizes,
}


@dataclass(frozen=True, slots=True)
class Thread:
    """A thread complete, mm and rad: what it is called, its sizes on this side, lead and lead angle."""

    named: Designation
    sizes: Sizes
    lead: float
    lead_angle: float
    plane: GaugePlane | None = None


def side_of(found: Designation, where: str = "") -> bool:
    """Whether the thread is outside: as `where` says, else as its class or letters say, else outside.

    Raises Contradiction at `where` when both say it and disagree.

    >>> side_of(read_designation("M30x1.5-6H")), side_of(read_designation("Rc 1/2")), side_of(read_designation("M24"))
    (False, False, True)
    """
    said = _side_said(found)
    if said is not None and where and (where == "outside") != said:
        values: dict[str, Value] = {
            "written": found.text,
            "side": "an outside" if said else "an inside",
            "where": where,
        }
        text = "“{written}” is {side} thread by its class or letters, but {where} is chosen. Change one of them."
        raise Contradiction(Fault("where", Message(text, values)), fields=("designation", "where"))
    return where != "inside" if where else said is not False


def _side_said(found: Designation) -> bool | None:
    """The side that the designation fixes by itself; None where both may be meant."""
    if found.series in ("R", "Rc", "Rp"):
        return found.series == "R"
    if found.family == "G":
        return True if found.classes else None
    if found.family not in ("M", "Tr", "UN"):
        return None
    inside = "B" if found.family == "UN" else "GH"
    sides = {one[-1] not in inside for one in found.classes if one}
    return sides.pop() if len(sides) == 1 else None


def thread_of(text: str, where: str = "") -> Thread:
    """The thread that a print calls `text`, `where` outside or inside ("": as it says by itself).

    Raises OutOfRange for what is none or has no such class, Contradiction where the side does not fit.

    >>> thread = thread_of("M24x2-6g")
    >>> thread.sizes.pitch.upper, round(thread.lead_angle, 5)
    (22.663, 0.02804)
    """
    found = read_designation(text)
    outside = side_of(found, where)
    plane = None
    if found.is_taper:
        sizes, plane = taper_sizes(found, outside=outside)
    elif found.family in ("G", "R"):
        sizes = parallel_sizes(found, outside=outside)
    else:
        sizes = _BY_FAMILY[found.family](found, outside=outside)
    lead = profile.lead_of(float(found.starts), found.pitch)
    return Thread(found, sizes, lead, profile.lead_angle(lead, sizes.basic.pitch), plane)
