"""Spindle speed for a surface speed at a diameter, with the spindle limit; and the surface speed of a spindle speed."""

from __future__ import annotations

from typing import NamedTuple, cast

from calc.answer.feature import Answer, Feature
from calc.cutting import nouns
from calc.cutting.limits import Case, Running, limits, running
from calc.cutting.machine import Machine, Work
from calc.cutting.speed import limit_diameter, spindle_at, surface_speed
from calc.language.checks import require
from calc.language.fields import Declared, flag, given, result
from calc.language.messages import Caution, Message, Quantity
from calc.language.problems import Contradiction, Fault, Missing
from calc.language.quantities import DIAMETER, SPINDLE_SPEED, SURFACE_SPEED


class SpindleInputs(Declared):
    """Surface speed or spindle speed, diameter; the limit; the chuck's marked limit and length out, for cautions."""

    surface_speed: float | None = nouns.SURFACE_SPEED.given()
    diameter: float | None = given(DIAMETER, "Diameter", "D", least=0.0, hint="where the tool cuts")
    max_rpm: float | None = nouns.MAX_RPM.given()
    chuck_limit: float | None = nouns.CHUCK_LIMIT.given()
    length_out: float | None = nouns.LENGTH_OUT.given()
    rpm_set: float | None = given(
        SPINDLE_SPEED, "Spindle speed set", "n", above=0.0, hint="in place of the surface speed, to see what it gives"
    )


class SpindleResults(Declared):
    """What the spindle does at this diameter."""

    rpm: float = result(SPINDLE_SPEED, "Spindle speed", "n")
    limited: bool = flag("Held by the limit")
    limit_diameter: float | None = result(
        DIAMETER, "Limit takes over at", "D_lim", hint="inside it the surface speed falls"
    )
    true_speed: float = result(SURFACE_SPEED, "Surface speed there", "v")


class Cut(NamedTuple):
    """The surface speed asked for (mm/min), the diameter (mm), and the surface speed reached there."""

    wanted: float
    diameter: float
    reached: float


def solve(inputs: SpindleInputs) -> Answer[SpindleResults]:
    """The spindle speed. Raises Missing, OutOfRange; Impossible on the axis without a limit.

    >>> found = solve(SpindleInputs(surface_speed=220_000.0, diameter=20.0, max_rpm=2000.0)).results
    >>> found.rpm, found.limited, round(found.limit_diameter, 4)
    (2000.0, True, 35.0141)
    """
    require(inputs)
    (v, diameter), max_rpm = _wanted(inputs), inputs.max_rpm
    state = spindle_at(diameter, v, max_rpm)
    reached = surface_speed.at("with the limit")(diameter, state.rpm) if state.limited else v
    return Answer(
        results=SpindleResults(
            rpm=state.rpm,
            limited=state.limited,
            limit_diameter=None if max_rpm is None else limit_diameter(v, max_rpm),
            true_speed=reached,
        ),
        headline="rpm" if inputs.rpm_set is None else "true_speed",
        cautions=_cautions(inputs, Cut(v, diameter, reached), limited=state.limited),
    )


def _wanted(inputs: SpindleInputs) -> tuple[float, float]:
    """The surface speed that is asked for, or that the spindle speed gives, and the diameter.

    Raises Missing, or Contradiction where both speeds are given.
    """
    v, diameter, n = inputs.surface_speed, inputs.diameter, inputs.rpm_set
    if diameter is None or (v is None and n is None):
        lacking = (("surface_speed", "Give the surface speed."), ("diameter", "Give the diameter."))
        known = {"surface_speed": v is not None or n is not None, "diameter": diameter is not None}
        raise Missing(*(Fault(field, Message(text)) for field, text in lacking if not known[field]))
    if v is not None and n is not None:
        both = Fault("rpm_set", Message("Give the surface speed or the spindle speed, not both."))
        raise Contradiction(both, fields=("surface_speed", "rpm_set"))
    return (surface_speed(diameter, n) if n is not None else cast("float", v)), diameter


def _cautions(inputs: SpindleInputs, cut: Cut, *, limited: bool) -> tuple[Caution, ...]:
    machine = Machine(max_rpm=inputs.max_rpm, chuck_limit=inputs.chuck_limit)
    work = Work(work_diameter=cut.diameter or None, length_out=inputs.length_out)
    turned = running(cut.wanted, cut.diameter, 0.0, inputs.max_rpm)
    if inputs.rpm_set is not None:  # it stays as it is on the way in
        n = min(inputs.rpm_set, inputs.max_rpm or inputs.rpm_set)
        turned = Running(n, n)
    slow = (Caution(_slow(cut), 1, "rpm"),) if limited else ()
    return (*limits(Case(running=turned), machine, work), *slow)


def _slow(cut: Cut) -> Message:
    return Message(
        "At {diameter} the limit leaves {reached} of the {wanted} asked for: expect a rougher surface and a built-up "
        "edge there; feed less toward the axis.",
        {
            "diameter": Quantity(cut.diameter, DIAMETER),
            "reached": Quantity(cut.reached, SURFACE_SPEED),
            "wanted": Quantity(cut.wanted, SURFACE_SPEED),
        },
    )


FEATURE = Feature(
    path="speed-feed/spindle",
    title="Spindle speed",
    summary="Spindle speed for a surface speed at a diameter, and the diameter at which the spindle limit takes over.",
    solve=solve,
    page="/spindle",
    supporting=("true_speed", "limit_diameter", "limited"),
    example={"surface_speed": "220", "diameter": "60", "max_rpm": "2000", "chuck_limit": "3200"},
)
