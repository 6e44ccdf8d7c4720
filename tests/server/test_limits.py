"""Values with limits, from what is typed to the page and the JSON."""

import pytest
from starlette.testclient import TestClient

from calc.language.fields import Declared, given, result
from calc.language.limited import Limited, limited
from calc.language.quantities import DIAMETER, FEED, LENGTH, METRIC, View, Z
from calc.language.reading import ReadingError, read
from server.answers import results_json
from server.form import Form
from server.query import read_query


class Asked(Declared):
    diameter: float | None = given(DIAMETER, "Diameter", above=0.0)
    end: float | None = given(Z, "End")


class Found(Declared):
    size: Limited | float | None = result(DIAMETER, "Size")
    end: Limited | float | None = result(Z, "End")


# ISO 286-2:2010: 24 g6 -7/-20, 36 H7 +25/0, 30 js9 +26/-26 micrometres
@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("24 g6", Limited(24.0, 23.9865, 23.98, 23.993)),
        ("Ø36H7", Limited(36.0, 36.0125, 36.0, 36.025)),
        ("30 js9", Limited(30.0, 30.0, 29.974, 30.026)),
        ("28 +0.1/0", Limited(28.0, 28.05, 28.0, 28.1)),
        ("28 -0.1/-0.3", Limited(28.0, 27.8, 27.7, 27.9)),
        ("28 ±0.2", Limited(28.0, 28.0, 27.8, 28.2)),
    ],
)
def test_what_a_print_gives_is_read_with_both_limits(text: str, expected: Limited) -> None:
    found = limited(read(text, DIAMETER, METRIC))
    assert found is not None
    for name in ("value", "aimed", "lower", "upper"):
        assert getattr(found, name) == pytest.approx(getattr(expected, name), abs=1e-9)


def test_a_class_behind_an_inch_size_has_the_limits_of_the_size_in_mm() -> None:
    found = limited(read("1 H7", DIAMETER, View("inch")))
    assert found is not None
    assert (found.lower, found.upper) == pytest.approx((25.4, 25.421))


@pytest.mark.parametrize(("text", "kind"), [("0.2 g6", FEED), ("600 H7", DIAMETER), ("1 v5", LENGTH)])
def test_a_class_where_none_can_stand_is_refused(text: str, kind: object) -> None:
    with pytest.raises(ReadingError):
        read(text, kind, METRIC)  # type: ignore[arg-type]  # a kind, from the list above


def test_the_json_of_a_result_has_its_nominal_its_aim_and_both_limits() -> None:
    found = results_json(Found(size=Limited.between(23.98, 23.993, 24.0)), METRIC)
    assert found["size"] == {"value": 24.0, "aimed": 23.9865, "lower": 23.98, "upper": 23.993, "unit": "mm"}
    assert found["end"] is None


def test_lower_is_less_than_upper_in_every_convention() -> None:
    """A length 28 +0.1/0 into the part ends at Z-28.1 to -28.0."""
    end = Found(end=Limited.between(-28.1, -28.0, -28.0))
    out, into = results_json(end, METRIC)["end"], results_json(end, View(zplus="in"))["end"]
    assert (out["value"], out["lower"], out["upper"]) == (-28.0, -28.1, -28.0)
    assert (into["value"], into["lower"], into["upper"]) == (28.0, 28.0, 28.1)
    inch = results_json(end, View("inch"))["end"]
    assert (inch["lower"] * 25.4, inch["upper"] * 25.4, inch["unit"]) == (
        pytest.approx(-28.1),
        pytest.approx(-28.0),
        "in",
    )


def test_a_field_says_what_its_limits_aim_at() -> None:
    query = read_query([("diameter", "24 g6")], Asked)
    field = Form(Asked, query, bare=False).groups()[0].fields[0]
    assert field.understood == "aims at mid-limit, Ø23.986 mm; limits 23.980 to 23.993 mm, nominal 24 mm"


def test_a_page_shows_both_limits_beside_the_value(client: TestClient) -> None:
    page = client.get("/dish", params={"radius": "90", "depth": "4.5 +0.1/0"})
    assert "4.500 to 4.600 mm, nominal 4.5 mm" in page.text
    answer = client.get("/api/geometry/dish", params={"radius": "90", "depth": "4.5 +0.1/0"}).json()
    assert answer["inputs"]["depth"]["value"] == 4.5
    assert answer["inputs"]["depth"]["aimed"] == pytest.approx(4.55)
