"""What a whole part gives to practise: the single questions that stand in it, each with the part's own numbers."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

from calc.contour.text import BadWord, read_rows, rows_of
from calc.language.fields import specs
from calc.language.quantities import View
from calc.threads.on_print import NAMES
from server.catalogue import PAGES
from server.links import address
from server.query import CONVENTIONS
from server.row_texts import texts_of
from server.sheets.addresses import Question

Texts = Mapping[str, str]


def drawn_from(question: Question) -> tuple[str, ...]:
    """The addresses of the questions in a part, in the order of its operations, each once.

    >>> from server.sheets.addresses import question_at
    >>> rows = "kind:face~surface_speed:180*kind:thread~thread:M24x2-6g"
    >>> part = question_at(f"/part?bar_diameter=60&max_rpm=2000&operations={rows}")
    >>> drawn_from(part) if not isinstance(part, str) else ()
    ('/spindle?surface_speed=180&diameter=60&max_rpm=2000', '/thread?designation=M24x2-6g')
    """
    texts = question.query.texts
    conventions = {name: text for name, text in question.parameters if name in CONVENTIONS}
    plan = next(spec for spec in specs(question.feature.inputs) if spec.rows is not None)
    rows = texts_of(texts[plan.name], plan.repeated.row)
    found = (asked for row in rows if row.get("use") != "off" for asked in _of_row(row, {**texts, **conventions}))
    return tuple(dict.fromkeys(address(page, {**given, **conventions}) for page, given in found if page in PAGES))


def _of_row(row: Texts, part: Texts) -> Iterator[tuple[str, Texts]]:
    """The questions of one operation: page and texts."""
    kind = row.get("kind", "")
    if row.get("thread"):
        yield "/thread", {"designation": row["thread"]}
    elif kind in OF_A_SIZE:
        page, given = OF_A_SIZE[kind](row, part)
        if all(given.values()):
            yield page, {**given, **_set(row, part, ("feed", "surface_speed") if kind in PLUNGES else ())}
    elif row.get("surface_speed"):
        bar = part["bar_diameter"]
        yield "/spindle", {"surface_speed": row["surface_speed"], "diameter": bar, "max_rpm": part["max_rpm"]}
        if kind == "finish" and row.get("nose_radius") and row.get("feed"):
            yield "/finish", {"feed": row["feed"], "nose_radius": row["nose_radius"]}


def _set(row: Texts, part: Texts, names: Sequence[str]) -> Texts:
    """What of a plunge is set: feed and speed of its row, the machine's limit; a lead where it has one."""
    if not names:
        return {}
    named = {name: row[name] for name in (*names, "edge_lead") if row.get(name)}
    return named | ({"max_rpm": part["max_rpm"]} if part.get("max_rpm") else {})


def _drilled(row: Texts, part: Texts) -> tuple[str, Texts]:
    depth = row.get("hole_depth", "")
    return "/drilling", {"drill_diameter": row.get("size", ""), "hole_depth": depth, "material": part["material"]}


def _parted(row: Texts, part: Texts) -> tuple[str, Texts]:
    given = {"material": part["material"], "outer_diameter": part["bar_diameter"], "insert_width": row.get("size", "")}
    return "/parting", given


def _knurled(row: Texts, _: Texts) -> tuple[str, Texts]:
    return "/knurl", {
        "diameter": row.get("over_knurl", ""),
        "pitch": row.get("size", ""),
        "form": row.get("knurl_form", "straight"),
    }


def _grooved(row: Texts, part: Texts) -> tuple[str, Texts]:
    """A groove outside or in the bore by what the print's rows say of the first one; one on a face is not asked."""
    where = row.get("where", "") or "outside"
    size = {"material": part["material"], "insert_width": row.get("size", "")}
    return "/grooving-cut", {**size, **_groove_on_print(part.get(where, ""), row, part)}


def _groove_on_print(text: str, row: Texts, part: Texts) -> Texts:
    """Surface, bottom and width of the first groove among the rows that are worked on, as texts in mm."""
    blank = {"start_diameter": "", "bottom_diameter": "", "groove_width": ""}
    view = View("inch" if part.get("units") == "inch" else "mm")
    try:
        given = read_rows(rows_of(text), view, NAMES)[0] if text else None
    except BadWord:
        return blank
    if given is None:
        return blank
    low = _whole(row.get("from_row", ""), 1)
    for first, number in given.grooves.items():
        bottom, wide = (given.typed.get(f"{given.prefix}.{number}.{name}") for name in ("x", "w"))
        radii = [element.r for element in given.elements[:first] if element.r is not None]
        if first + 1 >= low and bottom is not None and wide is not None and radii:
            sizes = (2.0 * radii[-1], 2.0 * bottom, float(wide))
            return dict(zip(blank, (f"{size:.6g}mm" for size in sizes), strict=True))
    return blank


def _whole(text: str, usual: int) -> int:
    return int(text) if text.isdecimal() and len(text) < 4 else usual


OF_A_SIZE: Mapping[str, Callable[[Texts, Texts], tuple[str, Texts]]] = {
    "drill": _drilled,
    "part-off": _parted,
    "knurl": _knurled,
    "groove": _grooved,
}
"""The kinds of operation with a tool of one size, each with its question."""

PLUNGES = ("groove", "part-off")
