"""The cut along a whole pass: depth along the normal, chip, force and power, place by place, and their mean.

The chip follows the nose at each place, the power the true surface speed at the contact. Where the nose swings round
an edge nothing is fed along the contour, so that no place is counted there. The curvature of the contour is left out
of the chip, and so is what an inside corner adds for a moment.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import atan2, ceil, cos, tau
from typing import Literal

import numpy as np

from calc.contour import Element, Point, Vector
from calc.cutting.chip import Edge
from calc.cutting.force import Chip, CutForce, chip_of, cutting_power, cutting_torque, force_of
from calc.cutting.machine import Machine, available_power
from calc.cutting.materials import Material
from calc.language.kinds import Energy
from calc.language.quantities import Angle, Length, Power, Time
from calc.language.working import formula
from calc.machining.passes import Piece, Referral, Spindle, legs
from calc.machining.speed_along import Station, stations

DepthAlong = Literal["normal", "z", "x"]
NO_DEPTH = 1e-6  # mm: less than this is not cut
NODES = 12  # of Gauss on each stretch; its integrand is smooth there


@formula(source="geometry of a contour shifted as a whole", means="depth along the normal", result="a_n")
def depth_along_normal(a: Length, theta: Angle) -> Length:
    """Depth [mm] square to the contour where it was shifted by `a` [mm], `theta` [rad] away from its normal.

    Source: geometry; exact on lines, and on arcs as long as the shift is small against their radius.

    >>> from math import pi
    >>> round(depth_along_normal(1.0, pi / 3), 6)
    0.5
    """
    return a * cos(theta)


@formula(source="definition of power", means="mean power", result="P_a")
def mean_power(W: Energy, t: Time) -> Power:
    """Mean power [N mm/min] of a pass that takes the work `W` [N mm] in the time `t` [min]. Source: definition.

    >>> mean_power(10.0, 2.0)
    5.0
    """
    return W / t


@dataclass(frozen=True, slots=True)
class Taking:
    """What a pass takes off: material, edge, depth [mm] and what it is measured along, `factor` on the force.

    `toward` is the direction of the shift for a depth along Z or X, None for one along the normal; `side` is 1.0 where
    the tool stands on the left of travel, -1.0 on the right.
    """

    work: Material
    edge: Edge
    depth: float
    toward: Vector | None = None
    side: float = 1.0
    factor: float = 1.0

    def leaning(self, tangent: Vector) -> float:
        """The angle [rad] between the shift and the contour's normal at a `tangent` of travel.

        >>> from calc.cutting.materials import material
        >>> Taking(material("C45"), Edge(0.8), 1.0, Vector(1.0, 0.0)).leaning(Vector(0.0, -1.0))
        0.0
        """
        if self.toward is None:
            return 0.0
        normal = tangent.left().times(self.side)
        return abs(atan2(normal.cross(self.toward), normal.dot(self.toward)))

    def depth_at(self, tangent: Vector) -> float:
        """The depth [mm] along the normal at a `tangent` of travel; 0 where the shift leads away from the tool."""
        return max(0.0, depth_along_normal(self.depth, self.leaning(tangent)))

    def cut_at(self, depth: float, feed: float) -> tuple[Chip, CutForce]:
        """Chip and force at a `depth` [mm] and `feed` [mm/rev]; all 0 where nothing is cut."""
        if depth < NO_DEPTH:
            return Chip(0.0, 0.0), CutForce(0.0, 0.0, 0.0, 0.0)
        chip = chip_of(depth, feed, self.edge)
        return chip, force_of(chip, self.work, self.factor)


@dataclass(frozen=True, slots=True)
class Load:
    """The cut at one place: how far along [mm], depth [mm], feed [mm/rev], chip, force [N], power [N mm/min].

    `available` is the power [N mm/min] that the machine gives at the spindle's speed there, None where it is unknown.
    """

    along: float
    station: Station
    leaning: float
    depth: float
    feed: float
    chip: Chip
    force: CutForce
    power: float
    torque: float
    available: float | None

    @property
    def share(self) -> float:
        """The cut's share of what the machine gives; 0 where that is unknown."""
        return self.power / self.available if self.available else 0.0


def loads(
    pieces: Sequence[Piece], referral: Referral, spindle: Spindle, taking: Taking, machine: Machine, count: int
) -> list[Load]:
    """The cut at about `count` places along the pieces, the ends of each among them, in the order of travel.

    Pieces without a length along the contour have none. Raises Impossible where the path reaches the axis and nothing
    limits the spindle. Source: see the formulas.

    >>> from calc.contour import Line
    >>> from calc.cutting.materials import material
    >>> face = [Piece(Line(Point(0.0, 50.0), Point(0.0, 0.0)), None, 0.2)]
    >>> cut = Taking(material("C45"), Edge(0.8), 1.0)
    >>> found = loads(face, Referral(), Spindle(200_000.0, 3000.0), cut, Machine(), 3)
    >>> [round(load.power / 60e6, 2) for load in found]
    [1.95, 1.95, 0.0]
    """
    cut = [piece for piece in pieces if not isinstance(piece.contact, Point)]
    whole = sum(piece.contact_length for piece in cut) or 1.0
    found: list[Load] = []
    before = 0.0
    for piece in cut:
        places = max(2, ceil(count * piece.contact_length / whole))
        found.extend(_loads_of(piece, before, stations([piece], referral, spindle, places), taking, machine, referral))
        before += piece.contact_length
    return found


def _loads_of(
    piece: Piece, before: float, places: Sequence[Station], taking: Taking, machine: Machine, referral: Referral
) -> list[Load]:
    contact = piece.contact
    assert not isinstance(contact, Point)
    feed = _feed_at_contact(piece, referral)
    found = []
    for index, station in enumerate(places):
        s = contact.length * index / (len(places) - 1)
        tangent = contact.tangent_at(s)
        depth = taking.depth_at(tangent)
        chip, force = taking.cut_at(depth, feed)
        power = cutting_power(force.force, station.true_speed)
        torque = cutting_torque(force.force, 2 * abs(station.contact.r))
        available = available_power(machine, station.rpm)
        leaning = taking.leaning(tangent)
        found.append(Load(before + s, station, leaning, depth, feed, chip, force, power, torque, available))
    return found


def _feed_at_contact(piece: Piece, referral: Referral) -> float:
    """The feed [mm/rev] along the contour, where the control may count it along the path of the nose centre."""
    (leg,) = legs([piece], referral)
    return piece.feed * piece.contact_length / leg.length if leg.length else piece.feed


def work_of(pieces: Sequence[Piece], referral: Referral, taking: Taking) -> float:
    """The work [N mm] that the cut takes along the pieces, whatever the spindle does.

    One turn at the radius r takes 2 pi r F, and there is one turn for each feed's length: the integral of
    2 pi r F / f along the contour, by Gauss, exact to rounding. Source: definition of work.

    >>> from calc.contour import Line
    >>> from calc.cutting.materials import material
    >>> cut = Taking(material("C45"), Edge(0.8), 1.0)
    >>> face = Line(Point(0.0, 50.0), Point(0.0, 0.0))
    >>> force = cut.cut_at(1.0, 0.2)[1].force
    >>> round(work_of([Piece(face, None, 0.2)], Referral(), cut) / (tau * 25.0 * force * 50.0 / 0.2), 9)
    1.0
    """
    return sum(
        _work_along(part.contact, _feed_at_contact(part, referral), taking)
        for piece in pieces
        if not isinstance(piece.contact, Point)
        for part in piece.split_at_contact_r(0.0)
        if not isinstance(part.contact, Point)
    )


def _work_along(contact: Element, feed: float, taking: Taking) -> float:
    nodes, weights = np.polynomial.legendre.leggauss(NODES)
    half = contact.length / 2
    whole = 0.0
    for node, weight in zip(nodes.tolist(), weights.tolist(), strict=True):
        s = half * (1 + node)
        force = taking.cut_at(taking.depth_at(contact.tangent_at(s)), feed)[1].force
        whole += weight * half * tau * abs(contact.point_at(s).r) * force / feed
    return whole
