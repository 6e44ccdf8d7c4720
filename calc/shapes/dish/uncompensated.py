"""What the part becomes when the tool point follows the print and the control compensates nothing.

The nose centre then runs on the print shifted by the step from tool point to centre. The nose is a disc; what it takes
away is everything on the +Z side of the lowest place that it reaches at each radius. It stands on both sides of the
axis, and the part turns, so each place counts on both sides.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from calc.contour import Arc, Chain, Element, Line, Point, lower_envelope
from calc.language.quantities import Radius, Ratio, ZCoordinate
from calc.language.working import formula
from calc.shapes.dish.nose import NoseOnDish

LEVEL = 1e-9


@formula(means="radius of the wall that is left", source="a disc swept along an arc", result="R_u")
def wall_radius(R: Radius, r_n: Radius) -> Radius:
    """Radius (mm) of the wall cut when the centre of a nose r_n itself runs on an arc of radius R (mm).

    Source: outer parallel of an arc.

    >>> wall_radius(75.0, 6.0)
    81.0
    """
    return R + r_n


@formula(means="Z of the face that is cut", source="a disc swept along a line", result="Z_f")
def face_level(r_n: Radius, s_z: Ratio) -> ZCoordinate:
    """Z (mm) of the face cut when the tool point runs along Z 0; s_z is its side of the nose centre, -1, 0 or +1.

    Source: parallel of a line.

    >>> face_level(6.0, -1.0), face_level(6.0, 0.0)
    (-0.0, -6.0)
    """
    return -r_n * (1 + s_z)


@dataclass(frozen=True, slots=True)
class Uncompensated:
    """The face that is left (mm, ISO signs): its profile from outside to the axis, and what differs from the print.

    `ring` is the deepest place; off the axis it is a ring around a pip of `pip_height`.
    """

    profile: Chain
    wall_radius: float
    face_z: float
    mouth_diameter: float
    axis_z: float
    ring: Point

    @property
    def pip_height(self) -> float:
        """Height of what stands on the axis above the deepest ring, 0 without one."""
        return max(0.0, self.axis_z - self.ring.z)


def uncompensated(nose: NoseOnDish) -> Uncompensated | None:
    """What is left by the uncompensated cut from the outside to the axis; None for a dish with a hole.

    >>> from calc.shapes.dish.bowl import DishInputs
    >>> from calc.shapes.dish.geometry import solve_dish
    >>> from calc.shapes.dish.nose import nose_on_dish
    >>> left = uncompensated(nose_on_dish(solve_dish(DishInputs(radius=75.0, depth=4.5)), 6.0, 2))
    >>> round(left.mouth_diameter, 2), round(left.axis_z, 3), round(left.ring.r * 2, 2), round(left.pip_height, 2)
    (41.24, -4.277, 12.0, 0.22)
    """
    if nose.dish.hole_radius:
        return None
    outside = 2 * nose.dish.cut.start.r + 4 * nose.radius
    face = face_level(nose.radius, nose.step.z)
    pieces = [Line(Point(face, outside), Point(face, 0.0)), *_swept(nose, outside)]
    profile = list(_with_walls(lower_envelope(pieces, outside, 0.0)))
    return Uncompensated(
        Chain(tuple(profile)),
        wall_radius(nose.dish.bowl.radius, nose.radius),
        face,
        2 * _mouth(profile, face),
        profile[-1].end.z,
        min(_low_points(profile), key=lambda point: point.z),
    )


def _swept(nose: NoseOnDish, outside: float) -> Iterator[Element]:
    """The lowest places of the nose along its path, on both sides of the axis."""
    path = nose.dish.part(outside).shifted(-nose.radius * nose.step.z, -nose.radius * nose.step.r)
    lowest = [parallel.element for parallel in path.offset_elements(nose.radius, "right")]
    lowest += [_lower_half(centre, nose.radius) for centre in (path.start, *(element.end for element in path))]
    for element in lowest:
        yield element
        if element.bounds().r_min < 0.0:
            yield element.mirrored()


def _with_walls(profile: list[Element]) -> Iterator[Element]:
    """The profile with a wall straight along Z wherever it steps: beside the widest place of the nose."""
    size = max(element.size for element in profile)
    for before, after in pairwise(profile):
        yield before
        if before.end.distance_to(after.start) > LEVEL * size:
            yield Line(before.end, after.start)
    yield profile[-1]


def _lower_half(centre: Point, radius: float) -> Arc:
    return Arc(centre.shifted(0.0, -radius), centre.shifted(0.0, radius), centre, "cw")


def _mouth(profile: list[Element], face: float) -> float:
    """The radius at which the profile first leaves the level of the face, from the outside in."""
    size = max(element.size for element in profile)
    return next((part.start.r for part in profile if part.end.z < face - LEVEL * size), 0.0)


def _low_points(profile: list[Element]) -> Iterator[Point]:
    for element in profile:
        for part in element.split_where_z_turns():
            yield part.start
            yield part.end
