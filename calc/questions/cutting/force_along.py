"""Cutting force and power over a whole pass along a face, a dish or lines: the curve, the largest values, the mean."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from math import tau

from calc.answer.feature import Answer, Feature, Rows
from calc.contour import Vector
from calc.cutting import nouns
from calc.cutting.chip import Edge
from calc.cutting.components import most_axial
from calc.cutting.corrections import WEAR_FACTORS, Wear
from calc.cutting.feeding import fed_edge
from calc.cutting.force import cutting_power, cutting_torque
from calc.cutting.limits import Case, Running, limits
from calc.cutting.machine import Cut, LoadResults, Machine, Work, load_of
from calc.cutting.materials import Material, material
from calc.cutting.nouns import FeedAt, PointNumber, SpeedAt
from calc.cutting.operation import unusual_speed
from calc.cutting.thin_chips import Shaving
from calc.language.checks import require
from calc.language.fields import Declared, choice, part
from calc.language.messages import Caution, Digits, Message, Quantity, Value
from calc.language.problems import Fault, Impossible
from calc.language.quantities import (
    FORCE,
    LENGTH,
    RADIUS,
    SURFACE_SPEED,
    X,
    Z,
)
from calc.language.working import recording
from calc.machining.force_along import DepthAlong, Load, Taking, depth_along_normal, loads, mean_power, work_of
from calc.machining.passes import Piece, Referral, Spindle, pass_time
from calc.questions.cutting.force_along_plots import plots
from calc.questions.cutting.force_along_results import (
    HARDEST,
    ForceAlongResults,
    LargestResults,
    LoadRow,
    MeanResults,
)
from calc.questions.cutting.tool_path import (
    SHAPES,
    PathShape,
    PointsInputs,
    ShapeInputs,
    chain_of,
    is_on_the_left,
    require_fit,
    traced_on_its_side,
)

TIED = 1e-9  # values that differ by less than this share are the same but for rounding
PLACES = 160
ROWS = 9
ALONG: dict[DepthAlong, str] = {
    "normal": "the normal, equal everywhere",
    "z": "Z, the contour shifted",
    "x": "X, per side",
}


class EdgeInputs(Declared):
    """The edge, and where speed and feed are referred."""

    entering_angle: float | None = nouns.ENTERING_ANGLE.given(
        hint="to the direction of travel; blank for a round insert"
    )
    wear: Wear = nouns.WEAR.chosen()
    tool_point: PointNumber = nouns.TOOL_POINT.chosen()
    speed_at: SpeedAt = nouns.SPEED_AT.chosen()
    feed_at: FeedAt = nouns.FEED_AT.chosen()


class ForceAlongInputs(Declared):
    """What is cut and how; the machine, if the cut is held against it."""

    shape: PathShape = choice("Contour", SHAPES, "dish")
    material: str = nouns.MATERIAL.needed()
    pass_depth: float = nouns.PASS_DEPTH.needed(symbol="a")
    nose_radius: float = nouns.NOSE_RADIUS.needed()
    feed: float = nouns.FEED_RATE.needed()
    surface_speed: float = nouns.SURFACE_SPEED.needed()
    depth_along: DepthAlong = choice("Depth measured along", ALONG, "normal")
    sizes: ShapeInputs = part(ShapeInputs, "Face or dish")
    points: PointsInputs = part(PointsInputs, "Lines")
    edge: EdgeInputs = part(EdgeInputs, "Edge, where speed and feed are held")
    machine: Machine = part(Machine, "Machine and chuck")
    work: Work = part(Work, "Work")


def solve(inputs: ForceAlongInputs) -> Answer[ForceAlongResults]:
    """Force and power along the pass. Raises Missing, OutOfRange, Impossible and what the dish raises.

    >>> found = solve(ForceAlongInputs(shape="face", material="C45", pass_depth=1.0, nose_radius=0.8, feed=0.2,
    ...     surface_speed=200_000.0, sizes=ShapeInputs(outer_diameter=100.0), machine=Machine(max_rpm=3000.0))).results
    >>> round(found.largest.largest_power / 60e6, 2), round(found.mean.mean_power / 60e6, 2)
    (1.95, 1.87)
    """
    require(inputs)
    chain = chain_of(inputs.shape, inputs.sizes, inputs.points)
    require_fit(inputs.shape, inputs.sizes, inputs.nose_radius)
    taking = _taking(inputs, 1.0 if is_on_the_left(inputs.shape, chain) else -1.0)
    pieces = traced_on_its_side(inputs.shape, chain, inputs.nose_radius, inputs.feed)
    referral = Referral(inputs.nose_radius, int(inputs.edge.tool_point), inputs.edge.speed_at, inputs.edge.feed_at)
    spindle = Spindle(inputs.surface_speed, inputs.machine.max_rpm)
    with recording():
        found = loads(_split(pieces, inputs), referral, spindle, taking, inputs.machine, PLACES)
        energy = work_of(pieces, referral, taking)
    _require_a_cut(found)
    _record(taking, _hardest(found))
    time = pass_time(pieces, referral, spindle).total
    load, cut = _against(inputs, found)
    whole = MeanResults(time=time, energy=energy, mean_power=mean_power(energy, time))
    held = _case(inputs, taking, found, (cut, load))
    return Answer(
        results=ForceAlongResults(largest=_largest(found), mean=whole, machine_load=load),
        headline="largest_power",
        contour=chain,
        cautions=(*_cautions(inputs, taking.work, found), *limits(held, inputs.machine, inputs.work)),
        notes=tuple(_notes(taking, found)),
        sentences={HARDEST: tuple(_where(_hardest(found)))},
        tables={"places": [_row(each) for each in thinned(found)]},
        plots=tuple(plots(found, thinned(found))),
    )


def _taking(inputs: ForceAlongInputs, side: float) -> Taking:
    inward = -1.0 if inputs.shape in ("dish", "bore") else 1.0
    toward = {"normal": None, "z": Vector(1.0, 0.0), "x": Vector(0.0, inward)}[inputs.depth_along]
    angle, nose = inputs.edge.entering_angle, inputs.nose_radius
    edge = Edge(nose) if angle is None else Edge(nose, angle)
    factor = WEAR_FACTORS[inputs.edge.wear]
    return Taking(material(inputs.material), edge, inputs.pass_depth, toward, side, factor)


def _split(pieces: Sequence[Piece], inputs: ForceAlongInputs) -> list[Piece]:
    """The pieces cut where the spindle passes its limit and its base speed, so that the curve has its kinks there."""
    v = inputs.surface_speed
    for rpm in (inputs.machine.max_rpm, inputs.machine.base_rpm):
        if rpm is not None:
            pieces = [part for piece in pieces for part in piece.split_at_contact_r(v / (tau * rpm))]
    return list(pieces)


def _require_a_cut(found: Sequence[Load]) -> None:
    if not any(each.force.force for each in found):
        said = Message("Shifted this way the contour is not cut anywhere: measure the depth along another direction.")
        raise Impossible(Fault("depth_along", said))


def _hardest(found: Sequence[Load]) -> Load:
    """Where the machine's margin is smallest; by the power alone where nothing of it is known."""
    return _first(found, lambda each: each.share if each.available else each.power)


def _first(found: Sequence[Load], value: Callable[[Load], float]) -> Load:
    """The first place at which a value is the largest, but for rounding: places that tie are one in every unit."""
    most = max(map(value, found))
    return next(each for each in found if value(each) >= most * (1.0 - TIED))


def _record(taking: Taking, at: Load) -> None:
    """The working at the hardest place, from the same formulas."""
    where = "where it is hardest"
    if taking.toward is not None:
        depth_along_normal.at(where)(taking.depth, at.leaning)
    _, force = taking.cut_at(at.depth, at.feed)
    cutting_power.at(where)(force.force, at.station.true_speed)
    cutting_torque.at(where)(force.force, 2 * abs(at.station.contact.r))


def _largest(found: Sequence[Load]) -> LargestResults:
    power = _first(found, lambda each: each.power)
    force = _first(found, lambda each: each.force.force)
    torque = _first(found, lambda each: each.torque)
    return LargestResults(
        largest_power=power.power,
        largest_power_x=abs(power.station.contact.r),
        largest_power_high=power.force.high * power.station.true_speed,
        largest_force=force.force.force,
        largest_force_x=abs(force.station.contact.r),
        largest_torque=torque.torque,
        largest_torque_x=abs(torque.station.contact.r),
        deepest=max(each.depth for each in found),
        shallowest=min(each.depth for each in found),
    )


def _against(inputs: ForceAlongInputs, found: Sequence[Load]) -> tuple[LoadResults, Cut]:
    """The cut against the machine where it is hardest, against the grip where torque and force are largest."""
    group = material(inputs.material).group
    hardest, twisted, strongest = (
        _cut(each, group)
        for each in (
            _hardest(found),
            _first(found, lambda each: each.torque),
            _first(found, lambda each: each.force.force),
        )
    )
    with recording():
        turning = load_of(twisted, inputs.machine, inputs.work).grip_needed
        tilting = load_of(strongest, inputs.machine, inputs.work).grip_against_tilt
    return replace(load_of(hardest, inputs.machine), grip_needed=turning, grip_against_tilt=tilting), hardest


def _cut(load: Load, group: str) -> Cut:
    diameter, force = 2 * abs(load.station.contact.r), load.force.force
    with recording():
        axial = most_axial(force, group)
    return Cut(force, load.force.high, load.power, diameter, load.station.rpm, axial)


def _case(inputs: ForceAlongInputs, taking: Taking, found: Sequence[Load], held: tuple[Cut, LoadResults]) -> Case:
    rpms = [each.station.rpm for each in found]
    deepest = max(each.depth for each in found)
    return Case(
        running=Running(min(rpms), max(rpms)),
        cut=held[0],
        load=held[1],
        fed=(fed_edge(inputs.feed, taking.work, taking.edge, deepest),),
        chips=tuple(Shaving(each.chip.thickness, "largest_force") for each in found if each.force.force),
    )


def _cautions(inputs: ForceAlongInputs, work: Material, found: Sequence[Load]) -> Iterator[Caution]:
    yield from unusual_speed(work, ("rough", "finish"), "", inputs.surface_speed)
    nose = inputs.nose_radius
    deepest = max(each.depth for each in found)
    if inputs.edge.entering_angle is None and deepest > nose:
        values: dict[str, Value] = {"depth": Quantity(deepest, LENGTH), "nose": Quantity(nose, RADIUS)}
        yield Caution(Message(_DEEPER_THAN_ROUND, values), 3, "pass_depth")
    fastest, asked = max(each.station.true_speed for each in found), inputs.surface_speed
    if fastest > 1.05 * asked:
        said = {"fastest": Quantity(fastest, SURFACE_SPEED), "asked": Quantity(asked, SURFACE_SPEED)}
        yield Caution(Message(_FASTER, said), 2, "largest_power")


def _notes(taking: Taking, found: Sequence[Load]) -> Iterator[Message]:
    most = max(found, key=lambda each: each.force.force).force
    values: dict[str, Value] = {"material": taking.work.title, "condition": taking.work.condition}
    values |= {"low": Quantity(most.low, FORCE), "high": Quantity(most.high, FORCE)}
    yield Message(_SPREAD, values)
    yield Message("The curvature of the contour is left out of the chip, and so is what an inside corner adds.")


def _where(hardest: Load) -> Iterator[Message]:
    """Where the machine's margin is smallest, if anything is known of it."""
    if hardest.available:
        contact = hardest.station.contact
        place: dict[str, Value] = {
            "x": Quantity(abs(contact.r), X),
            "z": Quantity(contact.z, Z),
            "share": Digits(f"{hardest.share:.0%}"),
        }
        yield Message(_MOST, place)


def thinned(found: Sequence[Load]) -> list[Load]:
    """A few of the places, both ends and the hardest one among them, in the order of travel."""
    step = max(1, (len(found) - 1) // (ROWS - 1))
    kept = {*range(0, len(found) - 1, step), len(found) - 1, found.index(_hardest(found))}
    return [found[index] for index in sorted(kept)]


def _row(load: Load) -> LoadRow:
    contact = load.station.contact
    return LoadRow(
        x=abs(contact.r),
        z=contact.z,
        depth=load.depth,
        chip=load.chip.thickness,
        rpm=load.station.rpm,
        true_speed=load.station.true_speed,
        force=load.force.force,
        power=load.power,
        available=load.available,
    )


_DEEPER_THAN_ROUND = (
    "{depth} is deeper than a round insert of {nose} can cut; it is calculated as if the edge went on straight. "
    "Give the entering angle, or cut less deep."
)
_MOST = "At {x}, {z} the cut takes {share} of what the machine gives there, the most on this pass."
_FASTER = (
    "The true surface speed reaches {fastest}, not the {asked} asked for, and the power with it: the speed is held at "
    "the tool point, and the nose cuts farther out."
)
_SPREAD = "{material}, {condition}: published values of the largest force span {low} to {high}."

FEATURE = Feature(
    path="speed-feed/force-along",
    page="/force-along",
    title="Force along a pass",
    summary="Cutting force and power over a whole pass along a face, a dish or lines, against the machine's curve.",
    solve=solve,
    supporting=("largest_power_x", "largest_force", "largest_torque", "mean_power"),
    rows={"places": Rows(LoadRow, "The cut along the pass", "Over the whole pass")},
    example={
        "shape": "dish",
        "material": "C45",
        "pass_depth": "0.84",
        "depth_along": "z",
        "nose_radius": "6",
        "feed": "0.25",
        "surface_speed": "180",
        "radius": "75",
        "depth": "4.5",
        "max_rpm": "2500",
        "motor_power": "11",
        "base_rpm": "1500",
        "chuck_limit": "3200",
    },
)
