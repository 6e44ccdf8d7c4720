"""The time of a sheet's steps: one that is late is left out with a link, the others are there."""

from __future__ import annotations

import pytest

from server.computing.budget import Budget, OutOfTime
from server.sheets import gathering, showing
from server.sheets.gathering import gather
from server.sheets.model import Sheet, Step
from server.sheets.reading import written
from server.sheets.revisions import Revision
from server.sheets.showing import sheet_view

SHEET = Sheet(
    steps=(
        Step("aaaaaa", address="/plan?shape=pad"),
        Step("bbbbbb", address="/dish?radius=75&depth=4.5"),
    )
)


def endless(*_: object) -> object:
    while True:
        pass


def test_what_does_not_end_is_interrupted() -> None:
    with pytest.raises(OutOfTime), Budget(5.0, 0.05).share():
        endless()


def test_no_share_is_begun_once_the_time_is_over() -> None:
    with pytest.raises(OutOfTime), Budget(0.0, 1.0).share():
        raise AssertionError


def test_a_late_step_is_left_out_of_the_answer_and_the_next_one_is_in_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(gathering, "SHEET_SECONDS", (5.0, 0.3))
    answered = gathering.outline
    monkeypatch.setattr(gathering, "outline", lambda step: endless() if "plan" in step.address else answered(step))
    late, dish = gather(SHEET).outlines
    assert "open this step" in late.problem
    assert dish.answer


def test_a_late_step_is_a_link_on_the_page(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(showing, "SHEET_SECONDS", (5.0, 0.3))
    shown = showing.step_page
    monkeypatch.setattr(
        showing, "step_page", lambda step, *of: endless() if "plan" in step.address else shown(step, *of)
    )
    view = sheet_view(Revision("k7mp-3wxz-9dqr", 1, 0, written(SHEET), 0), "", owner=False, seen=0)
    assert [step.late for step in view.steps] == [True, False]
    assert view.steps[1].page is not None
