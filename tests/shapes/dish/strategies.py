"""Random dishes, of the size of turned parts and far beyond, for all tests of the dish and of its passes."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from hypothesis import strategies as st

from calc.shapes.dish.bowl import DishInputs, EdgeBreak, EdgeInputs
from calc.shapes.dish.geometry import Dish, solve_dish

radii = st.floats(0.5, 10_000.0)
log_radii = st.floats(math.log10(0.5), 4.0).map(lambda power: 10.0**power)
# from a mouth of a fiftieth of the radius to the hemisphere: `depth = radius × share`
shares = st.one_of(st.floats(5e-5, 1.0), st.floats(-4.3, 0.0).map(lambda power: 10.0**power), st.just(1.0))


@dataclass(frozen=True)
class Sharp:
    """A dish by its radius and depth."""

    radius: float
    depth: float


sharps = st.builds(lambda radius, share: Sharp(radius, radius * share), log_radii, shares)
shop_sharps = st.builds(
    lambda radius, share: Sharp(radius, radius * share), st.floats(5.0, 200.0), st.floats(0.01, 1.0)
)


def sloped(sharp: Sharp) -> float:
    """The slope at the mouth, rad."""
    return math.acos((sharp.radius - sharp.depth) / sharp.radius)


@st.composite
def edges(draw: st.DrawFn, sharp: Sharp) -> EdgeInputs:
    """No edge, or one of some thousandths up to a fifth of the mouth's radius that the dish has room for."""
    kinds: tuple[EdgeBreak | Literal["angled"], ...] = ("none", "chamfer", "angled", "radius")
    kind = draw(st.sampled_from(kinds))
    half_mouth = math.sqrt(sharp.depth * (2 * sharp.radius - sharp.depth))
    size = half_mouth * draw(st.floats(0.005, 0.2))
    if kind == "none":
        return EdgeInputs()
    if kind != "angled":
        return EdgeInputs(break_kind=kind, break_size=size)
    return EdgeInputs(break_kind="chamfer", break_size=size, break_angle=sloped(sharp) * draw(st.floats(0.1, 0.5)))


@st.composite
def dishes(draw: st.DrawFn, *, holes: bool = False) -> Dish:
    """A dish of the size of turned parts with any edge, and if asked with a hole."""
    sharp = draw(shop_sharps)
    edge = draw(edges(sharp))
    if holes and draw(st.booleans()):
        half_mouth = math.sqrt(sharp.depth * (2 * sharp.radius - sharp.depth))
        values = {name: getattr(edge, name) for name in ("break_kind", "break_size", "break_angle")}
        edge = EdgeInputs(**values, hole_diameter=2 * half_mouth * draw(st.floats(0.05, 0.5)))
    return solve_dish(DishInputs(radius=sharp.radius, depth=sharp.depth, edge=edge))
