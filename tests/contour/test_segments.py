"""Circular segments against handbook values: an arc with its chord, height, length and area."""

import math

import pytest

from calc.contour import Arc, Point, plane_area

# Segments of circles for radius 1, handbook layout; values computed with mpmath to 30 digits from the published
# formulas of Machinery's Handbook 31, p. 83: angle in degrees, arc, height, chord, area.
RADIUS_ONE = [
    (1, 0.01745329, 0.00003808, 0.01745307, 4.4304e-7),
    (10, 0.17453293, 0.00380530, 0.17431149, 0.00044237),
    (30, 0.52359878, 0.03407417, 0.51763809, 0.01179939),
    (45, 0.78539816, 0.07612047, 0.76536686, 0.03914569),
    (60, 1.04719755, 0.13397460, 1.00000000, 0.09058607),
    (90, 1.57079633, 0.29289322, 1.41421356, 0.28539816),
    (120, 2.09439510, 0.50000000, 1.73205081, 0.61418485),
    (150, 2.61799388, 0.74118095, 1.93185165, 1.05899694),
    (180, 3.14159265, 1.00000000, 2.00000000, 1.57079633),
]


def dish(radius: float, angle: float) -> Arc:
    """An arc over the axis z, its chord on it."""
    half = angle / 2.0
    centre = Point(0.0, -radius * math.cos(half))
    return Arc.from_angles(centre, radius, math.pi / 2 + half, math.pi / 2 - half, "cw")


@pytest.mark.parametrize(("degrees", "length", "height", "chord", "area"), RADIUS_ONE)
def test_segments_of_radius_one(degrees: float, length: float, height: float, chord: float, area: float) -> None:
    arc = dish(1.0, math.radians(degrees))
    assert arc.length == pytest.approx(length, abs=5.1e-9)
    assert arc.sagitta == pytest.approx(height, abs=5.1e-9)
    assert arc.chord == pytest.approx(chord, abs=5.1e-9)
    assert plane_area([arc]) == pytest.approx(area, abs=5.1e-9 if degrees > 1 else 5.1e-12)


def test_chord_of_a_stone_arch_of_radius_60_and_height_8() -> None:
    """Machinery's Handbook 31, p. 79: 59.86 in printed, a truncated 59.8665."""
    circle = dish(60.0, math.pi)
    ends = circle.points_at_r(52.0)
    assert ends[0].distance_to(ends[1]) == pytest.approx(59.866518, abs=1e-6)
    assert math.floor(100 * ends[0].distance_to(ends[1])) / 100 == 59.86


def test_segment_of_radius_12_and_height_2() -> None:
    """Machinery's Handbook 31, p. 50, examples 3 and 4: 13.27, 14.06, 18.01 (and 67.13 deg, exactly 67.1146)."""
    circle = dish(12.0, math.pi)
    left, right = circle.points_at_r(10.0)
    arc = circle.with_ends(left, right)
    assert arc.chord == pytest.approx(13.27, abs=5e-3)
    assert arc.length == pytest.approx(14.06, abs=5e-3)
    assert plane_area([arc]) - 10.0 * arc.chord == pytest.approx(18.01, abs=5e-3)
    assert math.degrees(arc.angle) == pytest.approx(67.11462, abs=1e-5)


@pytest.mark.parametrize(("chord", "height"), [(13.266499, 2.0), (59.866518, 8.0), (1.0, 0.1339746)])
def test_radius_from_chord_and_height(chord: float, height: float) -> None:
    """Machinery's Handbook 31, p. 83: r = (c^2 + 4 h^2) / (8 h)."""
    arc = Arc.through(Point(0.0, 0.0), Point(chord / 2.0, height), Point(chord, 0.0))
    assert arc.radius == pytest.approx((chord**2 + 4 * height**2) / (8 * height), rel=1e-12)
