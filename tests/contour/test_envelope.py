"""The lower envelope against the pointwise minimum and a general polygon union."""

import math
from itertools import pairwise

import mpmath
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from calc.contour import Arc, Chain, Element, Line, NotFinite, Point, lower_envelope

from .strategies import chains, elements, fractions, next_arc, samples

NEAR = 1e-9


def has_slope(piece: Element) -> bool:
    """Not so nearly a cylinder that z at a radius is lost to rounding."""
    return isinstance(piece, Arc) or abs(piece.direction.r) > 1e-4 or piece.start.r == piece.end.r


many = st.lists(elements.filter(has_slope), min_size=1, max_size=7)


def lowest_at(pieces: list[Element], r: float) -> float | None:
    """The smallest z of any piece at a radius, straight from the elements."""
    return min((p.z for piece in pieces for p in piece.points_at_r(r)), default=None)


def near_an_end(pieces: list[Element], r: float, within: float) -> bool:
    parts = [part for piece in pieces for part in piece.split_where_r_turns()]
    return any(abs(end.r - r) < within for part in parts for end in (part.start, part.end))


@given(many, st.lists(st.floats(-250.0, 250.0), min_size=20, max_size=20))
def test_the_envelope_is_the_pointwise_minimum(pieces: list[Element], radii: list[float]) -> None:
    envelope = lower_envelope(pieces, 300.0, -300.0)
    for r in radii:
        if not near_an_end(pieces, r, 1e-6):
            lowest, expected = lowest_at(envelope, r), lowest_at(pieces, r)
            assert (lowest is None) == (expected is None)
            assert lowest == pytest.approx(expected, abs=1e-6)


@given(many, st.floats(-100.0, 0.0), st.floats(1.0, 100.0))
def test_the_envelope_runs_from_one_limit_to_the_other_without_overlap(
    pieces: list[Element], low: float, high: float
) -> None:
    down, up = lower_envelope(pieces, high, low), lower_envelope(pieces, low, high)
    assert up == [part.reversed() for part in reversed(down)]
    assert all(part.start.r < part.end.r for part in up)
    assert all(a.end.r <= b.start.r + NEAR for a, b in pairwise(up))
    if up:
        assert low - NEAR <= up[0].start.r
        assert up[-1].end.r <= high + NEAR


@given(many)
def test_each_part_lies_on_the_pieces(pieces: list[Element]) -> None:
    for part in lower_envelope(pieces, 300.0, -300.0):
        checked = [part.point_at(part.length * share) for share in (0.0, 0.3, 0.7, 1.0)]
        assert max(min(piece.distance_to(p) for piece in pieces) for p in checked) <= NEAR


@given(many)
def test_pieces_given_twice_and_in_any_order_change_nothing(pieces: list[Element]) -> None:
    once = lower_envelope(pieces, -300.0, 300.0)
    twice = lower_envelope([*reversed(pieces), *(p.reversed() for p in pieces)], -300.0, 300.0)
    for r in range(-250, 251, 7):
        if not near_an_end(pieces, r, 1e-6):
            assert lowest_at(twice, r) == pytest.approx(lowest_at(once, r), abs=1e-6)
    assert len(twice) <= 2 * len(once) + 2


@given(many)
def test_the_envelope_of_an_envelope_is_itself(pieces: list[Element]) -> None:
    once = lower_envelope(pieces, -300.0, 300.0)
    again = lower_envelope(once, -300.0, 300.0)
    total = math.fsum(part.length for part in once)
    assert math.fsum(part.length for part in again) == pytest.approx(total, abs=1e-6)


@given(many)
def test_inch_and_mm_envelopes_are_one(pieces: list[Element]) -> None:
    inch = lower_envelope([piece.scaled(1.0 / 25.4) for piece in pieces], -20.0, 20.0)
    metric = lower_envelope(pieces, -508.0, 508.0)
    total = math.fsum(part.length for part in metric)
    assert 25.4 * math.fsum(part.length for part in inch) == pytest.approx(total, abs=1e-6)


def test_what_two_discs_leave_meets_where_they_cross() -> None:
    """Two circles of radius 6 whose centres are 8 apart cross sqrt(36 - 16) below their centres."""
    discs = [Arc(Point(0.0, c + 6.0), Point(0.0, c - 6.0), Point(0.0, c), "ccw") for c in (0.0, 8.0)]
    left, right = lower_envelope(discs, 14.0, -6.0)
    with mpmath.workdps(40):
        depth = float(-mpmath.sqrt(20))
    assert left.end == right.start
    assert left.end.distance_to(Point(depth, 4.0)) <= NEAR


def test_a_union_of_discs_and_a_swept_band_agree_with_general_polygons() -> None:
    nose, knee = 6.0, Point(-9.0, 20.0)
    wall, dish = Line(Point(0.0, 40.0), knee), Arc(knee, Point(-9.0, 4.0), Point(-4.0, 12.0), "ccw")
    path = Chain((wall, dish))
    discs = [Arc(p.shifted(0.0, nose), p.shifted(0.0, -nose), p, "ccw") for p in (path.start, knee, path.end)]
    swept = [*path.offset_elements(nose, "left"), *path.offset_elements(nose, "right")]
    envelope = lower_envelope([*discs, *(parallel.element for parallel in swept)], 46.0, -2.0)
    line = shapely.LineString([p for element in path for p in samples(element, 2000)])
    union = line.buffer(nose, quad_segs=512)
    for r in [x / 7.0 for x in range(-13, 321)]:
        cut = union.intersection(shapely.LineString([(-100.0, r), (100.0, r)]))
        assert lowest_at(envelope, r) == pytest.approx(cut.bounds[0], abs=2e-4)
    assert all(a.end == b.start for a, b in pairwise(envelope))


@pytest.mark.parametrize("apart", [1e-9, 1e-6, 1e-3])
def test_of_two_pieces_that_nearly_coincide_the_lower_counts(apart: float) -> None:
    upper, lower = Line(Point(0.0, 0.0), Point(3.0, 10.0)), Line(Point(-apart, 0.0), Point(3.0 - apart, 10.0))
    assert lower_envelope([upper, lower], 0.0, 10.0) == [lower]
    assert lower_envelope([lower, upper], 0.0, 10.0) == [lower]


@given(st.floats(0.9, 1.2), st.floats(-3.0, 3.0), fractions, st.floats(2.0, 2.9))
def test_a_piece_that_starts_on_another_meets_it_in_one_point(
    heading: float, angle: float, share: float, lower_heading: float
) -> None:
    base = next_arc(Point(7.0, 1.1), heading, 30.0, math.copysign(0.3 + abs(angle) / 10.0, angle))
    foot = base.point_at(share * base.length)
    envelope = lower_envelope([base, Line.at_angle(foot, lower_heading, 90.0)], 0.0, 200.0)
    assert len(envelope) == 2
    assert envelope[0].end == envelope[1].start
    assert envelope[0].end.distance_to(foot) <= NEAR


def test_gaps_stay_gaps_and_steps_stay_steps() -> None:
    pieces: list[Element] = [Line(Point(0.0, 0.0), Point(0.0, 5.0)), Line(Point(-1.0, 8.0), Point(-1.0, 12.0))]
    high = Line(Point(3.0, 4.0), Point(3.0, 6.0))
    assert lower_envelope([*pieces, high], 0.0, 20.0) == [
        Line(Point(0.0, 0.0), Point(0.0, 5.0)),
        Line(Point(3.0, 5.0), Point(3.0, 6.0)),
        pieces[1],
    ]


def test_pieces_on_one_another_count_once() -> None:
    pieces: list[Element] = [Line(Point(0.0, r), Point(0.0, r + 4.0)) for r in (0.0, 3.0, 1.0, 6.0)]
    assert lower_envelope(pieces, 0.0, 20.0) == [Line(Point(0.0, 0.0), Point(0.0, 10.0))]
    arc = Arc(Point(0.0, 5.0), Point(0.0, -5.0), Point(0.0, 0.0), "ccw")
    assert lower_envelope([arc, arc.between(1.0, 9.0), arc.reversed()], 5.0, -5.0) == [arc]


def test_a_cylinder_covers_no_radius_and_nothing_gives_nothing() -> None:
    assert lower_envelope([Line(Point(0.0, 5.0), Point(-9.0, 5.0))], 0.0, 10.0) == []
    assert lower_envelope([], 0.0, 10.0) == []
    assert lower_envelope([Line(Point(0.0, 0.0), Point(0.0, 5.0))], 3.0, 3.0) == []
    with pytest.raises(NotFinite):
        lower_envelope([], math.nan, 1.0)


@given(chains(most=4), fractions)
def test_a_limit_inside_a_piece_cuts_it_there(chain: Chain, share: float) -> None:
    box = chain.bounds
    limit = box.r_min + share * (box.r_max - box.r_min)
    envelope = lower_envelope(chain, limit, box.r_max + 1.0)
    if envelope and envelope[0].start.r < limit + NEAR:
        assert envelope[0].start.r == pytest.approx(limit, abs=NEAR)
