"""What the plan of a dish finds, in groups: each is None throughout where the question leaves it open."""

from __future__ import annotations

from calc.cutting.machine import LoadResults
from calc.language.fields import Declared, part, result, word
from calc.language.quantities import (
    DIAMETER,
    FEED,
    FORCE,
    LENGTH,
    MASS,
    POWER,
    RADIUS,
    ROUGHNESS,
    SPINDLE_SPEED,
    SURFACE_SPEED,
    TIME,
    X,
    Z,
)
from calc.questions.shapes.dish import DishResults

MOUTH = "where the dish begins: at its sharp mouth, or where a broken edge meets it"


class WorkResults(Declared):
    """What the material makes of the dish."""

    dish_mass: float | None = result(MASS, "Mass of the dish's chips", "m")


class NoseResults(Declared):
    """Where the nose and the tool point stand (mm, radius, ISO signs)."""

    nose_path_radius: float | None = result(RADIUS, "Nose centre's arc", "R_c")
    tool_x_at_mouth: float | None = result(X, "Tool point at the mouth, X", brief="tool point at the mouth", hint=MOUTH)
    tool_z_at_mouth: float | None = result(Z, "Tool point at the mouth, Z", hint=MOUTH)
    tool_x_at_end: float | None = result(X, "Tool point at the end, X", brief="at the end")
    tool_z_at_end: float | None = result(Z, "Tool point at the end, Z")
    tool_beyond_axis: float | None = result(LENGTH, "Tool point beyond the axis by", hint="per side")
    insert_beyond_axis: float | None = result(LENGTH, "Insert reaches beyond the axis by", hint="per side")
    wise_nose: float | None = result(RADIUS, "Nose radius better below", hint="three quarters of the dish radius")
    touch_off: float | None = result(X, "Touched off on the bar, X reads")


class LeftResults(Declared):
    """What is left when the tool point follows the print and nothing is compensated."""

    left_wall_radius: float | None = result(RADIUS, "Wall becomes", brief="wall")
    left_mouth_diameter: float | None = result(DIAMETER, "Mouth becomes", brief="mouth")
    left_axis_z: float | None = result(Z, "On the axis, Z")
    left_ring_diameter: float | None = result(DIAMETER, "Deepest on a ring of")
    left_ring_z: float | None = result(Z, "Deepest, Z")
    pip_height: float | None = result(LENGTH, "Pip on the axis, height", brief="pip on the axis")
    left_face_z: float | None = result(Z, "Face comes out at Z")


class SpeedResults(Declared):
    """What the spindle does."""

    surface_speed: float | None = result(SURFACE_SPEED, "Surface speed, finishing", "v")
    rough_surface_speed: float | None = result(SURFACE_SPEED, "Surface speed, roughing")
    rpm_at_mouth: float | None = result(SPINDLE_SPEED, "Spindle at the mouth", "n", brief="at the mouth", hint=MOUTH)
    true_speed_at_mouth: float | None = result(SURFACE_SPEED, "True surface speed at the mouth", hint=MOUTH)
    limit_diameter: float | None = result(DIAMETER, "Limit takes over at", brief="limit takes over at")


class FinishResults(Declared):
    """The finish that feed and nose leave, and the feed that the wanted finish allows."""

    feed: float | None = result(FEED, "Feed, finishing", "f", brief="feed")
    peak_height: float | None = result(ROUGHNESS, "Peak height, exact")
    peak_height_rule: float | None = result(ROUGHNESS, "Peak height, by the rule")
    ra_reached: float | None = result(ROUGHNESS, "Ra from feed and nose", "Ra", brief="leaves Ra")
    grade: str | None = word("Roughness grade")
    finish_feed: float | None = result(FEED, "Feed that the finish alone allows")
    feed_limit: float | None = result(FEED, "Feed that the other limits allow")
    limited_by: str | None = word("Decided by")
    finishing_depth: float | None = result(LENGTH, "Finishing depth, along the normal")


class ForceResults(Declared):
    """Cutting force and power in the deepest roughing pass."""

    force_depth: float | None = result(LENGTH, "Deepest roughing cut")
    chip_thickness: float | None = result(LENGTH, "Chip, mean thickness")
    cutting_force: float | None = result(FORCE, "Cutting force", brief="cutting force")
    cutting_force_low: float | None = result(FORCE, "Cutting force, lowest published")
    cutting_force_high: float | None = result(FORCE, "Cutting force, highest published")
    power: float | None = result(POWER, "Power at the spindle", brief="power")
    power_high: float | None = result(POWER, "Power, highest published")


class TimeResults(Declared):
    """Time in feed, run-ins included; rapid moves and tool changes are not."""

    finish_time: float | None = result(TIME, "Finishing pass", brief="finishing")
    rough_time: float | None = result(TIME, "Roughing passes")
    face_time: float | None = result(TIME, "Facing passes")
    total_time: float | None = result(TIME, "All passes", brief="all passes")


class DishPlanResults(Declared):
    """The whole plan."""

    dish: DishResults = part(DishResults, "The dish")
    work: WorkResults = part(WorkResults, "The dish")
    nose: NoseResults = part(NoseResults, "Nose and tool point")
    uncompensated: LeftResults = part(LeftResults, "Without compensation")
    speed: SpeedResults = part(SpeedResults, "Spindle")
    finish: FinishResults = part(FinishResults, "Finish and feed")
    force: ForceResults = part(ForceResults, "Force and power")
    machine_load: LoadResults = part(LoadResults, "Force and power")
    times: TimeResults = part(TimeResults, "Passes and time")
