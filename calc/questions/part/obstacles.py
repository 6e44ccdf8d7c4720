"""What stands around a clamped part: jaws, a centre in the tailstock, the ends of the travel; what runs into them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from calc.contour import Element, Vector
from calc.language.messages import Caution, Message, Value
from calc.machining.removal.polygons import Area, united
from calc.machining.removal.stock import Stock, stock_of
from calc.machining.removal.sweep import Outline, bodies, folded, holder_parts, swept
from calc.questions.part.done import Hit, OperationDone, PassDone
from calc.questions.part.job import Jaws, Setup, Steady, Travel, Turning
from calc.tool.point import STEPS

FAR = 1e4
"""mm: farther than any machine reaches."""

CENTRE_ANGLE = math.radians(30.0)
"""Half of the point angle of a centre (ISO 298)."""

BESIDE = 0.01
"""mm: jaws begin so far outside of what they hold, so that a cut along it is not taken for a hit."""

TURRET_TURNS = "turret indexes"

GRAZED = 1e-3
"""mm2: less than this in common is no hit."""


@dataclass(frozen=True)
class Obstacle:
    """Something that stands there, in words, and its area in the frame of the end that is worked on."""

    what: str
    area: Area


def obstacles_of(setup: Setup, stock: Stock) -> tuple[Obstacle, ...]:
    """What stands around the stock as it is clamped; lengths out are from its front.

    >>> import shapely
    >>> from calc.machining.removal.stock import stock_of
    >>> bar = stock_of(shapely.box(-90.0, 0.0, 1.0, 20.0))
    >>> [each.what for each in obstacles_of(Setup(length_out=50.0, tailstock_diameter=20.0), bar)]
    ['jaws', 'tailstock centre']
    """
    import shapely  # noqa: PLC0415 - loaded on first use

    z = jaws_at(setup, stock)
    found = [] if z is None else list(_jaws(setup.jaws, stock, z))
    if setup.steady is not None:
        found.append(_steady(setup.steady, stock))
    if setup.tailstock_diameter is not None:
        front, r = stock.bounds[2], setup.tailstock_diameter / 2.0
        shoulder = front + r / math.tan(CENTRE_ANGLE)
        corners = [(front, 0.0), (shoulder, r), (FAR, r), (FAR, 0.0)]
        found.append(Obstacle("tailstock centre", shapely.Polygon(corners)))
    return tuple(found)


def jaws_at(setup: Setup, stock: Stock) -> float | None:
    """Where the jaws end (z, mm): by the length out, else by the depth that soft ones are bored; None: not known."""
    if setup.length_out is not None:
        return stock.bounds[2] - setup.length_out
    return None if setup.jaws.deep is None else stock.bounds[0] + setup.jaws.deep


def held_radius(stock: Stock, z: float, length: float = BESIDE) -> float:
    """The largest radius (mm) of the stock over a `length` (mm) behind z (mm); its outer one where nothing is there."""
    found = stock.radii(z - length, z)
    return stock.bounds[3] if found is None else found[1]


def _jaws(jaws: Jaws, stock: Stock, z: float) -> Iterator[Obstacle]:
    import shapely  # noqa: PLC0415 - loaded on first use

    held = held_radius(stock, z)
    top = FAR if jaws.outer is None else max(jaws.outer / 2.0, held + 2.0 * BESIDE)
    yield Obstacle("jaws", shapely.box(-FAR, held + BESIDE, z, top))
    if jaws.length is not None and top < FAR:
        yield Obstacle("chuck", shapely.box(-FAR, top, z - jaws.length, FAR))


def _steady(steady: Steady, stock: Stock) -> Obstacle:
    """A steady rest, on the stock as it is clamped."""
    import shapely  # noqa: PLC0415 - loaded on first use

    r = held_radius(stock, steady.z)
    half = steady.width / 2.0
    top = FAR if steady.outer is None else max(steady.outer / 2.0, r + 2.0 * BESIDE)
    return Obstacle("steady rest", shapely.box(steady.z - half, r + BESIDE, steady.z + half, top))


def standing(obstacles: Sequence[Obstacle]) -> Stock | None:
    """All obstacles in one, for moves to be led round; None without any."""
    return stock_of(united([each.area for each in obstacles])).prepared() if obstacles else None


def with_obstacles(done: OperationDone, setup: Setup, obstacles: Sequence[Obstacle]) -> OperationDone:
    """The operation with what of it runs into an obstacle or beyond the travel, each once for a pass."""
    hits = tuple(hit for each in done.passes for hit in _hits(each, obstacles, setup.travel))
    hits += tuple(_where_it_turns(done, setup, obstacles))
    cautions = tuple(_said(hits))
    return replace(done, hits=(*done.hits, *hits), cautions=(*done.cautions, *cautions)) if hits else done


def _where_it_turns(done: OperationDone, setup: Setup, obstacles: Sequence[Obstacle]) -> Iterator[Hit]:
    """What the tool meets where it stands while the turret turns, before and after its operation."""
    outline = next((each.outline for each in done.passes if each.outline is not None), None)
    if setup.turning_at is None or outline is None:
        return
    tool = done.operation.tool
    step = STEPS[tool.tool.point].times(-tool.tool.nose) if isinstance(tool, Turning) else Vector(0.0, 0.0)
    centre = setup.turning_at.moved(step)
    around = [Obstacle("stock", done.before.whole), *obstacles]
    parts = [folded(outline.at(centre)), folded(outline.holder_at(centre))]
    for each in around:
        if any(part.intersection(each.area).area > GRAZED for part in parts):
            yield Hit(TURRET_TURNS, each.what)


def _said(hits: Sequence[Hit]) -> Iterator[Caution]:
    for what in dict.fromkeys(hit.what for hit in hits):
        names = [hit.pass_name for hit in hits if hit.what == what]
        values: dict[str, Value] = {"name": names[0], "what": what, "more": len(names) - 1}
        text = "Pass “{name}” runs into the {what}: clamp it farther out, or take another tool."
        if len(names) > 1:
            text = (
                "Pass “{name}” runs into the {what} (further passes: {more}): clamp it farther out, or take another "
                "tool."
            )
        if names[0] == TURRET_TURNS:
            text = "Where the turret indexes, the tool is inside the {what}: index farther away."
        yield Caution(Message(text, values), 3, "length_out")


def _hits(one: PassDone, obstacles: Sequence[Obstacle], travel: Travel | None) -> Iterator[Hit]:
    path = [element for move in one.tool_pass.moves for element in move.elements]
    if one.outline is not None:
        box = _box(one.outline)
        for each in obstacles:
            if any(_meets(each.area, one.outline, box, element) for element in path):
                yield Hit(one.name, each.what)
    if travel is not None and any(not travel.holds(*element.bounds()) for element in path):
        yield Hit(one.name, "end of the travel")


def _box(outline: Outline) -> tuple[float, float, float, float]:
    """How far the whole tool reaches about its nose centre: least and greatest z, least and greatest r."""
    around = bodies(outline, 0.0)
    return (
        min(float(body.real.min()) for body in around),
        max(float(body.real.max()) for body in around),
        min(float(body.imag.min()) for body in around),
        max(float(body.imag.max()) for body in around),
    )


def _meets(area: Area, outline: Outline, box: tuple[float, float, float, float], element: Element) -> bool:
    """Whether the whole tool gets at an area along an element; seen roughly first."""
    z_min, z_max, r_min, r_max = element.bounds()
    z_low, r_low, z_high, r_high = area.bounds
    if z_min + box[0] >= z_high or z_max + box[1] <= z_low:
        return False
    if max(r_max + box[3], -(r_min + box[2])) <= r_low or (r_min + box[2] >= r_high):
        return False
    parts = [folded(swept(outline, [element])), *(folded(part) for part in holder_parts(outline, element))]
    return any(part.intersection(area).area > GRAZED for part in parts)
