"""What a warm part or a warm gauge makes of a reading: sizes are those at 20 °C (ISO 1)."""

from __future__ import annotations

from typing import Literal

from calc.language.kinds import Expansion, Temperature
from calc.language.quantities import Length
from calc.language.working import formula

REFERENCE = 20.0
"""°C: the temperature at which a size is meant, ISO 1."""

# Mean linear expansion near 20 °C, 1e-6 per kelvin; common handbook values, rounded.
COEFFICIENTS = {
    "steel": 11.5e-6,
    "stainless": 16.5e-6,
    "cast-iron": 10.5e-6,
    "aluminium": 23.5e-6,
    "brass": 19e-6,
    "titanium": 8.6e-6,
}
Expanding = Literal["steel", "stainless", "cast-iron", "aluminium", "brass", "titanium"]
MATERIALS: dict[Expanding, str] = {
    "steel": "steel, 11.5",
    "stainless": "stainless steel, austenitic, 16.5",
    "cast-iron": "cast iron, 10.5",
    "aluminium": "aluminium, 23.5",
    "brass": "brass, 19",
    "titanium": "titanium, 8.6",
}
SPREAD_OF_COEFFICIENT = 0.1
"""An alloy's own value may differ from the table's by a tenth."""


@formula(means="size at 20 °C", source="linear expansion; ISO 1 fixes 20 °C", result="L_20")
def at_twenty(M: Length, a_p: Expansion, T_p: Temperature, a_g: Expansion, T_g: Temperature) -> Length:
    """The size (mm) at 20 °C of a part that a gauge shows as M: expansion (1/K) and temperature (°C) of part and gauge.

    Source: linear expansion; to first order, which is off by a millionth of M at most in a shop.

    >>> round(at_twenty(100.0, 23.5e-6, 30.0, 11.5e-6, 20.0), 4)
    99.9765
    """
    return M * (1 + a_g * (T_g - 20) - a_p * (T_p - 20))
