"""Any turned contour: what the print gives of it, the blanks solved, its points and what it asks of the insert."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial

from calc.contour import Arc, Chain, Element, Point, surface_of_revolution, volume_of_revolution
from calc.contour.solving import Solution, Solutions, UnderGiven, solve
from calc.contour_text import ContourGiven
from calc.cutting.materials import material
from calc.drawing import Drawing
from calc.feature import Answer, Feature, KeyPoint, Rows
from calc.fields import carried, choice, contour, given, result, word
from calc.messages import Caution, Message, Quantity, Value
from calc.plan.inputs import MATERIALS
from calc.problems import Fault, Missing, Problem
from calc.quantities import (
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

NEAR = 0.05  # mm: how far the chosen point may be from a solution's and still mean it


@dataclass(frozen=True, kw_only=True)
class ContourInputs:
    """The contour row by row; which solution is meant; on which side the tool stands; the bar and its material."""

    contour: ContourGiven | None = contour("Contour")
    chosen: str | None = carried("Chosen solution")
    side: str = choice(
        "The tool stands",
        {"right": "on the right of travel", "left": "on the left of travel"},
        "right",
        hint="right: outside and face, from the axis out and toward the chuck",
    )
    bar_diameter: float | None = given(DIAMETER, "Bar diameter", "B", above=0.0, brief="bar")
    material: str = choice("Material", MATERIALS, "")


@dataclass(frozen=True, kw_only=True)
class ContourResults:
    """The contour as a whole, and what it asks of an insert."""

    element_count: float = result(COUNT, "Elements, corners included")
    length: float = result(LENGTH, "Length of the contour")
    largest_diameter: float = result(DIAMETER, "Largest diameter")
    overall_length: float = result(LENGTH, "Length along Z")
    smallest_concave_radius: float | None = result(RADIUS, "Smallest concave radius", hint="the nose must be smaller")
    steepest_fall: float | None = result(
        ANGLE, "Steepest fall toward the axis", hint="from the axis, going to the chuck"
    )
    volume: float = result(VOLUME, "Volume between contour and axis")
    surface: float = result(AREA, "Surface turned")
    mass: float | None = result(MASS, "Mass of that volume")


@dataclass(frozen=True, kw_only=True)
class ElementRow:
    """One element, complete."""

    number: str = word("Element")
    kind: str = word("Kind")
    x: float = result(X, "to X")
    z: float = result(Z, "to Z")
    dx: float = result(X, "step in X")
    dz: float = result(Z, "step in Z")
    length: float = result(LENGTH, "Length")
    angle: float | None = result(ANGLE, "Angle from +Z")
    radius: float | None = result(RADIUS, "Radius")
    centre_x: float | None = result(X, "Centre X")
    centre_z: float | None = result(Z, "Centre Z")


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
    found = _solved(inputs.contour)
    names = choice_names(found.solutions)
    index, notes = _picked(inputs.chosen, names)
    chosen = found.solutions[index]
    chain = Chain(chosen.contour)
    if not found.complete or found.more:
        notes.append(Message("There may be more contours with these dimensions than are listed."))
    return Answer(
        results=_results(chain, inputs),
        headline="length",
        points=_points(chosen),
        contour=chain,
        cautions=tuple(_cautions(chosen)),
        notes=(*found.notes, *notes),
        tables={
            "elements": tuple(_row(number, element) for number, element in enumerate(chain, 1)),
            "solutions": _solution_rows(found.solutions, names) if len(found.solutions) > 1 else (),
        },
        drawing=partial(_drawing, chain, inputs),
        solved=_blanks_solved(chosen, inputs.contour),
    )


def _solved(contour_given: ContourGiven) -> Solutions:
    """All contours; what is wrong is said at the rows that it came from."""
    try:
        return solve(contour_given.start, contour_given.elements)
    except UnderGiven as problem:
        raise _one_sentence(problem).renamed(partial(_row_field, contour_given=contour_given)) from problem
    except Problem as problem:
        raise problem.renamed(partial(_row_field, contour_given=contour_given)) from problem


def _one_sentence(problem: UnderGiven) -> UnderGiven:
    """What is missing, said once instead of at every blank that would do."""
    numbers = ", ".join(str(index + 1) for index in problem.elements)
    values: dict[str, Value] = {"count": problem.count, "elements": numbers or "the start"}
    text = "One more dimension is needed: element {elements} can still move. Any of the blanks there would do."
    if problem.count > 1:
        text = "{count} more dimensions are needed: element {elements} can still move. Fill in blanks there."
    fault = Fault(problem.faults[0].field, Message(text, values))
    return UnderGiven(fault, count=problem.count, would_do=problem.would_do, elements=problem.elements)


def _row_field(field: str, contour_given: ContourGiven) -> str:
    """A field of the solver as the row's: `elements.2.radius` is `rows.3.r`."""
    where, _, rest = field.partition(".")
    if where == "start":
        return f"rows.0.{rest}"
    number, _, name = rest.partition(".")
    if where != "elements" or not number.isdigit():
        return field
    names = {"radius": "r", "centre_x": "cx", "centre_z": "cz", "angle": "at", "length": "len", "corner": "x"}
    return f"rows.{contour_given.rows[int(number)]}.{names.get(name.partition('.')[0], name)}"


def _blanks_solved(solution: Solution, contour_given: ContourGiven) -> dict[str, float]:
    """What every blank of the rows came out as, by the names of their fields."""
    found: dict[str, float] = {"rows.0.x": solution.sharp[0].start.r, "rows.0.z": solution.sharp[0].start.z}
    for row, element in zip(contour_given.rows, solution.sharp, strict=True):
        values = {"x": element.end.r, "z": element.end.z, "len": element.length}
        if isinstance(element, Arc):
            values |= {"r": element.radius, "cx": element.centre.r, "cz": element.centre.z}
        else:
            values |= {"at": element.start_heading % math.tau}
        found |= {f"rows.{row}.{name}": value for name, value in values.items()}
    return found


def choice_names(solutions: Sequence[Solution]) -> tuple[str, ...]:
    """A name for each solution: the first joint or centre that tells it from the others, in mm (X as diameter).

    The name stays the same when solutions come in another order, and shows where to look.
    """
    spots = [_telling_points(solution) for solution in solutions]
    return tuple(_name(number, spots) for number in range(len(solutions)))


def _telling_points(solution: Solution) -> dict[str, Point]:
    points = {f"p{number}": joint for number, joint in enumerate(solution.joints)}
    arcs = {
        f"c{number}": element.centre for number, element in enumerate(solution.sharp, 1) if isinstance(element, Arc)
    }
    return points | arcs


def _name(number: int, spots: Sequence[dict[str, Point]]) -> str:
    own, others = spots[number], [each for index, each in enumerate(spots) if index != number]
    for name, point in own.items():
        if all(name not in other or other[name].distance_to(point) > 2 * NEAR for other in others):
            return f"{name} {2 * point.r:.3f} {point.z:.3f}"
    return f"n{number + 1}"


def _picked(chosen: str | None, names: Sequence[str]) -> tuple[int, list[Message]]:
    if not chosen:
        return 0, []
    if chosen in names:
        return names.index(chosen), []
    near = [index for index, name in enumerate(names) if _is_near(chosen, name)]
    if near:
        return near[0], []
    return 0, [Message("The solution that was chosen does not exist with these dimensions; the first one is shown.")]


def _is_near(one: str, other: str) -> bool:
    first, second = one.split(), other.split()
    if len(first) != 3 or len(second) != 3 or first[0] != second[0]:
        return False
    try:
        return all(abs(float(a) - float(b)) <= 2 * NEAR for a, b in zip(first[1:], second[1:], strict=True))
    except ValueError:
        return False


def _results(chain: Chain, inputs: ContourInputs) -> ContourResults:
    bounds = chain.bounds
    volume = abs(volume_of_revolution(chain))
    work = material(inputs.material) if inputs.material else None
    return ContourResults(
        element_count=len(chain),
        length=chain.length,
        largest_diameter=2 * bounds.r_max,
        overall_length=bounds.z_max - bounds.z_min,
        smallest_concave_radius=smallest_concave_radius(chain, inputs.side),
        steepest_fall=steepest_fall(chain),
        volume=volume,
        surface=surface_of_revolution(chain),
        mass=volume * work.density if work else None,
    )


def smallest_concave_radius(chain: Chain, side: str) -> float | None:
    """The smallest radius (mm) of the arcs whose centre is on the tool's side of travel; None without one.

    >>> hollow = Chain((Arc(Point(0.0, 10.0), Point(-10.0, 20.0), Point(0.0, 20.0), "cw"),))
    >>> smallest_concave_radius(hollow, "right"), smallest_concave_radius(hollow, "left")
    (10.0, None)
    """
    turn = "cw" if side == "right" else "ccw"
    return min((element.radius for element in chain if isinstance(element, Arc) and element.turn == turn), default=None)


def steepest_fall(chain: Chain) -> float | None:
    """The steepest angle (rad, from the axis) at which the contour falls toward the axis on its way to the chuck.

    None where it never falls; a face straight down to the axis counts as 90 degrees.

    >>> from calc.contour import Line
    >>> round(steepest_fall(Chain((Line(Point(0.0, 10.0), Point(-10.0, 0.0)),))), 6) == round(math.pi / 4, 6)
    True
    """
    falls = [fall for element in chain for s in (0.0, element.length) if (fall := _fall(element, s)) > 0.0]
    return max(falls, default=None)


def _fall(element: Element, s: float) -> float:
    ahead = element.tangent_at(s)
    if ahead.z > 1e-9:
        return 0.0
    return math.atan2(-ahead.r, -ahead.z) if ahead.r < -1e-9 else 0.0


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


def _row(number: int, element: Element) -> ElementRow:
    arc = element if isinstance(element, Arc) else None
    return ElementRow(
        number=str(number),
        kind="line" if arc is None else f"arc, {'clockwise' if arc.turn == 'cw' else 'counter-clockwise'}",
        x=element.end.r,
        z=element.end.z,
        dx=element.end.r - element.start.r,
        dz=element.end.z - element.start.z,
        length=element.length,
        angle=element.start_heading % math.tau if arc is None else None,
        radius=arc.radius if arc else None,
        centre_x=arc.centre.r if arc else None,
        centre_z=arc.centre.z if arc else None,
    )


def _solution_rows(solutions: Sequence[Solution], names: Sequence[str]) -> tuple[SolutionRow, ...]:
    pairs = zip(solutions, names, strict=True)
    return tuple(
        SolutionRow(number=str(number), label=solution.label.say(), choice=name)
        for number, (solution, name) in enumerate(pairs, 1)
    )


def _cautions(solution: Solution) -> list[Caution]:
    found = []
    for crossing in solution.crossings[:1]:
        text = "The contour meets itself at {point} and cannot be turned so. Check the dimensions or choose another."
        found.append(Caution(Message(text, {"point": crossing.point}), 3, "contour"))
    below = min(solution.contour, key=lambda element: element.bounds().r_min).bounds().r_min
    if below < -1e-9:
        text = "The contour passes {below} beyond the axis. Check the dimensions or choose another solution."
        found.append(Caution(Message(text, {"below": Quantity(-below, LENGTH)}), 3, "contour"))
    return found


def _drawing(chain: Chain, inputs: ContourInputs) -> Drawing:
    ends = [chain.start, *(element.end for element in chain)]
    return Drawing(
        title="The contour",
        description="Half section with the axis across the page, the chuck at the left.",
        part=chain,
        bar_radius=inputs.bar_diameter / 2 if inputs.bar_diameter else None,
        spots=tuple((f"P{number}", point) for number, point in enumerate(ends, 1)),
    )


FEATURE = Feature(
    path="geometry/contour",
    page="/contour",
    title="Contour",
    summary="Any turned contour, element by element: what the print leaves out is solved, every point comes complete.",
    inputs=ContourInputs,
    results=ContourResults,
    solve=solve_contour,
    rows={
        "elements": Rows(ElementRow, "Every element", "Elements"),
        "solutions": Rows(SolutionRow, "Contours with these dimensions", "Solutions"),
    },
    supporting=("largest_diameter", "overall_length", "smallest_concave_radius", "steepest_fall"),
    example={
        "contour": "s_x0_z0*f*c1*l_x22_z-22_tp1:10*f_x24 -0.007/-0.020*t_dz-38*f_x31*t*a_r8_smooth"
        "*l_ha30_x41_z-90_smooth",
        "bar_diameter": "42",
        "material": "42CrMo4",
    },
)
