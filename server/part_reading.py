"""Reads the body of a whole part: its print, its stock, the machine, the operations of its setups."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, cast

from calc.contour import Point
from calc.cutting.machine import Machine
from calc.language.fields import specs
from calc.language.problems import Problem
from calc.language.quantities import COUNT, DIAMETER, FEED, LENGTH, SURFACE_SPEED, Kind, View, X, Z
from calc.machining.job import Cut
from calc.machining.removal.stock import Stock
from calc.questions.operations.contour_plan.plan import LONGEST, rows_of
from calc.questions.operations.knurl import FORMS
from calc.questions.operations.strategies import CUT_FIELDS, ROUGHING, led_cut
from calc.questions.part.asking import bar_stock
from calc.questions.part.called import Knurled
from calc.questions.part.declared import TURNED, BarInputs
from calc.questions.part.job import KINDS, VERSION, End, Jaws, Job, Operation, Print, Roll, Setup, Steady, Travel
from calc.questions.part.job import Kind as PartKind
from calc.questions.part.knurl_blank import at_the_blank
from calc.questions.part.left_on import LeftInputs, RestRow, rests_of, to_the_far_end, turned_print
from calc.questions.part.restart import RestartInputs
from calc.questions.part.turnable import require_turnable, with_both_faces
from server.contour_chain import chain_of
from server.contour_json import BodyReader, read_contour
from server.part_leading import read_led
from server.part_tools import read_tool

Json = dict[str, Any]
WHERE = {"outside": "outside", "inside": "bore", "face": "face"}
NAMES: dict[str, tuple[str, ...]] = {
    "": ("version", "part", "stock", "machine", "setups", "words", "restart"),
    "proposal": ("version", "part", "stock", "machine", "threads"),
    "part": ("material", "outside", "inside", "left_on", "knurls"),
    "knurl": ("row", "pitch", "form"),
    "left_on": tuple(spec.name for spec in specs(RestRow)),
    "stock": ("bar_diameter", "bore_diameter", "face_stock", "length"),
    "machine": tuple(spec.name for spec in specs(Machine)),
    "setup": (
        "end",
        "length_out",
        "jaw_diameter",
        "jaw_length",
        "soft_jaw_diameter",
        "soft_jaw_depth",
        "collet",
        "tailstock_diameter",
        "steady_rest",
        "travel",
        "turning_at",
        "operations",
    ),
    "collet": ("from", "to"),
    "restart": ("operation", "pass"),
    "steady_rest": ("z", "width", "outer_diameter"),
    "turning_at": ("x", "z"),
    "travel": ("x_min", "x_max", "z_min", "z_max"),
    "operation": ("kind", "name", "tool", "cut", "from", "to", "depth", "where", "reason", "roughing"),
    "cut": ("surface_speed", "feed", "depth", "allowance_z", "allowance_x", *CUT_FIELDS),
}
OF_STOCK = {"bar_diameter": "bar_diameter", "stock_bore": "bore_diameter", "stock_length": "length"}
"""What the fields of the bar are called in the body."""

MOST_OPERATIONS = 40


def _of_the_part(field: str) -> str:
    """What the body calls a field of the part: of its contours, and of what is left on them."""
    return f"part.{field}" if field.startswith(("left_on", "outside", "inside")) else field


class PartReading:
    """Reads one body."""

    def __init__(self, body: Json, view: View, *, planned: bool = True) -> None:
        self.reader = BodyReader(view)
        self.body = self.object(body, "" if planned else "proposal", "")
        part = self.object(self.body.get("part"), "part", "part")
        material = self.reader.word(part.get("material"), "part.material")
        self.bar = self._bar()
        try:
            outside, inside = self._prints(part)
        except Problem as problem:
            raise problem.renamed(_of_the_part) from problem
        self.outside = outside.chain
        if self.outside.bounds.z_min >= 0.0:
            self.reader.fault("part.outside", "The outside must run from Z zero to negative Z, into the part.")
        machine, stock = self._machine(), self._stock()
        setups = tuple(self._setups()) if planned else ()
        self.job = Job(outside, stock, setups, inside, machine, material)
        self.words = self.body.get("words") is True
        if self.body.get("words") not in (None, True, False):
            self.reader.fault("words", "This must be true or false.")
        self.restart = self._restart(self.body.get("restart"))
        self._check_version()
        self.reader.done()

    def _restart(self, value: Any) -> RestartInputs:
        """Where the edge broke, counted from 1; nowhere where nothing is said."""
        of = self.object(value if value is not None else {}, "restart", "restart")
        operation, number = (self.positive(of, name, COUNT, "restart") for name in NAMES["restart"])
        return RestartInputs(restart_operation=operation, restart_pass=number)

    def _check_version(self) -> None:
        """A part without a version is of the first; all up to ours are read."""
        version = self.body.get("version", 1)
        if type(version) is not int or not 1 <= version <= VERSION:
            self.reader.fault("version", f"This server reads versions 1 to {VERSION} of a part.")

    def object(self, value: Any, noun: str, field: str) -> Json:
        """An object with no names but its own. Raises `OutOfRange` for anything else."""
        return self.reader.named(value, NAMES[noun], field)

    def positive(self, of: Json, name: str, kind: Kind, field: str, *, zero: bool = False) -> float | None:
        """A number above 0 (or from 0 on), no larger than any part where it is a length."""
        return self.reader.positive(of, name, kind, field, zero=zero, most=LONGEST)

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

    def _prints(self, part: Json) -> tuple[Print, Print | None]:
        """Outside and bore as they are turned, with what is left on them for later work."""
        inside = None if part.get("inside") is None else self._print(part, "inside")
        outside, inside = with_both_faces(self._print(part, "outside"), inside, self.bar.stock_bore / 2.0)
        if outside.chain.bounds.z_min < 0.0:
            require_turnable(outside, inside)
        later = self._left_on(part.get("left_on"))
        self.knurls = self._knurls(part.get("knurls"), outside)
        outside = at_the_blank(turned_print(outside, "right", rests_of(later, "outside")), self.knurls)
        rests = rests_of(later, "inside")
        if inside is None and rests:
            self.reader.fault("part.inside", "Something is left in the bore: give the bore of the print.")
        turned = inside and turned_print(inside, "left", rests)
        return outside, turned and to_the_far_end(turned, outside)

    def _knurls(self, value: Any, outside: Print) -> tuple[Knurled, ...]:
        """The knurls of the print, each over the crests of its row of the outside, which is turned to its blank."""
        found: list[Knurled] = []
        for number, each in enumerate(self.list(value, "part.knurls") if value is not None else ()):
            field = f"part.knurls.{number}"
            of = self.object(each, "knurl", field)
            row, pitch = self._row(of.get("row"), f"{field}.row"), self.positive(of, "pitch", LENGTH, field)
            form = self.reader.one_of(of.get("form"), tuple(FORMS), f"{field}.form") or "straight"
            if row not in outside.numbers or row in {other.row for other in found}:
                self.reader.fault(f"{field}.row", "Give the number of a row of the outside, each once.")
            if pitch is None:
                self.reader.fault(f"{field}.pitch", "A knurl needs its pitch.")
            self.reader.done()
            both = zip(outside.chain, outside.numbers, strict=True)
            over = 2.0 * max(element.end.r for element, own in both if own == row)
            found.append(Knurled(row or 0, Roll(pitch or 0.0, form, over), f"{field}.row"))
        return tuple(found)

    def _left_on(self, value: Any) -> LeftInputs:
        found = []
        for number, each in enumerate(self.list(value, "part.left_on") if value is not None else ()):
            field = f"part.left_on.{number}"
            of = self.object(each, "left_on", field)
            read: Json = {}
            for spec in specs(RestRow):
                if spec.role == "choice":
                    chosen = self.reader.one_of(of.get(spec.name), tuple(spec.choices), f"{field}.{spec.name}")
                    read[spec.name] = chosen or spec.start
                elif spec.kind is not None:
                    read[spec.name] = self.positive(of, spec.name, spec.kind, field)
            found.append(RestRow(**read))
        self.reader.done()
        return LeftInputs(left_on=tuple(found))

    def _machine(self) -> Machine:
        machine = self.reader.blank_or_named(self.body, "machine", NAMES["machine"], "machine")
        return Machine(
            **{spec.name: self.positive(machine, spec.name, spec.quantity, "machine") for spec in specs(Machine)}
        )

    def _bar(self) -> BarInputs:
        stock = self.object(self.body.get("stock"), "stock", "stock")
        bar, bore = (self.positive(stock, name, DIAMETER, "stock") for name in ("bar_diameter", "bore_diameter"))
        face = self.positive(stock, "face_stock", LENGTH, "stock", zero=True) or 0.0
        length = self.positive(stock, "length", LENGTH, "stock")
        self.reader.done()
        return BarInputs(bar_diameter=bar, stock_bore=bore or 0.0, face_stock=face, stock_length=length)

    def _stock(self) -> Stock:
        try:
            return bar_stock(self.bar, self.outside.bounds)
        except Problem as problem:
            raise problem.renamed(lambda name: f"stock.{OF_STOCK[name]}") from problem

    def _setups(self) -> Iterator[Setup]:
        for number, value in enumerate(self.list(self.body.get("setups"), "setups")):
            field = f"setups.{number}"
            setup = self.object(value, "setup", field)
            end = self.reader.one_of(setup.get("end", "first"), ("first", "second"), f"{field}.end") or "first"
            operations = []
            for index, each in enumerate(self.list(setup.get("operations"), f"{field}.operations")):
                place = f"{field}.operations.{index}"
                operations.append(self._operation(self.object(each, "operation", place), place))
            yield self._clamped(setup, cast("Any", end), tuple(operations), field)

    def _clamped(self, of: Json, end: End, operations: tuple[Operation, ...], field: str) -> Setup:
        """The setup with what stands around the part."""
        tail = self.positive(of, "tailstock_diameter", DIAMETER, field)
        return Setup(
            end,
            operations,
            self.positive(of, "length_out", LENGTH, field),
            self._jaws(of, field),
            tail,
            self._travel(of.get("travel"), f"{field}.travel"),
            self._steady(of.get("steady_rest"), f"{field}.steady_rest"),
            self._turning_at(of.get("turning_at"), f"{field}.turning_at"),
        )

    def _jaws(self, of: Json, field: str) -> Jaws:
        outer, bored = (self.positive(of, name, DIAMETER, field) for name in ("jaw_diameter", "soft_jaw_diameter"))
        long, deep = (self.positive(of, name, LENGTH, field) for name in ("jaw_length", "soft_jaw_depth"))
        return Jaws(outer, long, bored, deep, self._collet(of.get("collet"), f"{field}.collet"))

    def _collet(self, value: Any, field: str) -> tuple[float, float] | None:
        if value is None:
            return None
        low, high = self._both(value, "collet", field, ("from", DIAMETER), ("to", DIAMETER))
        return low, high

    def _steady(self, value: Any, field: str) -> Steady | None:
        if value is None:
            return None
        z, width = self._both(value, "steady_rest", field, ("z", Z), ("width", LENGTH))
        return Steady(z, width, self.positive(value, "outer_diameter", DIAMETER, field))

    def _turning_at(self, value: Any, field: str) -> Point | None:
        if value is None:
            return None
        x, z = self._both(value, "turning_at", field, ("x", X), ("z", Z))
        return Point(z, x)

    def _both(self, value: Any, noun: str, field: str, *asked: tuple[str, Kind]) -> tuple[float, float]:
        """Two numbers of an object, neither left out."""
        of = self.object(value, noun, field)
        found = [self.reader.number(of.get(name), kind, f"{field}.{name}") for name, kind in asked]
        for (name, _), number in zip(asked, found, strict=True):
            if number is None:
                self.reader.fault(f"{field}.{name}", "Give this number too.")
        self.reader.done()
        return found[0] or 0.0, found[1] or 0.0

    def _travel(self, value: Any, field: str) -> Travel | None:
        if value is None:
            return None
        of = self.object(value, "travel", field)
        x = [self.reader.number(of.get(name), X, f"{field}.{name}") for name in ("x_min", "x_max")]
        z = [self.reader.number(of.get(name), Z, f"{field}.{name}") for name in ("z_min", "z_max")]
        if self.reader.view.zplus == "in":
            z = z[::-1]
        return Travel(*z, *x)

    def _operation(self, of: Json, field: str) -> Operation:
        kind = self.reader.word(of.get("kind"), f"{field}.kind") or ""
        if kind not in KINDS:
            self.reader.fault(f"{field}.kind", f"This must be one of: {', '.join(KINDS)}.")
        name = self.reader.word(of.get("name"), f"{field}.name") or ""
        self.reader.word(of.get("reason"), f"{field}.reason")
        first, last = (self._row(of.get(each), f"{field}.{each}") for each in ("from", "to"))
        where = self.reader.one_of(of.get("where"), tuple(WHERE), f"{field}.where")
        depth = self.positive(of, "depth", LENGTH, field)
        self.reader.done()
        known = cast("PartKind", kind)
        named = {} if kind == "measure" and of.get("tool") is None else of.get("tool")
        tool = read_tool(self.reader, known, named, f"{field}.tool")
        cut = self._cut(self.reader.blank_or_named(of, "cut", NAMES["cut"], f"{field}.cut"), f"{field}.cut", known)
        placed = cast("Any", WHERE[where]) if where else None
        roughing = self.reader.one_of(of.get("roughing"), tuple(ROUGHING), f"{field}.roughing") or "along z"
        self.reader.done()
        return Operation(known, tool, cut, first, last, depth, placed, name, field, strategy=ROUGHING[roughing])

    def _cut(self, of: Json, field: str, kind: PartKind) -> Cut:
        speed = self.positive(of, "surface_speed", SURFACE_SPEED, field)
        feed, depth = self.positive(of, "feed", FEED, field), self.positive(of, "depth", LENGTH, field)
        along_z, along_x = (
            self.positive(of, name, LENGTH, field, zero=True) or 0.0 for name in ("allowance_z", "allowance_x")
        )
        for name, value in {"surface_speed": speed, "feed": feed}.items():
            if kind in TURNED and of.get(name) is None and value is None:
                self.reader.fault(f"{field}.{name}", "This operation needs it.")
        self.reader.done()
        cut = Cut(depth, feed, speed, along_z, along_x)
        return led_cut(read_led(self.reader, of, field), cut)

    def _row(self, value: Any, field: str) -> int | None:
        if value is None or type(value) is int:
            return value
        self.reader.fault(field, "Give a row number, or null for all.")
        return None
