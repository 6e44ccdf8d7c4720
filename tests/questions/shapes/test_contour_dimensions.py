"""The dimensions on a contour's sketch are those of its print, each once, at its row's field (ISO 129-1)."""

from __future__ import annotations

import math

import pytest

from calc.answer.drawing import Dimension
from calc.answer.feature import Unfinished
from calc.language.quantities import View
from calc.questions.shapes.contour import FEATURE
from server.catalogue import PAGES
from server.query import read_query
from server.sketch.dimensions import dimension_text


def dimensions(contour: str, **more: str) -> dict[str, Dimension]:
    query = read_query([("contour", contour), *more.items()], FEATURE.inputs)
    drawn = FEATURE.answer(query.inputs(FEATURE.inputs))[0].drawn()
    assert drawn is not None
    return {each.field: each for each in drawn.dimensions}


def test_what_the_print_gives_stands_on_the_sketch_and_what_was_solved_in_brackets() -> None:
    """A shaft of two steps with a fillet and a cone: the numbers typed; ISO 129-1, auxiliary dimensions."""
    found = dimensions("s_x0_z0*f_x20*t_z-30*f_x40*e2*t_z-50*l_x50_ha30*t_dz-10")
    solved = found.pop("rows.6.z")
    assert solved.auxiliary
    assert solved.value == pytest.approx(50.0 + 5.0 / math.tan(math.radians(30.0)))
    assert dimension_text(solved, View()) == "(58.66)"
    assert not any(each.auxiliary for each in found.values())
    assert {field: (each.shape, each.value) for field, each in found.items() if each.shape != "angle"} == {
        "rows.1.x": ("diameter", 20.0),
        "rows.2.z": ("length", 30.0),
        "rows.3.x": ("diameter", 40.0),
        "rows.4.size": ("radius", 2.0),
        "rows.5.z": ("length", 50.0),
        "rows.6.x": ("diameter", 50.0),
    }
    cone = found["rows.6.ha"]
    assert cone.vertex is not None
    assert (cone.vertex.r, cone.vertex.z) == (20.0, -50.0)
    assert cone.value == pytest.approx(math.radians(30.0))


def test_a_length_runs_from_the_datum_to_the_end_of_its_row() -> None:
    length = dimensions("s_x0_z0*f_x20*t_z-30*f_x40*t_z-50*f_x60")["rows.4.z"]
    assert (length.a.z, length.b.z, length.b.r) == (0.0, -50.0, 20.0)


def test_a_size_given_twice_stands_once_and_a_crowded_print_keeps_room_for_the_part() -> None:
    assert [each for each in dimensions("s_x0_z0*f_x20*t_z-30_x20*f_x40*t_dz-5") if each.endswith("x")] == [
        "rows.1.x",
        "rows.3.x",
    ]
    steps = "*".join(f"f_x{20 + 4 * step}*t_z-{10 * (step + 1)}" for step in range(12))
    shapes = [each.shape for each in dimensions(f"s_x0_z0*{steps}*f_x90").values()]
    assert shapes.count("diameter") == 8
    assert shapes.count("length") == 8


def test_a_bore_has_its_dimensions_too() -> None:
    found = dimensions("s_x20_z0*t_z-20*f_x16*t_z-45", side="left", bar_diameter="40")
    assert {field: each.value for field, each in found.items()} == {"rows.1.z": 20.0, "rows.2.x": 16.0}


@pytest.mark.parametrize(
    ("contour", "field", "text"),
    [
        # ISO 129-1: chamfers of 45 degrees; ISO 3040: tapers; ISO 129-1: angles
        ("s_x0_z0*f_x20*c2*t_z-30", "rows.2.size", "2 × 45°"),
        ("s_x0_z0*f_x20*c1x30*t_z-30", "rows.2.size", "1 × 30°"),
        ("s_x0_z0*f_x20*c1*l_x22_z-22", "rows.2.size", "1 × 1"),
        ("s_x0_z0*f_x20*l_z-30_tp1:10", "rows.2.tp", "1:10"),
        ("s_x0_z0*f_x20*t_z-10*l_x30_at150", "rows.3.at", "30°"),
        ("s_x0_z0*f_x20*t_z-10*l_x30_ha15", "rows.3.ha", "15°"),
        ("s_x0_z0*f_x20*t_dz-12.5*f_x30*t_dz-5", "rows.2.dz", "12.5"),
    ],
)
def test_chamfers_tapers_and_angles_are_written_as_on_a_print(contour: str, field: str, text: str) -> None:
    assert dimension_text(dimensions(contour)[field], View()) == text


def test_a_taper_and_a_chamfer_are_written_in_the_readers_language() -> None:
    found = dimensions("s_x0_z0*f_x20*c0.5*l_z-30_tp1:3.5")
    german = View(language="de")
    assert dimension_text(found["rows.3.tp"], german) == "1:3,5"
    assert dimension_text(found["rows.2.size"], german).startswith("0,5 ×")


def test_a_contour_that_is_not_finished_shows_what_is_known_and_where_it_is_not() -> None:
    query = read_query([("contour", "s_x0_z0*f_x20*c2*t_z-30*f_x40*l*t_dz-10")], FEATURE.inputs)
    with pytest.raises(Unfinished) as raised:
        FEATURE.answer(query.inputs(FEATURE.inputs))
    drawn = raised.value.drawing
    assert drawn is not None
    assert [each.field for each in drawn.dimensions] == ["rows.1.x", "rows.3.z", "rows.4.x", "rows.2.size"]
    assert drawn.spots[-1] == ("P5 ?", (-30.0, 20.0))


@pytest.mark.parametrize("page", ["/nose", "/reach-contour", "/plan", "/tool-finder"])
def test_pages_about_a_contour_of_ones_own_show_its_dimensions(page: str) -> None:
    feature = PAGES[page]
    own = {**feature.example, "shape": "own", "contour": "s_x0_z0*f_x20*t_z-30*f_x40*t_dz-5"}
    drawn = feature.answer(read_query(list(own.items()), feature.inputs).inputs(feature.inputs))[0].drawn()
    assert drawn is not None
    assert {"rows.1.x", "rows.2.z", "rows.3.x"} <= {each.field for each in drawn.dimensions}
