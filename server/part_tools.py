"""The tools of a part in JSON: what each kind of operation is done with, read and written."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from calc.cutting.drilling import DRILLS
from calc.language.fields import Code
from calc.language.problems import Problem
from calc.language.quantities import ANGLE, COUNT, DIAMETER, LENGTH, RADIUS, Kind, View
from calc.questions.operations.contour_plan.inputs import ToolInputs
from calc.questions.operations.contour_plan.plan import LONGEST
from calc.questions.operations.knurl import FORMS
from calc.questions.part.held import turning_tool
from calc.questions.part.job import (
    AnyTool,
    CentreDrill,
    Counterbore,
    Countersink,
    Drill,
    Grooving,
    Reamer,
    Roll,
    Tap,
    Threading,
    Turning,
)
from calc.questions.part.job import Kind as PartKind
from calc.shapes.centre_holes import FORMS as FORMS_OF_CENTRES
from calc.shapes.centre_holes import centre_holes
from calc.threads.tapping import CHAMFERS
from server.contour_json import BodyReader

Json = dict[str, Any]


def read_tool(reader: BodyReader, kind: PartKind, value: Any, field: str) -> AnyTool | None:
    """The tool of an operation of a kind. Raises `Problem` with the body's field names."""
    names, make = TOOLS[kind]
    of = reader.named(value, names, field)
    try:
        tool = make(_Values(reader, of, field), kind)
    except Problem as problem:
        raise problem.renamed(lambda name: name if name.startswith(field) else f"{field}.{name}") from problem
    reader.done()
    return tool


class _Values:
    """The values of one tool by name, what is wrong noted at its field."""

    def __init__(self, reader: BodyReader, of: Json, field: str) -> None:
        self.reader, self.of, self.field = reader, of, field

    def number(self, name: str, kind: Kind, *, zero: bool = False) -> float | None:
        return self.reader.positive(self.of, name, kind, self.field, zero=zero, most=LONGEST)

    def needed(self, name: str, kind: Kind) -> float:
        found = self.number(name, kind)
        if found is None:
            if self.of.get(name) is None:
                self.reader.fault(f"{self.field}.{name}", "This tool needs it.")
            self.reader.done()
        return found or 0.0

    def word(self, name: str) -> str | None:
        return self.reader.word(self.of.get(name), f"{self.field}.{name}")

    def needed_word(self, name: str) -> str:
        found = self.word(name)
        if found is None:
            self.reader.fault(f"{self.field}.{name}", "This tool needs it.")
        self.reader.done()
        return found or ""

    def one_of(self, name: str, allowed: tuple[Code, ...]) -> Code:
        return self.reader.one_of(self.of.get(name), allowed, f"{self.field}.{name}") or allowed[0]


def _turning(values: _Values, kind: PartKind) -> AnyTool:
    insert, holder = values.word("insert"), values.word("holder")
    nose = values.number("nose_radius", RADIUS)
    shank = values.one_of("shank", ("", "across", "along"))
    values.reader.done()
    asked = ToolInputs(insert=insert, holder=holder, nose_radius=nose)
    return turning_tool(asked, bar=kind == "bore", shank=shank)


def _drill(values: _Values, _: PartKind) -> AnyTool:
    diameter, angle = values.needed("diameter", DIAMETER), values.number("point_angle", ANGLE)
    return Drill(diameter, angle, values.one_of("made_of", tuple(DRILLS)))


def _centre_drill(values: _Values, _: PartKind) -> AnyTool:
    size = values.one_of("size", ("4", *(size for size in centre_holes() if size != "4")))
    return CentreDrill(size, values.one_of("form", tuple(FORMS_OF_CENTRES)))


def _countersink(values: _Values, _: PartKind) -> AnyTool:
    diameter, angle = values.needed("diameter", DIAMETER), values.number("angle", ANGLE)
    return Countersink(diameter) if angle is None else Countersink(diameter, angle)


def _counterbore(values: _Values, _: PartKind) -> AnyTool:
    return Counterbore(values.needed("diameter", DIAMETER))


def _reamer(values: _Values, _: PartKind) -> AnyTool:
    return Reamer(values.needed("diameter", DIAMETER))


def _tap(values: _Values, _: PartKind) -> AnyTool:
    return Tap(
        values.needed_word("thread"), values.one_of("chamfer", ("C", *(each for each in CHAMFERS if each != "C")))
    )


def _grooving(values: _Values, _: PartKind) -> Grooving:
    corner, reach = values.number("corner_radius", RADIUS, zero=True), values.number("reach", LENGTH)
    return Grooving(values.needed("width", LENGTH), corner, reach)


def _parting(values: _Values, kind: PartKind) -> AnyTool:
    blade = _grooving(values, kind)
    part, bar = (values.number(name, LENGTH, zero=True) for name in ("part_chamfer", "bar_chamfer"))
    lead = values.number("edge_lead", ANGLE, zero=True)
    return replace(blade, part_chamfer=part or 0.0, bar_chamfer=bar or 0.0, edge_lead=lead or 0.0)


def _threading(values: _Values, _: PartKind) -> AnyTool:
    count, spring = values.number("pass_count", COUNT), values.number("spring_passes", COUNT, zero=True)
    return Threading(values.needed_word("thread"), count, spring, values.number("nose_radius", RADIUS))


def _roll(values: _Values, _: PartKind) -> AnyTool:
    over = values.number("over_diameter", DIAMETER)
    return Roll(values.needed("pitch", LENGTH), values.one_of("form", tuple(FORMS)), over)


def _none(_: _Values, __: PartKind) -> None:
    return None


Make = Callable[[_Values, PartKind], AnyTool | None]
CUTS = (("insert", "holder", "nose_radius", "shank"), _turning)
PLUNGES = (("width", "corner_radius", "reach"), _grooving)
PARTS = ((*PLUNGES[0], "part_chamfer", "bar_chamfer", "edge_lead"), _parting)
TOOLS: Mapping[PartKind, tuple[tuple[str, ...], Make]] = {
    "face": CUTS,
    "rough": CUTS,
    "finish": CUTS,
    "bore": CUTS,
    "drill": (("diameter", "point_angle", "made_of"), _drill),
    "centre": (("size", "form"), _centre_drill),
    "counterbore": (("diameter",), _counterbore),
    "countersink": (("diameter", "angle"), _countersink),
    "ream": (("diameter",), _reamer),
    "tap": (("thread", "chamfer"), _tap),
    "groove": PLUNGES,
    "part-off": PARTS,
    "thread": (("thread", "pass_count", "spring_passes", "nose_radius"), _threading),
    "knurl": (("pitch", "form", "over_diameter"), _roll),
    "measure": ((), _none),
}


def tool_body(tool: AnyTool, view: View) -> Json:
    """A tool as the plan of a part reads it, its numbers bare in the reader's units."""
    if isinstance(tool, Turning):
        return {"insert": tool.insert, "holder": tool.holder}
    return {name: each["value"] if isinstance(each, dict) else each for name, each in tool_json(tool, view).items()}


def tool_json(tool: AnyTool, view: View) -> Json:
    """A tool as it stands in the answer's list, what it lacks left out but for the designations."""
    if isinstance(tool, Turning):
        named = {"insert": tool.insert or None, "holder": tool.holder or None}
        return {**named, "nose_radius": _shown(tool.tool.nose, RADIUS, view)}
    known = {name: _shown(value, kind, view) for name, (value, kind) in _numbers(tool).items() if value is not None}
    return {**_words(tool), **known}


def _numbers(tool: AnyTool) -> Mapping[str, tuple[float | None, Kind]]:
    """The numbers that a tool other than a turning tool is known by, with what each is."""
    if isinstance(tool, Drill):
        return {"diameter": (tool.diameter, DIAMETER), "point_angle": (tool.point_angle, ANGLE)}
    if isinstance(tool, Countersink):
        return {"diameter": (tool.diameter, DIAMETER), "angle": (tool.angle, ANGLE)}
    if isinstance(tool, Reamer | Counterbore):
        return {"diameter": (tool.diameter, DIAMETER)}
    if isinstance(tool, Grooving):
        return {
            "width": (tool.width, LENGTH),
            "corner_radius": (tool.corner, RADIUS),
            "reach": (tool.reach, LENGTH),
            "part_chamfer": (tool.part_chamfer or None, LENGTH),
            "bar_chamfer": (tool.bar_chamfer or None, LENGTH),
            "edge_lead": (tool.edge_lead or None, ANGLE),
        }
    if isinstance(tool, Roll):
        return {"pitch": (tool.pitch, LENGTH), "over_diameter": (tool.over, DIAMETER)}
    return {}


def _words(tool: AnyTool) -> Json:
    """The words that it is known by."""
    if isinstance(tool, Drill):
        return {"made_of": tool.made_of}
    if isinstance(tool, CentreDrill):
        return {"size": tool.size, "form": tool.form}
    if isinstance(tool, Roll):
        return {"form": tool.form}
    return {"thread": tool.designation} if isinstance(tool, Tap | Threading) else {}


def _shown(value: float, kind: Kind, view: View) -> Json:
    unit = kind.unit(view)
    return {"value": unit.shown(value) + 0.0, "unit": unit.code}
