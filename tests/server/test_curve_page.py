"""The page that makes a contour of points: its table, the link to its rows, the line that is wrong."""

from __future__ import annotations

import re
from html import unescape
from urllib.parse import parse_qs, urlsplit

import pytest
from starlette.testclient import TestClient

from calc.shapes.chosen import given_by, unique


def test_the_page_leads_to_the_same_contour_row_by_row(client: TestClient) -> None:
    asked = {"points": "0 0\n8 -0.8\n12 -1.9\n16 -3.6\n20 -6.5\n20 -14", "tolerance": "0.05"}
    page = unescape(client.get("/fit-curve", params=asked).text)
    assert "16 -3.6" in page
    links = re.findall(r'href="(/contour\?[^"]+)"', page)
    contour = parse_qs(urlsplit(links[0]).query)["contour"][0]
    answer = client.get("/api/geometry/fit-curve", params=asked).json()
    assert answer["results"]["largest_error"]["value"] <= 0.05
    ends = [(2.0 * element.end.r, element.end.z) for element in unique(given_by(contour))]
    assert ends == [pytest.approx((each["x2"], each["z2"]), abs=1e-6) for each in answer["elements"]]
    assert "Error" not in client.get(links[0]).text


def test_the_page_says_which_line_is_wrong(client: TestClient) -> None:
    page = unescape(client.get("/fit-curve", params={"points": "0 0\n20 -5\nabc", "tolerance": "0.05"}).text)
    assert "Line 3: “abc” is not two numbers" in page


def test_a_dish_leads_to_its_reach_with_the_fields_that_belong_there(client: TestClient) -> None:
    asked = {"radius": "75", "depth": "4.5", "material": "C45", "insert": "DCMT 11T304", "nose_radius": "0.4"}
    page = unescape(client.get("/dish", params=asked).text)
    link = next(each for each in re.findall(r'href="([^"]+)"', page) if each.startswith("/reach?"))
    given = parse_qs(urlsplit(link).query)
    assert (given["radius"], given["insert"]) == (["75"], ["DCMT 11T304"])
    assert "does not know" not in client.get(link).text
