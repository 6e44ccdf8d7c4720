"""A centre hole for a point of 60 degrees: its sizes by form, its points, and what the tailstock must and may press."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from calc.answer.drawing import Dimension, Drawing
from calc.answer.feature import Answer, Feature
from calc.contour import Chain, Line, Point
from calc.language.checks import require
from calc.language.fields import Declared, choice, given, result, word
from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.quantities import DIAMETER, FORCE, LENGTH, PRESSURE, RADIUS
from calc.shapes.centre_hole_outline import Section, mean_arc, section
from calc.shapes.centre_holes import (
    FORMS,
    POINT,
    CentreForm,
    CentreHole,
    centre_holes,
    cone_pressure,
    force_to_keep,
    source,
)
from calc.shapes.listing import key_points

SAFETY = 2.0  # on the force that keeps the point in its hole; common practice, no source
PRESSED = 200.0  # N/mm2 on the cone that soft steel bears without being coined; common practice, no source
SMALL_PILOT = 2.0  # mm below which a centre drill breaks easily; common practice, no source
AROUND = 1.5  # of the rim: how much of the part is drawn


class CentreHoleInputs(Declared):
    """Form and size, and what the point has to carry."""

    centre_form: CentreForm = choice("Form", FORMS, "A")
    centre_size: str = choice("Size, the pilot's diameter in mm", {name: name for name in centre_holes()}, "4")
    radial_load: float | None = given(
        FORCE, "Radial load on the point", "F_r", above=0.0, hint="share of the weight and of the cutting force"
    )
    tailstock_force: float | None = given(FORCE, "Tailstock force", "F_a", above=0.0, hint="along the axis")


class CentreHoleResults(Declared):
    """The sizes to turn or drill, and the forces."""

    rim_diameter: float = result(DIAMETER, "Diameter at the face", "D")
    pilot_diameter: float = result(DIAMETER, "Pilot", "d")
    cone_diameter: float = result(DIAMETER, "Cone of 60° begins at", "D_2")
    cone_depth: float = result(LENGTH, "Depth of the cones", "l_c")
    pilot_length: float = result(LENGTH, "Pilot behind it, at least", "t")
    depth: float = result(LENGTH, "Depth, at least", "t_c", hint="without the drill's point")
    recess_diameter: float | None = result(DIAMETER, "Floor of the recess", "d_4")
    recess_depth: float | None = result(LENGTH, "Depth of the recess", "b", hint="its wall a cone of 60°")
    largest_arc: float | None = result(RADIUS, "Arc, largest")
    smallest_arc: float | None = result(RADIUS, "Arc, smallest")
    written: str = word("As written on a print")
    force_to_keep: float | None = result(
        FORCE, "Tailstock force, at least", "F_k", hint="twice what keeps the point in"
    )
    pressure: float | None = result(PRESSURE, "Mean pressure on the cone", "p")


def solve(inputs: CentreHoleInputs) -> Answer[CentreHoleResults]:
    """The centre hole. Raises OutOfRange.

    >>> found = solve(CentreHoleInputs(centre_form="B", centre_size="4")).results
    >>> found.rim_diameter, round(found.cone_depth, 2), found.written
    (12.5, 5.05, 'ISO 6411 - B 4/12.5')
    """
    require(inputs)
    size, form = centre_holes()[inputs.centre_size], inputs.centre_form
    cut = section(size, form)
    results = _results(inputs, size, cut)
    return Answer(
        results=results,
        headline="rim_diameter",
        points=key_points(cut.chain, cut.labels),
        contour=cut.chain,
        cautions=tuple(_cautions(inputs, size, results)),
        notes=(Message("Sizes: {source}.", {"source": source()}), *_notes(form, size)),
        drawing=partial(centre_sketch, size, cut),
    )


def _results(inputs: CentreHoleInputs, size: CentreHole, cut: Section) -> CentreHoleResults:
    form, rim = inputs.centre_form, 2 * cut.rim.r
    pressed = None
    if inputs.tailstock_force is not None and form != "R":
        pressed = cone_pressure(inputs.tailstock_force, size.cone, size.pilot)
    return CentreHoleResults(
        rim_diameter=rim,
        pilot_diameter=size.pilot,
        cone_diameter=size.cone,
        cone_depth=cut.before + cut.seat,
        pilot_length=size.pilot_length,
        depth=cut.before + cut.seat + size.pilot_length,
        recess_diameter=size.recess_floor if form == "C" else None,
        recess_depth=size.recess_depth if form == "C" else None,
        largest_arc=size.largest_arc if form == "R" else None,
        smallest_arc=size.smallest_arc if form == "R" else None,
        written=f"{'DIN 332' if form == 'C' else 'ISO 6411'} - {form} {size.pilot:g}/{rim:g}",
        force_to_keep=None if inputs.radial_load is None else force_to_keep(SAFETY, inputs.radial_load, POINT),
        pressure=pressed,
    )


def centre_sketch(size: CentreHole, cut: Section) -> Drawing:
    """The section of the hole as it is `cut`.

    >>> centre_sketch(centre_holes()["4"], section(centre_holes()["4"], "C")).title
    'The centre hole'
    """
    rim, pilot = cut.rim, Point(-cut.before - cut.seat, size.pilot / 2)
    outside = Point(0.0, AROUND * rim.r)
    return Drawing(
        title="The centre hole",
        description="Section with the axis across the page; the hole goes in from the right.",
        part=Chain((Line(outside, rim), *cut.chain)),
        bar_radius=outside.r,
        dimensions=(
            Dimension("diameter", rim, rim.mirrored(), 2 * rim.r, DIAMETER, "rim_diameter", "D"),
            Dimension("diameter", pilot, pilot.mirrored(), size.pilot, DIAMETER, "pilot_diameter", "d"),
            Dimension("length", pilot, rim, cut.before + cut.seat, LENGTH, "cone_depth", "l_c"),
        ),
    )


def _notes(form: str, size: CentreHole) -> Iterator[Message]:
    if form == "R":
        yield Message(_ARC, {"radius": Quantity(mean_arc(size), RADIUS)})
    if not size.preferred:
        yield Message("The standard prefers other sizes: a drill for this one may be hard to find.")


def _cautions(inputs: CentreHoleInputs, size: CentreHole, found: CentreHoleResults) -> Iterator[Caution]:
    force, keep = inputs.tailstock_force, found.force_to_keep
    if force is not None and keep is not None and force < keep:
        values: dict[str, Value] = {"force": Quantity(force, FORCE), "keep": Quantity(keep, FORCE)}
        yield Caution(Message(_COMES_OUT, values), 3, "tailstock_force")
    if found.pressure is not None and found.pressure > PRESSED:
        values = {"pressure": Quantity(found.pressure, PRESSURE), "most": Quantity(PRESSED, PRESSURE)}
        yield Caution(Message(_PRESSED, values), 2, "pressure")
    if size.pilot < SMALL_PILOT:
        yield Caution(Message(_SMALL, {"pilot": Quantity(size.pilot, DIAMETER)}), 1, "centre_size")


_ARC = (
    "The arc is drawn with {radius}, the middle of what the standard allows, touching the point's cone midway between "
    "rim and pilot: it lets the point stand a little askew, and carries it on a line."
)
_COMES_OUT = (
    "A tailstock force of {force} is less than the {keep} that keeps the point in its hole under this load: the work "
    "may climb out. Press harder, never above what centre and tailstock are marked for, or cut less."
)
_PRESSED = (
    "The cone bears {pressure}, more than about {most}: soft steel is coined and the work runs out. Take a larger "
    "centre hole or press less."
)
_SMALL = "A centre drill with a pilot of {pilot} breaks easily: run it fast, feed it gently, and clear its chips."

FEATURE = Feature(
    path="geometry/centre-hole",
    title="Centre hole",
    summary="Sizes of a centre hole of ISO 6411, forms A, B, C and R, and the tailstock force that keeps the work in.",
    solve=solve,
    page="/centre-hole",
    supporting=("pilot_diameter", "cone_depth", "depth", "force_to_keep"),
    example={"centre_form": "B", "centre_size": "4", "radial_load": "1500", "tailstock_force": "3000"},
)
