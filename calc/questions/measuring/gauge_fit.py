"""Is the gauge good enough: its spread against the tolerance, what tilt and warmth add."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot, pi

from calc.answer.feature import Answer, Feature
from calc.language.checks import require
from calc.language.fields import Declared, choice, given, needed, part, result, word
from calc.language.kinds import TEMPERATURE
from calc.language.limited import limited
from calc.language.messages import Caution, Message, Quantity
from calc.language.problems import Fault, Impossible, Missing
from calc.language.quantities import ANGLE, LENGTH, RATIO
from calc.measuring.bench import FIFTH, TENTH, fineness, true_travel, wanted_spread, warm_error
from calc.measuring.limits import ROUNDED
from calc.measuring.temperature import COEFFICIENTS, MATERIALS, REFERENCE, SPREAD_OF_COEFFICIENT, Expanding


class WarmInputs(Declared):
    """Temperatures; blank: 20 °C."""

    part_temperature: float | None = given(TEMPERATURE, "Part", "T_p", least=-50.0, most=300.0, brief="part")
    gauge_temperature: float | None = given(
        TEMPERATURE, "Gauge", "T_g", least=-50.0, most=300.0, brief="gauge", blank="as the part"
    )
    material: Expanding = choice(
        "Material of the part", MATERIALS, "steel", hint="expansion in µm/(m K); the gauge is steel"
    )


class GaugeFitInputs(Declared):
    """The size with its limits, the gauge, how it stands."""

    size: float = needed(LENGTH, "Size with its limits", "L", above=0.0, hint="24 g6, 28 +0.1/0, 60 ±0.02")
    spread: float | None = given(LENGTH, "Spread of the gauge", "u", above=0.0, hint="half width at 95 %")
    travel: float | None = given(LENGTH, "Travel of the dial", "M", above=0.0, hint="where it stands askew")
    tilt: float | None = given(ANGLE, "Dial askew by", "φ", least=0.0, most=pi / 3)
    warm: WarmInputs = part(WarmInputs, "Temperature")


class GaugeFitResults(Declared):
    """What the gauge can prove."""

    wanted: float = result(
        LENGTH, "Largest spread of the gauge", "u_10", hint="a tenth of the tolerance, common practice"
    )
    tolerance: float = result(LENGTH, "Tolerance", "T", hint="between the limits")
    ratio: float | None = result(RATIO, "Tolerance by spread", "n", hint="ten is wanted, five the least")
    tilt_error: float | None = result(LENGTH, "Reads too much by tilt", hint="cosine error: take it off")
    warm_error: float | None = result(LENGTH, "Reads too much by warmth", "Δ_T", hint="take it off")
    total_spread: float | None = result(LENGTH, "Spread of the corrected size", hint="gauge and expansion together")
    verdict: str | None = word("The gauge")


def solve(inputs: GaugeFitInputs) -> Answer[GaugeFitResults]:
    """What the gauge is good for. Raises Missing, OutOfRange, Impossible.

    >>> from calc.language.given import Given
    >>> found = solve(GaugeFitInputs(size=Given(60.0, limits=(59.95, 60.05)), spread=0.02)).results
    >>> round(found.wanted, 6), round(found.ratio, 3), found.verdict
    (0.01, 5.0, 'just good enough')
    """
    require(inputs)
    limits = limited(inputs.size)
    if limits is None:
        text = "Give the size with its limits, such as 60 ±0.02 or 24 g6."
        raise Missing(Fault("size", Message(text)))
    if (inputs.tilt is None) != (inputs.travel is None):
        field = "travel" if inputs.travel is None else "tilt"
        raise Impossible(Fault(field, Message("Tilt and travel of the dial belong together: give both.")))
    tolerance = limits.upper - limits.lower
    warm, own = _warm(inputs, limits.aimed)
    total = None if inputs.spread is None else hypot(inputs.spread, own)
    ratio = None if total is None else fineness(tolerance, total)
    return Answer(
        results=GaugeFitResults(
            wanted=wanted_spread(tolerance),
            tolerance=tolerance,
            ratio=ratio,
            tilt_error=_tilt(inputs),
            warm_error=warm,
            total_spread=total,
            verdict=None if ratio is None else _verdict(ratio),
        ),
        headline="wanted",
        cautions=tuple(_cautions(inputs, tolerance, ratio, warm)),
    )


def _tilt(inputs: GaugeFitInputs) -> float | None:
    if inputs.tilt is None or inputs.travel is None:
        return None
    return inputs.travel - true_travel(inputs.travel, inputs.tilt)


def _warm(inputs: GaugeFitInputs, size: float) -> tuple[float | None, float]:
    """By how much warmth shows the size too large, and how far the expansion of the table may be off (mm)."""
    warm = inputs.warm
    if warm.part_temperature is None and warm.gauge_temperature is None:
        return None, 0.0
    at = REFERENCE if warm.part_temperature is None else warm.part_temperature
    gauge_at = at if warm.gauge_temperature is None else warm.gauge_temperature
    own = COEFFICIENTS[warm.material]
    spread = SPREAD_OF_COEFFICIENT * own * abs(at - REFERENCE) * size
    return warm_error(size, own, at, COEFFICIENTS["steel"], gauge_at), spread


def _verdict(ratio: float) -> str:
    if ratio >= TENTH - ROUNDED:
        return "good enough"
    return "just good enough" if ratio >= FIFTH - ROUNDED else "too coarse"


def _cautions(inputs: GaugeFitInputs, tolerance: float, ratio: float | None, warm: float | None) -> Iterator[Caution]:
    if ratio is not None and ratio < FIFTH - ROUNDED and inputs.spread is not None:
        text = (
            "A spread of {spread} on a tolerance of {tolerance} proves little: parts near a limit can be called good "
            "or bad by chance. Take a finer gauge, or keep the size away from both limits by the spread."
        )
        values = {"spread": Quantity(inputs.spread, LENGTH), "tolerance": Quantity(tolerance, LENGTH)}
        yield Caution(Message(text, values), 3, "spread")
    if warm is not None and abs(warm) > tolerance / TENTH:
        text = (
            "At these temperatures the reading is off by {warm}, out of a tolerance of {tolerance}: let part and gauge "
            "come to 20 °C together."
        )
        values = {"warm": Quantity(warm, LENGTH), "tolerance": Quantity(tolerance, LENGTH)}
        yield Caution(Message(text, values), 2, "part_temperature")


FEATURE = Feature(
    path="measure/gauge-fit",
    page="/gauge-fit",
    title="Gauge good enough?",
    summary="The largest gauge spread for a tolerance, and what a tilted dial and a warm part add to a reading.",
    solve=solve,
    supporting=("tolerance", "warm_error", "tilt_error", "ratio", "verdict"),
    example={"size": "60 ±0.02", "spread": "0.004", "part_temperature": "35", "gauge_temperature": "22"},
)
