"""A run of parts: one size measured part after part, drawn with its limits and trend, and when to change the edge."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal

from calc.answer.feature import Answer, Feature, Rows
from calc.answer.plotting import Axis, Column, Curve, Level, Mark, Plot
from calc.language.checks import require
from calc.language.fields import Declared, choice, given, result, word
from calc.language.known import Known
from calc.language.limited import limited
from calc.language.messages import Caution, Message, Phrase, Quantity, Value, joined
from calc.language.problems import Contradiction, Fault, Missing, OutOfRange
from calc.language.quantities import COUNT, LENGTH, UnitSystem, X
from calc.measuring.first_part import change
from calc.measuring.limits import Limits, read_limits
from calc.measuring.run_of_parts import FEWEST, BadLine, Record, Trend, read_record, trend_of

SizeKind = Literal["diameter", "length"]
WHATS: dict[SizeKind, str] = {"diameter": "diameter", "length": "length, depth or another size"}
UNITS = {"mm": 1.0, "inch": 25.4}
UNIT_WORDS: dict[UnitSystem, str] = {"mm": "mm", "inch": "inches"}
LINES_HINT = (
    "one part a line, or pasted as CSV: the number of the part and its size, 12; 24.013, or the size alone. A line of "
    "words is what happened there: new edge"
)
SOON = 5.0
"""Parts ahead at which a change of the edge is called for (common practice, no source)."""


class RunInputs(Declared):
    """One size of the print, and what was measured of it, part after part."""

    sizes: str | None = word("Readings", hint=LINES_HINT, lines=True)
    sizes_in: UnitSystem = choice("They are in", UNIT_WORDS, "mm")
    what: SizeKind = choice("It is a", WHATS, "diameter")
    nominal: float | None = given(LENGTH, "Size on the print", least=-10_000.0, hint="with its limits: 25 H7")
    lower: float | None = given(LENGTH, "Lower limit", least=-10_000.0)
    upper: float | None = given(LENGTH, "Upper limit", least=-10_000.0)
    check: str | None = word("Called", hint="such as: bore, row 3")
    part_name: str | None = word("Part", hint="as on the print")
    revision: str | None = word("Revision of the print", hint="which the readings belong to")


class RunResults(Declared):
    """What the run says of the parts to come."""

    change_before: float | None = result(
        COUNT, "Change the edge or correct before part", hint="95 % stay within limits"
    )
    meets_at: float | None = result(COUNT, "Trend meets the limit at part")
    drift: float | None = result(LENGTH, "Drift for 100 parts")
    scatter: float | None = result(LENGTH, "Scatter about the trend", "s", hint="one standard deviation")
    x_change: float | None = result(X, "Add to X wear to be in the middle", hint="for the next part")
    size_change: float | None = result(LENGTH, "Correct the size by", hint="for the next part")
    state: str = word("The parts so far")
    part_count: float = result(COUNT, "Readings")
    belongs_to: str | None = word("Readings belong to")


class RunRow(Declared):
    """One part of the run."""

    part: float = result(COUNT, "Part")
    size: float = result(LENGTH, "measured")
    trend: float | None = result(LENGTH, "trend")
    off: float | None = result(LENGTH, "off the trend")
    verdict: str | None = word("verdict")
    event: str | None = word("before it")


def solve(inputs: RunInputs) -> Answer[RunResults]:
    """What the run says. Raises Missing without readings, OutOfRange for a line that cannot be read.

    >>> lines = "25.004\\n25.006\\n25.009\\n25.011\\n25.012"
    >>> found = solve(RunInputs(sizes=lines, nominal=25.0, lower=25.0, upper=25.021)).results
    >>> found.meets_at, found.change_before, round(found.drift, 3)
    (10.0, 8.0, 0.21)
    """
    require(inputs)
    record, limits = _record(inputs), _limits(inputs)
    since = record.since
    trend = trend_of(since.parts, since.sizes) if len(since.parts) >= FEWEST else None
    results = _results(inputs, record, limits, trend)
    return Answer(
        results=results,
        headline=next((name for name in ("change_before", "meets_at") if getattr(results, name) is not None), "state"),
        tables={"parts": _rows(record, limits, trend)},
        cautions=tuple(_cautions(record, limits, results)),
        notes=tuple(_notes(record, limits, trend)),
        plots=(_plot(inputs, record, limits, trend, results),),
    )


def _record(inputs: RunInputs) -> Record:
    if not inputs.sizes:
        raise Missing(Fault("sizes", Message("Type or paste what was measured, a line for each part.")))
    try:
        record = read_record(inputs.sizes, UNITS[inputs.sizes_in])
    except BadLine as bad:
        values: dict[str, Value] = {"number": bad.number, "line": bad.line[:40], "why": bad.why}
        raise OutOfRange(Fault("sizes", Message("Line {number}, “{line}”: {why}.", values))) from bad
    if not record.sizes:
        raise Missing(Fault("sizes", Message("There is no size in these lines: 12; 24.013, or 24.013 alone.")))
    return record


def _limits(inputs: RunInputs) -> Limits:
    """The limits of the size, mm. Raises Contradiction for a lower one above the upper."""
    both = limited(inputs.nominal)
    if both is not None and inputs.lower is None and inputs.upper is None:
        return Limits(both.lower, both.upper)
    lower, upper = _pair(inputs)
    told = [limit for limit in (lower, upper) if limit is not None]
    if not told:
        return Limits()
    nominal = both.value if both else inputs.nominal
    return read_limits(sum(told) / len(told) if nominal is None else nominal, lower, upper)


def _pair(inputs: RunInputs) -> tuple[float | None, float | None]:
    if inputs.lower is not None and inputs.upper is not None and inputs.lower >= inputs.upper:
        text = "The lower limit must be less than the upper one."
        raise Contradiction(Fault("lower", Message(text)), fields=("lower", "upper"))
    return inputs.lower, inputs.upper


def _results(inputs: RunInputs, record: Record, limits: Limits, trend: Trend | None) -> RunResults:
    last = record.parts[-1]
    proved = trend if trend is not None and trend.is_proved else None
    to_go = None if trend is None or limits == Limits() else trend.first_beyond(*limits, after=last, surely=True)
    meets = None if proved is None or limits == Limits() else proved.first_beyond(*limits, after=last, surely=False)
    correction = _correction(limits, trend, last + 1.0)
    bad = [size for size in record.sizes if not limits.allows(size)]
    words = [
        inputs.check,
        inputs.part_name,
        inputs.revision and Phrase("revision {revision}", revision=inputs.revision),
    ]
    return RunResults(
        change_before=to_go if proved is not None else None,
        meets_at=meets,
        drift=None if trend is None else Known(100.0 * trend.slope, 100.0 * trend.slope_spread),
        scatter=None if trend is None else trend.scatter,
        x_change=_per_side(correction) if inputs.what == "diameter" else None,
        size_change=correction if inputs.what != "diameter" else None,
        state=_state(limits, bad),
        part_count=float(len(record.sizes)),
        belongs_to=joined(each for each in words if each) or None,
    )


def _state(limits: Limits, bad: Sequence[float]) -> str:
    if limits == Limits():
        return "no limits were given"
    return Phrase("{bad} out of limits", bad=len(bad)) if bad else "all within limits"


def _correction(limits: Limits, trend: Trend | None, part: float) -> Known | None:
    """What takes the next part into the middle of its limits, mm; None where there is no middle or no trend."""
    if trend is None or limits.lower is None or limits.upper is None:
        return None
    middle = (limits.lower + limits.upper) / 2.0
    return Known(change.at("for the next part")(trend.at(part) - middle), trend.band(part))


def _per_side(correction: Known | None) -> Known | None:
    return None if correction is None else Known(float(correction) / 2.0, correction.spread / 2.0)


def _rows(record: Record, limits: Limits, trend: Trend | None) -> list[RunRow]:
    happened = {event.before: event.words for event in record.events}
    explained = set(record.since.parts) if trend is not None else set()
    rows = []
    for part, size in zip(record.parts, record.sizes, strict=True):
        at = trend.at(part) if trend is not None and part in explained else None
        rows.append(
            RunRow(
                part=part,
                size=size,
                trend=at,
                off=None if at is None else size - at,
                verdict=None if limits == Limits() else "within limits" if limits.allows(size) else "out of limits",
                event=happened.get(part),
            )
        )
    return rows


def _cautions(record: Record, limits: Limits, results: RunResults) -> Iterator[Caution]:
    bad = [part for part, size in zip(record.parts, record.sizes, strict=True) if not limits.allows(size)]
    if bad:
        text = "Out of limits: part {parts}. Set them aside, and check every part since the last good one."
        yield Caution(Message(text, {"parts": ", ".join(f"{part:g}" for part in bad[:10])}), 3, "state")
    ahead = None if results.change_before is None else results.change_before - record.parts[-1]
    if ahead is not None and ahead <= SOON and not bad:
        text = "At this drift part {part} can be out of limits: change the edge or correct now."
        yield Caution(Message(text, {"part": f"{results.change_before:g}"}), 3, "change_before")


def _notes(record: Record, limits: Limits, trend: Trend | None) -> Iterator[Message]:
    count = len(record.since.parts)
    if trend is None:
        text = "A trend needs {n} readings after the last change; there are {count}."
        yield Message(text, {"n": FEWEST, "count": count})
    elif not trend.is_proved:
        yield Message("These readings prove no drift: what they show lies within their own scatter.")
    if record.events:
        yield Message("The trend is that of the readings since “{event}”.", {"event": record.events[-1].words})
    if limits == Limits():
        yield Message("Without limits there is no saying when a part is out of them: give the size with its limits.")


def _plot(inputs: RunInputs, record: Record, limits: Limits, trend: Trend | None, results: RunResults) -> Plot:
    reached = [each for each in (results.change_before, results.meets_at) if each is not None]
    last = max(record.parts[0], record.parts[-1], *reached)
    curves = [Curve("measured", record.parts, record.sizes, "main")]
    if trend is not None:
        first = record.since.parts[0]
        over = [first, last + 1.0]
        curves.append(Curve("trend", over, [trend.at(part) for part in over]))
    named = ((limits.lower, "lower limit"), (limits.upper, "upper limit"))
    marks = [
        Mark(part, trend.at(part), Message(words))
        for part, words in ((results.change_before, "change before"), (results.meets_at, "meets the limit"))
        if part is not None and trend is not None
    ]
    shown = tuple(limit for limit in limits if limit is not None)
    return Plot(
        key="run",
        title=inputs.check or "The run, part after part",
        description=Message("{count} readings in the order of the parts.", {"count": len(record.sizes)}),
        x=Axis("Part", COUNT),
        y=Axis("Size", LENGTH, "", shown),
        curves=tuple(curves),
        marks=tuple(marks),
        levels=tuple(Level(value, "y", Message(words)) for value, words in named if value is not None),
        caption="The readings",
        columns=(Column("Part", COUNT), Column("Measured", LENGTH)),
        rows=tuple(zip(record.parts, record.sizes, strict=True)),
        note=None if trend is None else Message(_DRIFT, {"drift": Quantity(100.0 * trend.slope, LENGTH)}),
    )


_DRIFT = "The trend changes by {drift} in 100 parts."


FEATURE = Feature(
    path="measure/run",
    page="/part-run",
    title="Run of parts",
    summary="One size measured part after part: chart with limits and trend, when to change the edge, what to correct.",
    solve=solve,
    supporting=("drift", "x_change", "size_change", "meets_at", "state"),
    rows={"parts": Rows(RunRow, "Part after part", "Parts")},
    example={
        "sizes": "1;25.004\n5;25.006\n10;25.008\n15;25.009\n20;25.012\n25;25.013",
        "nominal": "25 H7",
        "check": "bore",
        "part_name": "Sleeve, plain",
        "revision": "B",
    },
)
