"""A bar that sticks out of its holder: how far it deflects, what that does to the bore, how fast it rings."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from calc.answer.feature import Answer, Feature
from calc.answer.plotting import Axis, Column, Curve, Mark, Plot, evenly
from calc.cutting import nouns
from calc.cutting.section_rows import SectionRow, sections_of
from calc.cutting.sections import Work, deflection_of_sections, stiffness_at
from calc.cutting.stiffness import (
    BARS,
    BarMaterial,
    BarOf,
    Beam,
    deflection,
    deflection_in_chuck,
    diameter_error,
    diameter_of_sunk_edge,
    stiffness,
)
from calc.language.checks import require
from calc.language.fields import Declared, given, result, rows
from calc.language.kinds import DEFLECTION, FREQUENCY, STIFFNESS
from calc.language.messages import Caution, Digits, Message, Phrase, Quantity
from calc.language.quantities import DIAMETER, FORCE, LENGTH, RATIO
from calc.language.working.vectorised import vectorised


class BarInputs(Declared):
    """The bar, the force that pushes it away; the downward force and the bore, for what sinking does."""

    tool_bar_diameter: float = nouns.TOOL_BAR_DIAMETER.needed()
    stick_out: float = nouns.STICK_OUT.needed()
    tool_bar_material: BarOf = nouns.TOOL_BAR_MATERIAL.chosen()
    passive_force: float = nouns.PASSIVE_FORCE.needed(hint="square to the axis, away from the work")
    tangential_force: float | None = given(FORCE, "Cutting force", "F_c", above=0.0, hint="downward, on the edge")
    bore_diameter: float | None = nouns.BORE_DIAMETER.given()
    tolerance: float | None = nouns.TOLERANCE.given()
    tool_bar_bore: float = given(DIAMETER, "Hole through the bar", "d_b", least=0.0, blank="solid", default=0.0)
    holder_stiffness: float | None = given(
        STIFFNESS, "Stiffness of its clamping", "k_h", above=0.0, hint="square to the bar, at the edge", blank="rigid"
    )
    bar_sections: tuple[SectionRow, ...] = rows(
        SectionRow, "Sections of the bar", one="Section", hint="from the holder out; none: one round bar", most=20
    )


class BarResults(Declared):
    """What the bar does under the cut."""

    diameter_error: float = result(DEFLECTION, "Bore comes out smaller by", "dD", hint="if nothing is corrected")
    deflection: float = result(DEFLECTION, "Bar deflection", "δ")
    stiffness: float = result(STIFFNESS, "Stiffness at the edge", "k")
    slenderness: float = result(RATIO, "Stick-out over diameter", "L/d")
    longest: float = result(LENGTH, "Longest usual stick-out", hint="of this bar; common practice, no source")
    frequency: float | None = result(
        FREQUENCY, "First natural frequency", "f_1", hint="of the bare bar of one section, clamped hard"
    )
    sinking: float | None = result(DEFLECTION, "Edge drops by", "δ_t")
    sinking_error: float | None = result(DEFLECTION, "The drop makes the bore larger by", "dD_t")


def solve(inputs: BarInputs) -> Answer[BarResults]:
    """The bar's deflection. Raises Missing and OutOfRange.

    >>> bar = BarInputs(tool_bar_diameter=20.0, stick_out=80.0, passive_force=500.0)
    >>> round(solve(bar).results.deflection, 6)
    0.051738
    """
    require(inputs)
    material = BARS[inputs.tool_bar_material]
    beam = Beam(inputs.stick_out, inputs.tool_bar_diameter, material, inputs.tool_bar_bore)
    force = inputs.passive_force
    sectioned = _sectioned(inputs, beam)
    section = beam.section()
    if sectioned is None:
        given_way = deflection(beam, force, beam.length, "chuck", section)
    else:
        given_way = deflection_of_sections(force, stiffness_at(sectioned, beam.length, "chuck"))
    sinking = _sinking(inputs, beam, section, sectioned)
    results = BarResults(
        diameter_error=diameter_error(given_way),
        deflection=given_way,
        stiffness=stiffness(force, given_way),
        slenderness=beam.slenderness,
        longest=material.longest * beam.diameter,
        frequency=None if sectioned else beam.frequency("chuck", section),
        sinking=sinking,
        sinking_error=_sinking_error(inputs, sinking),
    )
    return Answer(
        results=results,
        headline="diameter_error",
        cautions=tuple(_cautions(inputs, beam, material, results)),
        notes=(Message(_LEAST if inputs.holder_stiffness is None else _WITH_SPRING),),
        plots=() if sectioned else (_plot(beam, force, section),),
    )


def _sectioned(inputs: BarInputs, beam: Beam) -> Work | None:
    """The bar with its sections and the spring that holds it; None for one section clamped hard.

    Raises Contradiction for sections that are not as long as the stick-out, Impossible for a hole that leaves no wall.
    """
    field = "bar_sections" if inputs.bar_sections else "tool_bar_bore"
    told = sections_of(inputs.bar_sections, beam, "stick-out", field, "stick_out")
    if not (inputs.bar_sections or inputs.holder_stiffness):
        return None
    return Work(told, beam.material.modulus, inputs.holder_stiffness)


def _sinking(inputs: BarInputs, beam: Beam, section: float, sectioned: Work | None) -> float | None:
    if inputs.tangential_force is None:
        return None
    if sectioned is not None:
        return deflection_of_sections.at("downward", F="F_c", result="delta_t")(
            inputs.tangential_force, stiffness_at(sectioned, beam.length, "chuck")
        )
    return deflection_in_chuck.at("downward", F="F_c", a="L", result="delta_t")(
        inputs.tangential_force, beam.length, beam.material.modulus, section
    )


def _sinking_error(inputs: BarInputs, sinking: float | None) -> float | None:
    if sinking is None or inputs.bore_diameter is None:
        return None
    return diameter_of_sunk_edge(inputs.bore_diameter, sinking)


def _cautions(inputs: BarInputs, beam: Beam, material: BarMaterial, found: BarResults) -> Iterator[Caution]:
    if beam.slenderness > material.longest:
        yield Caution(_too_long(beam, material), 3, "stick_out")
    if inputs.tolerance is not None and found.diameter_error > inputs.tolerance:
        values = {
            "error": Quantity(found.diameter_error, DEFLECTION),
            "allowed": Quantity(inputs.tolerance, LENGTH),
        }
        yield Caution(Message(_BEYOND, values), 2, "diameter_error")
    if inputs.bore_diameter is not None and inputs.bore_diameter <= beam.diameter:
        values = {"bar": Quantity(beam.diameter, DIAMETER), "bore": Quantity(inputs.bore_diameter, DIAMETER)}
        yield Caution(Message(_TOO_THICK, values), 3, "tool_bar_diameter")


def _too_long(beam: Beam, material: BarMaterial) -> Message:
    stiffer = [bar for bar in BARS.values() if bar.longest >= beam.slenderness]
    remedy = (
        Phrase("take {words} (up to {longest})", words=stiffer[0].words, longest=Digits(f"{stiffer[0].longest:.0f}"))
        if stiffer
        else "take a damped bar"
    )
    return Message(
        "{stick} on {bar} is {ratio} diameters; {material} is used up to {most}: expect chatter and a bore that is not "
        "true. Shorten it, take a thicker bar, or {remedy}.",
        {
            "stick": Quantity(beam.length, LENGTH),
            "bar": Quantity(beam.diameter, DIAMETER),
            "ratio": f"{beam.slenderness:.1f}",
            "material": material.words,
            "most": f"{material.longest:.0f}",
            "remedy": remedy,
        },
    )


def _plot(beam: Beam, force: float, section: float) -> Plot:
    longest = 1.25 * beam.length
    chosen = next(code for code, bar in BARS.items() if bar is beam.material)
    order = [chosen, *(code for code in BARS if code != chosen)]
    lengths = evenly(0.0, longest, 61)
    errors = {code: _errors(lengths, force, BARS[code], section) for code in order}
    curves = tuple(
        Curve(BARS[code].words, lengths, errors[code], "main" if code == chosen else "other") for code in order
    )
    rows = evenly(0.25 * beam.length, longest, 9)
    columns = [_errors(rows, force, BARS[code], section) for code in order]
    here = columns[0][6]
    return Plot(
        key="by-stick-out",
        title="What a longer bar costs",
        description=Message(
            "How much smaller the bore comes out for each stick-out, for a bar of {bar} in three materials. It grows "
            "with the third power of the stick-out.",
            {"bar": Quantity(beam.diameter, DIAMETER)},
        ),
        x=Axis("Stick-out", LENGTH, "L", (0.0,)),
        y=Axis("Bore smaller by", DEFLECTION, "dD", (0.0,)),
        curves=curves,
        marks=(Mark(beam.length, here, Message("this bar")),),
        caption="Bore smaller by, for each stick-out",
        columns=(Column("Stick-out", LENGTH), *(Column(BARS[code].words, DEFLECTION) for code in order)),
        rows=tuple(zip(rows, *columns, strict=True)),
    )


def _errors(lengths: list[float], force: float, bar: BarMaterial, section: float) -> list[float]:
    given_way = vectorised(deflection_in_chuck)(force, np.array(lengths), bar.modulus, section)
    found: list[float] = vectorised(diameter_error)(given_way).tolist()
    return found


_LEAST = (
    "The holder is taken as rigid: it deflects too, and then everything here is larger and the frequency lower. "
    "Moduli are data sheet values, from memory."
)
_WITH_SPRING = (
    "The holder deflects as much as its stiffness says; the turret and the slide do too, and then everything here is "
    "larger. Moduli are data sheet values, from memory."
)
_BEYOND = (
    "The bore comes out {error} smaller, more than the {allowed} allowed: take a lighter last cut, a stiffer bar, or "
    "cut it twice at the same setting."
)
_TOO_THICK = "A bar of {bar} does not go into a bore of {bore}: take a thinner one."

FEATURE = Feature(
    path="speed-feed/bar-deflection",
    page="/bar",
    title="Boring bar stiffness",
    summary="How far a bar deflects under the cut, what that does to the bore, and how far it may stick out.",
    solve=solve,
    supporting=("deflection", "stiffness", "longest", "frequency"),
    example={
        "tool_bar_diameter": "16",
        "stick_out": "56",
        "passive_force": "150",
        "tangential_force": "400",
        "bore_diameter": "24",
    },
)
