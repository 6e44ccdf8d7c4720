"""Chip thickness of round and straight edges against a printed table, integration and limiting cases."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from calc.cutting.chip import (
    RIGHT_ANGLE,
    Edge,
    engagement,
    engagement_angle,
    feed_for_largest_chip,
    largest_chip,
    mean_chip,
    straight_chip,
    straight_width,
)
from calc.language.problems import OutOfRange

noses = st.floats(0.1, 10.0)
angles = st.floats(math.radians(15), math.radians(110))


@pytest.mark.parametrize(
    ("depth_over_circle", "degrees", "factor", "thin", "thick"),
    [
        (0.25, 60, 1.16, 0.12, 0.41),
        (0.20, 53, 1.25, 0.13, 0.44),
        (0.10, 37, 1.66, 0.17, 0.58),
        (0.05, 26, 2.3, 0.23, 0.81),
    ],
)
def test_round_insert_agrees_with_the_printed_guide_on_heat_resistant_super_alloys_page_19(
    depth_over_circle: float, degrees: float, factor: float, thin: float, thick: float
) -> None:
    phi = engagement_angle(depth_over_circle * 12.0, 6.0)
    assert math.degrees(phi) == pytest.approx(degrees, abs=0.5)
    assert feed_for_largest_chip(1.0, phi) == pytest.approx(factor, abs=0.01)
    assert feed_for_largest_chip(0.1, phi) == pytest.approx(thin, abs=0.0051)
    assert feed_for_largest_chip(0.35, phi) == pytest.approx(thick, abs=0.0091)


def test_the_printed_guides_worked_example_of_a_6_mm_insert_holds() -> None:
    cut = engagement(0.9, Edge(3.0))
    assert math.degrees(cut.thickest_at) == pytest.approx(46, abs=0.5)
    assert feed_for_largest_chip(0.1, cut.thickest_at) == pytest.approx(0.14, abs=0.005)
    assert feed_for_largest_chip(0.35, cut.thickest_at) == pytest.approx(0.49, abs=0.005)


@given(noses, st.floats(0.01, 1.0), st.floats(0.01, 1.0))
def test_the_mean_chip_of_a_nose_is_the_mean_over_its_angle(nose: float, share: float, feed: float) -> None:
    cut = engagement(share * nose, Edge(nose))
    phi = math.acos(1 - share)
    mean = quad(lambda angle: feed * math.sin(angle), 0.0, phi)[0] / phi
    assert mean_chip(feed, cut.depth, cut.width) == pytest.approx(mean, rel=1e-9)


@given(noses, st.floats(0.01, 3.0), angles)
def test_the_edge_in_cut_is_as_long_as_nose_and_straight_edge_measured(nose: float, share: float, kappa: float) -> None:
    depth = share * nose
    cut = engagement(depth, Edge(nose, kappa))
    end = min(kappa, math.acos(1 - share) if share < 2 else math.pi)
    arc = nose * end
    straight = max(depth - nose * (1 - math.cos(end)), 0.0) / math.sin(kappa)
    assert cut.width == pytest.approx(arc + straight, rel=1e-9)


@given(noses, angles)
def test_nothing_jumps_where_the_straight_edge_begins_to_cut(nose: float, kappa: float) -> None:
    edge = Edge(nose, kappa)
    below, above = (engagement(edge.nose_depth() * by, edge) for by in (1 - 1e-9, 1 + 1e-9))
    assert below.width == pytest.approx(above.width, rel=1e-6)
    assert below.thickest_at == pytest.approx(above.thickest_at, rel=1e-3)


@given(st.floats(0.1, 10.0), st.floats(0.01, 1.0), angles)
def test_a_sharp_corner_is_a_straight_edge(depth: float, feed: float, kappa: float) -> None:
    cut = engagement(depth, Edge(0.0, kappa))
    assert cut.width == pytest.approx(straight_width(depth, kappa))
    assert mean_chip(feed, depth, cut.width) == pytest.approx(straight_chip(feed, kappa))


@given(noses, st.floats(0.01, 5.0), st.floats(0.01, 1.0))
def test_no_chip_is_thicker_than_the_feed_and_the_mean_is_never_above_the_largest(
    nose: float, share: float, feed: float
) -> None:
    cut = engagement(share * nose, Edge(nose))
    assert cut.thickest_at <= RIGHT_ANGLE
    assert (
        mean_chip(feed, cut.depth, cut.width) <= largest_chip(feed, cut.thickest_at) * (1 + 1e-12) <= feed * (1 + 1e-9)
    )


def test_entering_angle_95_gives_the_tables_chip() -> None:
    # C45, depth 3, feed 0.3: computed from the published formula at high precision
    kappa = math.radians(95.0)
    assert straight_chip(0.3, kappa) == pytest.approx(0.2988584, abs=5e-8)
    assert straight_width(3.0, kappa) == pytest.approx(3.0114595, abs=5e-8)


@pytest.mark.parametrize("edge", [Edge(-1.0), Edge(math.nan), Edge(1.0, 0.0), Edge(1.0, math.pi), Edge(1.0, math.nan)])
def test_an_edge_that_cannot_be_is_refused(edge: Edge) -> None:
    with pytest.raises(OutOfRange):
        engagement(1.0, edge)


@pytest.mark.parametrize("depth", [0.0, -1.0, math.nan])
def test_a_depth_that_is_none_is_refused(depth: float) -> None:
    with pytest.raises(OutOfRange, match="depth"):
        engagement(depth, Edge(6.0))
