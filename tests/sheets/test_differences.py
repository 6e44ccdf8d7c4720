"""Two revisions compared in words; two changes joined without losing either."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from server.sheets.differences import _moved, differences
from server.sheets.merging import Conflict, merge
from server.sheets.model import Check, Heading, Setup, Sheet, Step, Touch
from tests.sheets.test_documents import records
from tests.tries import tries

DISH = Step("a", "Dish", "/dish?radius=75&depth=4.5", "Nose 6.")
TAPER = Step("b", "", "/taper?large_diameter=22&length=22&taper_ratio=0.1")
FORCE = Step("c", "Force", "/force?material=C45")
SEAT = Sheet(Heading(part="Seat"), (DISH, TAPER, FORCE), checks=(Check("d", "Depth", "4.5", "+0.05"),))


@pytest.mark.parametrize(
    ("new", "said"),
    [
        (SEAT, []),
        (replace(SEAT, heading=Heading(part="Pad")), ["part now “Pad” (was “Seat”)"]),
        (replace(SEAT, heading=Heading()), ["part cleared (was “Seat”)"]),
        (replace(SEAT, heading=Heading(part="Seat", units="inch")), ["units now “inch” (was “mm”)"]),
        (replace(SEAT, steps=(FORCE, DISH, TAPER)), ["step 3 “Force”: moved to 1"]),
        (replace(SEAT, steps=(TAPER, FORCE)), ["step 1 “Dish”: removed"]),
        (replace(SEAT, steps=(*SEAT.steps, Step("e", "Finish"))), ["step 4 “Finish”: added"]),
        (
            replace(SEAT, steps=(replace(DISH, note="Nose 6.\nLook twice."), TAPER, FORCE)),
            ["step 1 “Dish”: note changed"],
        ),
        (
            replace(SEAT, steps=(replace(DISH, address="/dish?radius=80&units=inch"), TAPER, FORCE)),
            ["step 1 “Dish”: page: dish radius 80 (was 75), depth left open (was 4.5), units inch (was open)"],
        ),
        (
            replace(SEAT, steps=(replace(DISH, address="/taper?length=3"), TAPER, FORCE)),
            ["step 1 “Dish”: page now /taper (was /dish)"],
        ),
        (
            replace(SEAT, steps=(replace(DISH, practice=True, seed=4), TAPER, FORCE)),
            ["step 1 “Dish”: practise this step: yes", "step 1 “Dish”: seed of the practice numbers now “4”"],
        ),
        (replace(SEAT, steps=(DISH, replace(TAPER, title="Cone"), FORCE)), ["step 2 “Cone”: title now “Cone”"]),
        (replace(SEAT, setup=Setup(spindle_direction="m4")), ["spindle direction now “M4, the other direction”"]),
        (replace(SEAT, setup=Setup(touches=(Touch("t", "DCMT 11T304"),))), ["touch-off 1 “DCMT 11T304”: added"]),
        (
            replace(SEAT, checks=(Check("d", "Depth", "4.5", "+0.02"),)),
            ["check 1 “Depth”: tolerance now “+0.02” (was “+0.05”)"],
        ),
    ],
)
def test_each_kind_of_change_has_its_words(new: Sheet, said: list[str]) -> None:
    assert differences(SEAT, new) == said


@settings(max_examples=tries(60), deadline=None)
@given(records(Sheet), records(Sheet))
def test_there_are_words_exactly_when_something_a_person_can_see_changed(old: Sheet, new: Sheet) -> None:
    assert differences(old, old) == []
    assert bool(differences(old, new)) == (old != new)


@given(st.permutations(range(7)))
def test_moving_the_told_steps_makes_the_new_order(order: list[int]) -> None:
    old, new = [str(number) for number in range(7)], [str(number) for number in order]
    moved = _moved(old, new)
    rest = [each for each in new if each not in moved]
    assert rest == sorted(rest)  # those that stay are in their old order, so the moved ones account for everything


def test_one_step_moved_far_is_told_as_one() -> None:
    assert _moved(list("abcdefg"), list("gabcdef")) == ["g"]


@settings(max_examples=tries(60), deadline=None)
@given(records(Sheet), records(Sheet))
def test_a_change_beside_none_is_taken_whole(base: Sheet, changed: Sheet) -> None:
    assert merge(base, changed, base).sheet == changed
    assert merge(base, base, changed).sheet == changed
    assert merge(base, changed, changed) == merge(base, base, changed)
    assert merge(base, changed, base).conflicts == merge(base, base, changed).conflicts == ()


def test_changes_of_different_fields_are_joined() -> None:
    theirs = replace(SEAT, steps=(replace(DISH, note="Theirs"), TAPER, FORCE), heading=Heading(part="Pad"))
    mine = replace(SEAT, steps=(FORCE, replace(DISH, title="Mine"), Step("n", "New"), TAPER))
    merged = merge(SEAT, theirs, mine)
    assert merged.conflicts == ()
    assert merged.sheet.heading.part == "Pad"
    assert [step.key for step in merged.sheet.steps] == ["c", "a", "n", "b"]
    assert (merged.sheet.steps[1].title, merged.sheet.steps[1].note) == ("Mine", "Theirs")


def test_where_both_changed_one_text_it_is_told_and_the_saved_one_stands() -> None:
    theirs, mine = (replace(SEAT, steps=(replace(DISH, note=note), TAPER, FORCE)) for note in ("Theirs", "Mine"))
    merged = merge(SEAT, theirs, mine)
    assert merged.conflicts == (Conflict("steps.0.note", "Mine"),)
    assert merged.sheet == theirs


def test_what_one_removed_and_the_other_changed_is_kept_and_told() -> None:
    removed = replace(SEAT, steps=(TAPER, FORCE))
    changed = replace(SEAT, steps=(replace(DISH, note="Still wanted"), TAPER, FORCE))
    for theirs, mine in ((removed, changed), (changed, removed)):
        merged = merge(SEAT, theirs, mine)
        assert [step.note for step in merged.sheet.steps if step.key == "a"] == ["Still wanted"]
        assert len(merged.conflicts) == 1


def test_what_one_removed_and_nobody_changed_is_gone() -> None:
    theirs = replace(SEAT, steps=(TAPER, FORCE))
    mine = replace(SEAT, heading=Heading(part="Pad"))
    merged = merge(SEAT, theirs, mine)
    assert (merged.sheet, merged.conflicts) == (replace(theirs, heading=Heading(part="Pad")), ())


def test_both_reordering_in_different_ways_is_told() -> None:
    theirs, mine = replace(SEAT, steps=(TAPER, DISH, FORCE)), replace(SEAT, steps=(FORCE, DISH, TAPER))
    merged = merge(SEAT, theirs, mine)
    assert merged.conflicts == (Conflict("steps", ["c", "a", "b"]),)
    assert merged.sheet == theirs
