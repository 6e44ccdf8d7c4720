"""From diameter, form and size to the contour of a shoulder with its undercut."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from calc.contour import Arc, Chain, Element, Line, Point
from calc.language.checks import require
from calc.language.fields import Declared, choice, given, needed, part
from calc.language.messages import Message, Quantity, Value
from calc.language.problems import Fault, Impossible
from calc.language.quantities import DIAMETER, LENGTH
from calc.shapes.dish.sizes import SMALLEST, require_sizes
from calc.shapes.shoulder import formulas
from calc.shapes.shoulder.standards import Load, Undercut, sizes_of, undercuts

ON_CYLINDER = math.radians(15.0)
ON_FACE = {"F": math.radians(8.0), "G": math.radians(15.0), "H": math.radians(15.0)}
UndercutForm = Literal["F", "E", "G", "H"]
FORMS: dict[UndercutForm, str] = {
    "F": "F, in cylinder and face",
    "E": "E, in the cylinder alone",
    "G": "G, in both, small",
    "H": "H, in both, shallow in the face",
}
MOST_ALLOWANCE = 2.0  # mm


class UndercutInputs(Declared):
    """Which undercut it is."""

    size: str = choice(
        "Radius x depth", {"auto": "by diameter"} | {each.code: each.size for each in undercuts()}, "auto", brief="size"
    )
    load: Load = choice(
        "Load", {"usual": "usual", "alternating": "alternating, raised fatigue strength"}, "usual", hint="for the size"
    )
    allowance: float = given(
        LENGTH,
        "Grinding allowance",
        "z",
        least=0.0,
        most=MOST_ALLOWANCE,
        hint="per side, on what is ground later",
        default=0.0,
    )


class ShoulderInputs(Declared):
    """What a print gives of a shoulder (mm): cylinder, shoulder, where it is, and the form of its undercut."""

    diameter: float = needed(DIAMETER, "Cylinder diameter", "d", above=0.0, hint="finished")
    shoulder_diameter: float | None = given(DIAMETER, "Shoulder diameter", "D", above=0.0, blank="not checked")
    end_to_shoulder: float = given(
        LENGTH, "End face to shoulder", "L", least=0.0, blank="Z 0 at the shoulder", default=0.0
    )
    undercut_form: UndercutForm = choice("Form", FORMS, "F")
    undercut: UndercutInputs = part(UndercutInputs, "Undercut")


@dataclass(frozen=True, slots=True)
class Shoulder:
    """A shoulder complete (mm): its undercut, where its face is, and the contour from the cylinder onto the face."""

    undercut: Undercut
    form: str
    diameter: float
    shoulder_diameter: float | None
    face_z: float
    end_z: float
    bottom: float
    face_height: float | None
    on_cylinder: float
    on_face: float | None
    cut: Chain


def solve_shoulder(inputs: ShoulderInputs) -> Shoulder:
    """The shoulder with its undercut. Raises `Missing`, `Impossible` where no size fits, `OutOfRange`.

    >>> stem = solve_shoulder(ShoulderInputs(diameter=24.0, shoulder_diameter=31.0))
    >>> stem.undercut.size, stem.bottom, round(stem.face_height, 3)
    ('0.8 x 0.3', 23.4, 2.279)
    """
    require(inputs)
    require_sizes(inputs)
    d, allowance = inputs.diameter, inputs.undercut.allowance
    chosen = _chosen(inputs, d)
    face = -inputs.end_to_shoulder
    bottom = formulas.bottom_diameter(d, chosen.depth)
    _require_core(bottom, d, chosen)
    on_cylinder = formulas.run_out.at("as far as the allowance", t1="z", result="e_1")(allowance, ON_CYLINDER)
    chain, height = undercut_contour(inputs.undercut_form, chosen, Point(face, d / 2), allowance)
    found = Shoulder(
        undercut=chosen,
        form=inputs.undercut_form,
        diameter=d,
        shoulder_diameter=inputs.shoulder_diameter,
        face_z=face,
        end_z=0.0 if inputs.end_to_shoulder else 3.0 * chosen.width + on_cylinder,
        bottom=bottom,
        face_height=height,
        on_cylinder=on_cylinder,
        on_face=_higher(inputs.undercut_form, allowance),
        cut=chain,
    )
    _require_room(found)
    return found


def _higher(form: str, allowance: float) -> float | None:
    """How much higher (mm) the undercut ends on the face for the allowance (mm); None for form E."""
    if form not in ON_FACE:
        return None
    return formulas.run_out.at("on the face", t1="z", rho="psi", result="e_2")(allowance, ON_FACE[form])


def _chosen(inputs: ShoulderInputs, d: float) -> Undercut:
    form, load, size = inputs.undercut_form, inputs.undercut.load, inputs.undercut.size
    if size != "auto":
        found = next((each for each in sizes_of(form) if each.code == size), None)
        if found is None:
            listed: dict[str, Value] = {"form": form, "size": size}
            listed["sizes"] = ", ".join(each.size for each in sizes_of(form))
            raise Impossible(Fault("size", Message("DIN 509 has no {size} of form {form}, but {sizes}.", listed)))
        return found
    fitting = next((each for each in sizes_of(form) if each.fits(d, load)), None)
    if fitting is None:
        values: dict[str, Value] = {"d": Quantity(d, DIAMETER, brief=True), "load": load}
        text = "DIN 509 has no undercut for {d} under {load} load. Choose a size yourself, or check the diameter."
        raise Impossible(Fault("diameter", Message(text, values)))
    return fitting


def _require_core(bottom: float, d: float, chosen: Undercut) -> None:
    if bottom < 2 * SMALLEST:
        values: dict[str, Value] = {"d": Quantity(d, DIAMETER, brief=True), "size": chosen.size}
        raise Impossible(Fault("diameter", Message("The undercut {size} cuts {d} off.", values)))


def undercut_contour(form: str, chosen: Undercut, corner: Point, allowance: float = 0.0) -> tuple[Chain, float | None]:
    """The undercut from the cylinder to the face, as it is turned before grinding, and its height on the face.

    `form` is E, F, G or H; E does not reach into the face and has no height. `corner` is the sharp corner (mm) of a
    shoulder toward -Z, `allowance` that for grinding (mm).

    Source: DIN 509.

    >>> chain, height = undercut_contour("F", undercuts()[0], Point(0.0, 12.0))
    >>> chain.end.z, round(chain.end.r - chain.elements[1].start.r - height, 9)
    (0.0, 0.0)
    """
    depth, r = chosen.depth, chosen.radius
    psi = ON_FACE.get(form, 0.0)
    sunk = 0.0 if form == "E" else chosen.face_depth
    low = corner.r - depth
    rise = allowance / math.tan(ON_CYLINDER)
    start = Point(corner.z + chosen.width + rise, corner.r + allowance)
    ramp_end = Point(corner.z + chosen.width - formulas.run_out(depth, ON_CYLINDER), low)
    arc_start = Point(corner.z - sunk + r, low)
    centre = arc_start.shifted(0.0, r)
    elements: list[Element] = [Line(start, ramp_end), Line(ramp_end, arc_start)]
    if form == "E":
        return Chain((*elements, Arc(arc_start, Point(corner.z, centre.r), centre, "cw"))), None
    arc_end = centre.shifted(-r * math.cos(psi), r * math.sin(psi))
    height = formulas.face_height(r, formulas.meeting_depth(sunk, r, psi), psi)
    out = Point(corner.z + allowance, low + height + allowance / math.tan(psi))
    return Chain((*elements, Arc(arc_start, arc_end, centre, "cw"), Line(arc_end, out))), height


def _require_room(found: Shoulder) -> None:
    needed, start = 2 * found.cut.end.r, found.cut.start.z
    if found.shoulder_diameter is not None and found.shoulder_diameter < needed + 2 * SMALLEST:
        values = {"D": Quantity(found.shoulder_diameter, DIAMETER, brief=True), "needed": Quantity(needed, DIAMETER)}
        text = "The undercut reaches {needed} on the face: a shoulder of {D} is too small for it. Take a smaller size."
        raise Impossible(Fault("shoulder_diameter", Message(text, values)))
    if start > found.end_z - SMALLEST:
        values = {"L": Quantity(-found.face_z, LENGTH, brief=True), "needed": Quantity(start - found.face_z, LENGTH)}
        text = "The undercut begins {needed} from the shoulder: a cylinder of {L} is too short for it."
        raise Impossible(Fault("end_to_shoulder", Message(text, values)))
