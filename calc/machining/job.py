"""What a job is made of: tool, cut, operation, moves; declared once for all that cuts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Literal, NamedTuple

from calc.contour import Chain, Element, Side
from calc.cutting.nouns import Lead, Split
from calc.machining.removal.stock import Stock
from calc.machining.removal.sweep import Outline
from calc.machining.roughing.reachable import Edges

Where = Literal["outside", "bore", "face"]
Strategy = Literal["face", "rough along z", "rough along x", "rough along the contour", "finish"]
Kind = Literal["rapid", "feed"]
Why = Literal["approach", "cut", "retract", "return"]


@dataclass(frozen=True, slots=True)
class Tool:
    """A turning tool (mm, rad): its outline about the nose centre, the edges that cut (None: round), its tool point."""

    outline: Outline
    edges: Edges | None = None
    point: int = 3

    @property
    def nose(self) -> float:
        """The nose radius, mm."""
        return self.outline.nose


class Slower(NamedTuple):
    """Another feed (mm/rev) inside a diameter (mm)."""

    feed: float
    diameter: float


@dataclass(frozen=True, slots=True)
class Cut:
    """How a tool is led (mm, mm/rev, mm/min): depth of a pass, feed, speed; None where a number is not given.

    `along_z` and `along_x` are what the operation leaves on the part, along Z and, of a radius, along X. A finishing
    pass goes at the feed of `slower` near the axis, and is followed by `spring` more along the same path; it goes
    `backward`, from the chuck outward (over a face from the axis out), and leads in and out by `lead`, `lead_size` the
    radius of its arcs or the length of its lines. With `chip_kept` a pass of a round insert that is not as deep as
    `depth` is fed faster, so that its chip is as thick.
    """

    depth: float | None = None
    feed: float | None = None
    surface_speed: float | None = None
    along_z: float = 0.0
    along_x: float = 0.0
    split: Split = "equal"
    slower: Slower | None = None
    spring: int = 0
    chip_kept: bool = False
    backward: bool = False
    lead: Lead = "straight"
    lead_size: float = 2.0


@dataclass(frozen=True, slots=True)
class Contour:
    """A contour of the part as it is to become, and the side of travel on which the tool stands.

    `faced` is a part of which nothing stays in front of the contour's foremost Z.
    """

    chain: Chain
    side: Side
    faced: bool = True


@dataclass(frozen=True, slots=True)
class Setup:
    """How the tool comes and goes (mm): in air before a cut, off the surface after it, and what it is led round.

    `around` is what stands there beside the work: jaws, a centre, a steady rest.
    """

    run_in: float = 2.0
    lift: float = 0.5
    around: Stock | None = None


@dataclass(frozen=True, slots=True)
class Operation:
    """What one tool does: its cut, the strategy, where the surface lies, and the stretch of the contour it works on.

    `first` and `last` are the indices of the first and the last element of that stretch, None from the contour's start
    or to its end.
    """

    tool: Tool
    cut: Cut
    strategy: Strategy = "finish"
    where: Where = "outside"
    first: int | None = None
    last: int | None = None

    @property
    def roughs(self) -> bool:
        """Whether it takes the stock off down to the allowances."""
        return self.strategy.startswith("rough")


@dataclass(frozen=True, slots=True)
class Move:
    """A stretch of the nose centre's path: contiguous elements; `feed` in mm/rev, None where it is not given."""

    elements: tuple[Element, ...]
    feed: float | None = None
    kind: Kind = "feed"
    why: Why = "cut"

    @property
    def length(self) -> float:
        """Its length, mm."""
        return sum(element.length for element in self.elements)


@dataclass(frozen=True, slots=True)
class ToolPass:
    """A pass: its name, its moves in order, each starting where the one before ends."""

    name: str
    moves: tuple[Move, ...] = field(default=())

    @property
    def elements(self) -> list[Element]:
        """All elements of the path."""
        return [element for move in self.moves for element in move.elements]

    @property
    def cutting(self) -> Sequence[Element]:
        """The elements of the moves that cut."""
        return [element for move in self.moves if move.why == "cut" for element in move.elements]
