"""Spindle speed at constant surface speed, with a limit, and where the limit takes over."""

from __future__ import annotations

from math import pi
from typing import NamedTuple

from calc.language.fields import MOST
from calc.language.messages import Message
from calc.language.problems import Fault, Impossible
from calc.language.quantities import Diameter, SpindleSpeed, SurfaceSpeed
from calc.language.working import formula

NO_DIAMETER = 1e-6  # mm: nearer to the axis than this is on it
_DEFINITION = "definition of surface speed"


@formula(source=_DEFINITION, means="spindle speed", result="n")
def spindle_speed(v: SurfaceSpeed, D: Diameter) -> SpindleSpeed:
    """Spindle speed [1/min] that gives surface speed `v` [mm/min] at diameter `D` [mm, above 0]. Source: definition.

    >>> round(spindle_speed(220_000.0, 56.205))
    1246
    """
    return v / (pi * D)


@formula(source="the control holds the spindle at its limit", means="spindle speed with the limit", result="n")
def limited_speed(n_v: SpindleSpeed, n_max: SpindleSpeed) -> SpindleSpeed:
    """The lower of the speed asked for and the limit, both [1/min]. Source: how a limited control works.

    >>> limited_speed(4000.0, 2000.0)
    2000.0
    """
    return min(n_v, n_max)


@formula(source=_DEFINITION, means="diameter at which the spindle limit takes over", result="D_lim")
def limit_diameter(v: SurfaceSpeed, n_max: SpindleSpeed) -> Diameter:
    """Diameter [mm] inside which surface speed `v` [mm/min] would need more than `n_max` [1/min]. Source: definition.

    >>> round(limit_diameter(220_000.0, 2000.0), 4)
    35.0141
    """
    return v / (pi * n_max)


@formula(source=_DEFINITION, means="surface speed", result="v")
def surface_speed(D: Diameter, n: SpindleSpeed) -> SurfaceSpeed:
    """Surface speed [mm/min] at diameter `D` [mm] while the spindle turns at `n` [1/min]. Source: definition.

    >>> round(surface_speed(150.0, 250.0) / 1000, 2)
    117.81
    """
    return pi * D * n


class SpindleState(NamedTuple):
    """What the spindle does at one diameter: speed [1/min], and whether the limit holds it there."""

    rpm: float
    limited: bool


def spindle_at(diameter: float, v: float, max_rpm: float | None, where: str = "") -> SpindleState:
    """The spindle at `diameter` [mm, 0 or more] for surface speed `v` [mm/min]; `max_rpm` None is no limit.

    `where` names the place in the working. Raises Impossible without a limit on the axis, or so near it that no
    spindle turns fast enough.

    >>> spindle_at(20.0, 220_000.0, 2000.0)
    SpindleState(rpm=2000.0, limited=True)
    >>> spindle_at(0.0, 220_000.0, 2000.0).limited
    True
    """
    if diameter < NO_DIAMETER:
        return _on_the_axis(max_rpm)
    wanted = spindle_speed.at(where, result="n" if max_rpm is None else "n_v")(v, diameter)
    if max_rpm is None:
        if wanted > MOST["spindle speed"]:
            return _on_the_axis(max_rpm)
        return SpindleState(wanted, limited=False)
    return SpindleState(limited_speed.at(where)(wanted, max_rpm), limited=wanted > max_rpm)


def _on_the_axis(max_rpm: float | None) -> SpindleState:
    if max_rpm is None:
        raise Impossible(
            Fault("max_rpm", Message("On the axis no spindle speed gives this surface speed: give the spindle limit."))
        )
    return SpindleState(max_rpm, limited=True)
