"""Any turned contour: what the print gives of it, the blanks solved, its points and what it asks of the insert."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import partial

from calc.answer.feature import Answer, Feature, KeyPoint, Rows, Unfinished
from calc.contour import Arc, Chain, Element, Point, surface_of_revolution, volume_of_revolution
from calc.contour.solving import GivenElement, Solution, Solutions, Solved, Start, UnderGiven, solve
from calc.contour.solving.given import NAMES, words_for
from calc.contour.solving.habits import Habits
from calc.contour.text import ContourGiven
from calc.cutting import nouns
from calc.cutting.materials import material
from calc.language.fields import carried, choice, contour, part, result, word
from calc.language.messages import Caution, Message, Quantity, Value
from calc.language.problems import Fault, Missing, Problem
from calc.language.quantities import (
    ANGLE,
    AREA,
    COUNT,
    DIAMETER,
    LENGTH,
    MASS,
    RADIUS,
    VOLUME,
    X,
    Z,
)
from calc.questions.shapes.contour_choices import choice_names, picked
from calc.questions.shapes.contour_side import can_be_drawn, drawing, smallest_concave_radius, steepest_fall

MAY_BE_MORE = "There may be more contours with these dimensions than are listed."


@dataclass(frozen=True, kw_only=True)
class Beside:
    """What stands beside the contour: on which side the tool is, the bar and its material."""

    side: str = choice(
        "The tool stands",
        {"right": "on the right of travel", "left": "on the left of travel"},
        "right",
        hint="toward the chuck, right is outside, left in a bore",
    )
    bar_diameter: float | None = nouns.BAR_DIAMETER.given()
    material: str | None = nouns.MATERIAL.given()

    @property
    def habits(self) -> Habits:
        """What the tool's side and the bar make likely."""
        return Habits("left" if self.side == "left" else "right", self.bar_radius)

    @property
    def bar_radius(self) -> float | None:
        """The bar's radius, mm."""
        return self.bar_diameter / 2 if self.bar_diameter else None


@dataclass(frozen=True, kw_only=True)
class ContourInputs:
    """The contour row by row; which solution is meant; what stands beside it."""

    contour: ContourGiven | None = contour("Contour")
    chosen: str | None = carried("Chosen solution")
    beside: Beside = part(Beside, "Tool, bar and material")


@dataclass(frozen=True, kw_only=True)
class ContourResults:
    """The contour as a whole, and what it asks of an insert."""

    solved_x: float | None = result(X, "First solved X")
    solved_z: float | None = result(Z, "First solved Z")
    solved_at: str | None = word("Which is the")
    largest_diameter: float = result(DIAMETER, "Largest diameter", brief="largest")
    overall_length: float = result(LENGTH, "Length along Z", brief="long")
    smallest_concave_radius: float | None = result(RADIUS, "Smallest concave radius", hint="the nose must be smaller")
    steepest_fall: float | None = result(
        ANGLE, "Steepest fall away from the tool", hint="from the axis, going to the chuck"
    )
    element_count: float = result(COUNT, "Elements, corners included")
    length: float = result(LENGTH, "Length of the contour")
    volume: float = result(VOLUME, "Volume between contour and axis")
    surface: float = result(AREA, "Surface turned")
    mass: float | None = result(MASS, "Mass of that volume")


@dataclass(frozen=True, kw_only=True)
class ElementRow:
    """One element: its end, the step to it, its length, a line's angle."""

    number: str = word("Element")
    kind: str = word("Kind")
    x: float = result(X, "to X")
    z: float = result(Z, "to Z")
    dx: float = result(X, "step in X")
    dz: float = result(Z, "step in Z")
    length: float = result(LENGTH, "Length")
    angle: float | None = result(ANGLE, "Angle from +Z")
    to_axis: float | None = result(ANGLE, "to the axis")
    to_face: float | None = result(ANGLE, "to the face")


@dataclass(frozen=True, kw_only=True)
class ArcRow:
    """One arc; `i` and `k` are its centre from the start of it, as ISO 6983 has them."""

    number: str = word("Element")
    radius: float = result(RADIUS, "Radius")
    swept: float = result(ANGLE, "Angle swept")
    centre_x: float = result(X, "Centre X")
    centre_z: float = result(Z, "Centre Z")
    i: float = result(LENGTH, "I (radius)")
    k: float = result(LENGTH, "K (+Z out)")


@dataclass(frozen=True, kw_only=True)
class SolutionRow:
    """One of several contours with the same dimensions; `choice` is how a link names it."""

    number: str = word("Solution")
    label: str = word("In words")
    choice: str = word("In a link")


def solve_contour(inputs: ContourInputs) -> Answer[ContourResults]:
    """The contour with its blanks solved. Raises `Problem` where the print gives too little, too much or nothing."""
    if inputs.contour is None or not inputs.contour.elements:
        raise Missing(Fault("contour", Message("Add the first element: a face, a cylinder, a line or an arc.")))
    _require_whole_corners(inputs.contour, inputs.beside)
    found = _solved(inputs.contour, inputs.beside)
    names = choice_names(found.solutions)
    index, notes = picked(inputs.chosen, names)
    answer = described(found, index, inputs.contour.start, inputs.contour.elements, inputs.beside)
    return replace(
        answer,
        notes=(*answer.notes, *notes),
        tables={**answer.tables, "solutions": _solution_rows(found.solutions, names)},
        solved=_blanks_solved(found.solutions[index], inputs.contour),
    )


def described(
    found: Solutions, index: int, start: Start, given_elements: Sequence[GivenElement], beside: Beside
) -> Answer[ContourResults]:
    """The answer that the solution of this index gives: results, points, every element, cautions, the sketch."""
    chosen = found.solutions[index]
    chain = Chain(chosen.contour)
    more = () if found.complete and not found.more else (Message(MAY_BE_MORE),)
    first = _first_solved(chosen, start, given_elements)
    return Answer(
        results=_results(chain, beside, first),
        headline="largest_diameter",
        points=_points(chosen),
        contour=chain,
        cautions=tuple(_cautions(found, index, beside)),
        notes=(*found.notes, *more),
        tables={
            "dimensions": tuple(map(_row, chosen.elements)),
            "arcs": tuple(_arc_row(each, each.element) for each in chosen.elements if isinstance(each.element, Arc)),
        },
        drawing=partial(drawing, chain, beside.side, beside.bar_radius) if can_be_drawn(chain) else None,
    )


def _require_whole_corners(contour_given: ContourGiven, beside: Beside) -> None:
    """Raise `Unfinished` where a corner has no size yet, or no element after it."""
    faults = [
        Fault(f"rows.{row}.size", Message("How large is the chamfer or radius?")) for row in contour_given.unsized
    ]
    if not faults and contour_given.elements[-1].corner is not None:
        row = contour_given.rows[-1] + 1
        faults = [Fault(f"rows.{row}", Message("Add the element that follows the chamfer or radius."))]
    if faults:
        raise _unfinished(faults, contour_given, len(contour_given.elements), beside)


def _solved(contour_given: ContourGiven, beside: Beside) -> Solutions:
    """All contours; what is wrong is said at the rows that it came from."""
    try:
        return solve(contour_given.start, contour_given.elements, habits=beside.habits)
    except UnderGiven as problem:
        known = min(problem.elements, default=0)
        raise _unfinished(_faults_at_rows(problem, contour_given), contour_given, known, beside) from problem
    except Problem as problem:
        raise problem.renamed(contour_given.field) from problem


def _faults_at_rows(problem: UnderGiven, contour_given: ContourGiven) -> list[Fault]:
    """How much is missing, said once, and at each row of an element that can still move."""
    faults = [Fault("contour", _how_much(problem)), *(_can_move(problem, index) for index in problem.elements)]
    return [Fault(contour_given.field(fault.field), fault.message) for fault in faults]


def _unfinished(faults: Sequence[Fault], contour_given: ContourGiven, known: int, beside: Beside) -> Unfinished:
    """What is missing, with what is known already: the contour of the first elements, as many as are settled."""
    first = list(contour_given.elements[:known])
    if first:
        first[-1] = replace(first[-1], corner=None)
    try:
        solution = solve(contour_given.start, first).solutions[0]
    except Problem:
        return Unfinished(*faults, drawing=None, solved={})
    rows = replace(contour_given, elements=tuple(first), rows=contour_given.rows[:known])
    chain = Chain(solution.contour)
    sketch = drawing(chain, beside.side, beside.bar_radius) if can_be_drawn(chain) else None
    return Unfinished(*faults, drawing=sketch, solved=_blanks_solved(solution, rows))


def _how_much(problem: UnderGiven) -> Message:
    if not problem.would_do:
        return problem.faults[0].message
    numbers = [str(index + 1) for index in problem.elements]
    who = f"element {numbers[0]}" if len(numbers) == 1 else f"elements {', '.join(numbers[:-1])} and {numbers[-1]}"
    values: dict[str, Value] = {"count": problem.count, "who": who if numbers else "the start"}
    if problem.count == 1:
        return Message("One more dimension is needed: {who} can still move.", values)
    return Message("{count} more dimensions are needed: {who} can still move.", values)


def _can_move(problem: UnderGiven, index: int) -> Fault:
    own = [field for field in problem.would_do if field.startswith(f"elements.{index}.")]
    named = [words_for(index, name).removesuffix(f" of element {index + 1}") for name in map(_dimension, own[:3])]
    values: dict[str, Value] = {"number": index + 1, "options": " or ".join(named) or "another dimension"}
    text = "Element {number} can still move: {options} would do."
    if problem.count > 1:
        text = "Element {number} can still move: {options} would help."
    return Fault(f"elements.{index}", Message(text, values))


def _dimension(field: str) -> str:
    """The solver's name of the dimension that a field gives."""
    last = field.rpartition(".")[2]
    return next(name for name, called in NAMES.items() if called.field == last)


def _first_solved(
    solution: Solution, start: Start, given_elements: Sequence[GivenElement]
) -> tuple[str, Point | None, str]:
    """The first coordinate on the part that the print leaves out: result to show, where it stands, at what.

    A sharp corner that a chamfer or radius takes away is not on the part.
    """
    ends: list[Start | GivenElement] = [start, *given_elements]
    on_part = {solution.contour[0].start, *(element.end for element in solution.contour)}
    for number, (end, joint) in enumerate(zip(ends, solution.joints, strict=True)):
        if joint not in on_part:
            continue
        where = f"end of {number}" if number else "start"
        if end.r is None and not (number and _stays(given_elements[number - 1].dr)):
            return "solved_x", joint, where
        if end.z is None and not (number and _stays(given_elements[number - 1].dz)):
            return "solved_z", joint, where
    return "", None, ""


def _stays(step: float | None) -> bool:
    """Whether the coordinate is that of the point before: the X of a cylinder, the Z of a face."""
    return step == 0.0


def _blanks_solved(solution: Solution, contour_given: ContourGiven) -> dict[str, float]:
    """What every blank of the rows came out as, by the names of their fields."""
    found: dict[str, float] = {"rows.0.x": solution.sharp[0].start.r, "rows.0.z": solution.sharp[0].start.z}
    for row, element in zip(contour_given.rows, solution.sharp, strict=True):
        found |= {f"rows.{row}.{name}": value for name, value in _dimensions(element).items()}
    return found


def _dimensions(element: Element) -> dict[str, float]:
    """Every dimension of an element, by the names that a row has for them."""
    step = element.start.to(element.end)
    values = {"x": element.end.r, "z": element.end.z, "dx": step.r, "dz": step.z, "len": element.length}
    if isinstance(element, Arc):
        return values | {"r": element.radius, "cx": element.centre.r, "cz": element.centre.z}
    lean = math.atan2(abs(step.r), abs(step.z))
    values |= {"at": element.start_heading % math.tau, "ha": lean}
    return values | ({"tp": 2 * math.tan(lean)} if abs(step.z) > abs(step.r) * 1e-6 else {})


def _results(chain: Chain, beside: Beside, first: tuple[str, Point | None, str]) -> ContourResults:
    bounds = chain.bounds
    volume = abs(volume_of_revolution(chain))
    work = material(beside.material) if beside.material else None
    _, spot, where = first
    return ContourResults(
        solved_x=spot.r if spot else None,
        solved_z=spot.z if spot else None,
        solved_at=where or None,
        element_count=len(chain),
        length=chain.length,
        largest_diameter=2 * bounds.r_max,
        overall_length=bounds.z_max - bounds.z_min,
        smallest_concave_radius=smallest_concave_radius(chain, beside.side),
        steepest_fall=steepest_fall(chain, beside.side),
        volume=volume,
        surface=surface_of_revolution(chain),
        mass=volume * work.density if work else None,
    )


def _points(solution: Solution) -> tuple[KeyPoint, ...]:
    points = [KeyPoint("start", solution.contour[0].start)]
    for solved in solution.elements:
        element = solved.element
        label = f"corner of {solved.of + 1}" if solved.is_corner else f"end of {solved.of + 1}"
        if isinstance(element, Arc):
            points.append(KeyPoint(label, element.end, element.turn, element.radius, element.centre))
        else:
            points.append(KeyPoint(label, element.end, "line"))
    return tuple(points)


def _row(solved: Solved) -> ElementRow:
    element = solved.element
    arc = element if isinstance(element, Arc) else None
    step = element.start.to(element.end)
    lean = math.atan2(abs(step.r), abs(step.z)) if arc is None else None
    return ElementRow(
        number=_number(solved),
        kind="line" if arc is None else f"arc, {'clockwise' if arc.turn == 'cw' else 'counter-clockwise'}",
        x=element.end.r,
        z=element.end.z,
        dx=step.r,
        dz=step.z,
        length=element.length,
        angle=element.start_heading % math.tau if arc is None else None,
        to_axis=lean,
        to_face=None if lean is None else math.pi / 2.0 - lean,
    )


def _arc_row(solved: Solved, arc: Arc) -> ArcRow:
    offset = arc.start.to(arc.centre)
    return ArcRow(
        number=_number(solved),
        radius=arc.radius,
        swept=abs(arc.sweep),
        centre_x=arc.centre.r,
        centre_z=arc.centre.z,
        i=offset.r,
        k=offset.z,
    )


def _number(solved: Solved) -> str:
    return f"{solved.of + 1}{', corner' if solved.is_corner else ''}"


def _solution_rows(solutions: Sequence[Solution], names: Sequence[str]) -> tuple[SolutionRow, ...]:
    pairs = zip(solutions, names, strict=True) if len(solutions) > 1 else ()
    return tuple(
        SolutionRow(number=str(number), label=solution.label.say(), choice=name)
        for number, (solution, name) in enumerate(pairs, 1)
    )


def _cautions(found: Solutions, index: int, beside: Beside) -> list[Caution]:
    solution = found.solutions[index]
    cautions = []
    for crossing in solution.crossings[:1]:
        text = "The contour meets itself at {point} and cannot be turned so. Check the dimensions or choose another."
        cautions.append(Caution(Message(text, {"point": crossing.point}), 3, "contour"))
    below = min(element.bounds().r_min for element in solution.contour)
    if below < -1e-9:
        text = "The contour passes {below} beyond the axis. Check the dimensions or choose another solution."
        cautions.append(Caution(Message(text, {"below": Quantity(-below, LENGTH)}), 3, "contour"))
    if beside.bar_radius is not None and not beside.habits.fits_bar(solution.contour):
        text = "The contour reaches {largest}, more than the bar of {bar}: it cannot be turned from it. Check both."
        largest = max(element.bounds().r_max for element in solution.contour)
        sizes: dict[str, Value] = {
            "largest": Quantity(2.0 * largest, DIAMETER),
            "bar": Quantity(2.0 * beside.bar_radius, DIAMETER),
        }
        cautions.append(Caution(Message(text, sizes), 3, "bar_diameter"))
    if len(found.solutions) > 1:
        text = "{count} contours have these dimensions; number {number} is drawn. Choose the one that the print shows."
        values: dict[str, Value] = {"count": len(found.solutions), "number": index + 1}
        cautions.append(Caution(Message(text, values), 1, "contour"))
    return cautions


STEM = {
    "contour": "s_x0_z0*f*c1*l_x22_z-22_tp1:10*f_x24 g6*t_dz-38*f_x31*t*a_r8_smooth*l_x41_z-90_ha30_smooth",
    "bar_diameter": "42",
    "material": "42CrMo4",
}
PAD = {
    "contour": "s_x0_z0*a_r2.9375_x2_cx0*e1/32*t_dz-0.75",
    "bar_diameter": "2.25",
    "material": "6061-T6",
    "units": "inch",
}
SEAT = {"contour": "s_x0_z-4.5*a_r75_z0_cx0*e0.8*f_x60*t_dz-20", "bar_diameter": "60", "material": "C45"}

FEATURE = Feature(
    path="geometry/contour",
    page="/contour",
    leads_to={
        "/nose": "The nose on this contour",
        "/reach-contour": "Does a tool reach?",
        "/plan": "Passes for this contour",
    },
    title="Contour",
    summary="Any turned contour, element by element: what the print leaves out is solved, every point comes complete.",
    inputs=ContourInputs,
    results=ContourResults,
    solve=solve_contour,
    rows={
        "dimensions": Rows(ElementRow, "Every element", "Elements"),
        "arcs": Rows(ArcRow, "Every arc", "Elements"),
        "solutions": Rows(SolutionRow, "Contours with these dimensions", "Solutions"),
    },
    supporting=(
        "solved_x",
        "solved_z",
        "solved_at",
        "largest_diameter",
        "overall_length",
        "smallest_concave_radius",
        "steepest_fall",
    ),
    example=STEM,
    examples={"Stem": STEM, "Pad": PAD, "Seat": SEAT},
)
