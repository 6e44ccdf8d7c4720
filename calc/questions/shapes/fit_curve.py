"""A curve by points or by its formula, as few smoothly joined arcs and lines, ready to be rows of a contour."""

from __future__ import annotations

import math
import re
from functools import partial
from typing import Literal

from calc.answer.feature import Answer, Feature, Rows
from calc.contour import Arc, Chain, Point
from calc.contour.arc_spline import Fitted, fit_curve
from calc.contour.sagged import ellipse, end_curve
from calc.contour.solving import Solved
from calc.contour.solving.given import LONGEST
from calc.language.checks import require
from calc.language.fields import Declared, choice, given, needed, part, points, result, word
from calc.language.kinds import ESTIMATED_LENGTH
from calc.language.messages import Message, Phrase, Quantity, Typed
from calc.language.problems import Fault, Missing, OutOfRange, Problem
from calc.language.quantities import COUNT, LENGTH, RADIUS, RATIO, X
from calc.questions.shapes.contour_side import can_be_drawn, drawing, smallest_concave_radius
from calc.questions.shapes.contour_tables import ArcRow, ElementRow, arc_row, element_row
from calc.shapes.listing import both_ways, key_points

CurveSource = Literal["points", "ellipse", "parabola", "asphere"]
SOURCES: dict[CurveSource, str] = {
    "points": "a table of points",
    "ellipse": "an ellipse",
    "parabola": "a parabola",
    "asphere": "an asphere",
}
MOST_TERMS = 8
SEPARATORS = re.compile(r";|,(?=\s|$)")
"""What stands between two factors besides a space; a comma before a digit is none."""


class FormulaInputs(Declared):
    """An end of a part by its formula (mm, radius), its apex on the axis at Z0."""

    semi_axis_x: float | None = given(RADIUS, "Half axis across", "a", above=0.0, hint="of an ellipse, a radius")
    semi_axis_z: float | None = given(RADIUS, "Half axis along Z", "b", above=0.0, hint="of an ellipse")
    radius: float | None = given(RADIUS, "Radius at the apex", "R", above=0.0, hint="of a parabola or an asphere")
    to_x: float | None = given(X, "X to reach", above=0.0, blank="an ellipse to its widest")
    conic: float = given(RATIO, "Conic constant", "κ", hint="0 a sphere, -1 a parabola", blank="0", default=0.0)
    terms: str | None = word(
        "Factors of r⁴, r⁶ …", hint="in mm, separated by spaces: 1.2e-6 -3e-9", blank="none", written="numbers"
    )
    form: Literal["domed", "hollow"] = choice("It is", {"domed": "domed", "hollow": "hollow"}, "domed")


class FitInputs(Declared):
    """Where the points come from, and how far the elements may leave them (mm)."""

    source: CurveSource = choice("Curve", SOURCES, "points")
    tolerance: float = needed(LENGTH, "Tolerance", above=0.0, most=10.0, hint="how far any point may lie beside it")
    points: tuple[Point, ...] = points("Points", hint="one point a line, X then Z: 20 -5; about 1000 at most")
    formula: FormulaInputs = part(FormulaInputs, "Curve by its formula")


class FitResults(Declared):
    """What the points became."""

    element_count: float = result(COUNT, "Arcs and lines")
    largest_error: float = result(ESTIMATED_LENGTH, "Largest error", hint="of any point, square to the elements")
    point_count: float = result(COUNT, "Points fitted")
    smallest_concave_radius: float | None = result(
        RADIUS, "Smallest inside radius", hint="tool on the right; the nose must be smaller"
    )
    length: float = result(LENGTH, "Length of the curve")


def solve(inputs: FitInputs) -> Answer[FitResults]:
    """The few arcs and lines. Raises `Missing` and `OutOfRange` where the curve is not given, or cannot be.

    >>> line = (Point(0.0, 10.0), Point(-5.0, 10.0), Point(-9.0, 10.0))
    >>> solve(FitInputs(points=line, tolerance=0.01)).results.element_count
    1.0
    """
    require(inputs)
    spots = inputs.points if inputs.source == "points" else _by_formula(inputs.source, inputs.formula)
    if len(spots) < 2:
        text = "Type or paste the points, one a line: X, a space, Z. A curve has at least two."
        raise Missing(Fault("points", Message(text)))
    fitted = fit_curve(spots, inputs.tolerance)
    chain = Chain(fitted.elements)
    solved = [Solved(element, index) for index, element in enumerate(chain)]
    return Answer(
        results=_results(fitted, chain, len(spots)),
        headline="element_count",
        points=key_points(
            chain, ["start", *(Phrase("end of {number}", number=number) for number in range(1, len(chain) + 1))]
        ),
        points_note=both_ways("the first point", "the last", side="right"),
        contour=chain,
        notes=(Message(_JOINED),),
        tables={
            "dimensions": tuple(map(element_row, solved)),
            "arcs": tuple(arc_row(each, each.element) for each in solved if isinstance(each.element, Arc)),
        },
        drawing=partial(drawing, chain, "right", None) if can_be_drawn(chain) else None,
    )


def _results(fitted: Fitted, chain: Chain, count: int) -> FitResults:
    return FitResults(
        element_count=float(len(chain)),
        largest_error=fitted.largest_error,
        point_count=float(count),
        smallest_concave_radius=smallest_concave_radius(chain, "right"),
        length=chain.length,
    )


def _by_formula(source: str, of: FormulaInputs) -> list[Point]:
    try:
        if source == "ellipse":
            across, along = _needed(of, "semi_axis_x", "semi_axis_z")
            to_x = across if of.to_x is None else of.to_x
            return end_curve(to_x, *ellipse(across, along), is_hollow=of.form == "hollow")
        radius, to_x = _needed(of, "radius", "to_x")
        conic, terms = (-1.0, []) if source == "parabola" else (of.conic, _terms(of.terms))
        spots = end_curve(to_x, radius, conic, terms, is_hollow=of.form == "hollow")
    except Problem as problem:
        raise problem.renamed(lambda name: name.removeprefix("curve.")) from problem
    deepest = max(abs(spot.z) for spot in spots)
    if not deepest <= LONGEST:
        text = "With these factors the curve falls {deep} along Z out to that X: check the powers of ten."
        raise OutOfRange(Fault("terms", Message(text, {"deep": Quantity(deepest, LENGTH, brief=True)})))
    return spots


def _needed(of: FormulaInputs, first: str, second: str) -> tuple[float, float]:
    """Two sizes that a curve cannot do without. Raises `Missing` for those that are blank."""
    sizes = {name: getattr(of, name) for name in (first, second)}
    lacking = [Fault(name, Message("The curve needs this.")) for name, size in sizes.items() if size is None]
    if lacking:
        raise Missing(*lacking)
    return sizes[first], sizes[second]


def _terms(text: str | None) -> list[float]:
    """The factors, per mm to the third, fifth and so on. Raises `OutOfRange` for a comma that can mean two things."""
    typed = SEPARATORS.sub(" ", text or "")
    if "," in typed:
        said = "A comma within “{typed}” can be a decimal mark or stand between two factors: type a point or a space."
        raise OutOfRange(Fault("terms", Message(said, {"typed": Typed(typed[:40])})))
    try:
        found = [float(each) for each in typed.split()]
    except ValueError:
        found = [math.nan]
    if len(found) > MOST_TERMS or not all(map(math.isfinite, found)):
        values = {"most": MOST_TERMS}
        text = "These are numbers separated by spaces, at most {most}: 1.2e-6 -3e-9."
        raise OutOfRange(Fault("terms", Message(text, {**values})))
    return found


_JOINED = (
    "The first and the last point are kept; the elements join smoothly except where the points turn a sharp corner. "
    "The error is that at the points given: where they stand far apart, nothing is known between them."
)

FEATURE = Feature(
    path="geometry/fit-curve",
    page="/fit-curve",
    title="Curve into arcs",
    summary="A table of points, an ellipse, a parabola or an asphere as few smoothly joined arcs and lines.",
    solve=solve,
    leads_to={
        "/contour": "These elements as rows of a contour",
        "/nose": "The nose on this contour",
        "/reach-contour": "Does a tool reach?",
    },
    rows={
        "dimensions": Rows(ElementRow, "Every element", "Elements"),
        "arcs": Rows(ArcRow, "Every arc", "Elements"),
    },
    supporting=("largest_error", "point_count", "smallest_concave_radius", "length"),
    example={"source": "ellipse", "tolerance": "0.01", "semi_axis_x": "15", "semi_axis_z": "10"},
)
