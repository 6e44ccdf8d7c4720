"""Reads the rows of a contour text one after the other: what they give of elements and corners, what is wrong."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal, cast

from calc.contour.callouts import GrooveCalled, Names, from_datum, negative, plain_size, read_break, read_chamfer
from calc.contour.row_words import CORNERS, KINDS, OF_ROW, Row
from calc.contour.solving.given import GivenCorner, GivenElement, Start
from calc.language.messages import Message
from calc.language.problems import Fault
from calc.language.quantities import View
from calc.language.reading import ReadingError, read

Turn = Literal["cw", "ccw"]
THREADED = ("cylinder", "thread")

FIELDS: Mapping[str, str] = {
    "x": "r", "z": "z", "dx": "dr", "dz": "dz", "at": "angle", "len": "length", "r": "radius", "cx": "centre_r",
    "cz": "centre_z",
}  # fmt: skip
SOLVER_NAMES: Mapping[str, str] = {
    "x": "x", "z": "z", "dx": "dx", "dz": "dz", "at": "angle", "len": "length", "r": "radius", "cx": "centre_x",
    "cz": "centre_z",
}  # fmt: skip


def _names(row: Row, values: Mapping[str, float]) -> dict[str, str]:
    """How the row calls what the solver knows by its own name; a line's angle may be given in three ways."""
    names = {SOLVER_NAMES[name]: name for name in OF_ROW[row.kind] if name in SOLVER_NAMES}
    leaning = next((name for name in ("at", "ha", "tp") if name in values), "")
    return names | ({"angle": leaning} if leaning else {}) | ({"tangent": "smooth"} if "smooth" in row.flags else {})


def _element(row: Row, values: Mapping[str, float], here: _Here) -> GivenElement:
    named: dict[str, Any] = {FIELDS[name]: value for name, value in values.items() if name in FIELDS}
    if row.kind == "face":
        named["dz"] = 0.0
    elif row.kind == "cylinder":
        named["dr"] = 0.0
    lean = _lean(values)
    if lean is not None and "angle" not in named:
        named["angle"] = here.angle(row, values, lean)
    turn = next((flag for flag in row.flags if flag in ("cw", "ccw")), None)
    kind: Literal["line", "arc"] = "arc" if row.kind == "arc" else "line"
    return GivenElement(kind, tangent="smooth" in row.flags, turn=cast("Turn | None", turn), **named)


def _lean(values: Mapping[str, float]) -> float | None:
    """The angle (rad) between a line and the axis, from its half angle or its taper on diameter."""
    if "ha" in values:
        return values["ha"]
    return math.atan(values["tp"] / 2) if "tp" in values else None


@dataclass(frozen=True, slots=True)
class _Here:
    """What the rows so far say of where they end: radius and z (mm), None where that is left to be solved."""

    x: float | None = None
    z: float | None = None

    def step(self, name: str, row: Row, values: Mapping[str, float]) -> float | None:
        """How far the row goes along x or z, as far as the print says so by itself."""
        if (name, row.kind) in (("x", "cylinder"), ("z", "face")):
            return 0.0
        here = self.x if name == "x" else self.z
        if name in values:
            return None if here is None else values[name] - here
        return values.get(f"d{name}")

    def after(self, row: Row, values: Mapping[str, float]) -> _Here:
        """Where the row ends."""
        ends = []
        for name, here in (("x", self.x), ("z", self.z)):
            step = self.step(name, row, values)
            ends.append(values[name] if name in values else None if here is None or step is None else here + step)
        return _Here(*ends)

    def angle(self, row: Row, values: Mapping[str, float], lean: float) -> float:
        """The angle (rad) from +Z of a line that leans by so much: where its ends say it goes, else to the chuck.

        It rises away from the axis unless its ends or its mark say that it falls.
        """
        along, up = self.step("z", row, values), self.step("x", row, values)
        falls = "down" in row.flags if up is None else up < 0.0
        to_plus = along is not None and along > 0.0
        angle = lean if to_plus else math.pi - lean
        return math.tau - angle if falls else angle


class RowReader:
    """Reads the texts of one row after the other and collects what is wrong."""

    def __init__(self, rows: Sequence[Row], view: View, designations: Names) -> None:
        self.all_rows = rows
        self.view = view
        self.designations = designations
        self.faults: list[Fault] = []
        self.unfinished: list[Fault] = []
        self.start, self.here = Start(), _Here()
        self.elements: list[GivenElement] = []
        self.places: list[int] = []
        self.names: list[Mapping[str, str]] = []
        self.corners: list[str] = []
        self.threads: dict[int, str] = {}
        self.knurls: dict[int, str] = {}
        self.grooves: dict[int, int] = {}
        self.called_grooves: dict[int, str] = {}
        self.typed: dict[str, float] = {}
        self.breaks: dict[str, GivenCorner] = {}

    def take(self, index: int, row: Row) -> None:
        """Read one row."""
        if row.kind in CORNERS:
            self._corner(index, row)
            return
        values = self._values(index, row)
        if row.kind == "start":
            self.start = Start(values.get("z"), values.get("x"))
            self.here = _Here(values.get("x"), values.get("z"))
        elif row.kind == "groove":
            self._groove(index, row, values)
        elif row.kind == "thread":
            self._thread(index, row, values)
        else:
            self._add(index, _element(row, values, self.here), _names(row, values))
            self.here = self.here.after(row, values)

    def _add(self, index: int, element: GivenElement, names: Mapping[str, str], corner: str = "") -> None:
        self.elements.append(element)
        self.places.append(index)
        self.names.append(names)
        self.corners.append(corner)

    def _values(self, index: int, row: Row) -> dict[str, float]:
        """The values of the row's texts; what is blank or faulty is left out."""
        found: dict[str, float] = {}
        for name in OF_ROW[row.kind]:
            if name == "br" or name not in KINDS:
                continue
            try:
                value = self._value(index, row, name)
            except ReadingError as error:
                self.faults.append(Fault(f"rows.{index}.{name}", error.message))
            else:
                found |= {} if value is None else {name: value}
        self.typed |= {f"rows.{index}.{name}": value for name, value in found.items()}
        self._check_lean(index, found)
        return found

    def _value(self, index: int, row: Row, name: str) -> float | None:
        text, kind = row.texts.get(name, ""), KINDS[name]
        threaded = self.designations.turned(text) if kind.role == "x" and name == "x" else None
        if threaded is not None:
            self.threads[index] = text.strip()
            return threaded
        sized = self.designations.knurled(text) if name == "x" and row.kind in ("cylinder", "face") else None
        if sized is not None:
            self.knurls[index], text = text.strip(), sized
        return from_datum(read(plain_size(text, kind), kind, self.view), kind, self.view)

    def _check_lean(self, index: int, found: Mapping[str, float]) -> None:
        """A line leans in one way: what else is given of its angle would be passed over."""
        ways = [name for name in ("at", "ha", "tp") if name in found]
        if not 0.0 < found.get("ha", 1.0) < math.pi / 2.0:
            self._fault(
                f"rows.{index}.ha", "A half angle, between the line and the axis, is more than 0° and less than 90°."
            )
        for name in ways[1:]:
            text = "Give the angle once: as a taper, as a half angle or as an angle from the axis."
            self.faults.append(Fault(f"rows.{index}.{name}", Message(text)))

    def _corner(self, index: int, row: Row) -> None:
        """Put a corner at the end of the element before."""
        name = CORNERS[row.kind]
        place, text = f"rows.{index}.{name}", row.texts.get(name, "")
        try:
            corner = self._read_corner(index, row, text)
        except ReadingError as error:
            self.faults.append(Fault(place, error.message))
            return
        if not self.elements or self.elements[-1].corner is not None:
            self._fault(place, "An edge or fillet stands between two elements: move it there.")
        elif corner is None:
            ask = "Which undercut is it?" if name == "named" else "How large is the chamfer or radius?"
            self.unfinished.append(Fault(place, Message(ask)))
        elif corner.size <= 0.0:
            self._fault(place, "Its size must be more than 0.")
        else:
            self._break_last(corner, place)

    def _break_last(self, corner: GivenCorner, place: str) -> None:
        self.breaks[place] = corner
        self.elements[-1] = replace(self.elements[-1], corner=corner)
        self.corners[-1] = place

    def _read_corner(self, index: int, row: Row, text: str) -> GivenCorner | None:
        if row.kind == "chamfer":
            size, angle = read_chamfer(text, self.view)
            return None if size is None else GivenCorner("chamfer", size, angle)
        if row.kind == "radius":
            size = read(text, KINDS["size"], self.view)
            return None if size is None else GivenCorner("radius", size)
        thread = self._thread_beside(index) if row.kind == "relief" else ""
        if not text.strip() and not thread:
            return None
        found = self.designations.relief(text, thread) if row.kind == "relief" else self.designations.undercut(text)
        return GivenCorner("undercut", found.profile.start.z, undercut=found)

    def _thread_beside(self, index: int) -> str:
        """The thread on the cylinder before the row, or on the one after it."""
        beside = [self.all_rows[each] for each in (index - 1, index + 1) if each < len(self.all_rows)]
        texts = [row.texts.get("named" if row.kind == "thread" else "x", "") for row in beside if row.kind in THREADED]
        return next((text for text in texts if self.designations.is_thread(text)), "")

    def _groove(self, index: int, row: Row, values: dict[str, float]) -> None:
        """A groove: down to its bottom, along it toward the chuck, and back up."""
        called = self._called_groove(index, row, values)
        if row.texts.get("named", "").strip() and called is None:
            return
        self._check_groove(index, values)
        width, bottom, depth = (values.get(name) for name in ("w", "x", "dep"))
        outward = "outward" in row.flags
        into = None if depth is None else depth if outward else negative(depth)
        back = None if into is None else negative(into)
        along = None if width is None else negative(width)
        in_bottom = GivenCorner("radius", values["r"]) if values.get("r", 0.0) > 0.0 else None
        edge, place = self._edge(index, row), f"rows.{index}.r" if in_bottom else ""
        self.grooves[len(self.elements)] = index
        top = None if back is not None else self.here.x if self.here.x is not None else called and called.nominal
        into_names, along_names, back_names = (_CALLED,) * 3 if called else (_INTO, _ALONG, _BACK_UP)
        self._add(index, GivenElement("line", dz=0.0, r=bottom, dr=into, corner=in_bottom), into_names, place)
        self._add(index, GivenElement("line", dr=0.0, dz=along, corner=in_bottom), along_names, place)
        self._add(
            index,
            GivenElement("line", dz=0.0, r=top, dr=back, corner=edge),
            back_names,
            f"rows.{index}.br" if edge else "",
        )
        here = self.here
        self.here = _Here(here.x, None if here.z is None or along is None else here.z + along)

    def _check_groove(self, index: int, values: Mapping[str, float]) -> None:
        """Ask for what a groove lacks, refuse what cannot be."""
        if "w" not in values:
            self.unfinished.append(Fault(f"rows.{index}.w", Message("How wide is the groove?")))
        if "x" not in values and "dep" not in values:
            self.unfinished.append(Fault(f"rows.{index}.dep", Message("How deep is the groove?")))
        for name, value in values.items():
            if name in ("w", "dep", "r") and value <= 0.0:
                self._fault(f"rows.{index}.{name}", "This must be more than 0.")

    def _called_groove(self, index: int, row: Row, values: dict[str, float]) -> GrooveCalled | None:
        """Put the sizes of a groove that is called by a name into its values; None for a blank one or what is wrong."""
        place, text = f"rows.{index}.named", row.texts.get("named", "").strip()
        if not text:
            return None
        for name in ("w", "x", "dep", "r"):
            if name in values:
                self._fault(f"rows.{index}.{name}", _BY_NAME)
                return None
        try:
            found = self.designations.groove(text, self.here.x, outward="outward" in row.flags)
        except ReadingError as error:
            self.faults.append(Fault(place, error.message))
            return None
        values |= {"w": found.width, "x": found.bottom} | ({"r": found.corner} if found.corner else {})
        self.typed |= {f"rows.{index}.{name}": value for name, value in values.items()}
        self.called_grooves[index] = found.words
        return found

    def _thread(self, index: int, row: Row, values: dict[str, float]) -> None:
        """A thread: its chamfer at the end of the element before, the cylinder to turn, its relief at the end."""
        self._edge(index, row)
        relief, place = self._called(index, row, values), f"rows.{index}.relief"
        if relief is not None:
            self.breaks[place] = relief
        element = GivenElement("line", dr=0.0, r=values.get("x"), z=values.get("z"), dz=values.get("dz"), corner=relief)
        self._add(index, element, _OF_THREAD, place if relief else "")
        self.here = self.here.after(row, values)

    def _called(self, index: int, row: Row, values: dict[str, float]) -> GivenCorner | None:
        """Put the diameter of a thread's row into its values; its relief, None for a blank one or what is wrong."""
        place, text, relief = f"rows.{index}.named", row.texts.get("named", "").strip(), row.texts.get("relief", "")
        if not text:
            self.unfinished.append(Fault(place, Message("Which thread is it? Write it as M24x2-6g.")))
            return None
        try:
            values["x"] = self.typed[f"rows.{index}.x"] = self.designations.thread(text).radius
            self.threads[index] = text
            place = f"rows.{index}.relief"
            found = self.designations.relief(relief.strip(), text) if relief.strip() else None
        except ReadingError as error:
            self.faults.append(Fault(place, error.message))
            return None
        return None if found is None else GivenCorner("undercut", found.profile.start.z, undercut=found)

    def _edge(self, index: int, row: Row) -> GivenCorner | None:
        """The break of a groove's edges, or a thread's chamfer; the first stands at the end of the element before."""
        field = f"rows.{index}.br"
        try:
            edge = read_break(row.texts.get("br", ""), self.view)
        except ReadingError as error:
            self.faults.append(Fault(field, error.message))
            return None
        if edge is None:
            return None
        if edge.size <= 0.0:
            self._fault(field, "Its size must be more than 0.")
        elif not self.elements or self.elements[-1].corner is not None:
            self._fault(field, _BROKEN_TWICE if self.elements else _NOTHING_BEFORE)
        else:
            self._break_last(edge, field)
        return edge

    def _fault(self, place: str, sentence: str) -> None:
        if not any(fault.field == place for fault in self.faults):
            self.faults.append(Fault(place, Message(sentence)))


_BROKEN_TWICE = "This edge is broken in the row before already: give its chamfer once."
_NOTHING_BEFORE = "Edges are broken between two elements: begin with a face or a cylinder before it."
_OF_THREAD = {"x": "named", "z": "z", "dz": "dz", "length": "dz"}
_INTO = {"x": "x", "dx": "dep", "length": "dep"}
_ALONG = {"dz": "w", "length": "w"}
_BACK_UP = {"dx": "dep", "x": "dep"}
_CALLED = {"x": "named", "dx": "named", "dz": "named", "length": "named"}
_BY_NAME = "The designation gives this already: leave one of the two blank."
