"""Nose compensation on the control: which side, how to begin and end it, what it does not survive.

What controls do differs; what is said here holds for the usual way in which the first and the last compensated move
are straight lines over which the offset builds up and is given back (common practice, no source).
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from math import tan

from calc.contour import Arc, Chain, Element, Line, Point, Side, Vector, toward
from calc.language.fields import Declared, result, word
from calc.language.messages import Caution, Message, Phrase, Quantity, Value
from calc.language.quantities import ANGLE, LENGTH, RADIUS, Angle, Length, Radius, X, XCoordinate
from calc.language.working import formula
from calc.tool.nose_path import NosePath, Unreached, left_in_corners, span_of
from calc.tool.nose_shift import is_concave

COMMON = "common practice"


@formula(means="lead-in that lets the offset build up", source=COMMON, result="L_min")
def least_lead_in(r_n: Radius) -> Length:
    """Length (mm) that the first compensated move must exceed, for a nose r_n (mm).

    Source: common practice.

    >>> least_lead_in(0.8)
    0.8
    """
    return r_n


@formula(means="lead-in along X", source=COMMON, result="X_min")
def least_lead_in_along_x(r_n: Radius) -> XCoordinate:
    """The same along X (mm, of a radius; twice that where X is a diameter), for a nose r_n (mm).

    Source: common practice.

    >>> least_lead_in_along_x(0.8)
    0.8
    """
    return r_n


@formula(means="straight piece that a nose can touch between two concave corners", source="geometry", result="l_min")
def least_step(r_n: Radius, alpha: Angle, beta: Angle) -> Length:
    """Length (mm) of the shortest straight piece between two concave corners that a nose r_n (mm) still touches.

    `alpha` and `beta` are the turns (rad) at its ends, 0 for an end that is no concave corner.

    Source: tangent lengths of a circle in a corner.

    >>> round(least_step(0.8, math.pi / 2, math.pi / 2), 6)
    1.6
    """
    return r_n * (tan(alpha / 2) + tan(beta / 2))


class CompensationResults(Declared):
    """What compensation on the control asks of this contour (mm, rad)."""

    side_word: str = word("Compensation")
    least_lead_in: float = result(LENGTH, "Lead-in longer than", hint="the lead-out too; along Z or at an angle")
    least_lead_in_x: float = result(X, "along X", hint="longer than, as X is shown")
    lead_angle: float | None = result(ANGLE, "Lead-in to the first element", hint="90° to 180° on the tool's side")
    smallest_hollow: float | None = result(RADIUS, "Smallest concave radius")
    spare_hollow: float | None = result(LENGTH, "above the nose by")
    smallest_step: float | None = result(LENGTH, "Shortest straight piece between concave corners")
    step_needed: float | None = result(LENGTH, "needs, for this nose")


def side_word(side: Side) -> str:
    """The word that turns compensation on, for axes as in the sketch (+X up, +Z to the right).

    >>> side_word("left")
    'G41, tool on the left of travel'
    """
    return (
        Phrase("G41, tool on the {side} of travel", side=side)
        if side == "left"
        else Phrase("G42, tool on the {side} of travel", side=side)
    )


def compensation_results(path: NosePath, lead: Line | None) -> CompensationResults:
    """What compensation asks of the contour; `lead` is the straight move onto its start, None if not known."""
    nose = path.nose_radius
    hollow = min((arc.radius for _, arc in hollow_arcs(path.chain, path.side)), default=None)
    step = tightest_step(path.chain, nose, path.side)
    return CompensationResults(
        side_word=side_word(path.side),
        least_lead_in=least_lead_in(nose),
        least_lead_in_x=least_lead_in_along_x(nose),
        lead_angle=None if lead is None else lead_angle(lead, path.chain.elements[0], path.side),
        smallest_hollow=hollow,
        spare_hollow=None if hollow is None else hollow - nose,
        smallest_step=None if step is None else path.chain.elements[step].length,
        step_needed=None if step is None else _needed(path.chain, step, nose, path.side),
    )


def hollow_arcs(chain: Chain, side: Side) -> list[tuple[int, Arc]]:
    """The arcs that are hollow toward the tool, with their indices."""
    return [(i, each) for i, each in enumerate(chain) if isinstance(each, Arc) and is_concave(each, side)]


def tightest_step(chain: Chain, nose: float, side: Side) -> int | None:
    """The index of the straight piece between two concave corners that is shortest against what a nose (mm) needs."""
    needs = {
        index: _needed(chain, index, nose, side)
        for index, element in enumerate(chain)
        if isinstance(element, Line) and all(turn > 0.0 for turn in _concave_turns(chain, index, side))
    }
    return min(needs, key=lambda index: chain.elements[index].length - needs[index], default=None)


def _needed(chain: Chain, index: int, nose: float, side: Side) -> float:
    return least_step.function(nose, *_concave_turns(chain, index, side))


def _concave_turns(chain: Chain, index: int, side: Side) -> tuple[float, float]:
    """The turns (rad) toward the tool at both ends of an element, 0 where there is none."""
    joints = chain.joints
    before = toward(side) * joints[index - 1].turn if index > 0 else 0.0
    after = toward(side) * joints[index].turn if index < len(chain) - 1 else 0.0
    return max(before, 0.0), max(after, 0.0)


def lead_angle(lead: Line, first: Element, side: Side) -> float:
    """The angle (rad, 0 to a full turn) between the lead-in, looking back, and the first element, on the tool's side.

    >>> first = Line(Point(0.0, 20.0), Point(-9.0, 20.0))
    >>> round(math.degrees(lead_angle(Line(Point(0.0, 25.0), Point(0.0, 20.0)), first, "right")), 6)
    90.0
    """
    back = lead.direction.times(-1.0)
    ahead = first.tangent_at(0.0)
    turned = math.atan2(ahead.cross(back), ahead.dot(back))
    return (toward(side) * turned) % math.tau


def compensation_cautions(path: NosePath, lead: Line | None) -> Iterator[Caution]:
    """What this contour, nose and lead-in trigger with compensation on the control, each with its numbers."""
    if lead is not None:
        yield from _lead_cautions(lead, path)
    for gap in path.unreached:
        if gap.reason == "radius":
            yield Caution(_too_small(gap, path), 3, "nose_radius")
        elif gap.reason == "narrow":
            yield Caution(_too_narrow(gap, path), 3, "nose_radius")
    corners = left_in_corners(path.chain, path.nose_radius, path.unreached)
    if corners is not None:
        yield Caution(corners, 1, "nose_radius")


def _lead_cautions(lead: Line, path: NosePath) -> Iterator[Caution]:
    nose = path.nose_radius
    if lead.length <= nose:
        values: dict[str, Value] = {
            "lead": Quantity(lead.length, LENGTH),
            "nose": Quantity(nose, RADIUS, brief=True),
            "double": Quantity(2 * nose, LENGTH),
        }
        text = (
            "The lead-in of {lead} is not longer than the nose {nose}: the offset cannot build up. Lead in over more "
            "than the nose, along X over more than {double} on the diameter."
        )
        yield Caution(Message(text, values), 3, "lead_in")
    angle = lead_angle(lead, path.chain.elements[0], path.side)
    if not math.pi / 2 - 1e-9 <= angle <= math.pi + 1e-9:
        values = {"angle": Quantity(angle, ANGLE), "cut": Quantity(_cut_by_lead(angle, nose), LENGTH)}
        text = (
            "The lead-in stands at {angle} to the first element on the tool's side; between 90° and 180° it cannot "
            "cut into it. Begun like this it may cut {cut} deep before the offset is there."
        )
        yield Caution(Message(text, values), 3, "lead_in")


def _cut_by_lead(angle: float, nose: float) -> float:
    """How deep a nose may cut that comes in at an angle off the tool's side of the first element, at most its radius.

    >>> round(_cut_by_lead(math.radians(60.0), 0.8), 6)
    0.4
    """
    return nose if angle > math.pi else nose * math.cos(angle)


def _too_small(gap: Unreached, path: NosePath) -> Message:
    arcs = [
        path.chain.elements[index].radius  # type: ignore[union-attr]  # hollow arcs are arcs
        for index, _ in hollow_arcs(path.chain, path.side)
        if index in gap.elements
    ]
    values: dict[str, Value] = {
        "called": path.chain.called(gap.elements[len(gap.elements) // 2]),
        "radius": Quantity(min(arcs), RADIUS),
        "nose": Quantity(path.nose_radius, RADIUS, brief=True),
        "size": Quantity(gap.size, LENGTH),
    }
    text = (
        "The concave {radius} near {called} is smaller than the nose {nose}: a control may stop there, or cut into "
        "the neighbours. The nose can only leave {size}; take one of at most {radius}."
    )
    return Message(text, values)


def _too_narrow(gap: Unreached, path: NosePath) -> Message:
    values: dict[str, Value] = {
        "span": span_of(path.chain, gap),
        "size": Quantity(gap.size, LENGTH),
        "depth": Quantity(max((gouge.depth for gouge in path.gouges if gouge.of in gap.elements), default=0.0), LENGTH),
    }
    text = (
        "Between elements {span} it is too narrow for the nose, which stays off by {size}. A control that looks at "
        "one element after the other would cut {depth} into the part."
    )
    return Message(text, values)


def cancel_advice(nose: float) -> Message:
    """When compensation may be taken back, with numbers for a nose (mm).

    >>> cancel_advice(0.8).say()[:92]
    'Take compensation back (G40) only on a straight move that leads away from the part by more t'
    """
    text = (
        "Take compensation back (G40) only on a straight move that leads away from the part by more than {nose}, along "
        "X by more than {double} on the diameter; a tool change, a second G41 or G42 or a move without X and Z before "
        "that may end it too early."
    )
    return Message(text, {"nose": Quantity(nose, LENGTH), "double": Quantity(2 * nose, LENGTH)})


SHORTEST_LEAD_IN = 1e-6  # mm


def lead_to(start: Point, length: float, heading: float) -> Line | None:
    """The straight move of `length` mm at `heading` (rad from +Z) onto the start of a contour; None without length.

    A length below a millionth of a millimetre is none: a place beside the start could not be told from it.

    >>> lead_to(Point(0.0, 5.0), 2.0, 0.0).start, lead_to(Point(0.0, 5.0), 1e-90, 0.0)
    (Point(z=-2.0, r=5.0), None)
    """
    if length < SHORTEST_LEAD_IN:
        return None
    return Line(start.moved(Vector.at_angle(heading), -length), start)
