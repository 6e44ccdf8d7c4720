"""Where the cutting force's two companions point: the feed force along the feed, the passive force square to it.

Together they make the thrust, square to the edge in the plane of feed and axis. A nose turns that edge gradually, so
the chord between the ends of the edge in cut stands for it.
"""

from __future__ import annotations

from math import atan2, cos, sin

from calc.cutting.chip import Edge, Engagement
from calc.cutting.tools import Spread, habits
from calc.language.fields import Declared, result
from calc.language.messages import Message
from calc.language.quantities import FORCE, Angle, Force, Length, Radius, Ratio
from calc.language.working import formula

_CHORD = "chord of the edge in cut, common practice"


@formula(source=_CHORD, means="direction of the edge", result="kappa_e")
def chord_of_nose(phi: Angle) -> Angle:
    """Angle [rad] of the chord of a nose that cuts over `phi` [rad]. Source: geometry: half of the angle spanned.

    >>> chord_of_nose(0.5)
    0.25
    """
    return phi / 2


@formula(source=_CHORD, means="direction of the edge", result="kappa_e")
def chord_of_edge(a: Length, r: Radius, kappa: Angle) -> Angle:
    """Angle [rad] of the chord of nose and straight edge at depth `a` [mm] above the nose. Source: geometry.

    >>> from math import degrees, radians
    >>> round(degrees(chord_of_edge(2.0, 0.0, radians(75.0))), 6)
    75.0
    """
    return atan2(a, r * sin(kappa) + (a - r * (1 - cos(kappa))) * cos(kappa) / sin(kappa))


@formula(source="ratio from common practice, from memory", means="thrust", result="F_t")
def thrust(c: Ratio, F_c: Force) -> Force:
    """Thrust [N], the force square to the edge, as the share `c` of the cutting force `F_c` [N].

    Source: common practice, from memory; Zerspantechnik has 0.65 to 0.75 for steel, from memory.

    >>> thrust(0.7, 1000.0)
    700.0
    """
    return c * F_c


@formula(source="thrust along the feed", means="feed force", result="F_f")
def feed_force(F_t: Force, kappa_e: Angle) -> Force:
    """Feed force [N] of the thrust `F_t` [N] on an edge at `kappa_e` [rad] to the feed. Source: resolution of forces.

    >>> from math import pi
    >>> feed_force(700.0, pi / 2)
    700.0
    """
    return F_t * sin(kappa_e)


@formula(source="thrust square to the feed", means="passive force", result="F_p")
def passive_force(F_t: Force, kappa_e: Angle) -> Force:
    """Passive force [N] of the thrust `F_t` [N]; it pushes the tool away from the work. Source: resolution of forces.

    >>> passive_force(700.0, 0.0)
    700.0
    """
    return F_t * cos(kappa_e)


class ComponentResults(Declared):
    """Feed and passive force by the usual ratio, and the passive one by the highest."""

    feed_force: float | None = result(FORCE, "Feed force", "F_f")
    passive_force: float | None = result(FORCE, "Passive force", "F_p", hint="above 0 it pushes the tool away")
    passive_force_high: float | None = result(FORCE, "Passive force, highest")


def edge_direction(cut: Engagement, edge: Edge) -> float:
    """The angle [rad] between the feed and the chord of the edge in cut. Source: geometry.

    >>> from math import degrees
    >>> from calc.cutting.chip import engagement
    >>> round(degrees(edge_direction(engagement(0.3, Edge(6.0)), Edge(6.0))), 3)
    9.097
    """
    if edge.nose_radius and cut.depth <= edge.nose_depth():
        return chord_of_nose(cut.thickest_at)
    if edge.nose_radius == 0.0:
        return edge.entering_angle
    return chord_of_edge(cut.depth, edge.nose_radius, edge.entering_angle)


def pulled_in(deflection: float | None, *, bar_given: bool) -> tuple[Message, ...]:
    """Why a bar that is given has no `deflection` [mm]; nothing where it has one.

    >>> len(pulled_in(None, bar_given=True)), pulled_in(0.01, bar_given=True)
    (1, ())
    """
    text = (
        "Here the passive force pulls the edge into the wall, so no deflection of the bar is given: the bore may come "
        "out large. Measure after a first pass."
    )
    return (Message(text),) if bar_given and deflection is None else ()


def ratio_of_thrust(group: str) -> Spread:
    """Thrust over cutting force by ISO 513 group, with its spread. Source: common practice, from memory.

    >>> ratio_of_thrust("H").usual > ratio_of_thrust("P").usual
    True
    """
    return habits(group).thrust


def most_axial(force: float, group: str) -> float:
    """The most [N] that a cut of the cutting force [N] pulls along the axis, whichever way its edge travels.

    Source: the whole thrust, as none of it can be more along one direction; see `ratio_of_thrust`.

    >>> round(most_axial(1000.0, "P"))
    700
    """
    return thrust(ratio_of_thrust(group).usual, force)


def components_of(force: float, high: float, direction: float, group: str) -> ComponentResults:
    """Feed and passive force of a cutting force [N], its highest [N], on an edge at `direction` [rad].

    Source: see `ratio_of_thrust`.

    >>> from math import pi
    >>> found = components_of(1000.0, 1200.0, pi / 2, "P")
    >>> round(found.feed_force), round(found.passive_force)
    (700, 0)
    """
    ratio = ratio_of_thrust(group)
    square = thrust(ratio.usual, force)
    most = ratio.high * high
    return ComponentResults(
        feed_force=feed_force(square, direction),
        passive_force=passive_force(square, direction),
        passive_force_high=most * cos(direction),
    )
