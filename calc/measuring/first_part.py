"""The first part: from readings to what to key in, what the part will then measure, and what to measure next."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from calc.contour import Chain, Side
from calc.language.quantities import Length
from calc.language.working import formula
from calc.measuring.causes import Name
from calc.measuring.estimate import Estimate, Joint, Measured, estimate_together, one_more
from calc.measuring.places import Place, candidates, size


@formula(means="how far off the part is", source="definition", result="e")
def deviation(M: Length, L: Length) -> Length:
    """By how much (mm) a measured size M is larger than the contour's L.

    Source: definition.

    >>> deviation(18.5, 18.0)
    0.5
    """
    return M - L


@formula(means="change that takes the offset away", source="weighted least squares of all readings", result="Delta")
def change(e: Length) -> Length:
    """What to add to the wear (mm) where the readings together say that the tool stands off by e (mm).

    Source: the opposite of the offset that explains the readings best.

    >>> change(0.01)
    -0.01
    """
    return -e


SAME = 0.5
"""mm: a place nearer than this to one that was measured is no other place."""


@dataclass(frozen=True, slots=True)
class Advice:
    """One more reading: the causes that it would settle, and where to take it; None where none on the part does."""

    causes: tuple[Name, ...]
    place: Place | None


@dataclass(frozen=True, slots=True)
class FirstPart:
    """What the readings say, and what they support.

    `key_x`, `key_z`, `key_nose` are changes to key in (mm, radius): to X and Z wear and to the control's nose radius,
    None where there is nothing that the readings support. `after` is what each reading will be after them.
    """

    found: Estimate
    key_x: float | None
    key_z: float | None
    key_nose: float | None
    after: tuple[float, ...]
    confused: tuple[Advice, ...]
    unseen: tuple[Advice, ...]


@dataclass(frozen=True, slots=True)
class Turned:
    """What one tool turned, as it was programmed, the tool's side and point (0 to 9), and the readings there (mm)."""

    chain: Chain
    side: Side
    readings: Sequence[Measured]
    tool_point: int


def first_part(chain: Chain, side: Side, readings: Sequence[Measured], tool_point: int) -> FirstPart:
    """What to change after the readings of the first part, for a tool of tool point 0 to 9.

    A change is given only where it is larger than its spread: smaller ones chase the gauge.

    >>> from calc.contour import Line, Point
    >>> from calc.measuring.places import find
    >>> chain = Chain((Line(Point(0.0, 9.0), Point(-30.0, 9.0)),))
    >>> places = [find(chain, "right", "diameter", z, 18.0) for z in (-5.0, -25.0)]
    >>> made = first_part(chain, "right", [Measured(place, 18.04, 0.004) for place in places if place], 3)
    >>> round(made.key_x, 4), [round(each, 3) for each in made.after]
    (-0.02, [18.0, 18.0])
    """
    return first_parts([Turned(chain, side, readings, tool_point)])[0]


def first_parts(turned: Sequence[Turned]) -> list[FirstPart]:
    """The same for several tools of one clamping, which share the taper of the work and the growth between two parts.

    >>> first_parts([])
    []
    """
    readings = [replace(reading, tool=tool) for tool, each in enumerate(turned) for reading in each.readings]
    if not turned:
        return []
    joint = estimate_together(readings, [each.tool_point for each in turned])
    return [_of_one(joint, tool, each) for tool, each in enumerate(turned)]


def _of_one(joint: Joint, tool: int, turned: Turned) -> FirstPart:
    found, readings, tool_point = joint.estimates[tool], turned.readings, turned.tool_point
    keys = [_key(found, index) for index in range(3)]
    after = _after(found, readings, keys, tool_point)
    places = _others(turned.chain, turned.side, readings, tool_point)
    confused = tuple(Advice(group, one_more(joint, tool, group, places)) for group in found.together)
    singles = tuple(Advice((name,), one_more(joint, tool, (name,), places)) for name in found.unseen)
    return FirstPart(found, keys[0], keys[1], keys[2] and -keys[2], after, confused, singles)


def _key(found: Estimate, index: int) -> float | None:
    """The change that takes a cause away."""
    value = found.state[index]
    return -value if found.told[index] and abs(value) > found.spreads[index] else None


def _after(
    found: Estimate, readings: Sequence[Measured], keys: Sequence[float | None], tool_point: int
) -> tuple[float, ...]:
    x, z, nose = (value if key is None else value + key for value, key in zip(found.state, keys, strict=False))
    left = found.state._replace(x=x, z=z, nose=nose)
    return tuple(
        reading.value + size(reading.place, left, tool_point) - size(reading.place, found.state, tool_point)
        for reading in readings
    )


def _others(chain: Chain, side: Side, readings: Sequence[Measured], tool_point: int) -> list[Place]:
    """Places for one more reading at which nothing was measured yet."""
    taken = [(reading.place.what, reading.place.spot) for reading in readings]
    return [
        place
        for place in candidates(chain, side, tool_point)
        if not any(what == place.what and spot.distance_to(place.spot) < SAME for what, spot in taken)
    ]
