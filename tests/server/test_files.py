"""Files of an answer: points as CSV, the sketch as SVG, the contour as words; for every page that has points."""

from __future__ import annotations

import csv
import io
import re
from html import unescape
from xml.etree import ElementTree

import pytest
from starlette.testclient import TestClient

from calc.questions.shapes.contour import STEM
from server.catalogue import PAGES
from server.settings import settings_from

S_CURVE = {"contour": "s_x30_z0*t*a_r5_smooth*a_r8_x50_z-25_smooth*t_z-30_smooth"}
DISH = {"radius": "75", "depth": "4.5", "break_kind": "radius", "break_size": "0.8"}


def table(text: str) -> tuple[list[str], list[list[str]]]:
    heads, *rows = list(csv.reader(io.StringIO(text)))
    return heads, rows


def test_points_as_csv_are_absolute_and_as_steps_with_centres_both_ways(client: TestClient) -> None:
    answer = client.get("/contour/points.csv", params=S_CURVE)
    heads, rows = table(answer.text)
    assert answer.headers["content-type"].startswith("text/csv")
    assert answer.headers["content-disposition"] == 'attachment; filename="contour-points.csv"'
    assert heads[1:5] == ["X (diameter) mm", "Z (+Z out) mm", "step X (diameter) mm", "step Z (+Z out) mm"]
    assert rows[2] == [
        "P3 end of 2", "37.692", "-17.216", "7.692", "-4.865", "G2", "5.000", "40.000", "-12.351", "5.000", "0.000",
    ]  # fmt: skip


def test_a_csv_follows_the_page_in_units_and_signs_and_says_so(client: TestClient) -> None:
    asked = {"contour": "s_x0_z0*f_x.5*e.0625*t_z1.25", "units": "inch", "x": "radius", "zplus": "in"}
    heads, rows = table(client.get("/contour/points.csv", params=asked).text)
    assert heads[1:3] == ["X (radius) in", "Z (+Z in) in"]
    assert all(len(row) == len(heads) for row in rows)
    assert rows[2][1:] == [".5000", ".0625", ".0625", ".0625", "G3", ".0625", ".4375", ".0625", "0.0000", "-.0625"]


def test_a_sketch_as_a_file_needs_nothing_else(client: TestClient) -> None:
    answer = client.get("/contour/sketch.svg", params=dict(STEM))
    root = ElementTree.fromstring(answer.text)
    assert root.tag == "{http://www.w3.org/2000/svg}svg"
    assert answer.headers["content-type"].startswith("image/svg+xml")
    assert "var(" not in answer.text
    assert not re.search(r"(href|src|url\()=?[\"']?https?:", answer.text.replace("http://www.w3.org/2000/svg", ""))
    classes = {name for each in re.findall(r'class="([^"]+)"', answer.text) for name in each.split()} - {"sketch"}
    style = answer.text[answer.text.index("<style>") : answer.text.index("</style>")]
    sheet = (settings_from({}).static / "sketch.css").read_text("utf-8")
    styled = {name for name in classes if re.search(rf"\.{name}\b", sheet)}
    assert styled
    assert all(re.search(rf"\.{name}\b", style) for name in styled)


def test_words_have_a_heading_that_says_what_they_are(client: TestClient) -> None:
    lines = client.get("/contour/words.txt", params=S_CURVE).text.splitlines()
    assert "not a program to run" in lines[0]
    assert lines[3:] == [
        "G0 X30.0 Z0.0",
        "G1 X30.0 Z-12.351",
        "G2 X37.692 Z-17.216 R5.0",
        "G3 X50.0 Z-25.0 R8.0",
        "G1 X50.0 Z-30.0",
    ]


def test_words_take_centres_and_decimals_on_request_and_keep_to_iso_signs(client: TestClient) -> None:
    asked = {**S_CURVE, "arcs": "centre", "decimals": "2"}
    assert client.get("/contour/words.txt", params=asked).text.splitlines()[5] == "G2 X37.69 Z-17.22 I5.0 K0.0"
    flipped = {"contour": "s_x15_z0*f_x20*t_z12", "x": "radius", "zplus": "in"}
    assert client.get("/contour/words.txt", params=flipped).text.splitlines()[-1] == "G1 X20.0 Z-12.0"


@pytest.mark.parametrize("options", [{"arcs": "both"}, {"decimals": "0"}, {"decimals": "x"}, {"decimals": "12"}])
def test_an_option_that_cannot_be_meant_is_refused(client: TestClient, options: dict[str, str]) -> None:
    answer = client.get("/contour/words.txt", params={**S_CURVE, **options})
    assert answer.status_code == 422
    assert answer.text.strip().endswith(".")


@pytest.mark.parametrize("name", ["points.csv", "sketch.svg", "words.txt"])
@pytest.mark.parametrize("query", [{}, {"contour": "s_x0_z0*f_xabc"}, {"contour": "s_x0_z0*f_x20*a_r3"}])
def test_no_file_is_given_without_an_answer(client: TestClient, name: str, query: dict[str, str]) -> None:
    answer = client.get(f"/contour/{name}", params=query)
    assert answer.status_code == 422
    assert answer.text.strip()


def test_the_dish_has_its_files_too(client: TestClient) -> None:
    heads, rows = table(client.get("/dish/points.csv", params=DISH).text)
    assert len(heads) == 11
    assert len(rows) >= 3
    assert "R75.0" in client.get("/dish/words.txt", params=DISH).text
    assert client.get("/dish/sketch.svg", params=DISH).text.startswith("<svg")


@pytest.mark.parametrize("path", [path for path, feature in PAGES.items() if feature.example])
def test_every_file_that_a_page_links_to_is_there(client: TestClient, path: str) -> None:
    page = client.get(path, params=dict(PAGES[path].example)).text
    for link in re.findall(r'href="([^"]+)" download', page):
        answer = client.get(unescape(link))
        assert answer.status_code == 200, link
        assert answer.text
