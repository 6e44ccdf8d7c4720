"""How the passes of a part's operation are led, read from JSON by the names and choices of the page's row."""

from __future__ import annotations

from typing import Any

from calc.language.fields import specs
from calc.questions.operations.strategies import CUT_FIELDS
from calc.questions.part.declared import OperationRow
from server.contour_json import BodyReader


def read_led(reader: BodyReader, of: dict[str, Any], field: str) -> OperationRow:
    """The row's fields of leading, each null or absent as usual. Notes what is wrong at its field."""
    found: dict[str, Any] = {}
    for spec in specs(OperationRow):
        if spec.name not in CUT_FIELDS or of.get(spec.name) is None:
            continue
        place = f"{field}.{spec.name}"
        if spec.role == "choice":
            found[spec.name] = reader.one_of(of[spec.name], tuple(spec.choices), place)
        elif spec.kind is not None:
            found[spec.name] = reader.positive(of, spec.name, spec.kind, field, zero=spec.least == 0.0)
            fault = spec.fault(found[spec.name]) if found[spec.name] is not None else None
            if fault is not None:
                reader.fault(place, fault.message.say(reader.view))
    reader.done()
    return OperationRow(**found)
