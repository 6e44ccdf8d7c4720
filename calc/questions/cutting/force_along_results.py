"""What force and power along a pass are shown as: the largest values, the pass as a whole, place by place."""

from __future__ import annotations

from calc.cutting.machine import LoadResults
from calc.language.fields import Declared, part, result
from calc.language.kinds import ENERGY
from calc.language.quantities import FORCE, LENGTH, POWER, SPINDLE_SPEED, SURFACE_SPEED, TIME, TORQUE, X, Z

HARDEST = "Against the machine, where it is hardest"


class LargestResults(Declared):
    """The largest values and where they stand."""

    largest_power: float = result(POWER, "Largest power at the spindle", "P", brief="power")
    largest_power_x: float = result(X, "Largest power is at", brief="at")
    largest_power_high: float = result(POWER, "Largest power, by the highest published force")
    largest_force: float = result(FORCE, "Largest cutting force", "F_c", brief="force")
    largest_force_x: float = result(X, "Largest force begins at", brief="from")
    largest_torque: float = result(TORQUE, "Largest torque", "M")
    largest_torque_x: float = result(X, "Largest torque is at")
    deepest: float = result(LENGTH, "Deepest cut", "a_n", hint="along the normal")
    shallowest: float = result(LENGTH, "Shallowest cut", hint="along the normal")


class MeanResults(Declared):
    """The pass as a whole."""

    time: float = result(TIME, "Time in cut", "t", brief="time")
    energy: float = result(ENERGY, "Energy that the cut takes", "W")
    mean_power: float = result(
        POWER, "Mean power at the spindle", "P_a", hint="over the time in cut", brief="mean power"
    )


class ForceAlongResults(Declared):
    """Force and power over the pass."""

    largest: LargestResults = part(LargestResults, "Largest values")
    mean: MeanResults = part(MeanResults, "Over the whole pass")
    machine_load: LoadResults = part(LoadResults, HARDEST)


class LoadRow(Declared):
    """One place along the contour."""

    x: float = result(X, "X of the contact")
    z: float = result(Z, "Z of the contact")
    depth: float = result(LENGTH, "Depth, along the normal", "a_n")
    chip: float = result(LENGTH, "Mean chip", "h_m")
    rpm: float = result(SPINDLE_SPEED, "Spindle", "n")
    true_speed: float = result(SURFACE_SPEED, "True surface speed", "v")
    force: float = result(FORCE, "Cutting force", "F_c")
    power: float = result(POWER, "Power", "P")
    available: float | None = result(POWER, "Machine gives", "P_n")
