"""The readings' list of a part, made of what its print gives: a row for each size, what is measured left blank."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from calc.contour import Chain
from calc.contour.text import BadWord, ContourGiven, read_rows, rows_of
from calc.language.limited import limited
from calc.language.problems import Problem
from calc.language.quantities import View, Z
from calc.questions.part.job import Roll
from calc.questions.part.knurl_blank import blank_of
from calc.shapes.knurls_on_print import knurl_called
from calc.threads.on_print import NAMES
from calc.threads.thread import thread_of

WHATS = {"x": ("diameter", 2.0), "z": ("length", -1.0), "r": ("radius", 1.0)}
"""What of a row's texts can be measured, and the factor from what is held to what a gauge shows."""

LIMITED = {"lower", "thread"}
"""A check with one of these has limits."""

ALWAYS = {*LIMITED, "knurl"}
"""A check with one of these is on the list though it is one of those with limits alone."""

MOST = 60


def part_texts(texts: Mapping[str, str], _found: Chain | None, view: View) -> dict[str, str]:
    """The texts of a part with the readings' list that its print asks for, for a reader with `view`.

    Sizes with limits; where the print has none, all of them.

    >>> part_texts({"outside": "s_x0_z0*f*t_x24 g6_z-28 +0.1/0*f_x31"}, None, View())["readings"].split("*")[0]
    'what:length~nominal:28~lower:28~upper:28.1'
    """
    drawn = texts.get("drawing_revision")
    texts = {**texts, "revision": drawn} if drawn and not texts.get("revision") else texts
    if texts.get("readings"):
        return dict(texts)
    every = [row for where in ("outside", "inside") for row in _checks(texts.get(where, ""), where, view)]
    has_limits = any(row.keys() & LIMITED for row in every)
    rows = [row for row in every if row.keys() & ALWAYS or not has_limits][:MOST]
    for row in rows:
        row.pop("knurl", None)
    listed = "*".join("~".join(f"{name}:{text}" for name, text in row.items()) for row in rows)
    return {**texts, **({"readings": listed} if listed else {})}


def _checks(text: str, where: str, view: View) -> Iterator[dict[str, str]]:
    try:
        given = read_rows(rows_of(text), view, NAMES)[0] if text else None
    except BadWord:
        return
    if given is None:
        return
    yield from _sizes(given, where, view)
    for thread in given.threads.values():
        yield from _thread(thread, where)


def _sizes(given: ContourGiven, where: str, view: View) -> Iterator[dict[str, str]]:
    unit = "" if view.units == "mm" else "mm"
    sizes = [given.typed.get(f"{given.prefix}.{row}.x") for row in given.knurls]
    for field, value in given.typed.items():
        _, number, name = field.split(".")
        if name not in WHATS or value == 0.0:
            continue
        if name == "x" and int(number) in given.knurls:
            place = _middle(given, int(number), view) if sizes.count(value) > 1 else {}
            yield from ({**row, **place} for row in _knurl(given.knurls[int(number)], value, unit))
            continue
        what, factor = WHATS[name]
        yield {"what": what} | ({"where": where} if where == "inside" else {}) | _limited(value, factor, unit)


def _middle(given: ContourGiven, row: int, view: View) -> dict[str, str]:
    """Where the middle of a row's element lies along Z, as the text of its field; nothing where the print leaves it."""
    z = given.start.z
    for element, number in zip(given.elements, given.rows, strict=True):
        before = z
        z = element.z if element.z is not None or z is None or element.dz is None else z + element.dz
        if number == row and before is not None and z is not None:
            return {"at": _mm(Z.shown((before + z) / 2.0, view))}
    return {}


def _limited(value: float, factor: float, unit: str) -> dict[str, str]:
    """A size as a gauge shows it with its limits, as texts."""
    limits = limited(value)
    row = {"nominal": _mm(factor * (float(value) if limits is None else limits.value)) + unit}
    if limits is not None:
        low, high = sorted((factor * limits.lower, factor * limits.upper))
        row |= {"lower": _mm(low) + unit, "upper": _mm(high) + unit}
    return row


def _knurl(text: str, over: float, unit: str) -> Iterator[dict[str, str]]:
    """The blank of a knurl, which is measured before it is rolled, and the knurl over its crests."""
    called = knurl_called(text)
    try:
        blank = blank_of(Roll(called.pitch, called.form), 2.0 * float(over)) if called else None
    except Problem:
        blank = None
    if blank is not None:
        yield {"what": "diameter", "nominal": _mm(round(blank.diameter_before, 3)) + unit, "knurl": text}
    yield {"what": "over_knurl", **_limited(over, 2.0, unit), "knurl": text}


def _thread(text: str, where: str) -> Iterator[dict[str, str]]:
    """A thread's check: over wires outside, its pitch diameter in a bore; none for a taper thread."""
    try:
        thread = thread_of(text)
    except Problem:
        return
    if thread.plane is None:
        inside = {"where": "inside"} if where == "inside" else {}
        yield {"what": "over_wires" if thread.sizes.outside else "pitch_diameter", **inside, "thread": text}


def _mm(value: float) -> str:
    return f"{round(value, 6) + 0.0:.6f}".rstrip("0").rstrip(".")
