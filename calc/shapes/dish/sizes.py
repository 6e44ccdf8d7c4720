"""What is too small to be a dimension of a turned part, and what is too flat to be a dish."""

from __future__ import annotations

from typing import Any

from calc.language.fields import flat, specs
from calc.language.messages import Message, Quantity, Value
from calc.language.problems import Fault, OutOfRange
from calc.language.quantities import Kind

SMALLEST = 1e-6  # mm: a nanometre
FLATTEST = 1e6  # mm: a face of this radius departs from flat by 0.0005 mm over a diameter of 60 mm


def require_sizes(inputs: Any) -> None:
    """Raise `OutOfRange` for a length that must be above zero and is too small to mean anything."""
    values = flat(inputs)
    for spec in specs(type(inputs)):
        value = values[spec.name]
        if spec.kind is not None and spec.kind.dimension == "length" and spec.above == 0.0 and value is not None:
            require_size(spec.name, spec.label, value, spec.kind)


def require_size(field: str, label: str, value: float, kind: Kind) -> None:
    """Raise `OutOfRange` at `field`, called `label`, for a `value` (mm) too small to mean anything."""
    if value < SMALLEST:
        said: dict[str, Value] = {"label": label, "value": Quantity(value, kind, brief=True)}
        raise OutOfRange(Fault(field, Message("{label} must be more than 0; {value} is practically zero.", said)))
