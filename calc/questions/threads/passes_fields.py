"""What is asked of the passes of a thread and what is answered, declared."""

from __future__ import annotations

from calc.cutting import nouns
from calc.cutting.machine import LoadResults, Machine, Work
from calc.language.fields import Declared, choice, given, part, result, word
from calc.language.quantities import ANGLE, COUNT, DIAMETER, FEED, FORCE, LENGTH, SPINDLE_SPEED, SURFACE_SPEED, TIME
from calc.questions.threads.thread_fields import SIDES, ThreadAt
from calc.threads.infeed import DIRECTIONS, METHODS, Direction, Method
from calc.threads.insert import PROFILES, InsertProfile
from calc.threads.relief import FORMS, Form
from calc.threads.run import Drive
from calc.threads.synchrony import FEED_RATE

MOST_WORK = 60.0


class InfeedInputs(Declared):
    """How the depth is shared, and what the tool's tip is."""

    method: Method = choice("Depth of the passes", METHODS, "constant-area", brief="depth")
    direction: Direction = choice("Infeed", DIRECTIONS, "straight", brief="infeed")
    pass_count: float | None = given(
        COUNT, "Passes", "n", least=1.0, most=MOST_WORK, blank="usual for pitch and material"
    )
    spring_passes: float | None = nouns.SPRING_PASSES.given()
    insert_profile: InsertProfile = choice("Insert", PROFILES, "full")
    nose_radius: float | None = given(
        LENGTH, "Nose radius", "r", least=0.0, most=5.0, hint="of the tip", blank="the profile's own root"
    )


class SpeedInputs(Declared):
    """What the work and the tool are made of, and how fast it turns."""

    material: str | None = word("Material", blank="C45")
    tool: str = nouns.TOOL.chosen()
    surface_speed: float | None = given(
        SURFACE_SPEED, "Surface speed", "v", above=0.0, least=1000.0, hint="at the major diameter", blank="usual"
    )


class ThreadPassesInputs(Declared):
    """A thread as written, how long it is, and how it is cut."""

    designation: str = nouns.THREAD.needed()
    where: ThreadAt = choice("It is cut", SIDES, "")
    length: float | None = given(LENGTH, "Length of full thread", "L", above=0.0, hint="from the end face")
    relief: float | None = given(LENGTH, "Room behind the thread", above=0.0, hint="relief in which the tool stops")
    relief_form: Form = choice("Relief DIN 76", FORMS, "regular")
    infeed: InfeedInputs = part(InfeedInputs, "Passes and tip")
    speed: SpeedInputs = part(SpeedInputs, "Material and speed")
    machine: Machine = part(Machine, "Machine and chuck")
    work: Work = part(Work, "Work")
    drive: Drive = part(Drive, "Feed drive")


class PassRow(Declared):
    """One pass; the last ones are spring passes."""

    number: float = result(COUNT, "Pass")
    diameter: float = result(DIAMETER, "X at the tip")
    end_diameter: float | None = result(DIAMETER, "X at the end of the thread")
    infeed: float = result(LENGTH, "Infeed per side")
    depth: float = result(LENGTH, "Depth per side")
    shift: float | None = result(LENGTH, "Shift of the start toward the chuck")
    chip_thickness: float = result(LENGTH, "Chip thickness")
    force: float = result(FORCE, "Cutting force")


class SharedResults(Declared):
    """What the passes have in common."""

    pass_count: float = result(COUNT, "Passes", "n")
    thread_depth: float = result(LENGTH, "Depth", "a", hint="per side")
    start_diameter: float = result(DIAMETER, "Depth counts from")
    end_diameter: float = result(DIAMETER, "Last pass at the tip")
    largest_force: float = result(FORCE, "Largest cutting force", "F_c")


class ToolResults(Declared):
    """What the insert must be."""

    shim_angle: float = result(ANGLE, "Shim")
    lead_angle: float = result(ANGLE, "Lead angle", "φ")
    flank_clearance: float = result(ANGLE, "Clearance at the flanks", hint="10° at the tip outside, 15° inside")
    nose_from: float | None = result(LENGTH, "Nose radius from")
    nose_to: float | None = result(LENGTH, "Nose radius to")


class EndsResults(Declared):
    """What the thread needs at both ends."""

    relief_form_letter: str | None = word("Relief DIN 76, form")
    relief_bottom: float | None = result(DIAMETER, "Diameter of the relief")
    relief_least: float | None = result(LENGTH, "Bottom of the relief, at least", "g_1")
    relief_length: float | None = result(LENGTH, "Relief, at most", "g_2")
    relief_radius: float | None = result(LENGTH, "Radius in the relief")
    room_needed: float = result(LENGTH, "Room the tool takes behind the thread", hint="run-out and half a pitch")
    chamfer_diameter: float = result(DIAMETER, "Chamfer runs to")
    start_angle: float | None = result(ANGLE, "Angle from start to start")
    start_shift: float | None = result(LENGTH, "or shift along Z from start to start")
    x_change_along: float | None = result(LENGTH, "Change of X per side over the whole travel", hint="taper 1:16")


class ThreadPassesResults(Declared):
    """What to set, and what it takes."""

    rpm: float = result(SPINDLE_SPEED, "Spindle speed", "n", hint="the same in all passes")
    limited_by: str | None = word("Held by")
    surface_speed: float = result(SURFACE_SPEED, "Surface speed at the major diameter", "v")
    feed: float = result(FEED, "Feed, the lead", "P_h")
    feed_rate: float = result(FEED_RATE, "Feed rate", "v_f")
    run_up: float = result(LENGTH, "Run-up", "l_1", hint="before the end face")
    run_out: float = result(LENGTH, "Run-out", "l_2", hint="behind the full thread")
    time: float | None = result(TIME, "Time with returns", "t")
    time_in_cut: float | None = result(TIME, "Time in cut", "t_c")
    shared: SharedResults = part(SharedResults, "List of passes")
    tool: ToolResults = part(ToolResults, "Tool")
    ends: EndsResults = part(EndsResults, "Both ends")
    machine_load: LoadResults = part(LoadResults, "Against the machine")
