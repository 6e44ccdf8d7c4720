"""Position 7: the corner radius, a round insert's mark, or a planing edge."""

from __future__ import annotations

from dataclasses import replace

from calc.language.messages import Message, Quantity, Value
from calc.language.quantities import LENGTH, RADIUS
from calc.tool.insert.errors import refused, wrong
from calc.tool.insert.model import Insert, Position
from calc.tool.insert.numbers import Codes
from calc.tool.insert.tables import SIXTY_FOURTH, table


def read_corner(insert: Insert, codes: Codes, field: str) -> Insert:
    """The insert with its nose; half its diameter if it is round. Raises OutOfRange at `field` for an unknown code."""
    if insert.shape.is_round:
        return _round(insert, codes, field)
    if not codes.corner:
        return insert
    if codes.form == "inch":
        radius = float(codes.corner) * SIXTY_FOURTH
        return _with_nose(insert, codes, radius, radius, "corner radius, in sixty-fourths of an inch", field)
    if codes.corner.isalpha():
        return _planing(insert, codes)
    if not codes.corner.isdecimal():
        allowed = ["00", *table()["corner_sixty_fourths"], "other tenths of a millimetre"]
        raise wrong(field, 7, table()["titles"]["corner"], codes.corner, allowed)
    nominal = int(codes.corner) / 10
    sixty_fourths = table()["corner_sixty_fourths"].get(codes.corner)
    exact = nominal if sixty_fourths is None else sixty_fourths * SIXTY_FOURTH
    return _with_nose(insert, codes, nominal, exact, "corner radius, in tenths of a millimetre", field)


def _round(insert: Insert, codes: Codes, field: str) -> Insert:
    if codes.form == "metric" and codes.corner not in ("", "00", "M0"):
        raise wrong(field, 7, "corner of a round insert", codes.corner, ["M0 (diameter in mm)", "00 (inch series)"])
    says = {"M0": "round, diameter in whole millimetres", "00": "round, diameter of the inch series"}
    rows = insert.positions
    if codes.corner:
        rows = (*rows, _row(codes.corner, says.get(codes.corner, "round"), None))
    radius = None if insert.size is None else insert.size / 2
    notes = insert.notes
    if radius is None and codes.size:
        text = "Whether the diameter is metric (M0) or of the inch series (00) is told by the corner code: give it."
        notes = (*notes, Message(text))
    return replace(insert, nose=radius, exact_nose=radius, positions=rows, notes=notes)


def _with_nose(insert: Insert, codes: Codes, nominal: float, exact: float, says: str, field: str) -> Insert:
    if insert.size is not None and nominal >= insert.size / 2:
        values: dict[str, Value] = {"nose": Quantity(nominal, RADIUS), "size": Quantity(insert.size, LENGTH)}
        text = "Position 7: a corner of {nose} does not fit on an inscribed circle of {size}. Check the last numbers."
        raise refused(field, text, **values)
    notes = insert.notes
    if nominal == 0.0:
        says = "sharp corner"
        notes = (*notes, Message("A sharp corner still has a small radius; the maker's list tells it."))
    rows = (*insert.positions, _row(codes.corner, says, exact if nominal else None))
    return replace(insert, nose=nominal, exact_nose=exact, positions=rows, notes=notes)


def _planing(insert: Insert, codes: Codes) -> Insert:
    """Two letters: an edge that planes instead of a corner; there is no nose radius to tell."""
    entering, clearance = table()["planing"][codes.corner[0]], table()["planing_clearance"][codes.corner[1]]
    says = f"planing edge: entering angle {entering}, its clearance {clearance}"
    note = Message("This insert has a planing edge instead of a corner radius: no nose radius can be told.")
    return replace(insert, positions=(*insert.positions, _row(codes.corner, says, None)), notes=(*insert.notes, note))


def _row(code: str, says: str, amount: float | None) -> Position:
    return Position(number="7", title=table()["titles"]["corner"], code=code, says=says, amount=amount)
