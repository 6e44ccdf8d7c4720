"""Runs of unknowns between known joints are independent: each keeps its ways, and the ways are combined."""

import math
import subprocess
import sys

import pytest

from calc.contour import Arc
from calc.contour.solving import GivenCorner, GivenElement, Start, solve
from calc.language.problems import Impossible

E = GivenElement


def _bulges(count: int) -> list[GivenElement]:
    """Arcs by end and radius one after another, each of which bulges in or out, short or long."""
    return [E("arc", z=-10.0 * (i + 1), r=40.0, radius=7.0) for i in range(count)]


def test_runs_are_combined_with_the_likeliest_first() -> None:
    solutions = solve(Start(0.0, 40.0), _bulges(2))
    first = solutions.solutions[0]
    assert all(abs(element.sweep) < math.pi for element in first.sharp)
    assert [choice.elements for choice in first.choices] == [(0,), (1,)]
    assert {choice.index for choice in first.choices} == {0}
    assert solutions.complete


def test_each_choice_of_a_run_has_words_of_its_own() -> None:
    solutions = solve(Start(0.0, 40.0), _bulges(2)).solutions
    for run in range(2):
        words = {(s.choices[run].index, s.choices[run].label.say()) for s in solutions}
        assert len({index for index, _ in words}) == len({label for _, label in words}) == len(words)


def test_no_more_than_sixteen_are_returned_and_more_is_said() -> None:
    solutions = solve(Start(0.0, 40.0), _bulges(8))
    assert len(solutions.solutions) == 16
    assert solutions.more
    assert len({solution.label.say() for solution in solutions.solutions}) == 16


def test_a_known_joint_keeps_runs_apart() -> None:
    elements = [E("line", length=25.0, r=47.0), E("line", z=-30.0, r=40.0), E("line", length=25.0, r=47.0)]
    solution = solve(Start(0.0, 40.0), elements).solutions[0]
    assert [choice.elements for choice in solution.choices] == [(0, 1), (2,)]


def test_a_contour_that_crosses_itself_is_left_out_where_another_does_not() -> None:
    elements = [E("line", r=20.0, z=-30.0), E("line", length=25.0, z=-6.0), E("line", r=40.0, z=-6.0)]
    solutions = solve(Start(0.0, 20.0), elements).solutions
    assert len(solutions) == 1
    assert not solutions[0].crossings


def test_the_only_contour_is_returned_even_if_it_crosses_itself_and_says_so() -> None:
    elements = [E("line", z=-20.0, r=10.0), E("line", z=-20.0, r=20.0), E("line", z=-10.0, r=5.0)]
    (solution,) = solve(Start(0.0, 10.0), elements).solutions
    assert solution.crossings
    assert solution.label.say() == "Crosses itself at X20.000 Z-13.333"


def test_corners_bear_the_index_of_the_element_that_they_end() -> None:
    elements = [
        E("line", z=0.0, angle=math.pi / 2, corner=GivenCorner("radius", 2.0)),
        E("line", r=15.0, z=-20.0, angle=math.pi, corner=GivenCorner("chamfer", 1.0)),
        E("line", r=25.0, z=-20.0),
    ]
    (solution,) = solve(Start(0.0, 0.0), elements).solutions
    assert [(one.of, one.is_corner) for one in solution.elements] == [
        (0, False), (0, True), (1, False), (1, True), (2, False),
    ]  # fmt: skip
    rounded = solution.elements[1].element
    assert isinstance(rounded, Arc)
    assert rounded.start == pytest.approx((0.0, 13.0))
    assert rounded.end == pytest.approx((-2.0, 15.0))
    assert solution.joints[1] == (0.0, 15.0)


def test_corners_that_take_a_whole_element_are_told() -> None:
    elements = [
        E("line", z=0.0, r=10.0, corner=GivenCorner("chamfer", 3.0)),
        E("line", r=10.0, z=-3.0, corner=GivenCorner("chamfer", 3.0)),
        E("line", r=20.0, z=-3.0),
    ]
    with pytest.raises(Impossible) as error:
        solve(Start(0.0, 0.0), elements)
    assert error.value.faults[0].field == "elements.1.corner"


def test_importing_the_solver_loads_no_numpy() -> None:
    code = "import sys, calc.contour.solving; sys.exit('numpy' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_a_closed_form_needs_no_numpy() -> None:
    code = (
        "import sys\n"
        "from calc.contour.solving import GivenElement as E, Start, solve\n"
        "solve(Start(0.0, 10.0), [E('arc', z=-10.0, r=20.0, radius=12.0)])\n"
        "sys.exit('numpy' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
