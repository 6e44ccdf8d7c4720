"""From two directions and the size of the edge to the whole corner."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import Literal

from calc.contour import Element, Line, Point, Vector, fillet
from calc.language.checks import require
from calc.language.fields import Declared, choice, given, needed, part
from calc.language.messages import Message, Quantity
from calc.language.problems import Fault, Impossible
from calc.language.quantities import ANGLE, DIAMETER, LENGTH, RADIUS, Z
from calc.shapes.blanks import Solved, System, Term, Way, require_settled, solve
from calc.shapes.corner import formulas
from calc.shapes.dish.sizes import SMALLEST, require_sizes

FLATTEST_TURN = math.radians(0.01)
LARGEST = 1e6  # mm


class PlaceInputs(Declared):
    """Where the two lines would meet."""

    corner_diameter: float | None = given(
        DIAMETER, "Sharp corner, diameter", "D", least=0.0, hint="where the lines would meet", blank="sizes, no points"
    )
    corner_z: float = given(Z, "Sharp corner, Z", blank="0", least=-10_000.0, most=10_000.0, default=0.0)


class CornerInputs(Declared):
    """Two straight lines in the order of the cut (rad from +Z, counter-clockwise), and what breaks their corner (mm).

    Of a radius any one of radius, leg and gap is enough; of a chamfer a leg (equal legs), two legs, or a leg and angle.
    """

    first_angle: float = needed(
        ANGLE,
        "First line",
        "φ1",
        least=-math.tau,
        most=math.tau,
        hint="from the axis away from the chuck: 0 along a cylinder, -90 in along a face",
    )
    second_angle: float = needed(
        ANGLE, "Second line", "φ2", least=-math.tau, most=math.tau, hint="180 toward the chuck, 90 out along a face"
    )
    kind: Literal["radius", "chamfer"] = choice("Between them", {"radius": "radius", "chamfer": "chamfer"}, "radius")
    radius: float | None = given(RADIUS, "Radius", "R", above=0.0)
    leg: float | None = given(LENGTH, "First leg", "a", above=0.0, hint="from the sharp corner")
    second_leg: float | None = given(LENGTH, "Second leg", "b", above=0.0, hint="of a chamfer", blank="equal legs")
    chamfer_angle: float | None = given(
        ANGLE, "Chamfer angle", "ε", above=0.0, most=math.pi, hint="from the first line"
    )
    gap: float | None = given(LENGTH, "Corner to the arc", "g", above=0.0, hint="instead of a radius")
    place: PlaceInputs = part(PlaceInputs, "Where it is")


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner complete (mm, rad): where it is, the two directions, its sizes, the element that breaks it."""

    at: Point
    first: Vector
    second: Vector
    turn: float
    sizes: Solved
    between: Element

    @property
    def is_left(self) -> bool:
        """Whether the second line turns to the left."""
        return self.first.cross(self.second) > 0.0


def solve_corner(inputs: CornerInputs, nominal: float = 0.0) -> Corner:
    """The corner that the print describes; without a diameter it is drawn at the radius `nominal` (mm).

    Raises `Missing`, `Contradiction`, `Impossible` for lines without a corner, `OutOfRange`.

    >>> corner = solve_corner(CornerInputs(first_angle=0.0, second_angle=-math.pi / 2, radius=2.0))
    >>> round(corner.sizes["leg"], 9), corner.between.turn
    (2.0, 'cw')
    """
    require(inputs)
    require_sizes(inputs)
    first, second = (Vector.at_angle(angle) for angle in (inputs.first_angle, inputs.second_angle))
    turn = math.atan2(abs(first.cross(second)), first.dot(second))
    if not FLATTEST_TURN < turn < math.pi - FLATTEST_TURN:
        text = "The two lines make no corner: they turn by {turn}. Check the two angles."
        raise Impossible(Fault("second_angle", Message(text, {"turn": Quantity(turn, ANGLE)})))
    at = Point(
        inputs.place.corner_z,
        nominal if inputs.place.corner_diameter is None else inputs.place.corner_diameter / 2,
    )
    sizes = _rounded(inputs, turn) if inputs.kind == "radius" else _chamfered(inputs, turn)
    _require_real(sizes)
    corner = Corner(at, first, second, turn, sizes, _between(at, first, second, sizes))
    if inputs.place.corner_diameter is not None:
        _require_above_axis(corner)
    return corner


def _rounded(inputs: CornerInputs, turn: float) -> Solved:
    system = System(
        (Term("radius", RADIUS, "radius", "{radius}"), Term("leg", LENGTH, "leg"), Term("gap", LENGTH, "gap")),
        (
            Way("radius", ("leg",), partial(_turned, formulas.radius_from_tangent, turn)),
            Way("radius", ("gap",), partial(_turned, formulas.radius_from_gap, turn)),
            Way("leg", ("radius",), partial(_turned, formulas.tangent_length, turn)),
            Way("gap", ("radius",), partial(_turned, formulas.corner_gap, turn)),
        ),
        "How large is the radius? Its leg, or the gap to the sharp corner, would do as well.",
    )
    values = {"radius": inputs.radius, "leg": inputs.leg, "gap": inputs.gap}
    require_settled(system, values, ("radius",))
    return solve(system, values)


def _chamfered(inputs: CornerInputs, turn: float) -> Solved:
    terms = (
        Term("leg", LENGTH, "first leg"),
        Term("second_leg", LENGTH, "second leg"),
        Term("chamfer_angle", ANGLE, "chamfer angle"),
        Term("width", LENGTH, "width"),
    )
    ways = (
        Way("second_leg", ("leg", "chamfer_angle"), partial(_cut_off, formulas.second_leg, turn)),
        Way("leg", ("second_leg", "chamfer_angle"), partial(_cut_off, formulas.first_leg, turn)),
        Way("chamfer_angle", ("leg", "second_leg"), partial(_turned, formulas.angle_from_legs, turn)),
        Way("width", ("leg", "second_leg"), partial(_turned, formulas.chamfer_width, turn)),
    )
    system = System(terms, ways, "How large is the chamfer? Give a leg; with equal legs one is enough.")
    values = {"leg": inputs.leg, "second_leg": inputs.second_leg, "chamfer_angle": inputs.chamfer_angle}
    if inputs.chamfer_angle is None and (inputs.leg is None) != (inputs.second_leg is None):
        values["chamfer_angle"] = formulas.equal_angle(turn)
    require_settled(system, values, ("leg", "second_leg"))
    return solve(system, values)


def _turned(formula: Callable[..., float], turn: float, *sizes: float) -> float:
    return formula(*sizes, turn)


def _cut_off(formula: Callable[..., float], turn: float, leg: float, angle: float) -> float:
    if angle < FLATTEST_TURN:
        text = "A chamfer at {angle} from the first line lies along it and cuts nothing off."
        raise Impossible(Fault("chamfer_angle", Message(text, {"angle": Quantity(angle, ANGLE)})))
    if angle > turn - FLATTEST_TURN:
        values = {"angle": Quantity(angle, ANGLE), "turn": Quantity(turn, ANGLE)}
        text = "A chamfer at {angle} from the first line never meets the second, which turns by {turn} only."
        raise Impossible(Fault("chamfer_angle", Message(text, values)))
    return _turned(formula, turn, leg, angle)


def _require_real(sizes: Solved) -> None:
    for name, value in sizes.values.items():
        if name not in {"chamfer_angle", "gap"} and not SMALLEST <= value <= LARGEST:
            text = "With these lines the edge has a size of {size}, which cannot be cut. Check size and angles."
            raise Impossible(Fault("second_angle", Message(text, {"size": Quantity(value, LENGTH)})))


def _between(at: Point, first: Vector, second: Vector, sizes: Solved) -> Element:
    leg, radius = sizes["leg"], sizes.get("radius")
    if radius is None:
        return Line(at.moved(first, -leg), at.moved(second, sizes["second_leg"]))
    before, after = Line(at.moved(first, -2 * leg), at), Line(at, at.moved(second, 2 * leg))
    return fillet(before, after, radius)[0].between


def _require_above_axis(corner: Corner) -> None:
    low = min(corner.between.start.r, corner.between.end.r)
    if low < -SMALLEST:
        values = {"low": Quantity(-low, LENGTH), "at": Quantity(2 * corner.at.r, DIAMETER)}
        text = "At {at} this edge would run {low} past the axis. Take a smaller one, or check diameter and angles."
        raise Impossible(Fault("corner_diameter", Message(text, values)))
