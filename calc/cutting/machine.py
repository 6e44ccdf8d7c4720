"""What machine, chuck, work and tool bar give: declared once for every question, with what a cut takes of it.

The spindle gives a constant torque up to its base speed and a constant power above it. Power is given at the motor;
what reaches the cut is less by the losses of the drive.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

from calc.cutting import nouns
from calc.cutting.holding import force_at_jaws, grip_against_both, grip_against_tilt
from calc.cutting.stiffness import BarOf, Held
from calc.language.fields import Declared, result
from calc.language.quantities import (
    FORCE,
    POWER,
    RATIO,
    SPINDLE_SPEED,
    Diameter,
    Force,
    Power,
    Ratio,
    SpindleSpeed,
    Torque,
)
from calc.language.working import formula

USUAL_EFFICIENCY = 0.8  # Machinery's Handbook 31, Table 4: geared head 0.70 to 0.80, direct belt 0.90; from memory
FRICTION = 0.1  # smooth jaws on turned steel; VDI 3106, from memory
GRIP_SAFETY = 1.5  # VDI 3106: at least


class Machine(Declared):
    """What the machine and its chuck allow."""

    max_rpm: float | None = nouns.MAX_RPM.given()
    motor_power: float | None = nouns.MOTOR_POWER.given()
    efficiency: float | None = nouns.EFFICIENCY.given()
    base_rpm: float | None = nouns.BASE_RPM.given()
    rated_torque: float | None = nouns.RATED_TORQUE.given()
    chuck_limit: float | None = nouns.CHUCK_LIMIT.given()
    grip_force: float | None = nouns.GRIP_FORCE.given()


class Work(Declared):
    """What is in the chuck, and how it is held."""

    work_diameter: float | None = nouns.WORK_DIAMETER.given()
    length_out: float | None = nouns.LENGTH_OUT.given()
    grip_length: float | None = nouns.GRIP_LENGTH.given()
    held: Held = nouns.HELD.chosen()


class ToolBar(Declared):
    """The bar or shank that carries the edge."""

    tool_bar_diameter: float | None = nouns.TOOL_BAR_DIAMETER.given(symbol="d_b")
    stick_out: float | None = nouns.STICK_OUT.given(symbol="L_b", hint="from the clamping to the edge")
    tool_bar_material: BarOf = nouns.TOOL_BAR_MATERIAL.chosen()


class LoadResults(Declared):
    """The cut against the machine; None where something is not known."""

    spindle_rpm: float | None = result(SPINDLE_SPEED, "Spindle speed", "n")
    motor_power_needed: float | None = result(POWER, "Power at the motor", "P_m")
    power_available: float | None = result(
        POWER,
        "Power available",
        "P_n",
        hint="from the base speed up; below it known only with base speed or torque",
    )
    load: float | None = result(RATIO, "Share used")
    grip_needed: float | None = result(FORCE, "Grip force needed", hint="all jaws, smooth, at this speed")
    grip_against_tilt: float | None = result(FORCE, "Grip against tilting", hint="cut at the free end, three jaws")


@formula(source="losses of the drive", means="power at the motor", result="P_m", symbols={"eta": "eta"})
def power_at_motor(P: Power, eta: Ratio) -> Power:
    """Power at the motor [N mm/min] for `P` [N mm/min] at the spindle and the drive's efficiency `eta`.

    Source: definition of efficiency.

    >>> round(power_at_motor(5.09134, 0.8), 4)
    6.3642
    """
    return P / eta


@formula(source="constant torque up to the base speed, constant power above it", means="power there", result="P_n")
def power_on_curve(P_m: Power, eta: Ratio, n: SpindleSpeed, n_b: SpindleSpeed) -> Power:
    """Power [N mm/min] at the spindle at `n` [1/min] of a motor of `P_m` [N mm/min] with base speed `n_b` [1/min].

    Source: how a drive with constant torque below its base speed is rated.

    >>> power_on_curve(10.0, 0.8, 500.0, 1000.0), power_on_curve(10.0, 0.8, 3000.0, 1000.0)
    (4.0, 8.0)
    """
    return P_m * eta * min(n / n_b, 1)


@formula(source="losses of the drive", means="power at the spindle", result="P_n")
def power_of_motor(P_m: Power, eta: Ratio) -> Power:
    """Power [N mm/min] at the spindle of a motor of `P_m` [N mm/min]. Source: definition of efficiency.

    >>> power_of_motor(10.0, 0.8)
    8.0
    """
    return P_m * eta


@formula(source="definition of power", means="power of the largest torque", result="P_M")
def power_of_torque(M_max: Torque, n: SpindleSpeed) -> Power:
    """Power [N mm/min] of the torque `M_max` [N mm] at `n` [1/min]. Source: definition of power.

    >>> round(power_of_torque(100_000.0, 1000.0) / 60e6, 3)
    10.472
    """
    return 2 * pi * M_max * n


@formula(source="share of what the machine gives", means="load", result="q")
def load_share(P: Power, P_n: Power) -> Ratio:
    """The cut's power as a share of what the machine gives, both [N mm/min]. Source: definition.

    >>> load_share(4.0, 8.0)
    0.5
    """
    return P / P_n


@formula(source="torque of the cut held by friction, VDI 3106", means="grip force needed", result="F_g")
def grip_against_torque(S: Ratio, F_c: Force, D: Diameter, mu: Ratio, D_w: Diameter) -> Force:
    """Grip force [N, all jaws] that holds the torque of `F_c` [N] on `D` [mm] where the work is held on `D_w` [mm].

    `S` is the safety, `mu` the friction of the jaws. Source: VDI 3106, torque alone.

    >>> round(grip_against_torque(1.5, 2000.0, 60.0, 0.1, 60.0), 6)
    30000.0
    """
    return S * F_c * D / (mu * D_w)


@dataclass(frozen=True, slots=True)
class Cut:
    """What a cut asks of the machine: force [N] and its highest published value, diameter [mm], power [N mm/min].

    `axial` [N] is its force along the axis, or the most that it can be. What has its edges in balance,
    a drill or a tap, does not tilt the work: it `tilts` nothing.
    """

    force: float
    force_high: float
    power: float
    diameter: float | None = None
    rpm: float | None = None
    axial: float | None = None
    tilts: bool = True


def available_power(machine: Machine, rpm: float | None) -> float | None:
    """Power [N mm/min] that the spindle gives at `rpm` [1/min]; the lower of what power and torque allow.

    None where nothing of the machine is known. Source: constant torque up to the base speed, constant power above it.

    >>> round((available_power(Machine(motor_power=11 * 60e6, base_rpm=1000.0), 500.0) or 0) / 60e6, 3)
    4.4
    """
    eta = USUAL_EFFICIENCY if machine.efficiency is None else machine.efficiency
    found = []
    if machine.motor_power is not None:
        if machine.base_rpm is not None and rpm is not None:
            found.append(power_on_curve(machine.motor_power, eta, rpm, machine.base_rpm))
        else:
            found.append(power_of_motor(machine.motor_power, eta))
    if machine.rated_torque is not None and rpm is not None:
        found.append(power_of_torque(machine.rated_torque, rpm))
    return min(found, default=None)


def load_of(cut: Cut, machine: Machine, work: Work | None = None) -> LoadResults:
    """The cut against machine and chuck. Source: see the formulas.

    >>> found = load_of(Cut(1000.0, 1200.0, 6 * 60e6), Machine(motor_power=11 * 60e6))
    >>> round(found.load, 3)
    0.682
    """
    asked = machine.motor_power is not None or machine.efficiency is not None
    eta = USUAL_EFFICIENCY if machine.efficiency is None else machine.efficiency
    available = available_power(machine, cut.rpm)
    return LoadResults(
        spindle_rpm=cut.rpm,
        motor_power_needed=power_at_motor(cut.power, eta) if asked else None,
        power_available=available,
        load=load_share(cut.power, available) if available else None,
        grip_needed=_grip(cut, machine, work),
        grip_against_tilt=_tilt(cut, machine, work),
    )


def _grip(cut: Cut, machine: Machine, work: Work | None) -> float | None:
    """The grip [N] against turning and along the axis; None where it is not known how the work is held."""
    held_on = work.work_diameter if work else None
    if machine.grip_force is None or cut.diameter is None or held_on is None:
        return None
    if not cut.axial:
        return grip_against_torque(GRIP_SAFETY, cut.force, cut.diameter, FRICTION, held_on)
    return grip_against_both(GRIP_SAFETY, force_at_jaws(cut.force * cut.diameter / 2, held_on), cut.axial, FRICTION)


def _tilt(cut: Cut, machine: Machine, work: Work | None) -> float | None:
    """The grip [N] against tilting of work that stands out of the jaws alone."""
    if machine.grip_force is None or work is None or work.held != "chuck" or not cut.tilts:
        return None
    if work.length_out is None or work.grip_length is None or work.work_diameter is None:
        return None
    out, inside = work.length_out, work.grip_length
    return grip_against_tilt(GRIP_SAFETY, cut.force, out, inside, FRICTION, work.work_diameter)


def limited_rpm(wanted: float, machine: Machine) -> float:
    """The spindle speed [1/min] after the machine's limit, if it has one.

    >>> limited_rpm(3000.0, Machine(max_rpm=2000.0)), limited_rpm(3000.0, Machine())
    (2000.0, 3000.0)
    """
    return wanted if machine.max_rpm is None else min(wanted, machine.max_rpm)
