"""Any turned contour: what the print gives of it, the blanks solved, its points and what it asks of the insert."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import replace
from functools import partial

from calc.answer.drawing import Drawing
from calc.answer.feature import Answer, Feature, KeyPoint, Rows
from calc.contour import Arc, Chain, Point, Side, surface_of_revolution, volume_of_revolution
from calc.contour.solving import GivenElement, Solution, Solutions, Start
from calc.contour.solving.habits import Habits
from calc.contour.text import ContourGiven
from calc.cutting import nouns
from calc.cutting.materials import material
from calc.language.fields import Declared, carried, choice, contour, part, result, word
from calc.language.messages import Message, Phrase
from calc.language.problems import Fault, Missing
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
from calc.questions.shapes.contour_cautions import cautions_of
from calc.questions.shapes.contour_choices import choice_names, picked
from calc.questions.shapes.contour_dimensions import dimensioned
from calc.questions.shapes.contour_settled import settled
from calc.questions.shapes.contour_side import can_be_drawn, drawing, smallest_concave_radius, steepest_fall
from calc.questions.shapes.contour_solved import blanks_solved, count_solved, first_solved, of_grooves
from calc.questions.shapes.contour_tables import (
    ArcRow,
    CalloutRow,
    ElementRow,
    SolutionRow,
    arc_row,
    callout_rows,
    chamfer_notes,
    corner_word,
    element_row,
    solution_rows,
)
from calc.shapes.listing import key_points

MAY_BE_MORE = "There may be more contours with these dimensions than are listed."
GIVE_TURNS = "There may be more contours with these dimensions than are listed: give the turn of each arc."


class Beside(Declared):
    """What stands beside the contour: on which side the tool is, the bar and its material."""

    side: Side = choice(
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
        return Habits(self.side, self.bar_radius)

    @property
    def bar_radius(self) -> float | None:
        """The bar's radius, mm."""
        return self.bar_diameter / 2 if self.bar_diameter else None


class ContourInputs(Declared):
    """The contour row by row; which solution is meant; what stands beside it."""

    contour: ContourGiven | None = contour("Contour")
    chosen: str | None = carried("Chosen solution")
    beside: Beside = part(Beside, "Tool, bar and material")


class ContourResults(Declared):
    """The contour as a whole, and what it asks of an insert."""

    contour: str = word("The contour")
    solved_x: float | None = result(X, "First solved X")
    solved_z: float | None = result(Z, "First solved Z")
    solved_at: str | None = word("Solved point")
    largest_diameter: float = result(DIAMETER, "Largest diameter", brief="largest")
    overall_length: float = result(LENGTH, "Length along Z", brief="long")
    smallest_concave_radius: float | None = result(
        RADIUS, "Smallest inside radius", hint="fillets counted; the nose must be smaller"
    )
    steepest_fall: float | None = result(
        ANGLE, "Steepest fall away from the tool", hint="from the axis, going to the chuck"
    )
    element_count: float = result(COUNT, "Elements, corners included")
    length: float = result(LENGTH, "Length of the contour")
    volume: float = result(VOLUME, "Volume between contour and axis")
    surface: float = result(AREA, "Surface turned")
    mass: float | None = result(MASS, "Mass of that volume")


def solve_contour(inputs: ContourInputs) -> Answer[ContourResults]:
    """The contour with its blanks solved. Raises `Problem` where the print gives too little, too much or nothing."""
    if inputs.contour is None or not inputs.contour.elements:
        raise Missing(Fault("contour", Message("Add the first element: a face, a cylinder, a line or an arc.")))
    found = settled(inputs.contour, inputs.beside.habits)
    names = choice_names(found.solutions)
    index, notes = picked(inputs.chosen, names)
    elements, grooves = inputs.contour.elements, of_grooves(inputs.contour)
    answer = described(found, index, inputs.contour.start, elements, inputs.beside, grooves)
    draw = answer.drawing
    return replace(
        answer,
        notes=(*answer.notes, *notes),
        tables={
            **answer.tables,
            "callouts": callout_rows(found.solutions[index], inputs.contour),
            "solutions": solution_rows(found.solutions, names),
        },
        drawing=partial(_dimensioned, draw, found.solutions[index], inputs.contour) if callable(draw) else None,
        solved=blanks_solved(found.solutions[index], inputs.contour),
    )


def _dimensioned(draw: Callable[[], Drawing], solution: Solution, given: ContourGiven) -> Drawing:
    return dimensioned(draw(), solution, given)


def described(
    found: Solutions,
    index: int,
    start: Start,
    given_elements: Sequence[GivenElement],
    beside: Beside,
    grooves: Collection[int] = (),
) -> Answer[ContourResults]:
    """The answer that the solution of this index gives: results, points, every element, cautions, the sketch."""
    chosen = found.solutions[index]
    chain = Chain(chosen.contour)
    is_open = any(one.kind == "arc" and one.turn is None for one in given_elements)
    more = () if found.complete and not found.more else (Message(GIVE_TURNS if is_open else MAY_BE_MORE),)
    first = first_solved(chosen, start, given_elements, grooves)
    return Answer(
        results=_results(chain, beside, first, count_solved(chosen, start, given_elements, grooves)),
        headline="contour",
        points=_points(chosen),
        contour=chain,
        cautions=tuple(cautions_of(found, index, beside.habits)),
        notes=(*found.notes, *chamfer_notes(chosen, given_elements), *more),
        tables={
            "callouts": callout_rows(chosen),
            "dimensions": tuple(map(element_row, chosen.elements)),
            "arcs": tuple(arc_row(each, each.element) for each in chosen.elements if isinstance(each.element, Arc)),
        },
        drawing=partial(drawing, chain, beside.side, beside.bar_radius) if can_be_drawn(chain) else None,
    )


def _in_words(chain: Chain, solved: int) -> str:
    """The contour in a headline: the points to key in, and how many of them were solved."""
    text = "{count} points, {solved} solved" if solved else "{count} points"
    return Phrase(text, count=len(chain) + 1, solved=solved)


def _results(chain: Chain, beside: Beside, first: tuple[str, Point | None, str], solved: int) -> ContourResults:
    bounds = chain.bounds
    volume = abs(volume_of_revolution(chain))
    work = material(beside.material) if beside.material else None
    _, spot, where = first
    return ContourResults(
        contour=_in_words(chain, solved),
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
    ends = (
        Phrase("{corner_word} of {number}", corner_word=corner_word(solved), number=solved.of + 1)
        if solved.is_corner
        else Phrase("end of {number}", number=solved.of + 1)
        for solved in solution.elements
    )
    return key_points(solution.contour, ("start", *ends))


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
        "/part": "Take this into a part",
    },
    title="Contour",
    summary="Any turned contour, element by element: what the print leaves out is solved, every point comes complete.",
    solve=solve_contour,
    rows={
        "callouts": Rows(CalloutRow, "Threads, undercuts and grooves", "Elements"),
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
