"""The formulas that decide how many passes there are, how deep each is, where a level lies and where it begins."""

from __future__ import annotations

from math import ceil

from calc.language.quantities import Count, Length, Radius
from calc.language.working import formula

_EQUAL = "passes of the same depth, none above the one asked for"
_EASING = "depths that fall evenly from the first to half of it: three quarters of the first on average"
_TOUCHES = "geometry: the nose touches the surface that the level leaves"
_CLEAR = "geometry: the nose clears the stock by the lead-in"


@formula(source=_EQUAL, means="passes needed", result="n_a")
def pass_count(t: Length, a_p: Length) -> Count:
    """Passes for a thickness of `t` [mm] of which none takes more than `a_p` [mm]. Source: definition.

    >>> pass_count(11.8, 1.5), pass_count(3.0, 1.5)
    (8, 2)
    """
    return ceil(t / a_p)


@formula(source=_EQUAL, means="depth of each pass", result="a")
def equal_depth(t: Length, n_a: Count) -> Length:
    """Depth [mm] of each of `n_a` passes that share a thickness of `t` [mm] evenly. Source: definition.

    >>> equal_depth(11.8, 8)
    1.475
    """
    return t / n_a


@formula(source=_EASING, means="passes needed", result="n_a")
def eased_count(t: Length, a_p: Length) -> Count:
    """Passes for a thickness of `t` [mm] that ease to half of the first, none above `a_p` [mm]. Source: definition.

    >>> eased_count(4.2, 1.0)
    6
    """
    return ceil(4 * t / (3 * a_p))


@formula(source=_EASING, means="depth of the first pass", result="a_1")
def first_eased(t: Length, n_a: Count) -> Length:
    """Depth [mm] of the first of `n_a` passes that ease to half of it over a thickness of `t` [mm]. Source: definition.

    >>> round(first_eased(4.2, 6), 4)
    0.9333
    """
    return 4 * t / (3 * n_a)


@formula(source=_TOUCHES, means="radius of the nose centre on the first level", result="r_1")
def level_outside(r_s: Radius, a_1: Length, r: Radius) -> Radius:
    """Radius [mm] of the nose centre on a level `a_1` [mm] below a stock of radius `r_s` [mm], nose `r` [mm].

    Source: geometry.

    >>> level_outside(21.0, 1.5, 0.4)
    19.9
    """
    return r_s - a_1 + r


@formula(source=_TOUCHES, means="radius of the nose centre on the first level", result="r_1")
def level_in_bore(r_s: Radius, a_1: Length, r: Radius) -> Radius:
    """Radius [mm] of the nose centre on a level `a_1` [mm] out from a hole of radius `r_s` [mm], nose `r` [mm].

    Source: geometry.

    >>> level_in_bore(10.0, 1.5, 0.5)
    11.0
    """
    return r_s + a_1 - r


@formula(source=_TOUCHES, means="Z of the nose centre on the first level", result="z_1")
def level_along_x(z_s: Length, a_1: Length, r: Radius) -> Length:
    """Z [mm] of the nose centre on a level along X `a_1` [mm] behind a face at `z_s` [mm], nose `r` [mm].

    Source: geometry.

    >>> level_along_x(1.0, 0.5, 6.0)
    6.5
    """
    return z_s - a_1 + r


@formula(source=_CLEAR, means="where the nose centre begins a level that is open toward it", result="s_0")
def run_in_start(s_s: Length, l_0: Length, r: Radius) -> Length:
    """Z or radius [mm] of the nose centre where a level begins, `l_0` [mm] and the nose `r` [mm] off the stock.

    What is to take ends at `s_s` [mm] there. Source: geometry.

    >>> run_in_start(0.1, 2.0, 0.4)
    2.5
    """
    return s_s + l_0 + r
