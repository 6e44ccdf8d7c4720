"""What the plan of a contour finds."""

from __future__ import annotations

from calc.language.fields import Declared, part, result, word
from calc.language.quantities import AREA, COUNT, LENGTH, ROUGHNESS, TIME, VOLUME, X, Z


class LeftResults(Declared):
    """What differs from the print in the end (mm, mm2, mm3)."""

    proud_most: float = result(LENGTH, "Material left, at most", hint="square to the nearest wall")
    left_in_corner: float = result(LENGTH, "of it to the corner", hint="from the worst place to the nearest corner")
    gouged_most: float = result(LENGTH, "Cut too deep, at most", hint="0: nowhere")
    over_area: float = result(AREA, "Area of material left")
    out_of_reach: float = result(COUNT, "Places not reached by an edge", hint="for another tool")


class RemovalResults(Declared):
    """What is taken off."""

    pass_count: float = result(COUNT, "Passes")
    volume: float = result(VOLUME, "Volume taken")
    thickest_chip: float = result(LENGTH, "Widest chip", hint="mean over an element, square to the path")
    largest_section: float | None = result(AREA, "Largest chip section")


class TimeResults(Declared):
    """Time in feed, run-ins included; rapid moves and tool changes are not."""

    finish_time: float | None = result(TIME, "Finishing")
    rough_time: float | None = result(TIME, "Roughing")
    face_time: float | None = result(TIME, "Facing")
    total_time: float | None = result(TIME, "All passes")
    ra_reached: float | None = result(ROUGHNESS, "Ra from feed and nose", "Ra")
    grade: str | None = word("Roughness grade")


class WordsResults(Declared):
    """How well the words close after rounding (mm)."""

    worst_gap: float = result(LENGTH, "Rounded arcs close within", hint="end against radius; 0.002 mm is allowed here")


class ContourPlanResults(Declared):
    """The plan."""

    left: LeftResults = part(LeftResults, "What is left")
    removal: RemovalResults = part(RemovalResults, "Pass by pass")
    times: TimeResults = part(TimeResults, "Time and finish")
    closing: WordsResults = part(WordsResults, "Words")


class RemovalRow(Declared):
    """What one pass takes, by the tool's true outline."""

    name: str = word("Pass")
    area: float = result(AREA, "area taken")
    volume: float = result(VOLUME, "volume taken")
    chip_width: float = result(LENGTH, "chip, widest")
    chip_section: float | None = result(AREA, "chip section, largest")
    hit: str = word("hits")


class ChipRow(Declared):
    """The chip over one stretch of a pass: its width square to the path, and its section at the feed."""

    name: str = word("Pass")
    place: float = result(LENGTH, "from")
    length: float = result(LENGTH, "over")
    width: float = result(LENGTH, "chip width")
    section: float | None = result(AREA, "chip section")


class PlaceRow(Declared):
    """Where the part differs from the print beside an element."""

    element: str = word("Element")
    what: str = word("Type")
    depth: float = result(LENGTH, "by", hint="square to the nearest wall")
    corner: float = result(LENGTH, "to the nearest corner")
    x: float = result(X, "at X")
    z: float = result(Z, "at Z")


class ShadowRow(Declared):
    """A stretch that an edge of the insert cannot get to."""

    number: str = word("Shadow")
    from_x: float = result(X, "from X")
    from_z: float = result(Z, "from Z")
    to_x: float = result(X, "to X")
    to_z: float = result(Z, "to Z")
