"""`POST /api/plan/part`: a whole part, its operations in order on both ends, each on the stock of the one before."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Any, cast

from calc.cutting.machine import Machine
from calc.language.edition import TABLES
from calc.language.messages import Message, Quantity
from calc.language.problems import Fault, Impossible, Missing, Problem
from calc.language.quantities import (
    DIAMETER,
    FEED,
    FORCE,
    LENGTH,
    POWER,
    RADIUS,
    SPINDLE_SPEED,
    SURFACE_SPEED,
    TIME,
    VOLUME,
    Kind,
    View,
)
from calc.machining.job import Cut
from calc.machining.removal.region import Bar
from calc.machining.removal.stock import Stock, stock_of
from calc.questions.operations.contour_plan.inputs import ToolInputs
from calc.questions.operations.contour_plan.plan import LONGEST, LONGEST_BACK, rows_of
from calc.questions.operations.contour_plan.tool import plan_tool
from calc.questions.part.done import OperationDone, PartDone
from calc.questions.part.job import KINDS, Job, Operation, Print, Setup, Turning
from calc.questions.part.job import Kind as PartKind
from calc.questions.part.run import run
from server.contour_json import BodyReader, chain_of, read_contour
from server.posting import Post

Json = dict[str, Any]
NAMES: dict[str, tuple[str, ...]] = {
    "": ("part", "stock", "machine", "setups"),
    "part": ("material", "outside", "inside"),
    "stock": ("bar_diameter", "bore_diameter", "face_stock", "length"),
    "machine": ("max_rpm",),
    "setup": ("end", "length_out", "operations"),
    "operation": ("kind", "name", "tool", "cut", "from", "to"),
    "tool": ("insert", "holder", "nose_radius"),
    "cut": ("surface_speed", "feed", "depth", "allowance_z", "allowance_x"),
}
MOST_OPERATIONS = 40


class _Reading:
    """Reads one body."""

    def __init__(self, body: Json, view: View) -> None:
        self.reader = BodyReader(view)
        self.body = self.object(body, "", "")
        part = self.object(self.body.get("part"), "part", "part")
        material = self.reader.word(part.get("material"), "part.material")
        outside = self._print(part, "outside")
        inside = None if part.get("inside") is None else self._print(part, "inside")
        self.outside = outside.chain
        if self.outside.bounds.z_min >= 0.0:
            self.reader.fault("part.outside", "The outside must run from Z zero to negative Z, into the part.")
        machine, stock = self._machine(), self._stock()
        self.job = Job(outside, stock, tuple(self._setups()), inside, machine, material)
        self.reader.done()

    def object(self, value: Any, noun: str, field: str) -> Json:
        """An object with no names but its own. Raises `OutOfRange` for anything else."""
        if not isinstance(value, dict):
            self.reader.fault(field, "Give this as an object.")
            self.reader.done()
        for name in value:
            if name not in NAMES[noun]:
                self.reader.fault(f"{field}.{name[:40]}".lstrip("."), "There is no such name here.")
        return cast("Json", value)

    def positive(self, of: Json, name: str, kind: Kind, field: str, *, zero: bool = False) -> float | None:
        """A number above 0 (or from 0 on), at most `LONGEST`-like sizes where it is a length."""
        place = f"{field}.{name}"
        value = self.reader.number(of.get(name), kind, place)
        if value is not None and (value < 0.0 or (value == 0.0 and not zero)):
            self.reader.fault(place, "This must not be negative." if zero else "This must be more than 0.")
        if value is not None and kind.dimension == "length" and value > LONGEST:
            self.reader.fault(place, "This is larger than any part: see that no decimal point is missing.")
        return value

    def list(self, value: Any, field: str) -> list[Any]:
        """A list that is not empty. Raises `OutOfRange` for anything else."""
        if not isinstance(value, list) or not 0 < len(value) <= MOST_OPERATIONS:
            self.reader.fault(field, f"Give a list of 1 to {MOST_OPERATIONS} here.")
            self.reader.done()
        return cast("list[Any]", value)

    def _print(self, part: Json, name: str) -> Print:
        field = f"part.{name}."
        start, elements = read_contour(part.get(name), self.reader, field)
        self.reader.done()
        chain = chain_of(start, elements, field)
        if chain.bounds.size > LONGEST:
            self.reader.fault(f"part.{name}", "This is larger than any part: see that no decimal point is missing.")
            self.reader.done()
        return Print(chain, rows_of(elements, chain))

    def _machine(self) -> Machine:
        machine = self.object(self.body.get("machine") or {}, "machine", "machine")
        return Machine(max_rpm=self.positive(machine, "max_rpm", SPINDLE_SPEED, "machine"))

    def _stock(self) -> Stock:
        stock = self.object(self.body.get("stock"), "stock", "stock")
        bar, bore = (self.positive(stock, name, DIAMETER, "stock") for name in ("bar_diameter", "bore_diameter"))
        face = self.positive(stock, "face_stock", LENGTH, "stock", zero=True) or 0.0
        length = self.positive(stock, "length", LENGTH, "stock")
        self.reader.done()
        if bar is None:
            raise Missing(Fault("stock.bar_diameter", Message("Give the bar's diameter.")))
        needed, long = 2.0 * self.outside.bounds.r_max, -self.outside.bounds.z_min
        if bar < needed * (1.0 - 1e-9):
            values = {"bar": Quantity(bar, DIAMETER, brief=True), "needed": Quantity(needed, DIAMETER)}
            text = "The bar {bar} is smaller than the part, {needed}."
            raise Impossible(Fault("stock.bar_diameter", Message(text, values)))
        if bore is not None and bore >= bar:
            raise Impossible(Fault("stock.bore_diameter", Message("The bore takes the whole bar away.")))
        if length is not None and length < (long + face) * (1.0 - 1e-9):
            raise Impossible(Fault("stock.length", Message("The stock is shorter than the part and its face stock.")))
        back = -long - LONGEST_BACK if length is None else face - length
        return stock_of(Bar(bar / 2.0, face, back, (bore or 0.0) / 2.0).area())

    def _setups(self) -> Iterator[Setup]:
        for number, value in enumerate(self.list(self.body.get("setups"), "setups")):
            field = f"setups.{number}"
            setup = self.object(value, "setup", field)
            end = self.reader.one_of(setup.get("end", "first"), ("first", "second"), f"{field}.end") or "first"
            out = self.positive(setup, "length_out", LENGTH, field)
            operations = []
            for index, each in enumerate(self.list(setup.get("operations"), f"{field}.operations")):
                place = f"{field}.operations.{index}"
                operations.append(self._operation(self.object(each, "operation", place), place))
            yield Setup(cast("Any", end), tuple(operations), out)

    def _operation(self, of: Json, field: str) -> Operation:
        kind = self.reader.word(of.get("kind"), f"{field}.kind") or ""
        if kind not in KINDS:
            self.reader.fault(f"{field}.kind", f"This must be one of: {', '.join(KINDS)}.")
        name = self.reader.word(of.get("name"), f"{field}.name") or ""
        first, last = (self._row(of.get(each), f"{field}.{each}") for each in ("from", "to"))
        self.reader.done()
        tool = self._tool(self.object(of.get("tool"), "tool", f"{field}.tool"), f"{field}.tool", along=kind == "bore")
        cut = self._cut(self.object(of.get("cut"), "cut", f"{field}.cut"), f"{field}.cut")
        return Operation(cast("PartKind", kind), tool, cut, first, last, name, field)

    def _tool(self, of: Json, field: str, *, along: bool) -> Turning:
        insert, holder = (self.reader.word(of.get(name), f"{field}.{name}") for name in ("insert", "holder"))
        nose = self.positive(of, "nose_radius", RADIUS, field)
        self.reader.done()
        try:
            found = plan_tool(ToolInputs(insert=insert, holder=holder, nose_radius=nose), along=along)
        except Problem as problem:
            raise problem.renamed(lambda name: f"{field}.{name}") from problem
        return Turning(found.tool, insert or "", holder or "", found.cautions)

    def _cut(self, of: Json, field: str) -> Cut:
        speed = self.positive(of, "surface_speed", SURFACE_SPEED, field)
        feed, depth = self.positive(of, "feed", FEED, field), self.positive(of, "depth", LENGTH, field)
        along_z, along_x = (
            self.positive(of, name, LENGTH, field, zero=True) or 0.0 for name in ("allowance_z", "allowance_x")
        )
        for name, value in {"surface_speed": speed, "feed": feed}.items():
            if of.get(name) is None and value is None:
                self.reader.fault(f"{field}.{name}", "This operation needs it.")
        self.reader.done()
        return Cut(depth, feed, speed, along_z, along_x)

    def _row(self, value: Any, field: str) -> int | None:
        if value is None or type(value) is int:
            return value
        self.reader.fault(field, "Give a row number, or null for all.")
        return None


def answer(body: Json, view: View) -> Json:
    """The plan of a body's part. Raises `Problem` with the body's field names."""
    try:
        done = run(_Reading(body, view).job)
    except Problem as problem:
        raise problem.renamed(lambda name: "part.material" if name == "material" else name) from problem
    rows = [_row(each) for each in done.operations]
    left_out = [
        {"operation": number, "name": out.name}
        for number, each in enumerate(done.operations, 1)
        for out in each.dropped
    ]
    return {
        "inputs": body,
        "results": {"total_time": _shown(done.total_time, TIME, view)},
        "operations": [_wrapped(row, view) for row in rows],
        "collisions": [
            {"operation": number, "name": hit.pass_name, "hits": hit.what}
            for number, each in enumerate(done.operations, 1)
            for hit in each.hits
        ],
        "left_out": left_out,
        "tools": _tools(done, view),
        "cautions": [
            *_said_of_left_out(left_out),
            *(caution.message.say(view) for each in done.operations for caution in each.cautions),
        ],
        "notes": ["The time is that of feeding: rapid moves and tool changes come on top."],
        "working": [],
        "conventions": {"units": view.units, "x": view.x, "zplus": view.zplus},
        "edition": TABLES,
    }


def _said_of_left_out(left_out: Sequence[Json]) -> Iterator[str]:
    """For each operation with passes that no clear path leads to: how many, and what to do."""
    for number, count in Counter(each["operation"] for each in left_out).items():
        text = (
            "Operation {number}: {count} passes were left out, no path clear of stock and holder leads to them. "
            "Take another tool, or cut that stretch another way."
        )
        yield Message(text, {"number": number, "count": count}).say()


SHOWN: dict[str, Kind] = {
    "time": TIME,
    "volume_before": VOLUME,
    "volume_after": VOLUME,
    "material_left": LENGTH,
    "cut_too_deep": LENGTH,
    "rpm_max": SPINDLE_SPEED,
    "force_max": FORCE,
    "power_max": POWER,
}


def _row(one: OperationDone) -> Json:
    """What one operation did, mm and min; force and power null without a material."""
    return {
        "name": one.name,
        "time": one.time,
        "volume_before": one.before.volume,
        "volume_after": one.after.volume,
        "material_left": one.left.depth if one.left else 0.0,
        "cut_too_deep": one.too_deep.depth if one.too_deep else 0.0,
        "rpm_max": one.rpm_max,
        "force_max": one.force_max,
        "power_max": one.power_max,
    }


def _wrapped(row: Json, view: View) -> Json:
    return {name: _shown(value, SHOWN[name], view) if name in SHOWN else value for name, value in row.items()}


def _shown(value: float | None, kind: Kind, view: View) -> Json | None:
    unit = kind.unit(view)
    return None if value is None else {"value": unit.shown(value) + 0.0, "unit": unit.code}


def _tools(done: PartDone, view: View) -> list[Json]:
    """Each tool once, with the numbers of the operations that it does."""
    users: list[tuple[Turning, list[int]]] = []
    for number, each in enumerate(done.operations, 1):
        same = next((numbers for tool, numbers in users if tool == each.operation.tool), None)
        if same is None:
            users.append((each.operation.tool, [number]))
        else:
            same.append(number)
    return [
        {
            "insert": tool.insert or None,
            "holder": tool.holder or None,
            "nose_radius": _shown(tool.tool.nose, RADIUS, view),
            "operations": numbers,
        }
        for tool, numbers in users
    ]


POST = Post(
    path="/api/plan/part",
    title="Plan of a whole part",
    summary="Operations in order on both ends, each on the stock of the one before: face, rough, finish, bore.",
    body={name: {"type": "array" if name == "setups" else "object"} for name in NAMES[""]},
    lists=("operations", "collisions", "tools"),
    answer=answer,
)
