"""`POST /api/geometry/fit-curve`: a table of points, or a curve by its formula, as smoothly joined arcs and lines."""

from __future__ import annotations

from typing import Any

from calc.contour import Chain, Point
from calc.contour.arc_spline import MOST_POINTS, fit_curve
from calc.contour.sagged import ellipse, end_curve
from calc.contour.solving.given import LONGEST
from calc.contour.text import contour_text
from calc.language.quantities import LENGTH, RADIUS, RATIO, View, X, Z
from server.answers import elements_json, framed
from server.contour_json import BodyReader, given_or
from server.posting import Post

Json = dict[str, Any]
FIELDS = ("points", "curve", "tolerance")
KINDS = ("ellipse", "parabola", "asphere")
MOST_TERMS = 8


def answer(body: Json, view: View) -> Json:
    """The few arcs and lines that leave no point farther away than the tolerance.

    Raises `OutOfRange` with the body's field names.

    >>> found = answer({"points": [{"x": 20, "z": 0}, {"x": 20, "z": -5}], "tolerance": 0.01}, View())
    >>> found["elements"], found["results"]["largest_error"]
    ([{'kind': 'line', 'x1': 20.0, 'z1': 0.0, 'x2': 20.0, 'z2': -5.0}], {'value': 0.0, 'unit': 'mm'})
    """
    reader = BodyReader(view)
    reader.named(body, FIELDS, "")
    tolerance = reader.number(body.get("tolerance"), LENGTH, "tolerance")
    if tolerance is None:
        reader.fault("tolerance", "Enter the tolerance: how far the elements may leave the points.")
    points = _curve(body["curve"], reader) if body.get("curve") is not None else _points(body.get("points"), reader)
    reader.done()
    fitted = fit_curve(points, tolerance or 0.0)
    unit = LENGTH.unit(view)
    return {
        "inputs": {name: body.get(name) for name in FIELDS},
        "results": {
            "largest_error": {"value": unit.shown(fitted.largest_error) + 0.0, "unit": unit.code},
            "element_count": {"value": float(len(fitted.elements)), "unit": "1"},
        },
        "elements": elements_json(Chain(fitted.elements), view),
        "contour": contour_text(fitted.elements, view),
        "working": [],
        "cautions": [],
        **framed(view),
    }


def _points(value: Any, reader: BodyReader) -> list[Point]:
    if not isinstance(value, list) or not 2 <= len(value) <= MOST_POINTS:
        reader.fault("points", f"Give the points as a list of at least 2 and at most {MOST_POINTS}, each with x and z.")
        return []
    found = []
    for index, one in enumerate(value):
        spot = one if isinstance(one, dict) else {}
        r, z = (reader.number(spot.get(name), kind, f"points.{index}.{name}") for name, kind in (("x", X), ("z", Z)))
        if r is None or z is None:
            reader.fault(f"points.{index}", "A point needs its x and z.")
            break
        if not max(abs(r), abs(z)) <= LONGEST:
            name = "x" if abs(r) > LONGEST else "z"
            reader.fault(
                f"points.{index}.{name}", f"This is beyond what a part here can have: at most {LONGEST:.0f} mm."
            )
            break
        found.append(Point(float(z), float(r)))
    return found


def _curve(value: Any, reader: BodyReader) -> list[Point]:
    """The points of a curve by its formula, its apex on the axis at Z0."""
    if not isinstance(value, dict):
        reader.fault("curve", "A curve is an object with its kind and sizes.")
        return []
    kind = reader.one_of(value.get("kind"), KINDS, "curve.kind")
    names = {"semi_axis_x": RADIUS, "semi_axis_z": RADIUS, "radius": RADIUS, "to_x": X, "conic": RATIO}
    sizes = {name: reader.number(value.get(name), quantity, f"curve.{name}") for name, quantity in names.items()}
    needed = ("semi_axis_x", "semi_axis_z") if kind == "ellipse" else ("radius", "to_x")
    for name in needed:
        if sizes[name] is None:
            reader.fault(f"curve.{name}", "This is needed for the curve.")
    terms = given_or(value.get("terms"), [])
    if not isinstance(terms, list) or len(terms) > MOST_TERMS or not all(isinstance(t, (int, float)) for t in terms):
        reader.fault("curve.terms", f"The factors of r^4, r^6 ... are a list of at most {MOST_TERMS} numbers, per mm.")
    reader.done()
    given = {name: float(size) for name, size in sizes.items() if size is not None}
    if kind == "ellipse":
        radius, conic = ellipse(given["semi_axis_x"], given["semi_axis_z"])
        return end_curve(given.get("to_x", given["semi_axis_x"]), radius, conic, is_hollow=value.get("hollow") is True)
    conic = -1.0 if kind == "parabola" else given.get("conic", 0.0)
    terms = terms if kind == "asphere" else []
    return end_curve(given["to_x"], given["radius"], conic, terms, is_hollow=value.get("hollow") is True)


_NUMBER: Json = {"oneOf": [{"type": "number"}, {"type": "string"}]}
POST = Post(
    path="/api/geometry/fit-curve",
    title="Curve into arcs",
    summary="Points, or an ellipse, parabola or asphere, as few smoothly joined arcs and lines within a tolerance.",
    body={
        "points": {"type": "array", "items": {"type": "object", "properties": {"x": _NUMBER, "z": _NUMBER}}},
        "curve": {
            "type": "object",
            "description": "instead of points: kind ellipse (semi_axis_x, semi_axis_z), parabola (radius at the "
            "apex, to_x) or asphere (radius, conic, terms of r^4, r^6 ... in mm, to_x); hollow",
        },
        "tolerance": _NUMBER,
    },
    lists=("elements", "cautions"),
    answer=answer,
)
