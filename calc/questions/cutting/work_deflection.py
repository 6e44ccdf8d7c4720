"""Work that deflects under the tool: the taper or the barrel that results along it, and how fast it rings."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from calc.answer.feature import Answer, Feature
from calc.answer.plotting import Axis, Column, Curve, Level, Mark, Plot, evenly
from calc.cutting import nouns, sections
from calc.cutting.limits import overhang_cautions
from calc.cutting.section_rows import SectionRow, sections_of
from calc.cutting.sections import deflection_of_sections, stiffness_at
from calc.cutting.stiffness import (
    WORK,
    Beam,
    Elastic,
    Held,
    WorkOf,
    deflection,
    deflection_between_centres,
    deflection_in_chuck,
    deflection_with_tailstock,
    diameter_error,
    stiffness,
    weakest_place,
)
from calc.language.checks import require, require_wall
from calc.language.fields import Declared, choice, given, result, rows, word
from calc.language.kinds import DEFLECTION, FREQUENCY, STIFFNESS
from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.quantities import DIAMETER, LENGTH, PRESSURE, RATIO
from calc.language.working.vectorised import vectorised

HELD: dict[Held, str] = {
    "chuck": "in the chuck alone",
    "tailstock": "chuck and tailstock",
    "centres": "between centres",
}
SHAPES: dict[Held, str] = {
    "chuck": "taper, larger toward the free end",
    "tailstock": "barrel, largest beyond the middle",
    "centres": "barrel, largest in the middle",
}
LONGEST_SUPPORTED = 10.0  # length over diameter with a tailstock or between centres; common practice, no source


class WorkInputs(Declared):
    """The work, how it is held, the force that pushes it away."""

    held: Held = nouns.HELD.chosen()
    work_diameter: float = nouns.WORK_DIAMETER.needed(symbol="D")
    length_out: float = nouns.LENGTH_OUT.needed(symbol="L", hint="out of the chuck, or between the centres")
    passive_force: float = nouns.PASSIVE_FORCE.needed(
        hint="square to the axis; roughly a third to half the cutting force"
    )
    work_material: WorkOf = choice("Work", {code: work.words for code, work in WORK.items()}, "steel")
    tolerance: float | None = nouns.TOLERANCE.given()
    work_bore: float = given(DIAMETER, "Bore through it", "d", least=0.0, blank="solid", default=0.0)
    modulus: float | None = given(PRESSURE, "Modulus of elasticity", "E", above=0.0, blank="that of the material")
    chuck_stiffness: float | None = given(STIFFNESS, "Stiffness of chuck and spindle", "k_c", above=0.0, blank="rigid")
    centre_stiffness: float | None = given(STIFFNESS, "Stiffness of the centre", "k_t", above=0.0, blank="rigid")
    sections: tuple[SectionRow, ...] = rows(
        SectionRow, "Sections from the chuck", one="Section", hint="steps and tapers; none: one cylinder", most=20
    )


class WorkResults(Declared):
    """What the work does under the tool as it passes along."""

    diameter_error: float = result(DEFLECTION, "Work comes out larger by", "dD", hint="where it deflects most")
    place: float = result(LENGTH, "Distance from the chuck", "a")
    shape: str = word("Shape that results")
    deflection: float = result(DEFLECTION, "Work deflection", "δ")
    stiffness: float = result(STIFFNESS, "Stiffness there", "k")
    slenderness: float = result(RATIO, "Length over diameter", "L/D")
    frequency: float | None = result(FREQUENCY, "First natural frequency", "f_1", hint="of one cylinder, held hard")


def solve(inputs: WorkInputs) -> Answer[WorkResults]:
    """The shape that the work gets. Raises Missing, OutOfRange; Impossible for a bore that leaves no wall.

    >>> work = WorkInputs(held="centres", work_diameter=30.0, length_out=300.0, passive_force=500.0)
    >>> round(solve(work).results.deflection, 7)
    0.0336836
    """
    require(inputs)
    diameter, bore = inputs.work_diameter, inputs.work_bore
    require_wall("work_bore", bore, diameter)
    material = _material(inputs)
    beam = Beam(inputs.length_out, diameter, material, bore)
    force = inputs.passive_force
    section, sectioned = beam.section(), _sectioned(inputs, beam)
    if sectioned is None:
        place = weakest_place(beam, inputs.held)
        given_way = deflection(beam, force, place, inputs.held, section)
    else:
        place = sectioned.weakest(inputs.held)
        given_way = deflection_of_sections(force, stiffness_at(sectioned, place, inputs.held))
    results = WorkResults(
        diameter_error=diameter_error(given_way),
        place=place,
        shape=SHAPES[inputs.held],
        deflection=given_way,
        stiffness=stiffness(force, given_way),
        slenderness=beam.slenderness,
        frequency=None if sectioned else beam.frequency(inputs.held, section),
    )
    return Answer(
        results=results,
        headline="diameter_error",
        cautions=tuple(_cautions(inputs, beam, results)),
        notes=(Message(_LEAST if not (inputs.chuck_stiffness or inputs.centre_stiffness) else _WITH_SPRINGS),),
        plots=(_plot(inputs, beam, section, results, sectioned),),
    )


def _sectioned(inputs: WorkInputs, beam: Beam) -> sections.Work | None:
    """The work with its sections and the springs that hold it; None for one cylinder held hard.

    Raises Contradiction for sections that are not as long as the work, Impossible for a bore that leaves no wall.
    """
    if not (inputs.sections or inputs.chuck_stiffness or inputs.centre_stiffness):
        return None
    told = sections_of(inputs.sections, beam, "work", "sections", "length_out")
    return sections.Work(told, beam.material.modulus, inputs.chuck_stiffness, inputs.centre_stiffness)


def _material(inputs: WorkInputs) -> Elastic:
    found = WORK[inputs.work_material]
    return found if inputs.modulus is None else replace(found, modulus=inputs.modulus)


def _cautions(inputs: WorkInputs, beam: Beam, found: WorkResults) -> Iterator[Caution]:
    if inputs.held == "chuck":
        yield from overhang_cautions(beam.length, beam.diameter)
    elif beam.slenderness > LONGEST_SUPPORTED:
        values: dict[str, Value] = {"length": Quantity(beam.length, LENGTH), "ratio": f"{beam.slenderness:.1f}"}
        yield Caution(Message(_SLENDER, values), 2, "length_out")
    if inputs.tolerance is not None and found.diameter_error > inputs.tolerance:
        values = {
            "error": Quantity(found.diameter_error, DEFLECTION),
            "allowed": Quantity(inputs.tolerance, LENGTH),
        }
        yield Caution(Message(_BEYOND, values), 2, "diameter_error")


def errors_along(beam: Beam, force: float, held: Held, section: float, places: list[float]) -> list[float]:
    """What the diameter comes out larger by [mm] with the tool at each of `places` [mm from the chuck].

    >>> work = Beam(300.0, 30.0, WORK["steel"])
    >>> [round(error, 4) for error in errors_along(work, 500.0, "centres", work.section(), [0.0, 150.0, 300.0])]
    [0.0, 0.0674, 0.0]
    """
    at, modulus = np.array(places), beam.material.modulus
    if held == "chuck":
        given_way = vectorised(deflection_in_chuck)(force, at, modulus, section)
    else:
        supported = deflection_between_centres if held == "centres" else deflection_with_tailstock
        given_way = vectorised(supported)(force, at, beam.length, modulus, section)
    found: list[float] = vectorised(diameter_error)(given_way).tolist()
    return found


def _plot(inputs: WorkInputs, beam: Beam, section: float, found: WorkResults, sectioned: sections.Work | None) -> Plot:
    force, held = inputs.passive_force, inputs.held
    places = evenly(0.0, beam.length, 101)
    spots = sorted({*evenly(0.0, beam.length, 9), found.place})
    order: list[Held] = [held, *(other for other in HELD if other != held)]

    def along(way: Held, where: list[float]) -> list[float]:
        if sectioned is not None:
            return sections.errors(sectioned, force, way, where)
        return errors_along(beam, force, way, section, where)

    columns = [along(other, spots) for other in order]
    allowed = () if inputs.tolerance is None else (Level(inputs.tolerance, "y", Message("allowed")),)
    note = None if inputs.tolerance is None else Message("{t} is allowed.", {"t": Quantity(inputs.tolerance, LENGTH)})
    return Plot(
        key="along",
        title="Diameter along the work",
        description=Message(
            "How much larger the diameter comes out along the work, {held}: a {shape}.",
            {"held": HELD[held], "shape": found.shape},
        ),
        x=Axis("From the chuck", LENGTH, "a"),
        y=Axis("Diameter larger by", DEFLECTION, "dD", (0.0,)),
        curves=(Curve(HELD[held], places, along(held, places), "main"),),
        marks=(Mark(found.place, found.diameter_error, Message("largest")),),
        levels=allowed,
        caption="Diameter larger by, along the work, however it is held",
        columns=(Column("From the chuck", LENGTH), *(Column(HELD[other], DEFLECTION) for other in order)),
        rows=tuple(zip(spots, *columns, strict=True)),
        note=note,
    )


_LEAST = (
    "Chuck, centre and spindle are taken as rigid, and the tool too: they deflect as well, so take this as the "
    "least. Moduli are data sheet values, from memory."
)
_WITH_SPRINGS = (
    "The tool and what is taken as rigid deflect as well, so take this as the least. Moduli are data sheet values, "
    "from memory; the stiffness of chuck and centre is as given."
)
_SLENDER = (
    "{length} is {ratio} diameters: even supported at both ends it bends and may chatter. Use a steady rest, or a "
    "lighter cut and a smaller nose."
)
_BEYOND = (
    "The diameter comes out {error} larger where the work deflects most, more than the {allowed} allowed: take a "
    "lighter last cut, support it, or correct along the length."
)

FEATURE = Feature(
    path="speed-feed/work-deflection",
    page="/work-stiffness",
    title="Work stiffness",
    summary="How far the work deflects along its length, the taper or barrel that results, however it is held.",
    solve=solve,
    supporting=("place", "deflection", "stiffness", "frequency"),
    example={
        "held": "tailstock",
        "work_diameter": "24",
        "length_out": "110",
        "passive_force": "250",
        "tolerance": "0.01",
    },
)
