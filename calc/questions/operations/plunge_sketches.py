"""Sections of a slot or a groove that a blade plunges."""

from __future__ import annotations

from itertools import pairwise

from calc.answer.drawing import Dimension, Drawing, Path
from calc.contour import Chain, Line, Point
from calc.cutting.groove_path import GrooveAsked
from calc.cutting.parting_path import Parting
from calc.language.quantities import (
    DIAMETER,
    LENGTH,
)

HALF_WAY = 0.4  # of the wall that the sketch leaves standing under the slot


def groove_sketch(path: GrooveAsked) -> Drawing:
    """The groove in its surface, with its dimensions.

    >>> groove_sketch(GrooveAsked(30.0, 26.0, 0.0, 8.0, 3.0, 0.1)).title
    'The groove'
    """
    c, far = path.corner_break, path.z - path.width
    edge = path.surface + path.inward * c
    right = [Point(path.z, edge), Point(path.z + c, path.surface)] if c else [Point(path.z, path.surface)]
    left = [Point(far - c, path.surface), Point(far, edge)] if c else [Point(far, path.surface)]
    ends = Point(far - path.width, path.surface), Point(path.z + path.width, path.surface)
    outward = 1.0 if path.inward > 0.0 else 0.0
    face = Point(ends[1].z, path.surface + outward * 2 * abs(path.surface - path.bottom) if outward else 0.0)
    spots = [ends[0], *left, Point(far, path.bottom), Point(path.z, path.bottom), *right, ends[1], face]
    if outward:
        spots.reverse()
    bottom = Point(path.z, path.bottom)
    return Drawing(
        title="The groove",
        description="Section of the groove; the edge goes in square to the axis.",
        part=Chain(tuple(Line(a, b) for a, b in pairwise(spots))),
        bar_radius=face.r if outward else path.surface,
        hole_radius=path.surface if outward else 0.0,
        dimensions=(
            Dimension(
                "length", Point(far, path.surface), Point(path.z, path.surface), path.width, LENGTH, "groove_width", "B"
            ),
            Dimension("diameter", bottom, bottom.mirrored(), 2 * path.bottom, DIAMETER, "bottom_diameter", "D_2"),
            Dimension("diameter", ends[1], ends[1].mirrored(), 2 * path.surface, DIAMETER, "start_diameter", "D_1"),
        ),
    )


def parting_sketch(asked: Parting, bore: float, part_length: float | None) -> Drawing:
    """The part on its bar with the slot in which the blade goes, and the path of its corner.

    `bore` is the radius of the hole, `part_length` how long the finished part is (mm).

    >>> parting_sketch(Parting(20.0, 0.0, 0.0, 3.0, 0.1), 0.0, None).hole_radius
    0.0
    """
    length = asked.outer if part_length is None else part_length
    z, outer, c = asked.z, asked.outer, asked.part_chamfer
    back = [Point(z, outer - c), Point(z + c, outer)] if c else [Point(z, outer)]
    far, cut_to = z - asked.width, bore + HALF_WAY * (outer - bore)
    slot = [Point(far - asked.width, outer), Point(far, outer), Point(far, cut_to), Point(z, cut_to)]
    spots = [*slot, *back, Point(z + length, outer), Point(z + length, bore)]
    last, width = Line(Point(z, outer), Point(z, asked.end)), asked.width
    return Drawing(
        title="Parting off",
        description="The part on its bar, the slot cut half way; the path of the corner goes on to its end.",
        part=Chain(tuple(Line(a, b) for a, b in pairwise(spots))),
        bar_radius=outer,
        hole_radius=bore,
        dimensions=(
            Dimension("diameter", spots[-2], spots[-2].mirrored(), 2 * outer, DIAMETER, "outer_diameter", "D_1"),
            Dimension("length", Point(z, outer), Point(z - width, outer), width, LENGTH, "insert_width", "w"),
        ),
        paths=(Path("tool point", Chain((last,)), "path of the corner"),),
    )
