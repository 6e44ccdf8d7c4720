"""Force and power in the deepest roughing pass, with the spread of the published values."""

from __future__ import annotations

from collections.abc import Sequence

from calc.cutting.chip import Edge
from calc.cutting.force import chip_of, cutting_power, force_of
from calc.plan.cutting import Settled
from calc.plan.dish_passes import PlannedPass
from calc.plan.inputs import DishPlanInputs
from calc.plan.results import ForceResults


def force_results(inputs: DishPlanInputs, settled: Settled, planned: Sequence[PlannedPass]) -> ForceResults:
    """The force on the round nose at the deepest roughing cut; None throughout while nose, feed or material is open."""
    nose, feed = inputs.tool.nose(), inputs.cut.rough_feed
    depth = max((each.depth for each in planned), default=0.0)
    if nose is None or feed is None or settled.material is None or not depth:
        return ForceResults()
    chip = chip_of(depth, feed, Edge(nose))
    force = force_of(chip, settled.material)
    speed = settled.rough_surface_speed
    return ForceResults(
        force_depth=depth,
        chip_thickness=chip.thickness,
        cutting_force=force.force,
        cutting_force_low=force.low,
        cutting_force_high=force.high,
        power=cutting_power(force.force, speed) if speed else None,
        power_high=cutting_power.function(force.high, speed) if speed else None,
    )
