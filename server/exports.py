"""Files of an answer: its points as CSV, its sketch as SVG, its contour as words."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any, NamedTuple

from starlette.responses import PlainTextResponse, Response

from calc.answer.drawing import Drawing
from calc.answer.feature import Answer, Feature, KeyPoint
from calc.contour import ContourError, Point
from calc.language.problems import Fault, Problem
from calc.language.quantities import LENGTH, RADIUS, View, X, Z
from calc.language.translating import Language
from calc.machining.contour_words import heading, runs_of, words_of
from calc.machining.words import Style
from server.old_names import present
from server.query import Query, read_query
from server.sketch import draw
from server.tables import G_WORDS, rows_table

UNPROCESSABLE, NOT_FOUND = 422, 404
SKETCH = "sketch.svg"
OPTIONS = ("arcs", "decimals")
MOST_DECIMALS = 6


class Asked(NamedTuple):
    """What a file is made from."""

    feature: Feature[Any, Any]
    answer: Answer[Any]
    view: View
    options: dict[str, str]


class Refused(ValueError):
    """An option of a file that cannot be meant."""


class Exports:
    """The files that belong to a feature's page."""

    def __init__(self, static: Path) -> None:
        self.static = static
        self.makers: dict[str, tuple[str, Callable[[Asked], str]]] = {
            "points.csv": ("text/csv; charset=utf-8", points_csv),
            "tables.csv": ("text/csv; charset=utf-8", tables_csv),
            SKETCH: ("image/svg+xml", self.sketch_svg),
            "words.txt": ("text/plain; charset=utf-8", words_txt),
        }

    def answer(
        self, feature: Feature[Any, Any], name: str, items: Sequence[tuple[str, str]], language: Language = "en"
    ) -> Response:
        """One file for the question in the query's items; 422 in plain words where it has no answer.

        A sketch is in the reader's language; tables and words are for programs, which read points and one language.
        """
        options = {key: text for key, text in items if key in OPTIONS}
        query = read_query(
            present(feature.path, [(key, text) for key, text in items if key not in OPTIONS]),
            feature.inputs,
            language if name == SKETCH else "en",
        )
        try:
            asked = Asked(feature, _answered(feature, query), query.view, options)
            kind, make = self.makers[name]
            body = make(asked)
        except Problem as problem:
            return PlainTextResponse("\n".join(_said(problem.faults, query.view)) + "\n", UNPROCESSABLE)
        except Refused as error:
            return PlainTextResponse(f"{error}\n", UNPROCESSABLE)
        named = f"{feature.page.strip('/').replace('/', '-')}-{name}"
        headers = {"Content-Disposition": f'attachment; filename="{named}"', "Cache-Control": "no-cache"}
        return Response(body, media_type=kind, headers=headers)

    def sketch_svg(self, asked: Asked) -> str:
        """The sketch as a file that needs nothing else: with its styles and a white ground."""
        drawing: Drawing | None = asked.answer.drawn()
        if drawing is None:
            raise Refused("There is no sketch of this.")
        page = (self.static / "page.css").read_text("utf-8")
        colours = dict(re.findall(r"(--[a-z-]+): (#[0-9A-Fa-f]+)", page[: page.index("@media")]))
        rules = re.findall(r"^\.sketch[^-{].*$|^\.sketch\{.*$", (self.static / "sketch.css").read_text("utf-8"), re.M)
        style = re.sub(r"var\((--[a-z-]+)\)", lambda match: colours[match[1]], "\n".join(rules))
        svg = draw(drawing, asked.view)
        ground = f'<style>{style}</style><rect width="100%" height="100%" fill="{colours["--card"]}"/>'
        return svg.replace("</desc>", f"</desc>{ground}", 1)


def _answered(feature: Feature[Any, Any], query: Query) -> Answer[Any]:
    if query.faults:
        raise Problem(*query.faults)
    return feature.answer(query.inputs(feature.inputs))[0]


def _said(faults: Sequence[Fault], view: View) -> list[str]:
    return [fault.message.say(view) for fault in faults]


def points_csv(asked: Asked) -> str:
    """The points as a table with heads: absolute, as steps, arcs with their centre both ways."""
    if not asked.answer.points:
        raise Refused("There are no points to this.")
    view, unit = asked.view, LENGTH.unit(asked.view).code
    x = "diameter" if view.x == "diameter" else "radius"
    z = "+Z out" if view.zplus == "out" else "+Z in"
    heads = [
        "point", f"X ({x}) {unit}", f"Z ({z}) {unit}", f"step X ({x}) {unit}", f"step Z ({z}) {unit}",
        "move (ISO axes)", f"R {unit}", f"centre X ({x}) {unit}", f"centre Z ({z}) {unit}", f"I (radius) {unit}",
        f"K (+Z out) {unit}",
    ]  # fmt: skip
    written = io.StringIO()
    table = csv.writer(written)
    table.writerow(heads)
    before: Point | None = None
    for number, point in enumerate(asked.answer.points, 1):
        table.writerow(_cells(f"P{number} {point.label}", point, before, view))
        before = point.spot
    return written.getvalue()


def tables_csv(asked: Asked) -> str:
    """Every list of the answer under its caption, with heads and units, a blank line between two."""
    written = io.StringIO()
    table = csv.writer(written)
    found = [(rows, key, asked.answer.tables.get(key, ())) for key, rows in asked.feature.rows.items()]
    shown = [rows_table(key, rows, each, asked.view) for rows, key, each in found if each]
    if not shown:
        raise Refused("There are no tables to this.")
    for number, view in enumerate(shown):
        if number:
            table.writerow([])
        table.writerows([[view.caption], view.heads, *view.rows])
    return written.getvalue()


def _cells(label: str, point: KeyPoint, before: Point | None, view: View) -> list[str]:
    spot = point.spot
    cells = [label, X.text(spot.r, view), Z.text(spot.z, view)]
    if before is None or not point.move:
        return [*cells, "", "", G_WORDS[point.move], "", "", "", "", ""]
    step = before.to(spot)
    cells += [X.text(step.r, view), Z.text(step.z, view), G_WORDS[point.move]]
    if point.centre is None or point.radius is None:
        return [*cells, "", "", "", "", ""]
    centre, offset = point.centre, before.to(point.centre)
    arc = [RADIUS.text(point.radius, view), X.text(centre.r, view), Z.text(centre.z, view)]
    return [*cells, *arc, LENGTH.text(offset.r, view), LENGTH.text(offset.z, view)]


def words_txt(asked: Asked) -> str:
    """The contour as words, under a heading that says what they are."""
    style = _style(asked)
    try:
        runs = runs_of(asked.answer.points)
    except ContourError as error:
        raise Refused(f"These points are no contour to be written as words: {error}") from error
    if not runs:
        raise Refused("There is no contour to this.")
    return "\n".join([*heading(style), *words_of(runs, style)]) + "\n"


def _style(asked: Asked) -> Style:
    arcs = asked.options.get("arcs", "radius")
    given = asked.options.get("decimals", "")
    if arcs not in ("radius", "centre"):
        raise Refused("arcs is either radius or centre.")
    if given and not (given.isdecimal() and 1 <= int(given) <= MOST_DECIMALS):
        raise Refused(f"decimals is a whole number from 1 to {MOST_DECIMALS}.")
    return Style(asked.view, "centre" if arcs == "centre" else "radius", int(given) if given else None)
