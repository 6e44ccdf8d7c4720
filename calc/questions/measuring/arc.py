"""The arc through measured points: radius, centre, form error, what the deviation from the print means."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Literal

from calc.answer.drawing import Dimension, Drawing
from calc.answer.feature import Answer, Feature, Rows
from calc.contour import Arc, Chain, Point, Vector
from calc.language.checks import require
from calc.language.fields import Declared, choice, given, needed, result, rows, word
from calc.language.limited import limited
from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.problems import Fault, Impossible, Missing
from calc.language.quantities import DIAMETER, LENGTH, RADIUS, X, Z
from calc.measuring.circle import MeasuredCircle, fit_circle, ring_of_least_width
from calc.measuring.deviation import MeasuredArc, PrintedArc, Surface, meaning
from calc.measuring.limits import Limits
from calc.measuring.spherometer import radius_under_balls

SurfaceAsked = Literal["", Surface]
SURFACES: dict[SurfaceAsked, str] = {
    "": "points on the surface itself",
    "concave": "hollow (ball inside)",
    "convex": "crowned (ball outside)",
}
AlongAsked = Literal["", "x", "z"]
ALONG: dict[AlongAsked, str] = {"": "square to the arc", "x": "along X", "z": "along Z"}
SHORT = 0.05
"""A spread that is more than this share of the radius says little of it."""


class ArcReading(Declared):
    """One reading: a point of the surface, or the centre of the ball that touched it."""

    x: float = needed(X, "X", least=-10_000.0)
    z: float = needed(Z, "Z", least=-10_000.0)


class ArcInputs(Declared):
    """The readings and how they were taken; the arc that the print has."""

    readings: tuple[ArcReading, ...] = rows(
        ArcReading, "Readings", one="Reading", hint="three at least, five or more to judge form", begin=3, most=400
    )
    ball_diameter: float | None = given(
        DIAMETER, "Ball diameter", "d_b", above=0.0, hint="readings are then the ball's centres", blank="the surface"
    )
    surface: SurfaceAsked = choice("Surface", SURFACES, "", hint="needed with a ball")
    along: AlongAsked = choice("Read along", ALONG, "", hint="the axis along which probe or dial reads")
    spread: float | None = given(
        LENGTH, "Spread of a reading", above=0.0, hint="half width at 95 %", blank="judged by the readings themselves"
    )
    nominal_radius: float | None = given(RADIUS, "Radius on the print", "R", above=0.0, hint="with its limits: 75 ±0.1")
    nominal_centre_x: float | None = given(X, "Centre X on the print", least=-10_000.0, hint="0 for a dish or crown")
    nominal_centre_z: float | None = given(Z, "Centre Z on the print", least=-10_000.0)


class ArcResults(Declared):
    """The arc of the surface."""

    radius: float = result(RADIUS, "Radius", "R", hint="least squares")
    spread: float | None = result(LENGTH, "Spread of the radius", hint="half width at 95 %")
    centre_x: float = result(X, "Centre X")
    centre_x_spread: float | None = result(X, "Spread of centre X")
    centre_z: float = result(Z, "Centre Z")
    centre_z_spread: float | None = result(LENGTH, "Spread of centre Z")
    form_error: float = result(LENGTH, "Form error", hint="peak to valley about the fitted arc")
    zone: float = result(LENGTH, "Narrowest ring", hint="the least width between two circles of one centre")
    zone_radius: float = result(RADIUS, "Its radius", hint="midway")
    radius_off: float | None = result(LENGTH, "Radius off by", hint="measured less print")
    within: str | None = word("Against the limits")


class ArcRow(Declared):
    """One reading: where the surface was touched, and how far outside the arc that is (mm)."""

    x: float = result(X, "X")
    z: float = result(Z, "Z")
    residual: float = result(LENGTH, "Off the arc", hint="square to it, + outside")
    along: float | None = result(LENGTH, "As read", hint="the same along the axis of the probe")


def solve(inputs: ArcInputs) -> Answer[ArcResults]:
    """The arc. Raises OutOfRange, Missing and Impossible at the fields' names.

    >>> readings = tuple(ArcReading(x=x, z=z) for x, z in ((35.0, 0.0), (0.0, -35.0), (-35.0, 0.0), (28.0, -21.0)))
    >>> found = solve(ArcInputs(readings=readings, ball_diameter=10.0, surface="concave")).results
    >>> round(found.radius, 6), round(found.form_error, 6)
    (40.0, 0.0)
    """
    require(inputs)
    points = [Point(reading.z, reading.x) for reading in inputs.readings]
    _require(inputs)
    circle = fit_circle(points, inputs.spread)
    ring = ring_of_least_width(points, circle)
    radius, zone_radius = (_of_surface(each.radius, inputs) for each in (circle, ring))
    surface = inputs.surface or None
    arc = MeasuredArc(radius, circle.centre, circle.spread, circle.centre_spread, surface)
    printed = _printed(inputs)
    return Answer(
        results=ArcResults(
            radius=radius,
            spread=circle.spread,
            centre_x=circle.centre.r,
            centre_x_spread=circle.centre_spread and circle.centre_spread.r,
            centre_z=circle.centre.z,
            centre_z_spread=circle.centre_spread and circle.centre_spread.z,
            form_error=circle.form_error,
            zone=ring.form_error,
            zone_radius=zone_radius,
            radius_off=None if printed.radius is None else radius - printed.radius,
            within=None if printed.limits == Limits() else printed.limits.verdict(radius, circle.spread),
        ),
        headline="radius",
        cautions=tuple(_cautions(arc, circle, points)),
        notes=tuple(meaning(arc, printed)),
        tables={"readings": _rows(inputs, circle, points)},
        drawing=lambda: _drawing(arc, circle, points),
    )


def _require(inputs: ArcInputs) -> None:
    if inputs.ball_diameter is not None and not inputs.surface:
        text = (
            "The readings are centres of the ball: choose whether the surface is concave (hollow) or convex (crowned)."
        )
        raise Missing(Fault("surface", Message(text)))


def _of_surface(radius: float, inputs: ArcInputs) -> float:
    if inputs.ball_diameter is None:
        return radius
    found = radius_under_balls.at("of the surface")(
        radius, inputs.ball_diameter, 1.0 if inputs.surface == "concave" else -1.0
    )
    if found <= 0.0:
        text = "The ball is larger than the arc of its centres allows: is the surface hollow rather than crowned?"
        raise Impossible(Fault("surface", Message(text)))
    return found


def _printed(inputs: ArcInputs) -> PrintedArc:
    both = limited(inputs.nominal_radius)
    limits = Limits() if both is None else Limits(both.lower, both.upper)
    return PrintedArc(inputs.nominal_radius, limits, inputs.nominal_centre_z, inputs.nominal_centre_x)


def _cautions(arc: MeasuredArc, circle: MeasuredCircle, points: Sequence[Point]) -> Iterator[Caution]:
    if arc.spread is None:
        text = "Three readings fit an arc exactly and say nothing of its form or spread: take two more."
        yield Caution(Message(text), 2, "spread")
    elif arc.spread > SHORT * arc.radius:
        text = (
            "The points span only {angle} of the arc: the radius is known to ±{spread}, which proves little. "
            "Measure over a longer stretch, or check the print’s radius with a gauge instead."
        )
        values: dict[str, Value] = {
            "angle": f"{math.degrees(_span(circle, points)):.1f}°",
            "spread": Quantity(arc.spread, LENGTH),
        }
        yield Caution(Message(text, values), 3, "radius")


def _span(circle: MeasuredCircle, points: Sequence[Point]) -> float:
    """The angle (rad) at the centre that holds all the points."""
    headings = sorted(circle.centre.to(point).heading for point in points)
    gaps = [b - a for a, b in zip(headings, [*headings[1:], headings[0] + math.tau], strict=True)]
    return math.tau - max(gaps)


def _rows(inputs: ArcInputs, circle: MeasuredCircle, points: Sequence[Point]) -> list[ArcRow]:
    return [_row(inputs, circle, *pair) for pair in zip(points, circle.residuals, strict=True)]


def _row(inputs: ArcInputs, circle: MeasuredCircle, point: Point, residual: float) -> ArcRow:
    out = circle.centre.to(point).unit()
    touched = point
    if inputs.ball_diameter is not None:
        touched = point.moved(out, (1.0 if inputs.surface == "concave" else -1.0) * inputs.ball_diameter / 2.0)
    slope = {"x": abs(out.r), "z": abs(out.z)}.get(inputs.along, 0.0)
    return ArcRow(x=touched.r, z=touched.z, residual=residual, along=residual / slope if slope > SHORT else None)


def _drawing(arc: MeasuredArc, circle: MeasuredCircle, points: Sequence[Point]) -> Drawing:
    """The arc through the touched points, in order about its centre."""
    first, last = _ends(circle, points)
    start, end = (arc.centre.moved(Vector.at_angle(heading), arc.radius) for heading in (first, last))
    turned = arc.centre.moved(Vector.at_angle((first + last) / 2.0), arc.radius)
    return Drawing(
        title="The arc that was measured",
        description="The fitted arc with the axis across the page; its ends are the outermost readings.",
        part=Chain((Arc(start, end, arc.centre, "ccw"),)),
        dimensions=(Dimension("radius", turned, arc.centre, arc.radius, RADIUS, "nominal_radius", "R"),),
        spots=tuple((f"P{number}", point) for number, point in enumerate(points, 1)),
    )


def _ends(circle: MeasuredCircle, points: Sequence[Point]) -> tuple[float, float]:
    headings = sorted(circle.centre.to(point).heading for point in points)
    gaps = [(b - a, b) for a, b in zip(headings, [*headings[1:], headings[0] + math.tau], strict=True)]
    first = max(gaps)[1]
    return first, first + _span(circle, points)


FEATURE = Feature(
    path="measure/arc",
    page="/measure-arc",
    title="Arc from readings",
    summary="Radius, centre and form error of an arc from three or more points, and what the deviation means.",
    solve=solve,
    supporting=("spread", "centre_x", "centre_z", "form_error", "within"),
    rows={"readings": Rows(ArcRow, "Where the surface was touched")},
    example={
        "readings": "x:0~z:-4.499*x:16~z:-4.073*x:28~z:-3.181*x:40~z:-1.784*x:50~z:-0.21",
        "spread": "0.003",
        "nominal_radius": "75 ±0.1",
        "nominal_centre_x": "0",
        "nominal_centre_z": "70.5",
    },
)
