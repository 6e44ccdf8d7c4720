"""A block in closed form: single equations, linear systems, and directions taken out as cones."""

from __future__ import annotations

from calc.contour.solving.noroot import NoRoot, Sizes
from calc.contour.solving.roots import Miss, unit_with
from calc.contour.solving.structure import Block
from calc.contour.solving.system import SAME, System
from calc.contour.solving.unknowns import Equation, Link, Part, Values
from calc.contour.tolerance import ROUNDING


def solve_closed(block: Block, values: Values, sizes: Sizes) -> list[Values]:
    """All real solutions of a block. Raises `NoRoot`, or `NotClosed` where no closed form is at hand."""
    if len(block.equations) == 1:
        return _single(block.equations[0], block.unknown[0], values, sizes)
    if all(equation.kind == "run" for equation in block.equations):
        return _between_steps(block, sizes)
    return System(block, values, sizes).solve()


# --- one equation -----------------------------------------------------------------------------------------------------


def _single(equation: Equation, var: int, values: Values, sizes: Sizes) -> list[Values]:
    if equation.kind == "sign":
        return [{var: equation.value}, {var: -equation.value}]
    if equation.kind == "axis":
        return [{var: direction} for direction in _axis_ways(equation, values)]
    if equation.kind in ("level", "step"):
        a, b = equation.involves
        return [{var: values[a] + equation.value if var == b else values[b] - equation.value}]
    return _of_link(equation, var, values, sizes)


def _axis_ways(equation: Equation, values: Values) -> list[complex]:
    """Both ways along the axis; of a line whose step is known, the one that is not backward."""
    link, axis = equation.link, equation.value
    if link is None or link.is_quarter:
        return [axis, -axis]
    part: Part = 1 if axis.real == 0.0 else 0
    a, b = values.get(link.a + part), values.get(link.b + part)
    if a is None or b is None or a == b:
        return [axis, -axis]
    return [axis if (b - a).real > 0.0 else -axis]


def _of_link(equation: Equation, var: int, values: Values, sizes: Sizes) -> list[Values]:
    link, part = equation.link, equation.part
    assert link is not None
    a, b = link.a + part, link.b + part
    step = equation.value.real if equation.kind == "run" or var in (a, b) else (values[b] - values[a]).real
    if var == link.direction:
        return [{var: e} for e in _directions(equation, link, step, values, sizes)]
    share = link.share(values[link.direction], part)
    if var == link.size:
        if abs(share) <= ROUNDING:
            raise NoRoot([equation], abs(step), "open" if abs(step) <= SAME * sizes.size else "parallel")
        return [{var: step / share}]
    step = values[link.size].real * share
    return [{var: values[a].real + step if var == b else values[b].real - step}]


def _between_steps(block: Block, sizes: Sizes) -> list[Values]:
    """Length and direction of a line from its two steps."""
    link = block.equations[0].link
    assert link is not None
    step = sum(complex(*((e.value.real, 0.0) if e.part == 0 else (0.0, e.value.real))) for e in block.equations)
    if abs(step) <= SAME * sizes.size:
        raise NoRoot(block.equations, 0.0, "nothing")
    return [{link.size: abs(step), link.direction: step / abs(step)}]


def _directions(equation: Equation, link: Link, step: float, values: Values, sizes: Sizes) -> list[complex]:
    length = values[link.size].real
    found = unit_with(step / length, equation.part == 0, ROUNDING * sizes.size / abs(length))
    if isinstance(found, Miss):
        raise NoRoot([equation], found.gap * abs(length), "short")
    return [e / 1j for e in found] if link.is_quarter else found
