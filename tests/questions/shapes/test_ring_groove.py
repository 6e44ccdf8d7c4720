"""Retaining-ring grooves, held to DIN 471 and 472, ISO 286 and the standards' own load formula."""

from __future__ import annotations

import csv
from itertools import pairwise
from math import pi
from pathlib import Path

import pytest

from calc.language.fields import build
from calc.language.problems import Missing, OutOfRange
from calc.questions.shapes.ring_groove import RingGrooveInputs, Where, solve
from calc.shapes.retaining_rings import ring_grooves

DATA = Path(__file__).parents[2] / "shapes" / "data"
# Cells of the file that break the rule which all its other rows follow.
MISPRINTED = {
    ("outside", 10.0): "limit",
    ("inside", 9.0): "limit",
    ("inside", 250.0): "limit",
    ("inside", 38.0): "load",
}
FILES: dict[Where, str] = {"outside": "din471.csv", "inside": "din472.csv"}


def rows(where: Where) -> list[dict[str, str]]:
    with (DATA / FILES[where]).open(encoding="utf-8") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize(
    ("where", "diameter", "groove", "limit", "width", "margin"),
    [
        ("outside", 10.0, 9.6, -0.058, 1.1, 0.6),
        ("outside", 20.0, 19.0, -0.13, 1.3, 1.5),
        ("outside", 25.0, 23.9, -0.21, 1.3, 1.7),
        ("outside", 40.0, 37.5, -0.25, 1.85, 3.8),
        ("inside", 20.0, 21.0, 0.13, 1.1, 1.5),
        ("inside", 40.0, 42.5, 0.25, 1.85, 3.8),
        ("inside", 62.0, 65.0, 0.30, 2.15, 4.5),
    ],
)
def test_rows_of_the_standards(
    where: Where, diameter: float, groove: float, limit: float, width: float, margin: float
) -> None:
    """DIN 471 and DIN 472, from memory; limits of the groove by ISO 286: h10, h11, h12 and H11, H12."""
    found = solve(RingGrooveInputs(where=where, diameter=diameter)).results
    ends = (found.groove_diameter.lower, found.groove_diameter.upper)
    assert found.groove_diameter.value == groove
    assert sorted(ends) == pytest.approx(sorted((groove, groove + limit)))
    assert found.groove_width.lower == width
    assert found.groove_width.upper == pytest.approx(width + 0.14)  # H13 of 1 to 3 mm, ISO 286-2
    assert found.edge_margin == margin


@pytest.mark.parametrize("where", ["outside", "inside"])
def test_limits_of_every_groove_as_an_open_table_prints_them(where: Where) -> None:
    """Limits of d2 in the file against those computed here from ISO 286."""
    sign = -1.0 if where == "outside" else 1.0
    for row in rows(where):
        size = float(row["d1"])
        if MISPRINTED.get((where, size)) == "limit":
            continue
        found = solve(RingGrooveInputs(where=where, diameter=size)).results.groove_diameter
        printed = float(row["d2_tol-" if where == "outside" else "d2_tol+"])
        assert found.upper - found.lower == pytest.approx(abs(printed), abs=0.0025), size
        assert abs(found.value - size) / 2 == pytest.approx(float(row["t"]), abs=0.006)
        assert (found.value - size) * sign > 0.0


@pytest.mark.parametrize("where", ["outside", "inside"])
def test_loads_of_every_groove_as_an_open_table_prints_them(where: Where) -> None:
    """Groove load F_N of the file (kN, two to three digits) against the formula, for the standards' 200 N/mm2."""
    for row in rows(where):
        size = float(row["d1"])
        if MISPRINTED.get((where, size)) == "load":
            continue
        load = solve(RingGrooveInputs(where=where, diameter=size)).results.load
        assert load / 1000 == pytest.approx(float(row["FN"]), rel=0.05), size


@pytest.mark.parametrize("where", ["outside", "inside"])
def test_every_row_is_a_groove_that_can_be(where: Where) -> None:
    """The ring goes into its groove, the margin is about three depths, sizes rise."""
    grooves = list(ring_grooves(where).values())
    for each in grooves:
        assert each.ring_thickness < each.width < 1.2 * each.ring_thickness + 0.1
        assert each.edge_margin / each.depth == pytest.approx(3.0, abs=0.35)
    assert all(a.nominal < b.nominal and a.diameter < b.diameter for a, b in pairwise(grooves))


def test_the_load_goes_with_the_yield_strength() -> None:
    plain = solve(RingGrooveInputs(diameter=30.0)).results.load
    strong = solve(RingGrooveInputs(diameter=30.0, yield_strength=400.0)).results.load
    assert strong == pytest.approx(2 * plain)
    assert plain == pytest.approx(200.0 * pi / 4 * (30.0**2 - 28.6**2) / 1.2)


def test_a_groove_too_near_to_the_end_is_warned_of_with_both_numbers() -> None:
    said = solve(RingGrooveInputs(diameter=30.0, from_end=1.5)).cautions[0].message.say()
    assert "1.500 mm" in said
    assert "2.100 mm" in said
    assert solve(RingGrooveInputs(diameter=30.0, from_end=2.1)).cautions == ()


def test_the_points_go_round_the_groove_and_its_volume_is_that_of_a_ring() -> None:
    answer = solve(RingGrooveInputs(diameter=30.0, from_end=5.0))
    assert [round(point.spot.z, 3) for point in answer.points] == [-5.0, -5.0, -6.67, -6.67]
    assert answer.points[0].spot.r == 15.0
    assert answer.points[1].spot.r == pytest.approx((28.6 - 0.105) / 2)


@pytest.mark.parametrize(
    ("values", "problem"),
    [
        ({}, Missing),
        ({"diameter": 0.0}, OutOfRange),
        ({"diameter": float("nan")}, OutOfRange),
        ({"diameter": 31.0}, OutOfRange),
        ({"diameter": 1e9}, OutOfRange),
    ],
)
def test_what_the_standard_does_not_list_is_refused(values: dict[str, float], problem: type[Exception]) -> None:
    with pytest.raises(problem):
        solve(build(RingGrooveInputs, values))


def test_a_diameter_between_two_names_both() -> None:
    with pytest.raises(OutOfRange, match="Ø30 mm and Ø32 mm"):
        solve(RingGrooveInputs(diameter=31.0))
