"""Whatever is left out of a print that still says enough, the contour that it was made from is among the solutions."""

import math
import random
from dataclasses import replace

import pytest
from hypothesis import assume, event, given, settings
from hypothesis import strategies as st

from calc.contour import Chain
from calc.contour.solving import GivenElement, Solutions, Start, solve
from calc.language.problems import Problem
from tests.contour.solving.made import Print, full_print, has, print_of, random_contour, random_print
from tests.tries import THOROUGH

EXAMPLES = 2000 if THOROUGH else 45

seeds = st.integers(0, 2**40)


def _near(made: Print) -> float:
    """What rounding may make of a contour that is determined with this sharpness, mm."""
    return max(1e-9, 1e-13 / made.sharpness**2) * made.size


@settings(max_examples=EXAMPLES, deadline=None)
@given(seeds, st.integers(1, 8))
def test_the_original_is_among_the_solutions(seed: int, count: int) -> None:
    made = random_print(seed, count)
    assume(made.sharpness > 1e-3)
    solutions = solve(made.start, made.elements, most=3000)
    found = has(solutions, made.original, _near(made))
    event(f"{'all' if solutions.complete else 'maybe not all'} solutions, {'found' if found else 'not found'}")
    assert found or not solutions.complete


@pytest.mark.parametrize("count", [2, 4, 6, 8])
def test_hardly_a_contour_is_missed_among_those_that_are_returned(count: int) -> None:
    prints = [random_print(seed, count) for seed in range(40)]
    found = [has(solve(made.start, made.elements), made.original, 1e-5 * made.size) for made in prints]
    assert sum(found) >= {2: 40, 4: 39, 6: 38, 8: 37}[count]


@settings(max_examples=EXAMPLES // 3, deadline=None)
@given(seeds, st.integers(1, 8))
def test_every_solution_has_the_dimensions_that_were_given(seed: int, count: int) -> None:
    made = random_print(seed, count)
    near = 1e-7 * made.size
    for solution in solve(made.start, made.elements).solutions:
        assert len(solution.sharp) == count
        Chain(solution.sharp)
        for element, given_ in zip(solution.sharp, made.elements, strict=True):
            said = {
                "z": element.end.z,
                "r": element.end.r,
                "dz": element.end.z - element.start.z,
                "dr": element.end.r - element.start.r,
                "length": element.length,
                "radius": 0.0 if given_.kind == "line" else element.carrier.radius,  # type: ignore[union-attr]
            }
            for name, value in said.items():
                wanted = getattr(given_, name)
                assert wanted is None or value == pytest.approx(wanted, abs=near), name
            assert given_.turn in (None, getattr(element, "turn", None))
        for before, after, given_ in zip(solution.sharp, solution.sharp[1:], made.elements[1:], strict=False):
            if given_.tangent:
                assert abs(math.remainder(after.start_heading - before.end_heading, math.tau)) < 1e-6


@settings(max_examples=EXAMPLES // 3, deadline=None)
@given(seeds, st.integers(1, 8))
def test_a_print_that_gives_everything_has_one_solution(seed: int, count: int) -> None:
    chance = random.Random(seed)
    elements, tangent = random_contour(chance, count)
    solutions = solve(*full_print(elements, tangent))
    assert has(solutions, elements, 1e-6 * max(element.size for element in elements))
    assert len(solutions.solutions) == 1


@settings(max_examples=EXAMPLES // 3, deadline=None)
@given(seeds, st.integers(1, 6), st.sampled_from([25.4, 1 / 25.4, 1000.0, 0.001]))
def test_an_inch_part_and_a_mm_part_are_solved_alike(seed: int, count: int, scale: float) -> None:
    made = random_print(seed, count)
    assume(made.sharpness > 1e-3)
    one = solve(made.start, made.elements)
    other = solve(*_scaled(made, scale))
    assume(one.complete and other.complete and not one.more)
    assert len(one.solutions) == len(other.solutions)
    for a, b in zip(one.solutions, other.solutions, strict=True):
        for p, q in zip(a.joints, b.joints, strict=True):
            assert p.scaled(scale).distance_to(q) <= 1e-6 * made.size * scale


def _scaled(made: Print, scale: float) -> tuple[Start, list[GivenElement]]:
    lengths = ("z", "r", "dz", "dr", "length", "radius", "centre_z", "centre_r")

    def of(value: float | None) -> float | None:
        return None if value is None else value * scale

    elements = []
    for one in made.elements:
        changed = {name: of(getattr(one, name)) for name in lengths}
        fixed = {"angle": one.angle, "turn": one.turn, "tangent": one.tangent}
        elements.append(GivenElement(one.kind, **changed, **fixed))  # type: ignore[arg-type]  # by name
    return Start(of(made.start.z), of(made.start.r)), elements


@settings(max_examples=EXAMPLES // 3, deadline=None)
@given(seeds, st.integers(2, 6))
def test_the_same_question_has_the_same_answer(seed: int, count: int) -> None:
    made = random_print(seed, count)
    assert _said(solve(made.start, made.elements)) == _said(solve(made.start, made.elements))


def _said(solutions: Solutions) -> list[tuple[str, object]]:
    return [(solution.label.say(), solution.joints) for solution in solutions.solutions]


@settings(max_examples=EXAMPLES, deadline=None)
@given(seeds, st.integers(2, 8), st.data())
def test_one_dimension_less_is_told_as_missing_with_what_would_do(seed: int, count: int, data: st.DataObject) -> None:
    chance = random.Random(seed)
    made = print_of(*random_contour(chance, count), chance)
    assume(made.sharpness > 1e-3)
    given_ = [(i, n) for i, e in enumerate(made.elements) for n in _given_names(e)]
    index, name = data.draw(st.sampled_from(given_))
    elements = list(made.elements)
    elements[index] = replace(elements[index], **{name: None})  # type: ignore[arg-type]  # by name
    with pytest.raises(Problem) as error:
        solve(made.start, elements)
    fields = [fault.field for fault in error.value.faults]
    public = {"r": "x", "dr": "dx", "centre_r": "centre_x"}.get(name, name)
    assert f"elements.{index}.{public}" in fields


def _given_names(element: GivenElement) -> list[str]:
    names = ("z", "r", "dz", "dr", "angle", "length", "radius", "centre_z", "centre_r")
    return [name for name in names if getattr(element, name) is not None]
