"""Measured sizes that were pasted as lines or as CSV, put into the rows of their checks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from calc.language.messages import Message, Value
from calc.language.problems import Fault, OutOfRange
from calc.language.quantities import UnitSystem
from calc.measuring.run_of_parts import BadLine, read_record
from calc.questions.measuring.part_measured_fields import PartReading
from calc.questions.measuring.part_run import UNITS


def with_pasted(readings: Sequence[PartReading], pasted: str | None, pasted_in: UnitSystem) -> tuple[PartReading, ...]:
    """The rows, those without a measured size with that of the line that has their number (from 1), mm.

    Raises OutOfRange at `pasted` for a line that cannot be read or whose number no row has.

    >>> rows = (PartReading(nominal=42.0), PartReading(nominal=25.0, measured=25.01))
    >>> [row.measured for row in with_pasted(rows, "check;size\\n1;42,02\\n2;25.5", "mm")]
    [42.02, 25.01]
    """
    if not pasted:
        return tuple(readings)
    try:
        record = read_record(pasted, UNITS[pasted_in])
    except BadLine as bad:
        values: dict[str, Value] = {"number": bad.number, "line": bad.line[:40], "why": bad.why}
        raise OutOfRange(Fault("pasted", Message("Line {number}, “{line}”: {why}.", values))) from bad
    strange = [number for number in record.parts if number > len(readings) or number != round(number)]
    if strange:
        text = "There is no check {number}: the list has {count}."
        raise OutOfRange(Fault("pasted", Message(text, {"number": f"{strange[0]:g}", "count": len(readings)})))
    sizes = {round(number): size for number, size in zip(record.parts, record.sizes, strict=True)}
    return tuple(
        row if row.measured is not None or number not in sizes else replace(row, measured=sizes[number])
        for number, row in enumerate(readings, 1)
    )
