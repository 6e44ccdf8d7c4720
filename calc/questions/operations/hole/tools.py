"""The other tools of a hole: spot, pilot, reamer, countersink, counterbore, each with its speed, feed and time."""

from __future__ import annotations

from collections.abc import Iterator
from math import radians

from calc.cutting.drilling import drilling_time, point_length, starting_feed
from calc.cutting.holes import pilot_for, runs
from calc.cutting.machine import limited_rpm
from calc.cutting.materials import Material
from calc.cutting.pecking import retract_time
from calc.cutting.speed import spindle_speed
from calc.cutting.tools import habits
from calc.questions.operations.drilling import APPROACH
from calc.questions.operations.hole.bored import Bored, bar_row
from calc.questions.operations.hole.drilled import Drilled, Sized, piloted
from calc.questions.operations.hole.fields import HoleInputs, ToolRow
from calc.threads.run import USUAL_RAPID
from calc.threads.thread import thread_of

SPOT_ANGLE = radians(90.0)  # common practice, no source
SPOT_SHARE = 0.5  # of the drill: wider than its chisel edge; common practice, no source
SLOWEST_STEP = "HSS"


def spot_of(inputs: HoleInputs, drill: float) -> tuple[float, float] | None:
    """Diameter and depth [mm] of the spot before a `drill` [mm]; None before carbide and inserts, which need none.

    Where the countersink has the spot's 90 degrees the spot makes it too. Source: common practice.

    >>> spot_of(HoleInputs(material="C45", bore_diameter=10.0, hole_depth=20.0), 10.0)
    (5.0, 2.5)
    """
    if inputs.drill.drill_material != "HSS" or inputs.mouth.counterbore_diameter is not None:
        return None
    sunk = inputs.mouth.countersink_diameter
    makes_it = sunk is not None and abs(inputs.mouth.countersink_angle - SPOT_ANGLE) < radians(0.01)
    diameter = sunk if sunk is not None and makes_it else SPOT_SHARE * drill
    return diameter, round(point_length.at("of the spot")(diameter, SPOT_ANGLE), 9)


def pilot_of(inputs: HoleInputs, drill: float) -> float | None:
    """The pilot [mm] before a `drill` [mm]: the one given, else the usual one; None for none.

    >>> pilot_of(HoleInputs(material="C45", bore_diameter=40.0, hole_depth=60.0), 40.0)
    12.0
    """
    asked = inputs.drill.pilot_diameter
    if asked is not None:
        return asked if asked > 0.0 else None
    return pilot_for(drill) if inputs.drill.drill_material == "HSS" else None


def rows_of(
    inputs: HoleInputs, work: Material, size: Sized, main: Drilled, done: Bored | None = None
) -> Iterator[ToolRow]:
    """The tools in the order in which they are used; `size` and `main` are the drill, `done` the boring.

    >>> from calc.cutting.materials import material
    >>> from calc.questions.operations.hole.drilled import drilled
    >>> hole = HoleInputs(material="C45", bore_diameter=12.0, hole_depth=20.0, finished="reamed")
    >>> c45, size = material("C45"), Sized(11.75, 22.0, 0.25)
    >>> [row.tool for row in rows_of(hole, c45, size, drilled(hole, c45, size))]
    ['Spot, 90°', 'Drill', 'Reamer']
    """
    runner = _Runner(inputs, work, main)
    spot = spot_of(inputs, size.diameter)
    if spot is not None:
        yield runner.row("spot", "Spot, 90°", spot[0], spot[1])
    pilot = pilot_of(inputs, size.diameter)
    if pilot is not None:
        yield drill_row("Pilot drill", piloted(inputs, work, pilot, size.full_depth))
    yield drill_row("Drill", main)
    mouth = inputs.mouth
    if mouth.counterbore_diameter is not None and mouth.counterbore_depth is not None:
        yield runner.row("counterbore", "Counterbore", mouth.counterbore_diameter, mouth.counterbore_depth)
    if mouth.countersink_diameter is not None and (spot is None or spot[0] != mouth.countersink_diameter):
        yield runner.row("countersink", "Countersink", mouth.countersink_diameter, sunk_depth(inputs, main.diameter))
    yield from _finish(inputs, size, runner, done)


def _finish(inputs: HoleInputs, size: Sized, runner: _Runner, done: Bored | None) -> Iterator[ToolRow]:
    if inputs.finished == "reamed" and inputs.bore_diameter is not None:
        behind = APPROACH if inputs.through == "through" else 0.0
        yield runner.row("ream", "Reamer", inputs.bore_diameter, inputs.hole_depth + behind)
    if done is not None:
        yield bar_row(done, inputs.hole_depth)
    if size.tapped is not None:
        found = size.tapped.results
        yield ToolRow(
            tool="Tap",
            diameter=thread_of(inputs.designation or "", "inside").named.diameter,
            tip_depth=found.drill_depth,
            rpm=found.rpm,
            feed=found.feed,
            torque=found.torque,
            power=found.power,
            time=found.time,
        )


def drill_row(name: str, drilled: Drilled) -> ToolRow:
    """A drill as a row called `name`.

    >>> from calc.cutting.materials import material
    >>> hole = HoleInputs(material="C45", bore_diameter=40.0, hole_depth=60.0)
    >>> drill_row("Pilot drill", piloted(hole, material("C45"), 12.0, 60.0)).diameter
    12.0
    """
    found = drilled.answer.results
    return ToolRow(
        tool=name,
        diameter=drilled.diameter,
        tip_depth=drilled.tip_depth,
        rpm=found.rpm,
        feed=found.feed,
        torque=found.torque,
        thrust=found.thrust,
        power=found.power,
        time=drilled.time,
    )


def sunk_depth(inputs: HoleInputs, hole: float) -> float:
    """How deep [mm] the countersink goes into a `hole` [mm] from where it begins. Source: right triangle.

    >>> hole = HoleInputs(material="C45", bore_diameter=10.0, hole_depth=20.0)
    >>> sunk_depth(hole, 10.0)
    0.0
    """
    wide, angle = inputs.mouth.countersink_diameter, inputs.mouth.countersink_angle
    if wide is None:
        return 0.0
    return point_length.at("of the countersink")(wide - hole, angle)


class _Runner:
    """How the tools of high-speed steel run: by the drilling speed of the material, else by the drill's own."""

    def __init__(self, inputs: HoleInputs, work: Material, main: Drilled) -> None:
        self.machine, self.work = inputs.machine, work
        self.rapid = USUAL_RAPID if inputs.peck.rapid_rate is None else inputs.peck.rapid_rate
        listed = work.speed("drill", SLOWEST_STEP)
        self.speed = main.answer.results.surface_speed if listed is None else listed.usual

    def row(self, kind: str, name: str, diameter: float, deep: float) -> ToolRow:
        """A tool's row, at the share of speed and feed that its `kind` runs at; `diameter` and `deep` in mm."""
        how, place = runs(kind), name.lower()
        rpm = limited_rpm(spindle_speed.at(place)(how.speed * self.speed, diameter), self.machine)
        feed = starting_feed.at(place)(how.feed * habits(self.work.group).drill_feed.usual, diameter)
        time = drilling_time.at(place)(deep, 0.0, APPROACH, feed, rpm)
        time += retract_time.at(place)(deep + APPROACH, self.rapid)
        return ToolRow(tool=name, diameter=diameter, tip_depth=deep, rpm=rpm, feed=feed, time=time)
