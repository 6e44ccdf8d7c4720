"""Grooves and parting off: a blade that is fed straight in, and along walls and bottom to finish."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from calc.answer.feature import Answer
from calc.contour import Chain, Line, Point
from calc.cutting.machine import Work
from calc.cutting.parting_path import BEYOND
from calc.cutting.plunging import Plunge, load_of_plunge
from calc.cutting.speed import spindle_at
from calc.language.messages import Caution, Message, Quantity
from calc.language.problems import Fault, Impossible, Missing
from calc.language.quantities import DIAMETER, LENGTH
from calc.language.working import Step
from calc.machining.blades import Blade, dips, forbidden, plunge_lines, walls
from calc.machining.job import Contour, Where
from calc.machining.removal.judging import Place
from calc.machining.roughing.planning import in_cutting_direction
from calc.questions.operations.face_groove import FEATURE as FACE_GROOVE
from calc.questions.operations.face_groove import FaceGrooveInputs, FaceGrooveResults
from calc.questions.operations.grooving_cut import FEATURE as GROOVING
from calc.questions.operations.grooving_cut import GroovingInputs, GroovingResults
from calc.questions.operations.parting import FEATURE as PARTING
from calc.questions.operations.parting import EdgeInputs, EndResults, PartingInputs, PartingResults
from calc.questions.operations.plunge_fields import at_the_outside
from calc.questions.part.asked import Asked, cut_too_deep, left_on, reported
from calc.questions.part.bladed import LEAD, BladeRun, Set, blade_of
from calc.questions.part.done import OperationDone
from calc.questions.part.job import Grooving
from calc.questions.part.parting_chamfers import chamfers


def grooved(asked: Asked) -> OperationDone:
    """Grooves: plunges side by side down to the allowances, then walls and bottom if any. Raises `Problem`."""
    where: Where = asked.operation.where or "outside"
    blade = blade_of(asked, where)
    run = BladeRun(asked, blade)
    found: list[Place] = []
    settings: Set | None = None
    for stretch in _grooves(asked, where):
        settings = _groove(run, stretch, settings)
    assert settings is not None, "there is a groove, or it was refused"
    for stretch in _grooves(asked, where):
        left = left_on(stretch, asked.before, run.stock, blade.corner)
        found += [left] if left else []
    return reported(
        asked,
        run.removals,
        run.passes,
        left=max(found, key=lambda place: place.depth, default=None),
        too_deep=cut_too_deep(
            asked, asked.seen(asked.job.contour("bore" if where == "bore" else "outside")), run.stock
        ),
        cautions=(*_said_of(settings, run), *_reach_caution(asked, run)),
        notes=settings.notes,
        steps=settings.steps,
    )


def _said_of(settings: Set, run: BladeRun) -> Iterator[Caution]:
    """What a plunge by itself is warned of; that its walls want a pass only where they get none."""
    return (each for each in settings.cautions if each.about != "left_on_walls" or not run.has_walls)


def _grooves(asked: Asked, where: Where) -> list[Contour]:
    """The grooves among the rows that are worked on; rows that are given and have none are themselves the groove.

    One row may hold more than its groove, such as a thread with its relief. Raises `Impossible` without any.
    """
    side: Where = "bore" if where == "bore" else "outside"
    whole, (low, high) = asked.seen(asked.job.contour(side)), asked.elements(side)
    runs = [(first, last) for first, last in dips(whole.chain, where) if low <= first and last <= high]
    found = [replace(whole, chain=Chain(whole.chain.elements[first : last + 1])) for first, last in runs]
    if not found and (asked.operation.first is not None or asked.operation.last is not None):
        return [asked.stretch(side)]
    if not found:
        raise Impossible(Fault("from", Message("This contour has no groove there: name the rows.")))
    return found


def _groove(run: BladeRun, stretch: Contour, settings: Set | None) -> Set:
    asked, blade = run.asked, run.blade
    cut, whole = asked.operation.cut, asked.seen(asked.job.contour("bore" if blade.where == "bore" else "outside"))
    chain, side = in_cutting_direction(whole.chain, whole.side, "bore" if blade.where == "bore" else "outside")
    reach = max(abs(each) for each in (*asked.before.bounds, *chain.bounds))
    ground = forbidden(blade, Contour(chain, side), cut.along_z, cut.along_x, reach)
    rests = (cut.along_x, cut.along_x) if blade.where == "face" else (cut.along_z, cut.along_z)
    run.out = run.start(stretch.chain)
    lines = plunge_lines(blade, stretch.chain, rests, run.out, ground)
    settings = settings or _settings(run, stretch.chain, lines)
    for line in lines:
        run.plunge(line, settings)
    if cut.along_x or cut.along_z or _not_square(stretch.chain):
        for pieces in walls(blade, whole, stretch.chain, settings.feed):
            run.wall(pieces, settings)
    return settings


def _not_square(chain: Chain) -> bool:
    """Whether a stretch has an element that plunges leave steps beside: a slope or an arc."""
    return any(
        not isinstance(each, Line) or 0.0 not in (abs(each.direction.z), abs(each.direction.r)) for each in chain
    )


def _settings(run: BladeRun, chain: Chain, lines: Sequence[Line]) -> Set:
    """Feed, speed and load of the deepest plunge, as the cut of a groove by itself has them."""
    asked, blade = run.asked, run.blade
    cut = asked.operation.cut
    low, high = chain.bounds.z_min, chain.bounds.z_max
    if blade.where == "face":
        return _on_face(asked, blade, chain)
    start, bottom = 2.0 * run.surface(chain), 2.0 * _deepest(blade, lines)
    answer, steps = GROOVING.answer(
        GroovingInputs(
            material=asked.material,
            start_diameter=start,
            bottom_diameter=bottom,
            groove_width=high - low,
            insert_width=blade.width,
            feed=cut.feed,
            surface_speed=cut.surface_speed,
            machine=asked.job.machine,
            work=_held(asked, asked.before.bounds[3]),
        )
    )
    return _set(asked, blade, (start, bottom), answer, steps)


def _deepest(blade: Blade, lines: Sequence[Line]) -> float:
    """The radius (mm) to which the edge goes at most."""
    radii = [line.end.r + blade.into.r * blade.corner for line in lines]
    if not radii:
        raise Impossible(Fault("tool.width", Message("The insert reaches nothing of this groove.")))
    return max(radii) if blade.where == "bore" else min(radii)


def _on_face(asked: Asked, blade: Blade, chain: Chain) -> Set:
    """The same on a face, as the groove of a face by itself has them."""
    cut, bounds = asked.operation.cut, chain.bounds
    answer, steps = FACE_GROOVE.answer(
        FaceGrooveInputs(
            material=asked.material,
            groove_outer=2.0 * bounds.r_max,
            groove_inner=2.0 * bounds.r_min,
            face_depth=bounds.z_max - bounds.z_min,
            insert_width=blade.width,
            feed=cut.feed,
            surface_speed=cut.surface_speed,
            machine=asked.job.machine,
            work=_held(asked, asked.before.bounds[3]),
        )
    )
    return _set(asked, blade, (2.0 * bounds.r_max, 2.0 * bounds.r_max), answer, steps)


def _held(asked: Asked, radius: float) -> Work:
    """The work as it is held, of a radius (mm)."""
    return Work(work_diameter=2.0 * radius, length_out=asked.setup.length_out)


def _set(
    asked: Asked,
    blade: Blade,
    between: tuple[float, float],
    answer: Answer[GroovingResults] | Answer[FaceGrooveResults] | Answer[PartingResults],
    steps: Sequence[Step],
) -> Set:
    """What the plunge by itself answered, with its load from the first to the last diameter (mm)."""
    if asked.work is None:
        raise Missing(Fault("part.material", Message("This operation needs the material.")))
    found, (start, end) = answer.results, between
    plunge = Plunge(start, end, blade.width, found.feed, found.surface_speed)
    spindle = spindle_at(start, plunge.speed, asked.max_rpm)
    operation = "part" if asked.operation.kind == "part-off" else "groove"
    load = load_of_plunge(at_the_outside(plunge, spindle), asked.work, operation)
    return Set(found.feed, found.surface_speed, load, answer.cautions, answer.notes, tuple(steps))


def _reach_caution(asked: Asked, run: BladeRun) -> Iterator[Caution]:
    tool = asked.operation.tool
    deepest = max((removal.depth for removal in run.removals), default=0.0)
    if isinstance(tool, Grooving) and tool.reach is not None and deepest > tool.reach:
        values = {"depth": Quantity(deepest, LENGTH), "reach": Quantity(tool.reach, LENGTH)}
        text = (
            "The groove is {depth} deep, but the insert reaches {reach}: its holder runs into the part. Take a "
            "longer one."
        )
        yield Caution(Message(text, values), 3, "tool")


def parted(asked: Asked) -> OperationDone:
    """The part cut off behind its second face, to past the axis or into the bore. Raises `Problem`."""
    blade = blade_of(asked, "outside")
    run = BladeRun(asked, blade)
    z = -asked.job.length - asked.operation.cut.along_z - blade.width + blade.corner
    outer, inner = run.at(z - blade.corner, z + blade.width - blade.corner)
    settings, end = _parting_alone(asked, blade, outer, inner)
    top = Point(z, outer + LEAD + blade.corner + blade.lead)
    sizes = _chamfer_sizes(asked)
    if any(sizes):
        run.plunge(Line(top, Point(z, outer - max(sizes) - BEYOND + blade.corner)), settings)
        edge = Point(z - blade.corner + blade.width, outer)
        for chamfer in chamfers(blade, edge, *sizes, LEAD):
            run.chamfer(chamfer, settings)
    run.part_off(Line(top, Point(z, inner - end.past + blade.corner + blade.lead)), settings)
    whole = asked.seen(asked.job.contour("outside"))
    return reported(
        asked,
        run.removals,
        run.passes,
        too_deep=cut_too_deep(asked, whole, run.stock),
        cautions=settings.cautions,
        notes=(*settings.notes, _left_by_parting(end)),
        steps=settings.steps,
    )


def _left_by_parting(end: EndResults) -> Message:
    """What hangs on part or bar as the part comes free."""
    past = Quantity(end.past, LENGTH)
    if end.pip_diameter is not None:
        return Message(_PIP, {"pip": Quantity(end.pip_diameter, DIAMETER), "past": past})
    if end.ring_thickness is not None:
        return Message(_RING, {"ring": Quantity(end.ring_thickness, LENGTH), "past": past})
    return Message(_NEUTRAL)


_PIP = (
    "As the part comes free a pip of {pip} stays on the bar, not on the part; the edge goes {past} past the axis and "
    "takes it off."
)
_RING = (
    "As the part comes free a ring {ring} thick stays on the bar; the edge goes {past} into the bore and takes it off. "
    "Look for a burr at the mouth of the bore."
)
_NEUTRAL = (
    "The edge has no lead angle: the part breaks off with a pip or a burr on itself or on the bar. Take an insert "
    "whose corner on the part's side leads, or face that end afterwards."
)


def _chamfer_sizes(asked: Asked) -> tuple[float, float]:
    """The chamfers on the part and on the bar [mm], 0 for none."""
    tool = asked.operation.tool
    return (tool.part_chamfer, tool.bar_chamfer) if isinstance(tool, Grooving) else (0.0, 0.0)


def _parting_alone(asked: Asked, blade: Blade, outer: float, inner: float) -> tuple[Set, EndResults]:
    """Feed, speed, load and end as parting off by itself has them, from one radius to another (mm)."""
    cut, between = asked.operation.cut, (2.0 * outer, 2.0 * inner)
    part_chamfer, bar_chamfer = _chamfer_sizes(asked)
    lead = asked.operation.tool.edge_lead if isinstance(asked.operation.tool, Grooving) else 0.0
    edge = EdgeInputs(edge_lead=lead, edge_corner=blade.corner, part_chamfer=part_chamfer, bar_chamfer=bar_chamfer)
    answer, steps = PARTING.answer(
        PartingInputs(
            material=asked.material,
            outer_diameter=between[0],
            inner_diameter=between[1],
            insert_width=blade.width,
            feed=cut.feed,
            surface_speed=cut.surface_speed,
            edge=edge,
            machine=asked.job.machine,
            work=_held(asked, outer),
        )
    )
    return _set(asked, blade, between, answer, steps), answer.results.end
