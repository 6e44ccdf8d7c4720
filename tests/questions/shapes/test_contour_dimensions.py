"""The dimensions on a contour's sketch are those of its print, each once, at its row's field (ISO 129-1)."""

from __future__ import annotations

import math

import pytest

from calc.answer.drawing import Dimension
from calc.questions.shapes.contour import FEATURE
from server.query import read_query


def dimensions(contour: str, **more: str) -> dict[str, Dimension]:
    query = read_query([("contour", contour), *more.items()], FEATURE.inputs)
    drawn = FEATURE.answer(query.inputs(FEATURE.inputs))[0].drawn()
    assert drawn is not None
    return {each.field: each for each in drawn.dimensions}


def test_what_the_print_gives_stands_on_the_sketch_and_what_was_solved_does_not() -> None:
    """A shaft of two steps with a fillet and a cone: the numbers are the ones typed."""
    found = dimensions("s_x0_z0*f_x20*t_z-30*f_x40*e2*t_z-50*l_x50_ha30*t_dz-10")
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
    assert shapes.count("diameter") == 5
    assert shapes.count("length") == 5


def test_a_bore_has_its_dimensions_too() -> None:
    found = dimensions("s_x20_z0*t_z-20*f_x16*t_z-45", side="left", bar_diameter="40")
    assert {field: each.value for field, each in found.items()} == {"rows.1.z": 20.0, "rows.2.x": 16.0}
