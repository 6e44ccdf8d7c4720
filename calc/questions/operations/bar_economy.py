"""Parts from a bar: how many, what is left, what each part costs in bar."""

from __future__ import annotations

from math import floor

from calc.answer.feature import Answer, Feature
from calc.cutting import nouns
from calc.cutting.stiffness import bar_mass
from calc.language.checks import require, require_wall
from calc.language.fields import Declared, given, result
from calc.language.kinds import COST, Cost
from calc.language.messages import Caution, Message, Quantity
from calc.language.problems import Fault, Impossible
from calc.language.quantities import (
    COUNT,
    DENSITY,
    DIAMETER,
    LENGTH,
    MASS,
    RATIO,
    Count,
    Length,
    Ratio,
)
from calc.language.working import formula

DECIMALS = 9
"""Typed lengths may miss a whole number of parts by less than this and still mean it."""


@formula(means="length of bar for each part", source="part, face stock and blade", result="l")
def length_for_a_part(L: Length, s: Length, b: Length) -> Length:
    """Length of bar (mm) that one part of length L takes with face stock s and a blade of width b (mm).

    Source: definition.

    >>> length_for_a_part(40.0, 1.0, 3.0)
    44.0
    """
    return L + s + b


@formula(means="parts that fit into a bar", source="the bar less its remnant, by the length for each", result="q")
def fitting(B: Length, k: Length, l: Length) -> Ratio:  # noqa: E741 - the symbol of a length
    """How many parts that take l each fit into a bar B of which the remnant k stays in the chuck (mm).

    Source: definition.

    >>> round(fitting(3000.0, 120.0, 44.0), 3)
    65.455
    """
    return (B - k) / l


@formula(means="whole parts from a bar", source="whole parts only", result="n")
def whole_parts(q: Ratio) -> Count:
    """Whole parts of q that would fit.

    Source: definition.

    >>> whole_parts(65.455)
    65
    """
    return floor(q)


@formula(means="bar that is left", source="what the parts do not take", result="k_n")
def rest_of(B: Length, n: Count, l: Length) -> Length:  # noqa: E741
    """Length (mm) left of a bar B after n parts that take l each (mm): the remnant is in it.

    Source: definition.

    >>> rest_of(3000.0, 65, 44.0)
    140.0
    """
    return B - n * l


@formula(means="share of the bar that becomes parts", source="finished lengths by the bar's length", result="u")
def share_used(n: Count, L: Length, B: Length) -> Ratio:
    """Share of a bar of length B that ends in n finished parts of length L (mm).

    Source: definition.

    >>> share_used(65, 40.0, 2600.0)
    1.0
    """
    return n * L / B


@formula(means="price of bar in each part", source="the bar's price by its parts", result="P_1")
def price_for_a_part(P: Cost, n: Count) -> Cost:
    """Price of bar for each of n parts of a bar that costs P.

    Source: definition.

    >>> price_for_a_part(65.0, 65)
    1.0
    """
    return P / n


class BarEconomyInputs(Declared):
    """The bar, what a part takes of it, and what stays in the chuck (mm)."""

    bar_length: float = nouns.BAR_LENGTH.needed()
    part_length: float = nouns.PART_LENGTH.needed(hint="finished")
    face_stock: float = nouns.FACE_STOCK.given(default=0.0, hint="faced off each part")
    blade_width: float = nouns.BLADE_WIDTH.needed()
    remnant: float = nouns.REMNANT.given(default=0.0)
    batch: float | None = nouns.BATCH.given()
    bar_price: float | None = given(COST, "Price of a bar", "P", least=0.0)
    stock_diameter: float | None = given(DIAMETER, "Stock diameter", "D", above=0.0, hint="for the mass")
    stock_bore: float = given(DIAMETER, "Bore of the stock", "d", least=0.0, hint="a tube", blank="solid", default=0.0)
    density: float | None = given(DENSITY, "Density", "ρ", above=0.0, hint="steel 7.85 kg/dm³")


class BarEconomyResults(Declared):
    """What a bar gives."""

    parts: float = result(COUNT, "Parts from a bar", "n")
    rest: float = result(LENGTH, "Bar left over", hint="the remnant is in it")
    length_per_part: float = result(LENGTH, "Bar for each part", "l")
    share_used: float = result(RATIO, "Share that becomes parts", "u")
    bars: float | None = result(COUNT, "Bars for the batch")
    bar_mass: float | None = result(MASS, "Mass of a bar", "m")
    mass_per_part: float | None = result(MASS, "Bar in each part")
    price_per_part: float | None = result(COST, "Bar price in each part")


def solve(inputs: BarEconomyInputs) -> Answer[BarEconomyResults]:
    """The parts from a bar. Raises Missing, OutOfRange; Impossible where the bar is too short for a single part.

    >>> found = solve(BarEconomyInputs(bar_length=3000.0, part_length=40.0, face_stock=1.0, blade_width=3.0)).results
    >>> found.parts, found.rest, found.length_per_part
    (68, 8.0, 44.0)
    """
    require(inputs)
    bar, part, blade = inputs.bar_length, inputs.part_length, inputs.blade_width
    taken = length_for_a_part(part, inputs.face_stock, blade)
    parts = whole_parts(round(fitting(bar, inputs.remnant, taken), DECIMALS))
    if parts < 1:
        raise Impossible(Fault("bar_length", _too_short(bar, inputs.remnant, taken)))
    mass = _mass(inputs, bar)
    return Answer(
        results=BarEconomyResults(
            parts=parts,
            rest=rest_of(bar, parts, taken),
            length_per_part=taken,
            share_used=share_used(parts, part, bar),
            bars=None if inputs.batch is None else float(-(-inputs.batch // parts)),
            bar_mass=mass,
            mass_per_part=None if mass is None else mass / parts,
            price_per_part=None if inputs.bar_price is None else price_for_a_part(inputs.bar_price, parts),
        ),
        headline="parts",
        cautions=tuple(_cautions(inputs, bar - inputs.remnant - parts * taken, part)),
    )


def _mass(inputs: BarEconomyInputs, bar: float) -> float | None:
    if inputs.stock_diameter is None or inputs.density is None:
        return None
    bore = inputs.stock_bore
    require_wall("stock_bore", bore, inputs.stock_diameter)
    return bar_mass(inputs.stock_diameter, bore, bar, inputs.density)


def _too_short(bar: float, remnant: float, taken: float) -> Message:
    values = {"bar": Quantity(bar, LENGTH), "remnant": Quantity(remnant, LENGTH), "taken": Quantity(taken, LENGTH)}
    return Message("A bar of {bar} less a remnant of {remnant} is too short for a part, which takes {taken}.", values)


def _cautions(inputs: BarEconomyInputs, spare: float, part: float) -> list[Caution]:
    """What a buyer would want to hear: how little is missing to one part more."""
    missing = part + inputs.face_stock - spare
    if not 0.0 < missing <= inputs.blade_width:
        return []
    text = "One more part is only {missing} short: the last part needs no blade width if it need not be parted off."
    return [Caution(Message(text, {"missing": Quantity(missing, LENGTH)}), 1, "parts")]


FEATURE = Feature(
    path="geometry/bar-economy",
    page="/bar-economy",
    title="Parts from a bar",
    summary="How many parts a bar gives, the rest, bars for a batch, and what each part costs in bar.",
    solve=solve,
    supporting=("rest", "length_per_part", "bars", "price_per_part"),
    example={
        "bar_length": "3000",
        "part_length": "40",
        "face_stock": "1",
        "blade_width": "3",
        "remnant": "120",
        "batch": "200",
        "stock_diameter": "45",
        "density": "7.85",
    },
)
