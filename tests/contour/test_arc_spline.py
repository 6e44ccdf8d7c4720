"""Points as few arcs and lines: every point within the tolerance, joints smooth, circles and lines found as such."""

import math
import random

import numpy as np
import pytest
from scipy.optimize import minimize_scalar

from calc.contour import Arc, Chain, Line, Point
from calc.contour.arc_spline import _RATIOS, Fitted, _biarc, _Bow, _Stretch, fit_curve
from calc.contour.point_text import read_points
from calc.contour.sagged import ellipse, end_curve, sag
from calc.language.problems import OutOfRange
from calc.language.quantities import View


def _ellipse(count: int, turn: float = math.pi) -> list[Point]:
    """The ellipse 30 x 20 (whole axes) from its end on Z outward."""
    return [
        Point(15.0 * math.cos(turn * i / (count - 1)), 10.0 * math.sin(turn * i / (count - 1))) for i in range(count)
    ]


def _kink(fitted: Fitted) -> float:
    """The largest turn at a joint, rad."""
    pairs = zip(fitted.elements, fitted.elements[1:], strict=False)
    return max((abs(math.remainder(b.start_heading - a.end_heading, math.tau)) for a, b in pairs), default=0.0)


def _off(fitted: Fitted, points: list[Point]) -> float:
    return max(min(element.distance_to(point) for element in fitted.elements) for point in points)


def test_ten_thousand_points_of_an_ellipse_stay_within_a_micrometre_with_smooth_joints() -> None:
    points = _ellipse(10_000)
    fitted = fit_curve(points, 0.001)
    assert fitted.largest_error <= 0.001
    assert _off(fitted, points[::97]) <= 0.001
    assert _kink(fitted) < 1e-9
    assert len(fitted.elements) <= 40
    assert (fitted.elements[0].start, fitted.elements[-1].end) == (points[0], points[-1])


def test_the_arcs_follow_the_ellipse_between_its_points_by_the_closed_form() -> None:
    """The distance of a point of an arc from the ellipse by minimising it over the angle (scipy)."""
    fitted = fit_curve(_ellipse(2000), 0.005)
    for element in fitted.elements:
        for share in (0.1, 0.3, 0.5, 0.7, 0.9):
            point = element.point_at(share * element.length)
            near = math.atan2(point.r / 10.0, point.z / 15.0)
            found = minimize_scalar(
                lambda t, p=point: math.hypot(15.0 * math.cos(t) - p.z, 10.0 * math.sin(t) - p.r),
                bounds=(near - 0.1, near + 0.1), method="bounded", options={"xatol": 1e-12},
            )  # fmt: skip
            assert found.fun <= 0.005 + 1e-6


def test_a_circle_is_one_arc_and_a_line_one_line() -> None:
    circle = fit_curve([Point(10.0 * math.cos(0.01 * i), 10.0 * math.sin(0.01 * i)) for i in range(200)], 0.001)
    assert len(circle.elements) == 1
    assert isinstance(circle.elements[0], Arc)
    assert circle.elements[0].radius == pytest.approx(10.0, abs=1e-9)
    line = fit_curve([Point(-0.1 * i, 5.0 + 0.02 * i) for i in range(50)], 0.001)
    assert [type(element) for element in line.elements] == [Line]
    assert line.largest_error == pytest.approx(0.0, abs=1e-12)


def test_a_line_an_arc_and_a_line_are_found_as_these_three() -> None:
    bend = [0.5 * math.pi * i / 50 for i in range(1, 51)]
    points = [Point(-0.1 * i, 5.0) for i in range(101)]
    points += [Point(-10.0 - 5.0 * math.sin(a), 10.0 - 5.0 * math.cos(a)) for a in bend]
    points += [Point(-15.0, 10.0 + 0.1 * i) for i in range(1, 50)]
    fitted = fit_curve(points, 0.001)
    assert [type(element) for element in fitted.elements] == [Line, Arc, Line]
    assert fitted.elements[1].radius == pytest.approx(5.0, abs=1e-9)  # type: ignore[union-attr]  # an arc


def test_a_coarse_circle_has_no_corners() -> None:
    """Every turn is as sharp as its neighbours, the last one too."""
    fitted = fit_curve([Point(10.0 * math.cos(0.5 * i), 10.0 * math.sin(0.5 * i)) for i in range(7)], 0.001)
    assert len(fitted.elements) == 1


def test_a_corner_of_the_points_stays_a_corner() -> None:
    points = [Point(-0.1 * i, 5.0) for i in range(50)] + [Point(-4.9, 5.0 + 0.1 * i) for i in range(1, 50)]
    assert len(fit_curve(points, 0.001).elements) == 2


def test_no_more_than_a_tenth_more_elements_than_the_best_choice_of_the_same_pairs() -> None:
    """The best by trying every pair of points (dynamic programming over the same pairs of arcs)."""
    for points, tolerance in ((_ellipse(120), 0.002), (end_curve(8.0, 12.0, -1.0)[::20], 0.002)):
        stretch = _Stretch(np.array([complex(p.z, p.r) for p in points]), tolerance)
        best = [0] + [10**6] * (len(points) - 1)
        for last in range(1, len(points)):
            for first in range(last):
                if best[first] + 2 < best[last] and stretch._pair(first, last):
                    best[last] = best[first] + 2
        assert len(fit_curve(points, tolerance).elements) <= 1.1 * best[-1]


def test_measured_points_with_noise_are_followed_within_the_tolerance() -> None:
    chance = random.Random(1)
    points = [Point(p.z + chance.gauss(0.0, 0.001), p.r + chance.gauss(0.0, 0.001)) for p in _ellipse(1000)]
    fitted = fit_curve(points, 0.01)
    assert _off(fitted, points[::13]) <= 0.01
    assert len(fitted.elements) < 100
    Chain(fitted.elements)


def test_places_are_as_far_from_a_piece_as_its_sector_says() -> None:
    """A quarter of R10 about 0 and a line 4 long, by hand: beside it, beyond its ends, on the far side."""
    for turn in (1.0, -1.0):
        quarter = _Bow(10 + 0j, 10j * turn, 1j * turn)
        assert quarter.half_turn == pytest.approx(turn * math.pi / 4.0)
        spots = np.array(
            [9.0 + 9.0j * turn, 3.0 + 0.1j * turn, 11.0 - 1.0j * turn, -1.0 + 12.0j * turn, -5.0 - 5.0j * turn]
        )
        wanted = [
            9.0 * math.sqrt(2.0) - 10.0,
            10.0 - math.hypot(3.0, 0.1),
            math.sqrt(2.0),
            math.sqrt(5.0),
            math.sqrt(250.0),
        ]
        assert quarter.distances(spots) == pytest.approx(wanted, abs=1e-12)
    line = _Bow(0j, 4j, 1j)
    assert line.distances(np.array([1 + 1j, -2 + 4j, -3j, 3 + 8j])) == pytest.approx([1.0, 2.0, 3.0, 5.0])


@pytest.mark.parametrize("ratio", _RATIOS)
def test_two_arcs_leave_and_arrive_as_asked_and_their_tangents_are_in_the_ratio(ratio: float) -> None:
    """The tangent of an arc from its end to where both meet is R tan(half its turn): geometry of a circle."""
    chance = random.Random(4)
    for _ in range(20):
        leave, arrive = (np.exp(1j * chance.uniform(-0.8, 0.8)) for _ in range(2))
        one, other = _biarc(1 + 2j, leave, 6.0 + chance.uniform(-1.0, 1.0) * 1j, arrive, ratio)
        assert one.heading == leave
        assert abs(other.end_heading - arrive) < 1e-9
        assert abs(one.end_heading - other.heading) < 1e-12
        tangents = [bow.radius * math.tan(bow.half_turn) for bow in (one, other)]
        assert tangents[0] / tangents[1] == pytest.approx(ratio, rel=1e-9)


def test_between_parallel_directions_stand_two_equal_arcs() -> None:
    """An offset h over a length L takes two arcs of R = (L^2 + h^2) / 4 h that meet halfway: 17 / 4, by hand."""
    one, other = _biarc(0j, 1 + 0j, 4 + 1j, 1 + 0j, 1.0)
    assert (one.b, other.b) == (2 + 0.5j, 4 + 1j)
    assert (one.radius, other.radius) == pytest.approx((4.25, -4.25))


def test_an_asphere_has_the_sag_of_its_formula() -> None:
    """ISO 10110-12: z = r^2 / (R (1 + sqrt(1 - (1 + k) r^2 / R^2))) + A r^4, by hand."""
    assert sag(3.0, 5.0) == pytest.approx(1.0)
    assert sag(4.0, 8.0, -1.0, [1e-3]) == pytest.approx(1.0 + 0.256)
    radius, conic = ellipse(10.0, 15.0)
    assert sag(10.0, radius, conic) == pytest.approx(15.0)
    assert sag(6.0, radius, conic) == pytest.approx(15.0 * (1.0 - 0.8))


def test_an_ellipse_out_to_its_half_axis_is_as_long_as_the_other() -> None:
    """Rounding leaves less than nothing under the root there."""
    assert end_curve(1.0, *ellipse(1.0, 10.0))[-1] == pytest.approx((-10.0, 1.0))


@pytest.mark.parametrize(
    ("points", "tolerance", "field"),
    [
        ([Point(0.0, 0.0)], 0.001, "points"),
        ([Point(0.0, 0.0), Point(0.0, 0.0)], 0.001, "points.1"),
        ([Point(0.0, 0.0), Point(1.0, 0.0)], 0.0, "tolerance"),
        ([Point(0.0, 0.0), Point(1.0, 0.0)], math.nan, "tolerance"),
    ],
)
def test_what_cannot_be_fitted_is_said_at_its_field(points: list[Point], tolerance: float, field: str) -> None:
    with pytest.raises(OutOfRange) as error:
        fit_curve(points, tolerance)
    assert error.value.faults[0].field == field


def test_points_in_one_place_are_named_as_they_are_counted() -> None:
    with pytest.raises(OutOfRange, match="Points 2 and 3 are in one place"):
        fit_curve([Point(0.0, 0.0), Point(1.0, 0.0), Point(1.0, 0.0), Point(2.0, 0.0)], 0.001)


def test_a_table_of_more_than_ten_thousand_points_is_refused_unread() -> None:
    points, (fault,) = read_points("0 0\n" * 10_001, View())
    assert points == ()
    assert fault.message.say() == "These are 10001 points; at most 10000 are fitted."


def test_a_curve_that_does_not_reach_says_how_far_it_does() -> None:
    with pytest.raises(OutOfRange, match="reaches 5"):
        end_curve(6.0, 5.0)
    for to_radius, apex in ((0.0, 5.0), (3.0, 0.0)):
        with pytest.raises(OutOfRange, match="must be more than 0"):
            end_curve(to_radius, apex)
