"""The drill of a hole: how large and deep it goes for the finish that follows, its pecks, and how long it takes."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi, radians
from typing import NamedTuple

from calc.answer.feature import Answer
from calc.cutting.drilling import USUAL_POINT, point_length
from calc.cutting.holes import (
    bore_allowance,
    drill_before_boring,
    drill_before_reaming,
    drill_below,
    peck_rule,
    ream_allowance,
)
from calc.cutting.materials import Material
from calc.cutting.pecking import Peck, gap_time, pecks, pecks_with_retracts, rapid_length, retract_time
from calc.language.messages import Message, Quantity, Value
from calc.language.problems import Contradiction, Fault, Impossible, Missing, Problem
from calc.language.quantities import DIAMETER, LENGTH
from calc.questions.operations import drilling
from calc.questions.operations.drilling import APPROACH, DrillingInputs, DrillingResults
from calc.questions.operations.hole.fields import HoleInputs
from calc.questions.shapes.drill_point import full_depth, through_depth, total_depth
from calc.questions.threads import tapping
from calc.questions.threads.tapping import TappingInputs, TappingResults
from calc.threads.run import USUAL_RAPID

POINTS = {"HSS": USUAL_POINT, "coated carbide": radians(140.0), "indexable": pi}  # common practice, no source
RUN_OUT = 2.0  # mm deeper than the finished depth, for the lead of a reamer and chips; common practice, no source
FLOOR = 0.3  # mm left above a flat bottom for the boring bar; common practice, no source
GAP = 1.0  # mm above the last bottom, from where a returning drill is fed again; common practice, no source
MOST_PECKS = 200
SMALL = 1e-6  # mm
OF_THE_TAP = {"length": "hole_depth", "hole": "through", "drill": "drill_at_hand"}
"""The fields of the tapping question by which this one calls them."""


class Sized(NamedTuple):
    """The drill [mm]: its diameter, full-diameter depth, what it leaves on the diameter (None: nothing), the tap."""

    diameter: float
    full_depth: float
    left: float | None = None
    tapped: Answer[TappingResults] | None = None


@dataclass(frozen=True, slots=True)
class Drilled:
    """A drilled hole: the drill's own answer, its point angle [rad], depths [mm], pecks, time with retracts [min]."""

    answer: Answer[DrillingResults]
    diameter: float
    point: float
    full_depth: float
    tip_depth: float
    pecks: tuple[Peck, ...]
    back_by: float | None
    time: float


def point_of(inputs: HoleInputs) -> float:
    """The point angle [rad] of the drill, as given or as usual for its kind.

    >>> round(point_of(HoleInputs(material="C45", hole_depth=20.0)) * 180 / pi)
    118
    """
    return POINTS[inputs.drill.drill_material] if inputs.drill.drill_point is None else inputs.drill.drill_point


def sized(inputs: HoleInputs, work: Material) -> Sized:
    """The drill for the finish. Raises Missing, Contradiction; Impossible where nothing is left or no point fits.

    >>> from calc.cutting.materials import material
    >>> sized(HoleInputs(material="C45", bore_diameter=12.0, hole_depth=20.0, finished="reamed"), material("C45"))[:2]
    (11.7, 22.0)
    """
    if inputs.finished == "tapped":
        return _for_the_tap(inputs)
    finished, depth = inputs.bore_diameter, inputs.hole_depth
    if finished is None:
        raise Missing(Fault("bore_diameter", Message("Give the bore diameter.")))
    at_hand = inputs.drill.drill_at_hand
    if inputs.finished == "drilled":
        if at_hand is not None and abs(at_hand - finished) > SMALL:
            values = {"drill": Quantity(at_hand, DIAMETER), "hole": Quantity(finished, DIAMETER)}
            said = Message("A drill of {drill} does not make a hole of {hole}: ream or bore it afterwards.", values)
            raise Contradiction(Fault("drill_at_hand", said), fields=("drill_at_hand", "bore_diameter"))
        return Sized(finished, depth)
    drill = _before_the_finish(inputs, work, finished) if at_hand is None else at_hand
    if not 0.0 < drill < finished:
        values = {"drill": Quantity(drill, DIAMETER), "hole": Quantity(finished, DIAMETER)}
        said = Message("A drill of {drill} leaves nothing in a hole of {hole} to finish.", values)
        raise Impossible(Fault("drill_at_hand" if at_hand else "left_for_finish", said))
    return Sized(drill, _depth_before_the_finish(inputs, drill), finished - drill)


def _for_the_tap(inputs: HoleInputs) -> Sized:
    if not inputs.designation:
        raise Missing(Fault("designation", Message("Give the thread.")))
    question = TappingInputs(
        designation=inputs.designation,
        length=inputs.hole_depth,
        material=inputs.material,
        hole=inputs.through,
        drill=inputs.drill.drill_at_hand,
        machine=inputs.machine,
    )
    try:
        found = tapping.solve(question)
    except Problem as problem:
        raise problem.renamed(lambda name: OF_THE_TAP.get(name, name)) from problem
    return Sized(found.results.tap_drill, found.results.drill_depth, None, found)


def _before_the_finish(inputs: HoleInputs, work: Material, finished: float) -> float:
    """The largest drill on the shelf that leaves enough."""
    if inputs.finished == "reamed":
        left = ream_allowance(work.group, finished).usual if inputs.left_for_finish is None else inputs.left_for_finish
        return drill_below(drill_before_reaming(finished, left))
    per_side = bore_allowance(finished) if inputs.left_for_finish is None else inputs.left_for_finish / 2
    return drill_below(drill_before_boring(finished, per_side))


def _depth_before_the_finish(inputs: HoleInputs, drill: float) -> float:
    """How deep the drill goes at full diameter so that the finish reaches its depth."""
    depth = inputs.hole_depth
    if inputs.through == "through":
        return depth
    if inputs.finished == "bored" and inputs.bottom == "flat":
        deep = full_depth(depth - FLOOR, point_length(drill, point_of(inputs)))
        if deep <= 0.0:
            values = {"depth": Quantity(depth, LENGTH), "drill": Quantity(drill, DIAMETER)}
            said = Message(
                "The point of a drill of {drill} does not fit above a flat bottom at {depth}: take a flatter point "
                "or a smaller drill.",
                values,
            )
            raise Impossible(Fault("hole_depth", said))
        return deep
    return depth + RUN_OUT


def drilled(inputs: HoleInputs, work: Material, size: Sized) -> Drilled:
    """The main drill's work. Raises Missing where the material has no starting speed, OutOfRange.

    >>> from calc.cutting.materials import material
    >>> hole = HoleInputs(material="C45", bore_diameter=10.0, hole_depth=60.0)
    >>> found = drilled(hole, material("C45"), Sized(10.0, 60.0))
    >>> [round(peck.deep, 2) for peck in found.pecks]
    [25.0, 9.5, 9.5, 9.5, 9.5]
    """
    asked = _question(inputs, size.diameter, size.full_depth, point_of(inputs))
    return pecked(inputs, work, asked)


def piloted(inputs: HoleInputs, work: Material, diameter: float, deep: float) -> Drilled:
    """The pilot's work, a drill of high-speed steel of `diameter` to the full-diameter depth `deep` [mm].

    >>> from calc.cutting.materials import material
    >>> hole = HoleInputs(material="C45", bore_diameter=40.0, hole_depth=60.0)
    >>> round(piloted(hole, material("C45"), 12.0, 60.0).tip_depth, 2)
    63.61
    """
    asked = DrillingInputs(
        material=inputs.material,
        drill_diameter=diameter,
        hole_depth=deep,
        through=inputs.through,
        machine=inputs.machine,
        work=inputs.work,
    )
    return pecked(inputs, work, asked)


def _question(inputs: HoleInputs, diameter: float, deep: float, point: float) -> DrillingInputs:
    return DrillingInputs(
        material=inputs.material,
        drill_diameter=diameter,
        hole_depth=deep,
        drill_material=inputs.drill.drill_material,
        through=inputs.through,
        feed=inputs.drill.feed,
        surface_speed=inputs.drill.surface_speed,
        point_angle=point,
        machine=inputs.machine,
        work=inputs.work,
    )


def pecked(inputs: HoleInputs, work: Material, asked: DrillingInputs) -> Drilled:
    """A drill's answer with its pecks and the time of its retracts; `asked` is the drilling question.

    >>> from calc.cutting.materials import material
    >>> hole = HoleInputs(material="C45", bore_diameter=10.0, hole_depth=20.0)
    >>> len(pecked(hole, material("C45"), DrillingInputs(material="C45", drill_diameter=10.0, hole_depth=20.0)).pecks)
    1
    """
    try:
        answer = drilling.solve(asked)
    except Problem as problem:
        raise problem.renamed(lambda name: _field(inputs, asked, name)) from problem
    found, d = answer.results, asked.drill_diameter
    behind = APPROACH if inputs.through == "through" else 0.0
    point = found.point_height
    tip = through_depth(asked.hole_depth, point, behind) if behind else total_depth(asked.hole_depth, point)
    ends, back_by = _pecks(inputs, work, asked, tip)
    done = pecks_with_retracts(ends, back_by)
    rapid = USUAL_RAPID if inputs.peck.rapid_rate is None else inputs.peck.rapid_rate
    time = found.time + retract_time(rapid_length(done, GAP, APPROACH), rapid)
    if len(done) > 1:
        time += gap_time(len(done) - 1, min(GAP, back_by or GAP), found.feed, found.rpm)
    angle = POINTS["HSS"] if asked.point_angle is None else asked.point_angle
    return Drilled(answer, d, angle, asked.hole_depth, tip, done, back_by, time)


def _field(inputs: HoleInputs, asked: DrillingInputs, name: str) -> str:
    """The field of this question from which a field of the drilling question comes."""
    if name == "point_angle":
        return "drill_point"
    if name != "drill_diameter":
        return name
    if asked.drill_diameter == inputs.drill.pilot_diameter:
        return "pilot_diameter"
    return "bore_diameter" if inputs.drill.drill_at_hand is None else "drill_at_hand"


def _pecks(
    inputs: HoleInputs, work: Material, asked: DrillingInputs, tip: float
) -> tuple[tuple[float, ...], float | None]:
    """The depths of the pecks, and how far the drill goes back after each; None is out of the hole."""
    wanted, d = inputs.peck, asked.drill_diameter
    rule = peck_rule(asked.drill_material, work.group, flooded=wanted.coolant == "through")
    asked_for = wanted.first_peck is not None or wanted.following_peck is not None or wanted.retract in ("out", "break")
    if wanted.retract == "none" or not (asked_for or asked.hole_depth > rule.deep * d):
        return (tip,), None
    following = rule.following * d if wanted.following_peck is None else wanted.following_peck
    first = max(rule.first * d, following) if wanted.first_peck is None else wanted.first_peck
    if (tip - first) / following > MOST_PECKS:
        values: dict[str, Value] = {
            "most": MOST_PECKS,
            "depth": Quantity(tip, LENGTH),
            "peck": Quantity(following, LENGTH),
        }
        said = Message("Pecks of {peck} down to {depth} would be more than {most}: make them deeper.", values)
        raise Impossible(Fault("following_peck", said))
    by_kind = wanted.retract or ("out" if asked.drill_material == "HSS" else "break")
    return pecks(tip, first, following), wanted.break_by if by_kind == "break" else None
