"""The crown as a question: its dimensions, points and drawing."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from calc.answer.drawing import Detail, Dimension, Drawing
from calc.answer.feature import Answer, Feature
from calc.contour import Point
from calc.language.messages import Phrase
from calc.language.quantities import (
    DIAMETER,
    LENGTH,
    RADIUS,
)
from calc.shapes.crown import Crown, CrownInputs, CrownResults, crown_results, solve_crown
from calc.shapes.listing import both_ways, key_points

EDGE = "edge"


def solve(inputs: CrownInputs) -> Answer[CrownResults]:
    """The crown and its points. Raises `Problem` when the print's dimensions give none."""
    crown = solve_crown(inputs)
    end = "hole" if crown.arc.end.r else "apex"
    labels = ("edge radius begins", "edge radius meets the crown", end) if crown.edge else ("edge", end)
    return Answer(
        results=crown_results(crown),
        headline=crown.solved or "height",
        points=key_points(crown.cut, labels),
        points_note=both_ways("the outside", Phrase("the {end}", end=end)),
        contour=crown.cut,
        notes=crown.notes,
        drawing=partial(crown_drawing, crown),
    )


def crown_drawing(crown: Crown) -> Drawing:
    """The drawing of a crown on the end of its part."""
    edge = crown.edge
    points = [crown.cut.start, *(element.end for element in crown.cut)]
    return Drawing(
        title="The crown on the end of the part",
        description="Section with the axis across the page, the chuck at the left and the crown at the right.",
        part=crown.cut,
        bar_radius=crown.edge_diameter / 2,
        hole_radius=crown.arc.end.r,
        dimensions=tuple(_dimensions(crown)),
        spots=tuple((f"P{number}", point) for number, point in enumerate(points, 1)),
        details=(Detail(edge.point_at(edge.length / 2), 3.0 * edge.length, EDGE),) if edge else (),
    )


def _dimensions(crown: Crown) -> Iterator[Dimension]:
    R, h, half = crown.radius, crown.height, crown.edge_diameter / 2
    corner = Point(-h, half)
    yield Dimension("diameter", corner, corner.mirrored(), 2 * half, DIAMETER, "edge_diameter", "D")
    yield Dimension("length", corner, Point(0.0, 0.0), h, LENGTH, "height", "h")
    middle = crown.arc.point_at(crown.arc.length / 2)
    yield Dimension("radius", middle, crown.arc.centre, R, RADIUS, "radius", "R")
    hole = crown.arc.end
    if hole.r:
        yield Dimension("diameter", hole, hole.mirrored(), 2 * hole.r, DIAMETER, "hole_diameter", "d")
    if crown.edge:
        edge = crown.edge
        middle = edge.point_at(edge.length / 2)
        yield Dimension("radius", middle, edge.centre, edge.radius, RADIUS, "edge_radius", "e", detail=EDGE)
        yield Dimension(
            "diameter", edge.end, edge.end.mirrored(), 2 * edge.end.r, DIAMETER, "edge_arc_diameter", detail=EDGE
        )


FEATURE = Feature(
    path="geometry/crown",
    page="/crown",
    title="Crown",
    summary="A convex arc on an end: any two of radius, height and edge give the third, the edge radius, each point.",
    solve=solve,
    carries=lambda inputs: solve(inputs).results,
    supporting=("arc_centre_z", "edge_arc_diameter", "edge_arc_z", "edge_cylinder_z"),
    blank=crown_drawing(solve_crown(CrownInputs(radius=40.0, edge_diameter=56.0, edge_radius=3.0))).with_symbols_only(),
    example={"units": "inch", "radius": "2.9375", "edge_diameter": "2.000", "edge_radius": "1/32"},
)
