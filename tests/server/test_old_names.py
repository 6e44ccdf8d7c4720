"""Addresses of before: the same answer, and the page of today."""

from __future__ import annotations

from urllib.parse import parse_qsl, urlsplit

import pytest
from starlette.testclient import TestClient

from calc.language.fields import specs
from server.catalogue import FEATURES
from server.old_names import OLD_NAMES, present
from server.query import read_query

BY_PATH = {feature.path: feature for feature in FEATURES}
NOW_TO_OLD = {path: {now: old for old, now in names.items()} for path, names in OLD_NAMES.items()}


@pytest.mark.parametrize("path", sorted(OLD_NAMES))
def test_names_of_before_are_read_as_the_same_question(path: str) -> None:
    feature = BY_PATH[path]
    old = {NOW_TO_OLD[path].get(name, name): text for name, text in feature.example.items()}
    before = read_query(present(path, old.items()), feature.inputs)
    assert before == read_query(feature.example.items(), feature.inputs)
    assert before.unknown == ()


@pytest.mark.parametrize("path", ["speed-feed/tool-life", "speed-feed/bar-deflection", "geometry/seat-pair"])
def test_a_call_with_names_of_before_has_the_same_answer(client: TestClient, path: str) -> None:
    example = BY_PATH[path].example
    old = {NOW_TO_OLD[path].get(name, name): text for name, text in example.items()}
    before, now = (client.get(f"/api/{path}", params=query).json() for query in (old, example))
    assert before == now
    assert "results" in before


@pytest.mark.parametrize("path", sorted(OLD_NAMES))
def test_a_page_with_names_of_before_leads_to_the_present_one_and_keeps_the_rest(client: TestClient, path: str) -> None:
    feature = BY_PATH[path]
    old, now = next(iter(OLD_NAMES[path].items()))
    led = client.get(feature.page, params={old: "5", "units": "inch", "edition": "2026-11"}, follow_redirects=False)
    assert led.status_code == 301
    parts = urlsplit(led.headers["location"])
    assert (parts.path, dict(parse_qsl(parts.query))) == (
        feature.page,
        {now: "5", "units": "inch", "edition": "2026-11"},
    )


def test_an_old_name_is_no_present_one_and_leads_to_one() -> None:
    for path, names in OLD_NAMES.items():
        asked = {spec.name for spec in specs(BY_PATH[path].inputs)}
        assert set(names).isdisjoint(asked)
        assert set(names.values()) <= asked


def test_a_name_given_in_both_ways_is_given_twice(client: TestClient) -> None:
    answer = client.get("/api/speed-feed/tool-life", params={"length": "90", "cut_length": "80"})
    assert "given twice" in answer.json()["errors"][0]["message"]


def test_a_question_without_old_names_is_left_as_it_is() -> None:
    items = [("radius", "90"), ("depth", "4.5")]
    assert present("geometry/dish", items) == items


@pytest.mark.parametrize(
    ("path", "asked"),
    [
        ("geometry/taper", {"large_diameter": "30", "small_diameter": "25", "length": "40"}),
        ("geometry/groove", {"diameter": "40", "depth": "2", "width": "3"}),
        ("geometry/thread", {"designation": "M20"}),
        ("geometry/ring-groove", {"diameter": "30"}),
        ("geometry/o-ring-groove", {"mating_diameter": "30", "section": "2.65"}),
    ],
)
def test_the_inside_may_be_called_bore_or_inside(client: TestClient, path: str, asked: dict[str, str]) -> None:
    both = [client.get(f"/api/{path}", params={**asked, "where": word}).json() for word in ("bore", "inside")]
    assert both[0]["results"] == both[1]["results"]
    assert both[0]["inputs"] == both[1]["inputs"]


def test_a_row_of_a_list_may_call_the_inside_bore() -> None:
    rows = [("operations", "kind:groove~where:bore*kind:face"), ("operations.1.where", "bore"), ("name", "where:bored")]
    assert [text for _, text in present("plan/part", rows)] == [
        "kind:groove~where:inside*kind:face",
        "inside",
        "where:bored",
    ]
