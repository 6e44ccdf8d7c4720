"""A countersink, a sharp edge or a dish measured by the height of a ball that stands in it."""

from __future__ import annotations

from math import cos, pi
from typing import Literal

from calc.answer.feature import Answer, Feature
from calc.language.checks import require
from calc.language.fields import Declared, choice, given, needed, result
from calc.language.messages import Message
from calc.language.problems import Fault, Impossible
from calc.language.quantities import ANGLE, DIAMETER, LENGTH
from calc.measuring.balls import cone_at_face, depth_under_ball, edge_under_ball

BallStands = Literal["cone", "edge", "dish"]
SHAPES: dict[BallStands, str] = {
    "cone": "in a countersink",
    "edge": "on a sharp edge",
    "dish": "on the bottom of a dish",
}


class BallInConeInputs(Declared):
    """The ball, and how far its top stands above the face."""

    shape: BallStands = choice("The ball stands", SHAPES, "cone")
    ball_diameter: float = needed(DIAMETER, "Ball diameter", "d", above=0.0)
    height: float = needed(
        LENGTH, "Height of the ball above the face", "H", least=-10_000.0, hint="of its top; below the face: negative"
    )
    included_angle: float | None = given(
        ANGLE, "Included angle", "", above=0.0, most=pi * 0.99, hint="of the countersink: 60°, 90°, 120°"
    )


class BallInConeResults(Declared):
    """What the ball shows."""

    diameter: float | None = result(DIAMETER, "Diameter at the face", "D")
    depth: float | None = result(LENGTH, "Depth of the dish", "t")


def solve(inputs: BallInConeInputs) -> Answer[BallInConeResults]:
    """Diameter or depth. Raises Missing, OutOfRange; Impossible where the ball touches something else.

    >>> solve(BallInConeInputs(shape="dish", ball_diameter=20.0, height=15.5)).results.depth
    4.5
    """
    require(inputs, *(("included_angle",) if inputs.shape == "cone" else ()))
    ball, height = inputs.ball_diameter, inputs.height
    if height > ball:
        raise Impossible(Fault("height", Message("The ball’s top cannot stand higher than its diameter.")))
    if inputs.shape == "dish":
        return Answer(results=BallInConeResults(depth=depth_under_ball(ball, height)), headline="depth")
    diameter = _cone(inputs) if inputs.shape == "cone" else _edge(ball, height)
    return Answer(results=BallInConeResults(diameter=diameter), headline="diameter")


def _cone(inputs: BallInConeInputs) -> float:
    ball, half = inputs.ball_diameter, (inputs.included_angle or pi / 2.0) / 2.0
    diameter = cone_at_face(ball, inputs.height, half)
    if diameter < ball * cos(half):
        text = "At this height the ball rests on the edge of the countersink, not in it: take a smaller ball."
        raise Impossible(Fault("height", Message(text)))
    return diameter


def _edge(ball: float, height: float) -> float:
    if height <= ball / 2.0:
        text = "A ball that sinks in by half or more does not rest on the edge: take a larger ball."
        raise Impossible(Fault("height", Message(text)))
    return edge_under_ball(ball, height)


FEATURE = Feature(
    path="measure/ball-in-cone",
    page="/ball-in-cone",
    title="Ball in a countersink",
    summary="Diameter of a countersink or an edge, or depth of a dish, from the height of a ball that stands in it.",
    solve=solve,
    supporting=(),
    example={"shape": "cone", "ball_diameter": "8", "height": "4.2", "included_angle": "90"},
)
