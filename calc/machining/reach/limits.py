"""Lengths against lengths: edge against depth, flank in a hollow, smallest bore for a bar."""

from __future__ import annotations

import math
from collections.abc import Mapping

from calc.contour import Element
from calc.language.messages import Message, Quantity, Value
from calc.language.quantities import DIAMETER, LENGTH, RADIUS
from calc.machining.reach.findings import Finding
from calc.machining.reach.formulas import edge_in_use, least_hollow_radius
from calc.machining.reach.work import Work
from calc.tool.insert.tables import Clearance

USABLE_EDGE: Mapping[str, float] = {"C": 2 / 3, "S": 2 / 3, "W": 1 / 2, "T": 1 / 2, "D": 1 / 2, "V": 1 / 4}
"""How much of the edge is usually put into the cut, by shape (common practice, no source)."""

OTHER_EDGE = 1 / 2
USABLE_ROUND = 0.4
"""How much of a round insert's diameter is usually the depth (common practice, no source)."""

USUAL_TILT = math.radians(6.0)
"""By how much a holder usually tips an insert without clearance (common practice, no source)."""

NEAR_AXIS = 1e-6


def edge_finding(shape: str, edge: float, depth: float, angles: tuple[float, float]) -> tuple[Finding, float]:
    """The edge against the depth (mm) at the least favourable angle (rad) along the contour, and the edge in use (mm).

    >>> finding, used = edge_finding("D", 11.6, 2.0, (math.radians(30.0), math.radians(90.0)))
    >>> finding.verdict, round(used, 6)
    ('passes', 4.0)
    """
    flattest = min(angles, key=lambda angle: abs(math.sin(angle)))
    if math.sin(flattest) <= NEAR_AXIS:
        return Finding("edge length", "stops"), math.inf
    used = edge_in_use(depth, flattest)
    usable = USABLE_EDGE.get(shape, OTHER_EDGE) * edge
    verdict = "stops" if used > edge else "tight" if used > usable else "passes"
    values: dict[str, Value] = {
        "depth": Quantity(depth, LENGTH, brief=True),
        "used": Quantity(used, LENGTH),
        "edge": Quantity(edge, LENGTH),
        "usable": Quantity(usable, LENGTH),
    }
    text = "A depth of {depth} takes {used} of an edge of {edge}; usually not more than {usable} is put to work."
    message = None if verdict == "passes" else Message(text + " Take less depth or a larger insert.", values)
    return Finding("edge length", verdict, length=edge - used, message=message), used  # type: ignore[arg-type]  # a literal


def round_finding(size: float, depth: float) -> Finding:
    """A round insert's diameter against the depth (mm).

    >>> round_finding(12.0, 1.0).verdict, round_finding(12.0, 5.0).verdict, round_finding(12.0, 7.0).verdict
    ('passes', 'tight', 'stops')
    """
    usable = USABLE_ROUND * size
    values: dict[str, Value] = {
        "depth": Quantity(depth, LENGTH, brief=True),
        "usable": Quantity(usable, LENGTH),
        "half": Quantity(size / 2, RADIUS),
    }
    text = "A depth of {depth} on a round insert: usually not more than {usable}, and never more than its {half}."
    verdict = "stops" if depth > size / 2 else "tight" if depth > usable else "passes"
    message = None if verdict == "passes" else Message(text, values)
    return Finding("edge length", verdict, length=usable - depth, message=message)  # type: ignore[arg-type]  # a literal


def flank_angle(clearance: Clearance | None, tilt: float | None) -> float | None:
    """The clearance at work (rad): the insert's, and what the holder tips it by; None when the insert's is not told.

    >>> from calc.tool.insert.tables import clearances
    >>> [round(math.degrees(flank_angle(clearances()[letter], None))) for letter in "CN"]
    [7, 6]
    """
    if clearance is None or clearance.angle is None:
        return None
    tipped = tilt if tilt is not None else (0.0 if clearance.angle else USUAL_TILT)
    return clearance.angle + tipped


def flank_finding(work: Work, thickness: float, angle: float) -> tuple[Finding, float]:
    """The heel of the flank, an insert `thickness` (mm) below an edge cleared by `angle` (rad), against the hollow that
    the turning part makes, and the smallest such radius (mm).

    At radius r, where the wall's normal leans from the axis's direction toward the axis, the wall curves around the
    flank with r over that lean: in a bore with its radius, in a dish with the dish's.
    """
    least = least_hollow_radius(thickness, angle)
    hollow = [
        (radius, work.name_of(index), element.point_at(s))
        for index, element in zip(work.machined, work.cut, strict=True)
        for s in (0.0, element.length / 2, element.length)
        if (radius := hollow_radius(element, s, work.side == "left")) is not None
    ]
    if not hollow:
        return Finding("flank in the hollow", "passes"), least
    smallest, name, at = min(hollow, key=lambda found: found[0])
    if smallest >= least:
        return Finding("flank in the hollow", "passes", name, at, length=smallest - least), least
    values: dict[str, Value] = {
        "name": name[0].upper() + name[1:],
        "at": at,
        "hollow": Quantity(smallest, RADIUS),
        "least": Quantity(least, RADIUS),
        "bore": Quantity(2 * least, DIAMETER),
    }
    text = (
        "{name} stops this tool: at {at} the turning wall curves with {hollow} around the flank, whose heel clears "
        "{least} and more (a bore of {bore}). Take a thinner insert, more clearance, or a holder that tips it more."
    )
    return Finding(
        "flank in the hollow", "stops", name, at, length=smallest - least, message=Message(text, values)
    ), least


def hollow_radius(element: Element, s: float, on_left: bool) -> float | None:
    """Radius (mm) with which the revolved wall curves around a flank; None where it is flat or bulges, or on the axis.

    >>> from calc.contour import Line, Point
    >>> bore = Line(Point(0.0, 12.0), Point(-20.0, 12.0))
    >>> hollow_radius(bore, 1.0, True), hollow_radius(bore.reversed(), 1.0, True)
    (12.0, None)
    """
    normal = element.tangent_at(s).left().times(1.0 if on_left else -1.0)
    r = element.point_at(s).r
    return r / -normal.r if normal.r < -NEAR_AXIS and r > NEAR_AXIS else None
