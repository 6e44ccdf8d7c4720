"""Limits of ISO metric threads after ISO 965-1: from its tables, and by its formulas where these have no row."""

from __future__ import annotations

import re
from math import sqrt
from typing import Any, NamedTuple

from calc.language.limited import Limited
from calc.language.messages import Digits, Message, Phrase, Quantity, Value
from calc.language.quantities import LENGTH
from calc.threads import profile
from calc.threads.designation import Designation
from calc.threads.sizes import (
    HALF_60,
    Basic,
    Sizes,
    chosen_class,
    inside_limits,
    outside_limits,
    unknown_class,
)
from calc.threads.tables import by_number, preferred, span, table

_UM = 1000.0
SMALL = 1.4  # up to it the usual classes are 6h and 5H, above it 6g and 6H; ISO 965-1
PITCH_GRADES = {True: range(3, 10), False: range(4, 9)}
FACTORS = {3: 0.5, 4: 0.63, 5: 0.8, 6: 1.0, 7: 1.25, 8: 1.6, 9: 2.0}
INSIDE_FACTORS = {4: 0.85, 5: 1.06, 6: 1.32, 7: 1.7, 8: 2.12}
DEVIATION = {"e": 50.0, "f": 30.0, "g": 15.0}  # um at no pitch; 11 um more for each mm of it
FINEST = {"e": 0.5, "f": 0.35, "g": 0.2}  # mm: the finest pitch that has the position

_OUTSIDE = re.compile(r"(?P<pitch>\d)(?P<position>[a-z])(?:(?P<crest>\d)(?P<second>[a-z]))?")
_INSIDE = re.compile(r"(?P<pitch>\d)(?P<position>[A-Z])(?:(?P<crest>\d)(?P<second>[A-Z]))?")


class MetricClass(NamedTuple):
    """A tolerance class taken apart: grades of the pitch diameter and of the crest, and the position of both."""

    pitch_grade: int
    crest_grade: int
    position: str


def metric_sizes(found: Designation, *, outside: bool) -> Sizes:
    """The sizes [mm] of a metric thread. Raises OutOfRange for a class that it cannot have.

    >>> from calc.threads.designation import read_designation
    >>> sizes = metric_sizes(read_designation("M24-6g"), outside=True)
    >>> sizes.major.lower, sizes.pitch.upper, sizes.pitch.lower, sizes.minor.lower
    (23.577, 22.003, 21.803, 19.955)
    """
    usual = ("6g" if outside else "6H") if found.diameter > SMALL else ("6h" if outside else "5H")
    written, assumed = chosen_class(found, outside, usual, "abcdefgh" if outside else "ABCDEFGH")
    _require_readable(found)
    tolerance = read_class(written, outside=outside)
    P, d = found.pitch, found.diameter
    basic = Basic(d, profile.pitch_diameter(d, P), profile.minor_diameter(d, P))
    height = profile.sharp_height(P, HALF_60)
    build = _outside if outside else _inside
    return build(written, assumed, tolerance, basic, P, height)


def _require_readable(found: Designation) -> None:
    for written in found.classes:
        if not re.fullmatch(r"(\d[a-hA-H])+", written):
            raise unknown_class(written, "Write a grade and a position, as in 6g, 5g6g or 6H.")


def read_class(written: str, *, outside: bool) -> MetricClass:
    """The parts of a class as `written`; a crest without its own grade has that of the pitch diameter.

    Raises OutOfRange. Source: ISO 965-1.

    >>> read_class("5g6g", outside=True), read_class("6H", outside=False)
    (MetricClass(pitch_grade=5, crest_grade=6, position='g'), MetricClass(pitch_grade=6, crest_grade=6, position='H'))
    """
    match = (_OUTSIDE if outside else _INSIDE).fullmatch(written)
    if match is None:
        raise unknown_class(written, "Write a grade and a position, as in 6g, 5g6g or 6H.")
    position, second = match["position"], match["second"] or match["position"]
    if position not in ("efgh" if outside else "GH") or second != position:
        known = "e, f, g and h, the same for both diameters" if outside else "G and H, the same for both diameters"
        raise unknown_class(written, Phrase("Positions here are {known}.", known=known))
    pitch_grade, crest_grade = int(match["pitch"]), int(match["crest"] or match["pitch"])
    if pitch_grade not in PITCH_GRADES[outside]:
        grades = PITCH_GRADES[outside]
        raise unknown_class(
            written,
            Phrase(
                "Grades of the pitch diameter go from {grades} to {grades_2}.", grades=grades[0], grades_2=grades[-1]
            ),
        )
    if outside and crest_grade not in (4, 6, 8):
        why = "The major diameter has grades 4, 6 and 8: write both, as in 5g6g or 7g6g."
        raise unknown_class(written, why)
    return MetricClass(pitch_grade, crest_grade, position)


def _outside(written: str, assumed: bool, tolerance: MetricClass, basic: Basic, P: float, height: float) -> Sizes:
    es = deviation(tolerance.position, P, written)
    on_pitch, from_table = pitch_tolerance(basic.major, P, tolerance.pitch_grade, outside=True)
    pitch = outside_limits(basic.pitch, es, on_pitch, "pitch diameter")
    crest = crest_tolerance(P, tolerance.crest_grade, outside=True)
    root = profile.root_diameter(basic.major, P)
    least_radius = profile.least_root_radius(P)
    least = profile.least_root(pitch.lower, height, least_radius)
    largest = profile.upper_limit.at("root")(round(root, 3), es)
    return Sizes(
        outside=True,
        tolerance=written,
        assumed=assumed,
        basic=basic,
        major=outside_limits(basic.major, es, crest, "major diameter"),
        pitch=pitch,
        minor=Limited.between(round(least, 3), round(largest, 3), root),
        depth=profile.depth_outside(P),
        alpha=HALF_60,
        pitch_length=P,
        crest=P / 8,
        root=None,
        root_radius=profile.root_radius(P),
        least_root_radius=least_radius,
        source=_source(from_table),
    )


def _inside(written: str, assumed: bool, tolerance: MetricClass, basic: Basic, P: float, height: float) -> Sizes:
    EI = deviation(tolerance.position, P, written)
    on_pitch, from_table = pitch_tolerance(basic.major, P, tolerance.pitch_grade, outside=False)
    pitch = inside_limits(basic.pitch, EI, on_pitch, "pitch diameter")
    crest = crest_tolerance(P, tolerance.crest_grade, outside=False)
    least = profile.lower_limit_inside.at("major diameter")(basic.major, EI)
    largest = profile.largest_major_inside(pitch.upper, height)
    return Sizes(
        outside=False,
        tolerance=written,
        assumed=assumed,
        basic=basic,
        major=Limited.between(round(least, 3), round(largest, 3), basic.major),
        pitch=pitch,
        minor=inside_limits(basic.minor, EI, crest, "minor diameter"),
        depth=profile.depth_inside(P),
        alpha=HALF_60,
        pitch_length=P,
        crest=P / 4,
        root=P / 8,
        source=_source(from_table),
        notes=(Message(_NO_UPPER),),
    )


def deviation(position: str, P: float, written: str = "") -> float:
    """Distance [mm] of the limits from the basic profile in a `position` (e to h, G, H) for a pitch `P` [mm].

    From the table, else by the formula of ISO 965-1. Raises OutOfRange, naming the class as `written`, for a
    pitch finer than the position is made for.

    >>> deviation("g", 3.0), deviation("H", 3.0), deviation("g", 1.7)
    (0.048, 0.0, 0.034)
    """
    letter = position.lower()
    if letter == "h":
        return 0.0
    if FINEST[letter] > P:
        raise unknown_class(
            written,
            Phrase(
                "Position {position} begins at a pitch of {least} mm.",
                position=position,
                least=Digits(f"{FINEST[letter]:g}"),
            ),
        )
    listed = by_number(table("metric")["deviations"][letter], P)
    return (preferred(DEVIATION[letter] + 11.0 * P) if listed is None else listed) / _UM


def pitch_tolerance(diameter: float, P: float, grade: int, *, outside: bool) -> tuple[float, bool]:
    """Tolerance [mm] of the pitch diameter in a `grade`, and whether the table has it.

    `diameter` is the nominal one, `P` the pitch [mm]. By the formula 90 P^0.4 d^0.1, in um, where the table has no row.
    Raises OutOfRange outside Ø0.99 to 355 mm. Source: ISO 965-1.

    >>> pitch_tolerance(24.0, 3.0, 6, outside=True), pitch_tolerance(25.0, 1.7, 6, outside=True)
    ((0.2, True), (0.16, False))
    """
    ranges = table("metric")["range"]
    row = span(ranges, diameter)
    if row is None:
        low, high = ranges[0]["over"], ranges[-1]["to"]
        raise unknown_class(
            str(grade),
            Phrase("ISO 965-1 has tolerances from Ø{low} to Ø{high} mm.", low=Digits(f"{low}"), high=Digits(f"{high}")),
        )
    listed = by_number(row["outside" if outside else "inside"], P)
    first = PITCH_GRADES[outside][0]
    if listed is not None and grade - first < len(listed):
        return listed[grade - first] / _UM, True
    factor = (FACTORS if outside else INSIDE_FACTORS)[grade]
    return preferred(factor * basic_tolerance(row, P)) / _UM, False


def basic_tolerance(row: dict[str, Any], P: float) -> float:
    """Td2 of grade 6 [um] in a `row` of the table of ranges, for a pitch `P` [mm], not rounded. Source: ISO 965-1.

    >>> round(basic_tolerance({"over": 22.4, "to": 45.0}, 3.0), 1)
    197.4
    """
    return float(90.0 * P**0.4 * sqrt(row["over"] * row["to"]) ** 0.1)


def crest_tolerance(P: float, grade: int, *, outside: bool) -> float:
    """Tolerance [mm] of the crest in a `grade`: Td of an outside, TD1 of an inside thread, for a pitch `P` [mm].

    From the table, else by the formulas of ISO 965-1.

    >>> crest_tolerance(3.0, 6, outside=True), crest_tolerance(3.0, 6, outside=False)
    (0.375, 0.5)
    """
    listed = by_number(table("metric")["major" if outside else "minor"], P)
    place = (grade - 4) // 2 if outside else grade - 4
    if listed is not None and place < len(listed):
        return float(listed[place]) / _UM
    if outside:
        sixth = 180.0 * P ** (2 / 3) - 3.15 / sqrt(P)
    else:
        sixth = 433.0 * P - 190.0 * P**1.22 if P <= 0.8 else 230.0 * P**0.7
    return preferred(FACTORS[grade] * sixth) / _UM


def _source(from_table: bool) -> str:
    return "ISO 965-1, tables" if from_table else "ISO 965-1, by its formulas: the tables have no such row"


def engagement(diameter: float, P: float) -> tuple[float, float]:
    """Shortest and longest normal length of engagement [mm] for a `diameter` and a pitch `P` [mm].

    Shorter is group S, longer L. Source: ISO 965-1: 2.24 P d^0.2 and 6.7 P d^0.2, d the least of its range.

    >>> [round(length, 1) for length in engagement(24.0, 3.0)]
    [12.5, 37.4]
    """
    row = span(table("metric")["range"], diameter) or {"over": diameter}
    return 2.24 * P * row["over"] ** 0.2, 6.7 * P * row["over"] ** 0.2


LONG = {True: "7g6g", False: "7H"}
SHORT = {True: "5g6g", False: "5H"}
"""Recommended classes of medium quality for long and short engagement, outside and inside; ISO 965-1."""


def engagement_note(sizes: Sizes, diameter: float, length: float) -> Message | None:
    """What a `length` [mm] outside the normal engagement of a metric thread of this `diameter` [mm] means; None within.

    Source: ISO 965-1.

    >>> from calc.threads.designation import read_designation
    >>> sizes = metric_sizes(read_designation("M24-6g"), outside=True)
    >>> engagement_note(sizes, 24.0, 30.0) is None, engagement_note(sizes, 24.0, 50.0).say()[:55]
    (True, 'A mate that engages all of 50 mm is in group L, beyond ')
    """
    low, high = engagement(diameter, sizes.pitch_length)
    if low <= length <= high:
        return None
    group, edge, usual = ("L", high, LONG) if length > high else ("S", low, SHORT)
    values: dict[str, Value] = {
        "length": Quantity(length, LENGTH, brief=True),
        "group": group,
        "edge": "beyond" if group == "L" else "below",
        "limit": Quantity(edge, LENGTH),
        "usual": usual[sizes.outside],
    }
    text = (
        "A mate that engages all of {length} is in group {group}, {edge} about {limit}: ISO 965-1 then recommends "
        "{usual} for medium quality."
    )
    return Message(text, values)


def class_note(sizes: Sizes) -> Message:
    """Which class the limits are of, and why, in words.

    >>> from calc.threads.designation import read_designation
    >>> class_note(metric_sizes(read_designation("M24"), outside=True)).say()
    'No class is written: limits of 6g, the usual one (ISO 965-1, tables).'
    """
    values: dict[str, Value] = {"written": sizes.tolerance, "source": sizes.source}
    if sizes.assumed:
        return Message("No class is written: limits of {written}, the usual one ({source}).", values)
    return Message("Limits of {written} ({source}).", values)


_NO_UPPER = (
    "ISO 965-1 sets no upper limit for the major diameter of an inside thread: the one shown is the reference of "
    "ASME B1.13M, where the root still clears."
)
