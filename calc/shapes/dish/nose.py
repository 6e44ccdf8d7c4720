"""The round nose on the dish: where its centre and the tool point go, where they stand, what the control reads."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from math import atan2, cos, sin

from calc.contour import Chain, Element, Point, Vector
from calc.language.fields import Declared, result, word
from calc.language.messages import Message, Phrase, Quantity
from calc.language.problems import Fault, Impossible
from calc.language.quantities import RADIUS, Angle, Radius, Ratio, X, XCoordinate, Z, ZCoordinate
from calc.language.working import formula
from calc.shapes.dish.geometry import Dish
from calc.shapes.dish.sizes import SMALLEST, require_size
from calc.tool.point import COMMON_PRACTICE, STEPS

WISE_SHARE = 0.75


@formula(means="radius of the nose centre's arc", source="parallel of an arc", result="R_c")
def nose_path_radius(R: Radius, r_n: Radius) -> Radius:
    """Radius (mm) of the arc on which the centre of a nose r_n goes along the inside of the radius R (mm).

    Source: parallel of an arc.

    >>> nose_path_radius(75.0, 6.0)
    69.0
    """
    return R - r_n


@formula(means="X of the nose centre", source="square to the print where the nose touches it", result="X_c")
def nose_centre_x(X: XCoordinate, r_n: Radius, theta: Angle) -> XCoordinate:
    """X (mm, radius) of the centre of a nose r_n that touches the print at X, where it leans by theta from the face.

    Source: the radius stands square on the tangent.

    >>> nose_centre_x(25.0, 6.0, 0.0)
    25.0
    """
    return X - r_n * sin(theta)


@formula(means="Z of the nose centre", source="square to the print where the nose touches it", result="Z_c")
def nose_centre_z(Z: ZCoordinate, r_n: Radius, theta: Angle) -> ZCoordinate:
    """Z (mm) of the centre of a nose r_n that touches the print at Z, where it leans by theta (rad) from the face.

    Source: the radius stands square on the tangent.

    >>> nose_centre_z(-4.5, 6.0, 0.0)
    1.5
    """
    return Z + r_n * cos(theta)


@formula(means="X of the tool point", source=COMMON_PRACTICE, result="X_t")
def tool_x(X_c: XCoordinate, r_n: Radius, s_x: Ratio) -> XCoordinate:
    """X (mm, radius) of the tool point for a nose r_n about a centre at X_c; s_x is its side, -1, 0 or +1.

    Source: common practice.

    >>> tool_x(0.0, 6.0, -1.0)
    -6.0
    """
    return X_c + s_x * r_n


@formula(means="Z of the tool point", source=COMMON_PRACTICE, result="Z_t")
def tool_z(Z_c: ZCoordinate, r_n: Radius, s_z: Ratio) -> ZCoordinate:
    """Z (mm) of the tool point for a nose r_n about a centre at Z_c; s_z is its side, -1, 0 or +1.

    Source: common practice.

    >>> tool_z(1.5, 6.0, -1.0)
    -4.5
    """
    return Z_c + s_z * r_n


class Stand(Declared):
    """Where the nose stands while it touches one point of the print (mm, radius, ISO signs)."""

    at: str = word("Nose touches")
    contact_x: float = result(X, "print X")
    contact_z: float = result(Z, "print Z")
    centre_x: float = result(X, "nose centre X")
    centre_z: float = result(Z, "nose centre Z")
    tool_x: float = result(X, "tool point X")
    tool_z: float = result(Z, "tool point Z")

    @property
    def centre(self) -> Point:
        """The nose centre."""
        return Point(self.centre_z, self.centre_x)

    @property
    def tool_point(self) -> Point:
        """The tool point."""
        return Point(self.tool_z, self.tool_x)


@dataclass(frozen=True)
class NoseOnDish:
    """A nose of `radius` mm with a tool point of `number` on a dish, as it cuts from the outside to the axis."""

    dish: Dish
    radius: float
    number: int

    @property
    def step(self) -> Vector:
        """From the nose centre to the tool point, in nose radii."""
        return STEPS[self.number]

    @cached_property
    def centre_path(self) -> Chain:
        """The nose centre's path along the print, swings around sharp edges included."""
        return Chain(tuple(parallel.element for parallel in self.dish.cut.offset_elements(self.radius, "left")))

    @property
    def tool_path(self) -> Chain:
        """The tool point's path: that of the nose centre, shifted."""
        return self.shifted(self.centre_path)

    def shifted(self, path: Chain) -> Chain:
        """A path of the nose centre as a path of the tool point."""
        return path.shifted(self.radius * self.step.z, self.radius * self.step.r)

    def stands(self) -> tuple[Stand, ...]:
        """Where the nose stands at the points of the print, from the outside in, the axis or the hole last."""
        cut = self.dish.cut
        names = ["the edge, outside", "the dish, outside"] if len(cut) > 1 else ["the mouth"]
        rows = [self._stand(name, element, 0.0) for name, element in zip(names, cut, strict=True)]
        arc = self.dish.arc
        rows.append(self._stand("the hole" if self.dish.hole_radius else "the axis", arc, arc.length))
        return tuple(rows)

    def _stand(self, name: str, element: Element, s: float) -> Stand:
        contact, ahead, where = element.point_at(s), element.tangent_at(s), Phrase("nose on {name}", name=name)
        lean = 0.0 if name == "the axis" else atan2(-ahead.z, -ahead.r)
        centre = Point(
            nose_centre_z.at(where)(contact.z, self.radius, lean),
            nose_centre_x.at(where)(contact.r, self.radius, lean),
        )
        tool = Point(
            tool_z.at(where)(centre.z, self.radius, self.step.z),
            tool_x.at(where)(centre.r, self.radius, self.step.r),
        )
        return Stand(
            at=name,
            contact_x=contact.r,
            contact_z=contact.z,
            centre_x=centre.r,
            centre_z=centre.z,
            tool_x=tool.r,
            tool_z=tool.z,
        )


def nose_on_dish(dish: Dish, nose_radius: float, number: int) -> NoseOnDish:
    """The nose on the dish. Raises `Impossible` when the nose is not smaller than the dish radius, `OutOfRange` for
    a nose that is practically zero.

    >>> from calc.shapes.dish.bowl import DishInputs
    >>> from calc.shapes.dish.geometry import solve_dish
    >>> seat = solve_dish(DishInputs(radius=75.0, depth=4.5))
    >>> [round(2 * nose_on_dish(seat, 6.0, number).stands()[-1].tool_x, 9) for number in (2, 3, 7)]
    [12.0, -12.0, 0.0]
    """
    R = dish.bowl.radius
    require_size("nose_radius", "Nose radius", nose_radius, RADIUS)
    if nose_radius > R - SMALLEST:
        values = {
            "nose": Quantity(nose_radius, RADIUS),
            "dish": Quantity(R, RADIUS),
            "wise": Quantity(WISE_SHARE * R, RADIUS),
        }
        text = "A nose of {nose} cannot cut a dish of {dish}: it must be smaller, preferably below {wise}."
        raise Impossible(Fault("nose_radius", Message(text, values)))
    nose_path_radius(R, nose_radius)
    return NoseOnDish(dish, nose_radius, number)
