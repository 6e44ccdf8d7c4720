"""What the project offers can be found, and its documents tell the truth."""

from __future__ import annotations

import ast
import json
import re
import string
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from calc.language.fields import specs
from server.catalogue import FEATURES, PAGES, POSTS
from server.families import FAMILIES, FAMILY_OF, Family
from server.query import CONVENTIONS
from tests.house.asking import Asked
from tests.house.sources import ROOT, modules, name_of, tree

Described = dict[str, Any]
EVERY = pytest.mark.parametrize("feature", FEATURES, ids=lambda feature: feature.path)


@pytest.fixture(scope="module")
def described(client: TestClient) -> Described:
    """The calls as the API describes them, by their paths."""
    paths: Described = client.get("/api/openapi.json").json()["paths"]
    return paths


def test_every_page_is_linked_from_the_start_page_by_its_title(client: TestClient) -> None:
    start = client.get("/").text
    for feature in PAGES.values():
        family = FAMILY_OF.get(feature.page)
        page, title = (feature.page, feature.title) if family is None else (family.first.page, family.title)
        tile = re.search(rf'<a[^>]*href="{re.escape(page)}".*?</a>', start, re.DOTALL)
        assert tile, feature.page
        assert title in tile[0]


@pytest.mark.parametrize("family", FAMILIES, ids=lambda family: family.title)
def test_each_of_near_twins_leads_to_all_of_them(client: TestClient, family: Family) -> None:
    for words, twin in family.members:
        page = client.get(twin.page).text
        switch = page[page.index('id="family"') :].partition("</nav>")[0]
        assert f'aria-current="page">{words}<' in switch
        for _, other in family.members:
            assert f'href="{other.page}"' in switch


def test_every_question_of_the_api_is_described_and_listed_on_the_page_of_the_api(
    client: TestClient, described: Described
) -> None:
    page = client.get("/api/docs").text
    offered = [*((f"/api/{feature.path}", "get") for feature in FEATURES), *((post.path, "post") for post in POSTS)]
    for path, method in offered:
        assert described[path][method]["summary"], path
        assert path in page


@EVERY
def test_every_input_of_a_question_is_described_with_its_words_and_its_unit(
    described: Described, feature: Asked
) -> None:
    operation = described[f"/api/{feature.path}"]["get"]
    told = {parameter["name"]: parameter for parameter in operation["parameters"]}
    for spec in specs(feature.inputs):
        assert spec.label in told[spec.name]["description"]
    assert {"units", "x", "zplus"} <= told.keys()


@EVERY
def test_a_feature_names_its_results_truly(feature: Asked) -> None:
    results = {spec.name for spec in specs(feature.results)}
    inputs = {spec.name for spec in specs(feature.inputs)} | CONVENTIONS.keys()
    assert set(feature.supporting) <= results
    assert set(feature.example) <= inputs
    assert all(set(texts) <= inputs for texts in feature.examples.values())
    assert feature.summary.endswith(".")
    assert not feature.page or feature.example, "a page has an example to show"


def calls_in(name: str) -> list[tuple[str, str, str]]:
    """The calls of a document: method, address, and the answer that is told of it."""
    told = (ROOT / name).read_text("utf-8")
    return re.findall(r"^    (GET|POST) (/api/\S+)\n    → (.*)$", told, re.MULTILINE)


CALLS = calls_in("README.md")


def test_the_readme_has_calls_to_try() -> None:
    assert len(CALLS) >= 3


@pytest.mark.parametrize(("method", "address", "told"), CALLS, ids=[address for _, address, _ in CALLS])
def test_a_call_in_the_readme_is_answered_as_it_says(client: TestClient, method: str, address: str, told: str) -> None:
    """What is told may leave out: `…` in a number cuts its digits, `{…}` and `…` alone stand for the rest."""
    answer = client.request(method, address)
    status, _, body = told.partition("{")
    assert answer.status_code == int(status or "200")
    wanted = json.loads(_as_json("{" + body))
    assert list(_missing(wanted, answer.json())) == []


def _as_json(told: str) -> str:
    """The told answer with its omissions as texts that end in `…`."""
    told = re.sub(r"(\d+\.\d+)…", r'"\1…"', told)
    told = told.replace("{…}", '"…"').replace("[…]", '"…"')
    return re.sub(r",\s*…(?=\s*[}\]])", "", told)


def _missing(wanted: Any, found: Any, at: str = "") -> Iterator[str]:
    """Where what is found is not what was wanted."""
    if isinstance(wanted, dict):
        for name, value in wanted.items():
            if name not in found:
                yield f"{at}.{name}"
            else:
                yield from _missing(value, found[name], f"{at}.{name}")
    elif isinstance(wanted, list):
        for index, value in enumerate(wanted):
            yield from _missing(value, found[index], f"{at}.{index}")
    elif isinstance(wanted, str) and wanted.endswith("…"):
        if not str(found).startswith(wanted[:-1]):
            yield f"{at}: {found}"
    elif wanted != found:
        yield f"{at}: {found}"


def test_what_is_told_is_really_compared() -> None:
    assert list(_missing({"a": 1, "b": "2.5…"}, {"a": 2, "b": 2.51})) == [".a: 2"]
    assert list(_missing({"a": {"b": "x…"}}, {"a": {"b": "y"}})) == [".a.b: y"]


def messages(path: Path) -> Iterator[tuple[int, str, set[str]]]:
    """The messages of a module whose text and values stand in the call itself."""
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "Message" and node.args:
            text = node.args[0]
            values = node.args[1] if len(node.args) > 1 else ast.Dict([], [])
            if isinstance(text, ast.Constant) and isinstance(values, ast.Dict) and None not in values.keys:
                names = {str(key.value) for key in values.keys if isinstance(key, ast.Constant)}
                yield node.lineno, str(text.value), names


def test_a_sentence_has_a_place_for_each_value_and_a_value_for_each_place() -> None:
    """Where both stand in one call; values that several sentences share are tried by asking every page."""
    found = [(name_of(path), *each) for path in modules("calc", "server") for each in messages(path)]
    assert len(found) > 100
    assert [each[:3] for each in found if places(each[2]) != each[3]] == []


def places(text: str) -> set[str]:
    """The places for values in a sentence."""
    return {place for _, place, _, _ in string.Formatter().parse(text) if place is not None}


def test_the_readme_names_files_and_addresses_that_exist(client: TestClient) -> None:
    told = (ROOT / "README.md").read_text("utf-8")
    for name in re.findall(r"\b((?:calc|server|deploy|static|tests)/[\w./]+)", told):
        assert (ROOT / name.rstrip("./")).exists(), name
    for page in re.findall(r"`(/[a-z/-]+)`", told):
        assert client.get(page).status_code == 200 or (Path("/") / page).parts[1] in ("var", "opt", "etc"), page


def test_what_the_server_needs_is_told_with_its_reason() -> None:
    told = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    project = (ROOT / "pyproject.toml").read_text("utf-8")
    served = re.findall(r'^    "([a-z]+)', project.partition("[project.optional-dependencies]")[0], re.MULTILINE)
    table = [line for line in told.splitlines() if line.startswith("| ")]
    for package in served:
        assert any(package in line.split("|")[1] for line in table), package
