"""Starting values beside their fields: usual feed, depth and speed for work and nose, each with its reason."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from calc.cutting.materials import Material
from calc.cutting.operation import speed_started_from
from calc.cutting.starting import Start, starting_cut
from calc.language.messages import Message, Quantity, Value
from calc.language.quantities import FEED, LENGTH, Kind

GROUP = "Feed and depth to start with"


@dataclass(frozen=True, slots=True)
class Offered:
    """Sentences with the reasons, and values to tap for fields that are blank, as texts with their unit."""

    sentences: tuple[Message, ...] = ()
    picks: Mapping[str, tuple[str, ...]] = field(default_factory=dict)


def offered(
    work: Material | None,
    nose: float | None,
    given: Mapping[str, float | None],
    finishing: str = "finish",
    edge_length: float | None = None,
) -> Offered:
    """What roughing and `finishing` ("finish" or "bore") usually start with; nothing where work or nose is unknown.

    `given` holds what stands in the fields rough_feed, pass_depth and feed: only blank ones are offered. `nose` and
    `edge_length` [mm] are the insert's. Source: as the starting values.

    >>> from calc.cutting.materials import material
    >>> offered(material("C45"), 0.8, {"rough_feed": None, "pass_depth": 1.0, "feed": 0.1}).picks
    {'rough_feed': ('0.32mm',)}
    """
    if work is None or nose is None:
        return Offered()
    rough, finish = (starting_cut(work, operation, nose, edge_length) for operation in ("rough", finishing))
    if rough is None or finish is None:
        return Offered()
    ranges = {"rough_feed": rough.feed, "pass_depth": rough.depth, "feed": finish.feed}
    said = (
        _range("Roughing feed", rough.feed, FEED),
        rough.feed.why,
        _range("Depth per pass", rough.depth, LENGTH),
        rough.depth.why,
        _range("Finishing feed", finish.feed, FEED),
        finish.feed.why,
    )
    blank = {name: (f"{start.usual:.2g}mm",) for name, start in ranges.items() if given[name] is None}
    return Offered(said, blank)


def settled_speed(
    given: float | None, work: Material | None, operation: str
) -> tuple[float | None, tuple[Message, ...]]:
    """The `given` surface speed [mm/min], or the material's usual one with the note that says so, or None.

    Source: as the material's starting speeds.

    >>> from calc.cutting.materials import material
    >>> settled_speed(180_000.0, material("C45"), "finish"), settled_speed(None, None, "finish")
    ((180000.0, ()), (None, ()))
    """
    found = work.speed(operation) if work else None
    if given is not None or work is None or found is None:
        return given, ()
    return found.usual, (speed_started_from(work, found),)


def _range(what: str, start: Start, kind: Kind) -> Message:
    values: dict[str, Value] = {
        "what": what,
        "low": Quantity(start.low, kind),
        "usual": Quantity(start.usual, kind),
        "high": Quantity(start.high, kind),
    }
    return Message("{what} to start with: {low} to {high}, usually {usual}.", values)
