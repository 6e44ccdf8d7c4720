"""What an operation lacks of its cut: asked for with the value to start from and what that rests on."""

from __future__ import annotations

from collections.abc import Mapping

from calc.cutting.material_data import Material
from calc.cutting.starting import starting_cut
from calc.language.messages import Message, Quantity, Value
from calc.language.problems import Fault, Problem
from calc.language.quantities import FEED, RADIUS, SURFACE_SPEED
from calc.questions.part.declared import OperationRow
from calc.tool.insert import nose_of

MM_A_METRE = 1000.0

CUTS_AS: Mapping[str, str] = {"face": "rough", "rough": "rough", "finish": "finish", "bore": "bore"}


def speed_asked(row: OperationRow, work: Material | None, field: str) -> Fault:
    """The fault of an operation without a surface speed; where the material is known, with the usual one and why.

    >>> from calc.cutting.materials import material
    >>> speed_asked(OperationRow(kind="finish"), material("C45"), "operations.0.surface_speed").message.say()
    'Give its surface speed: 220 m/min to start C45 with, from 180 m/min to 260 m/min with coated carbide.'
    """
    found = work.speed(CUTS_AS[row.kind]) if work and row.kind in CUTS_AS else None
    if work is None or found is None:
        return Fault(field, Message("Give its surface speed."))
    values: dict[str, Value] = {
        "usual": Quantity(found.usual, SURFACE_SPEED),
        "low": Quantity(found.low, SURFACE_SPEED),
        "high": Quantity(found.high, SURFACE_SPEED),
        "work": work.code,
        "tool": found.tool,
    }
    return Fault(field, Message(_SPEED, values), (f"{found.usual / MM_A_METRE:.3g}m/min",))


def feed_asked(row: OperationRow, work: Material | None, field: str) -> Fault:
    """The fault of an operation without a feed; where material and nose are known, with the usual one and why.

    >>> from calc.cutting.materials import material
    >>> row = OperationRow(kind="rough", insert="CNMG 120408")
    >>> feed_asked(row, material("C45"), "operations.0.feed").message.say()
    'Give its feed: 0.320 mm/rev to start with, from 0.200 mm/rev to 0.440 mm/rev for a nose of R0.800 mm.'
    """
    nose = _nose(row)
    found = starting_cut(work, CUTS_AS[row.kind], nose) if work and nose and row.kind in CUTS_AS else None
    if found is None or nose is None:
        return Fault(field, Message("Give its feed."))
    values: dict[str, Value] = {
        "usual": Quantity(found.feed.usual, FEED),
        "low": Quantity(found.feed.low, FEED),
        "high": Quantity(found.feed.high, FEED),
        "nose": Quantity(nose, RADIUS),
    }
    return Fault(field, Message(_FEED, values), (f"{found.feed.usual:.2g}mm",))


def _nose(row: OperationRow) -> float | None:
    """The nose radius (mm) of the row's insert; None where it cannot be read, which is said at its own field."""
    if row.nose_radius is not None or row.insert is None:
        return row.nose_radius
    try:
        return nose_of(row.insert)
    except Problem:
        return None


_SPEED = "Give its surface speed: {usual} to start {work} with, from {low} to {high} with {tool}."
_FEED = "Give its feed: {usual} to start with, from {low} to {high} for a nose of {nose}."
