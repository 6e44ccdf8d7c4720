"""`POST /api/geometry/contour`: a contour in JSON, its blanks solved."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from calc.contour import Chain, Side
from calc.contour.solving import Solution, UnderGiven, solve
from calc.contour.solving.given import NAMES
from calc.cutting.materials import material
from calc.language.messages import worst_first
from calc.language.problems import Problem
from calc.language.quantities import DIAMETER, View
from calc.questions.shapes.contour import FEATURE, Beside, described
from server.answers import elements_json, framed, point_json, results_json
from server.contour_json import BodyReader, GivenElements, read_contour
from server.posting import Post

Json = dict[str, Any]
FIELDS = ("start", "elements", "side", "bar_diameter", "material")


def answer(body: Json, view: View) -> Json:
    """Every contour with the body's dimensions, the likeliest first; results and points are of that one.

    Raises `Problem` with the body's field names, `UnderGiven` where dimensions are missing.

    >>> line = {"start": {"x": 20, "z": 0}, "elements": [{"kind": "line", "x": 20, "z": -5}]}
    >>> found = answer(line, View())
    >>> found["solutions"][0]["elements"][0]["x2"], found["more"], found["results"]["length"]
    (20.0, False, {'value': 5.0, 'unit': 'mm'})
    """
    reader = BodyReader(view)
    reader.named(body, FIELDS, "")
    beside = _beside(body, reader)
    start, elements = read_contour(body, reader)
    reader.done()
    try:
        found = solve(start, elements, habits=beside.habits)
    except UnderGiven as problem:
        problem.would_do = tuple(dict.fromkeys(map(elements.field, problem.would_do)))
        raise problem.renamed(elements.field) from None
    except Problem as problem:
        raise problem.renamed(elements.field) from None
    likeliest = described(found, 0, start, elements, beside)
    return {
        "inputs": {name: body.get(name) for name in FIELDS},
        "solutions": [_solution(solution, elements, view) for solution in found.solutions],
        "more": found.more,
        "complete": found.complete,
        "results": results_json(likeliest.results, view),
        "points": [point_json(point, view) for point in likeliest.points],
        "working": [],
        "cautions": [caution.message.say(view) for caution in worst_first(likeliest.cautions)],
        "notes": [note.say(view) for note in likeliest.notes],
        **framed(view),
    }


def refused(problem: Problem, _: View) -> Json:
    """What a refusal says beside its errors: `missing` lists each dimension of which one more would do."""
    if not isinstance(problem, UnderGiven):
        return {}
    return {"missing": [_missing(field) for field in problem.would_do], "missing_count": problem.count}


SIDES: tuple[Side, ...] = ("right", "left")


def _missing(field: str) -> Json:
    where, _, dimension = field.rpartition(".")
    number = where.partition(".")[2]
    return {"field": field, "element": int(number) if number else None, "dimension": dimension}


def _beside(body: Json, reader: BodyReader) -> Beside:
    side = reader.one_of(body.get("side"), SIDES, "side") or "right"
    name = reader.word(body.get("material"), "material")
    if name:
        reader.check(material, name)
    bar = reader.number(body.get("bar_diameter"), DIAMETER, "bar_diameter")
    if bar is not None and not bar > 0.0:
        reader.fault("bar_diameter", "The bar diameter must be more than 0.")
    return Beside(side=side, bar_diameter=bar, material=name)


def _solution(solution: Solution, given: GivenElements, view: View) -> Json:
    return {
        "label": solution.label.say(view),
        "elements": list(_elements(solution, given, view)),
        "crosses_itself": bool(solution.crossings),
    }


def _elements(solution: Solution, given: GivenElements, view: View) -> Iterator[Json]:
    """Full elements; `of` is the index of the element that each came from, a corner bears that of the one it ends.

    `groove` says that it is of a groove, of which the three elements and their corners have the same `of`.
    """
    shown = elements_json(Chain(solution.contour), view)
    for solved, element in zip(solution.elements, shown, strict=True):
        place = given.places[solved.of]
        grooved = given.places.count(place) > 1
        yield {**element, "of": place, "corner": solved.is_corner, "groove": grooved}


_NUMBER: Json = {"oneOf": [{"type": "number"}, {"type": "string"}], "nullable": True}
_CORNER: Json = {
    "type": "object",
    "nullable": True,
    "properties": {
        "kind": {"type": "string", "enum": ["chamfer", "radius", "undercut", "relief"]},
        "size": {**_NUMBER, "description": "the radius, or a chamfer's leg"},
        "designation": {"type": "string", "description": "of an undercut, F 0.8x0.3; of a relief, A M24x2-6g"},
        "angle": {**_NUMBER, "description": "of a chamfer as the print has it: 1x45°"},
        "along": {"type": "string", "enum": ["z", "element"], "description": "what its size is measured along"},
    },
}
_ELEMENT: Json = {
    "type": "object",
    "required": ["kind"],
    "properties": {
        "kind": {"type": "string", "enum": ["line", "arc", "groove"]},
        "width": {**_NUMBER, "description": "of a groove, toward the chuck"},
        "depth": {**_NUMBER, "description": "of a groove; or its bottom's x"},
        "designation": {"type": "string", "description": "of a groove: DIN 471, DIN 472 40, O-ring 2.65 in 42 H8"},
        "outward": {"type": "boolean", "description": "of a groove: away from the axis"},
        **{name.field: {**_NUMBER, "description": name.words} for name in NAMES.values()},
        "turn": {"type": "string", "enum": ["cw", "ccw"], "nullable": True},
        "tangent": {"type": "boolean", "description": "joins the element before smoothly"},
        "corner": {**_CORNER, "description": "at its end"},
    },
}
POST = Post(
    path=f"/api/{FEATURE.path}",
    title="Contour in JSON",
    summary="A contour whose blanks are null: every solution, the likeliest first; 422 with `missing` if under-given.",
    body={
        "start": {"type": "object", "properties": {"x": _NUMBER, "z": _NUMBER}},
        "elements": {"type": "array", "items": _ELEMENT},
        "side": {"type": "string", "enum": ["right", "left"], "default": "right"},
        "bar_diameter": _NUMBER,
        "material": {"type": "string", "nullable": True},
    },
    lists=("solutions", "points", "cautions", "notes"),
    answer=answer,
    refused=refused,
)
