"""The section of a centre hole of each form, from its rim to the tip of the drill."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import cos, radians, sqrt

from calc.contour import Arc, Chain, Line, Point
from calc.cutting.drilling import point_length
from calc.language.quantities import Angle, Diameter, Length, Radius
from calc.language.working import formula
from calc.shapes.centre_holes import POINT, PROTECTING, CentreHole, cone_depth

DRILL = radians(118.0)  # point of a centre drill; common practice, no source
TOUCHES = "the arc touches the point's cone midway between rim and pilot; common practice, no source"


@dataclass(frozen=True, slots=True)
class Section:
    """A centre hole in section: its contour with the names of its points, and the depths in it [mm].

    `before` is the depth of what protects the cone, `seat` that of the cone, or of the arc, which carries the point.
    """

    chain: Chain
    labels: tuple[str, ...]
    before: float
    seat: float

    @property
    def rim(self) -> Point:
        """Where the hole begins, on the face."""
        return self.chain.start


@formula(source=TOUCHES, means="centre of the arc, from the axis", result="r_c")
def arc_centre_radius(D: Diameter, d: Diameter, r: Radius, alpha: Angle) -> Length:
    """Distance [mm] from the axis to the centre of form R's arc `r` [mm]; the point's included angle is `alpha` [rad].

    `D` is the rim and `d` the pilot [mm]. Source: geometry, common practice for the place.

    >>> round(arc_centre_radius(8.5, 4.0, 12.5, POINT), 4)
    13.9503
    """
    return (D + d) / 4 + r * cos(alpha / 2)


@formula(source="right triangles in the arc", means="depth of the arc", result="l_r")
def arc_depth(D: Diameter, d: Diameter, r: Radius, r_c: Length) -> Length:
    """How deep [mm] form R's arc `r` goes from the rim `D` to the pilot `d` [mm], its centre `r_c` from the axis.

    Source: geometry.

    >>> round(arc_depth(8.5, 4.0, 12.5, arc_centre_radius(8.5, 4.0, 12.5, POINT)), 3)
    4.218
    """
    return sqrt(r**2 - (r_c - D / 2) ** 2) - sqrt(r**2 - (r_c - d / 2) ** 2)


def section(size: CentreHole, form: str) -> Section:
    """The section of a centre hole of `form` A, B, C or R; form R with the mean of its largest and smallest arc.

    >>> from calc.shapes.centre_holes import centre_holes
    >>> [round(2 * section(centre_holes()["4"], form).rim.r, 3) for form in "ABCR"]
    [8.5, 12.5, 16.0, 8.5]
    """
    mouth, labels = _mouth(size, form)
    before = -mouth[-1].z
    seat = _arc_depth(size) if form == "R" else cone_depth(size.cone, size.pilot, POINT)
    begins = Point(-before - seat, size.pilot / 2)
    ends = Point(begins.z - size.pilot_length, size.pilot / 2)
    tip = Point(ends.z - point_length.function(size.pilot, DRILL), 0.0)
    lines = [Line(here, there) for here, there in pairwise(mouth)]
    carries = _arc(size, mouth[-1], begins) if form == "R" else Line(mouth[-1], begins)
    chain = Chain((*lines, carries, Line(begins, ends), Line(ends, tip)))
    return Section(chain, (*labels, "pilot begins", "pilot ends", "tip"), before, seat)


def _mouth(size: CentreHole, form: str) -> tuple[list[Point], list[str]]:
    """The points from the rim to where the cone begins, with their names."""
    cone = size.cone / 2
    if form == "B":
        deep = cone_depth.at("protecting", result="l_p")(size.protected, size.cone, PROTECTING)
        return [Point(0.0, size.protected / 2), Point(-deep, cone)], ["rim", "cone begins"]
    if form == "C":
        deep = size.recess_depth
        spots = [Point(0.0, size.recess_rim / 2), Point(-deep, size.recess_floor / 2), Point(-deep, cone)]
        return spots, ["rim", "floor of the recess", "cone begins"]
    return [Point(0.0, cone)], ["arc begins" if form == "R" else "cone begins"]


def mean_arc(size: CentreHole) -> float:
    """The radius [mm] in the middle of what form R allows.

    >>> from calc.shapes.centre_holes import centre_holes
    >>> mean_arc(centre_holes()["4"])
    11.25
    """
    return (size.largest_arc + size.smallest_arc) / 2


def _arc_depth(size: CentreHole) -> float:
    radius = mean_arc(size)
    return arc_depth(size.cone, size.pilot, radius, arc_centre_radius(size.cone, size.pilot, radius, POINT))


def _arc(size: CentreHole, begin: Point, end: Point) -> Arc:
    radius = mean_arc(size)
    away = arc_centre_radius.function(size.cone, size.pilot, radius, POINT)
    back = sqrt(radius**2 - (away - begin.r) ** 2)
    return Arc(begin, end, Point(begin.z - back, away), "cw")
