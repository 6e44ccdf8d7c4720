"""A thin ring in the chuck: how far jaws press it out of round, by their number, and the grip that keeps it round."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from calc.answer.drawing import Dimension, Drawing
from calc.answer.feature import Answer, Feature, Rows
from calc.contour import Chain, Line, Point
from calc.cutting import nouns
from calc.cutting.rings import (
    bending_stress,
    bulges_out,
    force_of_a_jaw,
    half_spacing,
    mean_radius,
    out_of_round,
    pressed_in,
    ring_section,
)
from calc.cutting.stiffness import WORK, WorkOf
from calc.language.checks import require, require_wall
from calc.language.fields import Declared, choice, given, needed, result
from calc.language.kinds import DEFLECTION
from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.problems import Fault, Impossible
from calc.language.quantities import COUNT, DIAMETER, FORCE, LENGTH, PRESSURE, RATIO

THICK = 0.2  # wall over mean radius above which a ring is no longer thin; Roark's asks for a tenth to be exact
USUAL_JAWS = 3.0
COMPARED = (2.0, 3.0, 4.0, 6.0, 8.0, 12.0)  # jaws
YIELDS = 200.0  # N/mm2 at which soft metals begin to yield; common practice, no source


class ThinRingInputs(Declared):
    """The ring, its jaws and their grip."""

    outer_diameter: float = nouns.OUTER_DIAMETER.needed()
    ring_bore: float = needed(DIAMETER, "Bore of the ring", "D_2", above=0.0)
    ring_width: float = needed(LENGTH, "Width of the ring", "L", above=0.0, hint="along the axis, as far as it is held")
    grip_force: float = nouns.GRIP_FORCE.needed()
    jaw_count: float | None = given(COUNT, "Jaws", "i", least=2.0, most=12.0, blank="3")
    roundness: float | None = given(LENGTH, "Roundness allowed", above=0.0, hint="radial, for a caution and a grip")
    work_material: WorkOf = choice("Work", {code: work.words for code, work in WORK.items()}, "steel")
    modulus: float | None = given(PRESSURE, "Modulus of elasticity", "E", above=0.0, blank="that of the material")


class JawRow(Declared):
    """The same grip shared by so many jaws."""

    jaws: float = result(COUNT, "Jaws")
    out_of_round: float = result(DEFLECTION, "Out of round")
    share: float = result(RATIO, "Against three jaws")


class ThinRingResults(Declared):
    """What the grip does to the ring."""

    out_of_round: float = result(DEFLECTION, "Out of round, radial", "δ_r", hint="of what is turned round in the jaws")
    pressed_in: float = result(DEFLECTION, "Pressed in at each jaw", "δ_i")
    bulges_out: float = result(DEFLECTION, "Bulges between jaws", "δ_o")
    force_of_a_jaw: float = result(FORCE, "Force of each jaw", "W")
    bending_stress: float = result(PRESSURE, "Bending stress at a jaw", "σ_b")
    grip_for_roundness: float | None = result(
        FORCE, "Grip that keeps it round", hint="all jaws, for the roundness given"
    )


@dataclass(frozen=True, slots=True)
class _Ring:
    radius: float
    section: float
    modulus: float

    def error(self, force: float, jaws: float) -> tuple[float, float]:
        """How far it is pressed in and bulges out [mm] under `jaws` with `force` [N] each."""
        theta = half_spacing(jaws)
        given_way = (force, self.radius, self.modulus, self.section, theta)
        return pressed_in(*given_way), bulges_out(*given_way)

    def error_of(self, grip: float, jaws: float) -> float:
        """The same together for a `grip` of all jaws [N], not in the working."""
        theta = half_spacing.function(jaws)
        given_way = (grip / jaws, self.radius, self.modulus, self.section, theta)
        return pressed_in.function(*given_way) + bulges_out.function(*given_way)


def solve(inputs: ThinRingInputs) -> Answer[ThinRingResults]:
    """The ring under its jaws. Raises Missing, OutOfRange; Impossible for a bore that leaves no wall.

    >>> ring = ThinRingInputs(outer_diameter=100.0, ring_bore=90.0, ring_width=20.0, grip_force=6000.0)
    >>> round(solve(ring).results.out_of_round, 4)
    0.1479
    """
    require(inputs)
    outer, bore = inputs.outer_diameter, inputs.ring_bore
    require_wall("ring_bore", bore, outer)
    jaws = USUAL_JAWS if inputs.jaw_count is None else inputs.jaw_count
    if jaws != round(jaws):
        raise Impossible(Fault("jaw_count", Message("The number of jaws must be a whole one.")))
    modulus = WORK[inputs.work_material].modulus if inputs.modulus is None else inputs.modulus
    ring = _Ring(mean_radius(outer, bore), ring_section(inputs.ring_width, outer, bore), modulus)
    force = force_of_a_jaw(inputs.grip_force, jaws)
    inward, outward = ring.error(force, jaws)
    error = out_of_round(inward, outward)
    wall = (outer - bore) / 2
    stress = bending_stress(force, ring.radius, inputs.ring_width, wall, half_spacing(jaws))
    results = ThinRingResults(
        out_of_round=error,
        pressed_in=inward,
        bulges_out=outward,
        force_of_a_jaw=force,
        bending_stress=stress,
        grip_for_roundness=None if inputs.roundness is None else inputs.grip_force * inputs.roundness / error,
    )
    return Answer(
        results=results,
        headline="out_of_round",
        tables={"by_jaws": tuple(_rows(ring, inputs.grip_force))},
        cautions=tuple(_cautions(inputs, results, wall / ring.radius)),
        notes=(Message(_ASSUMED),),
        drawing=partial(ring_sketch, outer, bore, inputs.ring_width),
    )


def _rows(ring: _Ring, grip: float) -> Iterator[JawRow]:
    three = ring.error_of(grip, USUAL_JAWS)
    for jaws in COMPARED:
        error = ring.error_of(grip, jaws)
        yield JawRow(jaws=jaws, out_of_round=error, share=error / three)


def _cautions(inputs: ThinRingInputs, found: ThinRingResults, slender: float) -> Iterator[Caution]:
    values: dict[str, Value] = {"error": Quantity(found.out_of_round, DEFLECTION)}
    if inputs.roundness is not None and found.out_of_round > inputs.roundness:
        values["allowed"] = Quantity(inputs.roundness, LENGTH)
        if found.grip_for_roundness is not None:
            values["grip"] = Quantity(found.grip_for_roundness, FORCE)
        yield Caution(Message(_NOT_ROUND, values), 2, "out_of_round")
    if found.bending_stress > YIELDS:
        values["stress"] = Quantity(found.bending_stress, PRESSURE)
        yield Caution(Message(_YIELDS, values), 2, "bending_stress")
    if slender > THICK:
        values["ratio"] = f"{slender:.2f}"
        yield Caution(Message(_THICK, values), 1, "ring_bore")
    yield Caution(Message(_LOW_GRIP), 2, "grip_force")


def ring_sketch(outer: float, bore: float, width: float) -> Drawing:
    """The ring in section, of the `outer` diameter, `bore` and `width` [mm].

    >>> ring_sketch(100.0, 90.0, 20.0).hole_radius
    45.0
    """
    far, near = Point(-width, outer / 2), Point(0.0, outer / 2)
    inner = Point(0.0, bore / 2)
    return Drawing(
        title="The ring",
        description="Section with the axis across the page.",
        part=Chain((Line(far, near), Line(near, inner))),
        bar_radius=outer / 2,
        hole_radius=bore / 2,
        dimensions=(
            Dimension("diameter", near, near.mirrored(), outer, DIAMETER, "outer_diameter", "D_1"),
            Dimension("diameter", inner, inner.mirrored(), bore, DIAMETER, "ring_bore", "D_2"),
            Dimension("length", far, near, width, LENGTH, "ring_width", "L"),
        ),
    )


_ASSUMED = (
    "Each jaw presses on one line over the whole width of the ring; narrower jaws press harder there, soft jaws bored "
    "to the ring's own diameter and reaching far around it much less. What was turned round while it was held springs "
    "out by this; what was round before is out by it while held. Thin rings by Roark's Formulas for Stress and Strain."
)
_NOT_ROUND = (
    "The ring comes out {error} out of round, {allowed} is allowed: grip with no more than {grip} if that still holds "
    "the cut, share it among more jaws, or hold the ring by its end."
)
_YIELDS = "A bending stress of {stress} may leave soft metal bent for good: grip less or share it among more jaws."
_THICK = "The wall is {ratio} of the mean radius: this is no thin ring, and the result is only roughly right."
_LOW_GRIP = (
    "A grip that is low enough for a thin ring may be too low for the cut, and falls with speed: check it on the "
    "page for the grip against what the cut needs, before the spindle runs."
)

FEATURE = Feature(
    path="speed-feed/thin-ring",
    title="Thin ring in the chuck",
    summary="How far three, six or more jaws press a thin ring out of round, and the grip that keeps it round.",
    solve=solve,
    page="/thin-ring",
    rows={"by_jaws": Rows(JawRow, "The same grip on more jaws", "")},
    supporting=("force_of_a_jaw", "pressed_in", "bulges_out", "grip_for_roundness"),
    blank=ring_sketch(60.0, 50.0, 20.0).with_symbols_only(),
    example={
        "outer_diameter": "100",
        "ring_bore": "90",
        "ring_width": "20",
        "grip_force": "6000",
        "roundness": "0.02",
    },
)
