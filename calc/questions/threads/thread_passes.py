"""The passes of a thread: diameters, infeed, chip and force; spindle speed, run-up and run-out, time, tool, relief."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from math import tau

from calc.answer.feature import Answer, Feature, Rows
from calc.cutting.components import most_axial
from calc.cutting.force import share_of_highest
from calc.cutting.limits import Case, Running, limits
from calc.cutting.machine import Cut as Load
from calc.cutting.machine import LoadResults, load_of
from calc.cutting.materials import Material, material
from calc.cutting.operation import starting_speed, unusual_speed
from calc.cutting.speed import surface_speed
from calc.cutting.thin_chips import LEAST_GROUND, Shaving
from calc.language.checks import require
from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.quantities import LENGTH, SPINDLE_SPEED
from calc.questions.threads.passes_fields import (
    EndsResults,
    PassRow,
    SharedResults,
    ThreadPassesInputs,
    ThreadPassesResults,
    ToolResults,
)
from calc.questions.threads.passes_sketch import BLANK, contour_of, drawing_of, points_of
from calc.threads.hand import SettingRow, rows_of, settings
from calc.threads.insert import CLEARANCE, NoseRange, flank_clearance, nose_range, shim_angle
from calc.threads.metric import engagement_note
from calc.threads.passes import THINNEST, Cut, Plan, cuts, plan_of, usual_count
from calc.threads.relief import Relief, chamfer_to, relief_of
from calc.threads.run import Run, Times, require_room, room_needed, run_of, times_of
from calc.threads.thread import Thread, thread_of

USUAL_MATERIAL = "C45"
THICK = 0.25  # mm of chip above which a threading tip is in danger; common practice, no source
COARSEST_RELIEF = 6.0  # mm, the last pitch of DIN 76-1


@dataclass(frozen=True, slots=True)
class _Asked:
    """The question with what is made of its blanks."""

    inputs: ThreadPassesInputs
    thread: Thread
    work: Material
    plan: Plan
    cuts: tuple[Cut, ...]
    run: Run
    times: Times | None
    length: float | None
    relief: Relief | None
    nose: NoseRange | None
    notes: tuple[Message, ...]

    @property
    def cutting(self) -> tuple[Cut, ...]:
        """The passes that take a chip: all but the spring passes."""
        return self.cuts[: self.plan.count]


def solve(inputs: ThreadPassesInputs) -> Answer[ThreadPassesResults]:
    """The passes. Raises Missing, OutOfRange, Contradiction; Impossible for a relief too short to stop in.

    >>> answer = solve(ThreadPassesInputs(designation="M24x2-6g", length=30.0))
    >>> round(answer.results.rpm), len(answer.tables["passes"]), round(answer.results.shared.thread_depth, 4)
    (1671, 8, 1.2269)
    """
    require(inputs)
    asked = _asked(inputs)
    load = _load(asked)
    found = load_of(load, inputs.machine, inputs.work)
    chips = tuple(Shaving(cut.chip, "pass_count", LEAST_GROUND, tabled=0.0, remedy=_FEWER) for cut in asked.cutting)
    case = Case(running=Running(asked.run.rpm, asked.run.rpm), cut=load, load=found, chips=chips)
    contour = contour_of(asked.thread, asked.length, asked.relief)
    return Answer(
        results=_results(asked, found),
        headline="rpm",
        tables={"passes": [*_pass_rows(asked)], "settings": [*_setting_rows(asked.thread)]},
        cautions=(*_cautions(asked), *limits(case, inputs.machine, inputs.work)),
        notes=asked.notes,
        points=points_of(contour, asked.thread),
        contour=contour,
        drawing=partial(drawing_of, asked.thread, asked.plan, asked.cuts, asked.run, asked.length, asked.relief),
    )


def _asked(inputs: ThreadPassesInputs) -> _Asked:
    thread = thread_of(inputs.designation, inputs.where)
    work = material(inputs.speed.material or USUAL_MATERIAL)
    start = starting_speed(work, "thread", inputs.speed.tool, inputs.speed.surface_speed)
    run = run_of(thread, start.speed, inputs.machine, inputs.drive)
    require_room(thread, run, inputs.drive, inputs.relief)
    share = inputs.infeed
    count = usual_count(thread.named.pitch, work.group) if share.pass_count is None else round(share.pass_count)
    spring = 0 if share.spring_passes is None else round(share.spring_passes)
    plan = plan_of(thread, share.method, share.direction, count, spring, share.nose_radius)
    length = inputs.length if inputs.length is not None or thread.plane is None else thread.plane.useful
    found = cuts(plan, work)
    times = times_of(run, length, len(found) * thread.named.starts) if length is not None else None
    parallel = thread.plane is None and thread.named.pitch <= COARSEST_RELIEF
    return _Asked(
        inputs=inputs,
        thread=thread,
        work=work,
        plan=plan,
        cuts=found,
        run=run,
        times=times,
        length=length,
        relief=relief_of(thread, inputs.relief_form) if parallel else None,
        nose=nose_range(thread),
        notes=(*start.notes, *_notes(inputs, thread, work, times)),
    )


def _load(asked: _Asked) -> Load:
    """The hardest pass against the machine."""
    hardest = max(asked.cuts, key=lambda cut: cut.force)
    high = hardest.force * share_of_highest(asked.work, max(hardest.chip, THINNEST))
    diameter = asked.thread.named.diameter
    power = hardest.force * surface_speed.function(diameter, asked.run.rpm)
    sideways = 0.0 if asked.plan.direction == "straight" else most_axial(hardest.force, asked.work.group)
    return Load(hardest.force, high, power, diameter, asked.run.rpm, sideways)


def _results(asked: _Asked, load: LoadResults) -> ThreadPassesResults:
    thread, run, plan = asked.thread, asked.run, asked.plan
    return ThreadPassesResults(
        rpm=run.rpm,
        limited_by=run.limited_by or None,
        surface_speed=surface_speed.at("with the limits")(thread.named.diameter, run.rpm),
        feed=thread.lead,
        feed_rate=run.feed_rate,
        run_up=run.run_up,
        run_out=run.run_out,
        time=asked.times.total if asked.times else None,
        time_in_cut=asked.times.in_cut if asked.times else None,
        shared=SharedResults(
            pass_count=float(plan.count),
            thread_depth=plan.depth,
            start_diameter=plan.crest,
            end_diameter=plan.tip,
            largest_force=max(cut.force for cut in asked.cuts),
        ),
        tool=_tool_results(asked),
        ends=_ends_results(asked),
        machine_load=load,
    )


def _tool_results(asked: _Asked) -> ToolResults:
    thread, nose = asked.thread, asked.nose
    usual = settings(left=thread.named.left, outside=thread.sizes.outside)[0]
    return ToolResults(
        shim_angle=shim_angle(thread, pulling=usual.pulling),
        lead_angle=thread.lead_angle,
        flank_clearance=flank_clearance(CLEARANCE[thread.sizes.outside], thread.sizes.alpha),
        nose_from=nose.least if nose else None,
        nose_to=nose.most if nose else None,
    )


def _ends_results(asked: _Asked) -> EndsResults:
    thread, relief, starts = asked.thread, asked.relief, asked.thread.named.starts
    several = starts > 1
    along = None
    if thread.plane is not None and asked.length is not None:
        along = thread.plane.taper / 2 * (asked.run.run_up + asked.length + asked.run.run_out)
    return EndsResults(
        relief_form_letter=relief.letter if relief else None,
        relief_bottom=relief.bottom if relief else None,
        relief_least=relief.least_bottom if relief else None,
        relief_length=relief.length if relief else None,
        relief_radius=relief.radius if relief else None,
        room_needed=room_needed(thread, asked.run),
        chamfer_diameter=chamfer_to(thread),
        start_angle=tau / starts if several else None,
        start_shift=thread.named.pitch if several else None,
        x_change_along=along,
    )


def _pass_rows(asked: _Asked) -> Iterator[PassRow]:
    """The passes; of a taper thread at the end face, and at the end of the thread."""
    plane, outside = asked.thread.plane, asked.thread.sizes.outside
    straight = asked.plan.direction == "straight"
    at_face = -plane.taper * plane.length.aimed if plane is not None and outside else 0.0
    along = (
        (plane.taper if outside else -plane.taper) * asked.length
        if plane is not None and asked.length is not None
        else 0.0
    )
    for cut in asked.cuts:
        diameter = cut.diameter + at_face
        yield PassRow(
            number=float(cut.number),
            diameter=diameter,
            end_diameter=diameter + along if plane is not None else None,
            infeed=cut.infeed,
            depth=cut.depth,
            shift=None if straight else cut.shift,
            chip_thickness=cut.chip,
            force=cut.force,
        )


def _setting_rows(thread: Thread) -> tuple[SettingRow, ...]:
    return rows_of(settings(left=thread.named.left, outside=thread.sizes.outside))


def _notes(inputs: ThreadPassesInputs, thread: Thread, work: Material, times: Times | None) -> Iterator[Message]:
    yield Message(_SAME_SPEED)
    if not inputs.speed.material:
        yield Message("Force and speed are those for {name}: no material is given.", {"name": work.title})
    if times is None:
        yield Message("The time needs the length of full thread.")
    if inputs.length is None and thread.plane is not None:
        yield Message("Length: the useful thread, {l}.", {"l": Quantity(thread.plane.useful, LENGTH)})
    if inputs.infeed.insert_profile == "full":
        yield Message(_FULL)
    if thread.named.family == "M" and inputs.length is not None:
        engaged = engagement_note(thread.sizes, thread.named.diameter, inputs.length)
        if engaged is not None:
            yield engaged


def _cautions(asked: _Asked) -> Iterator[Caution]:
    speeds = asked.inputs.speed
    if speeds.surface_speed is not None:
        yield from unusual_speed(asked.work, ("thread",), speeds.tool, speeds.surface_speed)
    thickest = max(cut.chip for cut in asked.cuts)
    if thickest > THICK:
        values: dict[str, Value] = {"chip": Quantity(thickest, LENGTH), "most": Quantity(THICK, LENGTH)}
        yield Caution(Message(_THICK, values), 2, "pass_count")
    yield from _nose_cautions(asked)
    relief, needed = asked.relief, room_needed(asked.thread, asked.run)
    if relief is not None and asked.inputs.relief is None and needed > relief.length:
        values = {
            "needed": Quantity(needed, LENGTH),
            "rpm": Quantity(asked.run.rpm, SPINDLE_SPEED),
            "relief": Quantity(relief.length, LENGTH, brief=True),
        }
        yield Caution(Message(_SHORT, values), 3, "run_out")


def _nose_cautions(asked: _Asked) -> Iterator[Caution]:
    nose, allowed = asked.inputs.infeed.nose_radius, asked.nose
    if nose is None or allowed is None or allowed.least <= nose <= allowed.most:
        return
    values: dict[str, Value] = {
        "nose": Quantity(nose, LENGTH),
        "least": Quantity(allowed.least, LENGTH),
        "most": Quantity(allowed.most, LENGTH),
    }
    yield Caution(Message(_TOO_SHARP if nose < allowed.least else _TOO_ROUND, values), 3, "nose_radius")


_FULL = (
    "A full-profile insert cuts the crest too: leave the blank about 0.05 to 0.1 mm over size (common practice, "
    "no source); "
    "a partial one leaves the turned surface as the crest."
)
_SAME_SPEED = (
    "Turn all passes at one speed (G97), never at constant surface speed: a change between passes shifts the thread "
    "and spoils it. Prove out with the tool clear of the part."
)
_FEWER = "Take fewer passes, or equal infeed at the end."
_THICK = (
    "The thickest chip is {chip}, above the {most} that a threading tip usually stands: take more passes or the "
    "shallower "
    "first pass."
)
_SHORT = (
    "At {rpm} the tool takes {needed} behind the full thread, more than the {relief} of the relief: it runs into the "
    "shoulder. Turn slower or make the relief longer."
)
_TOO_SHARP = (
    "A nose of {nose} cuts the root deeper than its limits allow at the right pitch diameter: it must be {least} to "
    "{most}. The core is weakened."
)
_TOO_ROUND = (
    "A nose of {nose} leaves the root too high at the right pitch diameter: it must be {least} to {most}, or "
    "the GO gauge "
    "jams at the root."
)

FEATURE = Feature(
    path="plan/thread",
    title="Thread passes",
    summary="Passes of a thread by diameters, with chip, force, spindle speed, run-up, run-out, time, tool and relief.",
    solve=solve,
    page="/thread-passes",
    supporting=("pass_count", "thread_depth", "run_up", "run_out", "time"),
    blank=BLANK,
    unfolded=("List of passes",),
    rows={
        "passes": Rows(PassRow, "Passes", "List of passes"),
        "settings": Rows(SettingRow, "Which rotation, feed and tool cut this hand", "Tool"),
    },
    example={
        "designation": "M24x2-6g",
        "length": "30",
        "material": "42CrMo4",
        "max_rpm": "2500",
        "chuck_limit": "3200",
    },
    examples={
        "M30x1.5-6H inside": {"designation": "M30x1.5-6H", "length": "14", "relief": "5", "max_rpm": "1200"},
        "Tr 40x14 P7": {"designation": "Tr 40x14 P7-7e", "length": "60", "material": "C45", "max_rpm": "200"},
    },
)
