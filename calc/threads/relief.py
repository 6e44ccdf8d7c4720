"""The thread relief of DIN 76-1 before a shoulder: its sizes by pitch, and its contour points."""

from __future__ import annotations

from dataclasses import dataclass
from math import radians, tan
from typing import Literal

from calc.contour import Arc, Chain, Line, Point
from calc.language.messages import Message, Quantity
from calc.language.problems import Fault, OutOfRange
from calc.language.quantities import LENGTH, Angle, Diameter, Length
from calc.language.working import formula
from calc.threads.tables import table
from calc.threads.thread import Thread

SLOPE = radians(30.0)  # from the thread down to the bottom, at least
Form = Literal["regular", "short"]
FORMS: dict[Form, str] = {"regular": "regular (A outside, C inside)", "short": "short (B outside, D inside)"}
DIN_76 = "DIN 76-1, from memory"


@dataclass(frozen=True, slots=True)
class Relief:
    """A relief [mm]: letter of its form, diameter of its bottom, least g1, largest g2, radius; thread's diameter."""

    letter: str
    bottom: float
    least_bottom: float
    length: float
    radius: float
    thread: float
    outside: bool


@formula(source=DIN_76, means="diameter at the bottom of the relief outside", result="d_g")
def bottom_outside(d: Diameter, a: Length) -> Diameter:
    """Diameter [mm] of the relief's bottom, `a` [mm] below the thread `d` [mm]. Source: DIN 76-1.

    >>> bottom_outside(24.0, 3.0)
    21.0
    """
    return d - a


@formula(source=DIN_76, means="diameter at the bottom of the relief inside", result="d_g")
def bottom_inside(D: Diameter, a: Length) -> Diameter:
    """Diameter [mm] of the relief's bottom, `a` [mm] above the thread `D` [mm]. Source: DIN 76-1.

    >>> bottom_inside(30.0, 0.5)
    30.5
    """
    return D + a


@formula(source="right triangle", means="length of the slope into the relief", result="s")
def slope_length(d: Diameter, d_g: Diameter, beta: Angle) -> Length:
    """Length [mm] along the axis from the diameter `d` to `d_g` [mm] at `beta` [rad] to the axis. Source: geometry.

    >>> from math import radians
    >>> round(slope_length(24.0, 21.0, radians(30.0)), 3)
    2.598
    """
    return abs(d - d_g) / (2 * tan(beta))


def relief_of(thread: Thread, form: Form = "regular") -> Relief:
    """The relief for `thread` in a `form`; between two pitches of the table that of the coarser one.

    Raises OutOfRange for a pitch beyond the table. Source: DIN 76-1.

    >>> from calc.threads.thread import thread_of
    >>> relief_of(thread_of("M24x2-6g"))
    Relief(letter='A', bottom=21.0, least_bottom=4.5, length=7.0, radius=1.0, thread=24.0, outside=True)
    """
    outside = thread.sizes.outside
    rows = table("relief")["outside" if outside else "inside"]
    row = next((row for pitch, row in rows.items() if float(pitch) >= thread.named.pitch - 1e-9), None)
    if row is None:
        values = {"pitch": Quantity(thread.named.pitch, LENGTH, brief=True)}
        text = "DIN 76-1 has no relief for a pitch of {pitch}: it ends at 6 mm. Give its length yourself."
        raise OutOfRange(Fault("designation", Message(text, values)))
    away, least_a, length_a, least_b, length_b, radius = row
    least, length = (least_a, length_a) if form == "regular" else (least_b, length_b)
    d = thread.named.diameter
    bottom = bottom_outside(d, away) if outside else bottom_inside(d, away)
    letter = {(True, "regular"): "A", (True, "short"): "B", (False, "regular"): "C", (False, "short"): "D"}
    return Relief(letter[outside, form], bottom, least, length, radius, d, outside)


def relief_chain(relief: Relief, shoulder_z: float, start: float, end: float) -> Chain:
    """The contour of a `relief` before a shoulder at `shoulder_z`, from the cylinder `start` up the face to `end` [mm].

    `start` is the diameter that the slope leaves (outside the thread's major, inside its minor), `end` that at which
    the contour goes on along the face. ISO signs, the shoulder toward the chuck.

    >>> from calc.threads.thread import thread_of
    >>> chain = relief_chain(relief_of(thread_of("M24x2-6g")), -30.0, 24.0, 31.0)
    >>> [(round(e.end.z, 3), round(e.end.r, 3)) for e in chain]
    [(-25.598, 10.5), (-29.0, 10.5), (-30.0, 11.5), (-30.0, 15.5)]
    """
    up = 1.0 if relief.outside else -1.0
    bottom, radius = relief.bottom / 2, relief.radius
    first = Point(shoulder_z + relief.length, start / 2)
    floor = Point(first.z - slope_length(start, relief.bottom, SLOPE), bottom)
    turned, up_face = Point(shoulder_z + radius, bottom), Point(shoulder_z, bottom + up * radius)
    centre = Point(shoulder_z + radius, bottom + up * radius)
    face = Point(shoulder_z, end / 2)
    arc = Arc(turned, up_face, centre, "cw" if relief.outside else "ccw")
    return Chain((Line(first, floor), Line(floor, turned), arc, Line(up_face, face)))


def chamfer_to(thread: Thread) -> float:
    """The diameter [mm] that the chamfer at the start runs to: the root outside, 1.05 times the major diameter inside.

    Source: common practice, no source.

    >>> from calc.threads.thread import thread_of
    >>> round(chamfer_to(thread_of("M24x2-6g")), 3), chamfer_to(thread_of("M20-6H"))
    (21.261, 21.0)
    """
    sizes = thread.sizes
    if sizes.outside:
        return sizes.minor if isinstance(sizes.minor, float) else sizes.minor.lower
    return 1.05 * thread.named.diameter
