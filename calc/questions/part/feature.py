"""A whole part as a question: from the bar to the finished piece, operation by operation."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

from calc.answer.feature import Answer, Feature, Rows
from calc.language.checks import require
from calc.language.messages import Caution, Message
from calc.language.problems import Problem
from calc.language.working import recording
from calc.questions.part.asking import at_the_page, job_of, several_contours
from calc.questions.part.checked import check_rows
from calc.questions.part.declared import PartInputs
from calc.questions.part.done import PartDone
from calc.questions.part.examples import EXAMPLES, SLEEVE
from calc.questions.part.job import VERSION, Job
from calc.questions.part.left_on import RestResult, rest_rows
from calc.questions.part.played import played
from calc.questions.part.restart import ToRunResult, restart_notes, restarted, to_run_rows
from calc.questions.part.results import CheckResult, CutResult, OperationResult, PartResults, PassResult, ToolResult
from calc.questions.part.run import run
from calc.questions.part.shown import (
    cut_rows,
    operation_rows,
    part_cautions,
    part_drawing,
    part_results,
    pass_rows,
    point_rows,
    tool_rows,
)
from calc.questions.part.taken import taken
from calc.questions.part.turnable import rib_cautions
from calc.questions.part.undercut_sizes import undercut_cautions, undercut_notes
from calc.questions.part.words import part_words


def solve(inputs: PartInputs) -> Answer[PartResults]:
    """The part done. Raises `Missing` for what it cannot do without, and what contours, tools and operations raise."""
    require(inputs)
    try:
        job = job_of(inputs)
        with recording():
            done = restarted(run(job), inputs.restart)
    except Problem as problem:
        raise problem.renamed(at_the_page) from problem
    counted = Message("Time in feed with run-ins. Rapid moves, tool changes and measuring come on top.")
    return Answer(
        results=part_results(done),
        headline="total_time",
        contour=job.outside.chain,
        points=point_rows(job, inputs.outside, inputs.inside),
        cautions=(*_of_the_print(inputs, job), *part_cautions(done, job)),
        notes=_notes(inputs, done),
        sentences={"Operations": (counted,)},
        tables=_tables(inputs, job, done),
        drawing=partial(part_drawing, job),
        solved=job.solved,
        words=lambda view: part_words(done, view, job.machine.max_rpm),
        pictures=partial(played, done, job.machine.max_rpm),
    )


def _of_the_print(inputs: PartInputs, job: Job) -> Iterator[Caution]:
    """What speaks against the print itself."""
    yield from several_contours(inputs)
    yield from rib_cautions(job.inside, inputs.inside)
    yield from undercut_cautions(inputs.outside, job.outside)
    yield from undercut_cautions(inputs.inside, job.inside)


def _notes(inputs: PartInputs, done: PartDone) -> tuple[Message, ...]:
    of_operations = {note.say(): note for one in done.operations for note in one.notes}
    return (*restart_notes(done), *of_operations.values(), *undercut_notes(inputs.outside, inputs.inside))


def _tables(inputs: PartInputs, job: Job, done: PartDone) -> dict[str, Sequence[object]]:
    return {
        "to_run": list(to_run_rows(done)),
        "done": operation_rows(done, job.machine),
        "cuts": cut_rows(done, inputs),
        "tools": tool_rows(done, inputs),
        "left_on": rest_rows(inputs.later),
        "checks": check_rows(inputs, job),
        "passes": list(pass_rows(done, job.machine)),
    }


FEATURE = Feature(
    path="plan/part",
    page="/part",
    title="A whole part",
    summary="From the bar to the finished piece: operations in order on both ends, the stock after each, time, tools.",
    solve=solve,
    supporting=("volume_removed", "material_left", "rpm_max", "power_max"),
    rows={
        "to_run": Rows(ToRunResult, "Restart: passes that still run", "Restart"),
        "done": Rows(OperationResult, "Operations in order", "Operations"),
        "cuts": Rows(CutResult, "How each operation cuts", "Operations"),
        "tools": Rows(ToolResult, "Tools in turret order", "Tools"),
        "left_on": Rows(RestResult, "Left on for later work", "First part: measure"),
        "checks": Rows(CheckResult, "First part: measure", "First part: measure"),
        "passes": Rows(PassResult, "Every pass", "Passes"),
    },
    example=SLEEVE,
    examples=EXAMPLES,
    takes=taken,
    leads_to={"/part-measured": "First part measured: what to change"},
    played=True,
    has_operator_sheet=True,
    version=VERSION,
    unfolded=("Operations",),
)
