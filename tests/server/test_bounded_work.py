"""A bound on every question before its work starts, the same for page, call and body, and which no real part meets."""

from __future__ import annotations

import json
from typing import Any

import pytest

from calc.language.fields import specs
from calc.language.quantities import View
from server.answering import Answering, PageAsked
from server.catalogue import FEATURES, POSTS
from server.settings import STATIC, TEMPLATES
from tests.many import for_each

FAR = (100_000, 1_000_000, 99_999_999)  # a Z with a comma or zeros too many
TAKING = [(feature, spec.name) for feature in FEATURES for spec in specs(feature.inputs) if spec.role == "contour"]
ANSWERING = Answering(TEMPLATES, STATIC)
POSTED = {post.path: post for post in POSTS}
PLAN = {"shape": "own", "face_stock": "1", "nose_radius": "0.8", "feed": "0.1", "rough_feed": "0.2",
        "surface_speed": "180", "max_rpm": "2500"}  # fmt: skip


TOO_FAR: list[tuple[dict[str, Any], str]] = [
    ({"kind": "line", "x": 20, "z": -1e6}, "3000 mm"),
    ({"kind": "arc", "x": 30, "z": -5000, "radius": 1e4}, "3000 mm"),
    ({"kind": "line", "x": 1e308, "z": -5}, "“1e+308” is too large"),
    ({"kind": "line", "x": 10**310, "z": -5}, "too large"),
]
BESIDE: dict[str, dict[str, Any]] = {
    "/api/plan/contour": {"bar_diameter": 60, "nose_radius": 0.8},
    "/api/nose-radius/path": {"nose_radius": 0.8},
}


def of_call(path: str, texts: dict[str, str]) -> Any:
    feature = next(feature for feature in FEATURES if feature.path == path)
    return json.loads(bytes(ANSWERING.api(feature, list(texts.items())).body))


def errors(response: Any, status: int = 422) -> list[dict[str, str]]:
    assert response.status_code == status
    found: list[dict[str, str]] = json.loads(bytes(response.body))["errors"]
    return found


def refused(path: str, body: dict[str, Any]) -> list[dict[str, str]]:
    return errors(ANSWERING.post(POSTED[path], json.dumps(body).encode(), View()))


@for_each(TAKING, lambda case: f"{case[0].path} {case[1]}")
def test_a_mistyped_z_is_refused_at_its_row_with_the_limit(case: tuple[Any, str]) -> None:
    """Before this was bounded, Z-99999999 took 1.4 GB, and SIGKILL to end it."""
    feature, name = case
    for far in FAR:
        texts = {**feature.example, name: f"s_x20_z0*t_z-{far}"}
        if "shape" in texts or any(spec.name == "shape" for spec in specs(feature.inputs)):
            texts["shape"] = "own"
        found = errors(ANSWERING.api(feature, list(texts.items())))
        at_row = [error for error in found if error["field"].endswith(("1.z", name))]
        assert any("3000 mm" in error["message"] for error in at_row), found
        if feature.page:
            page = ANSWERING.page(feature, PageAsked(tuple(texts.items()), "http://shop.example"))
            assert page.status_code == 422
            assert b"3000 mm" in bytes(page.body)


@for_each(TAKING, lambda case: f"{case[0].path} {case[1]}")
def test_more_rows_than_a_part_has_are_refused_before_they_are_read(case: tuple[Any, str]) -> None:
    feature, name = case
    texts = {**feature.example, name: "s_x20_z0" + "*t_dz-1" * 1001}
    found = errors(ANSWERING.api(feature, list(texts.items())))
    assert any("at most 1000 rows" in error["message"] for error in found), found


def bodies_with_contours() -> list[tuple[str, str]]:
    """The calls whose body holds a contour, and its name there: "" where it is the body itself."""
    return [(post.path, "") for post in POSTS if "elements" in post.body] + [
        (post.path, name) for post in POSTS for name in sorted({n for _, n in TAKING} & post.body.keys())
        if "elements" not in post.body
    ]  # fmt: skip


@for_each(bodies_with_contours(), lambda case: case[0])
def test_a_body_is_held_to_the_same(case: tuple[str, str]) -> None:
    path, name = case
    for element, words in TOO_FAR:
        contour = {"start": {"x": 20, "z": 0}, "elements": [element]}
        body = {name: contour, **BESIDE.get(path, {})} if name else contour
        found = refused(path, body)
        place = f"{name}.elements.0.".lstrip(".")
        fitting = [error for error in found if error["field"].startswith(place)]
        assert any(words in error["message"] for error in fitting), found


@pytest.mark.parametrize("path", ["/api/plan/part", "/api/plan/part/proposal"])
def test_a_whole_part_is_held_to_the_same(path: str) -> None:
    for element, words in TOO_FAR:
        contour = {"start": {"x": 20, "z": 0}, "elements": [element]}
        found = refused(path, {"part": {"outside": contour}, "stock": {"bar_diameter": 60, "length": 42}})
        fitting = [error for error in found if error["field"].startswith("part.outside.elements.0.")]
        assert any(words in error["message"] for error in fitting), found


def test_a_hundred_small_arcs_with_118_levels_are_planned() -> None:
    """Fifty steps whose corners are all rounded, from a bar far too thick: once no answer in five minutes."""
    corners = "".join(f"*t_z{-2 * step}*e0.3*f_x{20 + 2 * step}*e0.3" for step in range(1, 51))
    texts = {**PLAN, "contour": f"s_x20_z0{corners}*t_z-102", "bar_diameter": "138", "pass_depth": "0.5"}
    found = of_call("plan/contour", {**texts, "allowance_x": "0.2"})
    assert "errors" not in found
    assert found["results"]["pass_count"]["value"] >= 118


def test_a_shaft_of_three_metres_is_planned() -> None:
    contour = "s_x20_z0*t_z-1500*l_x30_z-1500*t_z-2900"
    found = of_call("plan/contour", {**PLAN, "contour": contour, "bar_diameter": "60", "pass_depth": "1.5"})
    assert "errors" not in found


@pytest.mark.parametrize("count", [10_001, 30_000])
def test_more_points_of_a_curve_than_are_fitted_are_refused(count: int) -> None:
    points = [[20 + 0.001 * index, -0.001 * index] for index in range(count)]
    found = refused("/api/geometry/fit-curve", {"points": points, "tolerance": 0.01})
    assert "10000" in found[0]["message"].replace(",", "")
