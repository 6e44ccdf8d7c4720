"""The bar against the dish: whether it is large enough, and what the chips weigh."""

from __future__ import annotations

from calc.cutting.materials import Material
from calc.language.messages import Message, Quantity
from calc.language.problems import Fault, Impossible
from calc.language.quantities import DIAMETER, Density, Mass, Volume
from calc.language.working import formula
from calc.questions.operations.dish_plan.inputs import WorkInputs
from calc.shapes.dish.geometry import Dish


@formula(means="mass of the dish's chips", source="definition of density", result="m")
def mass(V: Volume, rho: Density) -> Mass:
    """Mass (kg) of the volume V (mm3) at the density rho (kg/mm3).

    Source: definition of density.

    >>> round(mass(1000.0, 7.85e-6), 6)
    0.00785
    """
    return V * rho


def chips_mass(volume: float, material: Material | None) -> float | None:
    """Mass (kg) of the dish's volume (mm3) in the material, None without one."""
    return None if material is None else mass(volume, material.density)


def check_bar(work: WorkInputs, dish: Dish) -> None:
    """Raise `Impossible` for a bar that is smaller than the mouth with its edge."""
    needed = 2 * dish.cut.start.r
    if work.bar_diameter is None or work.bar_diameter >= needed * (1 - 1e-12):
        return
    values = {"bar": Quantity(work.bar_diameter, DIAMETER), "needed": Quantity(needed, DIAMETER)}
    text = "The bar {bar} is too small: the mouth with its edge needs {needed}."
    raise Impossible(Fault("bar_diameter", Message(text, values)))
