"""Solids and surfaces of revolution against textbook closed forms, quadrature and 40-digit arithmetic."""

import math
from collections.abc import Callable

import mpmath
import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import fixed_quad

from calc.contour import (
    Arc,
    Chain,
    Element,
    Line,
    NotClosed,
    Point,
    enclosed_volume,
    moments,
    plane_area,
    surface_of_revolution,
    volume_of_revolution,
)

from .strategies import chains, elements, samples

sizes = st.floats(0.1, 100.0)


def along(element: Element, integrand: Callable[[Point], float], direction: bool = True) -> float:
    """Integral of a function of the point over dz, or over ds."""

    def per_length(s: float) -> float:
        return integrand(element.point_at(s)) * (element.tangent_at(s).z if direction else 1.0)

    return float(fixed_quad(np.vectorize(per_length), 0.0, element.length, n=60)[0])


@given(elements)
def test_all_integrals_agree_with_quadrature(element: Element) -> None:
    size = max(element.size, element.length)
    found = moments([element])
    assert found.area == pytest.approx(along(element, lambda p: p.r), abs=1e-11 * size**2)
    assert found.about_axis == pytest.approx(along(element, lambda p: p.r**2 / 2), abs=1e-11 * size**3)
    assert found.about_origin == pytest.approx(along(element, lambda p: p.z * p.r), abs=1e-11 * size**3)
    surface = along(element, lambda p: math.tau * p.r, direction=False)
    assert surface_of_revolution([element]) == pytest.approx(surface, abs=1e-10 * size**2)
    assert volume_of_revolution([element]) == pytest.approx(math.tau * found.about_axis, rel=1e-15)


@given(sizes, st.floats(0.01, 2.0))
def test_sphere_caps(radius: float, share: float) -> None:
    """V = pi h^2 (3R - h) / 3, S = 2 pi R h (any textbook of mensuration)."""
    height = share * radius
    centre = Point(radius - height, 0.0)
    whole = Arc(Point(-height, 0.0), Point(2 * radius - height, 0.0), centre, "cw")
    cap = whole.split(*map(whole.locate, whole.points_at_z(0.0)))[0]
    assert volume_of_revolution([cap]) == pytest.approx(math.pi * height**2 * (3 * radius - height) / 3, rel=1e-9)
    assert surface_of_revolution([cap]) == pytest.approx(math.tau * radius * height, rel=1e-9)


@given(sizes, st.floats(0.0, 100.0), st.floats(0.1, 100.0))
def test_frustums_and_cones(large: float, small: float, length: float) -> None:
    """V = pi h (R^2 + R r + r^2) / 3, S = pi (R + r) slant."""
    side = Line(Point(-length, large), Point(0.0, small))
    expected = math.pi * length * (large**2 + large * small + small**2) / 3
    assert volume_of_revolution([side]) == pytest.approx(expected, rel=1e-12)
    slant = math.hypot(length, large - small)
    assert surface_of_revolution([side]) == pytest.approx(math.pi * (large + small) * slant, rel=1e-12)
    distance = (large**2 + large * small + small**2) / (large + small) / 3
    assert moments([side]).centroid.r == pytest.approx(distance, rel=1e-12)


@given(sizes, st.floats(1.0, 5.0))
def test_tori(radius: float, ratio: float) -> None:
    """Pappus: V = 2 pi^2 R r^2, S = 4 pi^2 R r."""
    at = Point(3.0, ratio * radius)
    left, right = at.shifted(-radius, 0.0), at.shifted(radius, 0.0)
    ring = Chain((Arc(left, right, at, "cw"), Arc(right, left, at, "cw")))
    assert enclosed_volume(ring) == pytest.approx(2 * math.pi**2 * at.r * radius**2, rel=1e-12)
    assert surface_of_revolution(ring) == pytest.approx(4 * math.pi**2 * at.r * radius, rel=1e-12)
    assert abs(plane_area(ring)) == pytest.approx(math.pi * radius**2, rel=1e-12)
    assert moments(ring).centroid.distance_to(at) <= 1e-9 * radius


def test_the_centroid_of_half_a_disc() -> None:
    """4R / 3pi (any textbook of statics)."""
    half = Arc(Point(-5.0, 0.0), Point(5.0, 0.0), Point(0.0, 0.0), "cw")
    assert moments([half]).centroid.r == pytest.approx(20.0 / (3.0 * math.pi), rel=1e-14)


@pytest.mark.parametrize(("radius", "depth"), [(1e5, 1e-3), (1e5, 1.0), (9e3, 0.02), (90.0, 4.5)])
def test_shallow_dishes_keep_their_digits(radius: float, depth: float) -> None:
    """Cap volume, mean line and surface with 40 digits, though R^3 is 1e15 times the last one that counts."""
    with mpmath.workdps(40):
        R, h = mpmath.mpf(radius), mpmath.mpf(depth)
        rim = mpmath.sqrt(h * (2 * R - h))
        half = mpmath.asin(rim / R)
        cap = mpmath.pi * h**2 * (3 * R - h) / 3
        segment = R**2 * (half - mpmath.sin(half) * mpmath.cos(half))
    dish = Arc.from_radius(Point(0.0, float(rim)), Point(-depth, 0.0), radius, "ccw")
    assert -volume_of_revolution([dish]) == pytest.approx(float(cap), rel=1e-12)
    assert surface_of_revolution([dish]) == pytest.approx(float(2 * mpmath.pi * R * h), rel=1e-9)
    whole = Arc.from_radius(Point(-float(rim), 0.0), Point(float(rim), 0.0), radius, "cw")
    assert plane_area([whole]) == pytest.approx(float(segment), rel=1e-12)


@given(st.floats(1e-6, 3.1))
def test_segment_integrals_are_continuous_between_series_and_closed_form(half: float) -> None:
    with mpmath.workdps(40):
        x = mpmath.mpf(half)
        area, moment = x - mpmath.sin(x) * mpmath.cos(x), 2 * mpmath.sin(x) ** 3 / 3
        about_chord = moment - area * mpmath.cos(x)
    arc = Arc.from_angles(Point(0.0, -math.cos(half)), 1.0, math.pi / 2 + half, math.pi / 2 - half, "cw")
    assert plane_area([arc]) == pytest.approx(float(area), rel=1e-9, abs=1e-15)
    assert moments([arc]).about_axis == pytest.approx(float(about_chord), rel=1e-9, abs=1e-15)


@given(chains())
def test_direction_only_changes_the_sign_and_size_the_power(chain: Chain) -> None:
    size = max(chain.bounds.size, chain.length)
    assert plane_area(chain.reversed()) == pytest.approx(-plane_area(chain), abs=1e-12 * size**2)
    assert volume_of_revolution(chain.reversed()) == pytest.approx(-volume_of_revolution(chain), abs=1e-11 * size**3)
    assert volume_of_revolution(chain.mirrored()) == pytest.approx(volume_of_revolution(chain), abs=1e-11 * size**3)
    larger = volume_of_revolution(chain.scaled(25.4))
    assert larger == pytest.approx(25.4**3 * volume_of_revolution(chain), abs=1e-11 * (25.4 * size) ** 3)


@given(chains(most=4))
def test_closed_paths_agree_with_a_general_polygon(chain: Chain) -> None:
    loop = [*chain, Line(chain.end, chain.start)] if not chain.is_closed else list(chain)
    polygon = shapely.Polygon([p for element in loop for p in samples(element, 300)])
    if polygon.is_valid:
        assert abs(plane_area(loop)) == pytest.approx(polygon.area, rel=1e-3, abs=0.5)


def test_an_open_path_encloses_nothing() -> None:
    with pytest.raises(NotClosed) as error:
        enclosed_volume([Line(Point(0.0, 5.0), Point(0.0, 8.0))])
    assert error.value.gap == 3.0
