"""The radius of a sphere from the sagitta over a ring or three ball legs."""

from __future__ import annotations

from collections.abc import Iterator
from math import nan

from calc.answer.drawing import Dimension, Drawing
from calc.answer.feature import Answer, Feature
from calc.contour import Arc, Chain, Point
from calc.language.checks import require
from calc.language.fields import Declared, choice, given, result, word
from calc.language.limited import limited
from calc.language.messages import Caution, Message, Quantity
from calc.language.problems import Fault, Impossible, Missing
from calc.language.quantities import DIAMETER, LENGTH, RADIUS, RATIO
from calc.measuring.deviation import Surface
from calc.measuring.limits import Limits
from calc.measuring.spherometer import (
    leg_circle_radius,
    radius_by_sagitta,
    radius_per_sagitta,
    radius_under_balls,
    sagitta_of,
)

SURFACES: dict[Surface, str] = {"concave": "hollow (dish)", "convex": "crowned"}
SHORT = 0.02
"""A spread that is more than this share of the radius says little of it."""


class SpherometerInputs(Declared):
    """What the gauge stands on, what it reads, what the print has."""

    base_diameter: float | None = given(
        DIAMETER, "Ring diameter", "D", above=0.0, hint="of the edge that touches: inner on a crown, outer in a dish"
    )
    leg_circle_diameter: float | None = given(DIAMETER, "Leg circle diameter", "D_l", above=0.0)
    leg_distance: float | None = given(LENGTH, "Distance between legs", "a", above=0.0, hint="centre to centre")
    ball_diameter: float | None = given(
        DIAMETER, "Ball diameter", "d_b", above=0.0, hint="of the legs", blank="pointed legs"
    )
    sagitta: float | None = given(LENGTH, "Sagitta", "h", above=0.0, hint="reading on the part less reading on a flat")
    surface: Surface = choice("Surface", SURFACES, "concave")
    spread: float | None = given(LENGTH, "Spread of the sagitta", above=0.0, hint="half width at 95 %")
    nominal_radius: float | None = given(RADIUS, "Radius on the print", "R_0", above=0.0, hint="with limits: 75 ±0.1")


class SpherometerResults(Declared):
    """The sphere that the gauge stands on."""

    radius: float = result(RADIUS, "Radius", "R")
    spread: float | None = result(LENGTH, "Spread of the radius", hint="half width at 95 %")
    per_sagitta: float = result(RATIO, "Radius per sagitta", "k", hint="the radius changes by this times the reading")
    wanted_sagitta: float | None = result(LENGTH, "Sagitta wanted", "h_0", hint="for the print's radius")
    radius_off: float | None = result(LENGTH, "Radius off by", hint="measured less print")
    within: str | None = word("Against the limits")


def solve(inputs: SpherometerInputs) -> Answer[SpherometerResults]:
    """The radius. Raises Missing, OutOfRange; Impossible where no sphere shows this sagitta.

    >>> round(solve(SpherometerInputs(base_diameter=50.0, sagitta=1.2)).results.radius, 6)
    261.016667
    """
    require(inputs, "sagitta")
    rho, sagitta = _base_radius(inputs), inputs.sagitta or nan
    if sagitta > rho:
        text = (
            "The sagitta is larger than half the base: no sphere sits on the gauge like that. Read it against a flat."
        )
        raise Impossible(Fault("sagitta", Message(text)))
    radius = _of_surface(radius_by_sagitta(rho, sagitta), inputs)
    slope = radius_per_sagitta(rho, sagitta)
    spread = None if inputs.spread is None else inputs.spread * slope
    nominal = inputs.nominal_radius
    return Answer(
        results=SpherometerResults(
            radius=radius,
            spread=spread,
            per_sagitta=slope,
            wanted_sagitta=None if nominal is None else _wanted(inputs, nominal, rho),
            radius_off=None if nominal is None else radius - nominal,
            within=_within(nominal, radius, spread),
        ),
        headline="radius",
        cautions=tuple(_cautions(radius, spread)),
        drawing=_drawing(rho, sagitta, inputs),
    )


def _base_radius(inputs: SpherometerInputs) -> float:
    """The radius of the circle on which the ring, the legs or their balls' centres stand."""
    told = {
        "base_diameter": inputs.base_diameter,
        "leg_circle_diameter": inputs.leg_circle_diameter,
        "leg_distance": inputs.leg_distance,
    }
    named = [name for name, value in told.items() if value is not None]
    if len(named) != 1:
        text = "Give one of: ring diameter, leg circle diameter, distance between legs."
        raise (Missing if not named else Impossible)(
            *(Fault(name, Message(text)) for name in named or ["base_diameter"])
        )
    if inputs.base_diameter is not None and inputs.ball_diameter is not None:
        text = "A ring touches with its edge: leave the ball diameter blank, or give the leg circle diameter instead."
        raise Impossible(Fault("ball_diameter", Message(text)))
    if inputs.leg_distance is not None:
        return leg_circle_radius(inputs.leg_distance)
    return (inputs.base_diameter or inputs.leg_circle_diameter or nan) / 2.0


def _side(inputs: SpherometerInputs) -> float:
    return 1.0 if inputs.surface == "concave" else -1.0


def _of_surface(radius: float, inputs: SpherometerInputs) -> float:
    if inputs.ball_diameter is None:
        return radius
    found = radius_under_balls(radius, inputs.ball_diameter, _side(inputs))
    if found <= 0.0:
        raise Impossible(Fault("ball_diameter", Message("The balls are larger than the sphere that they stand on.")))
    return found


def _wanted(inputs: SpherometerInputs, nominal: float, rho: float) -> float | None:
    """The sagitta of the print's radius; None where the gauge does not fit on it."""
    centres = nominal if inputs.ball_diameter is None else nominal - _side(inputs) * inputs.ball_diameter / 2.0
    return sagitta_of(centres, rho) if centres >= rho else None


def _within(nominal: float | None, radius: float, spread: float | None) -> str | None:
    both = limited(nominal)
    if both is None:
        return None
    limits = Limits(both.lower, both.upper)
    return limits.verdict(radius, spread)


def _cautions(radius: float, spread: float | None) -> Iterator[Caution]:
    if spread is not None and spread > SHORT * radius:
        text = (
            "A spread of ±{spread} on {radius} proves little: the sagitta is small for this gauge. Take a wider "
            "base or a finer dial."
        )
        values = {"spread": Quantity(spread, LENGTH), "radius": Quantity(radius, RADIUS)}
        yield Caution(Message(text, values), 2, "radius")


def _drawing(rho: float, sagitta: float, inputs: SpherometerInputs) -> Drawing:
    """The cap over the base: a dish, or a crown."""
    radius, side = radius_by_sagitta.function(rho, sagitta), _side(inputs)
    middle, edge, centre = Point(-side * sagitta, 0.0), Point(0.0, rho), Point(side * (radius - sagitta), 0.0)
    base = {"leg_circle_diameter": "D_l", "leg_distance": "D_l"}
    field = next((name for name in base if getattr(inputs, name) is not None), "base_diameter")
    return Drawing(
        title="The cap over the gauge's base",
        description="Half of the cap with the gauge's axis across the page; the base is at Z 0.",
        part=Chain((Arc(edge, middle, centre, "ccw" if side > 0.0 else "cw"),)),
        dimensions=(
            Dimension("diameter", edge, edge.mirrored(), 2 * rho, DIAMETER, field, base.get(field, "D")),
            Dimension("length", middle, Point(0.0, 0.0), sagitta, LENGTH, "sagitta", "h"),
        ),
    )


FEATURE = Feature(
    path="measure/spherometer",
    page="/spherometer",
    title="Spherometer",
    summary="Radius of a dish or crown from the sagitta over a ring or three ball legs, with its spread.",
    solve=solve,
    supporting=("spread", "wanted_sagitta", "radius_off", "within"),
    blank=_drawing(20.0, 4.5, SpherometerInputs()).with_symbols_only(),
    example={"base_diameter": "40", "sagitta": "2.725", "spread": "0.002", "nominal_radius": "75 ±0.1"},
)
