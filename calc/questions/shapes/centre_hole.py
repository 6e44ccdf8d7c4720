"""A centre hole for a point of 60 degrees: its sizes by form, its points, and what the tailstock must and may press."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from itertools import pairwise
from math import radians

from calc.answer.drawing import Dimension, Drawing
from calc.answer.feature import Answer, Feature
from calc.contour import Chain, Line, Point
from calc.cutting.drilling import point_height
from calc.language.checks import require
from calc.language.fields import choice, given, result, word
from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.quantities import DIAMETER, FORCE, LENGTH, PRESSURE, RADIUS
from calc.shapes.centre_holes import (
    POINT,
    PROTECTING,
    CentreHole,
    centre_holes,
    cone_depth,
    cone_pressure,
    force_to_keep,
    source,
)
from calc.shapes.listing import key_points

FORMS = {"A": "A, plain", "B": "B, with a protecting cone", "R": "R, with an arc"}
SAFETY = 2.0  # on the force that keeps the point in its hole; common practice, no source
PRESSED = 200.0  # N/mm2 on the cone that soft steel bears without being coined; common practice, no source
DRILL = radians(118.0)  # point of a centre drill; common practice, no source
SMALL_PILOT = 2.0  # mm below which a centre drill breaks easily; common practice, no source
AROUND = 1.5  # of the rim: how much of the part is drawn


@dataclass(frozen=True, kw_only=True)
class CentreHoleInputs:
    """Form and size, and what the point has to carry."""

    centre_form: str = choice("Form", FORMS, "A")
    centre_size: str = choice("Size, the pilot's diameter in mm", {name: name for name in centre_holes()}, "4")
    radial_load: float | None = given(
        FORCE, "Radial load on the point", "F_r", above=0.0, hint="share of the weight and of the cutting force"
    )
    tailstock_force: float | None = given(FORCE, "Tailstock force", "F_a", above=0.0, hint="along the axis")


@dataclass(frozen=True, kw_only=True)
class CentreHoleResults:
    """The sizes to turn or drill, and the forces."""

    rim_diameter: float = result(DIAMETER, "Diameter at the face", "D")
    pilot_diameter: float = result(DIAMETER, "Pilot", "d")
    cone_diameter: float = result(DIAMETER, "Cone of 60° begins at", "D_2")
    cone_depth: float | None = result(LENGTH, "Depth of the cones", "l_c")
    pilot_length: float = result(LENGTH, "Pilot behind it, at least", "t")
    depth: float = result(LENGTH, "Depth, at least", "t_c", hint="without the drill's point")
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
    point = cone_depth(size.cone, size.pilot, POINT)
    protecting = (
        cone_depth.at("protecting", result="l_p")(size.protected, size.cone, PROTECTING) if form == "B" else 0.0
    )
    rim = size.protected if form == "B" else size.cone
    keep = None if inputs.radial_load is None else force_to_keep(SAFETY, inputs.radial_load, POINT)
    pressed = None
    if inputs.tailstock_force is not None and form != "R":
        pressed = cone_pressure(inputs.tailstock_force, size.cone, size.pilot)
    results = CentreHoleResults(
        rim_diameter=rim,
        pilot_diameter=size.pilot,
        cone_diameter=size.cone,
        cone_depth=None if form == "R" else protecting + point,
        pilot_length=size.pilot_length,
        depth=protecting + point + size.pilot_length,
        largest_arc=size.largest_arc if form == "R" else None,
        smallest_arc=size.smallest_arc if form == "R" else None,
        written=f"ISO 6411 - {form} {size.pilot:g}/{rim:g}",
        force_to_keep=keep,
        pressure=pressed,
    )
    chain = _chain(size, protecting, point)
    labels = (*(["rim"] if protecting else []), "cone begins", "pilot begins", "pilot ends", "tip")
    return Answer(
        results=results,
        headline="rim_diameter",
        points=() if form == "R" else key_points(chain, labels),
        contour=None if form == "R" else chain,
        cautions=tuple(_cautions(inputs, size, results)),
        notes=(Message("Sizes: {source}.", {"source": source()}), *_notes(form, size)),
        drawing=partial(centre_sketch, size, protecting, point),
    )


def _chain(size: CentreHole, protecting: float, point: float) -> Chain:
    """From the rim to the tip; form R is drawn with the cone that its arc touches."""
    spots = [Point(0.0, size.protected / 2)] if protecting else []
    spots.append(Point(-protecting, size.cone / 2))
    cone_end = -protecting - point
    pilot_end = cone_end - size.pilot_length
    spots += [Point(cone_end, size.pilot / 2), Point(pilot_end, size.pilot / 2)]
    spots.append(Point(pilot_end - point_height.function(size.pilot, DRILL), 0.0))
    return Chain(tuple(Line(here, there) for here, there in pairwise(spots)))


def centre_sketch(size: CentreHole, protecting: float, point: float) -> Drawing:
    """The section of the hole; `protecting` and `point` are the depths of its cones [mm].

    >>> centre_sketch(centre_holes()["4"], 0.0, 3.897).title
    'The centre hole'
    """
    chain = _chain(size, protecting, point)
    outside = Point(0.0, AROUND * chain.start.r)
    rim, pilot = chain.start, Point(-protecting - point, size.pilot / 2)
    return Drawing(
        title="The centre hole",
        description="Section with the axis across the page; the hole goes in from the right.",
        part=Chain((Line(outside, rim), *chain)),
        bar_radius=outside.r,
        dimensions=(
            Dimension("diameter", rim, rim.mirrored(), 2 * rim.r, DIAMETER, "rim_diameter", "D"),
            Dimension("diameter", pilot, pilot.mirrored(), size.pilot, DIAMETER, "pilot_diameter", "d"),
            Dimension("length", pilot, rim, protecting + point, LENGTH, "cone_depth", "l_c"),
        ),
    )


def _notes(form: str, size: CentreHole) -> Iterator[Message]:
    if form == "R":
        yield Message("Drawn with the cone that the arc touches: an arc lets the point stand a little askew.")
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
    summary="Sizes of a centre hole of ISO 6411, forms A, B and R, and the tailstock force that keeps the work in.",
    inputs=CentreHoleInputs,
    results=CentreHoleResults,
    solve=solve,
    page="/centre-hole",
    supporting=("pilot_diameter", "cone_depth", "depth", "force_to_keep"),
    example={"centre_form": "B", "centre_size": "4", "radial_load": "1500", "tailstock_force": "3000"},
)
