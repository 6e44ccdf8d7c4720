"""What the plan of a contour shows: results, rows and cautions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from calc.cutting.finish import Finish
from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.quantities import AREA, LENGTH
from calc.machining.cautions import deeper_cautions, dropped_cautions, hit_cautions, narrow_cautions
from calc.machining.passes import Pass
from calc.machining.removal.judging import Place, worst_of
from calc.machining.removal.taking import Removal
from calc.machining.roughing.reachable import Reachable
from calc.machining.times import times_of_kinds
from calc.questions.operations.contour_plan.plan import Plan
from calc.questions.operations.contour_plan.results import (
    ChipRow,
    LeftResults,
    PlaceRow,
    RemovalResults,
    RemovalRow,
    ShadowRow,
    TimeResults,
)
from calc.tool.nose_path import left_in_corner

SAME = 1e-6
"""mm: places nearer than this are one."""


def left_results(plan: Plan) -> LeftResults:
    """What is left and what was cut too deep, in figures."""
    left, deep = worst_of(plan.judged.left), worst_of(plan.judged.too_deep)
    return LeftResults(
        proud_most=left.depth if left else 0.0,
        left_in_corner=left.corner if left else 0.0,
        gouged_most=deep.depth if deep else 0.0,
        over_area=plan.judged.over.area if left else 0.0,
        out_of_reach=float(len(plan.reach.shadows)),
    )


def removal_results(removals: Sequence[Removal]) -> RemovalResults:
    """What all passes took, in figures."""
    chips = [chip for removal in removals for chip in removal.chips]
    sections = [chip.section for chip in chips if chip.section is not None]
    return RemovalResults(
        pass_count=float(len(removals)),
        volume=sum(removal.volume for removal in removals),
        thickest_chip=max((chip.width for chip in chips), default=0.0),
        largest_section=max(sections, default=None),
    )


def time_results(plan: Plan, rows: Sequence[Pass], finished: Finish | None) -> TimeResults:
    """Times by kind of pass from the passes' rows, and the finish."""
    found = times_of_kinds(plan.done, rows)
    return TimeResults(
        finish_time=found.finish,
        rough_time=found.rough,
        face_time=found.face,
        total_time=found.total,
        ra_reached=finished.ra if finished else None,
        grade=finished.grade if finished else None,
    )


def removal_row(removal: Removal) -> RemovalRow:
    """The row of what a pass took."""
    hits = [
        words
        for area, words in (
            (removal.gouged, "the part"),
            (removal.rapid, "stock at rapid"),
            (removal.holder, "with the holder"),
        )
        if area
    ]
    return RemovalRow(
        name=removal.name,
        area=removal.area,
        volume=removal.volume,
        chip_width=removal.thickest,
        chip_section=max((chip.section for chip in removal.chips if chip.section is not None), default=None),
        hit=", ".join(hits) or "nothing",
    )


def chip_rows(removals: Sequence[Removal]) -> Iterator[ChipRow]:
    """The chips of the pass that takes the widest one, and of the last."""
    places = range(len(removals))
    widest = [max(places, key=lambda at: removals[at].thickest)] if removals else []
    for at in dict.fromkeys([*widest, *places[-1:]]):
        for chip in removals[at].chips:
            yield ChipRow(
                name=removals[at].name,
                place=chip.place,
                length=chip.length,
                width=chip.width,
                section=chip.section,
            )


def place_rows(plan: Plan) -> Iterator[PlaceRow]:
    """The rows of places where the part differs from the print."""
    for what, places in (("material left", plan.judged.left), ("cut too deep", plan.judged.too_deep)):
        for place in places:
            yield PlaceRow(
                element=f"{plan.rows[place.of]}",
                what=what,
                depth=place.depth,
                corner=place.corner,
                x=place.spot.r,
                z=place.spot.z,
            )


def shadow_rows(reach: Reachable) -> Iterator[ShadowRow]:
    """The rows of stretches that the insert's edges do not get at."""
    for number, shadow in enumerate(reach.shadows, 1):
        yield ShadowRow(
            number=f"{number}",
            from_x=shadow.start.r,
            from_z=shadow.start.z,
            to_x=shadow.end.r,
            to_z=shadow.end.z,
        )


def plan_cautions(plan: Plan) -> Iterator[Caution]:
    """What the plan triggers: hits, passes without a way, what is left."""
    yield from hit_cautions(plan.done)
    yield from dropped_cautions(plan.done)
    yield from narrow_cautions(plan.done)
    yield from deeper_cautions(plan.done, "pass_depth")
    left = worst_of(plan.judged.left)
    if plan.reach.shadows:
        first = plan.reach.shadows[0]
        values: dict[str, Value] = {"place": first.start, "area": Quantity(plan.judged.over.area, AREA)}
        text = (
            "Behind {place} an edge of the insert cannot get to the contour: what stays there, {area} in all, is for "
            "another tool."
        )
        yield Caution(Message(text, values), 2, "insert")
    elif left is not None:
        yield _left_caution(plan, left)


def _left_caution(plan: Plan, left: Place) -> Caution:
    """What is left at the worst place: in an inside corner the nose's own radius."""
    nose, row = plan.tool.tool.nose, plan.rows[left.of]
    joint = min((element.end for element in plan.chain.elements[:-1]), key=left.spot.distance_to, default=left.spot)
    if abs(left.spot.distance_to(joint) - left.corner) < SAME and left.corner < nose:
        return Caution(left_in_corner(nose, joint, left.depth, left.corner), 1, "proud_most")
    values: dict[str, Value] = {"depth": Quantity(left.depth, LENGTH), "element": row, "spot": left.spot}
    return Caution(
        Message("At the end {depth} of material is left on element {element}, at {spot}.", values), 1, "proud_most"
    )
