"""Time and price of a batch: set-up, parts, edges, bars; two or more ways of making it beside each other."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from calc.answer.feature import Answer, Feature, Rows
from calc.answer.plotting import Axis, Column, Curve, Level, Plot
from calc.cutting import nouns
from calc.cutting.batches import batch_price, batch_time, equal_batch, price_of_a_part, time_of_a_part
from calc.cutting.life import edges_for
from calc.language.checks import require
from calc.language.fields import Declared, given, needed, part, result, rows, word
from calc.language.kinds import COST, COST_RATE
from calc.language.messages import Caution, Message, Phrase, Quantity, Value
from calc.language.problems import Contradiction, Fault, Impossible
from calc.language.quantities import COUNT, RATIO, TIME
from calc.language.working import recording
from calc.questions.operations.batch_shares import (
    BatchBarInputs,
    BatchLifeInputs,
    parts_for_an_edge,
    parts_from_the_bar,
)

MOST_WAYS = 4
CURVE = 60  # points of each curve
LEAST = 20.0  # the curves begin at the batch over this
SPAN = 3.0  # times the batch, as far as the curves run at least
SMALL = 1e-12


class WayRow(Declared):
    """One way of making the parts: a machine, a tool, a bar."""

    way: str | None = word("Method", blank="its number")
    part_time: float = needed(TIME, "Time for a part", "t_1", above=0.0, hint="in cut and handling")
    set_up_time: float = given(TIME, "Set-up", "t_s", least=0.0, blank="none", default=0.0)
    rate: float = given(COST_RATE, "Machine and operator", "c_m", least=0.0, blank="0", default=0.0)
    parts_per_edge: float | None = given(
        COUNT, "Parts for one edge", above=0.0, blank="by its surface speed, else one edge for all"
    )
    surface_speed: float | None = nouns.SURFACE_SPEED.given(blank="the parts for one edge are given")
    time_in_cut: float | None = given(TIME, "Time in cut for a part", "t_m", above=0.0, blank="all of its time")
    edge_change: float = given(TIME, "Time to change an edge", "t_e", least=0.0, blank="none", default=0.0)
    edge_price: float = given(COST, "Price of an edge", "c_e", least=0.0, blank="0", default=0.0)
    parts_per_bar: float | None = given(COUNT, "Parts from a bar", above=0.0, least=1.0, blank="those of the bar below")
    bar_cost: float | None = given(COST, "Price of its bar", "c_b", least=0.0, blank="that of the bar below")


class BatchInputs(Declared):
    """The batch, and the ways in which it can be made."""

    batch: float = nouns.BATCH.needed()
    ways: tuple[WayRow, ...] = rows(
        WayRow, "Methods of making it", one="Method", hint="two or more are compared", begin=2, fewest=1, most=MOST_WAYS
    )
    life: BatchLifeInputs = part(BatchLifeInputs, "How long an edge lasts")
    bar: BatchBarInputs = part(BatchBarInputs, "The bar")


class WayResult(Declared):
    """What one way comes to."""

    way: str = word("Method")
    price_per_part: float = result(COST, "Price of a part")
    price: float = result(COST, "Price of the batch")
    time_per_part: float = result(TIME, "Time of a part, with its share")
    time: float = result(TIME, "Time of the batch")
    parts_per_edge: float | None = result(RATIO, "Parts for one edge")
    edges: float = result(COUNT, "Edges")
    parts_per_bar: float | None = result(COUNT, "Parts from a bar")
    bars: float | None = result(COUNT, "Bars")
    over: float | None = result(COUNT, "More parts in the last bar")


class BatchResults(Declared):
    """The way that costs least; where nothing has a price, the one that takes least time."""

    price_per_part: float | None = result(COST, "Price of a part", "P_1", hint="of the cheapest method")
    best_way: str = word("Best method")
    batch_time: float = result(TIME, "Time of the batch", "t_B", hint="of that method")
    batch_price: float | None = result(COST, "Price of the batch", "P_B")
    quickest_way: str = word("Quickest method")
    equal_batch: float | None = result(COUNT, "First two methods cost the same at", "N_e", hint="parts, on average")


@dataclass(frozen=True, slots=True)
class _Way:
    """A way with its name."""

    name: str
    row: WayRow
    parts_per_edge: float | None
    parts_per_bar: float | None
    bar_cost: float

    def result(self, batch: float) -> WayResult:
        """What it comes to for a batch; noted as steps."""
        row = self.row
        edges = 1 if self.parts_per_edge is None else edges_for(batch, self.parts_per_edge)
        bars, used = None, 0.0
        if self.parts_per_bar is not None:
            bars = used = float(-(-batch // self.parts_per_bar))
        time = batch_time.at(self.name)(row.set_up_time, batch, row.part_time, edges - 1, row.edge_change)
        price = batch_price.at(self.name)(time, row.rate, edges, row.edge_price, used, self.bar_cost)
        return WayResult(
            way=self.name,
            price_per_part=price_of_a_part.at(self.name)(price, batch),
            price=price,
            time_per_part=time_of_a_part.at(self.name)(time, batch),
            time=time,
            parts_per_edge=self.parts_per_edge,
            edges=float(edges),
            parts_per_bar=self.parts_per_bar,
            bars=bars,
            over=None if bars is None or self.parts_per_bar is None else bars * self.parts_per_bar - batch,
        )

    @property
    def once(self) -> float:
        """What is paid once for a batch, however large."""
        return self.row.set_up_time * self.row.rate

    @property
    def each(self) -> float:
        """What each part costs on average."""
        row = self.row
        edge = 0.0
        if self.parts_per_edge is not None:
            edge = (row.edge_price + row.edge_change * row.rate) / self.parts_per_edge
        bar = 0.0 if self.parts_per_bar is None else self.bar_cost / self.parts_per_bar
        return row.part_time * row.rate + edge + bar


def solve(inputs: BatchInputs) -> Answer[BatchResults]:
    """The batch in each way. Raises Missing, OutOfRange; Impossible for parts that are not whole.

    >>> one = WayRow(part_time=2.0, set_up_time=60.0, rate=0.5, parts_per_edge=25.0, edge_change=1.5, edge_price=4.0)
    >>> round(solve(BatchInputs(batch=100.0, ways=(one,))).results.batch_time, 1)
    264.5
    """
    require(inputs)
    batch = inputs.batch
    if batch != round(batch):
        raise Impossible(Fault("batch", Message("A batch has a whole number of parts.")))
    for index, row in enumerate(inputs.ways):
        if row.parts_per_bar is not None and row.parts_per_bar != round(row.parts_per_bar):
            raise Impossible(Fault(f"ways.{index}.parts_per_bar", Message("A bar gives a whole number of parts.")))
    ways = _ways(inputs)
    found = [way.result(batch) for way in ways]
    priced = any(each.price > 0.0 for each in found)
    best = min(found, key=lambda each: (each.price, each.time) if priced else (each.time, each.price))
    equal = _equal(ways)
    return Answer(
        results=BatchResults(
            price_per_part=best.price_per_part if priced else None,
            best_way=best.way,
            batch_time=best.time,
            batch_price=best.price if priced else None,
            quickest_way=min(found, key=lambda each: each.time).way,
            equal_batch=equal,
        ),
        headline="price_per_part" if priced else "batch_time",
        tables={"compared": tuple(found)},
        cautions=tuple(_cautions(ways, batch, priced=priced)),
        notes=(Message(_COUNTED),),
        plots=(_plot(ways, batch, equal),) if priced else (),
    )


def _ways(inputs: BatchInputs) -> list[_Way]:
    """The ways with what is taken from the bar and from the life of an edge. Raises what those questions raise."""
    from_bar = None
    if any(row.parts_per_bar is None for row in inputs.ways):
        from_bar = parts_from_the_bar(inputs.bar)
    return [
        _Way(
            name := row.way or Phrase("method {number}", number=number),
            row,
            _parts_per_edge(inputs, row, number - 1, name),
            from_bar if row.parts_per_bar is None else row.parts_per_bar,
            inputs.bar.bar_price if row.bar_cost is None else row.bar_cost,
        )
        for number, row in enumerate(inputs.ways, start=1)
    ]


def _parts_per_edge(inputs: BatchInputs, row: WayRow, index: int, name: str) -> float | None:
    if row.surface_speed is None:
        return row.parts_per_edge
    if row.parts_per_edge is not None:
        said = Message("Give the parts for one edge or the surface speed that they follow from, not both.")
        field = f"ways.{index}.parts_per_edge"
        raise Contradiction(Fault(field, said), fields=(field, f"ways.{index}.surface_speed"))
    in_cut = row.part_time if row.time_in_cut is None else row.time_in_cut
    if in_cut > row.part_time:
        values: dict[str, Value] = {"cut": Quantity(in_cut, TIME), "part": Quantity(row.part_time, TIME)}
        said = Message("{cut} in cut is more than the {part} of the whole part.", values)
        raise Impossible(Fault(f"ways.{index}.time_in_cut", said))
    return parts_for_an_edge(inputs.life, row.surface_speed, in_cut, name)


def _equal(ways: list[_Way]) -> float | None:
    """The batch at which the first two ways cost the same on average; None where one always costs less."""
    if len(ways) < 2 or abs(ways[0].each - ways[1].each) < SMALL:
        return None
    with recording():
        found = equal_batch(ways[0].once, ways[1].once, ways[0].each, ways[1].each)
    return equal_batch(ways[0].once, ways[1].once, ways[0].each, ways[1].each) if found > 0.0 else None


def _plot(ways: list[_Way], batch: float, equal: float | None) -> Plot:
    most = SPAN * max(batch, 4.0, *(() if equal is None else (equal,)))
    least = max(batch / LEAST, 1.0)
    sizes = sorted({float(round(least * (most / least) ** (step / CURVE))) for step in range(CURVE + 1)})
    with recording():
        curves = tuple(
            Curve(
                way.name, sizes, [way.result(size).price_per_part for size in sizes], "main" if not index else "other"
            )
            for index, way in enumerate(ways)
        )
        shown = sorted({sizes[0], batch, *([] if equal is None else [float(max(1, round(equal)))]), sizes[-1]})
        table = tuple((size, *(way.result(size).price_per_part for way in ways)) for size in shown)
    return Plot(
        key="over-batch",
        title="Price of a part over the batch",
        description=Message("What a part costs by each method, the set-up shared by ever more parts."),
        x=Axis("Parts in the batch", COUNT, "N"),
        y=Axis("Price of a part", COST, "P_1", (0.0,)),
        curves=curves,
        levels=(Level(batch, "x", Message("batch")),),
        caption="Price of a part for some batches",
        columns=(Column("Batch", COUNT), *(Column(way.name, COST) for way in ways)),
        rows=table,
    )


def _cautions(ways: list[_Way], batch: float, *, priced: bool) -> Iterator[Caution]:
    for way in ways:
        if way.parts_per_edge is not None and batch > way.parts_per_edge and not way.row.edge_change:
            values: dict[str, Value] = {"way": way.name, "parts": Quantity(way.parts_per_edge, COUNT)}
            yield Caution(Message(_NO_CHANGE, values), 1, "ways")
    if not priced:
        yield Caution(Message(_NO_PRICE), 1, "ways")


_COUNTED = (
    "Edges and bars count as whole ones; the first edge is part of the set-up. Scrap, measuring and waiting are not "
    "included: add them to the time for a part."
)
_NO_CHANGE = "With {way} an edge is changed (parts per edge: {parts}): give the time to change one."
_NO_PRICE = "Without a rate of the machine or prices only times are compared."

FEATURE = Feature(
    path="plan/batch",
    title="Batch time and price",
    summary="Time and price of a batch and of each part from set-up, edges and bars; two methods side by side.",
    solve=solve,
    page="/batch",
    rows={"compared": Rows(WayResult, "The methods side by side")},
    supporting=("best_way", "batch_time", "batch_price", "equal_batch"),
    example={
        "batch": "200",
        "ways": "*".join(
            (
                "way:180~part_time:6.2~set_up_time:30~rate:48~surface_speed:180~time_in_cut:4~edge_change:1~edge_price:8",
                "way:230~part_time:5.3~set_up_time:30~rate:48~surface_speed:230~time_in_cut:3.1~edge_change:1~edge_price:8",
            )
        ),
        "known_speed": "200",
        "known_life": "15",
        "exponent": "0.25",
        "bar_length": "3000",
        "part_length": "40",
        "face_stock": "1",
        "blade_width": "3",
        "remnant": "80",
        "bar_price": "42",
    },
    examples={
        "Two machines": {
            "batch": "200",
            "ways": "*".join(
                (
                    "part_time:6.2~set_up_time:30~rate:48~parts_per_edge:60~edge_change:1~edge_price:8",
                    "part_time:4.1~set_up_time:90~rate:60~parts_per_edge:40~edge_change:1~edge_price:6",
                )
            ),
        },
    },
)
