"""What a page leaves out until it is opened is not made before: pictures, words and the working's formulas."""

from __future__ import annotations

from unittest.mock import Mock

import pytest

from calc.questions.operations.contour_plan import feature
from server.answering import Answering, PageAsked
from server.links import LATER
from server.settings import STATIC, TEMPLATES
from server.shown import picture_views, step_view

PLAN = feature.FEATURE


@pytest.mark.parametrize(("layout", "made"), [("", 0), (LATER, 1)])
def test_the_plans_pictures_are_drawn_and_its_working_set_only_when_they_are_opened(
    monkeypatch: pytest.MonkeyPatch, layout: str, made: int
) -> None:
    draw, show = Mock(wraps=picture_views), Mock(wraps=step_view)
    monkeypatch.setattr("server.pages.picture_views", draw)
    monkeypatch.setattr("server.shown.step_view", show)
    page = Answering(TEMPLATES, STATIC).page(PLAN, PageAsked(tuple(PLAN.example.items()), "", layout=layout))
    assert page.status_code == 200
    assert draw.call_count == made
    assert bool(show.call_count) == bool(made)


def test_the_page_names_as_many_pictures_as_there_are_when_they_are_opened() -> None:
    answering, asked = Answering(TEMPLATES, STATIC), tuple(PLAN.example.items())
    closed = bytes(answering.page(PLAN, PageAsked(asked, "")).body).decode()
    opened = bytes(answering.page(PLAN, PageAsked(asked, "", layout=LATER)).body).decode()
    assert f"pictures: {opened.count('<figure>')}" in closed
