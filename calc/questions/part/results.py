"""What the page of a whole part answers: the part as a whole, the rows of its tables."""

from __future__ import annotations

from calc.language.fields import Declared, result, word
from calc.language.quantities import (
    ANGLE,
    COUNT,
    FEED,
    FORCE,
    LENGTH,
    POWER,
    RADIUS,
    SPINDLE_SPEED,
    SURFACE_SPEED,
    TIME,
    VOLUME,
    X,
    Z,
)


class PartResults(Declared):
    """The part as a whole."""

    total_time: float = result(TIME, "Time in feed, all operations", "t")
    volume_removed: float = result(VOLUME, "Volume removed")
    material_left: float = result(LENGTH, "Most material left at the end", hint="square to the wall")
    cut_too_deep: float = result(LENGTH, "Deepest cut into the print")
    rpm_max: float | None = result(SPINDLE_SPEED, "Highest spindle speed", hint="at the smallest diameter, in a pass")
    force_max: float | None = result(FORCE, "Largest cutting force")
    power_max: float | None = result(POWER, "Most power at the spindle")
    operation_count: float = result(COUNT, "Operations")
    part_length: float = result(LENGTH, "Finished length")


class OperationResult(Declared):
    """One operation done; `max_rpm` is the spindle's limit, which holds for every speed."""

    operation: str = word("Operation")
    tool: str = word("Tool")
    passes: float = result(COUNT, "number of passes")
    time: float | None = result(TIME, "time")
    rpm_max: float | None = result(SPINDLE_SPEED, "highest rpm")
    max_rpm: float | None = result(SPINDLE_SPEED, "spindle limit")
    force_max: float | None = result(FORCE, "force")
    power_max: float | None = result(POWER, "power")
    removed: float = result(VOLUME, "removed")
    material_left: float = result(LENGTH, "material left")
    cut_too_deep: float = result(LENGTH, "too deep")


class CutResult(Declared):
    """How one operation cuts, as it is set at the machine.

    What is done on the axis, threads and knurls have one spindle speed, the `fixed_speed`; at the others the surface
    speed is held.
    """

    operation: str = word("Operation")
    tool: str = word("Tool")
    surface_speed: float | None = result(SURFACE_SPEED, "surface speed")
    fixed_speed: float | None = result(SPINDLE_SPEED, "fixed speed")
    max_rpm: float | None = result(SPINDLE_SPEED, "spindle limit")
    feed: float | None = result(FEED, "feed")
    depth: float | None = result(LENGTH, "depth")
    passes: float | None = result(COUNT, "number of passes")
    allowance_x: float | None = result(LENGTH, "leaves X, per side")
    allowance_z: float | None = result(LENGTH, "leaves Z")
    led: str | None = word("strategy")
    time: float | None = result(TIME, "time")
    note: str | None = word("note")


class CheckResult(Declared):
    """One size to measure on the first part, a length from Z 0 positive into the part."""

    what: str = word("Measure")
    nominal: float | None = result(LENGTH, "nominal")
    lower: float | None = result(LENGTH, "lower limit")
    upper: float | None = result(LENGTH, "upper limit")
    angle: float | None = result(ANGLE, "angle")
    least_angle: float | None = result(ANGLE, "lower limit of the angle")
    largest_angle: float | None = result(ANGLE, "upper limit of the angle")
    measured_with: str = word("with")


class ToolResult(Declared):
    """One place in the turret, in the order of first use."""

    place: str = word("Place")
    insert: str | None = word("insert or tool")
    holder: str | None = word("holder")
    nose_radius: float | None = result(RADIUS, "nose")
    size: float | None = result(LENGTH, "size")
    tool_point: str | None = word("point")
    stick_out: float | None = result(LENGTH, "stick-out")
    touch_x: float | None = result(X, "touched, X reads")
    touch_z: float | None = result(Z, "Z reads")
    offset_x: float | None = result(X, "offset X")
    offset_z: float | None = result(Z, "offset Z")
    operations: str = word("for")


class PassResult(Declared):
    """One pass as it is cut."""

    operation: str = word("Pass")
    depth: float | None = result(LENGTH, "depth")
    surface_speed: float | None = result(SURFACE_SPEED, "surface speed")
    feed: float | None = result(FEED, "feed")
    rpm_start: float | None = result(SPINDLE_SPEED, "rpm at start")
    rpm_end: float | None = result(SPINDLE_SPEED, "rpm at end")
    max_rpm: float | None = result(SPINDLE_SPEED, "spindle limit")
    time: float | None = result(TIME, "time")
    force: float | None = result(FORCE, "force")
    removed: float = result(VOLUME, "removed")
