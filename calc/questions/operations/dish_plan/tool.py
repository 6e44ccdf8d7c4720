"""The insert's part of the plan: where the nose stands, what the touch-off reads, what is left uncompensated."""

from __future__ import annotations

from collections.abc import Iterator

from calc.language.fields import Declared, result, word
from calc.language.messages import Caution, Message, Quantity, Value, in_a_row
from calc.language.quantities import DIAMETER, LENGTH, RADIUS, X, Z
from calc.questions.operations.dish_plan.results import LeftResults, NoseResults
from calc.shapes.dish.nose import WISE_SHARE, NoseOnDish, Stand
from calc.shapes.dish.uncompensated import Uncompensated
from calc.tool.point import STEPS, touch_off_x, touch_off_z


class TouchOff(Declared):
    """What a tool point reads when the nose touches the bar's diameter, and the finished face."""

    number: str = word("Tool point")
    on_bar: float = result(X, "on the bar, X")
    on_face: float = result(Z, "on the face Z 0, Z")


def touch_offs(bar_diameter: float, nose_radius: float) -> tuple[TouchOff, ...]:
    """The readings of all tool points on a bar (mm).

    >>> [round(2 * row.on_bar, 6) for row in touch_offs(60.0, 6.0)]
    [72.0, 84.0, 84.0, 60.0, 60.0, 72.0, 84.0, 72.0, 60.0, 72.0]
    """
    return tuple(
        TouchOff(
            number=str(number),
            on_bar=touch_off_x.function(bar_diameter, nose_radius, step.r),
            on_face=touch_off_z.function(nose_radius, step.z),
        )
        for number, step in STEPS.items()
    )


def nose_results(nose: NoseOnDish, stands: tuple[Stand, ...], bar_diameter: float | None) -> NoseResults:
    """The results about nose and tool point, which is touched off on `bar_diameter` (mm); the last but one stand is
    where the dish begins.
    """
    mouth, end = stands[-2], stands[-1]
    reads = touch_off_x(bar_diameter, nose.radius, nose.step.r) if bar_diameter else None
    return NoseResults(
        nose_path_radius=nose.dish.bowl.radius - nose.radius,
        tool_x_at_mouth=mouth.tool_x,
        tool_z_at_mouth=mouth.tool_z,
        tool_x_at_end=end.tool_x,
        tool_z_at_end=end.tool_z,
        tool_beyond_axis=max(0.0, -end.tool_x),
        insert_beyond_axis=max(0.0, nose.radius - end.centre_x),
        wise_nose=WISE_SHARE * nose.dish.bowl.radius if nose.radius > WISE_SHARE * nose.dish.bowl.radius else None,
        touch_off=reads,
    )


def left_results(left: Uncompensated | None) -> LeftResults:
    """The results about the uncompensated cut; all None for a dish with a hole."""
    if left is None:
        return LeftResults()
    return LeftResults(
        left_wall_radius=left.wall_radius,
        left_mouth_diameter=left.mouth_diameter,
        left_axis_z=left.axis_z,
        left_ring_diameter=2 * left.ring.r,
        left_ring_z=left.ring.z,
        pip_height=left.pip_height,
        left_face_z=left.face_z,
    )


def left_sentences(
    nose: NoseOnDish, left: Uncompensated | None, bar_diameter: float | None = None
) -> tuple[Message, ...]:
    """In words, what a bar of `bar_diameter` (mm) becomes if the tool point follows the print uncompensated."""
    if left is None:
        return (
            Message("With a hole the cut ends before the axis; what is left uncompensated is not worked out here."),
        )
    asked = nose.dish.bowl.mouth_diameter
    values: dict[str, Value] = {
        "number": nose.number,
        "mouth": Quantity(left.mouth_diameter, DIAMETER),
        "asked": Quantity(asked, DIAMETER),
        "wall": Quantity(left.wall_radius, RADIUS),
        "ring": Quantity(2 * left.ring.r, DIAMETER),
        "pip": Quantity(left.pip_height, LENGTH),
    }
    text = (
        "If tool point {number} follows the print and nothing is compensated, the mouth becomes {mouth} instead of "
        "{asked} and the wall {wall}."
    )
    said = [Message(text, values)]
    if bar_diameter and left.mouth_diameter > bar_diameter:
        said.append(Message("That is wider than the bar: no face would be left."))
    if left.pip_height:
        text = "The deepest place is a ring of {ring}; on the axis a pip stands {pip} above it."
        said.append(Message(text, values))
    return (in_a_row(*said),)


def nose_cautions(nose: NoseOnDish, results: NoseResults) -> Iterator[Caution]:
    """What this nose triggers: too large for the dish, tool or insert beyond the axis."""
    R = nose.dish.bowl.radius
    if nose.radius > WISE_SHARE * R:
        values = {"nose": Quantity(nose.radius, RADIUS), "wise": Quantity(WISE_SHARE * R, RADIUS)}
        text = "A nose of {nose} touches the dish over a long stretch at once and may chatter: stay below {wise}."
        yield Caution(Message(text, values), 2, "nose_radius")
    if results.insert_beyond_axis:
        values = {"insert": Quantity(results.insert_beyond_axis, LENGTH)}
        text = (
            "Past the axis by {insert}: the insert and the tool point. See that insert and holder clear the far wall; "
            "retract along Z."
            if results.tool_beyond_axis
            else "Past the axis by {insert}: the insert, not the tool point. See that insert and holder clear the far "
            "wall; retract along Z."
        )
        yield Caution(Message(text, values), 2, "tool_point")
