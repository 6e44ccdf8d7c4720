"""The passes of a thread on the lathe: diameters, infeed, place along the axis, chip, force; and how many to take."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal, NamedTuple

from calc.contour import Point
from calc.cutting.force import specific_force
from calc.cutting.materials import Material
from calc.cutting.tools import operations
from calc.language.messages import Message, Phrase, Quantity, Value
from calc.language.problems import Fault, Impossible
from calc.language.quantities import LENGTH, Area, Diameter, Force, Length, Pressure, Ratio
from calc.language.working import formula, recording
from calc.threads.infeed import chip_thickness, depths, groove_section, infeed_angle, shift_along
from calc.threads.insert import tip_diameter
from calc.threads.thread import Thread

USUAL_COUNTS = (
    (0.5, 4), (0.75, 4), (1.0, 5), (1.25, 6), (1.5, 6), (1.75, 8), (2.0, 8), (2.5, 10), (3.0, 12), (3.5, 12), (4.0, 14),
    (5.0, 14), (6.0, 16), (8.0, 20), (12.0, 28),
)  # fmt: skip
"""Passes up to and including a pitch [mm], in steel; printed threading handbooks, from memory."""

MOST_USUAL = 32
BY_GROUP = {"P": 1.0, "M": 1.25, "K": 1.0, "N": 0.8, "S": 1.5, "H": 1.5}
"""Times as many passes by material group; common practice, no source."""

LEAST_DEPTH = 0.3  # of the profile's depth, below which a nose does not cut a thread; common practice, no source
THINNEST = 0.01  # mm: chips thinner than that are taken as this thick for the force; common practice, no source


@dataclass(frozen=True, slots=True)
class Plan:
    """What the passes share: the thread, depths from `crest` to `tip` (diameters [mm]), method and direction."""

    thread: Thread
    crest: float
    tip: float
    depth: float
    method: str
    direction: str
    count: int
    spring: int
    nose: float | None


class Cut(NamedTuple):
    """One pass [mm, N]: diameter at the tip, infeed, depth so far, place along the axis, chip, area [mm2], force."""

    number: int
    diameter: float
    infeed: float
    depth: float
    shift: float
    chip: float
    area: float
    force: float


@formula(source="the crest of the profile, as deep as it is", means="diameter at which the depth begins", result="d_c")
def crest_diameter(d_t: Diameter, h: Length, s: Ratio) -> Diameter:
    """Diameter [mm] from which the depth `h` counts, the tip ending at `d_t` [mm]; `s` is 1 outside, -1 inside.

    Source: definition.

    >>> crest_diameter(20.0, 2.0, 1.0)
    24.0
    """
    return d_t + 2 * s * h


@formula(source="infeed on diameter", means="diameter at the tip", result="d_i")
def diameter_of_pass(d_c: Diameter, a_i: Length, s: Ratio) -> Diameter:
    """Diameter [mm] at the tip at the depth `a_i` below `d_c` [mm]; `s` is 1 outside, -1 inside. Source: definition.

    >>> diameter_of_pass(24.0, 0.5, 1.0), diameter_of_pass(20.0, 0.5, -1.0)
    (23.0, 21.0)
    """
    return d_c - 2 * s * a_i


@formula(source="Kienzle formula on the area of the chip", means="cutting force of the pass", result="F_c")
def force_of_pass(K: Ratio, k_c: Pressure, A: Area) -> Force:
    """Cutting force [N] of a chip of the area `A` [mm2] at `k_c` [N/mm2], corrected by `K`. Source: Kienzle formula.

    >>> force_of_pass(1.3, 2000.0, 0.5)
    1300.0
    """
    return K * k_c * A


def usual_count(pitch: float, group: str) -> int:
    """How many passes are usual for a `pitch` [mm] in a material `group` (ISO 513). Source: `USUAL_COUNTS`.

    >>> usual_count(1.5, "P"), usual_count(1.5, "M"), usual_count(3.0, "P")
    (6, 8, 12)
    """
    steel = next((count for up_to, count in USUAL_COUNTS if pitch <= up_to + 1e-9), MOST_USUAL)
    return min(round(steel * BY_GROUP.get(group, 1.0)), MOST_USUAL)


def plan_of(thread: Thread, method: str, direction: str, count: int, spring: int, nose: float | None) -> Plan:
    """What the passes of `thread` share, by a `method`, in a `direction`, `count` cutting and `spring` passes.

    `nose` [mm] is that of the tool, None for the profile's own root. The depth is that of the profile; another nose
    goes as much deeper or less deep as the pitch diameter asks. Raises Impossible at `nose_radius` for one too large.

    >>> from calc.threads.thread import thread_of
    >>> plan = plan_of(thread_of("M24-6g"), "constant-area", "straight", 12, 1, None)
    >>> round(plan.tip, 3), round(plan.depth, 4)
    (20.113, 1.8403)
    """
    side = 1.0 if thread.sizes.outside else -1.0
    own = tip_diameter(thread, None)
    crest = crest_diameter(own, thread.sizes.depth, side)
    tip = own if nose is None else tip_diameter(thread, nose)
    depth = side * (crest - tip) / 2
    if nose is not None and depth < LEAST_DEPTH * thread.sizes.depth:
        values: dict[str, Value] = {"nose": Quantity(nose, LENGTH), "pitch": Quantity(thread.named.pitch, LENGTH)}
        text = "A nose of {nose} is too large for a pitch of {pitch}: it would not reach into the thread."
        raise Impossible(Fault("nose_radius", Message(text, values)))
    return Plan(thread, crest, tip, depth, method, direction, count, spring, nose)


def cuts(plan: Plan, work: Material) -> tuple[Cut, ...]:
    """The passes of a plan in `work`, spring passes last. The working keeps chip and force of the first and the last.

    Source: as the formulas.

    >>> from calc.cutting.materials import material
    >>> from calc.threads.thread import thread_of
    >>> found = cuts(plan_of(thread_of("M24-6g"), "constant-area", "straight", 4, 1, None), material("C45"))
    >>> [round(cut.infeed, 3) for cut in found]
    [0.92, 0.381, 0.292, 0.247, 0.0]
    """
    found, before = [], 0.0
    for number, depth in enumerate(depths(plan.method, plan.depth, plan.count), 1):
        found.append(_cut(plan, work, number, before, depth))
        before = depth
    last = found[-1]
    springs = (
        last._replace(number=plan.count + i, infeed=0.0, chip=0.0, area=0.0, force=0.0)
        for i in range(1, plan.spring + 1)
    )
    return (*found, *springs)


def _cut(plan: Plan, work: Material, number: int, before: float, depth: float) -> Cut:
    """One pass; only the first and the last stay in the working."""
    if number in (1, plan.count):
        return _computed(plan, work, number, before, depth)
    with recording():
        return _computed(plan, work, number, before, depth)


def _computed(plan: Plan, work: Material, number: int, before: float, depth: float) -> Cut:
    sizes, where = plan.thread.sizes, Phrase("pass {number}", number=number)
    side = 1.0 if sizes.outside else -1.0
    flat, radius = (sizes.root_flat, sizes.root_rounding) if plan.nose is None else (0.0, plan.nose)
    area = groove_section(depth, flat, radius, sizes.alpha) - groove_section(before, flat, radius, sizes.alpha)
    chip = chip_thickness(plan.direction, depth - before, sizes.alpha, where)
    used = work.forces[0]
    kc = specific_force.at(where)(used.kc11, max(chip, THINNEST), used.mc)
    force = force_of_pass.at(where)(operations()["thread"].force_factor, kc, area)
    shift = shift_along.at(where)(depth, infeed_angle(plan.direction, sizes.alpha))
    if plan.direction == "alternating" and number % 2 == 0:
        shift = -shift
    diameter = diameter_of_pass.at(where)(plan.crest, depth, side)
    return Cut(number, diameter, depth - before, depth, shift, chip, area, force)


class Move(NamedTuple):
    """One straight move of the tool's tip: rapid or in step with the spindle, why, and where it ends."""

    kind: Literal["rapid", "thread"]
    why: Literal["approach", "cut", "retract", "return"]
    end: Point


def moves(
    plan: Plan, found: tuple[Cut, ...], start_z: float, end_z: float, clear: float, taper: float = 0.0
) -> Iterator[Move]:
    """The tip's moves for the passes `found`: in, along in step with the spindle, out, back; start by start.

    `start_z` is where the run-up begins, `end_z` where the run-out ends, `clear` how far the tip is withdrawn from the
    crest [mm, radius]; `taper` on diameter per length. ISO signs.

    >>> from calc.cutting.materials import material
    >>> from calc.threads.thread import thread_of
    >>> plan = plan_of(thread_of("M24-6g"), "constant-area", "straight", 2, 0, None)
    >>> steps = list(moves(plan, cuts(plan, material("C45")), 6.0, -22.0, 2.0))
    >>> [step.why for step in steps[:4]], round(steps[1].end.z, 1), round(steps[1].end.r, 3)
    (['approach', 'cut', 'retract', 'return'], -22.0, 10.596)
    """
    side = 1.0 if plan.thread.sizes.outside else -1.0
    away = plan.crest / 2 + side * clear
    rise = side * taper / 2 * (start_z - end_z)
    for start in range(plan.thread.named.starts):
        turned = start * plan.thread.named.pitch
        for cut in found:
            begin = start_z + turned + cut.shift
            yield Move("rapid", "approach", Point(begin, cut.diameter / 2))
            yield Move("thread", "cut", Point(end_z, cut.diameter / 2 + rise))
            yield Move("rapid", "retract", Point(end_z, away + max(rise, 0.0)))
            yield Move("rapid", "return", Point(begin, away + max(rise, 0.0)))
