"""Moving the work zero: everything of an answer that is a Z, a point or a drawing, shifted along the axis."""

from __future__ import annotations

import dataclasses
from functools import partial
from typing import Any

from calc.answer.drawing import Drawing
from calc.answer.feature import Answer, KeyPoint
from calc.language.messages import Message
from calc.questions.operations.dish_plan.inputs import WorkInputs


def zero_notes(work: WorkInputs) -> tuple[Message, ...]:
    """A note where Z zero shall be on a raw face that nothing sets apart from the finished one."""
    if work.z_zero != "raw" or work.face_stock:
        return ()
    return (Message("Z zero is wanted on the raw face, but no stock on the face is given: it is taken as finished."),)


def with_zero_moved(answer: Answer[Any], dz: float) -> Answer[Any]:
    """The answer with `dz` (mm) added to every Z in results, points, lists, contour and drawing."""
    if not dz:
        return answer
    return dataclasses.replace(
        answer,
        results=_declared(answer.results, dz),
        points=tuple(_point(point, dz) for point in answer.points),
        tables={name: tuple(_declared(row, dz) for row in rows) for name, rows in answer.tables.items()},
        contour=answer.contour and answer.contour.shifted(dz, 0.0),
        drawing=answer.drawing and partial(_drawing, answer, dz),
    )


def _declared(instance: Any, dz: float) -> Any:
    changed: dict[str, Any] = {}
    for item in dataclasses.fields(instance):
        value = getattr(instance, item.name)
        spec = item.metadata.get("spec")
        if "part" in item.metadata:
            changed[item.name] = _declared(value, dz)
        elif spec is not None and spec.kind is not None and spec.kind.role == "z" and value is not None:
            changed[item.name] = value + dz
    return dataclasses.replace(instance, **changed)


def _point(point: KeyPoint, dz: float) -> KeyPoint:
    centre = point.centre and point.centre.shifted(dz, 0.0)
    return dataclasses.replace(point, spot=point.spot.shifted(dz, 0.0), centre=centre)


def _drawing(answer: Answer[Any], dz: float) -> Drawing:
    drawing = answer.drawn()
    if drawing is None:
        raise ValueError("the answer has no drawing to move")
    return dataclasses.replace(
        drawing,
        part=drawing.part.shifted(dz, 0.0),
        stock_face=None if drawing.stock_face is None else drawing.stock_face + dz,
        dimensions=tuple(
            dataclasses.replace(
                each,
                a=each.a.shifted(dz, 0.0),
                b=each.b.shifted(dz, 0.0),
                vertex=each.vertex and each.vertex.shifted(dz, 0.0),
            )
            for each in drawing.dimensions
        ),
        paths=tuple(dataclasses.replace(each, chain=each.chain.shifted(dz, 0.0)) for each in drawing.paths),
        noses=tuple(
            dataclasses.replace(each, centre=each.centre.shifted(dz, 0.0), tool_point=each.tool_point.shifted(dz, 0.0))
            for each in drawing.noses
        ),
        spots=tuple((name, spot.shifted(dz, 0.0)) for name, spot in drawing.spots),
        details=tuple(dataclasses.replace(each, spot=each.spot.shifted(dz, 0.0)) for each in drawing.details),
    )
