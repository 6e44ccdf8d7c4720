"""Lengths against lengths: edge against depth, flank in a hollow, smallest bore for a bar."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from calc.contour import Element, Vector
from calc.language.messages import Capital, Message, Quantity, Value
from calc.language.quantities import ANGLE, DIAMETER, LENGTH, RADIUS
from calc.machining.reach.engagement import Engaged
from calc.machining.reach.findings import Finding, Verdict
from calc.machining.reach.formulas import edge_in_use, least_hollow_radius
from calc.machining.reach.work import Work

USABLE_EDGE: Mapping[str, float] = {"C": 2 / 3, "S": 2 / 3, "W": 1 / 2, "T": 1 / 2, "D": 1 / 2, "V": 1 / 4}
"""How much of the edge is usually put into the cut, by shape (common practice, no source)."""

OTHER_EDGE = 1 / 2
USABLE_ROUND = 0.4
"""How much of a round insert's diameter is usually the depth (common practice, no source)."""

USUAL_TILT = math.radians(6.0)
"""By how much a holder usually tips an insert without clearance (common practice, no source)."""

NEAR_AXIS = 1e-6


def edge_finding(work: Work, shape: str, edge: float, depth: float, engaged: Engaged | None) -> tuple[Finding, float]:
    """The `edge` (mm) of a `shape` against what of it is in the stock of a pass of `depth` (mm); the edge in use (mm).

    An edge that stands clear of the contour nowhere stops the tool.
    """
    if engaged is None:
        return Finding("edge length", "stops"), math.inf
    used = edge_in_use.at("where most of it is in the stock")(engaged.height, engaged.angle)
    usable = USABLE_EDGE.get(shape, OTHER_EDGE) * edge
    verdict: Verdict = "stops" if used > edge else "tight" if used > usable else "passes"
    name = work.name_of(work.machined.start + engaged.of)
    values: dict[str, Value] = {
        "depth": Quantity(depth, LENGTH, brief=True),
        "used": Quantity(used, LENGTH),
        "edge": Quantity(edge, LENGTH),
        "usable": Quantity(usable, LENGTH),
        "name": name,
        "at": engaged.at,
    }
    text = (
        "A depth of {depth} puts {used} of an edge of {edge} into the stock on {name}, at {at}; usually not more than "
        "{usable} is put to work. Take less depth or a larger insert."
    )
    message = None if verdict == "passes" else Message(text, values)
    return Finding("edge length", verdict, name, engaged.at, length=edge - used, message=message), used


def depth_remark(across: Vector) -> Message:
    """How the depth of a pass was taken.

    >>> depth_remark(Vector(0.0, -1.0)).say()
    'The depth per pass is taken along X, on the radius: this contour runs mostly along Z.'
    """
    if across.z:
        return Message("The depth per pass is taken along Z: this contour runs mostly along X.")
    return Message("The depth per pass is taken along X, on the radius: this contour runs mostly along Z.")


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


@dataclass(frozen=True, slots=True)
class Flank:
    """The flank of an insert as it is held: `thickness` and the bar's smallest bore (mm), `clearance`, `tilt` (rad).

    A `tilt` of None is not known; then `is_bar_ground` says that the bar is taken to tip its insert far enough for the
    smallest bore that the bar itself fits.
    """

    thickness: float
    clearance: float
    tilt: float | None = None
    bar_bore: float | None = None

    @property
    def is_bar_ground(self) -> bool:
        """Whether the tilt is that to which bars are ground, whatever it is."""
        return self.tilt is None and self.bar_bore is not None

    @property
    def angle(self) -> float:
        """The clearance at work (rad), with the usual tilt where none is known.

        >>> [round(math.degrees(Flank(4.76, math.radians(alpha)).angle)) for alpha in (7.0, 0.0)]
        [7, 6]
        """
        usual = 0.0 if self.clearance else USUAL_TILT
        return self.clearance + (usual if self.tilt is None else self.tilt)


def flank_finding(work: Work, flank: Flank) -> tuple[Finding, float | None]:
    """The heel of the flank against the hollow that the turning part makes; the smallest such radius (mm) if known.

    At radius r, where the wall's normal leans from the axis's direction toward the axis, the wall curves around the
    flank with r over that lean: in a bore with its radius, in a dish with the dish's. A tilt that is not known stops no
    tool.
    """
    if flank.is_bar_ground and flank.bar_bore is not None:
        least, known = flank.bar_bore / 2.0, None
    else:
        least = known = least_hollow_radius(flank.thickness, flank.angle)
    hollow = [
        (radius, work.name_of(index), element.point_at(s))
        for index, element in zip(work.machined, work.cut, strict=True)
        for s in (0.0, element.length / 2, element.length)
        if (radius := hollow_radius(element, s, work.side == "left")) is not None
    ]
    if not hollow:
        return Finding("flank in the hollow", "passes"), known
    smallest, name, at = min(hollow, key=lambda found: found[0])
    if smallest >= least * (1.0 - NEAR_AXIS):
        return Finding("flank in the hollow", "passes", name, at, length=smallest - least), known
    values: dict[str, Value] = {
        "name": Capital(name),
        "at": at,
        "hollow": Quantity(smallest, RADIUS),
        "least": Quantity(least, RADIUS),
        "bore": Quantity(2 * least, DIAMETER),
    }
    verdict: Verdict = "tight" if flank.tilt is None else "stops"
    message = Message(_flank_words(flank), values)
    return Finding("flank in the hollow", verdict, name, at, length=smallest - least, message=message), known


def _flank_words(flank: Flank) -> str:
    if flank.is_bar_ground:
        return (
            "{name} is tight: at {at} the turning wall curves with {hollow} around the flank, less than the bar's own "
            "smallest bore {bore}. Take a smaller bar."
        )
    if flank.tilt is not None:
        return (
            "{name} stops this tool: at {at} the turning wall curves with {hollow} around the flank, whose heel clears "
            "{least} and more (a bore of {bore}). Take a thinner insert, more clearance, or a holder that tips it more."
        )
    return (
        "{name} is tight: at {at} the turning wall curves with {hollow} around the flank, whose heel clears {least} "
        "and more (a bore of {bore}) unless the holder tips the insert more: enter its tilt, or measure it."
    )


def flank_remark(flank: Flank) -> Message:
    """Which assumption about the insert's tilt decides.

    >>> flank_remark(Flank(3.96875, math.radians(7.0), None, 19.0)).say()[:66]
    'The tilt is not known: a bar is ground so that the flank of its in'
    """
    values: dict[str, Value] = {"tilt": Quantity(flank.angle - flank.clearance, ANGLE, brief=True)}
    if flank.is_bar_ground and flank.bar_bore is not None:
        values["bore"] = Quantity(flank.bar_bore, DIAMETER)
        text = (
            "The tilt is not known: a bar is ground so that the flank of its insert clears the bar's smallest bore, "
            "here {bore}, so that decides (common practice, no source)."
        )
        return Message(text, values)
    if flank.tilt is not None:
        return Message("The flank is judged with the insert tipped by {tilt}, as entered.", values)
    text = "The tilt is not known: the flank is judged with the insert tipped by {tilt}, usual in holders for {kind}."
    kind = "inserts with clearance" if flank.clearance else "inserts without clearance"
    return Message(text, values | {"kind": kind})


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
