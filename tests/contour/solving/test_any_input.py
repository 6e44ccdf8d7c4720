"""Whatever is typed, the answer is a set of contours or a problem with sentences, and it comes soon."""

import math

from hypothesis import given, settings
from hypothesis import strategies as st

from calc.contour import Chain
from calc.contour.solving import GivenCorner, GivenElement, Solutions, Start, solve
from calc.language.problems import Problem
from calc.language.quantities import View

numbers = st.one_of(
    st.none(),
    st.sampled_from([0.0, 1.0, -1.0, 5.0, 10.0, -20.0, 1e-9, 1e7, -1e7, 1e-300]),
    st.integers(-60, 60).map(float),
    st.floats(-100.0, 100.0),
)
anything = st.one_of(numbers, st.floats(allow_nan=True, allow_infinity=True))
angles = st.one_of(st.none(), st.sampled_from([0.0, math.pi, math.pi / 2, -math.pi / 2]), st.floats(-7.0, 7.0))
corners = st.one_of(st.none(), st.builds(GivenCorner, st.sampled_from(["chamfer", "radius"]), st.floats(0.1, 20.0)))


def _elements(values: st.SearchStrategy[float | None]) -> st.SearchStrategy[GivenElement]:
    ends = {"z": values, "r": values, "dz": values, "dr": values, "tangent": st.booleans(), "corner": corners}
    line = st.builds(GivenElement, st.just("line"), angle=angles, length=values, **ends)
    arc = st.builds(
        GivenElement,
        st.just("arc"),
        radius=values,
        centre_z=values,
        centre_r=values,
        turn=st.sampled_from([None, "cw", "ccw"]),
        **ends,
    )
    return st.one_of(line, arc)


def _answer(start: Start, elements: list[GivenElement]) -> Solutions | None:
    """The solutions, None where there is a problem that can be said."""
    try:
        return solve(start, elements)
    except Problem as problem:
        said = problem.say(View("inch"))
        assert said
        assert all(field.startswith(("start", "elements")) and sentence.endswith(".") for field, sentence in said)
        assert not any("nan" in sentence for _, sentence in said)
        return None


@settings(max_examples=400, deadline=None)
@given(st.builds(Start, numbers, numbers), st.lists(_elements(numbers), min_size=1, max_size=5))
def test_any_blanks_and_numbers_are_answered(start: Start, elements: list[GivenElement]) -> None:
    answer = _answer(start, elements)
    if answer is not None:
        assert 0 < len(answer.solutions) <= 16
        for solution in answer.solutions:
            Chain(solution.contour)
            assert solution.label.say()
            assert len(solution.sharp) == len(elements)


@settings(max_examples=200, deadline=None)
@given(st.builds(Start, anything, anything), st.lists(_elements(anything), max_size=3))
def test_nan_and_infinity_are_refused_not_computed_with(start: Start, elements: list[GivenElement]) -> None:
    _answer(start, elements)
