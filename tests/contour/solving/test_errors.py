"""What is wrong with a print is said at its field, in a sentence with quantities."""

import math

import pytest

from calc.contour import Point
from calc.contour.solving import GivenCorner, GivenElement, Start, UnderGiven, solve
from calc.language.given import Given
from calc.language.problems import Contradiction, Impossible, OutOfRange, Problem
from calc.language.quantities import View
from tests.contour.solving.cases import deg

E = GivenElement
BACK = math.pi


def _problem(start: Start, *elements: GivenElement) -> Problem:
    with pytest.raises(Problem) as error:
        solve(start, elements)
    return error.value


# --- too little -------------------------------------------------------------------------------------------------------


def test_what_is_missing_is_told_with_each_dimension_that_would_do() -> None:
    problem = _problem(Start(0.0, 10.0), E("line", angle=BACK), E("line", z=-10.0, r=20.0))
    assert isinstance(problem, UnderGiven)
    assert problem.count == 1
    assert problem.elements == (0, 1)
    assert set(problem.would_do) == {
        "elements.0.z", "elements.0.dz", "elements.0.length", "elements.1.angle", "elements.1.length", "elements.1.dz",
    }  # fmt: skip
    assert "The length of element 1 would do: one more dimension is needed." in str(problem)


def test_a_dimension_that_is_settled_already_would_not_do() -> None:
    problem = _problem(Start(0.0, 10.0), E("line", r=10.0))
    assert isinstance(problem, UnderGiven)
    assert "elements.0.angle" not in problem.would_do
    assert "elements.0.z" in problem.would_do


def test_a_blank_print_is_told_how_much_it_lacks() -> None:
    problem = _problem(Start(), E("line"), E("arc"))
    assert isinstance(problem, UnderGiven)
    assert problem.count == 7
    assert "7 more dimensions are needed" in str(problem)


def test_where_all_steps_are_known_a_place_is_missing_not_a_step() -> None:
    problem = _problem(Start(None, 5.0), E("line", angle=deg(170), length=10.0), E("line", dz=-5.0, dr=3.0))
    assert isinstance(problem, UnderGiven)
    assert set(problem.would_do) == {"start.z", "elements.0.z", "elements.1.z"}


def test_a_dimension_given_twice_does_not_hide_what_is_missing() -> None:
    problem = _problem(
        Start(None, 5.0),
        E("line", angle=deg(170), length=10.0, dz=10.0 * math.cos(deg(170))),
        E("line", dr=3.0, dz=-5.0),
    )
    assert isinstance(problem, UnderGiven)
    assert "start.z" in problem.would_do


# --- too much ---------------------------------------------------------------------------------------------------------


def test_dimensions_that_disagree_are_named_with_the_difference() -> None:
    problem = _problem(Start(0.0, 10.0), E("line", angle=BACK, z=-20.0, r=10.2))
    assert isinstance(problem, Contradiction)
    assert problem.fields[0] == "elements.0.x"
    assert set(problem.fields) == {"elements.0.x", "start.x", "elements.0.angle"}
    assert "is given as X20.400 mm, but the other dimensions make it X20.000 mm: X0.400 mm apart" in str(problem)
    assert problem.otherwise["elements.0.x"].value == pytest.approx(10.0)


def test_each_dimension_that_disagrees_is_told_with_what_the_others_make_of_it() -> None:
    problem = _problem(Start(0.0, 10.0), E("line", z=-24.0, r=17.0, length=26.0))
    assert isinstance(problem, Contradiction)
    said = {field: quantity.value for field, quantity in problem.otherwise.items()}
    assert said["elements.0.length"] == pytest.approx(25.0)
    assert abs(said["elements.0.z"]) == pytest.approx(math.sqrt(26.0**2 - 7.0**2))
    assert said["elements.0.x"] == pytest.approx(20.0)


def test_a_long_blank_print_is_answered_without_a_large_computation() -> None:
    problem = _problem(Start(0.0, 10.0), *[E("arc")] * 300)
    assert isinstance(problem, UnderGiven)
    assert problem.count == 900
    assert "elements.299.radius" in problem.would_do


def test_leaving_any_one_of_the_named_dimensions_blank_resolves_it() -> None:
    start, line = Start(0.0, 10.0), {"z": -24.0, "r": 17.0, "length": 26.0}
    assert isinstance(_problem(start, E("line", **line)), Contradiction)  # type: ignore[arg-type]  # by name
    for name in line:
        kept = {key: value for key, value in line.items() if key != name}
        assert solve(start, [E("line", **kept)]).solutions  # type: ignore[arg-type]  # by name


def test_a_tangent_that_cannot_be_is_among_the_named() -> None:
    problem = _problem(
        Start(0.0, 10.0),
        E("line", z=-20.0, r=10.0),
        E("arc", z=-30.0, r=20.0, centre_z=-20.0, centre_r=20.4, tangent=True),
    )
    assert isinstance(problem, Contradiction)
    assert "elements.1.tangent" in problem.fields


@pytest.mark.parametrize(
    ("rows", "field"),
    [
        ([E("line", r=11.0, z=-10.0, dr=0.0)], "start.x"),
        ([E("line", z=-10.0, dr=0.0), E("arc", radius=20.0, r=15.0, z=-25.0, tangent=True)], "elements.1.x"),
    ],
)
def test_that_a_cylinder_keeps_its_x_is_not_named_as_the_wrong_dimension(rows: list[GivenElement], field: str) -> None:
    """A cylinder from one diameter to another, and an arc of the wrong radius behind one: a typed number is wrong."""
    problem = _problem(Start(0.0, 10.0), *rows)
    assert isinstance(problem, Contradiction)
    assert problem.faults[0].field == field


def test_a_redundant_value_agrees_within_half_of_its_last_decimal() -> None:
    # the line 3, 4, 5 with its angle to one decimal of a degree
    angle = Given(deg(126.9), slack=deg(0.05))
    (solution,) = solve(Start(0.0, 10.0), [E("line", z=-3.0, r=14.0, length=5.0, angle=angle)]).solutions
    assert solution.joints[1].r == pytest.approx(14.0, abs=0.0005)
    off = Given(deg(126.7), slack=deg(0.05))
    assert isinstance(_problem(Start(0.0, 10.0), E("line", z=-3.0, r=14.0, length=5.0, angle=off)), Contradiction)


def test_rounded_joints_of_a_blend_agree_with_its_radius() -> None:
    # an S whose joints are printed to three decimals beside its radii
    elements = [
        E("line", r=15.0, z=-12.351),
        E("arc", radius=5.0, tangent=True, r=18.846, z=-17.216),
        E("arc", radius=8.0, tangent=True, z=-25.0, r=25.0),
        E("line", r=25.0, z=-40.0, tangent=True),
    ]
    (solution,) = solve(Start(0.0, 15.0), elements).solutions
    assert solution.sharp[1].carrier.radius == pytest.approx(5.0, abs=0.001)  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("start", "element"),
    [
        (Start(0.0, 20.0), E("arc", z=-10.0006, r=20.0, radius=5.0, turn="ccw")),
        (Start(0.0, 20.0), E("line", z=-10.0004, length=10.0)),
    ],
)
def test_a_touch_that_only_rounding_misses_is_a_touch(start: Start, element: GivenElement) -> None:
    """A half circle and a level line, each with an end that is rounded up."""
    (solution,) = solve(start, [element]).solutions
    assert solution.joints[1].distance_to(Point(element.z or 0.0, 20.0)) < 1e-6


def test_a_print_that_gives_more_than_enough_and_agrees_is_fine() -> None:
    (solution,) = solve(
        Start(0.0, 10.0), [E("line", z=-24.0, r=17.0, dz=-24.0, dr=7.0, length=25.0, angle=math.atan2(7.0, -24.0))]
    ).solutions
    assert solution.joints[1] == (-24.0, 17.0)


def test_level_lines_of_different_diameters_disagree_though_more_is_missing() -> None:
    problem = _problem(Start(0.0, 10.0), E("line", angle=BACK), E("line", angle=BACK, z=-50.0, r=12.0))
    assert isinstance(problem, Contradiction)
    assert "X4.000 mm apart" in str(problem)


def test_what_is_settled_already_is_returned_with_what_is_missing() -> None:
    problem = _problem(Start(0.0, 10.0), E("line", z=-20.0, r=10.0), E("line", angle=deg(150)), E("line", r=30.0))
    assert isinstance(problem, UnderGiven)
    assert list(problem.settled) == [0]
    assert problem.settled[0].end == (-20.0, 10.0)


# --- no solution ------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("start", "elements", "sentence"),
    [
        (
            Start(0.0, 20.213),
            [E("line", r=20.213, angle=BACK), E("arc", centre_z=-30.0, centre_r=0.0, radius=20.0, z=-50.0)],
            "The line of element 1 passes 0.213 mm outside the arc of element 2.",
        ),
        (
            Start(0.0, 10.0),
            [E("arc", z=-10.0, r=20.0, radius=5.0)],
            "Radius 5 mm of element 1 does not span its ends; the smallest that does is 7.071 mm.",
        ),
        (
            Start(0.0, 10.0),
            [E("line", length=5.0, z=-7.5)],
            "The line of element 1 is 2.500 mm too short to reach its end.",
        ),
        (
            Start(0.0, 10.0),
            [E("line", angle=deg(150)), E("line", angle=deg(150), z=-50.0, r=12.0)],
            "Elements 1 and 2 run parallel, 23.268 mm apart: they never meet.",
        ),
        (
            Start(0.0, 10.0),
            [E("line", angle=BACK, z=5.0)],
            "The line of element 1 would have to run backward by 5.000 mm.",
        ),
        (
            Start(0.0, 0.0),
            [E("arc", centre_z=-12.0, centre_r=0.0, radius=10.0, r=8.0)],
            "The radius of element 1 is 2.000 mm too small: from its start to its centre in Z is more.",
        ),
        (
            Start(0.0, 10.0),
            [E("arc", centre_z=-10.0, centre_r=10.0, r=21.0)],
            "The arc of element 1 stays 1.000 mm short of the X that is given.",
        ),
        (
            Start(0.0, 0.0),
            [
                E("arc", centre_z=-10.0, centre_r=0.0, turn="ccw"),
                E("arc", centre_z=-40.0, centre_r=0.0, radius=15.0, z=-55.0),
            ],
            "The arcs of elements 1 and 2 lie 5.000 mm apart: they do not meet as given.",
        ),
        (
            Start(0.0, 0.0),
            [
                E("arc", centre_z=-20.0, centre_r=0.0, turn="ccw"),
                E("arc", centre_z=-22.0, centre_r=0.0, radius=3.0, z=-25.0),
            ],
            "The arcs of elements 1 and 2 lie 15.000 mm one inside the other: they do not meet as given.",
        ),
        (
            Start(-35.0, 2.0),
            [E("line"), E("arc", centre_z=-40.0, centre_r=0.0, radius=20.0, z=-60.0, tangent=True)],
            "The line of element 1 passes 14.615 mm inside the arc of element 2.",
        ),
    ],
)
def test_why_there_is_no_solution_is_said_with_the_gap(
    start: Start, elements: list[GivenElement], sentence: str
) -> None:
    problem = _problem(start, *elements)
    assert isinstance(problem, Impossible)
    (fault,) = problem.faults
    assert fault.message.say() == sentence
    assert fault.field.startswith("elements.")


def test_an_inch_reader_reads_the_gap_in_inches() -> None:
    problem = _problem(Start(0.0, 10.0), E("line", angle=BACK, z=25.4))
    assert problem.say(View("inch"))[0][1] == "The line of element 1 would have to run backward by 1.0000 in."


def test_a_corner_that_is_too_large_says_the_largest_that_fits() -> None:
    problem = _problem(
        Start(0.0, 10.0),
        E("line", angle=BACK, z=-20.0, corner=GivenCorner("radius", 12.0)),
        E("line", dr=10.0, angle=math.pi / 2),
    )
    assert isinstance(problem, Impossible)
    assert problem.faults[0].field == "elements.0.corner"
    assert problem.faults[0].message.say() == (
        "At the end of element 1, radius 12.000 mm does not fit, the largest that does is 10.000 mm."
    )


# --- what cannot be meant ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("element", "field"),
    [
        (E("line", radius=3.0), "elements.0.radius"),
        (E("line", centre_z=3.0), "elements.0.centre_z"),
        (E("line", centre_r=3.0), "elements.0.centre_x"),
        (E("line", turn="cw"), "elements.0.turn"),
        (E("arc", angle=3.0), "elements.0.angle"),
        (E("arc", length=3.0), "elements.0.length"),
        (E("arc", radius=0.0), "elements.0.radius"),
        (E("arc", radius=-4.0), "elements.0.radius"),
        (E("line", length=0.0), "elements.0.length"),
        (E("line", z=math.nan), "elements.0.z"),
        (E("line", r=math.inf), "elements.0.x"),
        (E("line", z=1e12), "elements.0.z"),
        (E("line", dr=-1e12), "elements.0.dx"),
        (E("line", tangent=True), "elements.0.tangent"),
        (E("line", corner=GivenCorner("radius", 1.0)), "elements.0.corner"),
        (E("curve"), "elements.0.kind"),  # type: ignore[arg-type]
        (E("arc", turn="left"), "elements.0.turn"),  # type: ignore[arg-type]
    ],
)
def test_a_value_that_cannot_be_meant_is_refused_at_its_field(element: GivenElement, field: str) -> None:
    problem = _problem(Start(0.0, 0.0), element)
    assert isinstance(problem, OutOfRange)
    assert field in [fault.field for fault in problem.faults]


@pytest.mark.parametrize("size", [0.0, -1.0, math.nan, math.inf])
def test_a_corner_without_a_size_is_refused(size: float) -> None:
    lines = [E("line", z=-5.0, corner=GivenCorner("chamfer", size)), E("line", r=9.0)]
    problem = _problem(Start(0.0, 0.0), *lines)
    assert problem.faults[0].field == "elements.0.corner.size"


def test_a_contour_needs_elements_and_not_thousands() -> None:
    assert _problem(Start()).faults[0].field == "elements"
    assert isinstance(_problem(Start(), *[E("line")] * 1001), OutOfRange)
