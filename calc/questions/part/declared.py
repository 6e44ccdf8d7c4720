"""What the page of a whole part asks: each field declared once."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any, Literal

from calc.contour.text import ContourGiven
from calc.cutting import nouns
from calc.cutting.drilling import DRILLS, DrillKind
from calc.cutting.machine import Machine
from calc.language.fields import Declared, carried, choice, contour, given, part, rows, word
from calc.language.quantities import (
    ANGLE,
    COUNT,
    DIAMETER,
    LENGTH,
    X,
    Z,
)
from calc.questions.part.job import End
from calc.questions.part.left_on import LeftInputs
from calc.questions.part.reasons import reason_of
from calc.questions.part.restart import RestartInputs
from calc.shapes.centre_holes import FORMS, CentreForm
from calc.shapes.knurls import forms

KNURLS: Mapping[str, str] = {name: form.title for name, form in forms().items()}
KindAsked = Literal[
    "",
    "face",
    "rough",
    "finish",
    "bore",
    "centre",
    "drill",
    "counterbore",
    "countersink",
    "ream",
    "tap",
    "groove",
    "thread",
    "knurl",
    "part-off",
    "measure",
]
KINDS: Mapping[KindAsked, str] = {
    "": "choose",
    "face": "facing",
    "rough": "roughing",
    "finish": "finishing",
    "bore": "boring",
    "centre": "centre drilling",
    "drill": "drilling on the axis",
    "counterbore": "counterboring",
    "countersink": "countersinking, spotting",
    "ream": "reaming",
    "tap": "tapping",
    "groove": "grooving",
    "thread": "threading",
    "knurl": "knurling",
    "part-off": "parting off",
    "measure": "stop and measure",
}
ENDS: Mapping[End, str] = {"first": "first end", "second": "second end, turned round"}
SurfaceAsked = Literal["", "outside", "inside", "face"]
SURFACES: Mapping[SurfaceAsked, str] = {"": "by kind", "outside": "outside", "inside": "bore", "face": "face"}
Roughing = Literal["along z", "along x", "contour"]
ROUGHING: Mapping[Roughing, str] = {
    "along z": "level by level along Z",
    "along x": "level by level along X",
    "contour": "parallel to the contour",
}
Use = Literal["", "off"]
USES: Mapping[Use, str] = {"": "done", "off": "left out"}
MOST_OPERATIONS = 40
TURNED: tuple[KindAsked, ...] = ("face", "rough", "finish", "bore")
"""Kinds whose speed and feed must be given; the others start from the material."""
ON_AXIS: tuple[KindAsked, ...] = ("centre", "drill", "counterbore", "countersink", "ream")
SIZED: tuple[KindAsked, ...] = (*ON_AXIS, "groove", "part-off", "knurl")
THREADED: tuple[KindAsked, ...] = ("tap", "thread")
ROUGHED: tuple[KindAsked, ...] = ("face", "rough", "bore")
FINISHED: tuple[KindAsked, ...] = ("finish", "bore")
ASKED_OF: Mapping[str, tuple[KindAsked, ...]] = {
    "where": ("rough", "finish", "groove", "thread", "measure"),
    **dict.fromkeys(("insert", "holder", "nose_radius"), TURNED),
    "surface_speed": (*TURNED, *SIZED, *THREADED),
    "feed": (*TURNED, *SIZED),
    "depth": (*ROUGHED, "drill"),
    "allowance_z": ROUGHED,
    "allowance_x": ("rough", "bore"),
    "roughing": ("rough", "bore"),
    **dict.fromkeys(("pass_split", "feed_rule"), ROUGHED),
    **dict.fromkeys(("spring_passes", "cut_direction", "lead_form", "lead_size"), FINISHED),
    "size": SIZED,
    **dict.fromkeys(("knurl_form", "over_knurl"), ("knurl",)),
    "thread": THREADED,
    **dict.fromkeys(("part_chamfer", "bar_chamfer", "edge_lead"), ("part-off",)),
    "hole_depth": ("drill", "counterbore", "ream", *THREADED),
    "point_angle": ("drill", "countersink"),
    "drill_material": ("drill",),
    "centre_form": ("centre",),
    **dict.fromkeys(("stick_out", "turret", "offset_x", "offset_z"), (*TURNED, *SIZED, *THREADED)),
    **dict.fromkeys(("from_row", "to_row"), tuple(kind for kind in KINDS if kind)),
}
"""Which kinds of operation have a field; the others have it all."""


class OperationRow(Declared):
    """One operation: what, on which end, with which tool, how it cuts, from which to which row of the print."""

    kind: KindAsked = choice("Operation", KINDS, "", hint="bore without a depth finishes the bore")
    end: End = choice("End", ENDS, "first")
    where: SurfaceAsked = choice("On the", SURFACES, "", hint="a groove, thread or stop: outside, bore or face")
    insert: str | None = nouns.INSERT.given()
    holder: str | None = nouns.HOLDER.given()
    nose_radius: float | None = nouns.NOSE_RADIUS.given(blank="by the designation")
    surface_speed: float | None = nouns.SURFACE_SPEED.given(brief="at")
    feed: float | None = nouns.FEED_RATE.given(brief="feed")
    depth: float | None = nouns.PASS_DEPTH.given(brief="depth")
    allowance_z: float = nouns.ALLOWANCE_Z.given(default=0.0)
    allowance_x: float = nouns.ALLOWANCE_X.given(default=0.0, brief="allowance X")
    roughing: Roughing = choice("Roughing", ROUGHING, "along z", hint="rough and bore; a dish along its contour")
    pass_split: nouns.Split = nouns.PASS_SPLIT.chosen()
    feed_rule: nouns.FeedRule = nouns.FEED_RULE.chosen()
    spring_passes: float = nouns.SPRING_PASSES.given(default=0.0)
    cut_direction: nouns.CutDirection = nouns.CUT_DIRECTION.chosen()
    lead_form: nouns.Lead = nouns.LEAD_FORM.chosen()
    lead_size: float | None = nouns.LEAD_SIZE.given()
    size: float | None = given(
        LENGTH,
        "Size of the tool",
        above=0.0,
        hint="diameter on the axis (of a centre drill its pilot's), width of a blade, pitch of a knurl",
    )
    point_angle: float | None = given(
        ANGLE, "Point angle", above=0.0, most=math.radians(175.0), hint="included", blank="118° drill, 90° countersink"
    )
    drill_material: DrillKind = choice("Drill", DRILLS, "HSS")
    centre_form: CentreForm = choice("Form of the centre hole", FORMS, "A", hint="ISO 6411")
    knurl_form: str = choice("Form of the knurl", KNURLS, "straight")
    over_knurl: float | None = given(
        DIAMETER, "Over the knurl", above=0.0, hint="the crests; its rows are then the blank", blank="as its rows"
    )
    thread: str | None = word("Thread", hint="to tap or to turn, such as M30x1.5-6H")
    part_chamfer: float = given(
        LENGTH, "Chamfer on the part", "c", least=0.0, hint="45°, parting off", blank="none", default=0.0
    )
    bar_chamfer: float = given(
        LENGTH, "Chamfer on the bar", "c_b", least=0.0, hint="45°, parting off", blank="none", default=0.0
    )
    edge_lead: float = nouns.EDGE_LEAD.given(
        hint="parting off: the corner on the part's side ahead", blank="0, neutral", default=0.0
    )
    hole_depth: float | None = given(LENGTH, "Depth of the hole", above=0.0, blank="to the end of its rows")
    stick_out: float | None = given(LENGTH, "Stick-out of the tool", above=0.0)
    offset_x: float | None = given(X, "Offset of the tool in X", hint="as preset or touched off, to enter")
    offset_z: float | None = given(Z, "Offset of the tool in Z", hint="as preset or touched off, to enter")
    turret: float | None = given(COUNT, "Place in the turret", above=0.0, most=99.0, blank="in order of use")
    from_row: float | None = given(COUNT, "From row of the print", above=0.0, most=1000.0, blank="the first")
    to_row: float | None = given(COUNT, "To row of the print", above=0.0, most=1000.0, blank="the last")
    name: str | None = word("Called", blank="by kind and end")
    note: str | None = word("Note to the operator")
    why: str | None = carried("Why it is proposed", said=reason_of)
    use: Use = choice("It is", USES, "")


class BarInputs(Declared):
    """The part's name, and what it is turned from."""

    part_name: str | None = word("Part", hint="as on the print")
    material: str | None = nouns.MATERIAL.given()
    bar_diameter: float | None = nouns.BAR_DIAMETER.given()
    face_stock: float = nouns.FACE_STOCK.given(default=0.0)
    stock_bore: float = given(DIAMETER, "Bore of the stock", "", least=0.0, blank="none", brief="bore", default=0.0)
    stock_length: float | None = given(
        LENGTH, "Length of the stock", above=0.0, blank="a bar that goes on into the chuck", brief="long"
    )


class ReleaseInputs(Declared):
    """What the sheet of a released part bears."""

    machine_name: str | None = word("Machine", hint="as the shop calls it")
    drawing_revision: str | None = word("Revision of the drawing")
    released_by: str | None = word("Released by", hint="the role, such as lead")
    proved_out: str | None = word("Proved out", hint="the date of the first good part")


class HoldingInputs(Declared):
    """How each end is held; what stands there is kept clear of."""

    first_length_out: float | None = given(
        LENGTH, "First end: length out", above=0.0, hint="from the jaws to the stock's front", brief="first end out"
    )
    first_jaw_diameter: float | None = given(
        DIAMETER, "First end: jaws reach to", above=0.0, hint="their outer diameter"
    )
    tailstock_diameter: float | None = given(DIAMETER, "First end: diameter of the centre", above=0.0, blank="none")
    collet_from: float | None = given(DIAMETER, "First end: collet holds from", above=0.0, blank="no collet")
    collet_to: float | None = given(DIAMETER, "First end: collet holds to", above=0.0)
    steady_z: float | None = given(Z, "First end: steady rest at Z", blank="none")
    steady_width: float | None = given(LENGTH, "Width of the steady rest", above=0.0, blank="20 mm")
    steady_diameter: float | None = given(DIAMETER, "Steady rest reaches to", above=0.0, blank="beyond the travel")
    second_length_out: float | None = given(
        LENGTH, "Second end: length out", above=0.0, brief="second end out", blank="by the depth of soft jaws"
    )
    second_jaw_diameter: float | None = given(DIAMETER, "Second end: jaws reach to", above=0.0)
    second_soft_bore: float | None = given(
        DIAMETER, "Second end: soft jaws bored to", above=0.0, hint="to what the first side made"
    )
    second_soft_depth: float | None = given(LENGTH, "Second end: soft jaws bored deep", above=0.0)
    jaw_length: float | None = given(LENGTH, "Jaws stand out of the chuck by", above=0.0, blank="not known")
    travel_x: float | None = given(X, "Travel: largest X", blank="not known")
    travel_z: float | None = given(Z, "Travel: Z nearest to the chuck", blank="not known")
    turret_x: float | None = given(X, "The turret indexes at X", hint="the tool point's")
    turret_z: float | None = given(Z, "The turret indexes at Z")
    jaws: str | None = word("Jaws", hint="such as: soft jaws bored to 42 over 20")


class OperationInputs(Declared):
    """The operations."""

    operations: tuple[OperationRow, ...] = rows(
        OperationRow,
        "In order",
        one="Operation",
        most=MOST_OPERATIONS,
        ordered=True,
        switch="use",
        decider="kind",
        only=ASKED_OF,
        hint="Each works on the stock the one before left.",
    )


def outside_of_print() -> Any:
    """The outside of a part's print as a declared input."""
    hint = "From the axis out and toward the chuck; Z 0 is the finished face of the first end."
    return contour("Outside of the print", hint=hint)


def inside_of_print() -> Any:
    """The bore of a part's print as a declared input."""
    return contour("Bore of the print", hint="Bored parts only: from the mouth in.", prefix="inside")


class PartInputs(Declared):
    """A whole part: the print's contours, the bar, the machine, the operations in order."""

    outside: ContourGiven | None = outside_of_print()
    inside: ContourGiven | None = inside_of_print()
    plan: OperationInputs = part(OperationInputs, "Operations")
    bar: BarInputs = part(BarInputs, "Part, material and bar")
    later: LeftInputs = part(LeftInputs, "Left for grinding, hardening or plating")
    holding: HoldingInputs = part(HoldingInputs, "Holding")
    machine: Machine = part(Machine, "Machine and chuck")
    release: ReleaseInputs = part(ReleaseInputs, "Release")
    restart: RestartInputs = part(RestartInputs, "Restart after a broken edge")
    shown_step: str | None = carried("Step that is shown")
