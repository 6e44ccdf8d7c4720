"""The drilled hole's bottom: the length of the point for any angle, full-diameter depth against depth at the tip."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial
from math import atan, tan

from calc.answer.drawing import Dimension, Drawing
from calc.answer.feature import Answer, Feature
from calc.contour import Chain, Element, Line, Point, volume_of_revolution
from calc.contour.tolerance import ROUNDING
from calc.cutting.drilling import point_length
from calc.language.checks import require
from calc.language.fields import Declared, given, part, result
from calc.language.messages import Message, Quantity
from calc.language.problems import Fault, Impossible
from calc.language.quantities import ANGLE, DIAMETER, LENGTH, VOLUME, Angle, Diameter, Length
from calc.language.working import formula
from calc.shapes.blanks import Solved, System, Term, Way, require_settled
from calc.shapes.blanks import solve as solve_system
from calc.shapes.dish.sizes import SMALLEST, require_sizes
from calc.shapes.listing import key_points

CONE = "right triangle in the point; Machinery's Handbook, drill points"


@formula(means="point angle from the length of the point", source=CONE, result="sigma")
def point_angle(D: Diameter, p: Length) -> Angle:
    """Point angle (rad) of a drill D whose point is p long (mm).

    Source: right triangle.

    >>> round(math.degrees(point_angle(2.0, 1.0)), 9)
    90.0
    """
    return 2 * atan(D / (2 * p))


@formula(means="diameter that the point reaches", source=CONE, result="D")
def diameter_of_point(p: Length, sigma: Angle) -> Diameter:
    """Diameter (mm) that a point of the angle sigma (rad) makes when it is p deep (mm): spotting, countersinking.

    Source: right triangle.

    >>> round(diameter_of_point(1.0, math.radians(90.0)), 9)
    2.0
    """
    return 2 * p * tan(sigma / 2)


@formula(means="depth at the tip", source="full-diameter depth and point", result="t")
def total_depth(f: Length, p: Length) -> Length:
    """Depth (mm) of the tip of a hole with full diameter to the depth f and a point p long (mm).

    Source: sum of lengths.

    >>> total_depth(20.0, 3.0)
    23.0
    """
    return f + p


@formula(means="depth with full diameter", source="depth at the tip without the point", result="f")
def full_depth(t: Length, p: Length) -> Length:
    """Depth (mm) to which a hole has full diameter; t is the depth at the tip, p the length of the point (mm).

    Source: difference of lengths.

    >>> full_depth(23.0, 3.0)
    20.0
    """
    return t - p


@formula(means="length of the point from both depths", source="difference of the two depths", result="p")
def point_from_depths(t: Length, f: Length) -> Length:
    """Length (mm) of the point between the depth at the tip t and the full-diameter depth f (mm).

    Source: difference of lengths.

    >>> point_from_depths(23.0, 20.0)
    3.0
    """
    return t - f


@formula(means="travel through the part", source="thickness, point and run-out", result="t_T")
def through_depth(T: Length, p: Length, u: Length) -> Length:
    """Depth (mm) of the tip after drilling through the thickness T with a run-out u and a point p long (mm).

    Source: sum of lengths.

    >>> through_depth(20.0, 3.0, 1.0)
    24.0
    """
    return T + p + u


class ThroughInputs(Declared):
    """A hole through the part."""

    thickness: float | None = given(LENGTH, "Thickness to go through", "T", above=0.0)
    run_out: float = given(
        LENGTH, "Run-out behind it", "u", least=0.0, hint="with full diameter", blank="0", default=0.0
    )


class DrillPointInputs(Declared):
    """What is known of a drilled bottom (mm, rad): two of diameter, angle and point; one of the two depths."""

    diameter: float | None = given(DIAMETER, "Diameter", "D", above=0.0, hint="of the drill, or of a countersink's rim")
    point_angle: float | None = given(
        ANGLE,
        "Point angle",
        "σ",
        above=0.0,
        least=math.radians(1.0),
        most=math.pi,
        start=(118.0, 118.0),
        because="usual for high-speed steel",
        hint="180 for a flat bottom",
    )
    full_depth: float | None = given(LENGTH, "Full-diameter depth", "f", least=0.0)
    total_depth: float | None = given(LENGTH, "Depth at the tip", "t", above=0.0)
    point_length: float | None = given(LENGTH, "Length of the point", "p", above=0.0)
    through: ThroughInputs = part(ThroughInputs, "Through hole")


class DrillPointResults(Declared):
    """A drilled bottom complete; depths are None while none is given."""

    diameter: float = result(DIAMETER, "Diameter", "D")
    point_angle: float = result(ANGLE, "Point angle", "σ")
    point_length: float = result(LENGTH, "Length of the point", "p")
    full_depth: float | None = result(LENGTH, "Full-diameter depth", "f")
    total_depth: float | None = result(LENGTH, "Depth at the tip", "t")
    through_depth: float | None = result(LENGTH, "Depth of the tip to go through", "t_T")
    volume: float | None = result(VOLUME, "Volume of the hole", "V")


def solve_hole(inputs: DrillPointInputs) -> Solved:
    """The bottom of the hole. Raises `Missing`, `Contradiction`, `Impossible`, `OutOfRange`.

    >>> hole = solve_hole(DrillPointInputs(diameter=10.0, point_angle=math.radians(118.0), full_depth=20.0))
    >>> round(hole["total_depth"], 4)
    23.0043
    """
    require(inputs)
    require_sizes(inputs)
    values = {term.name: getattr(inputs, term.name) for term in SYSTEM.terms}
    require_settled(SYSTEM, values, ("diameter", "point_angle", "point_length"))
    return solve_system(SYSTEM, values)


def _point_length(D: float, sigma: float) -> float:
    found = point_length(D, sigma)
    return found if found > SMALLEST else 0.0


def _point_angle(D: float, p: float) -> float:
    if p <= 0.0:
        return math.pi
    return point_angle(D, p)


def _diameter(p: float, sigma: float) -> float:
    if sigma > math.pi - 1e-6:
        text = "A flat bottom has no point that gives the diameter. Give the diameter."
        raise Impossible(Fault("diameter", Message(text)))
    return diameter_of_point(p, sigma)


def _full_depth(t: float, p: float) -> float:
    if t < p * (1 - ROUNDING):
        values = {"t": Quantity(t, LENGTH, brief=True), "p": Quantity(p, LENGTH)}
        text = "{t} deep at the tip is less than the point alone, {p}: the hole never reaches full diameter."
        raise Impossible(Fault("total_depth", Message(text, values)))
    return max(full_depth(t, p), 0.0)


def _between(t: float, f: float) -> float:
    if f >= t:
        values = {"t": Quantity(t, LENGTH, brief=True), "f": Quantity(f, LENGTH, brief=True)}
        text = "The full-diameter depth {f} must be less than the depth at the tip, {t}. Are the two swapped?"
        raise Impossible(Fault("full_depth", Message(text, values)))
    return point_from_depths(t, f)


SYSTEM = System(
    (
        Term("diameter", DIAMETER, "diameter", "{diameter}"),
        Term("point_angle", ANGLE, "point angle"),
        Term("full_depth", LENGTH, "full-diameter depth"),
        Term("total_depth", LENGTH, "depth at the tip"),
        Term("point_length", LENGTH, "point length"),
    ),
    (
        Way("point_length", ("diameter", "point_angle"), _point_length),
        Way("point_length", ("total_depth", "full_depth"), _between),
        Way("point_angle", ("diameter", "point_length"), _point_angle),
        Way("diameter", ("point_length", "point_angle"), _diameter),
        Way("total_depth", ("full_depth", "point_length"), total_depth),
        Way("full_depth", ("total_depth", "point_length"), _full_depth),
    ),
    "Give the diameter and the point angle (or the length of the point).",
)


def solve(inputs: DrillPointInputs) -> Answer[DrillPointResults]:
    """The drilled bottom. Raises `Problem` when what is given settles none."""
    hole = solve_hole(inputs)
    full, tip = hole.get("full_depth"), hole.get("total_depth")
    thickness, run_out = inputs.through.thickness, inputs.through.run_out
    cut = None if full is None or tip is None else _cut(hole["diameter"], full, tip)
    results = DrillPointResults(
        diameter=hole["diameter"],
        point_angle=hole["point_angle"],
        point_length=hole["point_length"],
        full_depth=full,
        total_depth=tip,
        through_depth=through_depth(thickness, hole["point_length"], run_out) if thickness else None,
        volume=abs(volume_of_revolution(cut)) if cut else None,
    )
    return Answer(
        results=results,
        headline=_headline(hole),
        points=() if cut is None or full is None else key_points(cut, _labels(cut, full)),
        points_note=Message("The tip cuts on the axis; feed along Z."),
        contour=cut,
        notes=tuple(_notes(hole)),
        drawing=partial(hole_drawing, hole),
    )


def _headline(hole: Solved) -> str:
    for name in ("total_depth", "full_depth", "diameter", "point_angle", "point_length"):
        if name in hole.solved:
            return name
    return "point_length"


def _notes(hole: Solved) -> Iterator[Message]:
    yield from hole.notes
    if hole.get("total_depth") is None:
        yield Message("Give the full-diameter depth or the depth at the tip for the other one and the points.")


def _cut(D: float, full: float, tip: float) -> Chain:
    """The hole from its rim to its tip; a flat bottom goes square to the axis."""
    elements: list[Element] = []
    rim, corner, end = Point(0.0, D / 2), Point(-full, D / 2), Point(-tip, 0.0)
    if full > SMALLEST:
        elements.append(Line(rim, corner))
    elements.append(Line(elements[-1].end if elements else rim, end))
    return Chain(tuple(elements))


def _labels(cut: Chain, full: float) -> tuple[str, ...]:
    return ("rim", "point begins", "tip") if full > SMALLEST and len(cut) > 1 else ("rim", "tip")


def hole_drawing(hole: Solved) -> Drawing:
    """The drawing of the hole in its part; without a depth it stands one and a half diameters deep, untold."""
    D, p = hole["diameter"], hole["point_length"]
    full = hole.get("full_depth")
    depth = 1.5 * D if full is None else full
    cut = _cut(D, depth, depth + p)
    outside = Point(0.0, 1.1 * D)
    return Drawing(
        title="The drilled hole",
        description="Section with the axis across the page; the hole goes in from the right.",
        part=Chain((Line(outside, cut.start), *cut)),
        bar_radius=outside.r,
        dimensions=tuple(_dimensions(hole, depth)),
    )


def _dimensions(hole: Solved, depth: float) -> Iterator[Dimension]:
    D, p = hole["diameter"], hole["point_length"]
    rim, corner, tip = Point(0.0, D / 2), Point(-depth, D / 2), Point(-depth - p, 0.0)
    yield Dimension("diameter", rim, rim.mirrored(), D, DIAMETER, "diameter", "D")
    if hole.get("full_depth") != 0.0:
        yield Dimension("length", corner.shifted(0.0, 0.3 * D), rim, hole.get("full_depth"), LENGTH, "full_depth", "f")
    yield Dimension("length", tip, rim, hole.get("total_depth"), LENGTH, "total_depth", "t")
    if p:
        angle = hole["point_angle"]
        yield Dimension("angle", corner, corner.mirrored(), angle, ANGLE, "point_angle", "σ", vertex=tip)


FEATURE = Feature(
    path="geometry/drill-point",
    page="/drill-point",
    title="Drill point",
    summary="Length of a drill's point for any angle, full-diameter depth, depth at the tip, depth to drill through.",
    solve=solve,
    carries=lambda inputs: solve(inputs).results,
    supporting=("point_length", "full_depth", "total_depth", "through_depth"),
    blank=hole_drawing(
        solve_hole(DrillPointInputs(diameter=30.0, point_angle=math.radians(118.0), full_depth=40.0))
    ).with_symbols_only(),
    example={"diameter": "8.5", "point_angle": "118", "full_depth": "25"},
)
