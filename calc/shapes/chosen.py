"""Contours to work with: the demonstration parts, or one's own as a contour text; solved to a chain."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cache
from typing import Final, Literal

from calc.contour import Chain, Line, Side
from calc.contour.solving import solve
from calc.contour.text import BadWord, ContourGiven, read_rows, rows_of
from calc.language.messages import Listed, Message, Value
from calc.language.problems import Fault, Impossible, Missing, OutOfRange, Problem
from calc.language.quantities import METRIC
from calc.shapes.crown import CrownInputs, solve_crown
from calc.shapes.dish.bowl import DishInputs, EdgeInputs
from calc.shapes.dish.geometry import solve_dish

OWN: Final = "own"
ShapeName = Literal["own", "seat", "pad", "stem"]
SHAPES: Mapping[ShapeName, str] = {
    OWN: "my own",
    "seat": "the seat (example): a dish with its edge, from the outside in",
    "pad": "the pad (example): a crown with its edge, from the outside in",
    "stem": "the stem (example): taper, steps, radius and cone, from the axis out, without its undercut",
}

SideAsked = Literal["", Side]
SIDES: dict[SideAsked, str] = {
    "": "by the example; of my own: right of travel",
    "left": "left of travel",
    "right": "right of travel",
}
"""Where the tool stands, for questions that begin on the right: from the axis out and toward the chuck."""

STEM = "s_x0_z0*f*c1*l_x22_z-22_tp1:10*f_x24*t_z-60*f_x31*t*a_r8_smooth*l_ha30_x41_z-90_smooth"


def _seat() -> Chain:
    edge = EdgeInputs(break_kind="radius", break_size=0.8)
    return solve_dish(DishInputs(radius=75.0, depth=4.5, edge=edge)).part(30.0)


def _pad() -> Chain:
    cut = solve_crown(CrownInputs(radius=74.6125, edge_diameter=50.8, edge_radius=0.79375)).cut
    return Chain((Line(cut.start.shifted(-12.7, 0.0), cut.start), *cut))


@cache
def _stem() -> Chain:
    return unique(given_by(STEM))


EXAMPLES: Mapping[str, Callable[[], Chain]] = {"seat": _seat, "pad": _pad, "stem": _stem}
TOOL_SIDE: Mapping[str, Side] = {"seat": "left", "pad": "left", "stem": "right"}
BAR: Mapping[str, float] = {"seat": 60.0, "pad": 57.15, "stem": 42.0}
"""Diameter of the bar that each demonstration part is turned from, mm."""


def shape_chain(shape: str, given: ContourGiven | None) -> Chain:
    """The chain (mm, radius, ISO signs) of a demonstration part, or of one's own contour.

    Raises `Missing` without a contour and what the solver raises, at the contour's rows; `Impossible` if it means more
    than one contour or meets itself.

    >>> given, _ = read_rows(rows_of("s_x20_z0*t_z-10*f_x30"), METRIC)
    >>> shape_chain("own", given).end
    Point(z=-10.0, r=15.0)
    """
    if shape != OWN:
        return EXAMPLES[shape]()
    if given is None or not given.elements:
        text = "Add the first element of the contour: a face, a cylinder, a line or an arc; or choose an example."
        raise Missing(Fault("contour", Message(text)))
    try:
        return unique(given)
    except Problem as problem:
        raise problem.renamed(given.field) from problem


def unique(given: ContourGiven) -> Chain:
    """The one contour that is meant. Raises what the solver raises, `Impossible` if it is not one.

    >>> unique(given_by("s_x20_z0*t_z-10")).length
    10.0
    """
    found = solve(given.start, given.elements)
    if len(found.solutions) > 1 or found.more:
        labels = Listed(tuple(solution.label for solution in found.solutions[:4]), "; ", "; ")
        several = "These dimensions mean {count} contours ({labels}): give one more."
        raise Impossible(Fault("", Message(several, {"count": len(found.solutions), "labels": labels})))
    solution = found.solutions[0]
    return sound(Chain(solution.contour, solution.names))


def given_by(text: str) -> ContourGiven:
    """What a contour text gives, in mm with X as diameter. Raises `OutOfRange` where it cannot be read.

    >>> given_by("s_x20_z0*t_z-10").elements[0].z
    -10.0
    """
    try:
        rows = rows_of(text)
    except BadWord as wrong:
        told: dict[str, Value] = {"position": wrong.position, "word": wrong.word[:20]}
        raise OutOfRange(Fault("", Message("Word {position}, “{word}”, is not a contour element.", told))) from None
    given, faults = read_rows(rows, METRIC)
    if faults:
        raise OutOfRange(*faults)
    return given


def sound(chain: Chain) -> Chain:
    """The chain, if it does not meet itself. Raises `Impossible` otherwise.

    >>> from calc.contour import Line, Point
    >>> sound(Chain((Line(Point(0.0, 5.0), Point(-5.0, 5.0)),))).length
    5.0
    """
    crossings = chain.self_intersections()
    if crossings:
        first = crossings[0]
        one, other = chain.called(first.first), chain.called(first.second)
        values: dict[str, Value] = {"first": one[:1].upper() + one[1:], "second": other, "point": first.point}
        text = "{first} and {second} meet at {point}: such a contour cannot be turned."
        raise Impossible(Fault("", Message(text, values)))
    return chain
