"""The dish against printed examples, tables and an open optics library."""

from __future__ import annotations

import math

import pytest

from calc.questions.shapes.dish import dish_results
from calc.shapes.dish.bowl import DishInputs, EdgeInputs, solve_bowl
from calc.shapes.dish.geometry import solve_dish
from tests.shapes.dish.sag_reference import SAGS

INCH = 25.4

# Segments of circles for radius 1: angle in degrees, arc, height, chord, area. The layout is the handbook's; the digits
# are computed from its formulas (Machinery's Handbook 31, p. 83).
TABLE = [
    (1.0, 0.01745329, 0.00003808, 0.01745307, 4.4304e-7),
    (10.0, 0.17453293, 0.00380530, 0.17431149, 0.00044237),
    (30.0, 0.52359878, 0.03407417, 0.51763809, 0.01179939),
    (45.0, 0.78539816, 0.07612047, 0.76536686, 0.03914569),
    (60.0, 1.04719755, 0.13397460, 1.00000000, 0.09058607),
    (90.0, 1.57079633, 0.29289322, 1.41421356, 0.28539816),
    (120.0, 2.09439510, 0.50000000, 1.73205081, 0.61418485),
    (150.0, 2.61799388, 0.74118095, 1.93185165, 1.05899694),
    (180.0, 3.14159265, 1.0, 2.0, 1.57079633),
]


def test_the_chord_of_machinerys_handbook_31_page_79() -> None:
    # r = 60 in, h = 8 in: c = 59.86 in printed, cut off after the second decimal
    bowl = solve_bowl(DishInputs(radius=60 * INCH, depth=8 * INCH))
    assert math.floor(bowl.mouth_diameter / INCH * 100) / 100 == 59.86
    assert bowl.mouth_diameter / INCH == pytest.approx(59.866518, abs=5e-7)


def test_the_chord_angle_and_arc_of_machinerys_handbook_31_page_50() -> None:
    # R = 12 cm, F = 2 cm: E = 13.27 cm, arc 14.06 cm; the angle is printed 67.13°, its exact value is 67.11462°
    results = dish_results(solve_dish(DishInputs(radius=120.0, depth=20.0)))
    assert results.mouth_diameter / 10 == pytest.approx(13.27, abs=0.005)
    assert 2 * results.arc_length / 10 == pytest.approx(14.06, abs=0.005)
    assert 2 * math.degrees(results.mouth_angle) == pytest.approx(67.13, abs=0.02)
    assert 2 * math.degrees(results.mouth_angle) == pytest.approx(67.11462, abs=5e-6)


@pytest.mark.parametrize(("degrees", "arc", "height", "chord", "area"), TABLE)
def test_the_table_of_segments_for_radius_1(
    degrees: float, arc: float, height: float, chord: float, area: float
) -> None:
    results = dish_results(solve_dish(DishInputs(radius=1.0, mouth_diameter=2 * math.sin(math.radians(degrees / 2)))))
    assert results.depth == pytest.approx(height, abs=6e-9)
    assert results.mouth_diameter == pytest.approx(chord, abs=6e-9)
    assert 2 * results.arc_length == pytest.approx(arc, abs=6e-9)
    assert 2 * math.degrees(results.mouth_angle) == pytest.approx(degrees)
    sector_less_triangle = results.arc_length - results.mouth_diameter / 2 * results.arc_centre_z
    assert sector_less_triangle == pytest.approx(area, abs=6e-9, rel=5e-5)


def test_a_dish_of_3_inches_radius_and_four_tenths_depth() -> None:
    # common practice, no source
    results = dish_results(solve_dish(DishInputs(radius=3.0 * INCH, depth=0.4 * INCH)))
    assert results.mouth_diameter / INCH == pytest.approx(2.9933, abs=5e-5)
    assert results.arc_centre_z / INCH == pytest.approx(2.6, abs=1e-12)


def test_the_dish_of_radius_90_with_an_edge_radius_of_0_8() -> None:
    # from first principles, common practice, no source
    edge = EdgeInputs(break_kind="radius", break_size=0.8)
    results = dish_results(solve_dish(DishInputs(radius=90.0, depth=4.5, edge=edge)))
    assert results.mouth_diameter == pytest.approx(56.20498, abs=5e-6)
    assert results.break_face_diameter == pytest.approx(56.46061, abs=5e-6)
    assert results.break_arc_diameter == pytest.approx(55.96316, abs=5e-6)
    assert results.break_arc_z == pytest.approx(-0.03965, abs=5e-6)


@pytest.mark.parametrize(("radius", "half_mouth", "sag"), SAGS)
def test_the_depth_is_the_sag_of_a_spherical_surface_in_an_optics_library(
    radius: float, half_mouth: float, sag: float
) -> None:
    assert solve_bowl(DishInputs(radius=radius, mouth_diameter=2 * half_mouth)).depth == pytest.approx(sag, rel=1e-12)
