"""The groove for an O-ring: diameter, depth and width with limits, squeeze, stretch, fill."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from calc.answer.feature import Answer, Feature
from calc.language.checks import require
from calc.language.fields import Declared, choice, given, needed, part, result
from calc.language.kinds import TEMPERATURE
from calc.language.limited import Limited, limited
from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.problems import Fault, Impossible, Missing
from calc.language.quantities import DIAMETER, LENGTH, RADIUS, RATIO, ROUGHNESS
from calc.shapes.o_ring_heat import expansion_of, fill_when_warm, rubbers, stretched_section, surfaces
from calc.shapes.o_rings import (
    Duty,
    Section,
    fill,
    gland_depth,
    groove_diameter,
    groove_width,
    ring_area,
    section_of,
    squeeze,
    stretch,
)

GrooveIn = Literal["outside", "inside", "face"]
WHERE: dict[GrooveIn, str] = {
    "outside": "in the shaft, sealing a bore",
    "inside": "in the bore, sealing a shaft",
    "face": "in a face",
}
Joint = Literal["static", "moving"]
DUTIES: dict[Joint, str] = {"static": "at rest", "moving": "moving"}
REFERENCE = 20.0  # °C, at which prints hold; ISO 1
FULL = 0.95  # of the groove, warm and swollen; common practice, no source
LEAST_SQUEEZE = 0.07  # below which an O-ring may leak; common practice, no source
MOST_STRETCH = 0.05
MOST_PRESSED = 0.03
MOST_FILL = 0.85
"""Shares: stretch of a ring, compression round the circumference, fill (common practice, no source)."""


class WarmInputs(Declared):
    """How warm the ring gets, and what it takes up."""

    rubber: str = choice("Ring of", rubbers(), "NBR")
    working_temperature: float | None = given(
        TEMPERATURE, "Working temperature, highest", "T", least=-100.0, most=350.0, blank="20 °C"
    )
    swell: float = given(
        RATIO,
        "Swell in the fluid, share of volume",
        "q_v",
        least=-0.5,
        most=1.0,
        hint="its maker's table",
        blank="0",
        default=0.0,
    )


class ORingGrooveInputs(Declared):
    """The ring, what it seals against and how (mm)."""

    where: GrooveIn = choice("Groove", WHERE, "outside")
    duty: Joint = choice("The joint is", DUTIES, "static")
    section: float = needed(LENGTH, "Ring section", "w", above=0.0, hint="ISO 3601: 1.78, 2.62, 3.53 ... or 2.65 ...")
    mating_diameter: float | None = given(
        DIAMETER, "Mating diameter", "D", above=0.0, hint="the bore or shaft it seals against; limits as 50 H8"
    )
    ring_diameter: float | None = given(DIAMETER, "Ring inside diameter", "d_1", above=0.0, hint="for its stretch")
    warm: WarmInputs = part(WarmInputs, "Heat and swell")


class ORingGrooveResults(Declared):
    """The groove and what it does to the ring."""

    groove_diameter: Limited | None = result(DIAMETER, "Groove diameter", "d_g")
    gland_depth: Limited = result(LENGTH, "Gland depth", "E", hint="groove bottom to the mating surface")
    groove_width: Limited = result(LENGTH, "Groove width", "b")
    corner_radius: Limited = result(RADIUS, "Bottom corner radius", "r")
    squeeze: Limited = result(RATIO, "Squeeze", "s", hint="share of the section")
    fill: Limited = result(RATIO, "Fill of the groove", "φ")
    stretch: float | None = result(RATIO, "Stretch of the ring", "e", hint="negative: pressed together")
    fill_warm: float | None = result(
        RATIO, "Fill at most, warm and swollen", "φ_w", hint="largest ring, smallest groove"
    )
    least_squeeze_stretched: float | None = result(
        RATIO, "Least squeeze of the stretched ring", "s_e", hint="its section shrinks"
    )
    surface_sealed: float = result(ROUGHNESS, "Ra where it seals", hint="at most")
    surface_groove: float = result(ROUGHNESS, "Ra of the groove", hint="bottom and sides, at most")


def solve(inputs: ORingGrooveInputs) -> Answer[ORingGrooveResults]:
    """The groove. Raises `Missing`, `OutOfRange`; `Impossible` where mating limits are wider than the squeeze allows.

    >>> found = solve(ORingGrooveInputs(section=2.65, mating_diameter=42.0)).results
    >>> round(found.groove_diameter.lower, 3), round(found.groove_diameter.upper, 3), round(found.groove_width.value, 2)
    (37.597, 37.89, 3.6)
    """
    require(inputs)
    duty: Duty = "face" if inputs.where == "face" else "moving" if inputs.duty == "moving" else "static"
    ring = section_of(inputs.section, duty)
    depth = gland_depth(ring)
    width = groove_width(ring)
    groove = _groove_diameter(inputs, depth)
    stretched = _stretch(inputs, ring, groove)
    filled, (sealed, cut) = _fill(ring, width, depth), surfaces(duty)
    results = ORingGrooveResults(
        groove_diameter=groove,
        gland_depth=depth,
        groove_width=width,
        corner_radius=Limited.between(*ring.corner_radius),
        squeeze=_squeeze(ring, depth),
        fill=filled,
        stretch=stretched,
        fill_warm=_warm(inputs.warm, filled),
        least_squeeze_stretched=_least_squeeze(ring, depth, stretched),
        surface_sealed=sealed,
        surface_groove=cut,
    )
    return Answer(
        results=results,
        headline="gland_depth" if groove is None else "groove_diameter",
        cautions=tuple(_cautions(inputs, results)),
        notes=(Message("The maker's table for ring material, pressure and temperature comes before these numbers."),),
    )


def _groove_diameter(inputs: ORingGrooveInputs, depth: Limited) -> Limited | None:
    """The groove's diameter for which every mating diameter within its limits leaves a depth within its own.

    None in a face. Raises `Missing` without a mating diameter, `Impossible` where its limits are too wide.
    """
    if inputs.where == "face":
        return None
    mating = inputs.mating_diameter
    if mating is None:
        raise Missing(Fault("mating_diameter", Message("Enter the mating diameter to get the groove's.")))
    ends = limited(mating) or Limited(mating, mating, mating, mating)
    found = groove_diameter(ends, depth, outside=inputs.where == "outside")
    if found is None:
        values: dict[str, Value] = {
            "width": Quantity(ends.upper - ends.lower, LENGTH),
            "depth": Quantity(depth.upper - depth.lower, LENGTH),
        }
        text = "With {width} between the mating limits no groove keeps the gland within {depth}: tighten the fit."
        raise Impossible(Fault("mating_diameter", Message(text, values)))
    return found


def _stretch(inputs: ORingGrooveInputs, ring: Section, groove: Limited | None) -> float | None:
    if groove is None or inputs.ring_diameter is None:
        return None
    if inputs.where == "outside":
        return stretch(groove.aimed, inputs.ring_diameter)
    return stretch(groove.aimed, inputs.ring_diameter + 2 * ring.size)


def _squeeze(ring: Section, depth: Limited) -> Limited:
    return Limited.between(
        squeeze.at("smallest ring")(ring.size - ring.tolerance, depth.upper),
        squeeze.at("largest ring")(ring.size + ring.tolerance, depth.lower),
        squeeze.at("nominal")(ring.size, depth.aimed),
    )


def _fill(ring: Section, width: Limited, depth: Limited) -> Limited:
    low = fill.at("least")(ring_area(ring.size - ring.tolerance), width.upper, depth.upper)
    high = fill.at("most")(ring_area(ring.size + ring.tolerance), width.lower, depth.lower)
    return Limited.between(low, high, fill.at("nominal")(ring_area(ring.size), width.aimed, depth.aimed))


def _warm(warm: WarmInputs, filled: Limited) -> float | None:
    """The fill at the worst, warm and swollen; None where neither is asked."""
    if warm.working_temperature is None and not warm.swell:
        return None
    warmer = 0.0 if warm.working_temperature is None else warm.working_temperature - REFERENCE
    return fill_when_warm(filled.upper, expansion_of(warm.rubber), warmer, warm.swell)


def _least_squeeze(ring: Section, depth: Limited, stretched: float | None) -> float | None:
    """The squeeze of the smallest ring in the deepest gland, thinner by its stretch."""
    if stretched is None or stretched <= 0.0:
        return None
    thinner = stretched_section.at("smallest ring")(ring.size - ring.tolerance, stretched)
    return squeeze.at("smallest ring, stretched")(thinner, depth.upper)


def _cautions(inputs: ORingGrooveInputs, found: ORingGrooveResults) -> Iterator[Caution]:
    if found.fill.upper > MOST_FILL:
        values: dict[str, Value] = {"fill": f"{100 * found.fill.upper:.0f} %", "most": f"{100 * MOST_FILL:.0f} %"}
        text = "At worst the ring fills {fill} of the groove, over {most}: hot oil or heat has no room. Widen it."
        yield Caution(Message(text, values), 2, "fill")
    if found.fill_warm is not None and found.fill_warm > FULL:
        values = {"fill": f"{100 * found.fill_warm:.0f} %"}
        yield Caution(Message(_FULL, values), 3, "fill_warm")
    if found.least_squeeze_stretched is not None and found.least_squeeze_stretched < LEAST_SQUEEZE:
        values = {"share": f"{100 * found.least_squeeze_stretched:.1f} %", "least": f"{100 * LEAST_SQUEEZE:.0f} %"}
        yield Caution(Message(_SLACK, values), 2, "least_squeeze_stretched")
    if found.stretch is None:
        return
    if inputs.where == "outside":
        yield from _stretched(found.stretch)
    elif not -MOST_PRESSED <= found.stretch <= 0.0:
        text = "The ring is {share} against the groove's bottom: outside of 0 to -3 % it hangs loose or buckles."
        yield Caution(Message(text, {"share": f"{100 * found.stretch:+.1f} %"}), 2, "ring_diameter")


_FULL = (
    "Warm and swollen the ring fills {fill} of the groove at worst: full, it forces the joint open or is cut. Widen "
    "the groove."
)
_SLACK = (
    "Stretched, the smallest ring is squeezed by {share} only, under {least}: it may leak. Take a larger ring, or make "
    "the gland less deep."
)


def _stretched(share: float) -> Iterator[Caution]:
    if share > MOST_STRETCH:
        text = "The ring is stretched by {share}, over 5 %: its section shrinks. Take a larger ring."
        yield Caution(Message(text, {"share": f"{100 * share:.1f} %"}), 2, "ring_diameter")
    if share < 0.0:
        text = "The ring is larger than the groove's bottom by {share}: it hangs loose. Take a smaller ring."
        yield Caution(Message(text, {"share": f"{-100 * share:.1f} %"}), 2, "ring_diameter")


FEATURE = Feature(
    path="geometry/o-ring-groove",
    page="/o-ring-groove",
    title="O-ring groove",
    summary="The groove for an O-ring of ISO 3601: diameter, depth and width with limits, squeeze, stretch, fill.",
    solve=solve,
    supporting=("groove_width", "gland_depth", "squeeze", "fill"),
    example={"where": "outside", "section": "2.65", "mating_diameter": "42 H8", "ring_diameter": "36.5"},
)
