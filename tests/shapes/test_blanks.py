"""Dimensions of which some are given: every sufficient set, the best of several, and what is said otherwise."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.language.given import Given
from calc.language.messages import Message
from calc.language.problems import Contradiction, Fault, Impossible, Missing
from calc.language.quantities import DIAMETER, LENGTH
from calc.language.working import recording
from calc.shapes.blanks import System, Term, Way, require_settled, solve

WALL = System(
    (
        Term("outside", DIAMETER, "outside", "{outside}"),
        Term("inside", DIAMETER, "inside"),
        Term("wall", LENGTH, "wall"),
        Term("twice", LENGTH, "double wall"),
    ),
    (
        Way("wall", ("outside", "inside"), lambda D, d: (D - d) / 2),
        Way("outside", ("inside", "wall"), lambda d, w: d + 2 * w),
        Way("inside", ("outside", "wall"), lambda D, w: D - 2 * w),
        Way("wall", ("twice",), lambda t: t / 2),
        Way("twice", ("wall",), lambda w: 2 * w),
    ),
    "Give two of outside, inside and wall.",
)
WHOLE = {"outside": 30.0, "inside": 20.0, "wall": 5.0, "twice": 10.0}
SUFFICIENT = [
    set(names) for size in (2, 3, 4) for names in combinations(WHOLE, size) if set(names) != {"wall", "twice"}
]


@pytest.mark.parametrize("names", SUFFICIENT)
def test_every_sufficient_set_gives_the_whole(names: set[str]) -> None:
    found = solve(WALL, {name: WHOLE[name] for name in names})
    assert dict(found.values) == WHOLE
    assert set(found.solved) == set(WHOLE) - names
    assert found.notes == ()


def test_what_is_not_settled_is_left_out() -> None:
    found = solve(WALL, {"wall": 5.0, "outside": None})
    assert dict(found.values) == {"wall": 5.0, "twice": 10.0}
    assert found.get("inside") is None
    assert found.first == "twice"


def test_the_value_with_the_coarsest_rounding_gives_way_and_that_is_said() -> None:
    typed = {"outside": Given(30.0), "inside": Given(20.0), "wall": Given(5.02, slack=0.05)}
    found = solve(WALL, typed)
    assert found["wall"] == 5.0
    assert [note.say() for note in found.notes] == [
        "The given dimensions agree within their rounding only: here the wall is 5.000 mm, so that they close."
    ]


@given(st.floats(1.0, 100.0), st.floats(0.1, 20.0), st.floats(-0.9, 0.9))
def test_a_difference_within_the_rounding_is_none_and_one_beyond_it_is_a_contradiction(
    inside: float, wall: float, share: float
) -> None:
    typed = {"inside": inside, "wall": wall}
    outside = inside + 2 * wall + share * 0.05
    assert solve(WALL, typed | {"outside": Given(outside, slack=0.05)}).values
    with pytest.raises(Contradiction) as caught:
        solve(WALL, typed | {"outside": Given(outside + 0.2, slack=0.05)})
    assert set(caught.value.fields) == {"inside", "wall", "outside"}
    assert caught.value.otherwise["outside"].value == pytest.approx(inside + 2 * wall)


def test_what_takes_no_part_in_a_contradiction_is_not_named() -> None:
    with pytest.raises(Contradiction) as caught:
        solve(WALL, {"outside": 30.0, "wall": 5.0, "twice": 11.0})
    assert caught.value.fields == ("wall", "twice")
    assert caught.value.faults[0].message.say() == (
        "Ø30 mm and a wall of 5 mm give a double wall of 10.000 mm; 11 mm differs from that by 1.000 mm. "
        "Leave out the one that is not on the print."
    )


def test_two_contradictions_at_once_name_all_and_promise_nothing() -> None:
    with pytest.raises(Contradiction) as caught:
        solve(WALL, {"outside": 30.0, "inside": 25.0, "wall": 5.0, "twice": 11.0})
    assert caught.value.fields == ("outside", "inside", "wall", "twice")
    assert "do not go together" in caught.value.faults[0].message.say()
    assert caught.value.otherwise == {}


def test_one_more_is_asked_for_by_name_at_each_field_that_would_do() -> None:
    with pytest.raises(Missing) as caught:
        require_settled(WALL, {"outside": 30.0, "inside": None, "wall": None}, ("inside",))
    assert [(fault.field, fault.message.say()) for fault in caught.value.faults] == [
        ("inside", "With the outside, one more is needed: the inside or the wall."),
        ("wall", "With the outside, one more is needed: the inside or the wall."),
    ]
    with pytest.raises(Missing, match="Give two of outside, inside and wall"):
        require_settled(WALL, {"outside": None, "inside": None, "wall": None}, ("inside",))


def test_a_way_without_a_solution_says_so_itself_and_is_no_base_when_there_are_others() -> None:
    def refuse(*_: float) -> float:
        raise Impossible(Fault("b", Message("There is no b.")))

    system = System(
        (Term("a", LENGTH, "a"), Term("b", LENGTH, "b")), (Way("b", ("a",), refuse), Way("a", ("b",), float)), "Give a."
    )
    with pytest.raises(Impossible, match=r"There is no b\."):
        solve(system, {"a": 1.0})
    with pytest.raises(Contradiction):
        solve(system, {"a": 1.0, "b": 2.0})
    assert dict(solve(system, {"a": 2.0, "b": 2.0}).values) == {"a": 2.0, "b": 2.0}


def test_trying_bases_leaves_no_trace_in_the_working() -> None:
    with recording() as steps:
        solve(WALL, WHOLE)
    assert steps == []
