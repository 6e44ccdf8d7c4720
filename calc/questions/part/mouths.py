"""The mouth of a hole on the axis: centre drills, countersinks that spot too, counterbores."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

from calc.contour import Point
from calc.cutting.drilling import FLAT, drilling_time, point_length
from calc.cutting.machine import limited_rpm
from calc.cutting.speed import spindle_speed, surface_speed
from calc.language.messages import Caution, Message, Quantity
from calc.language.problems import Fault, Missing, OutOfRange
from calc.language.quantities import DIAMETER
from calc.machining.job import Cut, ToolPass
from calc.machining.reach.tool import SHANK_LENGTH
from calc.machining.removal.polygons import places_of
from calc.machining.removal.sweep import Outline
from calc.machining.removal.taking import Removal
from calc.machining.straight_in import SHARP, Leg, drill_outline, moves_of, pecks
from calc.questions.operations.drilling import APPROACH
from calc.questions.part.asked import Asked, cut_too_deep, reported, speed_cautions
from calc.questions.part.close_sizes import cut_on_axis
from calc.questions.part.done import OperationDone, PassDone
from calc.questions.part.holes import axis_row
from calc.questions.part.job import CentreDrill, Counterbore, Countersink
from calc.questions.part.rows import SetTo
from calc.shapes.centre_hole_outline import Section, section
from calc.shapes.centre_holes import centre_holes

Mouth = CentreDrill | Countersink | Counterbore
AS_FINE = 1e-3
"""mm: chords keep so near to the arc of a centre drill of form R."""


def mouthed(asked: Asked) -> OperationDone:
    """A centre hole, a countersink or a counterbore at its mouth; the force is not calculated. Raises `Problem`."""
    tool = asked.operation.tool
    if not isinstance(tool, Mouth):
        raise OutOfRange(Fault("tool", Message("This needs a centre drill, a countersink or a counterbore.")))
    cut = _cut(asked, tool)
    speed, feed = asked.needed("surface_speed", cut.surface_speed), asked.needed("feed", cut.feed)
    wide = widest(tool)
    rpm = limited_rpm(spindle_speed(speed, wide), asked.job.machine)
    removal = _taken(asked, tool, feed)
    length = removal.tool_pass.moves[1].length
    set_to = SetTo(feed, surface_speed.function(wide, rpm), rpm)
    row = axis_row(asked, removal, set_to, drilling_time(length, 0.0, 0.0, feed, rpm), wide / 2.0)
    bore = None if asked.job.inside is None else asked.seen(asked.job.contour("bore"))
    return reported(
        asked,
        [removal],
        [PassDone(removal.name, removal.tool_pass, removal.volume, row, outline=mouth_outline(tool))],
        too_deep=None if bore is None else cut_too_deep(asked, bore, removal.stock),
        cautions=(*_takes_nothing(removal, tool), *speed_cautions(asked, rpm)),
        notes=tuple(_notes(asked, tool)),
    )


def widest(tool: Mouth) -> float:
    """The diameter (mm) at the mouth that a tool makes.

    >>> widest(CentreDrill("4", "B")), widest(Counterbore(18.0))
    (12.5, 18.0)
    """
    return 2.0 * _section(tool).rim.r if isinstance(tool, CentreDrill) else tool.diameter


def _section(tool: CentreDrill) -> Section:
    """The hole that a centre drill makes. Raises `OutOfRange` for a size that is none of the standard's."""
    sizes = centre_holes()
    if tool.size not in sizes:
        text = "A centre drill is named by its pilot: {sizes} mm."
        raise OutOfRange(Fault("tool.size", Message(text, {"sizes": ", ".join(sizes)})))
    return section(sizes[tool.size], tool.form)


def _cut(asked: Asked, tool: Mouth) -> Cut:
    """Speed and feed: those that are given, else by the material as a hole on the axis has them."""
    cut = asked.operation.cut
    if cut.surface_speed is not None and cut.feed is not None:
        return cut
    if asked.work is None:
        return cut
    kind = "spot" if isinstance(tool, CentreDrill) else asked.operation.kind
    narrow = centre_holes()[tool.size].pilot if isinstance(tool, CentreDrill) and _section(tool) else widest(tool)
    usual = cut_on_axis(kind, asked.work, narrow)
    return replace(cut, surface_speed=cut.surface_speed or usual.surface_speed, feed=cut.feed or usual.feed)


def _bottom(asked: Asked, tool: Mouth) -> float:
    """Where the tip ends, z in mm. Raises `Missing` for a counterbore without a depth."""
    if isinstance(tool, CentreDrill):
        return _section(tool).chain.end.z
    if isinstance(tool, Countersink):
        return -point_length.function(tool.diameter, tool.angle)
    if asked.operation.depth is None:
        raise Missing(Fault("depth", Message("Give how deep the counterbore goes.")))
    return -asked.operation.depth


def _taken(asked: Asked, tool: Mouth, feed: float) -> Removal:
    """The tool led in and out; what its bodies take one after the other is taken by one pass."""
    top, bottom = asked.before.bounds[2] + APPROACH, _bottom(asked, tool)
    start = Point(top + APPROACH, 0.0)
    legs = [Leg(Point(top, 0.0), None, "rapid", "approach"), *pecks(top, bottom, None, feed)]
    led = ToolPass(asked.operation.kind, moves_of(start, [*legs, Leg(start, None, "rapid", "return")]))
    stock, found = asked.before, list[Removal]()
    for outline in outlines_of(tool):
        found.append(asked.taking(outline).take(stock, led))
        stock = found[-1].stock
    stays = isinstance(tool, CentreDrill) and asked.job.inside is None
    return replace(
        found[-1],
        area=sum(each.area for each in found),
        volume=sum(each.volume for each in found),
        gouged=0.0 if stays else sum(each.gouged for each in found),
        rapid=sum(each.rapid for each in found),
    )


def outlines_of(tool: Mouth) -> list[Outline]:
    """The convex bodies of a tool about its tip: of a centre drill one for each piece of its section.

    >>> len(outlines_of(CentreDrill("4", "A"))), len(outlines_of(CentreDrill("4", "B")))
    (3, 4)
    """
    if isinstance(tool, Counterbore):
        return [drill_outline(tool.diameter, FLAT)]
    if isinstance(tool, Countersink):
        return [drill_outline(tool.diameter, tool.angle)]
    cut = _section(tool)
    places = [place for element in cut.chain for place in pairwise(places_of(element, AS_FINE).tolist())]
    back = SHANK_LENGTH + cut.rim.r
    shifted = [(a - cut.chain.end.z, b - cut.chain.end.z) for a, b in places if abs(a.real - b.real) > SHARP]
    return [_body((deep.real, deep.imag), (high.real, high.imag), back) for high, deep in shifted]


def _body(deep: tuple[float, float], high: tuple[float, float], back: float) -> Outline:
    """A frustum between two places (z and r, mm) and the cylinder behind it; only its corners are rounded by SHARP."""
    import shapely  # noqa: PLC0415 - loaded on first use

    upper = [(deep[0], deep[1]), (high[0], high[1]), (back, high[1])]
    whole = shapely.convex_hull(shapely.MultiPoint([*upper, *((z, -r) for z, r in upper)]))
    core = shapely.geometry.polygon.orient(whole.buffer(-SHARP, join_style="mitre", mitre_limit=100.0))
    return Outline(tuple(Point(z, r) for z, r in core.exterior.coords[:-1]), SHARP)


def mouth_outline(tool: Mouth) -> Outline:
    """The tool as it is drawn, about its tip: of a centre drill what goes in first, the rest behind it."""
    *behind, first = outlines_of(tool)
    return replace(first, holders=tuple(each.core for each in behind))


def _takes_nothing(removal: Removal, tool: Mouth) -> Iterator[Caution]:
    if removal.volume <= 0.0:
        text = "It cuts nothing: the hole is already {wide} wide or more there."
        yield Caution(Message(text, {"wide": Quantity(widest(tool), DIAMETER)}), 2, "tool")


def _notes(asked: Asked, tool: Mouth) -> Iterator[Message]:
    yield Message("The force of this tool is not calculated.")
    if isinstance(tool, CentreDrill) and asked.job.inside is None:
        yield Message("The print has no bore there: the centre hole stays in the end. See that the drawing permits it.")
