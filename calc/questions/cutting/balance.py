"""Odd pieces on a faceplate or in a chuck: the pull of what is out of balance, and the weight that balances it."""

from __future__ import annotations

from collections.abc import Iterator
from math import atan2, cos, pi, sin

from calc.answer.feature import Answer, Feature
from calc.cutting.limits import Case, Running, limits
from calc.cutting.machine import Machine
from calc.cutting.unbalance import counterweight, pull_of, unbalance_of
from calc.language.checks import require
from calc.language.fields import Declared, given, needed, part, result, rows
from calc.language.kinds import INERTIA, MASS_MOMENT
from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.quantities import ANGLE, FORCE, LENGTH, MASS, SPINDLE_SPEED

HARD_PULL = 0.1  # of the grip; common practice, no source
SMALL = 1e-12


class PieceRow(Declared):
    """Something whose centre of mass is not on the axis: the work, a clamp, an angle plate, a weight."""

    piece_mass: float = needed(MASS, "Mass", "m", above=0.0)
    off_axis: float = needed(LENGTH, "Centre of mass from the axis", "r", least=0.0)
    at_angle: float = given(ANGLE, "At the angle", "φ", least=-2 * pi, most=2 * pi, blank="0", default=0.0)


class BalanceInputs(Declared):
    """The pieces, the radius for a counterweight, the speed."""

    pieces: tuple[PieceRow, ...] = rows(
        PieceRow, "Pieces off the axis", one="Piece", hint="work, clamps, weights", fewest=1, most=20
    )
    counter_radius: float | None = given(LENGTH, "Radius for a counterweight", "r_c", above=0.0)
    rpm: float | None = given(SPINDLE_SPEED, "Spindle speed", "n", above=0.0, least=1.0)
    machine: Machine = part(Machine, "Machine and chuck")


class BalanceResults(Declared):
    """What is out of balance, and what balances it."""

    unbalance: float = result(MASS_MOMENT, "Out of balance", "U", hint="mass times radius")
    counter_mass: float | None = result(MASS, "Counterweight", "m_c")
    counter_angle: float | None = result(ANGLE, "Set it at the angle", "φ_c")
    pull: float | None = result(FORCE, "Pull at this speed", "F_u", hint="without the counterweight")


def solve(inputs: BalanceInputs) -> Answer[BalanceResults]:
    """The balance. Raises Missing, OutOfRange.

    >>> found = solve(BalanceInputs(pieces=(PieceRow(piece_mass=4.0, off_axis=50.0),), counter_radius=100.0)).results
    >>> round(found.counter_mass, 3), round(found.counter_angle / pi, 3)
    (2.0, 1.0)
    """
    require(inputs)
    across = sum(piece.piece_mass * piece.off_axis * cos(piece.at_angle) for piece in inputs.pieces)
    up = sum(piece.piece_mass * piece.off_axis * sin(piece.at_angle) for piece in inputs.pieces)
    unbalance = unbalance_of(across * float(INERTIA), up * float(INERTIA))
    whole = sum(piece.piece_mass * piece.off_axis for piece in inputs.pieces) * float(INERTIA)
    balanced = unbalance <= SMALL * whole
    radius = inputs.counter_radius
    results = BalanceResults(
        unbalance=0.0 if balanced else unbalance,
        counter_mass=None if radius is None else counterweight(unbalance, radius) / float(INERTIA),
        counter_angle=None if balanced else atan2(-up, -across) % (2 * pi),
        pull=None if inputs.rpm is None else pull_of(unbalance, inputs.rpm),
    )
    turned = None if inputs.rpm is None else Running(inputs.rpm, inputs.rpm)
    return Answer(
        results=results,
        headline="unbalance" if results.counter_mass is None else "counter_mass",
        cautions=(*_cautions(inputs, results), *limits(Case(running=turned), inputs.machine)),
        notes=(Message(_ASSUMED),),
    )


def _cautions(inputs: BalanceInputs, found: BalanceResults) -> Iterator[Caution]:
    grip = inputs.machine.grip_force
    if found.pull is not None and grip is not None and found.pull > HARD_PULL * grip:
        values: dict[str, Value] = {"pull": Quantity(found.pull, FORCE), "grip": Quantity(grip, FORCE)}
        yield Caution(Message(_PULLS, values), 3, "pull")
    if found.unbalance > 0.0:
        yield Caution(Message(_CLAMPED), 2, "unbalance")


_ASSUMED = (
    "Pieces lie in one plane across the axis; a counterweight far from that plane still shakes the spindle. Angles run "
    "from any mark, seen from the tailstock. Turn the spindle by hand in its lowest drive and let it come to rest: it "
    "must stop anywhere."
)
_PULLS = (
    "Out of balance the work pulls with {pull} against a grip of {grip}: it may climb out. Set the counterweight, or "
    "turn slower: half the speed pulls a quarter."
)
_CLAMPED = (
    "Bolt pieces and counterweight down, each against a stop outside it: clamps alone let go at speed. Begin slowly, "
    "and stand clear of the plane in which they turn."
)

FEATURE = Feature(
    path="speed-feed/balance",
    title="Balance of odd pieces",
    summary="The pull of odd pieces at a speed, and the counterweight, with its angle, that balances them.",
    solve=solve,
    page="/balance",
    supporting=("counter_angle", "unbalance", "pull"),
    example={
        "pieces": "piece_mass:6~off_axis:40*piece_mass:0.8~off_axis:110~at_angle:120",
        "counter_radius": "140",
        "rpm": "400",
        "max_rpm": "600",
        "chuck_limit": "1800",
        "grip_force": "20000",
    },
)
