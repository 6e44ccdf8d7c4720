"""What is asked of a whole part: its print, the stock, the machine, and the operations of each setup in order."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal, TypeAlias, get_args

from calc.answer.drawing import Dimension
from calc.contour import Chain, Point, Side
from calc.cutting.drilling import FLAT, USUAL_POINT, DrillKind
from calc.cutting.machine import Machine
from calc.language.messages import Caution
from calc.machining.job import Contour, Cut, Strategy, Tool, Where
from calc.machining.removal.polygons import only_areas
from calc.machining.removal.region import work_of
from calc.machining.removal.stock import Stock, stock_of
from calc.shapes.centre_holes import CentreForm
from calc.threads.tapping import TapChamfer

End = Literal["first", "second"]
Kind = Literal[
    "face",
    "rough",
    "finish",
    "bore",
    "groove",
    "thread",
    "centre",
    "drill",
    "counterbore",
    "countersink",
    "ream",
    "tap",
    "knurl",
    "part-off",
    "measure",
]
KINDS: tuple[Kind, ...] = get_args(Kind)

VERSION = 3
"""The version of a part as it is saved and sent: 1 had none, and neither soft jaws, collets nor allowances; 2 did
not say how passes are led."""


@dataclass(frozen=True, slots=True)
class Print:
    """A contour of the print and the row (from 1) that each element came from; no rows: one for each element.

    The outside runs from the axis out, the inside from the mouth in; Z zero is the finished face of the first end.
    `solved` are the values of what the print leaves blank, by the fields of its rows. `drawn` is the print itself where
    this is how it is turned, with what is left for later work. `sizes` are the dimensions of its grooves.
    """

    chain: Chain
    rows: tuple[int, ...] = ()
    solved: Mapping[str, float] = field(default_factory=dict)
    drawn: Print | None = None
    sizes: tuple[Dimension, ...] = ()

    @property
    def numbers(self) -> tuple[int, ...]:
        """The row of each element.

        >>> from calc.contour import Line, Point
        >>> Print(Chain((Line(Point(0.0, 4.0), Point(-5.0, 4.0)),))).numbers
        (1,)
        """
        return self.rows or tuple(range(1, len(self.chain) + 1))


@dataclass(frozen=True, slots=True)
class Turning:
    """A turning tool or boring bar: its outline and edges, the designations, what speaks against the pair.

    `along` is the same tool with its shank along the axis, as a dish before the face needs it; None where the shank is
    said to stand otherwise.
    """

    tool: Tool
    along: Tool | None = None
    insert: str = ""
    holder: str = ""
    cautions: tuple[Caution, ...] = ()


@dataclass(frozen=True, slots=True)
class Drill:
    """A drill: diameter (mm), point angle (rad, None: the usual), what it is made of."""

    diameter: float
    point_angle: float | None = None
    made_of: DrillKind = "HSS"

    @property
    def point(self) -> float:
        """The angle of its point, rad: one with inserts is flat.

        >>> round(math.degrees(Drill(12.0).point)), round(math.degrees(Drill(24.0, None, "indexable").point))
        (118, 180)
        """
        if self.point_angle is not None:
            return self.point_angle
        return FLAT if self.made_of == "indexable" else USUAL_POINT


@dataclass(frozen=True, slots=True)
class Reamer:
    """A reamer of a diameter (mm)."""

    diameter: float


@dataclass(frozen=True, slots=True)
class CentreDrill:
    """A centre drill of a size, which is its pilot's diameter in mm as written, and a form: A, B, C or R (ISO 6411)."""

    size: str
    form: CentreForm = "A"


@dataclass(frozen=True, slots=True)
class Countersink:
    """A countersink or spot drill that goes in to a diameter (mm) at the mouth; its included angle (rad)."""

    diameter: float
    angle: float = math.pi / 2.0


@dataclass(frozen=True, slots=True)
class Counterbore:
    """A counterbore of a diameter (mm), flat at its end."""

    diameter: float


@dataclass(frozen=True, slots=True)
class Tap:
    """A tap for a thread as it is written, with its form of chamfer (ISO 8830: A to E)."""

    designation: str
    chamfer: TapChamfer = "C"


@dataclass(frozen=True, slots=True)
class Grooving:
    """An insert or blade that is fed straight in (mm): its width, corner radius (None: 0.2), how deep it reaches.

    Parting off it cuts a chamfer on the part and one on the bar first, 0 for none; its corner on the part's side leads
    by the angle `edge_lead` (rad).
    """

    width: float
    corner: float | None = None
    reach: float | None = None
    part_chamfer: float = 0.0
    bar_chamfer: float = 0.0
    edge_lead: float = 0.0


@dataclass(frozen=True, slots=True)
class Threading:
    """A threading tool: the thread as it is written, the passes (None: usual, none), its tip's radius (mm)."""

    designation: str
    pass_count: float | None = None
    spring_passes: float | None = None
    nose_radius: float | None = None


@dataclass(frozen=True, slots=True)
class Roll:
    """Knurling rolls: pitch (mm), form, diameter over the finished crests (mm; None: that of the rows)."""

    pitch: float
    form: str = "straight"
    over: float | None = None


OnAxis: TypeAlias = CentreDrill | Drill | Counterbore | Countersink | Reamer | Tap
AnyTool: TypeAlias = Turning | OnAxis | Grooving | Threading | Roll


@dataclass(frozen=True, slots=True)
class Operation:
    """One operation: what it does, with what, how it cuts, the rows of the print from `first` to `last` (None: all).

    `where` is the surface (None: by kind). `depth` (mm) is how deep a hole goes at full diameter from Z zero, or how
    long a thread is full (None: to the end of its rows); of a drill's cut the depth is that of a peck. `name` is what
    it is called (blank: its kind and end). `field` is put before the names of faults: `kind`, `tool`, `cut.feed`,
    `from`, `to` and so on. `place` is that of its tool in the turret (None: in order of use), `stick_out` (mm) its
    tool's. `strategy` is how it roughs.
    """

    kind: Kind
    tool: AnyTool | None
    cut: Cut = Cut()
    first: int | None = None
    last: int | None = None
    depth: float | None = None
    where: Where | None = None
    name: str = ""
    field: str = ""
    place: int | None = None
    stick_out: float | None = None
    strategy: Strategy = "rough along z"


@dataclass(frozen=True, slots=True)
class Travel:
    """How far the nose centre can go (mm), in the frame of the end that is worked on; None where nothing is known."""

    z_min: float | None = None
    z_max: float | None = None
    r_min: float | None = None
    r_max: float | None = None

    def holds(self, z_min: float, z_max: float, r_min: float, r_max: float) -> bool:
        """Whether bounds (mm) are within it.

        >>> Travel(z_min=-50.0).holds(-40.0, 5.0, 0.0, 30.0), Travel(r_max=20.0).holds(-40.0, 5.0, 0.0, 30.0)
        (True, False)
        """
        lows = ((self.z_min, z_min), (self.r_min, r_min))
        highs = ((self.z_max, z_max), (self.r_max, r_max))
        below = any(limit is not None and value < limit for limit, value in lows)
        return not below and not any(limit is not None and value > limit for limit, value in highs)


@dataclass(frozen=True, slots=True)
class Jaws:
    """What holds the work (mm): jaws that reach out to a diameter (None: without end) and stand out of the chuck by a
    length (None: the chuck's body is not known), soft ones bored to a diameter and a depth; or a collet of a range.
    """

    outer: float | None = None
    length: float | None = None
    bored: float | None = None
    deep: float | None = None
    collet: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class Steady:
    """A steady rest: where its middle stands (z, mm), how wide it is, to which diameter it reaches (None: endless)."""

    z: float
    width: float
    outer: float | None = None


@dataclass(frozen=True, slots=True)
class Setup:
    """One clamping: the end that is worked on, its operations in order, and what stands around it (mm).

    `length_out` is from the jaws to the stock's front (None: from the depth of soft jaws, where that is known),
    `tailstock_diameter` that of the centre held against the front. The tool point stands at `turning_at` where the
    turret turns.
    """

    end: End = "first"
    operations: tuple[Operation, ...] = ()
    length_out: float | None = None
    jaws: Jaws = Jaws()
    tailstock_diameter: float | None = None
    travel: Travel | None = None
    steady: Steady | None = None
    turning_at: Point | None = None


@dataclass(frozen=True)
class Job:
    """A part from its stock on; the stock is an area in the first end's frame, the material one of its names."""

    outside: Print
    stock: Stock
    setups: tuple[Setup, ...]
    inside: Print | None = None
    machine: Machine = field(default_factory=Machine)
    material: str | None = None

    @property
    def length(self) -> float:
        """The finished part's length, mm."""
        return -self.outside.chain.bounds.z_min

    @property
    def solved(self) -> Mapping[str, float]:
        """The values of what the print leaves blank, by the fields of its rows."""
        return {**self.outside.solved, **(self.inside.solved if self.inside else {})}

    @cached_property
    def finished(self) -> Stock:
        """The finished part as far as the stock has it, behind its second face nothing."""
        import shapely  # noqa: PLC0415 - loaded on first use

        stock = self.stock.whole
        part = work_of(stock, self.outside.chain, "right", faced=True).finished
        if self.inside is not None:
            part = part.intersection(work_of(stock, self.inside.chain, "left").finished)
        far = self.stock.bounds[3] + 1.0
        return stock_of(only_areas(part.intersection(shapely.box(-self.length, 0.0, 1.0, far))))

    def in_order(self) -> Iterator[tuple[Setup, Operation]]:
        """All operations in order, each with its setup."""
        return ((setup, operation) for setup in self.setups for operation in setup.operations)

    def contour(self, where: Where) -> Contour:
        """The whole outside, or for a bore the whole inside, with the side on which the tool stands."""
        print_ = self.inside if where == "bore" else self.outside
        assert print_ is not None, "asked for by kinds that require an inside"
        side: Side = "left" if where == "bore" else "right"
        return Contour(print_.chain, side)
