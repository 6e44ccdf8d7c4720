"""What a sheet's steps say when their questions are asked again: answers, cautions, tools. Nothing of it is saved."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from calc.language.fields import Spec, flat, said, specs
from calc.language.messages import Caution, worst_first
from calc.language.problems import Problem
from calc.language.translating import in_sentence
from calc.language.worded import worded_specs
from server.computing.budget import Budget, OutOfTime
from server.sheets.addresses import Question, fault_of, question_at
from server.sheets.model import Sheet, Step

SHEET_SECONDS = (4.0, 2.0)  # for all steps together, and for each of them at most
LATE = "This step takes longer than a sheet waits for: open this step."
# The inputs that say with which tool a question was asked, wherever a page has them.
TOOL_INPUTS = ("insert", "holder", "nose_radius", "tool_point")


@dataclass(frozen=True, slots=True)
class Outline:
    """One step, answered: the page's title, the number to set in the step's own units, or why there is none."""

    step: Step
    page: str
    headline: str = ""
    answer: str = ""
    problem: str = ""
    cautions: tuple[str, ...] = ()
    tool: str = ""


@dataclass(frozen=True, slots=True)
class Gathered:
    """A sheet's steps with their answers; every caution and every tool once, with the numbers of its steps."""

    outlines: tuple[Outline, ...]
    cautions: tuple[tuple[str, tuple[int, ...]], ...]
    tools: tuple[tuple[str, tuple[int, ...]], ...]


def gather(sheet: Sheet) -> Gathered:
    """Ask each step's question and collect what it warns of and which tool it takes.

    >>> step = Step("a", address="/dish?radius=75&depth=4.5&nose_radius=6")
    >>> found = gather(Sheet(steps=(step,)))
    >>> found.outlines[0].headline, found.tools
    ('Mouth diameter, sharp', (('nose radius R6 mm', (1,)),))
    """
    budget = Budget(*SHEET_SECONDS)
    outlines = tuple(_in_time(step, budget) for step in sheet.steps)
    return Gathered(
        outlines,
        numbered((caution, index) for index, each in enumerate(outlines, 1) for caution in each.cautions),
        numbered((each.tool, index) for index, each in enumerate(outlines, 1) if each.tool),
    )


def _in_time(step: Step, budget: Budget) -> Outline:
    try:
        with budget.share():
            return outline(step)
    except OutOfTime:
        question = question_at(step.address)
        return Outline(step, "" if isinstance(question, str) else question.feature.title, problem=LATE)


def outline(step: Step) -> Outline:
    """One step with its answer, or with the sentence that says why there is none."""
    question = question_at(step.address)
    if isinstance(question, str):
        return Outline(step, "", problem=question)
    title, tool = question.feature.title, tool_of(question)
    fault = fault_of(question)
    if fault:
        return Outline(step, title, problem=fault, tool=tool)
    view = question.query.view
    try:
        answer, _ = question.feature.answer(question.query.inputs(question.feature.inputs))
    except Problem as problem:
        sentences = dict.fromkeys(fault.message.say(view) for fault in problem.faults)
        return Outline(step, title, problem=" ".join(sentences), tool=tool)
    spec = next((each for each in specs(question.feature.results) if each.name == answer.headline), None)
    headline = (spec.label, said(spec, flat(answer.results)[spec.name], view)) if spec else ("", "")
    return Outline(step, title, *headline, cautions=_said(answer.cautions, question), tool=tool)


def tool_of(question: Question) -> str:
    """The tool that a question was asked with, in words.

    >>> asked = question_at("/dish?radius=75&depth=4.5&nose_radius=6&tool_point=3")
    >>> tool_of(asked) if not isinstance(asked, str) else ""
    'nose radius R6 mm, tool point 3'
    """
    declared = {spec.name: spec for spec in worded_specs(question.feature.inputs, question.query.view)}
    named = [declared[name] for name in TOOL_INPUTS if name in declared]
    return ", ".join(words for spec in named if (words := _tool_words(spec, question)))


def _tool_words(spec: Spec, question: Question) -> str:
    value = question.query.values[spec.name]
    if value is None or value == "":
        return ""
    view = question.query.view
    name = in_sentence(spec.label, view.language)
    if spec.role == "quantity" and isinstance(value, float):
        return f"{name} {spec.quantity.say(value, view, brief=True)}"
    return f"{name} {value}"


def _said(cautions: Sequence[Caution], question: Question) -> tuple[str, ...]:
    return tuple(caution.message.say(question.query.view) for caution in worst_first(cautions))


def numbered(pairs: Iterable[tuple[str, int]]) -> tuple[tuple[str, tuple[int, ...]], ...]:
    """Each text once, with its numbers in order.

    >>> list(numbered([("a", 1), ("b", 1), ("a", 2)]))
    [('a', (1, 2)), ('b', (1,))]
    """
    found: dict[str, list[int]] = {}
    for text, number in pairs:
        found.setdefault(text, []).append(number)
    return tuple((text, tuple(dict.fromkeys(numbers))) for text, numbers in found.items())
