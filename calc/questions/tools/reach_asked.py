"""What the question of reach asks: print, insert and holder by designation or by their measures, and how they stand."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Literal

from calc.cutting import nouns
from calc.language.fields import Declared, choice, given, part
from calc.language.messages import Message, Quantity, Value
from calc.language.problems import Contradiction, Fault, Impossible, Missing
from calc.language.quantities import ANGLE, DIAMETER, LENGTH, RADIUS
from calc.machining.reach.examine import Cutter, bar_bore, cutter_of
from calc.machining.reach.tool import Cuts, Hold, hold_of, shank_of
from calc.shapes.dish.bowl import DishInputs, EdgeInputs
from calc.shapes.dish.geometry import Dish
from calc.shapes.dish.sizes import SMALLEST, require_size
from calc.tool.holder import Holder
from calc.tool.insert import Insert, NoseAs, nose_of
from calc.tool.insert.tables import Shape

FEEDS: dict[Cuts, str] = {"side": "a feed along the axis", "end": "a feed toward the axis"}
ANGLES_AGREE = math.radians(0.5)
LARGEST_NOSE = 0.999  # of half the inscribed circle: more leaves no edge


class HoldInputs(Declared):
    """How the holder stands, and its angles where no designation is known."""

    mount: Literal["across", "along"] = choice(
        "Shank", {"across": "across the axis", "along": "along the axis"}, "across", hint="a bar stands along it anyway"
    )
    entering_angle: float | None = nouns.ENTERING_ANGLE.given(hint="without a holder designation")
    cuts: Cuts = choice("Entering angle relative to", FEEDS, "side")
    hand: Literal["R", "L"] = choice("Hand", {"R": "right", "L": "left"}, "R", hint="without a holder designation")
    travel: Literal["in", "out"] = choice("Cuts", {"in": "from the mouth inward", "out": "outward to the mouth"}, "in")
    above_centre: float | None = given(
        LENGTH, "Tool above the centre", "e", hint="below: with a minus", most=100.0, least=-100.0
    )
    tilt: float | None = given(
        ANGLE,
        "Holder tips the insert by",
        "",
        hint="else usual",
        blank="as bars are ground",
        least=0.0,
        most=math.pi / 6,
    )


class PlainInsertInputs(Declared):
    """The insert by its measures, where no designation is known."""

    nose_as: NoseAs = nouns.NOSE_AS.chosen()
    insert_angle: float | None = given(ANGLE, "Included angle", "ε", above=0.0, most=math.radians(135.0))
    nose_radius: float | None = nouns.NOSE_RADIUS.given(blank="by the designation")
    edge_length: float | None = given(LENGTH, "Edge length", "l", above=0.0)


class StockInputs(Declared):
    """The bar, and what is taken in one pass (mm)."""

    bar_diameter: float | None = nouns.BAR_DIAMETER.given()
    pass_depth: float | None = nouns.PASS_DEPTH.given(hint="along X or Z, across the feed", brief="depth")


class ReachInputs(Declared):
    """A dish, an insert, a holder."""

    insert: str | None = nouns.INSERT.given()
    holder: str | None = nouns.HOLDER.given()
    radius: float | None = given(RADIUS, "Dish radius", "R", above=0.0)
    depth: float | None = given(LENGTH, "Depth", "h", hint="from the face to the deepest point of the arc", above=0.0)
    mouth_diameter: float | None = given(DIAMETER, "Mouth diameter", "D", hint="without the edge", above=0.0)
    edge: EdgeInputs = part(EdgeInputs, "Edge and hole")
    hold: HoldInputs = part(HoldInputs, "How it is held")
    plain: PlainInsertInputs = part(PlainInsertInputs, "Insert by its measures")
    stock: StockInputs = part(StockInputs, "Bar and depth per pass")


def dish_inputs(inputs: ReachInputs) -> DishInputs:
    """What the print gives of the dish."""
    return DishInputs(radius=inputs.radius, depth=inputs.depth, mouth_diameter=inputs.mouth_diameter, edge=inputs.edge)


def cutter_asked(inputs: ReachInputs, insert: Insert | None, holder: Holder | None) -> Cutter:
    """The cutter that the question describes.

    Raises `Missing` without nose or entering angle, `Contradiction` where holder and field disagree about that angle.
    """
    plain = inputs.plain
    hold = _hold(inputs, holder)
    if insert is None:
        nose = plain.nose_radius
        if nose is None:
            text = "Give the insert's designation, or its nose radius and included angle."
            raise Missing(Fault("insert", Message(text)))
        shape = _plain_shape(plain.insert_angle)
        shank = shank_of(holder, nose) if holder else None
        return Cutter(
            shape, nose, None if shape.angle else 2 * nose, plain.edge_length, hold=_needed(hold, shape), shank=shank
        )
    nose = plain.nose_radius or nose_of(inputs.insert or "", plain.nose_as)
    shank = shank_of(holder, nose) if holder else None
    cutter = replace(cutter_of(insert, nose, _needed(hold, insert.shape), shank), bar_bore=bar_bore(holder))
    return cutter if plain.edge_length is None else replace(cutter, edge=plain.edge_length)


def require_bar(bar: float | None, dish: Dish) -> None:
    """Raise `Impossible` for a bar (mm) smaller than what the dish takes of the face."""
    needed = 2 * dish.cut.start.r
    if bar is not None and bar < needed - SMALLEST:
        values: dict[str, Value] = {"bar": Quantity(bar, DIAMETER, brief=True), "needed": Quantity(needed, DIAMETER)}
        text = "The bar {bar} is smaller than what the dish takes of the face, {needed}."
        raise Impossible(Fault("bar_diameter", Message(text, values)))


def require_nose(cutter: Cutter) -> None:
    """Raise `OutOfRange` or `Impossible` for nose and edge that make no insert."""
    if cutter.nose:
        require_size("nose_radius", "Nose radius", cutter.nose, RADIUS)
    if cutter.edge is not None:
        require_size("edge_length", "Edge length", cutter.edge, LENGTH)
    circle = cutter.circle
    if circle is not None and cutter.shape.angle is not None and cutter.nose > LARGEST_NOSE * circle / 2:
        values: dict[str, Value] = {"nose": Quantity(cutter.nose, RADIUS), "circle": Quantity(circle, DIAMETER)}
        text = "A nose of {nose} does not fit on an insert with an inscribed circle of {circle}."
        raise Impossible(Fault("nose_radius", Message(text, values)))


def _plain_shape(angle: float | None) -> Shape:
    """An insert known by its angle; without one it is round."""
    if angle is None:
        return Shape("R", "round", "round", None)
    return Shape("", f"{math.degrees(angle):g}°", "rhombus", angle)


def _needed(hold: Hold | None, shape: Shape) -> Hold | None:
    if hold is None and shape.angle is not None:
        text = "Give the holder's designation, or the entering angle."
        raise Missing(Fault("holder", Message(text)))
    return hold


def _hold(inputs: ReachInputs, holder: Holder | None) -> Hold | None:
    given_ = inputs.hold
    along = given_.mount == "along"
    held = hold_of(holder, along=along) if holder else None
    if given_.entering_angle is None:
        return held
    if held is not None and abs(held.entering_angle - given_.entering_angle) > ANGLES_AGREE:
        raise _disagree(held.entering_angle, given_.entering_angle)
    if held is not None:
        return held
    hand = holder.hand if holder else given_.hand
    return Hold(given_.entering_angle, given_.cuts, hand, along or bool(holder and holder.is_bar))


def _disagree(held: float, typed: float) -> Contradiction:
    values: dict[str, Value] = {
        "held": Quantity(held, ANGLE, brief=True),
        "typed": Quantity(typed, ANGLE, brief=True),
    }
    text = "The holder's style has an entering angle of {held}, the field says {typed}. Leave one of them out."
    fields = ("holder", "entering_angle")
    return Contradiction(
        Fault("entering_angle", Message(text, values)),
        fields=fields,
        otherwise={"entering_angle": Quantity(held, ANGLE)},
    )
