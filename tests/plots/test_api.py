"""The questions with plots over HTTP: numbers as lists, the same in inches as in millimetres, faults as sentences."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

import pytest
from starlette.testclient import TestClient

from calc.language.fields import specs
from calc.language.quantities import METRIC, View
from server.app import create_app
from server.query import read_query
from tests.plots.pages import PLOTTED

INCH = View("inch")


@pytest.fixture(scope="module")
def client() -> Iterator[TestClient]:
    with TestClient(create_app(), base_url="http://shop.example") as client:
        yield client


def in_inches(key: str) -> dict[str, str]:
    """The example with every number written in inch units."""
    feature = PLOTTED[key]
    query = read_query(list(feature.example.items()), feature.inputs)
    texts = {"units": "inch"}
    for spec in specs(feature.inputs):
        value = query.values[spec.name]
        if isinstance(value, float) and spec.kind is not None:
            texts[spec.name] = repr(spec.kind.shown(float(value), INCH))
        elif value:
            texts[spec.name] = str(value)
    return texts


@pytest.mark.parametrize("key", PLOTTED)
def test_an_answer_has_working_and_its_plots_as_lists(client: TestClient, key: str) -> None:
    body = client.get(f"/api/speed-feed/{key}", params=PLOTTED[key].example).json()
    assert body["working"]
    assert body["plots"]
    for plot in body["plots"].values():
        if "field" in plot:
            field = plot["field"]
            assert len(field["values"]) == len(field["y"])
            assert {len(row) for row in field["values"]} == {len(field["x"])}
            assert all(len(limit["broken"]) == len(field["y"]) for limit in field["limits"])
        else:
            assert all(len(curve["x"]) == len(curve["y"]) > 2 for curve in plot["curves"])


@pytest.mark.parametrize("key", PLOTTED)
def test_inch_and_mm_give_the_same_answer(client: TestClient, key: str) -> None:
    feature = PLOTTED[key]
    metric = client.get(f"/api/{feature.path}", params=feature.example).json()["results"]
    inch = client.get(f"/api/{feature.path}", params=in_inches(key)).json()["results"]
    compared = 0
    for spec in specs(feature.results):
        a, b = metric[spec.name], inch[spec.name]
        if spec.kind is None or a is None:
            assert a == b
            continue
        internal = spec.kind.internal(a["value"], METRIC), spec.kind.internal(b["value"], INCH)
        assert internal[0] == pytest.approx(internal[1], rel=1e-9)
        compared += 1
    assert compared > 3


@pytest.mark.parametrize("key", PLOTTED)
def test_a_blank_page_asks_and_a_bad_value_is_told_at_its_field(client: TestClient, key: str) -> None:
    feature = PLOTTED[key]
    blank = client.get(feature.page)
    assert blank.status_code == 200
    assert "Give " in blank.text
    first = next(spec.name for spec in specs(feature.inputs) if spec.kind is not None)
    bad = client.get(feature.page, params={**feature.example, first: "-1"})
    assert bad.status_code == 422
    assert 'class="plots"' not in bad.text
    errors: Any = client.get(f"/api/{feature.path}", params={**feature.example, first: "nonsense"}).json()["errors"]
    assert errors[0]["field"] == first


def test_a_grid_of_200_comes_as_lists_when_it_is_asked_for(client: TestClient) -> None:
    body = client.get("/api/speed-feed/compare", params={**PLOTTED["compare"].example, "steps": "200"}).json()
    values = body["plots"]["field"]["field"]["values"]
    assert (len(values), len(values[0])) == (200, 200)
    assert all(math.isfinite(value) for row in values for value in row)


@pytest.mark.parametrize("key", PLOTTED)
def test_a_page_shows_its_plot_with_its_table_and_nothing_inline(client: TestClient, key: str) -> None:
    page = client.get(PLOTTED[key].page, params=PLOTTED[key].example).text
    assert page.count('<figure class="plots"') >= 1
    assert page.count("<figcaption>") == page.count('<figure class="plots"')
    assert ' style="' not in page
    assert page.index('id="answer"') < page.index('class="fields"') < page.index('class="plots"')
