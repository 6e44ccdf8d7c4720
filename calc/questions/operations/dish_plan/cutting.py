"""The cutting part of the plan: speeds, feeds, finish, force, from what is given and from the material."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import asin, atan2, cos, sin

from calc.cutting.chip import Edge, Engagement, engagement
from calc.cutting.feed_limits import FeedDecision, FeedLimit, decide, default_largest_chip, feed_limits
from calc.cutting.feeding import Fed, fed_edge, inside_cautions
from calc.cutting.finish import FINEST_PROMISED, Surface, feed_for_mean_roughness, finish, finish_cautions
from calc.cutting.limits import Case, limits, overhang_cautions, running
from calc.cutting.materials import Material, material
from calc.cutting.offering import settled_speed
from calc.cutting.speed import limit_diameter, spindle_at, surface_speed
from calc.cutting.thin_chips import rubbing
from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.quantities import FEED, ROUGHNESS, SURFACE_SPEED
from calc.questions.operations.dish_plan.inputs import DishPlanInputs, PassInputs
from calc.questions.operations.dish_plan.results import FinishResults, SpeedResults
from calc.shapes.dish.geometry import Dish
from calc.shapes.dish.nose import Stand

FASTER = 1.15  # true surface speed over the wanted one from which it deserves a caution


@dataclass(frozen=True, slots=True)
class Settled:
    """Speeds (mm/min) and material after what is blank was taken from the material, with the notes that say so."""

    material: Material | None
    surface_speed: float | None
    rough_surface_speed: float | None
    notes: tuple[Message, ...]


def settle(inputs: DishPlanInputs) -> Settled:
    """Speeds as given, or the usual one of the material's starting range where they are blank."""
    work = material(inputs.work.material) if inputs.work.material else None
    finishing, of_finishing = settled_speed(inputs.cut.surface_speed, work, "finish")
    roughing, of_roughing = settled_speed(inputs.cut.rough_surface_speed, work, "rough")
    return Settled(work, finishing, roughing, (*of_finishing, *of_roughing))


def speed_results(inputs: DishPlanInputs, settled: Settled, mouth: float, stand: Stand | None) -> SpeedResults:
    """The spindle at the dish's outer end (diameter `mouth`, mm), referred to the contact or the tool point."""
    v, max_rpm = settled.surface_speed, inputs.machine.max_rpm
    if v is None:
        return SpeedResults(rough_surface_speed=settled.rough_surface_speed)
    held_at = 2 * abs(stand.tool_x) if stand and inputs.cut.speed_at == "point" else mouth
    rpm = None if max_rpm is None and held_at == 0.0 else spindle_at(held_at, v, max_rpm, "at the mouth").rpm
    return SpeedResults(
        surface_speed=v,
        rough_surface_speed=settled.rough_surface_speed,
        rpm_at_mouth=rpm,
        true_speed_at_mouth=None if rpm is None else surface_speed.at("at the mouth")(mouth, rpm),
        limit_diameter=None if max_rpm is None else limit_diameter(v, max_rpm),
    )


LEAST_DEPTH = 1e-6
"""mm: allowances that leave no more than this for finishing leave nothing: their chip has no width."""


@dataclass(frozen=True, slots=True)
class FinishPart:
    """Results, limits and cautions about the finishing feed; `decision` says which limit decides."""

    results: FinishResults
    limits: tuple[FeedLimit, ...] = ()
    decision: FeedDecision | None = None
    cautions: tuple[Caution, ...] = ()


def finish_part(inputs: DishPlanInputs, dish: Dish) -> FinishPart:
    """The finish on the dish and the limits on the feed, as far as nose, feed and depth are known."""
    nose, wanted = inputs.tool.nose(), inputs.cut.ra
    depth = finishing_depth(dish, inputs.passes)
    if nose is None:
        return FinishPart(FinishResults(feed=inputs.cut.feed, finishing_depth=depth))
    surface = Surface("concave", dish.bowl.radius)
    cut = engagement(depth, Edge(nose)) if depth > LEAST_DEPTH else None
    allowed = feed_for_mean_roughness(wanted, nose, surface) if wanted else None
    chip = default_largest_chip(nose)
    limits = feed_limits(nose, finish_feed=allowed, cut=cut, largest_chip=chip)
    said = Message("Ra {ra}", {"ra": Quantity(wanted, ROUGHNESS)}) if wanted else None
    decision = decide(limits, nose, said)
    feed = inputs.cut.feed if inputs.cut.feed is not None else (decision.feed if wanted else None)
    results = _finish_results(feed, nose, surface, decision, depth)
    cautions = (*_finish_cautions(feed, nose, results, decision, cut, wanted), *_ring_cautions(inputs, dish, nose))
    return FinishPart(results, limits, decision, cautions)


def _ring_cautions(inputs: DishPlanInputs, dish: Dish, nose: float) -> Iterator[Caution]:
    """That the ring beside the dish, faced at the roughing feed, comes out rougher than asked for."""
    wanted, feed, bar = inputs.cut.ra, inputs.cut.rough_feed, inputs.work.bar_diameter
    if wanted is None or feed is None or bar is None or inputs.passes.pass_depth is None:
        return
    allowed = feed_for_mean_roughness(wanted, nose, Surface("flat"))
    if inputs.work.face_stock > 0.0 and bar > 2.0 * dish.cut.start.r and allowed < feed:
        values: dict[str, Value] = {
            "feed": Quantity(feed, FEED),
            "ra": Quantity(wanted, ROUGHNESS),
            "allowed": Quantity(allowed, FEED),
        }
        yield Caution(Message(_RING, values), 2, "rough_feed")


_RING = (
    "The ring outside the mouth is faced at the roughing feed, {feed}, which leaves more than Ra {ra}: take its last "
    "pass at {allowed} or less."
)


def finishing_depth(dish: Dish, passes: PassInputs) -> float:
    """The largest thickness (mm, along the normal) that the allowances leave on the dish for finishing.

    >>> from calc.shapes.dish.bowl import DishInputs
    >>> from calc.shapes.dish.geometry import solve_dish
    >>> finishing_depth(solve_dish(DishInputs(radius=75.0, depth=4.5)), PassInputs(allowance_z=0.3))
    0.3
    """
    along_z, along_x = passes.allowance_z, passes.allowance_x
    flattest = asin(dish.hole_radius / dish.bowl.radius)
    thickest = min(max(atan2(along_x, along_z), flattest), dish.bowl.slope)
    return along_z * cos(thickest) + along_x * sin(thickest)


def _finish_results(
    feed: float | None, nose: float, surface: Surface, decision: FeedDecision, depth: float
) -> FinishResults:
    common = {
        "feed": feed,
        "finish_feed": decision.finish_feed,
        "feed_limit": decision.feed_limit,
        "limited_by": decision.limited_by,
        "finishing_depth": depth,
    }
    if feed is None:
        return FinishResults(**common)  # type: ignore[arg-type]  # names and values belong together
    left = finish(feed, nose, surface)
    return FinishResults(
        **common,  # type: ignore[arg-type]  # names and values belong together
        peak_height=left.peak_height,
        peak_height_rule=left.peak_height_rule,
        ra_reached=left.ra,
        grade=left.grade,
    )


def _finish_cautions(
    feed: float | None,
    nose: float,
    results: FinishResults,
    decision: FeedDecision,
    cut: Engagement | None,
    wanted: float | None,
) -> Iterator[Caution]:
    if feed is None or results.ra_reached is None:
        return
    fine = wanted is not None and wanted < FINEST_PROMISED
    yield from (one for one in finish_cautions(feed, nose, results.ra_reached) if fine or one.about != "ra")
    if wanted is not None and results.ra_reached > wanted:
        values = {"feed": Quantity(feed, FEED), "ra": Quantity(results.ra_reached, ROUGHNESS)}
        text = "At {feed} the nose leaves Ra {ra}, more than the {wanted} that is wanted: feed less."
        yield Caution(Message(text, {**values, "wanted": Quantity(wanted, ROUGHNESS)}), 2, "feed")
    if feed > decision.feed_limit:
        values = {"feed": Quantity(feed, FEED), "most": Quantity(decision.feed_limit, FEED)}
        text = "The finishing feed {feed} is above the {most} that depth, chip and nose allow: feed less or leave more."
        yield Caution(Message(text, values), 2, "feed")
    if cut is not None:
        _, rubs = rubbing(feed, cut, decision)
        if rubs is not None:
            yield rubs


def speed_cautions(inputs: DishPlanInputs, speed: SpeedResults, settled: Settled, dish: Dish) -> Iterator[Caution]:
    """What speed, feeds, chuck and length out trigger."""
    work, v = inputs.work, speed.surface_speed
    outer, inner = 2 * dish.arc.start.r, 2 * dish.arc.end.r
    turned = None if v is None else running(v, outer, inner, inputs.machine.max_rpm)
    yield from limits(Case(running=turned, fed=tuple(_fed(inputs, settled.material))), inputs.machine)
    if inputs.cut.inner_feed is not None and inputs.cut.feed is not None:
        yield from inside_cautions(inputs.cut.inner_feed, inputs.cut.feed, "inner_feed")
    yield from overhang_cautions(work.length_out, work.bar_diameter)
    wanted, true = speed.surface_speed, speed.true_speed_at_mouth
    if wanted is not None and true is not None and true > FASTER * wanted:
        values = {"true": Quantity(true, SURFACE_SPEED), "wanted": Quantity(wanted, SURFACE_SPEED)}
        text = "The speed is held at the tool point; the nose cuts farther out: {true} at the mouth, not {wanted}."
        yield Caution(Message(text, values), 2, "speed_at")


def _fed(inputs: DishPlanInputs, work: Material | None) -> Iterator[Fed]:
    """The feeds that are given, each with the depth that it is taken at."""
    cut, passes, nose = inputs.cut, inputs.passes, inputs.tool.nose()
    edge = None if nose is None else Edge(nose)
    for name, feed, depth in (
        ("feed", cut.feed, passes.allowance_z or None),
        ("rough_feed", cut.rough_feed, passes.pass_depth),
    ):
        if feed is not None:
            yield fed_edge(feed, work, edge, depth, name)
