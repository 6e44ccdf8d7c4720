"""The ball on an end: a whole one on a thinner neck, or a half one on a shank of its own diameter.

The ball's far point is Z 0, the part lies behind it (Z below zero).
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from math import acos, sqrt

from calc.answer.drawing import Detail, Dimension, Drawing
from calc.answer.feature import Answer, Feature
from calc.contour import Arc, Chain, Point
from calc.language.checks import require
from calc.language.fields import Declared, given, result
from calc.language.messages import Caution, Message, Quantity
from calc.language.problems import Fault, Impossible
from calc.language.quantities import (
    ANGLE,
    DIAMETER,
    LENGTH,
    RADIUS,
    VOLUME,
    Angle,
    Diameter,
    Length,
    Radius,
    Z,
    ZCoordinate,
)
from calc.language.working import formula
from calc.shapes.blanks import Solved, System, Term, Way, require_settled
from calc.shapes.blanks import solve as solve_system
from calc.shapes.dish.sizes import SMALLEST, require_sizes
from calc.shapes.listing import both_ways, key_points
from calc.shapes.segment import arc_length, cap_volume

FILLET = "fillet"
CHORD = "right triangle between the ball's centre, the axis and the neck's edge"
TOUCHING = "two circles that touch outside: their centres are the sum of the radii apart"


@formula(means="length from the ball's end to the neck", source=CHORD, result="L")
def length_to_neck(D: Diameter, d: Diameter) -> Length:
    """Length (mm) from the end of a ball D to where a neck d meets it behind its widest place (mm).

    Source: chord of a circle.

    >>> length_to_neck(10.0, 8.0)
    8.0
    """
    return D / 2 + sqrt((D / 2) ** 2 - (d / 2) ** 2)


@formula(means="neck diameter where the ball ends", source=CHORD, result="d")
def neck_at_length(D: Diameter, L: Length) -> Diameter:
    """Diameter (mm) of a ball D at the length L (mm) from its end.

    Source: chord of a circle.

    >>> neck_at_length(10.0, 8.0)
    8.0
    """
    return 2 * sqrt(L * (D - L))


@formula(means="ball diameter from neck and length", source=CHORD, result="D")
def ball_from_neck(d: Diameter, L: Length) -> Diameter:
    """Diameter (mm) of the ball that is L long (mm) before it meets a neck d (mm).

    Source: intersecting chords.

    >>> ball_from_neck(8.0, 8.0)
    10.0
    """
    return L + d**2 / (4 * L)


@formula(means="Z where the fillet begins on the neck", source=TOUCHING, result="Z_n")
def fillet_neck_z(D: Diameter, d: Diameter, r_f: Radius) -> ZCoordinate:
    """Z (mm, ball's end 0) at which a fillet r_f leaves a neck d to join a ball D smoothly (mm).

    Source: right triangle through the two arc centres.

    >>> fillet_neck_z(10.0, 4.0, 1.0)
    -10.196152422706632
    """
    return -D / 2 - sqrt((D / 2 + r_f) ** 2 - (d / 2 + r_f) ** 2)


@formula(means="diameter where the fillet meets the ball", source=TOUCHING, result="d_b")
def fillet_ball_diameter(D: Diameter, d: Diameter, r_f: Radius) -> Diameter:
    """Diameter (mm) at which a fillet r_f between a neck d and a ball D meets the ball (mm).

    Source: similar triangles along the line of the two centres.

    >>> fillet_ball_diameter(10.0, 4.0, 1.0)
    5.0
    """
    return (d + 2 * r_f) * D / (D + 2 * r_f)


@formula(means="Z where the fillet meets the ball", source=TOUCHING, result="Z_b")
def fillet_ball_z(Z_n: ZCoordinate, D: Diameter, r_f: Radius) -> ZCoordinate:
    """Z (mm, ball's end 0) at which the fillet r_f meets the ball D; Z_n is where it leaves the neck (mm).

    Source: similar triangles along the line of the two centres.

    >>> round(fillet_ball_z(-10.196152, 10.0, 1.0), 6)
    -9.330127
    """
    return -D / 2 + (Z_n + D / 2) * D / (D + 2 * r_f)


@formula(means="steepest fall toward the neck", source="the tangent is square to the radius", result="phi")
def back_slope(d_b: Diameter, D: Diameter) -> Angle:
    """Angle (rad) between the axis and a ball D where it ends behind its widest place, at the diameter d_b (mm).

    Source: the tangent is square to the radius.

    >>> round(back_slope(5.0, 10.0), 6)
    1.047198
    """
    return acos(d_b / D)


class BallInputs(Declared):
    """What a print gives of a ball (mm): any two of its diameter, its neck and its length; the fillet at the neck."""

    ball_diameter: float | None = given(DIAMETER, "Ball diameter", "D", above=0.0)
    neck_diameter: float | None = given(
        DIAMETER, "Neck diameter", "d", above=0.0, hint="of the ball's own diameter: a half ball"
    )
    ball_length: float | None = given(LENGTH, "Ball's end to the neck", "L", above=0.0, hint="without the fillet")
    neck_radius: float | None = given(RADIUS, "Fillet at the neck", "r", above=0.0, blank="sharp")


class BallResults(Declared):
    """A ball complete."""

    ball_diameter: float = result(DIAMETER, "Ball diameter", "D")
    radius: float = result(RADIUS, "Ball radius", "R")
    neck_diameter: float = result(DIAMETER, "Neck diameter", "d")
    ball_length: float = result(LENGTH, "Ball's end to the neck", "L")
    centre_z: float = result(Z, "Ball's centre, Z")
    fillet_ball_diameter: float | None = result(DIAMETER, "Fillet meets the ball")
    fillet_ball_z: float | None = result(Z, "Fillet meets the ball, Z")
    fillet_neck_z: float | None = result(Z, "Fillet meets the neck, Z")
    back_slope: float = result(ANGLE, "Steepest fall toward the neck", "φ")
    arc_length: float = result(LENGTH, "Arc length, neck to end", hint="without the fillet")
    volume: float = result(VOLUME, "Volume of the ball", "V", hint="up to the neck, without the fillet")


@dataclass(frozen=True, slots=True)
class Ball:
    """A ball complete (mm): its dimensions, the fillet (None: sharp), and the arc from there to its end."""

    sizes: Solved
    fillet: Arc | None
    arc: Arc

    @property
    def cut(self) -> Chain:
        """What the finishing tool follows, from the neck to the end of the ball."""
        return Chain((self.fillet, self.arc) if self.fillet else (self.arc,))


def solve_ball(inputs: BallInputs) -> Ball:
    """The ball that the print describes. Raises `Missing`, `Contradiction`, `Impossible`, `OutOfRange`.

    >>> ball = solve_ball(BallInputs(ball_diameter=10.0, neck_diameter=8.0))
    >>> ball.sizes["ball_length"], ball.arc.start
    (8.0, Point(z=-8.0, r=4.0))
    """
    require(inputs)
    require_sizes(inputs)
    names = ("ball_diameter", "neck_diameter", "ball_length")
    values = {name: getattr(inputs, name) for name in names}
    require_settled(SYSTEM, values, names)
    sizes = solve_system(SYSTEM, values)
    D, d, L = (sizes[name] for name in names)
    if d < 2 * SMALLEST:
        text = "A ball as long as its own diameter has no neck to stand on. Check the length."
        raise Impossible(Fault("ball_length", Message(text)))
    centre = Point(-D / 2, 0.0)
    fillet = _fillet(D, d, inputs.neck_radius) if inputs.neck_radius else None
    start = fillet.end if fillet else Point(-L, d / 2)
    return Ball(sizes, fillet, Arc(start, Point(0.0, 0.0), centre, "cw"))


def _fillet(D: float, d: float, r: float) -> Arc:
    if D - d < 2 * SMALLEST:
        text = "A half ball joins its shank smoothly: there is no corner for a fillet. Leave it blank."
        raise Impossible(Fault("neck_radius", Message(text)))
    start = Point(fillet_neck_z(D, d, r), d / 2)
    end = Point(fillet_ball_z(start.z, D, r), fillet_ball_diameter(D, d, r) / 2)
    if start.distance_to(end) < SMALLEST:
        text = "Between ball and neck nothing is left for a fillet of {r}. Leave it blank."
        raise Impossible(Fault("neck_radius", Message(text, {"r": Quantity(r, RADIUS)})))
    return Arc(start, end, start.shifted(0.0, r), "ccw")


def _length(D: float, d: float) -> float:
    if d > D:
        values = {"d": Quantity(d, DIAMETER, brief=True), "D": Quantity(D, DIAMETER, brief=True)}
        text = "The neck {d} is thicker than the ball {D}. A flatter arc on a thicker end is a crown."
        raise Impossible(Fault("neck_diameter", Message(text, values)))
    return length_to_neck(D, d)


def _neck(D: float, L: float) -> float:
    if not D / 2 <= L <= D:
        values = {
            "L": Quantity(L, LENGTH, brief=True),
            "least": Quantity(D / 2, LENGTH),
            "most": Quantity(D, LENGTH),
        }
        text = "From its end to the neck this ball is between {least} (half of it) and {most} (all of it), not {L}."
        raise Impossible(Fault("ball_length", Message(text, values)))
    return neck_at_length(D, L)


def _ball(d: float, L: float) -> float:
    if d / 2 > L:
        values = {"L": Quantity(L, LENGTH, brief=True), "least": Quantity(d / 2, LENGTH)}
        text = "A ball on this neck is at least {least} long, half the neck: {L} is a crown."
        raise Impossible(Fault("ball_length", Message(text, values)))
    return ball_from_neck(d, L)


SYSTEM = System(
    (
        Term("ball_diameter", DIAMETER, "ball diameter"),
        Term("neck_diameter", DIAMETER, "neck diameter"),
        Term("ball_length", LENGTH, "length"),
    ),
    (
        Way("ball_length", ("ball_diameter", "neck_diameter"), _length),
        Way("neck_diameter", ("ball_diameter", "ball_length"), _neck),
        Way("ball_diameter", ("neck_diameter", "ball_length"), _ball),
    ),
    "Give any two of ball diameter, neck diameter and the length from the ball's end to the neck.",
)


def solve(inputs: BallInputs) -> Answer[BallResults]:
    """The ball and its points. Raises `Problem` when the print's dimensions give none."""
    ball = solve_ball(inputs)
    found = _results(ball)
    labels = ("fillet begins on the neck", "fillet meets the ball", "end") if ball.fillet else ("neck", "end")
    return Answer(
        results=found,
        headline=ball.sizes.first or "ball_length",
        points=key_points(ball.cut, labels),
        points_note=both_ways("the neck", "the end"),
        contour=ball.cut,
        cautions=tuple(_cautions(found.back_slope)),
        notes=ball.sizes.notes,
        drawing=partial(ball_drawing, ball),
    )


def _results(ball: Ball) -> BallResults:
    sizes, fillet = ball.sizes, ball.fillet
    D, d, L = sizes["ball_diameter"], sizes["neck_diameter"], sizes["ball_length"]
    return BallResults(
        ball_diameter=D,
        radius=D / 2,
        neck_diameter=d,
        ball_length=L,
        centre_z=ball.arc.centre.z,
        fillet_ball_diameter=2 * fillet.end.r if fillet else None,
        fillet_ball_z=fillet.end.z if fillet else None,
        fillet_neck_z=fillet.start.z if fillet else None,
        back_slope=back_slope(min(2 * ball.arc.start.r, D), D),
        arc_length=arc_length(D / 2, math.pi - math.asin(min(d / D, 1.0)), 0.0),
        volume=cap_volume(D / 2, L),
    )


def _cautions(slope: float) -> Iterator[Caution]:
    if slope > math.radians(1.0):
        text = (
            "Behind its widest place the ball falls toward the neck by up to {slope}: the insert's free flank must be "
            "steeper, or the back is cut from the other side. Check insert and approach angle."
        )
        yield Caution(Message(text, {"slope": Quantity(slope, ANGLE)}), 2, "back_slope")


def ball_drawing(ball: Ball) -> Drawing:
    """The drawing of a ball on its neck."""
    cut, fillet = ball.cut, ball.fillet
    points = [cut.start, *(element.end for element in cut)]
    return Drawing(
        title="The ball on its neck",
        description="Section with the axis across the page, the chuck at the left and the ball at the right.",
        part=cut,
        bar_radius=ball.sizes["neck_diameter"] / 2,
        dimensions=tuple(_dimensions(ball)),
        spots=tuple((f"P{number}", point) for number, point in enumerate(points, 1)),
        details=(Detail(fillet.point_at(fillet.length / 2), 3.0 * fillet.length, FILLET),) if fillet else (),
    )


def _dimensions(ball: Ball) -> Iterator[Dimension]:
    sizes = ball.sizes
    radius, neck = sizes["ball_diameter"] / 2, ball.cut.start
    widest, corner = Point(-radius, radius), Point(-sizes["ball_length"], sizes["neck_diameter"] / 2)
    yield Dimension("diameter", widest, widest.mirrored(), 2 * radius, DIAMETER, "ball_diameter", "D")
    yield Dimension("diameter", neck, neck.mirrored(), 2 * neck.r, DIAMETER, "neck_diameter", "d")
    yield Dimension("length", corner, Point(0.0, 0.0), sizes["ball_length"], LENGTH, "ball_length", "L")
    if ball.fillet:
        fillet = ball.fillet
        middle = fillet.point_at(fillet.length / 2)
        yield Dimension("radius", middle, fillet.centre, fillet.radius, RADIUS, "neck_radius", "r", detail=FILLET)


FEATURE = Feature(
    path="geometry/ball",
    page="/ball",
    title="Ball",
    summary="A ball on a neck or a half ball on a shank: any two of ball, neck and length, the fillet, every point.",
    solve=solve,
    carries=lambda inputs: solve(inputs).results,
    supporting=("centre_z", "back_slope", "fillet_ball_diameter", "fillet_neck_z"),
    blank=ball_drawing(solve_ball(BallInputs(ball_diameter=60.0, neck_diameter=30.0))).with_symbols_only(),
    example={"ball_diameter": "24", "neck_diameter": "14", "neck_radius": "2"},
)
