"""A feature: one declared question with its answer, which the server mounts as a page and as an API call."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any, Generic, NamedTuple, TypeVar, get_args, get_type_hints

from calc.answer.carrying import LimitRow, carried
from calc.answer.drawing import Drawing, Picture
from calc.answer.plotting import Plot
from calc.contour import Chain, Point
from calc.language.messages import Caution, Message
from calc.language.problems import Fault, Missing
from calc.language.quantities import View
from calc.language.working import Step, recording

Inputs = TypeVar("Inputs")
Results = TypeVar("Results")


@dataclass(frozen=True, slots=True)
class KeyPoint:
    """A point to key in: what it is called, where it is (mm, radius, ISO signs), and how one gets there.

    `move` is "line", "cw" or "ccw" for the element that ends here, "" for a start; `radius` belongs to an arc.
    `x_limits` (radius) and `z_limits` are what the print allows there, mm.
    """

    label: str
    spot: Point
    move: str = ""
    radius: float | None = None
    centre: Point | None = None
    x_limits: tuple[float, float] | None = None
    z_limits: tuple[float, float] | None = None


class Unfinished(Missing):
    """A question that lacks something, of which a part is known: its sketch, and the blanks that are solved."""

    def __init__(self, *faults: Fault, drawing: Drawing | None, solved: Mapping[str, float]) -> None:
        self.drawing, self.solved = drawing, solved
        super().__init__(*faults)


class Rows(NamedTuple):
    """A list among the answers: the declared row, its caption, the group of results that it stands with.

    `fills` names an input into which a tap on a row puts its first cell.
    """

    row: type[Any]
    caption: str
    group: str = ""
    fills: str = ""


LIMITS = "limits_through"
LIMIT_ROWS = {LIMITS: Rows(LimitRow, "Which limit matters most")}
"""The list that a question which carries limits through has among its answers."""


@dataclass(frozen=True, kw_only=True)
class Answer(Generic[Results]):
    """What a feature finds.

    `tables` are lists of declared rows (passes, limits) under the name that they have in the JSON answer.
    `notes` say how the input was understood, `sentences` belong under the heading of a group of results. `headline`
    names the one result to set. `drawing` is the sketch, or what makes it when somebody asks to see it; `plots` are
    curves and fields of numbers, the first one the most telling. `solved` are values for blanks of a contour's rows,
    by the names of their fields. `picks` are texts to tap, each for the field that it
    fills. `pictures` makes a sequence to step through, of `picture_count` where that is known before; `words` a text to
    take along. Both only when somebody asks.
    """

    results: Results
    headline: str = ""
    points: tuple[KeyPoint, ...] = ()
    points_note: Message | None = None
    contour: Chain | None = None
    cautions: tuple[Caution, ...] = ()
    notes: tuple[Message, ...] = ()
    sentences: Mapping[str, tuple[Message, ...]] = field(default_factory=dict)
    tables: Mapping[str, Sequence[Any]] = field(default_factory=dict)
    picks: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    drawing: Drawing | Callable[[], Drawing] | None = None
    solved: Mapping[str, float] = field(default_factory=dict)
    plots: tuple[Plot, ...] = ()
    pictures: Callable[[], tuple[Picture, ...]] | None = None
    picture_count: int = 0
    words: Callable[[View], str] | None = None

    def drawn(self) -> Drawing | None:
        """The sketch of the answer, made now if it has not been."""
        return self.drawing() if callable(self.drawing) else self.drawing


@dataclass(frozen=True, kw_only=True)
class Feature(Generic[Inputs, Results]):
    """One question: `path` is "group/name" in the API, `solve` a pure function of the declared inputs.

    Its signature says what `inputs` and `results` are. `rows` declares the lists of its answer. `page` is the address
    of its page ("" without one), `supporting` names the results that stand beside the answer there, `blank` is its
    sketch while nothing is known. `example` is a case as typed text, shown on request and marked as an example;
    `examples` are more of them, each under its name. `leads_to` are pages, with the words of the link, that take the
    fields of this one further. One that `carries` takes limits of its inputs through to its results: it gives declared
    results for other inputs, for which nothing else is needed. One that `takes` makes its texts of those of a page that
    leads to it and of the contour found there. Pictures that are `played` stand above its page, groups of results that
    are `unfolded` stand open there. One that is kept as work of its own has a `version`, which its saved questions
    bear; what is kept with such work, as readings with their part, has that work's page in `kept_with`. Inputs that are
    `guessed` are what is asked when it is practised: the answer is given, and what led to it is to be found.
    """

    path: str
    title: str
    summary: str
    solve: Callable[[Inputs], Answer[Results]]
    inputs: type[Inputs] = field(init=False)
    results: type[Results] = field(init=False)
    page: str = ""
    supporting: tuple[str, ...] = ()
    blank: Drawing | None = None
    rows: Mapping[str, Rows] = field(default_factory=dict)
    example: Mapping[str, str] = field(default_factory=dict)
    examples: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    leads_to: Mapping[str, str] = field(default_factory=dict)
    carries: Callable[[Inputs], Any] | None = None
    takes: Callable[[Mapping[str, str], Chain | None, View], Mapping[str, str]] | None = None
    played: bool = False
    has_operator_sheet: bool = False
    guessed: tuple[str, ...] = ()
    version: int = 0
    unfolded: tuple[str, ...] = ()
    kept_with: str = ""

    def __post_init__(self) -> None:
        inputs, answer = get_type_hints(self.solve).values()
        object.__setattr__(self, "inputs", inputs)
        object.__setattr__(self, "results", *get_args(answer))
        if self.carries is not None:
            object.__setattr__(self, "rows", {**self.rows, **LIMIT_ROWS})

    def answer(self, inputs: Inputs) -> tuple[Answer[Results], list[Step]]:
        """The answer and the steps of its working, repeats left out; raises `Problem` when the question has none."""
        with recording() as steps:
            found = self.solve(inputs)
        if self.carries is not None:
            results, limits = carried(inputs, found.results, self.carries)
            found = replace(found, results=results, tables={**found.tables, LIMITS: limits})
        return found, list(dict.fromkeys(steps))


def named_as(names: Mapping[str, str]) -> Callable[[Mapping[str, str], Chain | None, View], Mapping[str, str]]:
    """What a page takes of one that calls the same otherwise: `names` are its fields by those of the other page.

    >>> take = named_as({"start_diameter": "diameter"})
    >>> take({"diameter": "40"}, None, View()), take({"start_diameter": "50"}, None, View())
    ({'diameter': '40', 'start_diameter': '40'}, {'start_diameter': '50'})
    """

    def take(texts: Mapping[str, str], _found: Chain | None, _view: View) -> Mapping[str, str]:
        named = {name: texts[other] for name, other in names.items() if texts.get(other) and not texts.get(name)}
        return {**texts, **named}

    return take
