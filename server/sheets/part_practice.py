"""What a whole part gives to practise: the single questions that stand in it, each with the part's own numbers."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import chain

from calc.language.fields import specs
from server.catalogue import PAGES
from server.links import address
from server.query import CONVENTIONS
from server.row_texts import texts_of
from server.sheets.addresses import Question
from server.sheets.print_practice import Shape, of_print

Texts = Mapping[str, str]
Found = Iterator[tuple[str, Texts]]


def drawn_from(question: Question) -> tuple[str, ...]:
    """The addresses of the questions in a part, each once: of its operations in order, its print, its holding.

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
    shape = Shape(question)
    operations = (asked for row in rows if row.get("use") != "off" for asked in _of_row(row, texts, shape))
    found = chain(operations, of_print(shape), _of_holding(texts))
    complete = ((page, given) for page, given in found if page in PAGES and all(given.values()))
    return tuple(dict.fromkeys(address(page, {**given, **conventions}) for page, given in complete))


def _of_row(row: Texts, part: Texts, shape: Shape) -> Found:
    """The questions of one operation: page and texts; one that lacks a text is no question."""
    for page, given in OF_KIND.get(row.get("kind", ""), _of_none)(row, part, shape):
        yield page, {**given, **_set(row, part, ("feed", "surface_speed", "edge_lead") if page in PLUNGES else ())}


def _set(row: Texts, part: Texts, names: Sequence[str]) -> Texts:
    """What of a plunge is set: feed, speed and lead of its row, the machine's limit, as far as they are given."""
    given = {name: row[name] for name in names if row.get(name)}
    return given | ({"max_rpm": part["max_rpm"]} if names and part.get("max_rpm") else {})


def _of_none(_: Texts, __: Texts, ___: Shape) -> Found:
    return iter(())


def _turned(row: Texts, part: Texts, shape: Shape) -> Found:
    """How fast the spindle turns at the largest diameter; the finish; the time of a face."""
    speed, limit = row.get("surface_speed", ""), part.get("max_rpm", "")
    inside = row.get("where") == "inside" or row.get("kind") == "bore"
    diameter = shape.largest_in_the_bore() if inside else part.get("bar_diameter", "")
    if speed:
        yield "/spindle", {"surface_speed": speed, "diameter": diameter, **({"max_rpm": limit} if limit else {})}
    if row.get("kind") == "finish" and row.get("nose_radius"):
        yield "/finish", {"feed": row.get("feed", ""), "nose_radius": row["nose_radius"]}


def _drilled(row: Texts, part: Texts, shape: Shape) -> Found:
    given = {"drill_diameter": row.get("size", ""), "hole_depth": shape.hole_depth(row), "material": part["material"]}
    yield "/drilling", {**given, **_through(shape, row)}


def _centred(row: Texts, _: Texts, __: Shape) -> Found:
    yield "/centre-hole", {"centre_form": row.get("centre_form") or "A", "centre_size": row.get("size", "")}


def _countersunk(row: Texts, _: Texts, __: Shape) -> Found:
    yield "/drill-point", {"diameter": row.get("size", ""), "point_angle": row.get("point_angle") or "90°"}


def _counterbored(row: Texts, part: Texts, shape: Shape) -> Found:
    bored = {"counterbore_diameter": row.get("size", ""), "counterbore_depth": row.get("hole_depth", "")}
    hole = {"bore_diameter": shape.smallest_in_the_bore(), "hole_depth": shape.hole_depth({})}
    yield "/hole", {"material": part["material"], **hole, **bored}


def _reamed(row: Texts, part: Texts, shape: Shape) -> Found:
    given = {"bore_diameter": row.get("size", ""), "hole_depth": shape.hole_depth(row), "material": part["material"]}
    yield "/hole", {"finished": "reamed", **given, **_through(shape, row)}


def _tapped(row: Texts, part: Texts, shape: Shape) -> Found:
    given = {"designation": row.get("thread", ""), "length": shape.hole_depth(row), "material": part["material"]}
    yield "/tapping", {**given, **({"hole": "through"} if shape.is_through(row) else {})}


def _through(shape: Shape, row: Texts) -> Texts:
    return {"through": "through"} if shape.is_through(row) else {}


def _threaded(row: Texts, _: Texts, __: Shape) -> Found:
    yield "/thread", {"designation": row.get("thread", "")}


def _parted(row: Texts, part: Texts, _: Shape) -> Found:
    yield (
        "/parting",
        {"material": part["material"], "outer_diameter": part["bar_diameter"], "insert_width": row.get("size", "")},
    )


def _knurled(row: Texts, _: Texts, __: Shape) -> Found:
    form = row.get("knurl_form") or "straight"
    yield "/knurl", {"diameter": row.get("over_knurl", ""), "pitch": row.get("size", ""), "form": form}


def _grooved(row: Texts, part: Texts, shape: Shape) -> Found:
    """The first groove among the rows that are worked on: outside, in the bore or in a face."""
    size = {"material": part["material"], "insert_width": row.get("size", "")}
    groove = shape.groove(row)
    if groove:
        yield ("/face-groove" if row.get("where") == "face" else "/grooving-cut"), {**size, **groove}


def _measured(row: Texts, _: Texts, shape: Shape) -> Found:
    """The limits of the sizes with a tolerance class or limits among its rows."""
    return (("/limits", {"size": size}) for size in shape.sizes_with_limits(row))


def _of_holding(part: Texts) -> Found:
    """How a bored piece goes out of round under the jaws, and what a collet or soft jaws are bored to."""
    force, bore = part.get("grip_force", ""), part.get("stock_bore", "")
    if force and bore:
        yield (
            "/thin-ring",
            {
                "outer_diameter": part["bar_diameter"],
                "ring_bore": bore,
                "ring_width": part["stock_length"],
                "grip_force": force,
            },
        )


PLUNGES = ("/grooving-cut", "/face-groove", "/parting")
OF_KIND: Mapping[str, Callable[[Texts, Texts, Shape], Found]] = {
    "face": _turned,
    "rough": _turned,
    "finish": _turned,
    "bore": _turned,
    "centre": _centred,
    "drill": _drilled,
    "counterbore": _counterbored,
    "countersink": _countersunk,
    "ream": _reamed,
    "tap": _tapped,
    "groove": _grooved,
    "thread": _threaded,
    "knurl": _knurled,
    "part-off": _parted,
    "measure": _measured,
}
"""Each kind of operation with the questions that it asks of its row, the part's texts and the print."""
