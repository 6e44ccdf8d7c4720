"""The sharp-edged dish: radius, depth and mouth diameter, any two of which fix the third."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from calc.contour import Point
from calc.language.fields import Declared, choice, given, part
from calc.language.given import LEAST_SLACK
from calc.language.messages import Message, Quantity
from calc.language.quantities import ANGLE, DIAMETER, LENGTH, RADIUS
from calc.shapes.dish import formulas
from calc.shapes.dish.sizes import require_sizes
from calc.shapes.segment import Segment, Sentences

KINDS = {"radius": RADIUS, "depth": LENGTH, "mouth_diameter": DIAMETER}
WORDS = {"radius": "the radius", "depth": "the depth", "mouth_diameter": "the mouth diameter"}

DISH = Segment(
    height="depth",
    across="mouth_diameter",
    across_noun="mouth diameter",
    across_told="a mouth of {mouth_diameter}",
    across_of=formulas.mouth_from_radius_and_depth,
    height_of=formulas.depth_from_radius_and_mouth,
    radius_of=formulas.radius_from_depth_and_mouth,
    sentences=Sentences(
        higher_than_radius="A dish cannot be deeper than its radius: {height} is more than {radius}. Check which one "
        "is misread.",
        wider_than_ball="The mouth {across} is wider than the whole ball of this radius, {widest}.",
        closing_in="A dish that is {height} deep would close in above its widest place: at most half "
        "the mouth, {half}.",
    ),
)


EdgeBreak = Literal["none", "chamfer", "radius"]


class EdgeInputs(Declared):
    """Where the dish ends (mm): its edge at the mouth, its hole at the centre."""

    break_kind: EdgeBreak = choice(
        "Edge at the mouth", {"none": "sharp", "chamfer": "chamfer", "radius": "edge radius"}, "none"
    )
    break_size: float | None = given(
        LENGTH,
        "Edge size",
        "e",
        hint="edge radius, or the chamfer's leg from the sharp corner",
        brief="size",
        above=0.0,
    )
    break_angle: float | None = given(
        ANGLE, "Chamfer angle", "β", hint="from the face", blank="equal legs", above=0.0, most=math.pi / 2
    )
    hole_diameter: float = given(DIAMETER, "Hole in the middle", "d", blank="none", least=0.0, default=0.0)


class DishInputs(Declared):
    """What a print gives of a dish (mm): any two of radius, depth and mouth diameter; its edge; its hole."""

    radius: float | None = given(RADIUS, "Dish radius", "R", above=0.0)
    depth: float | None = given(LENGTH, "Depth", "h", hint="from the face to the deepest point of the arc", above=0.0)
    mouth_diameter: float | None = given(
        DIAMETER, "Mouth diameter", "D", hint="where the arc meets the face, without the edge", above=0.0
    )
    edge: EdgeInputs = part(EdgeInputs, "Edge and hole")


@dataclass(frozen=True, slots=True)
class Bowl:
    """The dish without its edge and hole (mm): `slope` is its angle to the face at the mouth, rad.

    `solved` names the input that the others determined ("" when all three were given and agree).
    """

    radius: float
    depth: float
    mouth_diameter: float
    centre: Point
    slope: float
    solved: str

    @property
    def corner(self) -> Point:
        """The sharp corner between face and dish."""
        return Point(0.0, self.mouth_diameter / 2)


def solve_bowl(inputs: DishInputs) -> Bowl:
    """The sharp-edged dish from any two of its dimensions, or from three that agree.

    Raises `Missing`, `Contradiction`, `Impossible`, or `OutOfRange` for a length that is practically zero.

    >>> bowl = solve_bowl(DishInputs(radius=90.0, depth=4.5))
    >>> round(bowl.mouth_diameter, 5), bowl.solved
    (56.20498, 'mouth_diameter')
    """
    require_sizes(inputs)
    found = DISH.solve({name: getattr(inputs, name) for name in KINDS})
    radius, depth, mouth = (found[name] for name in KINDS)
    centre = Point(formulas.centre_height(radius, depth), 0.0)
    return Bowl(radius, depth, mouth, centre, formulas.mouth_slope(mouth, centre.z), found.first)


def rounding_notes(inputs: DishInputs, bowl: Bowl) -> tuple[Message, ...]:
    """Says so where three dimensions agree within their rounding and one of them has to give visibly (mm).

    >>> from calc.language.given import Given
    >>> inputs = DishInputs(radius=75.0, depth=Given(4.5, slack=0.05), mouth_diameter=51.0)
    >>> [note.say() for note in rounding_notes(inputs, solve_bowl(inputs))]
    ['The three agree within their rounding only: here the depth is 4.468 mm, so that they close.']
    """
    text = "The three agree within their rounding only: here {name} is {value}, so that they close."
    return tuple(
        Message(text, {"name": WORDS[name], "value": Quantity(getattr(bowl, name), kind)})
        for name, kind in KINDS.items()
        if getattr(inputs, name) is not None and abs(getattr(inputs, name) - getattr(bowl, name)) > LEAST_SLACK["mm"]
    )
