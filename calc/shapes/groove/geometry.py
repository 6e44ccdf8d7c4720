"""From the dimensions of a groove to its section, and from the section to its place on the part."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import Literal

from calc.contour import Chain, Point
from calc.language.checks import require
from calc.language.fields import Declared, choice, given, part
from calc.language.messages import Message, Quantity, Value
from calc.language.problems import Fault, Impossible
from calc.language.quantities import ANGLE, DIAMETER, LENGTH, RADIUS
from calc.shapes.blanks import Solved, System, Term, Way, require_settled, solve
from calc.shapes.dish.sizes import SMALLEST, require_sizes
from calc.shapes.groove import formulas
from calc.shapes.rounding import DoesNotFit, rounded

FLATTEST_WALL = math.radians(80.0)


class ShapeInputs(Declared):
    """How the walls lean (rad from square to the surface), and what rounds the corners (mm)."""

    first_wall: float = given(
        ANGLE,
        "First wall leans",
        "µ",
        least=0.0,
        most=FLATTEST_WALL,
        hint="toward the free end, on a face outside",
        blank="0",
        default=0.0,
    )
    second_wall: float = given(
        ANGLE,
        "Second wall leans",
        "ν",
        least=0.0,
        most=FLATTEST_WALL,
        hint="toward the chuck, on a face inside",
        blank="0",
        default=0.0,
    )
    bottom_radius: float = given(RADIUS, "Radius at the bottom", "r", least=0.0, blank="sharp", default=0.0)
    edge_radius: float = given(RADIUS, "Edge radius", "e", least=0.0, blank="sharp", default=0.0)


class GrooveInputs(Declared):
    """What a print gives of a groove (mm): where it is cut, two of three diameters and depth, a width."""

    where: Literal["outside", "bore", "face"] = choice(
        "Cut in", {"outside": "the outside", "bore": "a bore", "face": "a face"}, "outside"
    )
    diameter: float | None = given(
        DIAMETER, "Diameter", "D", above=0.0, hint="of the outside or bore; in a face the larger one"
    )
    bottom_diameter: float | None = given(
        DIAMETER, "Bottom diameter", "d", above=0.0, hint="in a face the smaller one, at the surface"
    )
    depth: float | None = given(LENGTH, "Depth", "t", above=0.0)
    width: float | None = given(LENGTH, "Width", "w", above=0.0, hint="at the surface, without edge radii")
    bottom_width: float | None = given(LENGTH, "Bottom width", "b", least=0.0, hint="without its radii")
    from_end: float = given(
        LENGTH, "End face to the groove", "L", least=0.0, hint="not in a face", blank="Z 0 at the groove", default=0.0
    )
    shape: ShapeInputs = part(ShapeInputs, "Walls and corners")


@dataclass(frozen=True, slots=True)
class Groove:
    """A groove complete (mm): its dimensions and its contour, from the first wall to the second."""

    where: str
    sizes: Solved
    from_end: float
    cut: Chain

    def spot(self, along: float, deep: float) -> Point:
        """The point of the part `along` the surface from the groove's first edge (mm) and `deep` below it (mm)."""
        return _spot(self.where, self.sizes["diameter"] / 2, self.from_end, along, deep)


def solve_groove(inputs: GrooveInputs) -> Groove:
    """The groove that the print describes. Raises `Missing`, `Contradiction`, `Impossible`, `OutOfRange`.

    >>> ring = solve_groove(GrooveInputs(diameter=25.0, bottom_diameter=23.9, width=1.3))
    >>> round(ring.sizes["depth"], 9), len(ring.cut)
    (0.55, 3)
    """
    require(inputs)
    require_sizes(inputs)
    walls = (inputs.shape.first_wall, inputs.shape.second_wall)
    system = SYSTEMS[inputs.where](walls)
    names = ("diameter", "bottom_diameter", "depth", "width", "bottom_width")
    values = {name: getattr(inputs, name) for name in names}
    require_settled(system, values, names)
    sizes = solve(system, values)
    _require_possible(inputs.where, sizes)
    from_end = 0.0 if inputs.where == "face" else inputs.from_end
    groove = Groove(inputs.where, sizes, from_end, _cut(inputs, sizes, walls, from_end))
    _require_edges(groove)
    return groove


def _spot(where: str, surface: float, from_end: float, along: float, deep: float) -> Point:
    if where == "face":
        return Point(-deep, surface - along)
    return Point(-from_end - along, surface - deep if where == "outside" else surface + deep)


def _cut(inputs: GrooveInputs, sizes: Solved, walls: tuple[float, float], from_end: float) -> Chain:
    """The groove's contour: edges, walls and bottom with their radii, what is left of the surface taken off."""
    depth, width, bottom = sizes["depth"], sizes["width"], sizes["bottom_width"]
    edge, low = inputs.shape.edge_radius, inputs.shape.bottom_radius
    first = depth * math.tan(walls[0])
    has_bottom = bottom > SMALLEST
    floor = [(first, depth), (first + bottom, depth)] if has_bottom else [(first, depth)]
    reach = 2.0 * edge + 1.0
    section = [(-reach, 0.0), (0.0, 0.0), *floor, (width, 0.0), (width + reach, 0.0)]
    points = [_spot(inputs.where, sizes["diameter"] / 2, from_end, *spot) for spot in section]
    radii = [edge, *([low] * len(floor)), edge]
    try:
        whole = rounded(points, radii)
    except DoesNotFit as problem:
        raise _too_round(problem, radii) from problem
    return Chain(whole.elements[1:-1])


def _too_round(problem: DoesNotFit, radii: list[float]) -> Impossible:
    at_edge = problem.index in (0, len(radii) - 1)
    values: dict[str, Value] = {
        "radius": Quantity(radii[problem.index], RADIUS, brief=True),
        "largest": Quantity(problem.largest, RADIUS),
        "place": "edges" if at_edge else "bottom",
    }
    text = "{radius} does not fit at the {place} of this groove: at most {largest} does."
    return Impossible(Fault("edge_radius" if at_edge else "bottom_radius", Message(text, values)))


def _require_possible(where: str, sizes: Solved) -> None:
    for name, label in (("depth", "deep"), ("width", "wide")):
        if sizes[name] < SMALLEST:
            text = "This groove would be {size} {label}: that is not a groove."
            values: dict[str, Value] = {"size": Quantity(sizes[name], LENGTH), "label": label}
            raise Impossible(Fault(name, Message(text, values)))
    if sizes["bottom_width"] < -SMALLEST:
        values = {"depth": Quantity(sizes["depth"], LENGTH), "width": Quantity(sizes["width"], LENGTH)}
        text = "With walls that lean so, a groove {width} wide closes before it is {depth} deep."
        raise Impossible(Fault("width", Message(text, values)))
    if where != "bore" and min(sizes["diameter"], sizes["bottom_diameter"]) < 2 * SMALLEST:
        text = "This groove reaches the axis: nothing is left at its bottom."
        raise Impossible(Fault("depth" if where == "outside" else "width", Message(text)))


def _require_edges(groove: Groove) -> None:
    """The edge radii must begin on the part: not past its end face, not past the axis."""
    past_end = groove.where != "face" and groove.from_end > 0.0 and groove.cut.start.z > SMALLEST
    past_axis = groove.where == "face" and groove.cut.end.r < -SMALLEST
    if past_end or past_axis:
        text = "The radius at the edge reaches past the {end}. Take a smaller one."
        raise Impossible(Fault("edge_radius", Message(text, {"end": "end face" if past_end else "axis"})))


def _between(large: float, small: float, hint: str) -> float:
    if small >= large:
        values: dict[str, Value] = {
            "small": Quantity(small, DIAMETER, brief=True),
            "large": Quantity(large, DIAMETER, brief=True),
            "hint": hint,
        }
        raise Impossible(Fault("bottom_diameter", Message("{small} must be smaller than {large}: {hint}.", values)))
    return formulas.half_difference(large, small)


def _outside_depth(D: float, d: float) -> float:
    return _between(D, d, "in an outside the bottom is the smaller diameter")


def _bore_depth(D: float, d: float) -> float:
    return _between(d, D, "in a bore the bottom is the larger diameter")


def _face_width(D: float, d: float) -> float:
    return _between(D, d, "in a face the first diameter is the larger one")


def _widths(walls: tuple[float, float]) -> tuple[Way, Way]:
    return (
        Way("width", ("bottom_width", "depth"), partial(_leaning, formulas.width_from_bottom, walls)),
        Way("bottom_width", ("width", "depth"), partial(_leaning, formulas.bottom_from_width, walls)),
    )


def _leaning(formula: Callable[..., float], walls: tuple[float, float], width: float, depth: float) -> float:
    found = formula(width, depth, *walls)
    return 0.0 if abs(found) < SMALLEST else found


TERMS = (
    Term("diameter", DIAMETER, "diameter", "{diameter}"),
    Term("bottom_diameter", DIAMETER, "bottom diameter"),
    Term("depth", LENGTH, "depth"),
    Term("width", LENGTH, "width"),
    Term("bottom_width", LENGTH, "bottom width"),
)
ASK = "Give the diameter, the depth (or the bottom diameter) and the width."
ASK_FACE = "Give the larger diameter, the smaller one (or the width), and the depth."


def _outside(walls: tuple[float, float]) -> System:
    ways = (
        Way("depth", ("diameter", "bottom_diameter"), _outside_depth),
        Way("bottom_diameter", ("diameter", "depth"), formulas.outside_bottom),
        Way("diameter", ("bottom_diameter", "depth"), formulas.outside_from_bottom),
    )
    return System(TERMS, (*ways, *_widths(walls)), ASK)


def _bore(walls: tuple[float, float]) -> System:
    ways = (
        Way("depth", ("diameter", "bottom_diameter"), _bore_depth),
        Way("bottom_diameter", ("diameter", "depth"), formulas.bore_bottom),
        Way("diameter", ("bottom_diameter", "depth"), _bore_diameter),
    )
    return System(TERMS, (*ways, *_widths(walls)), ASK)


def _bore_diameter(d: float, t: float) -> float:
    if 2 * t >= d:
        values = {"d": Quantity(d, DIAMETER, brief=True), "t": Quantity(t, LENGTH, brief=True)}
        raise Impossible(Fault("depth", Message("A groove {t} deep up to {d} leaves no bore to cut it from.", values)))
    return formulas.bore_from_bottom(d, t)


def _face(walls: tuple[float, float]) -> System:
    ways = (
        Way("width", ("diameter", "bottom_diameter"), _face_width),
        Way("bottom_diameter", ("diameter", "width"), formulas.outside_bottom.at("at the surface", t="w")),
        Way("diameter", ("bottom_diameter", "width"), formulas.outside_from_bottom.at("at the surface", t="w")),
    )
    return System(TERMS, (*ways, *_widths(walls)), ASK_FACE)


SYSTEMS = {"outside": _outside, "bore": _bore, "face": _face}
