"""Contours to work with: the demonstration parts, or one's own as a contour text; solved to a chain."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from calc.contour import Chain, Line, Side
from calc.contour.solving import solve
from calc.contour_text import BadWord, read_rows, rows_of
from calc.features.crown import CrownInputs, solve_crown
from calc.features.dish.bowl import DishInputs, EdgeInputs
from calc.features.dish.geometry import solve_dish
from calc.messages import Message, Value
from calc.problems import Fault, Impossible, Missing, OutOfRange, Problem
from calc.quantities import METRIC

OWN = "own"
SHAPES: Mapping[str, str] = {
    OWN: "my own, as a text",
    "seat": "the seat (example): a dish with its edge, from the outside in",
    "pad": "the pad (example): a crown with its edge, from the outside in",
    "stem": "the stem (example): taper, steps, radius and cone, from the axis out, without its undercut",
}

STEM = "s_x0_z0*f*c1*l_x22_z-22_tp1:10*f_x24*t_z-60*f_x31*t*a_r8_smooth*l_ha30_x41_z-90_smooth"


def _seat() -> Chain:
    edge = EdgeInputs(break_kind="radius", break_size=0.8)
    return solve_dish(DishInputs(radius=75.0, depth=4.5, edge=edge)).part(30.0)


def _pad() -> Chain:
    cut = solve_crown(CrownInputs(radius=74.6125, edge_diameter=50.8, edge_radius=0.79375)).cut
    return Chain((Line(cut.start.shifted(-12.7, 0.0), cut.start), *cut))


def _stem() -> Chain:
    return _solved(STEM)


EXAMPLES: Mapping[str, Callable[[], Chain]] = {"seat": _seat, "pad": _pad, "stem": _stem}
TOOL_SIDE: Mapping[str, Side] = {"seat": "left", "pad": "left", "stem": "right"}
BAR: Mapping[str, float] = {"seat": 60.0, "pad": 57.15, "stem": 42.0}
"""Diameter of the bar that each demonstration part is turned from, mm."""


def shape_chain(shape: str, text: str | None) -> Chain:
    """The chain (mm, radius, ISO signs) of a demonstration part, or of one's own contour text.

    A text is read in mm with X as diameter; a unit that is typed wins. Raises `Missing` without a text, `OutOfRange`
    where it cannot be read, and what the solver raises; `Impossible` if it means more than one contour or meets itself.

    >>> shape_chain("own", "s_x20_z0*t_z-10*f_x30").end
    Point(z=-10.0, r=15.0)
    """
    if shape != OWN:
        return EXAMPLES[shape]()
    if not text:
        raise Missing(Fault("contour", Message("Give a contour, or choose one of the examples.")))
    try:
        return _solved(text)
    except Problem as problem:
        raise type_of(problem)(*(Fault("contour", fault.message) for fault in problem.faults)) from None


def type_of(problem: Problem) -> type[Problem]:
    """The kind of a problem without what only its own fields need.

    >>> type_of(OutOfRange()).__name__
    'OutOfRange'
    """
    return type(problem) if type(problem) in (Missing, OutOfRange, Impossible) else Impossible


def _solved(text: str) -> Chain:
    try:
        rows = rows_of(text)
    except BadWord as wrong:
        told: dict[str, Value] = {"position": wrong.position, "word": wrong.word[:20]}
        raise OutOfRange(Fault("", Message("Word {position}, “{word}”, is none of a contour.", told))) from None
    given, faults = read_rows(rows, METRIC)
    if faults:
        raise OutOfRange(*faults)
    found = solve(given.start, given.elements)
    if len(found.solutions) > 1 or found.more:
        labels = "; ".join(solution.label.say() for solution in found.solutions[:4])
        text = "This means {count} contours ({labels}): give one more dimension."
        raise Impossible(Fault("", Message(text, {"count": len(found.solutions), "labels": labels})))
    return sound(Chain(found.solutions[0].contour))


def sound(chain: Chain) -> Chain:
    """The chain, if it does not meet itself. Raises `Impossible` otherwise.

    >>> from calc.contour import Line, Point
    >>> sound(Chain((Line(Point(0.0, 5.0), Point(-5.0, 5.0)),))).length
    5.0
    """
    crossings = chain.self_intersections()
    if crossings:
        first = crossings[0]
        values: dict[str, Value] = {"first": first.first + 1, "second": first.second + 1, "point": first.point}
        text = "Elements {first} and {second} meet at {point}: such a contour cannot be turned."
        raise Impossible(Fault("", Message(text, values)))
    return chain
