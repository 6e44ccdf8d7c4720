"""Whatever is typed, the answer is a set of contours or a problem with sentences, and it comes soon."""

import math
from contextlib import suppress
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from calc.contour import Chain
from calc.contour.solving import GivenCorner, GivenElement, Solutions, Start, solve
from calc.language.problems import Problem
from calc.language.quantities import View
from tests.drawn import mostly, mostly_answered

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


@st.composite
def _drawn(draw: st.DrawFn, here: tuple[float, float], to: tuple[float, float]) -> GivenElement:
    """A row as a print may have it: the end, or one place of it and a direction, or what it is from the start."""
    dz, dr = to[0] - here[0], to[1] - here[1]
    corner = draw(st.none() | st.builds(GivenCorner, st.sampled_from(["chamfer", "radius"]), st.floats(0.1, 0.4)))
    if draw(st.booleans()):
        radius = draw(st.floats(0.6, 4.0)) * math.hypot(dz, dr)
        return GivenElement("arc", z=to[0], r=to[1], radius=radius, turn=draw(st.sampled_from([None, "cw", "ccw"])))
    ways = [
        {"z": to[0], "r": to[1]},
        {"z": to[0], "angle": math.atan2(dr, dz)},
        {"dz": dz, "dr": dr},
        {"z": to[0], "dr": dr},
    ]
    values: dict[str, Any] = draw(st.sampled_from(ways))
    return GivenElement("line", corner=corner, **values)


@st.composite
def _prints(draw: st.DrawFn) -> tuple[Start, list[GivenElement]]:
    """A shaft from the front, a row of which is now and then anything."""
    here = (0.0, draw(st.floats(10.0, 30.0)))
    start, rows = Start(*here), []
    for _ in range(draw(st.integers(1, 5))):
        to = (here[0] - draw(st.floats(2.0, 20.0)), here[1] + draw(st.floats(0.0, 5.0)))
        rows.append(draw(mostly(_drawn(here, to), _elements(numbers))))
        here = to
    return start, rows


def _answer(start: Start, elements: list[GivenElement]) -> Solutions:
    """The solutions; a problem is one that can be said."""
    try:
        return solve(start, elements)
    except Problem as problem:
        said = problem.say(View("inch"))
        assert said
        assert all(field.startswith(("start", "elements")) and sentence.endswith(".") for field, sentence in said)
        assert not any("nan" in sentence for _, sentence in said)
        raise


@mostly_answered
@settings(max_examples=60, deadline=None)
@given(_prints())
def test_what_a_print_gives_is_answered(asked: tuple[Start, list[GivenElement]]) -> None:
    start, elements = asked
    answer = _answer(start, elements)
    assert 0 < len(answer.solutions) <= 16
    for solution in answer.solutions:
        Chain(solution.contour)
        assert solution.label.say()
        assert len(solution.sharp) == len(elements)


@settings(max_examples=200, deadline=None)
@given(st.builds(Start, numbers, numbers), st.lists(_elements(numbers), min_size=1, max_size=5))
def test_any_blanks_and_numbers_are_refused_in_words_if_not_answered(
    start: Start, elements: list[GivenElement]
) -> None:
    with suppress(Problem):
        assert _answer(start, elements).solutions


@settings(max_examples=200, deadline=None)
@given(st.builds(Start, anything, anything), st.lists(_elements(anything), max_size=3))
def test_nan_and_infinity_are_refused_not_computed_with(start: Start, elements: list[GivenElement]) -> None:
    with suppress(Problem):
        _answer(start, elements)
