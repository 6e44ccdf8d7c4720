"""The boring bar of a hole: its passes over what the drill has left, each by the question of a boring cut."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from calc.answer.feature import Answer
from calc.cutting.materials import Material
from calc.cutting.pecking import retract_time
from calc.cutting.starting import starting_cut
from calc.language.messages import Caution, Phrase
from calc.language.problems import Problem
from calc.language.quantities import Count, Length, Time
from calc.language.working import formula
from calc.questions.operations import boring_cut
from calc.questions.operations.boring_cut import BoringInputs, BoringResults
from calc.questions.operations.drilling import APPROACH
from calc.questions.operations.hole.drilled import Sized
from calc.questions.operations.hole.fields import HoleInputs, ToolRow
from calc.threads.run import USUAL_RAPID

USUAL_NOSE = 0.4  # mm, of boring inserts; common practice, no source
OWN_FIELDS = {"feed": "bore_feed", "depth": "left_for_finish", "bore_length": "hole_depth"}
MACHINE = (
    "load",
    "base_rpm",
    "grip_force",
    "max_rpm",
    "feed",
)  # what of the cut's own cautions is not on this page yet


@dataclass(frozen=True, slots=True)
class Bored:
    """The bar's cut as it was asked, how many passes of it, and the time of all with their retracts [min]."""

    asked: BoringInputs
    answer: Answer[BoringResults]
    passes: int
    time: float

    def cautions(self) -> Iterator[Caution]:
        """What of the cut is held against machine, chuck and feed, at the fields of this page."""
        for caution in self.answer.cautions:
            if caution.about in MACHINE:
                about = "bore_feed" if caution.about == "feed" else caution.about
                yield Caution(caution.message, caution.severity, about)


@formula(source="as many equal passes as keep the depth", means="passes of the boring bar", result="N_b")
def boring_passes(c_s: Length, a_b: Length) -> Count:
    """Passes that take `c_s` [mm per side] with at most `a_b` [mm] each. Source: counting.

    >>> boring_passes(0.75, 0.8), boring_passes(2.0, 0.8)
    (1, 3)
    """
    return ceil(c_s / a_b - 1e-9)


@formula(source="in cut and back out, each pass", means="time of the boring bar", result="t_b")
def boring_time(N_b: Count, t: Time, t_r: Time) -> Time:
    """Time [min] of `N_b` passes of `t` [min] in cut and `t_r` [min] back out. Source: sum.

    >>> boring_time(2, 0.25, 0.01)
    0.52
    """
    return N_b * (t + t_r)


def bored(inputs: HoleInputs, work: Material, size: Sized) -> Bored | None:
    """The boring of what the drill leaves; None where the hole is not bored. Raises what a boring cut raises.

    >>> from calc.cutting.materials import material
    >>> hole = HoleInputs(material="C45", bore_diameter=25.0, hole_depth=40.0, finished="bored")
    >>> bored(hole, material("C45"), Sized(23.5, 40.0, 1.5)).passes
    1
    """
    if inputs.finished != "bored" or inputs.bore_diameter is None or size.left is None:
        return None
    nose = USUAL_NOSE if inputs.bar.nose_radius is None else inputs.bar.nose_radius
    start = starting_cut(work, "bore", nose)
    if start is None:
        return None
    per_side = size.left / 2
    passes = boring_passes(per_side, start.depth.high)
    behind = APPROACH if inputs.through == "through" else 0.0
    floor = inputs.bore_diameter / 2 if inputs.bottom == "flat" and inputs.through == "blind" else 0.0
    length = APPROACH + inputs.hole_depth + behind
    asked = BoringInputs(
        material=inputs.material,
        bore_diameter=inputs.bore_diameter,
        depth=per_side / passes,
        feed=start.feed.usual if inputs.bar.bore_feed is None else inputs.bar.bore_feed,
        nose_radius=nose,
        bore_length=length + floor,
        machine=inputs.machine,
        work=inputs.work,
    )
    try:
        answer = boring_cut.solve(asked)
    except Problem as problem:
        raise problem.renamed(lambda name: OWN_FIELDS.get(name, name)) from problem
    rapid = USUAL_RAPID if inputs.peck.rapid_rate is None else inputs.peck.rapid_rate
    back = retract_time.at("of the bar")(length, rapid)
    return Bored(asked, answer, round(passes), boring_time(passes, answer.results.in_cut, back))


def bar_row(done: Bored, deep: float) -> ToolRow:
    """The boring bar as a row of the tools, `deep` [mm].

    >>> from calc.cutting.materials import material
    >>> hole = HoleInputs(material="C45", bore_diameter=25.0, hole_depth=40.0, finished="bored")
    >>> bar_row(bored(hole, material("C45"), Sized(23.5, 40.0, 1.5)), 40.0).tool
    'Boring bar'
    """
    found = done.answer.results
    return ToolRow(
        tool="Boring bar" if done.passes == 1 else Phrase("Boring bar, {passes} passes", passes=done.passes),
        diameter=done.asked.bore_diameter,
        tip_depth=deep,
        rpm=found.rpm,
        feed=done.asked.feed,
        torque=found.torque,
        power=found.power,
        time=done.time,
    )
