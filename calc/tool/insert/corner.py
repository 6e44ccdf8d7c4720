"""Position 7: the corner radius, a round insert's mark, or a planing edge."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from calc.language.messages import Message, Phrase, Quantity, Value
from calc.language.quantities import LENGTH, RADIUS
from calc.tool.insert.errors import refused, wrong
from calc.tool.insert.model import Insert, Position
from calc.tool.insert.numbers import Codes, is_metric_on_the_box, metric_sizes, round_sizes
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
    if len(codes.corner) == 1:
        text = (
            "Position 7, corner radius, has two digits, such as 04 or 08; only “{typed}” is there. A digit is missing."
        )
        raise refused(field, text, typed=codes.corner)
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
    is_metric = is_metric_on_the_box(insert.shape, codes)
    if codes.corner:
        meaning = "round, here with a metric diameter" if is_metric else says.get(codes.corner, "round")
        rows = (*rows, _row(codes.corner, meaning, None))
    radius = None if insert.size is None else insert.size / 2
    return replace(
        insert,
        nose=radius,
        exact_nose=radius,
        positions=rows,
        notes=(*insert.notes, *_round_notes(insert, codes, is_metric=is_metric)),
    )


def _round_notes(insert: Insert, codes: Codes, *, is_metric: bool) -> Iterator[Message]:
    """Which series the diameter was read from, where the code alone leaves room for doubt."""
    if insert.size is None:
        if codes.size:
            yield Message("The corner code decides between a metric diameter (M0) and the inch series (00): give it.")
        return
    inch = metric_sizes(insert.shape).get(codes.size)
    values: dict[str, Value] = {"size": Quantity(insert.size, LENGTH, brief=True)}
    if is_metric and inch is None:
        yield Message("00 stands for the inch series, which has no {size}: read as a metric diameter, as M0.", values)
    elif is_metric and inch is not None:
        text = (
            "Boxes of this type are marked 00 with a metric diameter: read as {size}. By the standard 00 would be "
            "{inch}: measure the insert when in doubt."
        )
        yield Message(text, values | {"inch": Quantity(inch, LENGTH)})
    elif codes.corner == "00" and codes.form == "metric" and round_sizes().get(codes.size, inch) != inch:
        values |= {"metric": Quantity(round_sizes()[codes.size], LENGTH, brief=True)}
        yield Message("Read as {size}, the inch series, for which 00 stands. For {metric} type M0 instead.", values)


def _with_nose(insert: Insert, codes: Codes, nominal: float, exact: float, says: str, field: str) -> Insert:
    if insert.size is not None and nominal >= insert.size / 2:
        values: dict[str, Value] = {"nose": Quantity(nominal, RADIUS), "size": Quantity(insert.size, LENGTH)}
        text = "Position 7: a corner of {nose} does not fit on an inscribed circle of {size}. Check the last numbers."
        raise refused(field, text, **values)
    notes = insert.notes
    if nominal == 0.0:
        says = "sharp corner"
        notes = (*notes, Message("A sharp corner still has a small radius; the maker's list gives it."))
    rows = (*insert.positions, _row(codes.corner, says, exact if nominal else None))
    return replace(insert, nose=nominal, exact_nose=exact, positions=rows, notes=notes)


def _planing(insert: Insert, codes: Codes) -> Insert:
    """Two letters: an edge that planes instead of a corner; there is no nose radius to give."""
    entering, clearance = table()["planing"][codes.corner[0]], table()["planing_clearance"][codes.corner[1]]
    says = Phrase(
        "planing edge: entering angle {entering}, its clearance {clearance}", entering=entering, clearance=clearance
    )
    note = Message("This insert has a planing edge instead of a corner radius: no nose radius can be given.")
    return replace(insert, positions=(*insert.positions, _row(codes.corner, says, None)), notes=(*insert.notes, note))


def _row(code: str, says: str, amount: float | None) -> Position:
    return Position(number="7", title=table()["titles"]["corner"], code=code, says=says, amount=amount)
