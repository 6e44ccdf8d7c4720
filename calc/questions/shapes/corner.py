"""The corner as a feature: the question, its results, its points and its sketch."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from calc.answer.drawing import Detail, Dimension, Drawing
from calc.answer.feature import Answer, Feature
from calc.contour import Arc, Chain, Element, Line, Point
from calc.language.fields import Declared, result
from calc.language.messages import Message
from calc.language.quantities import ANGLE, DIAMETER, LENGTH, RADIUS, X, Z
from calc.shapes.corner import formulas
from calc.shapes.corner.geometry import Corner, CornerInputs, PlaceInputs, solve_corner
from calc.shapes.listing import key_points

EDGE = "edge"
NOMINAL = 4.0  # a corner without a place is drawn this many legs from the axis


class CornerResults(Declared):
    """A corner complete; what belongs to the other kind, or needs the corner's place, is None."""

    radius: float | None = result(RADIUS, "Radius", "R")
    leg: float = result(LENGTH, "Sharp corner to where the edge begins", "a")
    second_leg: float | None = result(LENGTH, "Second leg of the chamfer", "b")
    gap: float | None = result(LENGTH, "Sharp corner to the arc", "g")
    chamfer_angle: float | None = result(ANGLE, "Chamfer, from the first line", "ε")
    second_chamfer_angle: float | None = result(ANGLE, "Chamfer, from the second line")
    width: float | None = result(LENGTH, "Width of the chamfer", "w")
    corner_angle: float = result(ANGLE, "Angle between the lines", "γ")
    arc_centre_x: float | None = result(X, "Arc centre X")
    arc_centre_z: float | None = result(Z, "Arc centre Z")


def solve(inputs: CornerInputs) -> Answer[CornerResults]:
    """The corner with its points. Raises `Problem` when lines and sizes give none."""
    placed = inputs.place.corner_diameter is not None
    corner = solve_corner(inputs)
    labels = ("edge begins on the first line", "edge ends on the second line")
    chain = Chain((corner.between,))
    return Answer(
        results=_results(corner, placed=placed),
        headline=_headline(inputs, corner),
        points=key_points(chain, labels) if placed else (),
        points_note=Message("In the direction of the two angles, as seen in the sketch: +X up, the chuck on the left."),
        contour=chain if placed else None,
        notes=tuple(_notes(inputs, corner)),
        drawing=partial(corner_drawing, corner),
    )


def _headline(inputs: CornerInputs, corner: Corner) -> str:
    return "leg" if inputs.kind == "radius" and "leg" in corner.sizes.solved else corner.sizes.first or "leg"


def _results(corner: Corner, *, placed: bool) -> CornerResults:
    sizes, between = corner.sizes, corner.between
    angle = sizes.get("chamfer_angle")
    centre = between.centre if placed and isinstance(between, Arc) else None
    return CornerResults(
        radius=sizes.get("radius"),
        leg=sizes["leg"],
        second_leg=sizes.get("second_leg"),
        gap=sizes.get("gap"),
        chamfer_angle=angle,
        second_chamfer_angle=None if angle is None else corner.turn - angle,
        width=sizes.get("width"),
        corner_angle=formulas.angle_between(corner.turn),
        arc_centre_x=centre.r if centre else None,
        arc_centre_z=centre.z if centre else None,
    )


def _notes(inputs: CornerInputs, corner: Corner) -> Iterator[Message]:
    yield from corner.sizes.notes
    unused = {
        "radius": {"second leg": inputs.second_leg, "chamfer angle": inputs.chamfer_angle},
        "chamfer": {"radius": inputs.radius, "gap": inputs.gap},
    }[inputs.kind]
    for name, value in unused.items():
        if value is not None:
            yield Message("The {name} has no place in a {kind} and was left out.", {"name": name, "kind": inputs.kind})
    if inputs.place.corner_diameter is None:
        yield Message("Give the diameter (and Z) of the sharp corner for the points.")


def corner_drawing(corner: Corner) -> Drawing:
    """The drawing of a corner with a piece of each line; one without a place stands well away from the axis."""
    reach = 2.5 * max(corner.sizes["leg"], corner.sizes.values.get("second_leg", 0.0))
    lift = 0.0 if corner.at.r > 0.0 else NOMINAL * reach
    between = corner.between.shifted(0.0, lift)
    at = corner.at.shifted(0.0, lift)
    before = at.moved(corner.first, -_within(at, -corner.first.r, reach))
    after = at.moved(corner.second, _within(at, corner.second.r, reach))
    elements: list[Element] = [between]
    if before.distance_to(between.start) > 0.01 * reach:
        elements.insert(0, Line(before, between.start))
    if after.distance_to(between.end) > 0.01 * reach:
        elements.append(Line(between.end, after))
    chain = Chain(tuple(elements))
    return Drawing(
        title="The corner between two lines",
        description="The two lines with what breaks their corner; the axis across the page, the chuck at the left.",
        part=_part(chain, reach),
        bar_radius=None,
        dimensions=tuple(_dimensions(corner, at, between)),
        spots=(("P1", between.start), ("P2", between.end)),
        details=(Detail(at, 1.4 * reach, EDGE),),
    )


def _within(at: Point, slope: float, reach: float) -> float:
    """How far to draw a line that goes off with this slope, so that it ends at the axis at the latest."""
    return reach if slope >= 0.0 else min(reach, at.r / -slope)


def _part(chain: Chain, reach: float) -> Chain:
    """The lines as the end of a part, from the outside to the axis or into a bore."""
    if (chain.end.r, -chain.end.z) > (chain.start.r, -chain.start.z):
        chain = chain.reversed()
    elements = list(chain.elements)
    if elements[0].tangent_at(0.0).z < -0.01:
        elements.insert(0, Line(chain.start.shifted(0.0, reach), chain.start))
    if elements[-1].tangent_at(elements[-1].length).z > -0.01 and chain.end.r > 0.0:
        elements.append(Line(chain.end, Point(chain.end.z, 0.0)))
    return Chain(tuple(elements))


def _dimensions(corner: Corner, at: Point, between: Element) -> Iterator[Dimension]:
    if corner.at.r > 0.0:
        yield Dimension("diameter", at, at.mirrored(), 2 * at.r, DIAMETER, "corner_diameter", "D")
    if isinstance(between, Arc):
        middle = between.point_at(between.length / 2)
        yield Dimension("radius", middle, between.centre, between.radius, RADIUS, "radius", "R", detail=EDGE)
    else:
        angle = corner.sizes["chamfer_angle"]
        yield Dimension("angle", at, between.end, angle, ANGLE, "chamfer_angle", "ε", vertex=between.start, detail=EDGE)
    if abs(corner.first.r) < 1e-9:
        yield Dimension("length", between.start, at, corner.sizes["leg"], LENGTH, "leg", "a", detail=EDGE)
    elif abs(corner.second.r) < 1e-9:
        second = corner.sizes.values.get("second_leg", corner.sizes["leg"])
        yield Dimension("length", at, between.end, second, LENGTH, "second_leg", "b", detail=EDGE)


def _blank() -> Drawing:
    inputs = CornerInputs(
        first_angle=math.radians(-40.0), second_angle=0.0, radius=30.0, place=PlaceInputs(corner_diameter=60.0)
    )
    return corner_drawing(solve_corner(inputs)).with_symbols_only()


FEATURE = Feature(
    path="geometry/corner",
    page="/corner",
    title="Corner",
    summary="A radius or a chamfer between two lines at any angle: its legs, its tangent points, the arc's centre.",
    solve=solve,
    carries=lambda inputs: solve(inputs).results,
    supporting=("corner_angle", "gap", "width", "arc_centre_x", "arc_centre_z"),
    blank=_blank(),
    example={
        "first_angle": "-30",
        "second_angle": "0",
        "kind": "radius",
        "corner_diameter": "31",
        "corner_z": "-81.34",
        "radius": "8",
    },
)
