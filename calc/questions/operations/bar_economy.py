"""Parts from a bar: how many, what is left, what each part costs in bar."""

from __future__ import annotations

from collections.abc import Iterator
from math import floor, pi, tan
from typing import Literal

from calc.answer.feature import Answer, Feature
from calc.cutting import nouns
from calc.cutting.stiffness import bar_mass
from calc.language.checks import require, require_wall
from calc.language.fields import Declared, choice, given, result
from calc.language.kinds import COST, Cost
from calc.language.messages import Caution, Digits, Message, Quantity, Value
from calc.language.problems import Fault, Impossible, OutOfRange
from calc.language.quantities import (
    COUNT,
    DENSITY,
    DIAMETER,
    LENGTH,
    MASS,
    RATIO,
    Area,
    Count,
    Density,
    Length,
    Mass,
    Ratio,
)
from calc.language.working import formula
from calc.questions.shapes.polygon_stock import POLYGON, corners_from_flats

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


@formula(means="section of the bar", source=POLYGON, result="A")
def polygon_area(w: Length, i: Count) -> Area:
    """Area (mm²) of a regular bar of i sides, w across flats (mm); i is even.

    Source: Machinery's Handbook.

    >>> round(polygon_area(10.0, 4), 9), round(polygon_area(1.0, 6), 9)
    (100.0, 0.866025404)
    """
    return i / 4 * w**2 * tan(pi / i)


@formula(means="mass of the bar", source="section less bore, by length and density", result="m")
def polygon_mass(A: Area, d: Length, B: Length, rho: Density) -> Mass:
    """Mass (kg) of a bar of section A (mm²) with a bore d, B long (mm), of density rho (kg/mm³).

    Source: definition.

    >>> round(polygon_mass(100.0, 0.0, 1000.0, 7.85e-6), 6)
    0.785
    """
    return (A - pi / 4 * d**2) * B * rho


SIDES: dict[str, int] = {"hexagon": 6, "square": 4}

_CORNERS = corners_from_flats.at("", s="w", n="i")
"""With symbols of their own: here s is what is faced off, and n counts the parts."""


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
    bar_section: Literal["round", "hexagon", "square"] = choice(
        "Section of the bar", {"round": "round", "hexagon": "hexagon", "square": "square"}, "round"
    )
    across_flats: float | None = given(LENGTH, "Across flats", "w", above=0.0, hint="of a hexagon or square")
    stock_bore: float = given(DIAMETER, "Bore of the stock", "d", least=0.0, hint="a tube", blank="solid", default=0.0)
    density: float | None = given(DENSITY, "Density", "ρ", above=0.0, hint="steel 7.85 kg/dm³")


class BarEconomyResults(Declared):
    """What a bar gives."""

    parts: float = result(COUNT, "Parts from a bar", "n")
    rest: float = result(LENGTH, "Bar left over", hint="the remnant is in it")
    length_per_part: float = result(LENGTH, "Bar for each part", "l")
    share_used: float = result(RATIO, "Share that becomes parts", "u")
    bars: float | None = result(COUNT, "Bars for the batch")
    across_corners: float | None = result(DIAMETER, "Across corners", "e", hint="sharp; drawn bars have a little less")
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
    corners, mass = _corners(inputs), _mass(inputs, bar)
    return Answer(
        results=BarEconomyResults(
            parts=parts,
            rest=rest_of(bar, parts, taken),
            length_per_part=taken,
            share_used=share_used(parts, part, bar),
            bars=None if inputs.batch is None else float(-(-inputs.batch // parts)),
            across_corners=corners,
            bar_mass=mass,
            mass_per_part=None if mass is None else mass / parts,
            price_per_part=None if inputs.bar_price is None else price_for_a_part(inputs.bar_price, parts),
        ),
        headline="parts",
        cautions=(*_interrupted(inputs, corners), *_cautions(inputs, bar - inputs.remnant - parts * taken, part)),
    )


def _corners(inputs: BarEconomyInputs) -> float | None:
    """Across the corners of a bar with flats (mm); None for a round one. Raises OutOfRange for the other's width."""
    flat = inputs.bar_section in SIDES
    if flat and inputs.stock_diameter is not None:
        raise OutOfRange(Fault("stock_diameter", Message("A bar with flats has a width across flats: give that.")))
    if not flat and inputs.across_flats is not None:
        raise OutOfRange(Fault("across_flats", Message("Only a hexagon or a square has flats: choose the section.")))
    return _CORNERS(inputs.across_flats, SIDES[inputs.bar_section]) if inputs.across_flats else None


def _mass(inputs: BarEconomyInputs, bar: float) -> float | None:
    wide, bore = inputs.across_flats or inputs.stock_diameter, inputs.stock_bore
    if wide is None or inputs.density is None:
        return None
    require_wall("stock_bore", bore, wide)
    if inputs.across_flats:
        return polygon_mass(polygon_area(wide, SIDES[inputs.bar_section]), bore, bar, inputs.density)
    return bar_mass(wide, bore, bar, inputs.density)


def _interrupted(inputs: BarEconomyInputs, corners: float | None) -> Iterator[Caution]:
    """What turning a bar with flats asks for, with its numbers where its width is given."""
    if corners is None and inputs.bar_section in SIDES:
        yield Caution(Message(_STRUCK), 2, "bar_section")
    if corners is not None and inputs.across_flats:
        values: dict[str, Value] = {
            "corners": Quantity(corners, DIAMETER),
            "flats": Quantity(inputs.across_flats, DIAMETER),
            "often": Digits(str(SIDES[inputs.bar_section])),
            "faster": Digits(f"{corners / inputs.across_flats:.2f}"),
        }
        yield Caution(Message(_INTERRUPTED, values), 2, "across_corners")


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


_STRUCK = (
    "Every corner strikes the edge: feed less, and take a tough grade. Guard the corners: they catch sleeves and "
    "cloths. Spindle, guide tube and collet must be made for this section."
)
_INTERRUPTED = (
    "From {corners} down to {flats} the edge is struck {often} times a turn: take the surface speed at the corners, "
    "{faster} times as fast as at {flats}, feed less, and take a tough grade. Guard the corners: they catch sleeves "
    "and cloths. Spindle, guide tube and collet must be made for this section."
)

FEATURE = Feature(
    path="geometry/bar-economy",
    page="/bar-economy",
    title="Parts from a bar",
    summary="How many parts a bar gives, the rest, bars for a batch, and what each part costs in bar.",
    solve=solve,
    supporting=("rest", "length_per_part", "bars", "price_per_part", "across_corners"),
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
