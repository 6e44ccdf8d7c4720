"""The shoulder as a feature: the question, its results, its points and its sketch."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from math import degrees

from calc.answer.drawing import Detail, Dimension, Drawing
from calc.answer.feature import Answer, Feature
from calc.contour import Arc, Chain, Line, Point
from calc.language.fields import Declared, result, word
from calc.language.messages import Caution, Message, Phrase, Value
from calc.language.quantities import ANGLE, DIAMETER, LENGTH, RADIUS, Z
from calc.shapes.listing import both_ways, key_points
from calc.shapes.shoulder.geometry import ON_CYLINDER, ON_FACE, Shoulder, ShoulderInputs, solve_shoulder

UNDERCUT = "undercut"


class ShoulderResults(Declared):
    """An undercut complete; heights and depths on the face belong to all but form E."""

    designation: str = word("Designation")
    undercut_diameter: float = result(DIAMETER, "Bottom of the undercut", "d_u")
    radius: float = result(RADIUS, "Radius", "r", hint="the largest nose that fits")
    depth: float = result(LENGTH, "Depth in the cylinder", "t1")
    width: float = result(LENGTH, "Width on the cylinder", "f", hint="from the finished shoulder")
    face_depth: float | None = result(LENGTH, "Depth in the face", "t2")
    face_height: float | None = result(LENGTH, "Height on the face", "g", hint="from the undercut's bottom")
    start_z: float = result(Z, "Undercut begins on the cylinder, Z")
    face_diameter: float = result(DIAMETER, "Undercut ends on the face")
    wider: float | None = result(LENGTH, "Begins earlier for the allowance", "e1")
    higher: float | None = result(LENGTH, "Ends higher for the allowance", "e2")


def solve(inputs: ShoulderInputs) -> Answer[ShoulderResults]:
    """The shoulder with its undercut and every point. Raises `Problem` where no undercut fits."""
    shoulder = solve_shoulder(inputs)
    cut = shoulder.cut
    labels = ["undercut begins on the cylinder", "bottom begins", "radius begins"]
    labels += ["radius ends", "undercut ends on the face"] if shoulder.form in ON_FACE else ["radius ends on the face"]
    return Answer(
        results=_results(shoulder, inputs.undercut.allowance),
        headline="undercut_diameter",
        points=key_points(cut, labels),
        points_note=both_ways("the cylinder", "the shoulder", side="right"),
        contour=cut,
        cautions=(_reach(shoulder),),
        notes=(_source(shoulder),),
        drawing=partial(shoulder_drawing, shoulder),
    )


def _results(shoulder: Shoulder, allowance: float) -> ShoulderResults:
    undercut, has_face = shoulder.undercut, shoulder.form in ON_FACE
    return ShoulderResults(
        designation=f"DIN 509 - {shoulder.form} {undercut.size}",
        undercut_diameter=shoulder.bottom,
        radius=undercut.radius,
        depth=undercut.depth,
        width=undercut.width,
        face_depth=undercut.face_depth if has_face else None,
        face_height=shoulder.face_height,
        start_z=shoulder.cut.start.z,
        face_diameter=2 * shoulder.cut.end.r,
        wider=shoulder.on_cylinder if allowance else None,
        higher=shoulder.on_face if allowance and has_face else None,
    )


def _source(shoulder: Shoulder) -> Message:
    values: dict[str, Value] = {"source": shoulder.undercut.source, "form": shoulder.form}
    values["face"] = f"{degrees(ON_FACE.get(shoulder.form, 0.0)):.0f}°"
    text = (
        "Sizes after {source}, run-outs of 15° on the cylinder and {face} on the face from memory; ISO 18388 calls it "
        "a relief groove of type {form}."
    )
    if shoulder.form not in ON_FACE:
        text = (
            "Sizes after {source}, run-out of 15° on the cylinder from memory; ISO 18388 calls it a relief groove of "
            "type {form}."
        )
    return Message(text, values)


def _reach(shoulder: Shoulder) -> Caution:
    side: str = f"{degrees(ON_CYLINDER):.0f}°"
    if shoulder.form in ON_FACE:
        face = f"{degrees(ON_FACE[shoulder.form]):.0f}°"
        side = Phrase("{cylinder} on the cylinder and {face} on the face", cylinder=side, face=face)
    values: dict[str, Value] = {"side": side}
    text = (
        "Toward the shoulder the contour falls by {side}: an insert whose free flanks are not steeper, or whose nose "
        "is larger than the radius, leaves the undercut short. Check insert and approach angle."
    )
    return Caution(Message(text, values), 1, "radius")


def shoulder_drawing(shoulder: Shoulder) -> Drawing:
    """The drawing of a shoulder on its part, with the undercut enlarged."""
    cut, undercut = shoulder.cut, shoulder.undercut
    outer = (shoulder.shoulder_diameter or 2.6 * cut.end.r) / 2
    end = Point(shoulder.end_z, cut.start.r)
    part = Chain(
        (
            Line(Point(cut.end.z, outer), cut.end),
            *cut.reversed(),
            Line(cut.start, end),
            Line(end, Point(end.z, 0.0)),
        )
    )
    middle = Point((cut.start.z + cut.end.z) / 2, (cut.start.r + cut.end.r) / 2)
    points = [cut.start, *(element.end for element in cut)]
    return Drawing(
        title="The shoulder with its undercut",
        description="Section with the axis across the page, the chuck at the left and the free end at the right.",
        part=part,
        bar_radius=outer,
        dimensions=tuple(_dimensions(shoulder, end, outer)),
        spots=tuple((f"P{number}", point) for number, point in enumerate(points, 1)),
        details=(Detail(middle, 2.2 * undercut.width, UNDERCUT),),
    )


def _dimensions(shoulder: Shoulder, end: Point, outer: float) -> Iterator[Dimension]:
    cut, size = shoulder.cut, shoulder.undercut
    nominal = end if cut.start.r == shoulder.diameter / 2 else Point(end.z, shoulder.diameter / 2)
    yield Dimension("diameter", nominal, nominal.mirrored(), shoulder.diameter, DIAMETER, "diameter", "d")
    if shoulder.shoulder_diameter:
        corner = Point(cut.end.z, outer)
        yield Dimension("diameter", corner, corner.mirrored(), 2 * outer, DIAMETER, "shoulder_diameter", "D")
    if shoulder.face_z:
        corner = Point(shoulder.face_z, outer)
        yield Dimension("length", corner, end, -shoulder.face_z, LENGTH, "end_to_shoulder", "L")
    arc = next(element for element in cut if isinstance(element, Arc))
    middle = arc.point_at(arc.length / 2)
    yield Dimension("radius", middle, arc.centre, arc.radius, RADIUS, "radius", "r", detail=UNDERCUT)
    face = Point(shoulder.face_z, cut.end.r)
    start = Point(shoulder.face_z + size.width, shoulder.diameter / 2)
    yield Dimension("length", face, start, size.width, LENGTH, "width", "f", detail=UNDERCUT)
    bottom = cut.elements[1].start
    yield Dimension(
        "diameter", bottom, bottom.mirrored(), shoulder.bottom, DIAMETER, "undercut_diameter", "d_u", detail=UNDERCUT
    )
    level = bottom.shifted(1.0, 0.0)
    yield Dimension("angle", level, cut.start, ON_CYLINDER, ANGLE, "", "15°", vertex=bottom, detail=UNDERCUT)


def _blank() -> Drawing:
    drawing = shoulder_drawing(
        solve_shoulder(ShoulderInputs(diameter=20.0, shoulder_diameter=30.0, end_to_shoulder=24.0))
    )
    return replace(drawing.with_symbols_only(), details=())


FEATURE = Feature(
    path="geometry/shoulder",
    page="/shoulder",
    title="Shoulder",
    summary="The undercut of a shoulder after DIN 509, form E to H by the diameter: every point, ready for grinding.",
    solve=solve,
    supporting=("designation", "radius", "start_z", "face_diameter"),
    blank=_blank(),
    example={"diameter": "24 -0.007/-0.020", "shoulder_diameter": "31", "end_to_shoulder": "60", "undercut_form": "F"},
)
