"""`POST /api/plan/part`: a whole part, its operations in order on both ends, each on the stock of the one before."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any, cast

from calc.contour import Chain, Side
from calc.cutting.materials import Material, material
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
from calc.machining.forces import forces
from calc.machining.job import Contour, Cut, Operation, Strategy
from calc.machining.machine import SAME, Done
from calc.machining.passes import Referral
from calc.machining.removal.judging import worst_of
from calc.machining.removal.region import Bar
from calc.machining.removal.stock import Stock, stock_of
from calc.machining.times import times
from calc.machining.whole import Step, in_order, too_deep
from calc.questions.operations.contour_plan.inputs import ToolInputs
from calc.questions.operations.contour_plan.plan import LONGEST, LONGEST_BACK
from calc.questions.operations.contour_plan.tool import PlanTool, plan_tool
from server.contour_json import BodyReader, chain_of, read_contour
from server.posting import Post

Json = dict[str, Any]
STRATEGIES: dict[str, Strategy] = {
    "face": "face",
    "rough": "rough along z",
    "finish": "finish",
    "bore": "rough along z",
}
NOT_YET = ("groove", "thread", "drill", "ream", "tap", "knurl", "part-off", "measure")
NAMES: dict[str, tuple[str, ...]] = {
    "": ("part", "stock", "machine", "setups"),
    "part": ("material", "outside", "inside"),
    "stock": ("bar_diameter", "bore_diameter", "face_stock", "length"),
    "machine": ("max_rpm",),
    "setup": ("end", "length_out", "operations"),
    "operation": ("kind", "tool", "cut", "from", "to"),
    "tool": ("insert", "holder", "nose_radius"),
    "cut": ("surface_speed", "feed", "depth", "allowance_z", "allowance_x"),
}
MOST_OPERATIONS = 40
CONTACT = Referral()


@dataclass(frozen=True)
class Asked:
    """One operation as asked for: where it stands in the body, its kind and end, its tool, and its step."""

    field: str
    kind: str
    end: str
    tool: PlanTool
    named: Json
    step: Step


class _Reading:
    """Reads one body."""

    def __init__(self, body: Json, view: View) -> None:
        self.reader = BodyReader(view)
        self.body = self.object(body, "", "")
        part = self.object(self.body.get("part"), "part", "part")
        self.material = self.reader.word(part.get("material"), "part.material")
        self.chains = {"outside": self._chain(part, "outside")}
        if part.get("inside") is not None:
            self.chains["inside"] = self._chain(part, "inside")
        self.max_rpm = self.positive(
            self.object(self.body.get("machine") or {}, "machine", "machine"), "max_rpm", SPINDLE_SPEED, "machine"
        )
        self.length = -self.chains["outside"].bounds.z_min
        if self.length <= 0.0:
            self.reader.fault("part.outside", "The outside must run from Z zero to negative Z, into the part.")
        self.stock = self._stock()
        self.asked = tuple(self._operations())
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

    def _chain(self, part: Json, name: str) -> Chain:
        field = f"part.{name}."
        start, elements = read_contour(part.get(name), self.reader, field)
        self.reader.done()
        chain = chain_of(start, elements, field)
        if chain.bounds.size > LONGEST:
            self.reader.fault(f"part.{name}", "This is larger than any part: see that no decimal point is missing.")
            self.reader.done()
        return chain

    def _stock(self) -> Stock:
        stock = self.object(self.body.get("stock"), "stock", "stock")
        bar, bore = (self.positive(stock, name, DIAMETER, "stock") for name in ("bar_diameter", "bore_diameter"))
        face = self.positive(stock, "face_stock", LENGTH, "stock", zero=True) or 0.0
        length = self.positive(stock, "length", LENGTH, "stock")
        self.reader.done()
        if bar is None:
            raise Missing(Fault("stock.bar_diameter", Message("Give the bar's diameter.")))
        needed = 2.0 * self.chains["outside"].bounds.r_max
        if bar < needed * (1.0 - 1e-9):
            values = {"bar": Quantity(bar, DIAMETER, brief=True), "needed": Quantity(needed, DIAMETER)}
            text = "The bar {bar} is smaller than the part, {needed}."
            raise Impossible(Fault("stock.bar_diameter", Message(text, values)))
        if bore is not None and bore >= bar:
            raise Impossible(Fault("stock.bore_diameter", Message("The bore takes the whole bar away.")))
        if length is not None and length < (self.length + face) * (1.0 - 1e-9):
            raise Impossible(Fault("stock.length", Message("The stock is shorter than the part and its face stock.")))
        back = -self.length - LONGEST_BACK if length is None else face - length
        return stock_of(Bar(bar / 2.0, face, back, (bore or 0.0) / 2.0).area())

    def _operations(self) -> Iterator[Asked]:
        for number, value in enumerate(self.list(self.body.get("setups"), "setups")):
            field = f"setups.{number}"
            setup = self.object(value, "setup", field)
            end = self.reader.one_of(setup.get("end", "first"), ("first", "second"), f"{field}.end") or "first"
            self.positive(setup, "length_out", LENGTH, field)
            for index, each in enumerate(self.list(setup.get("operations"), f"{field}.operations")):
                place = f"{field}.operations.{index}"
                yield self._operation(self.object(each, "operation", place), place, end)

    def _operation(self, of: Json, field: str, end: str) -> Asked:
        kind = self.reader.word(of.get("kind"), f"{field}.kind") or ""
        if kind in NOT_YET:
            self.reader.fault(
                f"{field}.kind", "This kind of operation is not planned here yet: plan it on its own page."
            )
        elif kind not in STRATEGIES:
            self.reader.fault(f"{field}.kind", f"This must be one of: {', '.join(STRATEGIES)}.")
        if kind == "bore" and "inside" not in self.chains:
            self.reader.fault("part.inside", "Boring needs the inside contour.")
        self.reader.done()
        named = self.object(of.get("tool"), "tool", f"{field}.tool")
        tool = self._tool(named, f"{field}.tool", along=kind == "bore")
        cut = self._cut(self.object(of.get("cut"), "cut", f"{field}.cut"), f"{field}.cut", kind)
        strategy = STRATEGIES[kind] if kind != "bore" or cut.depth is not None else "finish"
        part, whole = self._stretch(of, field, kind, end)
        operation = Operation(tool.tool, cut, strategy, "bore" if kind == "bore" else "outside")
        return Asked(field, kind, end, tool, named, Step(operation, part, whole, end == "second"))

    def _tool(self, of: Json, field: str, *, along: bool) -> PlanTool:
        insert, holder = (self.reader.word(of.get(name), f"{field}.{name}") for name in ("insert", "holder"))
        nose = self.positive(of, "nose_radius", RADIUS, field)
        self.reader.done()
        try:
            return plan_tool(ToolInputs(insert=insert, holder=holder, nose_radius=nose), along=along)
        except Problem as problem:
            raise problem.renamed(lambda name: f"{field}.{name}") from problem

    def _cut(self, of: Json, field: str, kind: str) -> Cut:
        speed = self.positive(of, "surface_speed", SURFACE_SPEED, field)
        feed, depth = self.positive(of, "feed", FEED, field), self.positive(of, "depth", LENGTH, field)
        along_z, along_x = (
            self.positive(of, name, LENGTH, field, zero=True) or 0.0 for name in ("allowance_z", "allowance_x")
        )
        wanted = {"surface_speed": speed, "feed": feed} | ({"depth": depth} if kind in ("face", "rough") else {})
        for name, value in wanted.items():
            if of.get(name) is None and value is None:
                self.reader.fault(f"{field}.{name}", "This operation needs it.")
        self.reader.done()
        return Cut(depth if kind != "finish" else None, feed, speed, along_z, along_x)

    def _stretch(self, of: Json, field: str, kind: str, end: str) -> tuple[Contour, Contour]:
        chain = self.chains["inside" if kind == "bore" else "outside"]
        rows = [int(chain.name_of(index).split(".")[-1].split()[-1]) for index in range(len(chain))]
        first, last = (self._row(of.get(name), f"{field}.{name}", rows) for name in ("from", "to"))
        self.reader.done()
        low, high = first or min(rows), last or max(rows)
        if low > high:
            self.reader.fault(f"{field}.from", "The first row must not come after the last.")
            self.reader.done()
        kept = tuple(each for each, row in zip(chain, rows, strict=True) if low <= row <= high)
        side: Side = "left" if kind == "bore" else "right"
        stretch = Chain(kept)
        whole, part = chain.bounds, stretch.bounds
        if abs(part.z_max - whole.z_max if end == "first" else part.z_min - whole.z_min) > SAME:
            text = (
                "A stretch that does not begin at the face of its end is not planned here yet: take in the rows to it."
            )
            self.reader.fault(f"{field}.{'from' if end == 'first' else 'to'}", text)
            self.reader.done()
        return Contour(stretch, side), Contour(chain, side)

    def _row(self, value: Any, field: str, rows: Sequence[int]) -> int | None:
        if value is None or (type(value) is int and min(rows) <= value <= max(rows)):
            return value
        self.reader.fault(field, f"Give a row number from {min(rows)} to {max(rows)}.")
        return None


def answer(body: Json, view: View) -> Json:
    """The plan of a body's part. Raises `Problem` with the body's field names."""
    asked = _Reading(body, view)
    work = _material(asked.material)
    rows: list[Json] = []
    collisions: list[Json] = []
    left_out: list[Json] = []
    done = in_order([each.step for each in asked.asked], asked.stock, asked.length)
    for each in asked.asked:
        try:
            before, one = next(done)
            deep = too_deep(each.step, before, one, asked.length)
        except Problem as problem:
            raise problem.renamed(lambda _, field=each.field: field) from problem  # type: ignore[misc]
        rows.append(_row(each, (before, one, deep), asked.max_rpm, work))
        collisions += [{"operation": len(rows), "name": hit.name} for hit in one.hits]
        left_out += [{"operation": len(rows), "name": out.name} for out in one.dropped]
    total = sum(row["time"] for row in rows)
    return {
        "inputs": body,
        "results": {"total_time": _shown(total, TIME, view)},
        "operations": [_wrapped(row, view) for row in rows],
        "collisions": collisions,
        "left_out": left_out,
        "tools": _tools(asked.asked, view),
        "cautions": [
            *_said_of_left_out(left_out),
            *(caution.message.say(view) for each in asked.asked for caution in each.tool.cautions),
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


def _material(name: str | None) -> Material | None:
    try:
        return None if name is None else material(name)
    except Problem as problem:
        raise problem.renamed(lambda field: f"part.{field}") from problem


KINDS: dict[str, Kind] = {
    "time": TIME,
    "volume_before": VOLUME,
    "volume_after": VOLUME,
    "material_left": LENGTH,
    "cut_too_deep": LENGTH,
    "rpm_max": SPINDLE_SPEED,
    "force_max": FORCE,
    "power_max": POWER,
}


def _row(asked: Asked, ran: tuple[Stock, Done, float], max_rpm: float | None, work: Material | None) -> Json:
    """What one operation did, mm and min; force and power null without a material."""
    before, done, deep = ran
    passes = times([done], CONTACT, max_rpm)
    loads = forces([done], work, max_rpm) if work else []
    speeds = [speed for each in passes for speed in (each.rpm_start, each.rpm_end) if speed is not None]
    speeds += [each.rpm for each in loads if each.rpm is not None]
    left = worst_of(done.judged.left)
    return {
        "name": f"{asked.kind}, {asked.end} end",
        "time": sum(each.time for each in passes),
        "volume_before": before.volume,
        "volume_after": done.after.volume,
        "material_left": left.depth if left else 0.0,
        "cut_too_deep": deep,
        "rpm_max": max(speeds, default=None),
        "force_max": max((each.force for each in loads), default=None),
        "power_max": max((each.power for each in loads if each.power is not None), default=None),
    }


def _wrapped(row: Json, view: View) -> Json:
    return {name: _shown(value, KINDS[name], view) if name in KINDS else value for name, value in row.items()}


def _shown(value: float | None, kind: Kind, view: View) -> Json | None:
    unit = kind.unit(view)
    return None if value is None else {"value": unit.shown(value) + 0.0, "unit": unit.code}


def _tools(asked: Sequence[Asked], view: View) -> list[Json]:
    """Each tool once, with the numbers of the operations that it does."""
    found: list[Json] = []
    for number, each in enumerate(asked, 1):
        row = {
            "insert": each.named.get("insert"),
            "holder": each.named.get("holder"),
            "nose_radius": _shown(each.tool.tool.nose, RADIUS, view),
        }
        same = next((one for one in found if {**one, "operations": None} == {**row, "operations": None}), None)
        if same is None:
            found.append({**row, "operations": [number]})
        else:
            same["operations"].append(number)
    return found


POST = Post(
    path="/api/plan/part",
    title="Plan of a whole part",
    summary="Operations in order on both ends, each on the stock of the one before: face, rough, finish, bore.",
    body={name: {"type": "array" if name == "setups" else "object"} for name in NAMES[""]},
    lists=("operations", "collisions", "tools"),
    answer=answer,
)
