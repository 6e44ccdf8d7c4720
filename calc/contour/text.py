"""What the rows of a contour text say: their texts read, in mm, radius and rad; every fault at its row."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from calc.contour.arc import Arc
from calc.contour.callouts import Names, NoNames, rewritten, stripped
from calc.contour.elements import Element
from calc.contour.row_reader import RowReader
from calc.contour.row_words import (
    FLAGS,
    KINDS,
    LETTERS,
    MOST_ROWS,
    MOST_TEXT,
    OF_ROW,
    BadWord,
    Row,
    RowKind,
    TooLong,
    rows_of,
    text_of,
)
from calc.contour.solving.given import GivenCorner, GivenElement, Start, faults_of_size
from calc.language.problems import Fault
from calc.language.quantities import RADIUS, Kind, View, X, Z

__all__ = [
    "FLAGS", "KINDS", "LETTERS", "MOST_ROWS", "MOST_TEXT", "OF_ROW", "BadWord", "ContourGiven", "Row", "RowKind",
    "TooLong", "contour_rewritten", "contour_stripped", "contour_text", "each_contour_text", "read_rows", "rows_of",
    "text_of",
]  # fmt: skip

NO_NAMES = NoNames()


@dataclass(frozen=True, slots=True)
class ContourGiven:
    """What the rows say, in mm, radius, rad: the start, the elements with their corners.

    `rows` gives for each element the row that it came from, `names` how that row calls the element's dimensions, so
    that what is said about an element finds its field; `corners` are the fields of the corners at their ends.
    `unfinished` says what rows lack before anything can be solved. `threads` are the designations of threads by the
    row of their cylinder, `knurls` what is typed of those that bear a knurl, `grooves` the rows of grooves by their
    first element, `called_grooves` what is said of those that are called by a name. `typed` are the values and
    `breaks` the corners as they were read, by field (`rows.2.x`). Of several contours on a page each has a `prefix` of
    its own, which stands for `rows` in the fields of what is said.
    """

    start: Start
    elements: tuple[GivenElement, ...]
    rows: tuple[int, ...] = ()
    names: tuple[Mapping[str, str], ...] = ()
    corners: tuple[str, ...] = ()
    unfinished: tuple[Fault, ...] = ()
    threads: Mapping[int, str] = field(default_factory=dict)
    grooves: Mapping[int, int] = field(default_factory=dict)
    called_grooves: Mapping[int, str] = field(default_factory=dict)
    typed: Mapping[str, float] = field(default_factory=dict)
    breaks: Mapping[str, GivenCorner] = field(default_factory=dict)
    prefix: str = "rows"
    knurls: Mapping[int, str] = field(default_factory=dict)

    def field(self, solver_field: str) -> str:
        """The field of a row that the solver calls `elements.2.radius`; the row itself where it has no such field.

        >>> given, _ = read_rows(rows_of("s_x0_z0*l_x20_tp1:10*e0.8*t_z-5"), View())
        >>> [given.field(f"elements.{name}") for name in ("0.angle", "0.corner.size", "1.x", "1.z")]
        ['rows.1.tp', 'rows.2.size', 'rows.3.x', 'rows.3.z']
        """
        return called(self._place(solver_field), self.prefix)

    def _place(self, solver_field: str) -> str:
        where, _, rest = solver_field.partition(".")
        number, _, name = rest.partition(".")
        if where == "start":
            return f"rows.0.{rest}"
        if where != "elements" or not number.isdigit():
            return solver_field
        row = self.rows[int(number)]
        if name.startswith("corner"):
            return self.corners[int(number)] or f"rows.{row}"
        typed = self.names[int(number)].get(name)
        return f"rows.{row}.{typed}" if typed else f"rows.{row}"


def called(field: str, prefix: str) -> str:
    """A row's field as a contour with a prefix of its own calls it.

    >>> called("rows.2.x", "inside"), called("outside", "inside")
    ('inside.2.x', 'outside')
    """
    return f"{prefix}{field.removeprefix('rows')}" if field.startswith("rows.") else field


def read_rows(
    rows: Sequence[Row], view: View, names: Names = NO_NAMES, prefix: str = "rows"
) -> tuple[ContourGiven, tuple[Fault, ...]]:
    """Read the typed texts of the rows; faults are named `rows.2.r` by the `prefix` (rows counted from 0).

    `names` knows the designations of the standards: undercuts, threads and their reliefs.

    >>> given, faults = read_rows(rows_of("s_x0_z0*l_x20*e0.8*l_dz-5"), View())
    >>> given.elements[0].r, given.elements[0].corner.size, given.elements[1].dz, faults
    (10.0, 0.8, -5.0, ())
    """
    reader = RowReader(rows, view, names)
    for index, row in enumerate(rows):
        reader.take(index, row)
    given = ContourGiven(
        reader.start,
        tuple(reader.elements),
        tuple(reader.places),
        tuple(reader.names),
        tuple(reader.corners),
        tuple(_called(reader.unfinished, prefix)),
        reader.threads,
        reader.grooves,
        reader.called_grooves,
        reader.typed,
        reader.breaks,
        prefix,
        reader.knurls,
    )
    large = [Fault(given.field(fault.field), fault.message) for fault in faults_of_size(given.start, given.elements)]
    return given, (*_called(reader.faults, prefix), *large)


def _called(faults: Iterable[Fault], prefix: str) -> Iterator[Fault]:
    return (replace(fault, field=called(fault.field, prefix)) for fault in faults)


def contour_rewritten(text: str, old: View, new: View) -> str:
    """The contour for a page whose conventions change: same meaning, same digits; unreadable words stay as they are.

    >>> contour_rewritten("s_x0_z0*l_x20_z-5", View(), View("inch"))
    's_x0mm_z0mm*l_x20mm_z-5mm'
    """
    return each_contour_text(text, lambda typed, kind: rewritten(typed, kind, old, new))


def contour_stripped(text: str, view: View) -> str:
    """The contour without the other system's units: "I meant inches" right after a switch to inch.

    >>> contour_stripped("s_x0mm_z0mm*l_x20mm_z-5mm", View("inch"))
    's_x0_z0*l_x20_z-5'
    """
    return each_contour_text(text, lambda typed, kind: stripped(typed, kind, view))


def each_contour_text(text: str, change: Callable[[str, Kind], str]) -> str:
    """The contour with each of its numbers changed; what holds an unreadable word stays as it is.

    >>> each_contour_text("s_x20,5_z0*l_z-5,25", lambda typed, _: typed.replace(",", "."))
    's_x20.5_z0*l_z-5.25'
    """
    try:
        rows = rows_of(text)
    except BadWord:
        return text
    return text_of(
        replace(row, texts={name: _changed(name, typed, change) for name, typed in row.texts.items()}) for row in rows
    )


def _changed(name: str, typed: str, change: Callable[[str, Kind], str]) -> str:
    """The typed text after a change of conventions; a designation has none."""
    return typed if name not in KINDS else change(typed, KINDS[name])


def contour_text(elements: Iterable[Element], view: View, *, by_radius: bool = False) -> str:
    """The elements as rows of a contour, full digits, in the reader's units.

    Arcs by their centre, or `by_radius` as a print has them: for arcs of less than half a turn.

    >>> from calc.contour import Line, Point
    >>> contour_text((Line(Point(0.0, 10.0), Point(-5.0, 10.0)),), View())
    's_x20_z0*l_x20_z-5'
    """
    rows: list[Row] = []
    for element in elements:
        if not rows:
            first = element.start
            rows.append(Row("start", {"x": _text(X.shown(first.r, view)), "z": _text(Z.shown(first.z, view))}))
        texts = {"x": _text(X.shown(element.end.r, view)), "z": _text(Z.shown(element.end.z, view))}
        if isinstance(element, Arc):
            centre = element.centre
            texts |= (
                {"r": _text(RADIUS.shown(element.radius, view))}
                if by_radius
                else {"cx": _text(X.shown(centre.r, view)), "cz": _text(Z.shown(centre.z, view))}
            )
            rows.append(Row("arc", texts, frozenset({element.turn})))
        else:
            rows.append(Row("line", texts))
    return text_of(rows)


def _text(value: float) -> str:
    return f"{round(value, 9) + 0.0:.9f}".rstrip("0").rstrip(".")
