"""Two inputs of a cut compared: a quantity over both, the limits as lines, and what is allowed."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from calc.answer.feature import Answer, Feature
from calc.answer.plotting import Bound
from calc.cutting.chip import Edge, engagement
from calc.cutting.compare import SHOWN, Bar, Cuts, ShownName, over
from calc.cutting.components import edge_direction, pulled_in, ratio_of_thrust, thrust
from calc.cutting.components import passive_force as pushed_away
from calc.cutting.feed_limits import LEAST_MEAN_CHIP
from calc.cutting.feeding import fed_edge
from calc.cutting.finish_formulas import feed_for_nose, peak_rule_flat, ra_rule
from calc.cutting.force import chip_of, corrected_force, cutting_power, force_of, removal_rate
from calc.cutting.limits import Case, limits, running
from calc.cutting.machine import Machine
from calc.cutting.materials import material
from calc.cutting.operation import unusual_speed
from calc.cutting.speed import limited_speed, spindle_speed
from calc.cutting.stiffness import BARS, Beam, deflection, passive_force
from calc.cutting.thickest_chip import thickest_chip
from calc.cutting.thin_chips import Shaving
from calc.cutting.time import time_at_limit
from calc.cutting.tools import operations
from calc.language.checks import require
from calc.language.fields import Declared, result
from calc.language.kinds import DEFLECTION
from calc.language.messages import Caution, Message, Quantity, Value, joined
from calc.language.problems import Fault, Impossible, Missing
from calc.language.quantities import (
    ANGLE,
    DIAMETER,
    FEED,
    FORCE,
    LENGTH,
    POWER,
    RADIUS,
    RATIO,
    REMOVAL_RATE,
    ROUGHNESS,
    SURFACE_SPEED,
    TIME,
    Kind,
)
from calc.questions.cutting.compare_inputs import COMPARED, BarOfCut, CompareInputs, Swept
from calc.questions.cutting.compare_plot import field_plot

STEPS = 61  # points along each side, unless somebody asks for more


class CompareResults(Declared):
    """The place in the field that removes most and keeps every limit, and what the cut comes to there."""

    removal_rate: float | None = result(REMOVAL_RATE, "Highest removal rate allowed", "Q", hint="within the limits")
    allowed_share: float = result(RATIO, "Share of the field that is allowed")
    at_surface_speed: float | None = result(SURFACE_SPEED, "at surface speed", "v")
    at_feed: float | None = result(FEED, "at feed", "f")
    at_depth: float | None = result(LENGTH, "at depth", "a")
    at_nose_radius: float | None = result(RADIUS, "at nose radius", "r")
    at_entering_angle: float | None = result(ANGLE, "at entering angle", "κ")
    at_diameter: float | None = result(DIAMETER, "at diameter", "D")
    power: float | None = result(POWER, "Power there", "P")
    cutting_force: float | None = result(FORCE, "Cutting force there", "F_c")
    chip_thickness: float | None = result(LENGTH, "Chip thickness there", "h")
    ra: float | None = result(ROUGHNESS, "Ra there, by the rule", "Ra")
    time: float | None = result(TIME, "Time in cut there", "t")
    bar_deflection: float | None = result(DEFLECTION, "Bar deflection there", "δ")


def solve(inputs: CompareInputs) -> Answer[CompareResults]:
    """The field. Raises Missing, OutOfRange; Impossible for an input that does not run.

    >>> from calc.questions.cutting.compare_inputs import LimitInputs
    >>> found = solve(CompareInputs(material="C45", surface_speed=200_000.0, feed=0.1, feed_to=0.4, depth=1.0,
    ...     depth_to=4.0, nose_radius=0.8, entering_angle=1.65, limits=LimitInputs(power_limit=4 * 60e6))).results
    >>> 0.0 < found.allowed_share < 1.0, found.power <= 4 * 60e6
    (True, True)
    """
    require(inputs)
    swept = _swept(inputs)
    _require_all(inputs, swept)
    cuts = _cuts(inputs, swept)
    values = over(cuts, inputs.shown, swept.shape)
    bounds = tuple(_bounds(inputs, cuts, swept.shape))
    broken = np.zeros(swept.shape, dtype=bool)
    for bound in bounds:
        broken |= np.asarray(bound.excess) > 0.0
    place = _best(over(cuts, "removal", swept.shape), broken)
    results = _results(inputs, swept, place, 1.0 - float(broken.mean()))
    pulled = pulled_in(results.bar_deflection, bar_given=cuts.bar is not None and place is not None)
    return Answer(
        results=results,
        headline="allowed_share" if place is None else "removal_rate",
        cautions=(*_cautions(inputs, bounds, cuts, place), *_held(inputs, cuts, results.chip_thickness)),
        notes=(_span(inputs.shown, values), Message(_MODEL), *pulled),
        plots=(field_plot(inputs, swept, values, bounds),),
    )


def _swept(inputs: CompareInputs) -> Swept:
    running = [name for name in COMPARED if getattr(inputs, f"{name}_to") is not None]
    if len(running) != 2:
        said = _WANTED if len(running) < 2 else _TOO_MANY
        field = (
            f"{running[2]}_to" if len(running) > 2 else next(f"{n}_to" for n in ("feed", "depth") if n not in running)
        )
        raise Missing(Fault(field, Message(said)))
    count = inputs.rest.steps or STEPS
    if count != round(count):
        raise Impossible(Fault("steps", Message("The number of points must be a whole one.")))
    sides = [_side(inputs, name, round(count)) for name in running]
    return Swept(running[0], running[1], *sides)


def _side(inputs: CompareInputs, name: str, count: int) -> np.ndarray[Any, np.dtype[np.float64]]:
    start, end = getattr(inputs, name), getattr(inputs, f"{name}_to")
    words = COMPARED[name].words
    if start is None:
        said = Message("Give the {words} to start from.", {"words": words[0].lower() + words[1:]})
        raise Missing(Fault(name, said))
    low, high = sorted((float(start), float(end)))
    if high - low < 1e-9 * high:
        said = Message("Give two different values for {words}.", {"words": words[0].lower() + words[1:]})
        raise Impossible(Fault(f"{name}_to", said))
    return np.linspace(low, high, count)


def _require_all(inputs: CompareInputs, swept: Swept) -> None:
    asked, bar = inputs.limits, inputs.bar
    if inputs.entering_angle is None and not inputs.nose_radius:
        said = Message("Give the entering angle, or the nose radius of a round insert.")
        raise Missing(Fault("entering_angle", said))
    if not inputs.nose_radius and (inputs.shown == "ra" or asked.ra_limit is not None):
        raise Missing(Fault("nose_radius", Message("For the finish give the nose radius, above 0.")))
    if inputs.shown == "time" or swept.across == "diameter" or swept.up == "diameter":
        for name, value in (("diameter", inputs.diameter), ("cut_length", inputs.rest.cut_length)):
            if value is None:
                raise Missing(Fault(name, Message("For the time give the diameter and the length of cut.")))
    if inputs.shown == "deflection" or asked.deflection_limit is not None:
        for name, value in (("tool_bar_diameter", bar.tool_bar_diameter), ("stick_out", bar.stick_out)):
            if value is None:
                raise Missing(Fault(name, Message("For the bar's deflection give its diameter and stick-out.")))


def _cuts(inputs: CompareInputs, swept: Swept) -> Cuts:
    values = {name: swept.value(name, getattr(inputs, name)) for name in COMPARED}
    return Cuts(
        material=material(inputs.material),
        surface_speed=values["surface_speed"],
        feed=values["feed"],
        depth=values["depth"],
        nose_radius=values["nose_radius"],
        entering_angle=values["entering_angle"],
        diameter=values["diameter"],
        length=inputs.rest.cut_length,
        max_rpm=inputs.rest.max_rpm,
        bar=_bar(inputs.bar),
    )


def _bar(bar: BarOfCut) -> Bar | None:
    if bar.tool_bar_diameter is None or bar.stick_out is None:
        return None
    return Bar(Beam(bar.stick_out, bar.tool_bar_diameter, BARS[bar.tool_bar_material]), bar.passive_share)


def _bounds(inputs: CompareInputs, cuts: Cuts, shape: tuple[int, int]) -> Iterator[Bound]:
    """Each limit that is given, with how far it is exceeded, as a share of it."""
    kept = inputs.limits
    if kept.power_limit is not None:
        yield _bound("power", "power {limit}", kept.power_limit, POWER, cuts.power / kept.power_limit - 1, shape)
    if kept.ra_limit is not None:
        yield _bound("finish", "finish Ra {limit}", kept.ra_limit, ROUGHNESS, cuts.ra / kept.ra_limit - 1, shape)
        beyond = 2 * cuts.feed / np.asarray(cuts.nose_radius, dtype=float) - 1
        yield Bound("nose", Message("feed half the nose"), _rows(beyond, shape))
    if kept.chip_least is not None:
        thin = 1 - cuts.chip_thickness / kept.chip_least
        yield _bound("thin", "chip at least {limit}", kept.chip_least, LENGTH, thin, shape)
    if kept.chip_most is not None:
        thick = cuts.largest_chip / kept.chip_most - 1
        yield _bound("thick", "chip at most {limit}", kept.chip_most, LENGTH, thick, shape)
    if kept.deflection_limit is not None:
        bent = abs(cuts.bar_deflection) / kept.deflection_limit - 1
        yield _bound("bar", "bar deflection {limit}", kept.deflection_limit, LENGTH, bent, shape)


def _bound(name: str, text: str, limit: float, kind: Kind, excess: Any, shape: tuple[int, int]) -> Bound:
    return Bound(name, Message(text, {"limit": Quantity(limit, kind, brief=True)}), _rows(excess, shape))


def _rows(values: Any, shape: tuple[int, int]) -> list[list[float]]:
    rows: list[list[float]] = np.broadcast_to(np.asarray(values, dtype=float), shape).tolist()
    return rows


def _best(removed: Any, broken: Any) -> tuple[int, int] | None:
    """The place (row, column) where most is removed within the limits; of equals the first."""
    if broken.all():
        return None
    row, column = np.unravel_index(int(np.argmax(np.where(broken, -np.inf, removed))), removed.shape)
    return int(row), int(column)


def _results(inputs: CompareInputs, swept: Swept, place: tuple[int, int] | None, share: float) -> CompareResults:
    """What the cut comes to at the best place, by the single formulas, which are noted."""
    single = _single(inputs, swept, place or (0, 0))
    if place is None:
        return CompareResults(allowed_share=share)
    running = {f"at_{name}": swept.at(name, getattr(inputs, name), place) for name in (swept.across, swept.up)}
    return CompareResults(allowed_share=share, **running, **single)


def _single(inputs: CompareInputs, swept: Swept, place: tuple[int, int]) -> dict[str, float | None]:
    v, feed = swept.at("surface_speed", inputs.surface_speed, place), swept.at("feed", inputs.feed, place)
    depth, nose = swept.at("depth", inputs.depth, place), swept.at("nose_radius", inputs.nose_radius, place)
    angle = swept.at("entering_angle", inputs.entering_angle, place)
    edge = Edge(nose) if angle is None else Edge(nose, angle)
    chip = chip_of(depth, feed, edge)
    work = material(inputs.material)
    found = force_of(chip, work)
    direction = edge_direction(engagement(depth, edge), edge)
    values: dict[str, float | None] = {
        "removal_rate": removal_rate(v, feed, depth),
        "power": cutting_power(found.force, v),
        "cutting_force": found.force,
        "chip_thickness": chip.thickness,
        "ra": ra_rule(peak_rule_flat(feed, nose)) if nose else None,
        "time": _time(inputs, swept.at("diameter", inputs.diameter, place), v, feed),
        "bar_deflection": _deflection(inputs.bar, found.force, direction, work.group),
    }
    if inputs.limits.chip_most is not None:
        thickest_chip(feed, depth, edge)
    if inputs.limits.ra_limit is not None:
        feed_for_nose(nose)
    return values


def _time(inputs: CompareInputs, diameter: float | None, v: float, feed: float) -> float | None:
    if diameter is None or inputs.rest.cut_length is None:
        return None
    rpm = spindle_speed(v, diameter)
    if inputs.rest.max_rpm is not None:
        rpm = limited_speed.at("", n_v="n")(rpm, inputs.rest.max_rpm)
    return time_at_limit.at("in cut", n_max="n", result="t")(inputs.rest.cut_length, feed, rpm)


def _deflection(given_bar: BarOfCut, force: float, direction: float, group: str) -> float | None:
    """How far the bar bends [mm] in a cut of this force [N], as on the boring page; None where it is pulled in."""
    bar = _bar(given_bar)
    if bar is None:
        return None
    bored = corrected_force(operations()["bore"].force_factor, force)
    if bar.passive_share is None:
        pushed = pushed_away(thrust(ratio_of_thrust(group).usual, bored), direction)
    else:
        pushed = passive_force(bar.passive_share, bored)
    return deflection(bar.beam, pushed, bar.beam.length, "chuck", bar.beam.section()) if pushed > 0.0 else None


def _cautions(
    inputs: CompareInputs, bounds: tuple[Bound, ...], cuts: Cuts, place: tuple[int, int] | None
) -> Iterator[Caution]:
    if place is None:
        everywhere = [bound.name for bound in bounds if np.min(bound.excess) > 0.0]
        names = joined(everywhere, " and ") or "one limit or another"
        yield Caution(Message(_NOTHING, {"names": names}), 3, "allowed_share")
    if not bounds:
        yield Caution(Message(_NO_LIMITS), 1, "removal_rate")
    if inputs.entering_angle is None and np.any(np.greater(cuts.depth, cuts.nose_radius)):
        yield Caution(Message(_DEEPER), 2, "depth")
    yield from unusual_speed(cuts.material, ("rough", "finish"), "", float(np.max(cuts.surface_speed)))
    thinnest = float(np.min(cuts.chip_thickness))
    if inputs.limits.chip_least is None and thinnest < LEAST_MEAN_CHIP:
        values = {"chip": Quantity(thinnest, LENGTH), "least": Quantity(LEAST_MEAN_CHIP, LENGTH)}
        yield Caution(Message(_THIN_SOMEWHERE, values), 2, "chip_least")


def _held(inputs: CompareInputs, cuts: Cuts, chip: float | None) -> Iterator[Caution]:
    """The field's highest feed and fastest spindle against nose, edge and chuck; the `chip` [mm] at the best place."""
    fastest, feed, depth = (float(np.max(values)) for values in (cuts.surface_speed, cuts.feed, cuts.depth))
    angle, nose = inputs.entering_angle, float(np.max(cuts.nose_radius))
    edge = Edge(nose) if angle is None else Edge(nose, angle)
    turned = None
    if cuts.diameter is not None:
        smallest = float(np.min(cuts.diameter))
        turned = running(fastest, smallest, smallest, cuts.max_rpm)
    machine = Machine(max_rpm=cuts.max_rpm, chuck_limit=inputs.rest.chuck_limit)
    chips = () if chip is None else (Shaving(chip, "chip_thickness"),)
    yield from limits(Case(running=turned, fed=(fed_edge(feed, cuts.material, edge, depth),), chips=chips), machine)


def _span(shown: ShownName, values: Any) -> Message:
    one = SHOWN[shown]
    ends: dict[str, Value] = {
        "low": Quantity(float(np.min(values)), one.kind),
        "high": Quantity(float(np.max(values)), one.kind),
    }
    return Message("{label} runs from {low} to {high} over this field.", {**ends, "label": one.label})


_WANTED = "Give a second value to two of the inputs, feed and depth for example: these two are compared."
_TOO_MANY = "Only two inputs can be compared: leave the second value of the others blank."
_NOTHING = "Nothing in this field is allowed: {names} is broken everywhere. Widen the range, or ease a limit."
_THIN_SOMEWHERE = (
    "In part of the field the chip is down to {chip}, less than {least}: there the edge rubs more than it cuts. Give "
    "{least} as the least chip, so that it is hatched."
)
_NO_LIMITS = "No limit is given, so nothing is hatched: give the power, the finish, the chip or the bar's deflection."
_DEEPER = "Part of the field is deeper than the nose of a round insert; there the edge is taken as going on straight."
_MODEL = "Force by the material's first published value (the cutting force page shows the spread); Ra by the rule."

FEATURE = Feature(
    path="speed-feed/compare",
    page="/compare",
    title="Two inputs compared",
    summary="Power, force, finish, chip, time or bar deflection over two inputs, the limits, and what is allowed.",
    solve=solve,
    supporting=("allowed_share", "at_surface_speed", "at_feed", "at_depth", "at_nose_radius", "power"),
    example={
        "material": "C45",
        "shown": "power",
        "surface_speed": "180",
        "feed": "0.1",
        "feed_to": "0.5",
        "depth": "0.5",
        "depth_to": "4",
        "nose_radius": "0.8",
        "entering_angle": "95",
        "power_limit": "8",
        "ra_limit": "3.2",
        "chip_least": "0.08",
        "deflection_limit": "0.02",
        "tool_bar_diameter": "25",
        "stick_out": "80",
    },
)
