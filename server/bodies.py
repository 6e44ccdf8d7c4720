"""A question asked by a JSON body, by the declaration of its page: lists are arrays, contours are objects."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from calc.answer.feature import Feature
from calc.contour.text import ContourGiven
from calc.language.fields import Spec, build, specs
from calc.language.problems import OutOfRange
from calc.language.quantities import View
from calc.language.spec import Role
from server.answers import answer_json
from server.contour_json import BodyReader, read_contour
from server.old_names import present_body
from server.posting import Post
from server.query import Query

Json = dict[str, Any]


@dataclass(frozen=True, slots=True)
class ContourInBody(ContourGiven):
    """A contour from a body: what is wrong with it is said at the body's own names, below `prefix`."""

    def field(self, solver_field: str) -> str:
        """The name in the body of what the solver calls `elements.2.radius`."""
        where, _, rest = solver_field.partition(".")
        number, _, name = rest.partition(".")
        if where != "elements" or not number.isdigit():
            return f"{self.prefix}.{solver_field}"
        return ".".join(filter(None, (self.prefix, where, str(self.rows[int(number)]), name)))


class DeclaredReader(BodyReader):
    """Reads declared values from a body and collects what is wrong."""

    def values(self, declared: type[Any], body: Mapping[str, Any], prefix: str = "") -> Json:
        """The values by name, what is null or wrong left out."""
        declared_specs = specs(declared)
        known = {spec.name for spec in declared_specs}
        for name in body:
            if name not in known:
                self.fault(f"{prefix}{name[:40]}", "There is no such name here.")
        found = {spec.name: self.value(spec, body.get(spec.name), f"{prefix}{spec.name}") for spec in declared_specs}
        return {name: value for name, value in found.items() if value is not None}

    def value(self, spec: Spec, value: Any, field: str) -> Any:
        """One declared value; None for null or what is wrong."""
        if value is None:
            return [] if spec.rows is not None else None
        readers: Mapping[Role, Callable[[Spec, Any, str], Any]] = {
            "rows": self._rows,
            "contour": self._contour,
            "quantity": self._quantity,
            "choice": self._choice,
        }
        read = readers.get(spec.role) or self._text
        return read(spec, value, field)

    def _choice(self, spec: Spec, value: Any, field: str) -> str | None:
        return self.one_of(str(value) if isinstance(value, int) else value, list(spec.choices), field)

    def _text(self, _: Spec, value: Any, field: str) -> str | None:
        if not isinstance(value, str):
            self.fault(field, "This must be a text.")
            return None
        return value.strip() or None

    def _quantity(self, spec: Spec, value: Any, field: str) -> float | None:
        number = self.number(value, spec.quantity, field)
        fault = None if number is None else spec.fault(number)
        if fault is not None:
            self.faults.append(type(fault)(field, fault.message))
        return None if fault is not None else number

    def _rows(self, spec: Spec, value: Any, field: str) -> list[Json]:
        most = spec.repeated.most
        if not isinstance(value, list) or len(value) > most or not all(isinstance(row, dict) for row in value):
            self.fault(field, f"This must be an array of at most {most} objects.")
            return []
        return [self.values(spec.repeated.row, row, f"{field}.{index}.") for index, row in enumerate(value)]

    def _contour(self, _: Spec, value: Any, field: str) -> ContourInBody:
        start, elements = read_contour(value, self, f"{field}.")
        return ContourInBody(start, tuple(elements), tuple(elements.places), tuple({} for _ in elements), prefix=field)


def post_of(feature: Feature[Any, Any]) -> Post:
    """The call that takes the feature's inputs as one JSON object."""
    return Post(
        path=f"/api/{feature.path}",
        title=feature.title,
        summary=f"{feature.summary} All inputs in one JSON object, named as for the GET.",
        body={spec.name: body_schema(spec) for spec in specs(feature.inputs)},
        lists=tuple(feature.rows),
        answer=_answering(feature),
    )


def body_schema(spec: Spec) -> Json:
    """What a body may hold under a name."""
    if spec.rows is not None:
        row = {each.name: body_schema(each) for each in specs(spec.rows.row)}
        return {"type": "array", "items": {"type": "object", "properties": row}, "description": spec.label}
    if spec.role == "contour":
        return {"type": "object", "description": spec.label}
    if spec.role == "quantity":
        return {"anyOf": [{"type": "number"}, {"type": "string"}], "description": spec.label}
    return {"type": "string", "description": spec.label} | ({"enum": list(spec.choices)} if spec.choices else {})


def takes_a_body(feature: Feature[Any, Any]) -> bool:
    """Whether an input is more than one number or text."""
    return any(spec.role in ("rows", "contour") for spec in specs(feature.inputs))


def _answering(feature: Feature[Any, Any]) -> Callable[[Json, View], Json]:
    def answer(body: Json, view: View) -> Json:
        reader = DeclaredReader(view)
        values = reader.values(feature.inputs, present_body(feature.path, body))
        if reader.faults:
            raise OutOfRange(*reader.faults)
        found, steps = feature.answer(build(feature.inputs, values))
        texts = {spec.name: "" for spec in specs(feature.inputs)}
        query = Query(view, texts, {name: values.get(name) for name in texts})
        return answer_json(feature, query, found, steps)

    return answer
