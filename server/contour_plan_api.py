"""`POST /api/plan/contour`: the plan of a contour in JSON; the plan's other inputs are named as on its page."""

from __future__ import annotations

from typing import Any, cast

from calc.contour import Side
from calc.language.fields import specs
from calc.language.problems import OutOfRange
from calc.language.quantities import View
from calc.language.working import recording
from calc.questions.operations.contour_plan.feature import FEATURE, answer_of
from server.answers import answer_json
from server.contour_chain import chain_of
from server.contour_json import BodyReader, read_contour
from server.old_names import present_body
from server.posting import Post
from server.query import read_query

Json = dict[str, Any]
NOT_HERE = ("shape", "contour")


def answer(body: Json, view: View) -> Json:
    """The plan of a body's contour. Raises `Problem` with the body's field names.

    >>> contour = {"start": {"x": 30, "z": 0}, "elements": [{"kind": "line", "x": 30, "z": -10}]}
    >>> asked = {"contour": contour, "bar_diameter": 33, "nose_radius": 0.8, "pass_depth": 1, "feed": 0.2}
    >>> answer(asked, View())["results"]["gouged_most"]["value"]
    0.0
    """
    reader = BodyReader(view)
    names = [spec.name for spec in specs(FEATURE.inputs) if spec.name not in NOT_HERE]
    body = present_body(FEATURE.path, body)
    for name in body:
        if name not in names and name != "contour":
            reader.fault(name[:40], "There is no such name here.")
    start, elements = read_contour(body.get("contour"), reader, "contour.")
    reader.done()
    items = [(name, str(body[name])) for name in names if body.get(name) is not None]
    conventions = [("units", view.units), ("x", view.x), ("zplus", view.zplus)]
    query = read_query([*items, *conventions], FEATURE.inputs)
    if query.faults:
        raise OutOfRange(*query.faults)
    inputs = query.inputs(FEATURE.inputs)
    with recording() as steps:
        chain = chain_of(start, elements, "contour.")
        found = answer_of(inputs, chain, cast("Side", inputs.side or "right"), elements)
    return answer_json(FEATURE, query, found, steps)


POST = Post(
    path=f"/api/{FEATURE.path}",
    title="Plan of a contour in JSON",
    summary="The contour as start and elements in the direction of travel; all else named as for the GET.",
    body={"contour": {"type": "object"}, "nose_radius": {"type": "number"}, "bar_diameter": {"type": "number"}},
    lists=tuple(FEATURE.rows),
    answer=answer,
)
