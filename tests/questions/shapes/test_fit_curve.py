"""A curve by points or by its formula as rows of a contour: its table, what it refuses."""

from __future__ import annotations

import math

import pytest

from calc.contour import Chain, Point
from calc.contour.point_text import points_rewritten, points_stripped, read_points
from calc.language.problems import Missing, OutOfRange
from calc.language.quantities import View
from calc.questions.shapes.fit_curve import FEATURE, FitInputs, FormulaInputs, solve
from server.query import with_points


def _of(source: str, tolerance: float = 0.005, **sizes: object) -> Chain:
    found = solve(FitInputs(source=source, tolerance=tolerance, formula=FormulaInputs(**sizes)))  # type: ignore[arg-type]
    assert found.contour is not None
    return found.contour


def test_an_ellipse_lies_within_the_tolerance_of_its_closed_form() -> None:
    """(x/15)^2 + ((z+10)/10)^2 = 1 in whole millimetres of half axes; every point of it, by its parameter."""
    chain = _of("ellipse", 0.005, semi_axis_x=15.0, semi_axis_z=10.0)
    spots = [Point(10.0 * math.cos(t) - 10.0, 15.0 * math.sin(t)) for t in (i * math.pi / 800 for i in range(401))]
    assert max(chain.distance_to(spot) for spot in spots) <= 0.005 * 1.01
    assert (chain.start, chain.end.r) == (Point(0.0, 0.0), 15.0)
    assert len(chain) <= 12


def test_a_parabola_ends_where_its_formula_says() -> None:
    """By hand, z = -r^2 / (2 R): R 8, r 4: -1."""
    chain = _of("parabola", radius=8.0, to_x=4.0)
    assert (chain.end.z, chain.end.r) == pytest.approx((-1.0, 4.0))
    assert _of("parabola", radius=8.0, to_x=4.0, form="hollow").end.z == pytest.approx(1.0)


def test_an_asphere_of_no_terms_is_a_circle_and_its_terms_add_up() -> None:
    assert len(_of("asphere", radius=10.0, to_x=6.0)) == 1
    chain = _of("asphere", radius=10.0, to_x=6.0, terms="1e-4; -1e-6")
    sphere = 10.0 - math.sqrt(100.0 - 36.0)
    assert chain.end.z == pytest.approx(-(sphere + 1e-4 * 6.0**4 - 1e-6 * 6.0**6))


@pytest.mark.parametrize(
    ("sizes", "error", "field"),
    [
        ({"source": "ellipse", "semi_axis_x": 5.0}, Missing, "semi_axis_z"),
        ({"source": "parabola"}, Missing, "radius"),
        ({"source": "asphere", "radius": 5.0, "to_x": 6.0}, OutOfRange, "to_x"),
        ({"source": "asphere", "radius": 5.0, "to_x": 2.0, "terms": "some"}, OutOfRange, "terms"),
        ({"source": "asphere", "radius": 5.0, "to_x": 2.0, "terms": "nan"}, OutOfRange, "terms"),
        ({"source": "asphere", "radius": 60.0, "to_x": 40.0, "terms": "1,2e-6 -3e-9"}, OutOfRange, "terms"),
        ({"source": "asphere", "radius": 60.0, "to_x": 40.0, "terms": "1 2e-6 -3e-9"}, OutOfRange, "terms"),
        ({"source": "points"}, Missing, "points"),
    ],
)
def test_what_a_curve_lacks_is_said_at_its_field(sizes: dict[str, object], error: type[Exception], field: str) -> None:
    source = str(sizes.pop("source"))
    with pytest.raises(error) as raised:
        solve(FitInputs(source=source, tolerance=0.01, formula=FormulaInputs(**sizes)))  # type: ignore[arg-type]
    assert raised.value.faults[0].field == field  # type: ignore[attr-defined]


@pytest.mark.parametrize("text", ["0 0\n20 -5\n20 -9", "0;0\r\n20;-5\r\n\r\n20;-9\r\n", "0\t0\n 20\t-5 \n20\t-9"])
def test_a_table_is_read_with_spaces_tabs_or_semicolons(text: str) -> None:
    assert read_points(text, View()) == ((Point(0.0, 0.0), Point(-5.0, 10.0), Point(-9.0, 10.0)), ())


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("0 0\n20", "Line 2: “20” is not two numbers: write X and Z, such as 20 -5."),
        ("0 0\n20 -5 3", "Line 2: “20 -5 3” is not two numbers"),
        ("x z", "Line 1: "),
        ("0 0\n20 9999999", "Line 2: this is beyond what a part here can have: at most 3000 mm."),
    ],
)
def test_a_line_that_is_no_point_is_named(text: str, says: str) -> None:
    found, faults = read_points(text, View())
    assert found == ()
    assert faults[0].message.say().startswith(says)


def test_a_table_keeps_its_meaning_when_the_page_changes_its_conventions() -> None:
    there = points_rewritten("1.5 -0.25\n2 -1", View("inch"), View(zplus="in"))
    assert there == "1.5in 0.25in\n2in 1in"
    assert read_points(there, View(zplus="in"))[0] == read_points("1.5 -0.25\n2 -1", View("inch"))[0]
    assert points_stripped(there, View("mm")) == "1.5 0.25\n2 1"


def test_a_decimal_comma_in_the_factors_is_one_where_the_language_has_it() -> None:
    """On a German page a comma is always the decimal mark; an English page asks what it means."""
    typed = [("terms", "1,2e-6; -3e-9")]
    assert with_points(typed, FEATURE, "de") == [("terms", "1.2e-6; -3e-9")]
    assert with_points(typed, FEATURE, "en") == typed
