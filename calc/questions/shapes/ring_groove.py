"""The groove for a retaining ring, on a shaft or in a bore: sizes with limits, edge margin, load, points."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Literal

from calc.answer.drawing import Drawing
from calc.answer.feature import Answer, Feature
from calc.language.checks import require
from calc.language.fields import Declared, choice, given, needed, result, word
from calc.language.fits import Limits
from calc.language.limited import Limited
from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.quantities import DIAMETER, FORCE, LENGTH, PRESSURE, Z
from calc.shapes.groove.geometry import Groove, GrooveInputs, solve_groove
from calc.shapes.groove.sketch import groove_drawing
from calc.shapes.listing import both_ways, key_points
from calc.shapes.retaining_rings import (
    SHEAR_FACTOR,
    STANDARD_YIELD,
    RingGroove,
    groove_load,
    ring_groove,
    wall_area,
)

Where = Literal["outside", "inside"]
SIDES = {"outside": "right", "inside": "left"}
LABELS = ("first edge", "first wall at the bottom", "second wall at the bottom", "second edge")


class RingGrooveInputs(Declared):
    """Shaft or bore (mm), where the groove is, and what the part is made of."""

    where: Where = choice("Ring on", {"outside": "a shaft (DIN 471)", "inside": "in a bore (DIN 472)"}, "outside")
    diameter: float = needed(DIAMETER, "Diameter", "d_1", above=0.0, hint="nominal, of the shaft or bore")
    from_end: float | None = given(LENGTH, "End face to the groove", "L", least=0.0, blank="the least that it needs")
    yield_strength: float | None = given(
        PRESSURE, "Yield strength of the part", "σ", above=0.0, blank="200 N/mm², as the standard's loads"
    )


class RingGrooveResults(Declared):
    """The groove."""

    groove_diameter: Limited = result(DIAMETER, "Groove diameter", "d_2")
    groove_width: Limited = result(LENGTH, "Groove width", "m")
    depth: float = result(LENGTH, "Groove depth", "t")
    edge_margin: float = result(LENGTH, "Least edge margin", "n", hint="from the groove to the end face")
    from_end: float = result(LENGTH, "End face to the groove", "L")
    ring_thickness: float = result(LENGTH, "Ring thickness", "s")
    load: float = result(FORCE, "Load of the groove", "F_N", hint="without impact, sharp-edged contact")
    near_z: float = result(Z, "First wall, Z")
    far_z: float = result(Z, "Second wall, Z")
    standard: str = word("Ring")


NOTES = (
    Message("Points and Z of the second wall aim at the middle of the limits."),
    Message("Keep the bottom corners sharp: a corner radius lifts the ring off the wall."),
)


def solve(inputs: RingGrooveInputs) -> Answer[RingGrooveResults]:
    """The groove. Raises `OutOfRange` for a diameter that the standard does not list.

    >>> found = solve(RingGrooveInputs(diameter=20.0)).results
    >>> found.groove_diameter.value, found.groove_diameter.lower, found.groove_width.value, found.edge_margin
    (19.0, 18.87, 1.3, 1.5)
    """
    require(inputs)
    found = ring_groove(inputs.where, inputs.diameter)
    from_end = found.edge_margin if inputs.from_end is None else inputs.from_end
    diameter = _limited(found.diameter, found.diameter_limits)
    width = _limited(found.width, found.width_limits)
    groove = _groove(inputs.where, found, from_end, diameter.aimed, width.aimed)
    area = wall_area(found.nominal, found.diameter)
    return Answer(
        results=RingGrooveResults(
            groove_diameter=diameter,
            groove_width=width,
            depth=found.depth,
            edge_margin=found.edge_margin,
            from_end=from_end,
            ring_thickness=found.ring_thickness,
            load=groove_load(inputs.yield_strength or STANDARD_YIELD, area, SHEAR_FACTOR),
            near_z=-from_end,
            far_z=-from_end - width.aimed,
            standard=f"{found.standard} - {found.nominal:g} x {found.ring_thickness:g}",
        ),
        headline="groove_diameter",
        points=key_points(groove.cut, LABELS),
        points_note=both_ways("the free end", "the chuck", side=SIDES[inputs.where], arcs=False),
        contour=groove.cut,
        cautions=tuple(_cautions(found, from_end)),
        notes=NOTES,
        drawing=partial(groove_drawing, groove),
    )


def _limited(nominal: float, deviations: Limits) -> Limited:
    return Limited.between(nominal + deviations.lower, nominal + deviations.upper, nominal)


def _groove(where: Where, found: RingGroove, from_end: float, diameter: float, width: float) -> Groove:
    return solve_groove(
        GrooveInputs(
            where="outside" if where == "outside" else "bore",
            diameter=found.nominal,
            bottom_diameter=diameter,
            width=width,
            from_end=from_end,
        )
    )


def _cautions(found: RingGroove, from_end: float) -> Iterator[Caution]:
    if from_end < found.edge_margin - 1e-9:
        values: dict[str, Value] = {
            "margin": Quantity(from_end, LENGTH),
            "least": Quantity(found.edge_margin, LENGTH),
        }
        text = (
            "Only {margin} is left outside the groove, and it needs {least}: the wall shears off below the ring's load."
        )
        yield Caution(Message(text, values), 3, "from_end")


def _blank() -> Drawing:
    found = ring_groove("outside", 40.0)
    groove = _groove("outside", found, 8.0, found.diameter, found.width)
    return groove_drawing(groove).with_symbols_only()


FEATURE = Feature(
    path="geometry/ring-groove",
    page="/ring-groove",
    title="Retaining-ring groove",
    summary="The groove for a retaining ring of DIN 471 or 472: diameter and width with limits, edge margin, load.",
    solve=solve,
    supporting=("groove_width", "edge_margin", "depth", "load"),
    blank=_blank(),
    example={"where": "outside", "diameter": "30", "from_end": "5"},
)
