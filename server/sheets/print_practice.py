"""What the print of a whole part gives to practise: blanks of its contours, and what its rows call by a standard."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cached_property
from itertools import chain

from calc.contour import Bounds, Chain
from calc.contour.row_words import CORNERS
from calc.contour.text import BadWord, ContourGiven, Row, rows_of
from calc.language.limited import limited
from calc.language.problems import Problem
from calc.language.quantities import DIAMETER, LENGTH, Kind
from calc.language.reading import ReadingError, read
from calc.machining.blades import dips
from calc.machining.job import Where
from calc.questions.part.asked import between
from calc.questions.part.asking import prints_of
from calc.questions.part.declared import PartInputs
from calc.questions.part.job import Print
from calc.shapes.grooves_on_print import groove_named
from calc.shapes.knurls_on_print import knurl_called
from calc.threads.on_print import NAMES, undercut_named
from server.sheets.addresses import Question

Texts = Mapping[str, str]
Found = Iterator[tuple[str, Texts]]
WHERES: Mapping[str, Where] = {"": "outside", "outside": "outside", "inside": "bore", "face": "face"}
SIDES = ("outside", "inside")
LEANS = ("tp", "ha")
"""What says how a line leans to the axis."""

SAME = 1e-6
"""mm: lengths that differ by less are one."""


class Shape:
    """The print of a part that is practised: its texts row by row, its contours as they are solved."""

    def __init__(self, question: Question) -> None:
        self.texts = question.query.texts
        self.view = question.query.view
        self.inputs: PartInputs = question.query.inputs(question.feature.inputs)

    @cached_property
    def _prints(self) -> Mapping[str, Print | None]:
        try:
            return dict(zip(SIDES, prints_of(self.inputs), strict=True))
        except Problem:
            return {}

    def print_of(self, side: str) -> Print | None:
        """The contour "outside" or "inside" as it is drawn; None where it is not known."""
        found = self._prints.get(side)
        return found and (found.drawn or found)

    def given(self, side: str) -> ContourGiven | None:
        """What the rows of a side say; None without any."""
        return self.inputs.outside if side == "outside" else self.inputs.inside

    def rows(self, side: str) -> tuple[Row, ...]:
        """The rows of a side as they were typed."""
        try:
            return rows_of(self.texts.get(side, ""))
        except BadWord:
            return ()

    def said(self, value: float, kind: Kind) -> str:
        """A number in the reader's units, as it is typed there."""
        return f"{round(kind.unit(self.view).shown(value), 4):.6g}"

    def largest_in_the_bore(self) -> str:
        """The bore's largest diameter; "" without a bore."""
        inside = self.print_of("inside")
        return self.said(2.0 * inside.chain.bounds.r_max, DIAMETER) if inside else ""

    def smallest_in_the_bore(self) -> str:
        """The bore's smallest diameter; "" without a bore."""
        inside = self.print_of("inside")
        return self.said(2.0 * inside.chain.bounds.r_min, DIAMETER) if inside else ""

    def hole_depth(self, row: Texts) -> str:
        """How deep the hole of an operation goes: as it says, else to the end of the bore; "" where that is not known.

        A thread in the bore is as long as its row.
        """
        inside = self.print_of("inside")
        if row.get("hole_depth") or inside is None:
            return row.get("hole_depth", "")
        return self.said(-inside.chain.bounds.z_min, LENGTH)

    def is_through(self, row: Texts) -> bool:
        """Whether the hole of an operation goes through the part."""
        try:
            deep = read(self.hole_depth(row), LENGTH, self.view)
        except ReadingError:
            return False
        outside = self.print_of("outside")
        return deep is not None and outside is not None and float(deep) >= -outside.chain.bounds.z_min - SAME

    def groove(self, row: Texts) -> Texts:
        """The sizes of the first groove that an operation works on; none without one."""
        where = WHERES[row.get("where", "")]
        bounds = self._groove(row, where)
        if bounds is None:
            return {}
        outer, inner = (self.said(2.0 * r, DIAMETER) for r in (bounds.r_max, bounds.r_min))
        along = self.said(bounds.z_max - bounds.z_min, LENGTH)
        if where == "face":
            return {"groove_outer": outer, "groove_inner": inner, "face_depth": along}
        start, bottom = (inner, outer) if where == "bore" else (outer, inner)
        return {"start_diameter": start, "bottom_diameter": bottom, "groove_width": along}

    def _groove(self, row: Texts, where: Where) -> Bounds | None:
        """How far the first groove among the rows of an operation reaches."""
        print_ = self.print_of("inside" if where == "bore" else "outside")
        if print_ is None:
            return None
        try:
            low, high = between(print_, _number(row, "from_row"), _number(row, "to_row"))
        except Problem:
            return None
        runs = [run for run in dips(print_.chain, where) if low <= run[0] and run[1] <= high]
        if not runs and not (row.get("from_row") or row.get("to_row")):
            return None
        first, last = runs[0] if runs else (low, high)
        return Chain(print_.chain.elements[first : last + 1]).bounds

    def sizes_with_limits(self, row: Texts) -> Iterator[str]:
        """The diameters with limits or a class among the rows of an operation, as the print has them."""
        side = "inside" if row.get("where") == "inside" else "outside"
        given = self.given(side)
        first, last = _number(row, "from_row") or 1, _number(row, "to_row")
        for index, each in enumerate(self.rows(side)) if given else ():
            number = sum(at <= index for at in given.rows) if given else 0
            text = each.texts.get("x", "")
            value = given.typed.get(f"rows.{index}.x") if given else None
            if first <= number and (last is None or number <= last) and limited(value) and not NAMES.is_thread(text):
                yield text


def _number(row: Texts, name: str) -> int | None:
    text = row.get(name, "")
    return int(text) if text.isdecimal() and len(text) < 4 else None


def of_print(shape: Shape) -> Found:
    """The questions of a print: what a standard lays down for its rows, its tapers, and what it leaves blank."""
    return chain.from_iterable(_of_side(shape, side) for side in SIDES)


def _of_side(shape: Shape, side: str) -> Found:
    given = shape.given(side)
    if given is None:
        return
    rows = shape.rows(side)
    yield from (("/thread", {"designation": text}) for text in given.threads.values())
    yield from (("/knurl", _knurl(shape, given, at)) for at in given.knurls)
    for index, row in enumerate(rows):
        if row.kind == "undercut" and side == "outside":
            yield "/shoulder", _shoulder(rows, index)
        elif row.kind == "relief":
            yield "/thread", {"designation": row.texts.get("named", "").partition(" ")[2]}
        elif row.kind == "groove":
            yield _groove(shape, given, index, row, "inside" if "outward" in row.flags else "outside")
        elif any(row.texts.get(name) for name in LEANS):
            yield "/taper", _taper(shape, side, index)
    if side == "outside" and rows:
        yield "/contour", {"contour": shape.texts["outside"]}


def _knurl(shape: Shape, given: ContourGiven, index: int) -> Texts:
    """A knurl by its form, its pitch and the diameter over its crests."""
    called = knurl_called(given.knurls[index])
    over = given.typed.get(f"rows.{index}.x")
    if called is None or over is None:
        return {"diameter": ""}
    diameter, pitch = shape.said(2.0 * over, DIAMETER), shape.said(called.pitch, LENGTH)
    return {"diameter": diameter, "pitch": pitch, "form": called.form}


def _shoulder(rows: tuple[Row, ...], index: int) -> Texts:
    """Form and size of an undercut, and the diameters on both sides of it: the smaller one's is its cylinder."""
    try:
        form, size = undercut_named(rows[index].texts.get("named", ""))
    except ReadingError:
        return {"diameter": ""}
    before = [row.texts["x"] for row in rows[:index] if row.texts.get("x")]
    return {"diameter": before[-1] if before else "", "undercut_form": form, "size": size.code}


def _groove(shape: Shape, given: ContourGiven, index: int, row: Row, where: str) -> tuple[str, Texts]:
    """The groove of a ring or an O-ring where it is called by one, else by its own sizes."""
    named = groove_named(row.texts.get("named", ""))
    top, bounds = _top_of(shape, given, index, where)
    if named is not None and named.section is not None:
        sealed = {"section": shape.said(named.section, LENGTH), "mating_diameter": named.mating or top}
        return "/o-ring-groove", {"where": where, "duty": named.duty, **sealed}
    if named is not None:
        ring = top if named.diameter is None else shape.said(named.diameter, DIAMETER)
        return "/ring-groove", {"where": where, "diameter": ring}
    deep, wide = ("", "") if bounds is None else (bounds.r_max - bounds.r_min, bounds.z_max - bounds.z_min)
    sizes = {"depth": deep, "width": wide, "from_end": -bounds.z_max if bounds else ""}
    typed = {name: shape.said(value, LENGTH) if isinstance(value, float) else "" for name, value in sizes.items()}
    return "/groove", {"where": where, "diameter": top, **typed}


def _top_of(shape: Shape, given: ContourGiven, index: int, where: str) -> tuple[str, Bounds | None]:
    """The diameter of the cylinder that a groove is in, and how far the groove reaches; "" and None not solved yet."""
    print_ = shape.print_of("inside" if given.prefix == "inside" else "outside")
    bounds = None if print_ is None else _bounds(print_, given, index)
    if bounds is None:
        return "", None
    return shape.said(2.0 * (bounds.r_min if where == "inside" else bounds.r_max), DIAMETER), bounds


def _bounds(print_: Print, given: ContourGiven, index: int) -> Bounds | None:
    """How far the elements of a row reach."""
    of_row = {number for number, at in enumerate(given.rows, 1) if at == index}
    kept = [element for element, number in zip(print_.chain, print_.numbers, strict=True) if number in of_row]
    return Chain(tuple(kept)).bounds if kept else None


def _taper(shape: Shape, side: str, index: int) -> Texts:
    """A leaning line by its larger diameter, its lean as the print has it, its length where no corner cuts it short."""
    given, print_, rows = shape.given(side), shape.print_of(side), shape.rows(side)
    bounds = _bounds(print_, given, index) if given and print_ else None
    if bounds is None:
        return {"large_diameter": ""}
    named, text = next(
        ("taper_ratio" if name == "tp" else "half_angle", rows[index].texts[name])
        for name in LEANS
        if rows[index].texts.get(name)
    )
    found = {"large_diameter": shape.said(2.0 * bounds.r_max, DIAMETER), named: text}
    broken = any(each.kind in CORNERS or "smooth" in each.flags for each in rows[index - 1 : index + 2])
    return found if broken else {**found, "length": shape.said(bounds.z_max - bounds.z_min, LENGTH)}
