"""How results, pictures, plots and steps of an answer are shown on a page."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from markupsafe import Markup

from calc.answer.feature import Answer
from calc.answer.heads import headed
from calc.answer.plotting import Plot
from calc.contour.point_text import lines_of
from calc.contour.text import ContourGiven
from calc.language.fields import Repeated, Spec, said
from calc.language.known import Known
from calc.language.limited import aimed, limited
from calc.language.messages import Message, say_text
from calc.language.quantities import ANGLE, TIME, VOLUME, Kind, View, degrees_minutes_seconds
from calc.language.translating import in_sentence, marked
from calc.language.worded import worded_specs
from calc.language.working import Step
from server.context import (
    PictureView,
    PlotView,
    ResultView,
    StepView,
    WorkingView,
)
from server.form import counted
from server.plots import draw_plot, draw_plot_legend, plot_table
from server.plots.worded import worded_plot
from server.sketch import draw_pictures

LEAST_IN_CM3 = 10_000.0
SECONDS_A_MINUTE = 60.0
LONGEST_IN_SECONDS, SHORTEST_WHOLE_SECONDS = 180.0, 10.0
MOST_DIGITS = 6
"""The number of a picture in a link has fewer digits."""


def explained(answer: Answer[Any]) -> Iterable[str]:
    """The groups that something is said of, whether or not they have a result: there it says why."""
    return (group for group, sentences in answer.sentences.items() if sentences)


def echoed(spec: Spec, value: Any, view: View) -> str:
    """What was given, in words: `spindle limit 2000 1/min`; the declaration is in the reader's language."""
    if isinstance(value, ContourGiven):
        return Message("a contour (elements: {count})", {"count": len(value.elements)}).say(view)
    if spec.role == "points":
        return counted(len(value), spec.label, view)
    if spec.rows is not None:
        return counted(sum(map(bool, value)), spec.label, view)
    if spec.lines:
        return counted(len(lines_of(value)), spec.label, view)
    return f"{in_sentence(spec.label, view.language)} {said(spec, value, view)}"


def in_row(rows: Repeated, place: str, view: View) -> str:
    """A field of a row in words: `Reading 3, depth`; the row's name is in the reader's language."""
    number, _, name = place.partition(".")
    label = next((spec.label for spec in worded_specs(rows.row, view) if spec.name == name), name)
    row = f"{rows.one} {int(number) + 1}"
    return f"{row}, {in_sentence(label, view.language)}" if label else row


def result_view(spec: Spec, value: Any, view: View) -> ResultView:
    """A result as its page shows it: digits, unit, limits or spread."""
    if spec.kind is None:
        text = said(spec, value, view)
        return ResultView(spec.name, spec.label, spec.symbol, text, "", text, spec.hint)
    aim, limits = aimed(value), limited(value)
    typed = spec.kind.unit(view)
    unit = typed.written(aim)
    hint = spec.hint or _said_otherwise(spec.kind, aim, view)
    text = spec.kind.say(aim, view)
    ends = limits.say(spec.kind, view) if limits else ""
    if isinstance(value, Known):
        ends = value.say_spread(spec.kind, view)
    digits = unit.text(aim) if unit is typed else f"{unit.text(aim)} {unit.label}"
    return ResultView(spec.name, spec.label, spec.symbol, digits, unit.label, text, hint, ends)


def _said_otherwise(kind: Kind, value: float, view: View) -> str:
    """An angle in degrees, minutes and seconds; a time of under three minutes in seconds; a large volume in cm³."""
    if kind is ANGLE:
        return degrees_minutes_seconds(value)
    unit = kind.unit(view)
    if kind is VOLUME and unit.larger and value >= LEAST_IN_CM3 and unit.written(value) is unit:
        digits = f"{float(f'{unit.larger.shown(value):.3g}'):.10g}"
        return f"{marked(digits, view.language)} {unit.larger.label}"
    seconds = SECONDS_A_MINUTE * value if kind is TIME else 0.0
    if not 0.0 < seconds < LONGEST_IN_SECONDS:
        return ""
    digits = f"{seconds:.0f}" if seconds >= SHORTEST_WHOLE_SECONDS else marked(f"{seconds:.2g}", view.language)
    return f"{digits} s"


def told_of(results: Sequence[ResultView], declared: Mapping[str, Spec]) -> str:
    """A group's results in one line: those that have a brief name, or the first two where none has."""
    named = [(declared[result.name].brief, result) for result in results if declared[result.name].brief]
    told = named or [(result.label, result) for result in results[:2]]
    return ", ".join(f"{words} {result.text}" for words, result in told)


def long_parts(
    answer: Answer[Any], steps: Sequence[Step], view: View, given: Sequence[tuple[Spec, float]], later: str
) -> dict[str, Any]:
    """Words and working, or that there are some, which stand at `later` until they are opened; how many pictures.

    `given` are the fields that have a value, in the reader's language.
    """
    return {
        "picture_count": answer.picture_count,
        "has_words": answer.words is not None,
        "words": answer.words(view) if answer.words and not later else "",
        "step_count": len(steps),
        "working": () if later else tuple(_working(steps, view, given)),
    }


def _working(steps: Sequence[Step], view: View, given: Sequence[tuple[Spec, float]]) -> Iterator[WorkingView]:
    """The steps under their heads, counted through."""
    first = 1
    for title, under in headed(steps):
        shown = tuple(step_view(step, view, given) for step in under)
        yield WorkingView(say_text(title, view), first, shown)
        first += len(shown)


def opened_at(step: str, last: int) -> int:
    """Which picture of a sequence stands open: the one that the link names, else the `last`.

    >>> opened_at("3", 8), opened_at("30", 8), opened_at("", 8)
    (3, 8, 8)
    """
    named = step.isdecimal() and len(step) < MOST_DIGITS
    return min(int(step), last) if named else last


def picture_views(answer: Answer[Any], view: View) -> tuple[PictureView, ...]:
    """The pictures of an answer, drawn."""
    pictures = answer.pictures() if answer.pictures else ()
    return tuple(
        PictureView(
            say_text(picture.label, view), Markup(svg), picture.note.say(view) if picture.note else "", picture.chapter
        )
        for picture, svg in zip(pictures, draw_pictures(pictures, view), strict=True)
    )


def plot_view(plot: Plot, view: View) -> PlotView:
    """A plot, drawn, with its legend and its table."""
    plot = worded_plot(plot, view)
    svg, legend = draw_plot(plot, view, f"plot-{plot.key}"), draw_plot_legend(plot, view)
    return PlotView(plot.key, say_text(plot.title, view), Markup(svg), Markup(legend), plot_table(plot, view))


def step_view(step: Step, view: View, given: Sequence[tuple[Spec, float]] = ()) -> StepView:
    """A step of the working, as MathML, with the fields among those `given` whose values it was computed with."""
    symbols, numbers, value = (Markup(part) for part in step.mathml(view))
    means, where, source = (say_text(text, view) for text in (step.formula.means, step.where, step.formula.source))
    return StepView(means, where, symbols, numbers, value, source, came_from(step, given))


def came_from(step: Step, given: Sequence[tuple[Spec, float]]) -> tuple[tuple[str, str], ...]:
    """The fields that a step's numbers were typed into, as (label, name): of those alike the one with its symbol."""
    found = {}
    for number, symbol in zip(step.arguments, step.symbols[1:], strict=True):
        alike = [spec for spec, value in given if value == number]
        named = [spec for spec in alike if spec.symbol == symbol]
        only = alike if len(alike) == 1 and number else []
        for spec in named or only:
            found[spec.name] = spec.label
    return tuple((label, name) for name, label in found.items())
