"""What the surface speed does to cost and time of a part, as plots."""

from __future__ import annotations

from dataclasses import dataclass

from calc.answer.plotting import Axis, Column, Curve, Mark, Plot, evenly
from calc.cutting.life import (
    Economy,
    PerPart,
    Taylor,
    Turned,
    edges_for,
    per_part,
)
from calc.cutting.speed import spindle_speed, surface_speed
from calc.language.fields import Declared, result, word
from calc.language.kinds import COST
from calc.language.messages import Message
from calc.language.quantities import COUNT, RATIO, SURFACE_SPEED, TIME
from calc.language.working import recording


class SpeedRow(Declared):
    """What one surface speed comes to."""

    name: str = word("Speed")
    surface_speed: float = result(SURFACE_SPEED, "Surface speed", "v")
    life: float = result(TIME, "Edge lasts", "T")
    in_cut: float = result(TIME, "In cut", "t_m")
    parts_per_edge: float = result(RATIO, "Parts for one edge", "N")
    time: float = result(TIME, "Time for a part", "t_part")
    cost: float | None = result(COST, "Cost of a part", "c_part")
    edges: float | None = result(COUNT, "Edges for the batch")


@dataclass(frozen=True, slots=True)
class Question:
    """The question in its parts."""

    taylor: Taylor
    cut: Turned
    economy: Economy
    batch: float | None
    max_rpm: float | None = None

    def reached(self, v: float) -> float:
        """The surface speed [mm/min] that the spindle reaches of `v` [mm/min]."""
        wanted = spindle_speed.function(v, self.cut.diameter)
        if self.max_rpm is None or wanted <= self.max_rpm:
            return v
        return surface_speed.at("with the limit", n="n_max")(self.cut.diameter, self.max_rpm)

    def row(self, name: str, v: float) -> SpeedRow:
        """What `v` [mm/min] comes to, edges changed after whole parts; noted as steps."""
        found = per_part(v, self.taylor, self.cut, self.economy)
        return SpeedRow(
            name=name,
            surface_speed=v,
            life=found.life,
            in_cut=found.in_cut,
            parts_per_edge=found.parts_per_edge,
            time=found.time,
            cost=found.cost,
            edges=None if self.batch is None else edges_for(self.batch, found.parts_per_edge),
        )

    def best_rows(self, lowest: float | None, most: float) -> list[SpeedRow]:
        """What the two best speeds [mm/min] come to; not noted."""
        with recording():
            named = (("lowest cost", lowest), ("most parts", most))
            return [self.row(name, v) for name, v in named if v is not None]

    def smoothly(self, v: float) -> PerPart:
        """What `v` [mm/min] comes to on average over a long run; not noted."""
        with recording():
            return per_part(v, self.taylor, self.cut, self.economy, whole=False)


@dataclass(frozen=True, slots=True)
class OverSpeed:
    """A part over the surface speed, edges shared evenly over a long run: the curve, rows of its table, best speeds."""

    xs: list[float]
    curve: list[PerPart]
    rows: list[PerPart]
    bests: list[tuple[PerPart, str]]

    @classmethod
    def around(cls, asked: Question, judged: SpeedRow, lowest: float | None, most: float) -> OverSpeed:
        """Around the speed to judge and the best ones, `lowest` cost and `most` parts [mm/min]."""
        bests = [(v, name) for v, name in ((lowest, "lowest cost"), (most, "most parts")) if v is not None]
        others = [judged.surface_speed, *(v for v, _ in bests)]
        low, high = 0.6 * min(others), 1.3 * max(others)
        xs = evenly(low, high, 81)
        rows = sorted({*evenly(low, high, 8), *others})
        best = [(asked.smoothly(v), name) for v, name in bests]
        return cls(xs, [asked.smoothly(v) for v in xs], [asked.smoothly(v) for v in rows], best)

    def cost(self) -> Plot:
        """The cost of a part; only where it is known."""
        costs = [one.cost for one in self.curve if one.cost is not None]
        marks = tuple(Mark(one.speed, one.cost, Message(name)) for one, name in self.bests if one.cost is not None)
        return Plot(
            key="cost",
            title="Cost of a part over the surface speed",
            description=Message("Cost of a part for each surface speed, edges shared evenly, with both best speeds."),
            x=SPEED,
            y=Axis("Cost of a part", COST, "c_part"),
            curves=(Curve("cost of a part", self.xs, costs, "main"),),
            marks=marks,
            caption="Edges shared evenly over a long run",
            columns=(*COLUMNS, Column("Cost of a part", COST)),
            rows=tuple((one.speed, one.life, one.time, one.cost) for one in self.rows),
        )

    def time(self) -> Plot:
        """The time for a part."""
        said = "Time for a part for each surface speed, edge changes shared evenly, with the best speeds."
        return Plot(
            key="time",
            title="Time for a part over the surface speed",
            description=Message(said),
            x=SPEED,
            y=Axis("Time for a part", TIME, "t_part"),
            curves=(Curve("time for a part", self.xs, [one.time for one in self.curve], "main"),),
            marks=tuple(Mark(one.speed, one.time, Message(name)) for one, name in self.bests),
            caption="Edge changes shared evenly over a long run",
            columns=COLUMNS,
            rows=tuple((one.speed, one.life, one.time) for one in self.rows),
        )


SPEED = Axis("Surface speed", SURFACE_SPEED, "v")
COLUMNS = (Column("Surface speed", SURFACE_SPEED), Column("Edge lasts", TIME), Column("Time for a part", TIME))
