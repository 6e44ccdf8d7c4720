"""Finish with the straight trailing edge, and Rq, against computed check values and the profile integrated by scipy."""

import math
from itertools import pairwise

import pytest
from scipy.integrate import quad

from calc.cutting.finish import finish
from calc.cutting.scallop import Scallop, rq
from calc.cutting.trailing_edge import Ridge, peak_with_trailing_edge
from calc.language.problems import Impossible
from calc.questions.cutting.finish import FinishInputs, solve


@pytest.mark.parametrize(
    ("feed", "nose", "degrees", "um"),
    # computed check values: the arc and the edge brought to meet by brute force; as in handbooks of metal cutting
    [(0.3, 0.4, 5.0, 15.171852), (0.5, 0.4, 29.0, 83.925708)],
)
def test_the_peak_is_where_edge_and_arc_meet(feed: float, nose: float, degrees: float, um: float) -> None:
    found = finish(feed, nose, trailing_angle=math.radians(degrees))
    assert 1000 * found.peak_height == pytest.approx(um, abs=1e-6)
    assert found.by_edge


def test_a_nose_that_is_almost_sharp_leaves_what_a_sharp_one_does() -> None:
    # sharp tool: Rt = f / (cot kappa + cot kappa'), 50 um for 0.2, 75 and 15 degrees; here the leading side is the arc
    found = finish(0.2, 0.01, trailing_angle=math.radians(2.0))
    assert 1000 * found.peak_height == pytest.approx(1000 * 0.2 * math.tan(math.radians(2.0)), rel=0.1)


def profile(feed: float, r: float, kappa: float):  # type: ignore[no-untyped-def]
    def trailing(x: float) -> float:
        end = r * math.sin(kappa)
        return r - math.sqrt(r * r - x * x) if x < end else r - r * math.cos(kappa) + (x - end) * math.tan(kappa)

    def leading(x: float) -> float:
        return r - math.sqrt(max(r * r - (feed - x) ** 2, 0.0))

    return lambda x: min(trailing(x), leading(x))


@pytest.mark.parametrize(("feed", "nose", "degrees"), [(0.4, 0.4, 15.0), (0.3, 0.4, 5.0), (0.5, 0.8, 12.0)])
def test_ra_is_that_of_the_profile_integrated(feed: float, nose: float, degrees: float) -> None:
    # f 0.4, r 0.4, 15 degrees was only warned of
    kappa = math.radians(degrees)
    height = profile(feed, nose, kappa)
    cuts = [0.0, nose * math.sin(kappa), *(feed * k / 200 for k in range(1, 201))]
    spans = list(pairwise(sorted(cuts)))
    mean = sum(quad(height, a, b)[0] for a, b in spans) / feed
    ra = sum(quad(lambda x: abs(height(x) - mean), a, b)[0] for a, b in spans) / feed
    found = finish(feed, nose, trailing_angle=kappa)
    assert found.ra == pytest.approx(ra, rel=1e-4)
    ridge = Ridge(feed, nose, kappa, peak_with_trailing_edge.function(feed, nose, kappa))
    assert ridge.mean() == pytest.approx(mean, rel=1e-6)
    assert found.ra < finish(feed, nose).ra


def test_below_its_feed_the_edge_changes_nothing_and_it_joins_without_a_jump() -> None:
    kappa, nose = math.radians(15.0), 0.4
    border = 2 * nose * math.sin(kappa)
    assert finish(border * 0.999, nose, trailing_angle=kappa) == finish(border * 0.999, nose)
    above, below = finish(border * 1.000001, nose, trailing_angle=kappa), finish(border * 0.999999, nose)
    assert above.peak_height == pytest.approx(below.peak_height, rel=1e-4)
    assert above.ra == pytest.approx(below.ra, rel=1e-4)


def test_ridges_higher_than_the_nose_have_no_finish() -> None:
    with pytest.raises(Impossible):
        finish(3.0, 0.4, trailing_angle=math.radians(40.0))


@pytest.mark.parametrize(
    ("feed", "nose", "um"),
    # computed check values at 30 digits
    [(0.1, 0.4, 0.934835), (0.2, 0.8, 1.869671), (0.3, 0.8, 4.224695), (0.5, 0.4, 25.658539), (0.8, 0.4, 89.278344)],
)
def test_rq_is_the_root_mean_square(feed: float, nose: float, um: float) -> None:
    assert 1000 * rq(Scallop(nose), feed) == pytest.approx(um, abs=2e-6)


def test_the_page_answers_with_the_edge_instead_of_a_warning() -> None:
    warned = solve(FinishInputs(feed=0.4, nose_radius=0.4))
    assert "feed" in [caution.about for caution in warned.cautions]
    exact = solve(FinishInputs(feed=0.4, nose_radius=0.4, trailing_angle=math.radians(15.0)))
    assert "feed" not in [caution.about for caution in exact.cautions]
    assert exact.results.peak_height < warned.results.peak_height
    assert warned.results.rq is not None


def test_no_peaks_are_given_where_the_model_of_pressing_ends() -> None:
    # 17.85 um stood here at f 0.05, r 0.8 and an edge rounded by 0.03
    found = solve(FinishInputs(feed=0.05, nose_radius=0.8, edge_rounding=0.03))
    assert found.results.peak_height_pressed is None
    said = next(caution.message.say() for caution in found.cautions if caution.about == "feed")
    assert "published model ends there with peaks of about 9.00 µm" in said
    kept = solve(FinishInputs(feed=0.2, nose_radius=0.8, edge_rounding=0.03))
    assert kept.results.peak_height_pressed == pytest.approx(0.011560, abs=1e-6)
