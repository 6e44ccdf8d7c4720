"""The dish as a feature: the question, its results, the points to key in."""

from __future__ import annotations

import math
from functools import partial

from calc.answer.feature import Answer, Feature, KeyPoint
from calc.contour import Arc, volume_of_revolution
from calc.language.fields import Declared, result
from calc.language.messages import Message
from calc.language.quantities import ANGLE, DIAMETER, LENGTH, RADIUS, VOLUME, X, Z
from calc.shapes.dish import formulas
from calc.shapes.dish.bowl import DishInputs, rounding_notes
from calc.shapes.dish.geometry import Dish, solve_dish
from calc.shapes.dish.sketch import dish_drawing
from calc.shapes.listing import key_points


class DishResults(Declared):
    """A dish complete. The mouth, its slope, the arc length and the volume are those of the sharp edge."""

    radius: float = result(RADIUS, "Dish radius", "R")
    depth: float = result(LENGTH, "Depth", "h")
    mouth_diameter: float = result(DIAMETER, "Mouth diameter, sharp", "D", brief="sharp mouth")
    arc_centre_x: float = result(X, "Arc centre X")
    arc_centre_z: float = result(Z, "Arc centre Z", brief="arc centre")
    mouth_angle: float = result(ANGLE, "Slope at the mouth, from the face", "θ", brief="slope at the mouth")
    mouth_angle_to_axis: float = result(ANGLE, "The same slope, to the axis")
    break_face_diameter: float | None = result(DIAMETER, "Edge begins on the face")
    break_arc_diameter: float | None = result(DIAMETER, "Edge meets the arc")
    break_arc_z: float | None = result(Z, "Edge meets the arc, Z")
    break_slope: float | None = result(ANGLE, "Chamfer, from the face", "β")
    hole_z: float | None = result(Z, "Arc ends at the hole, Z")
    arc_length: float = result(LENGTH, "Arc length, mouth to end")
    volume: float = result(VOLUME, "Volume of the dish", "V", hint="below the face, sharp edge, without the hole")


def dish_results(dish: Dish) -> DishResults:
    """The results of a solved dish, in mm, rad and mm3."""
    bowl, edge, hole = dish.bowl, dish.edge, dish.hole_radius
    broken = edge.element is not None
    return DishResults(
        radius=bowl.radius,
        depth=bowl.depth,
        mouth_diameter=bowl.mouth_diameter,
        arc_centre_x=bowl.centre.r,
        arc_centre_z=bowl.centre.z,
        mouth_angle=bowl.slope,
        mouth_angle_to_axis=math.pi / 2.0 - bowl.slope,
        break_face_diameter=2 * dish.cut.start.r if broken else None,
        break_arc_diameter=2 * edge.arc_start.r if broken else None,
        break_arc_z=edge.arc_start.z if broken else None,
        break_slope=edge.angle,
        hole_z=dish.arc.end.z if hole else None,
        arc_length=formulas.arc_length(bowl.radius, bowl.slope, math.asin(hole / bowl.radius)),
        volume=_volume(dish),
    )


def _volume(dish: Dish) -> float:
    """Of the dish below the face; a hole takes its own cylinder out of it."""
    bowl = dish.bowl
    if not dish.hole_radius:
        return formulas.cap_volume(bowl.radius, bowl.depth)
    wall = volume_of_revolution([Arc(bowl.corner, dish.arc.end, bowl.centre, "ccw")])
    return abs(wall) - math.pi * dish.hole_radius**2 * abs(dish.arc.end.z)


def points_of(dish: Dish) -> tuple[KeyPoint, ...]:
    """The points to key in, from the outside to the axis or the hole, with the arcs' centres."""
    begin = ("edge begins on the face", "edge meets the dish") if len(dish.cut) > 1 else ("mouth",)
    return key_points(dish.cut, (*begin, "hole" if dish.hole_radius else "axis"))


def both_ways(dish: Dish) -> Message:
    """Which way the arc turns and on which side the tool stands, for both cutting directions."""
    inward, outward = ("G3", "G2") if dish.arc.turn == "ccw" else ("G2", "G3")
    text = (
        "From the outside to the {end}: {inward} for the dish, tool on the left of travel, G41. From the {end} out: "
        "{outward}, tool on the right, G42. All for ISO axes: +X up, +Z away from the chuck."
    )
    end = "hole" if dish.hole_radius else "axis"
    return Message(text, {"end": end, "inward": inward, "outward": outward})


def solve(inputs: DishInputs) -> Answer[DishResults]:
    """The dish and its points. Raises `Problem` when the print's dimensions give none."""
    dish = solve_dish(inputs)
    return Answer(
        results=dish_results(dish),
        headline=dish.bowl.solved or "mouth_diameter",
        points=points_of(dish),
        points_note=both_ways(dish),
        contour=dish.cut,
        notes=rounding_notes(inputs, dish.bowl),
        drawing=partial(dish_drawing, dish),
    )


FEATURE = Feature(
    path="geometry/dish",
    title="Dish",
    summary="A concave arc in a face: any two of radius, depth and mouth give the third, the edge and every point.",
    solve=solve,
    carries=lambda inputs: solve(inputs).results,
    example={"radius": "75", "depth": "4.5", "break_kind": "radius", "break_size": "0.8"},
)
