"""Spindle and feeds of the plan of a contour, held against chuck and nose."""

from __future__ import annotations

from collections.abc import Iterator

from calc.cutting.chip import Edge
from calc.cutting.feeding import fed_edge
from calc.cutting.force import chip_of
from calc.cutting.limits import Case, limits, running
from calc.cutting.machine import Machine
from calc.cutting.materials import Material
from calc.cutting.thin_chips import Shaving
from calc.language.messages import Caution
from calc.language.working import recording
from calc.machining.forces import deepest
from calc.questions.operations.contour_plan.inputs import ContourPlanInputs
from calc.questions.operations.contour_plan.plan import Plan


def limits_of(inputs: ContourPlanInputs, plan: Plan, work: Material | None) -> Iterator[Caution]:
    """What speeds and feeds trigger, from the stock's outside to the smallest diameter of the contour."""
    cut, chain, nose = inputs.cut, plan.chain.bounds, Edge(plan.tool.tool.nose)
    speeds = [speed for speed in (cut.surface_speed, cut.rough_surface_speed) if speed is not None]
    outer = 2 * plan.done[0].regions.stock.bounds[3]
    turned = running(max(speeds), outer, 2 * max(chain.r_min, 0.0), cut.max_rpm) if speeds else None
    asked = (("feed", cut.feed, None), ("rough_feed", cut.rough_feed, inputs.passes.pass_depth))
    fed = tuple(fed_edge(feed, work, nose, depth=depth, about=name) for name, feed, depth in asked if feed is not None)
    machine = Machine(max_rpm=cut.max_rpm, chuck_limit=cut.chuck_limit)
    yield from limits(Case(running=turned, fed=fed, chips=tuple(_chips(plan))), machine)


def _chips(plan: Plan) -> Iterator[Shaving]:
    """The mean chip of each operation where it cuts deepest, the nose led on straight."""
    for done in plan.done:
        deepest_pass, feed = deepest([done]), done.operation.cut.feed
        if deepest_pass is not None and feed is not None:
            with recording():
                chip = chip_of(deepest_pass.removal.depth, feed, Edge(plan.tool.tool.nose))
            about = "feed" if done.operation.strategy == "finish" else "rough_feed"
            yield Shaving(chip.thickness, about, forced=False)
