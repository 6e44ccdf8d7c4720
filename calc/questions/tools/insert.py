"""The insert as a question: what its designation says, in words and numbers, and its outline."""

from __future__ import annotations

from collections.abc import Iterator

from calc.answer.feature import Answer, Feature, Rows
from calc.cutting import nouns
from calc.language.checks import require
from calc.language.fields import Declared, result, word
from calc.language.messages import Message, Phrase
from calc.language.quantities import ANGLE, DIAMETER, LENGTH, RADIUS
from calc.tool.insert import Insert, NoseAs, Position, read_insert
from calc.tool.insert.formulas import nose_height, nose_height_odd, round_nose
from calc.tool.insert.sketch import insert_drawing


class InsertInputs(Declared):
    """The designation on the box."""

    designation: str = nouns.INSERT.needed(hint="ISO 1832, such as CNMG 120408, or the inch form, CNMG 432")
    nose_as: NoseAs = nouns.NOSE_AS.chosen(
        hint="inserts of the inch series are a little smaller than their metric code"
    )


class InsertResults(Declared):
    """What the designation gives (mm, rad); None for what it leaves open."""

    shape: str = word("Shape")
    included_angle: float | None = result(ANGLE, "Included angle", "ε")
    clearance: float | None = result(ANGLE, "Clearance", "α")
    size: float | None = result(DIAMETER, "Inscribed circle", "d")
    edge_length: float | None = result(LENGTH, "Edge length, between sharp corners", "l")
    thickness: float | None = result(LENGTH, "Thickness", "s")
    nose_radius: float | None = result(RADIUS, "Nose radius", "r")
    nose_radius_nominal: float | None = result(RADIUS, "Nose radius as named")
    nose_radius_exact: float | None = result(RADIUS, "Nose radius of the inch series")
    nose_height: float | None = result(
        LENGTH, "Nose height", "m", hint="from the inscribed circle; of triangles and pentagons from the opposite edge"
    )
    size_tolerance: float | None = result(LENGTH, "Inscribed circle, ±")
    thickness_tolerance: float | None = result(LENGTH, "Thickness, ±")
    nose_height_tolerance: float | None = result(LENGTH, "Nose height, ±", hint="how far a new edge stands elsewhere")
    form: str = word("Form of the designation")


FORMS = {"metric": "metric, ISO 1832", "inch": "inch, ANSI B212.4"}


def solve(inputs: InsertInputs) -> Answer[InsertResults]:
    """What the designation says. Raises Missing for a blank one, OutOfRange where a position is wrong.

    >>> found = solve(InsertInputs(designation="CNMG 432")).results
    >>> found.shape, found.size, found.nose_radius
    ('C: rhombus, 80°', 12.7, 0.79375)
    """
    require(inputs)
    insert = read_insert(inputs.designation)
    nose = insert.nose_radius(inputs.nose_as)
    results = _results(insert, nose)
    told = ("nose_radius", "size", "included_angle", "shape")
    return Answer(
        results=results,
        headline=next(name for name in told if getattr(results, name) is not None),
        notes=(*insert.notes, *_differs(insert)),
        tables={"positions": insert.positions},
        drawing=insert_drawing(insert, nose),
    )


def _results(insert: Insert, nose: float | None) -> InsertResults:
    tolerance = insert.tolerance
    return InsertResults(
        shape=Phrase("{letter}: {words}", letter=insert.shape.letter, words=insert.shape.words),
        included_angle=insert.angle,
        clearance=None if insert.clearance is None else insert.clearance.angle,
        size=insert.size,
        edge_length=insert.edge_length,
        thickness=insert.thickness,
        nose_radius=nose,
        nose_radius_nominal=insert.nose,
        nose_radius_exact=insert.exact_nose,
        nose_height=_nose_height(insert, nose),
        size_tolerance=None if tolerance is None else tolerance.size,
        thickness_tolerance=None if tolerance is None else tolerance.thickness,
        nose_height_tolerance=None if tolerance is None else tolerance.nose_height,
        form=FORMS[insert.form],
    )


def _nose_height(insert: Insert, nose: float | None) -> float | None:
    """None for round inserts, whose radius alone is a step of the working."""
    if insert.size is None or nose is None:
        return None
    if insert.angle is None:
        round_nose(insert.size)
        return None
    rule = nose_height_odd if insert.shape.corners % 2 else nose_height
    return rule(insert.size, nose, insert.angle)


def _differs(insert: Insert) -> Iterator[Message]:
    if insert.nose and insert.exact_nose and insert.nose != insert.exact_nose:
        yield Message(
            "Inserts of this series have their noses in sixty-fourths of an inch: as named and exact differ by less "
            "than 1 %, which matters for finish and for touched-off points, and is yours to choose."
        )


FEATURE = Feature(
    path="nose-radius/insert",
    page="/insert",
    title="Insert",
    summary="What each letter and number on the insert's box means, its outline, and the nose radius to work with.",
    solve=solve,
    rows={"positions": Rows(Position, "Position by position", "Position by position")},
    supporting=("shape", "clearance", "size", "edge_length", "thickness"),
    example={"designation": "DCMT 11T304"},
)
