"""How a thread's depth is shared among passes, where each stands along the axis, what chip each takes."""

from __future__ import annotations

from math import acos, cos, pi, radians, sin, sqrt, tan
from typing import Literal

from calc.language.messages import Phrase
from calc.language.quantities import Angle, Count, Length, Ratio
from calc.language.working import formula

Method = Literal["constant-area", "shallow-first", "equal-depth"]
METHODS: dict[Method, str] = {
    "constant-area": "constant chip area, depth by the root of the pass",
    "shallow-first": "constant chip area, shallower first pass",
    "equal-depth": "equal infeed each pass",
}
Direction = Literal["straight", "modified-flank", "flank", "alternating"]
DIRECTIONS: dict[Direction, str] = {
    "straight": "straight in",
    "modified-flank": "along the flank, a few degrees off it",
    "flank": "along the flank",
    "alternating": "alternating flanks",
}
FIRST_SHARE = 0.3  # of a whole step, for the first pass of the shallow start
OFF_FLANK = radians(3.0)  # that the modified infeed keeps clear of the trailing flank
_SHARE = "equal chip areas of a V thread: area grows with the square of the depth"
_TWO_FLANKS = "infeed square to the flank"


@formula(source=_SHARE, means="depth after pass i", result="a_i")
def depth_by_area(a: Length, i: Count, n: Count) -> Length:
    """Depth [mm] after pass `i` of `n` to the depth `a` [mm], each taking the same chip area.

    Source: textbooks of metal cutting: a sqrt(i / n).

    >>> round(depth_by_area(0.94, 1.0, 6.0), 6)
    0.383753
    """
    return a * sqrt(i / n)


@formula(source="printed threading handbook: 0.3, 1, 2, 3 ... for psi", means="depth after pass i", result="a_i")
def depth_shallow_first(a: Length, psi: Ratio, n: Count) -> Length:
    """Depth [mm] of `a` after a pass with the factor `psi` (0.3, 1, 2 ...) of `n` passes, two or more.

    Source: a printed threading handbook, p. 114 to 115.

    >>> round(depth_shallow_first(0.94, 0.3, 6.0), 6), round(depth_shallow_first(0.94, 5.0, 6.0), 6)
    (0.230252, 0.94)
    """
    return a / sqrt(n - 1) * sqrt(psi)


@formula(source="equal shares", means="depth after pass i", result="a_i")
def depth_equal(a: Length, i: Count, n: Count) -> Length:
    """Depth [mm] after pass `i` of `n` to the depth `a` [mm] in equal steps. Source: definition.

    >>> depth_equal(0.9, 1.0, 3.0)
    0.3
    """
    return a * i / n


def depths(method: str, depth: float, count: int) -> tuple[float, ...]:
    """The depths [mm] after each of `count` passes to `depth` [mm] by a `method` of `METHODS`.

    Source: as its formula.

    >>> [round(a, 2) for a in depths("shallow-first", 0.94, 6)]
    [0.23, 0.42, 0.59, 0.73, 0.84, 0.94]
    """
    n = float(count)
    if method == "shallow-first" and count > 1:
        shares = [FIRST_SHARE, *(float(i) for i in range(1, count))]
        found = [
            depth_shallow_first.at(Phrase("pass {number}", number=i))(depth, psi, n) for i, psi in enumerate(shares, 1)
        ]
    else:
        by = depth_equal if method == "equal-depth" else depth_by_area
        found = [by.at(Phrase("pass {number}", number=i))(depth, float(i), n) for i in range(1, count + 1)]
    return (*found[:-1], depth)


@formula(source=_TWO_FLANKS, means="chip thickness, straight in on both flanks", result="h")
def chip_straight(Delta_a: Length, alpha: Angle) -> Length:
    """Chip thickness [mm] on each flank at `alpha` [rad] of an infeed `Delta_a` [mm] straight in. Source: geometry.

    >>> from math import radians
    >>> round(chip_straight(0.2, radians(30.0)), 6)
    0.1
    """
    return Delta_a * sin(alpha)


@formula(source=_TWO_FLANKS, means="chip thickness on the leading flank", result="h")
def chip_flank(Delta_a: Length, alpha: Angle, beta: Angle) -> Length:
    """Chip thickness [mm] on the leading flank at `alpha` of an infeed `Delta_a` [mm] at `beta` to the normal [rad].

    Source: geometry.

    >>> from math import radians
    >>> round(chip_flank(0.2, radians(30.0), radians(30.0)), 6)
    0.2
    """
    return Delta_a * (sin(alpha) + tan(beta) * cos(alpha))


@formula(source="geometry of the infeed", means="shift along the axis", result="Delta_Z")
def shift_along(a: Length, beta: Angle) -> Length:
    """How far [mm] the tool stands along the axis at depth `a` [mm] of an infeed at `beta` [rad] to the normal.

    Source: geometry.

    >>> from math import radians
    >>> round(shift_along(1.0, radians(30.0)), 6)
    0.57735
    """
    return a * tan(beta)


def infeed_angle(direction: str, alpha: float) -> float:
    """The angle [rad] of the infeed to the normal in a `direction`, on a flank at `alpha` [rad]. Source: definition.

    >>> infeed_angle("straight", 0.5), infeed_angle("flank", 0.5)
    (0.0, 0.5)
    """
    if direction == "straight":
        return 0.0
    return max(alpha - OFF_FLANK, 0.0) if direction == "modified-flank" else alpha


def chip_thickness(direction: str, infeed: float, alpha: float, where: str = "") -> float:
    """The thickest chip [mm] that an `infeed` [mm] takes in a `direction`, flanks at `alpha` [rad], named `where`.

    Source: geometry, as the formulas it calls.

    >>> from math import radians
    >>> round(chip_thickness("flank", 0.2, radians(30.0)), 3)
    0.2
    """
    if direction == "straight":
        return chip_straight.at(where)(infeed, alpha)
    return chip_flank.at(where)(infeed, alpha, infeed_angle(direction, alpha))


def groove_section(depth: float, flat: float, radius: float, alpha: float) -> float:
    """Area [mm2] of a groove `depth` [mm] deep by a tool with a `flat` or a `radius` [mm] at its tip.

    Flanks at `alpha` [rad]. Source: geometry: below the flanks of a round tip a segment of the circle.

    >>> from math import radians
    >>> round(groove_section(1.0, 0.0, 0.0, radians(30.0)), 5), round(groove_section(0.2, 0.0, 0.5, radians(30.0)), 4)
    (0.57735, 0.1118)
    """
    if radius <= 0.0:
        return depth * flat + depth**2 * tan(alpha)
    if depth < radius * (1.0 - sin(alpha)):
        rest = radius - depth
        return radius**2 * acos(rest / radius) - rest * sqrt(radius**2 - rest**2)
    deep = depth + radius * (1.0 / sin(alpha) - 1.0)
    return deep**2 * tan(alpha) - radius**2 * (1.0 / tan(alpha) - pi / 2.0 + alpha)
