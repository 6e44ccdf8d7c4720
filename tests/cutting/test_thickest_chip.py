"""The largest chip against the area between two edges, measured by a general geometry library."""

import math

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon, box

from calc.cutting.chip import Edge, engagement, mean_chip
from calc.cutting.thickest_chip import feed_for_thickest_chip, mean_thickness, thickest_chip

SIDES = 800


def outline(edge: Edge, x: float) -> Polygon:
    """What stands above the edge when its lowest point is at `x`: nose disc and all behind the straight edge."""
    r, kappa = edge.nose_radius, edge.entering_angle
    nose = Point(x, r).buffer(r, quad_segs=SIDES)
    end = (x - r * math.sin(kappa), r - r * math.cos(kappa))
    far = (end[0] - 50 * math.cos(kappa), end[1] + 50 * math.sin(kappa))
    behind = Polygon([(x, r), end, far, (x + 50, far[1]), (x + 50, r)])
    return nose.union(behind)


def measured(feed: float, depth: float, edge: Edge) -> float:
    """The longest way through the chip, square to the edge, over 2000 places of it."""
    now, before = outline(edge, 0.0), outline(edge, feed)
    chip = now.intersection(box(-60, 0.0, 60, depth)).difference(before)
    r, kappa = edge.nose_radius, edge.entering_angle
    longest = 0.0
    straight = max((depth - edge.nose_depth()) / math.sin(kappa), 0.0)
    for k in range(2001):
        way = k / 2000 * (r * kappa + straight)
        angle = min(way / r, kappa)
        beyond = way - r * angle
        x = -r * math.sin(angle) - beyond * math.cos(kappa)
        y = r - r * math.cos(angle) + beyond * math.sin(kappa)
        ray = LineString([(x, y), (x + 3 * math.sin(angle), y + 3 * math.cos(angle))])
        longest = max(longest, ray.intersection(chip).length)
    return longest


@pytest.mark.parametrize(
    ("depth", "feed", "nose", "exact"),
    # the first two read 0.104 and 0.0968 by the rule
    [(0.05, 0.3, 0.8, 0.05), (0.1, 0.2, 0.8, 0.0754), (0.3, 0.2, 6.0, 0.05942), (2.0, 0.3, 0.8, 0.3)],
)
def test_the_chip_of_a_shallow_cut_is_exact(depth: float, feed: float, nose: float, exact: float) -> None:
    assert thickest_chip(feed, depth, Edge(nose)) == pytest.approx(exact, abs=6e-5)


@pytest.mark.parametrize("degrees", [45.0, 75.0, 89.0])
@pytest.mark.parametrize("depth", [0.05, 0.1, 0.3, 1.0, 2.0])
@pytest.mark.parametrize("feed", [0.05, 0.2, 0.4])
def test_it_is_what_a_geometry_library_measures(degrees: float, depth: float, feed: float) -> None:
    edge = Edge(0.8, math.radians(degrees))
    assert thickest_chip(feed, depth, edge) == pytest.approx(measured(feed, depth, edge), rel=4e-3)


@example(0.4375, 0.599609375, 0.25, 47.0)
@given(st.floats(0.02, 3.0), st.floats(0.01, 0.6), st.floats(0.2, 6.0), st.floats(30.0, 95.0))
def test_it_lies_between_the_mean_and_feed_and_depth(depth: float, feed: float, nose: float, degrees: float) -> None:
    edge = Edge(nose, math.radians(degrees))
    found = thickest_chip(feed, depth, edge)
    # Square to the edge the chip may be thicker than the cut is deep; upright it is not: a straight edge at 47 degrees.
    upright = math.cos(math.radians(min(degrees, 90.0)))
    assert found <= feed * (1 + 1e-9)
    assert found * upright <= depth * (1 + 1e-9)
    mean = mean_chip(feed, depth, engagement(depth, edge).width)
    assert found > 0.9 * mean or feed > 0.5 * depth


@given(st.floats(0.02, 3.0), st.floats(0.005, 0.3), st.floats(0.2, 6.0), st.floats(30.0, 95.0))
def test_the_feed_for_a_thickness_gives_it(depth: float, thickness: float, nose: float, degrees: float) -> None:
    edge = Edge(nose, math.radians(degrees))
    feed = feed_for_thickest_chip(thickness, depth, edge)
    if feed is None:
        assert thickness >= depth
    elif thickness < depth:
        assert thickest_chip(feed, depth, edge) == pytest.approx(thickness)


@pytest.mark.parametrize("nose", [0.2, 0.4, 0.8, 6.0])
@pytest.mark.parametrize("kappa", [45.0, 75.0, 90.0, 95.0])
def test_the_mean_chip_is_never_thicker_than_the_largest(nose: float, kappa: float) -> None:
    """At a feed above half the depth the rule for the mean once gave more than the largest (0.053 beside 0.050)."""
    for depth in (0.02, 0.05, 0.2, 0.5, 2.0):
        for feed in (0.05, 0.15, 0.3, 0.8, 2.0):
            edge = Edge(nose, math.radians(kappa))
            assert mean_thickness(feed, engagement(depth, edge)) <= thickest_chip(feed, depth, edge) + 1e-12


def test_the_mean_chip_is_feed_times_depth_over_the_edge_in_cut_where_the_feed_is_small() -> None:
    """Round insert of 12 at 0.15 deep, feed 0.15: the edge in cut is 6 acos(1 - 0.15/6); by hand."""
    assert mean_thickness(0.15, engagement(0.15, Edge(6.0))) == pytest.approx(0.15**2 / (6 * math.acos(1 - 0.15 / 6)))
