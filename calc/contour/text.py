"""A contour with its blanks as one short text, one word an element: an address can hold it and a person read it.

    s_x0_z0*f*c1*l_x22_z-22_tp1:10*f_x24*t_z-38*f_x31*t_dz-15*a_r8_smooth*l_ha30_x41_z-90_smooth

Words stand between stars: `s` is the start, `f` a face (Z stays), `t` a cylinder (X stays), `l` any line, `a` an arc,
`c1` a chamfer with legs of 1 (`c1x45°`, `cC1`: as the print has it, 1 along Z) and `e0.8` an edge radius or fillet at
the end of the element before. A word's parts stand between underscores: `x`, `z` its end, `dx`, `dz` the step to it,
`at` a line's angle from +Z, `tp` its diametral taper (1:10), `ha` its half angle to the axis, `down` that it falls
toward the axis on its way to the chuck, `len` its length, `r` an arc's radius, `cx`, `cz` its centre, `cw` or `ccw` its
turn, `smooth` that it joins the element before smoothly. A cylinder's `x` is its diameter, also where the face before
it has none. Limits of a Z are those of the length from Z0: `z-28 +0.1/0` is 28.0 to 28.1 long.
What follows a name is what somebody typed, to the digit.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any, Literal, cast

from calc.contour.callouts import Chamfer, from_datum, plain_size, read_chamfer, rewritten, stripped
from calc.contour.solving.given import GivenCorner, GivenElement, Start, faults_of_size
from calc.language.messages import Message
from calc.language.problems import Fault
from calc.language.quantities import ANGLE, LENGTH, RADIUS, RATIO, Kind, View, X, Z
from calc.language.reading import ReadingError, read

RowKind = Literal["start", "face", "cylinder", "line", "arc", "chamfer", "radius"]
Turn = Literal["cw", "ccw"]

LETTERS: Mapping[str, RowKind] = {
    "s": "start", "f": "face", "t": "cylinder", "l": "line", "a": "arc", "c": "chamfer", "e": "radius",
}  # fmt: skip
KINDS: Mapping[str, Kind] = {
    "dx": X, "dz": Z, "cx": X, "cz": Z, "at": ANGLE, "tp": RATIO, "ha": ANGLE, "len": LENGTH, "x": X, "z": Z,
    "r": RADIUS, "size": LENGTH,
}  # fmt: skip
OF_ROW: Mapping[RowKind, tuple[str, ...]] = {
    "start": ("x", "z"),
    "face": ("x", "dx"),
    "cylinder": ("z", "dz", "x"),
    "line": ("x", "z", "dx", "dz", "tp", "ha", "at", "len"),
    "arc": ("r", "x", "z", "dx", "dz", "cx", "cz"),
    "chamfer": ("size",),
    "radius": ("size",),
}
FIELDS: Mapping[str, str] = {
    "x": "r", "z": "z", "dx": "dr", "dz": "dz", "at": "angle", "len": "length", "r": "radius", "cx": "centre_r",
    "cz": "centre_z",
}  # fmt: skip
SOLVER_NAMES: Mapping[str, str] = {
    "x": "x", "z": "z", "dx": "dx", "dz": "dz", "at": "angle", "len": "length", "r": "radius", "cx": "centre_x",
    "cz": "centre_z",
}  # fmt: skip
FLAGS = ("cw", "ccw", "smooth", "down")
MOST_ROWS = 1000
MOST_TEXT = 30_000

# The two separators, if somebody types them, as look-alikes that the text may hold.
_AWAY = str.maketrans("*_", "∗ˍ")
_BACK = str.maketrans("∗ˍ", "*_")


@dataclass(frozen=True, slots=True)
class Row:
    """One row of the contour: its kind, the typed texts by name, its flags (an arc's turn, joins smoothly, falls)."""

    kind: RowKind
    texts: Mapping[str, str] = field(default_factory=dict)
    flags: frozenset[str] = frozenset()

    def word(self) -> str:
        """The row as a word.

        >>> Row("arc", {"r": "8", "x": ""}, frozenset({"smooth", "cw"})).word()
        'a_r8_cw_smooth'
        """
        if self.kind in ("chamfer", "radius"):
            letter = "c" if self.kind == "chamfer" else "e"
            return letter + self.texts.get("size", "").translate(_AWAY)
        letter = next(letter for letter, kind in LETTERS.items() if kind == self.kind)
        parts = [name + text.strip().translate(_AWAY) for name, text in self.texts.items() if text.strip()]
        return "_".join([letter, *parts, *(flag for flag in FLAGS if flag in self.flags)])


class BadWord(ValueError):
    """A word that belongs to no contour text, or one too many; `position` counts the words from 1."""

    def __init__(self, position: int, word: str) -> None:
        self.position = position
        self.word = word
        super().__init__(f"word {position}: {word!r}")


def rows_of(text: str) -> tuple[Row, ...]:
    """The rows of a contour text; without a start of its own it has a blank one. Raises `BadWord`.

    >>> [row.kind for row in rows_of("s_x0_z0*l_x20*c1")], rows_of("l_x20")[0]
    (['start', 'line', 'chamfer'], Row(kind='start', texts={}, flags=frozenset()))
    """
    words = [word for word in text.split("*", MOST_ROWS + 1) if word]
    if len(words) > MOST_ROWS or len(text) > MOST_TEXT:
        raise BadWord(MOST_ROWS + 1, words[-1])
    rows = [_row(position, word) for position, word in enumerate(words, 1)]
    for position, row in enumerate(rows[1:], 2):
        if row.kind == "start":
            raise BadWord(position, words[position - 1])
    return (*([Row("start")] if rows and rows[0].kind != "start" else []), *rows)


def text_of(rows: Iterable[Row]) -> str:
    """The contour text of the rows, the reverse of `rows_of`.

    >>> text_of(rows_of("s_x0_z0*a_r8_cw_smooth*e0.8"))
    's_x0_z0*a_r8_cw_smooth*e0.8'
    """
    return "*".join(row.word() for row in rows)


def _row(position: int, word: str) -> Row:
    kind = LETTERS.get(word[:1])
    if kind is None:
        raise BadWord(position, word)
    if kind in ("chamfer", "radius"):
        return Row(kind, {"size": word[1:].translate(_BACK)})
    first, *parts = word.split("_")
    if len(first) > 1:
        raise BadWord(position, word)
    texts = {}
    for part in parts:
        name = next((name for name in KINDS if part.startswith(name) and name in OF_ROW[kind]), None)
        if part not in FLAGS and name is None:
            raise BadWord(position, word)
        if name is not None and part not in FLAGS:
            texts[name] = part[len(name) :].translate(_BACK)
    return Row(kind, texts, frozenset(part for part in parts if part in FLAGS))


@dataclass(frozen=True, slots=True)
class ContourGiven:
    """What the rows say, in mm, radius, rad: the start, the elements with their corners.

    `rows` gives for each element the row that it came from, `names` how that row calls the element's dimensions, so
    that what is said about an element finds its field. `unsized` are the rows of corners that have no size yet.
    """

    start: Start
    elements: tuple[GivenElement, ...]
    rows: tuple[int, ...] = ()
    names: tuple[Mapping[str, str], ...] = ()
    unsized: tuple[int, ...] = ()

    def field(self, solver_field: str) -> str:
        """The field of a row that the solver calls `elements.2.radius`; the row itself where it has no such field.

        >>> given, _ = read_rows(rows_of("s_x0_z0*l_x20_tp1:10*e0.8*t_z-5"), View())
        >>> [given.field(f"elements.{name}") for name in ("0.angle", "0.corner.size", "1.x", "1.z")]
        ['rows.1.tp', 'rows.2.size', 'rows.3.x', 'rows.3.z']
        """
        where, _, rest = solver_field.partition(".")
        number, _, name = rest.partition(".")
        if where == "start":
            return f"rows.0.{rest}"
        if where != "elements" or not number.isdigit():
            return solver_field
        row = self.rows[int(number)]
        if name.startswith("corner"):
            return f"rows.{row + 1}.size"
        typed = self.names[int(number)].get(name)
        return f"rows.{row}.{typed}" if typed else f"rows.{row}"


def read_rows(rows: Sequence[Row], view: View) -> tuple[ContourGiven, tuple[Fault, ...]]:
    """Read the typed texts of the rows; faults are named `rows.2.r` (rows counted from 0).

    >>> given, faults = read_rows(rows_of("s_x0_z0*l_x20*e0.8*l_dz-5"), View())
    >>> given.elements[0].r, given.elements[0].corner.size, given.elements[1].dz, faults
    (10.0, 0.8, -5.0, ())
    """
    reader = _Reader(view)
    start = Start()
    elements: list[GivenElement] = []
    places: list[int] = []
    names: list[Mapping[str, str]] = []
    here = _Here()
    for index, row in enumerate(rows):
        values = reader.values(index, row)
        if row.kind == "start":
            start = Start(values.get("z"), values.get("x"))
            here = _Here(values.get("x"), values.get("z"))
        elif row.kind in ("chamfer", "radius"):
            reader.corner(index, row, values.get("size"), elements)
        else:
            elements.append(_element(row, values, here))
            here = here.after(row, values)
            places.append(index)
            names.append(_names(row, values))
    given = ContourGiven(start, tuple(elements), tuple(places), tuple(names), tuple(reader.unsized))
    large = [Fault(given.field(fault.field), fault.message) for fault in faults_of_size(start, elements)]
    return given, (*reader.faults, *large)


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


class _Reader:
    """Reads the texts of one row after the other and collects what is wrong."""

    def __init__(self, view: View) -> None:
        self.view = view
        self.faults: list[Fault] = []
        self.unsized: list[int] = []
        self.chamfer = Chamfer(None, None)

    def values(self, index: int, row: Row) -> dict[str, float]:
        """The values of the row's texts; what is blank or faulty is left out."""
        found: dict[str, float] = {}
        for name in OF_ROW[row.kind]:
            field = f"rows.{index}.{name}"
            try:
                value = self._value(row, name)
            except ReadingError as error:
                self.faults.append(Fault(field, error.message))
            else:
                found |= {} if value is None else {name: value}
        self._check_lean(index, found)
        return found

    def _value(self, row: Row, name: str) -> float | None:
        text, kind = row.texts.get(name, ""), KINDS[name]
        if row.kind == "chamfer":
            self.chamfer = read_chamfer(text, self.view)
            return self.chamfer.size
        return from_datum(read(plain_size(text, kind), kind, self.view), kind, self.view)

    def _check_lean(self, index: int, found: Mapping[str, float]) -> None:
        """A line leans in one way: what else is given of its angle would be passed over."""
        ways = [name for name in ("at", "ha", "tp") if name in found]
        for name in ways[1:]:
            text = "Give the angle once: as a taper, as a half angle or as an angle from +Z."
            self.faults.append(Fault(f"rows.{index}.{name}", Message(text)))

    def corner(self, index: int, row: Row, size: float | None, elements: list[GivenElement]) -> None:
        """Put a corner at the end of the element before."""
        if not elements or elements[-1].corner is not None:
            self._fault(index, "An edge or fillet stands between two elements: move it there.")
        elif size is None:
            self.unsized.append(index)
        elif size <= 0.0:
            self._fault(index, "Its size must be more than 0.")
        else:
            before = elements.pop()
            is_chamfer = row.kind == "chamfer"
            corner = GivenCorner(
                "chamfer" if is_chamfer else "radius", size, self.chamfer.angle if is_chamfer else None
            )
            elements.append(replace(before, corner=corner))

    def _fault(self, index: int, sentence: str) -> None:
        if not any(fault.field == f"rows.{index}.size" for fault in self.faults):
            self.faults.append(Fault(f"rows.{index}.size", Message(sentence)))


def contour_rewritten(text: str, old: View, new: View) -> str:
    """The contour for a page whose conventions change: same meaning, same digits; unreadable words stay as they are.

    >>> contour_rewritten("s_x0_z0*l_x20_z-5", View(), View("inch"))
    's_x0mm_z0mm*l_x20mm_z-5mm'
    """
    return _each_text(text, lambda typed, kind: rewritten(typed, kind, old, new))


def contour_stripped(text: str, view: View) -> str:
    """The contour without the other system's units: "I meant inches" right after a switch to inch.

    >>> contour_stripped("s_x0mm_z0mm*l_x20mm_z-5mm", View("inch"))
    's_x0_z0*l_x20_z-5'
    """
    return _each_text(text, lambda typed, kind: stripped(typed, kind, view))


def _each_text(text: str, change: Callable[[str, Kind], str]) -> str:
    try:
        rows = rows_of(text)
    except BadWord:
        return text
    return text_of(
        replace(row, texts={name: change(typed, KINDS[name]) for name, typed in row.texts.items()}) for row in rows
    )
