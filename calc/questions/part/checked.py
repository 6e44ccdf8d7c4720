"""What the operator measures on the first part: each size of the print with its limits, and with what."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping

from calc.contour import Chain, Side
from calc.contour.solving.habits import Habits
from calc.contour.text import ContourGiven
from calc.language.limited import Limited, limited
from calc.language.messages import Phrase, Typed, Value
from calc.questions.part.carried_checks import carried_blanks
from calc.questions.part.declared import PartInputs
from calc.questions.part.job import Job, Print, Roll
from calc.questions.part.knurl_blank import blank_of
from calc.questions.part.left_on import shift_at
from calc.questions.part.results import CheckResult
from calc.shapes.knurls_on_print import knurl_called
from calc.threads.thread import thread_of

SIZES = {
    "x": ("diameter", 2.0),
    "z": ("length from Z 0", -1.0),
    "dz": ("length", -1.0),
    "r": ("radius", 1.0),
    "w": ("width of the groove", 1.0),
    "dep": ("depth of the groove", 1.0),
}
MEASURED_WITH = {
    "outside": {
        "x": "micrometer",
        "z": "depth gauge",
        "dz": "depth gauge or caliper",
        "r": "radius gauge, points on the arc",
        "w": "gauge blocks",
        "dep": "depth gauge",
    },
    "inside": {
        "x": "bore gauge or plug gauge",
        "z": "depth gauge",
        "dz": "depth gauge or caliper",
        "r": "radius gauge",
        "w": "groove gauge",
        "dep": "groove gauge",
    },
}
"""Common practice, no source."""
CORNERS = {"chamfer": ("chamfer", "chamfer gauge"), "radius": ("edge radius", "radius gauge")}
"""Common practice, no source."""
GROOVE = ("diameter at the bottom of the groove", 2.0)
BLANK = "blank before it is knurled"
THREAD_GAUGES = {"outside": "thread ring gauge, or over wires", "inside": "thread plug gauge"}
"""Common practice, no source."""
ANGLED = "half angle"
PROTRACTOR = "bevel protractor, or two diameters and their distance"
"""Common practice, no source."""
SIDES: tuple[Side, Side] = ("right", "left")


def check_rows(inputs: PartInputs, job: Job) -> list[CheckResult]:
    """The sizes that the print gives, in the order of its rows; those with limits first, carried through ones too.

    What is left for later work is in them: they are sizes of the part as it is turned. At the axis of a part whose
    stock has a bore there is nothing to touch: there the depth is given at the bore's edge.
    """
    outside, bar = job.outside.chain, inputs.bar.bar_diameter
    right, left = (Habits(side, None if bar is None else bar / 2.0) for side in SIDES)
    found = [
        *_sizes(inputs.outside, "outside", job.outside, right),
        *_sizes(inputs.inside, "inside", job.inside, left),
        *_threads(inputs.outside, "outside"),
        *_threads(inputs.inside, "inside"),
        *_corners(inputs.outside, "outside"),
        *_corners(inputs.inside, "inside"),
        *_angles(inputs.outside, "outside"),
        *_angles(inputs.inside, "inside"),
    ]
    edge = _at_the_hole(outside, inputs.bar.stock_bore / 2.0)
    if edge is not None and outside.start.z != 0.0:
        found = [edge if each.what == "outside, start, length from Z 0" else each for each in found]
    return sorted(found, key=lambda row: row.lower is None and row.least_angle is None)


def _sizes(given: ContourGiven | None, where: str, turned: Print | None, habits: Habits) -> Iterator[CheckResult]:
    """The sizes that a contour leaves blank with the limits that carry through to them, then those that it gives."""
    if given is None or turned is None:
        return
    carried = carried_blanks(given, habits)
    for field, value in (*carried.items(), *given.typed.items()):
        _, row, name = field.split(".")
        if name not in SIZES or value == 0.0:
            continue
        what, factor = GROOVE if name == "x" and int(row) in given.grooves.values() else SIZES[name]
        knurl = given.knurls.get(int(row)) if name == "x" else None
        if knurl is not None:
            yield from _blank(given, int(row), where, knurl)
            what = "diameter over the knurl"
        limits, shift = limited(value), _shift(given, turned, int(row), name, where)
        low, high = (None, None)
        if limits is not None:
            low, high = sorted((factor * (limits.lower + shift), factor * (limits.upper + shift)))
        nominal = limits.value if limits is not None else float(given.typed[field])
        text = "{where}, {place}, {what}, by the other limits" if field in carried else "{where}, {place}, {what}"
        yield CheckResult(
            what=Phrase(text, where=where, place=_place(given, int(row)), what=what),
            nominal=factor * (nominal + shift),
            lower=low,
            upper=high,
            measured_with=MEASURED_WITH[where][name],
        )


def _blank(given: ContourGiven, row: int, where: str, text: str) -> Iterator[CheckResult]:
    """The blank of a knurl, which is measured before it is rolled."""
    called = knurl_called(text)
    if called is not None:
        found = blank_of(Roll(called.pitch, called.form), 2.0 * float(given.typed[f"{given.prefix}.{row}.x"]))
        yield CheckResult(
            what=Phrase("{where}, {place}, {what}", where=where, place=_place(given, row), what=BLANK),
            nominal=found.diameter_before,
            measured_with=MEASURED_WITH[where]["x"],
        )


def _corners(given: ContourGiven | None, where: str) -> Iterator[CheckResult]:
    """The chamfers and edge radii of a contour with their limits, those of the element before."""
    for field, corner in (given.breaks if given is not None else {}).items():
        if given is None or corner.kind not in CORNERS:
            continue
        what, how = CORNERS[corner.kind]
        limits, row = limited(corner.size), int(field.split(".")[1])
        yield CheckResult(
            what=Phrase("{where}, {place}, {what}", where=where, place=_place(given, row), what=what),
            nominal=float(corner.size) if limits is None else limits.value,
            lower=None if limits is None else limits.lower,
            upper=None if limits is None else limits.upper,
            measured_with=how,
        )


def _angles(given: ContourGiven | None, where: str) -> Iterator[CheckResult]:
    """The cones of a contour by their half angles, given as such or as a taper, with their limits."""
    for field, value in given.typed.items() if given is not None else ():
        _, row, name = field.split(".")
        if given is None or name not in HALF_ANGLES or value == 0.0:
            continue
        limits, half = limited(value), HALF_ANGLES[name]
        nominal = limits.value if limits is not None else float(value)
        yield CheckResult(
            what=Phrase("{where}, {place}, {what}", where=where, place=_place(given, int(row)), what=ANGLED),
            angle=half(nominal),
            least_angle=None if limits is None else half(limits.lower),
            largest_angle=None if limits is None else half(limits.upper),
            measured_with=PROTRACTOR,
        )


def _half_of_taper(ratio: float) -> float:
    """The half angle (rad) of a taper, its change of diameter by length."""
    return math.atan(ratio / 2.0)


def _as_given(angle: float) -> float:
    return angle


HALF_ANGLES: Mapping[str, Callable[[float], float]] = {"ha": _as_given, "tp": _half_of_taper}
"""What a row gives of a cone, and its half angle (rad) by that."""


def _threads(given: ContourGiven | None, where: str) -> Iterator[CheckResult]:
    """The threads of a contour by their pitch diameters; a taper thread is left to its own gauge."""
    for row, designation in (given.threads if given is not None else {}).items():
        thread = thread_of(designation)
        pitch = thread.sizes.pitch
        limits = limited(pitch)
        if given is None or thread.plane is not None:
            continue
        values: dict[str, Value] = {"where": where, "place": _place(given, row), "thread": Typed(designation)}
        yield CheckResult(
            what=Phrase("{where}, {place}, {thread}, pitch diameter", **values),
            nominal=pitch.value if isinstance(pitch, Limited) else pitch,
            lower=limits.lower if limits else None,
            upper=limits.upper if limits else None,
            measured_with=THREAD_GAUGES[where],
        )


def _shift(given: ContourGiven, turned: Print, row: int, name: str, where: str) -> float:
    """By how much (mm) a size of a row, such as a radius or a Z of its end, is turned off the print."""
    number = sum(each <= row for each in given.rows)
    shift = shift_at(turned, number)
    if name == "dz":
        return shift.z - shift_at(turned, number - 1).z
    if name == "dep":  # from the surface before a groove's three elements to its bottom
        deeper = shift_at(turned, number - 3).r - shift_at(turned, number - 1).r
        return -deeper if where == "inside" else deeper
    return {"x": shift.r, "z": shift.z}.get(name, 0.0)


def _place(given: ContourGiven, row: int) -> str:
    """A row by the number of its element, as the points have it; a corner by that of the element before."""
    number = sum(each <= row for each in given.rows)
    if number == 0:
        return "start"
    return Phrase("row {number}", number=number) if row in given.rows else Phrase("after row {number}", number=number)


def _at_the_hole(outside: Chain, radius: float) -> CheckResult | None:
    """The depth at the edge of a hole of a radius (mm); None where the outside does not come to the axis there."""
    if radius <= 0.0 or outside.start.r > 0.0:
        return None
    first = next((point for element in outside for point in element.points_at_r(radius)), None)
    if first is None:
        return None
    what = "outside, at the edge of the hole, length from Z 0"
    return CheckResult(what=what, nominal=-first.z, measured_with="depth gauge there: the hole takes the middle away")
