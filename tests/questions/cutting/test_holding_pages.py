"""Soft jaws, collets and mandrels, centres, how far out: against statics, printed beams, Lamé, integrated beams."""

from __future__ import annotations

from math import hypot, pi, radians, tan
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.cutting.centre_load import buckling_force, reaction_with_chuck
from calc.cutting.holding import grip_against_tilt
from calc.cutting.unsupported import deflection_beyond_steady, load_on_steady
from calc.cutting.wedges import grip_of_cone, hoop_stress, outside_spread, push_off
from calc.language.given import Given
from calc.language.problems import Impossible, Missing, OutOfRange
from calc.questions.cutting.centre import CentreInputs
from calc.questions.cutting.centre import solve as solve_centre
from calc.questions.cutting.collet_mandrel import ColletMandrelInputs
from calc.questions.cutting.collet_mandrel import solve as solve_collet
from calc.questions.cutting.how_far_out import HowFarOutInputs
from calc.questions.cutting.how_far_out import solve as solve_far
from calc.questions.cutting.soft_jaws import WHERE, SoftJawsInputs
from calc.questions.cutting.soft_jaws import solve as solve_jaws
from calc.questions.cutting.work_deflection import WorkInputs
from calc.questions.cutting.work_deflection import solve as solve_work
from tests.asking import asked

JAWS: dict[str, Any] = {"work_diameter": 42.0, "grip_length": 12.0, "jaw_width": 30.0}
COLLET: dict[str, Any] = {"grip_diameter": 20.0, "grip_length": 30.0, "draw_force": 12_000.0}
CENTRE: dict[str, Any] = {
    "work_diameter": 40.0,
    "length_out": 300.0,
    "cutting_force": 1800.0,
    "passive_force": 500.0,
}
FAR: dict[str, Any] = {"work_diameter": 20.0, "passive_force": 250.0, "tolerance": 0.02}
H7 = Given(25.0105, nominal=25.0, limits=(25.0, 25.021))  # 25 H7 of ISO 286-2: 0 to +21 um
STEEL = 210_000.0


def jaws(**values: Any) -> Any:
    return solve_jaws(asked(SoftJawsInputs, **{**JAWS, **values}))


def collet(**values: Any) -> Any:
    return solve_collet(asked(ColletMandrelInputs, **{**COLLET, **values}))


def centre(**values: Any) -> Any:
    return solve_centre(asked(CentreInputs, **{**CENTRE, **values}))


def far(**values: Any) -> Any:
    return solve_far(asked(HowFarOutInputs, **{**FAR, **values}))


def abouts(answer: Any) -> set[str]:
    return {caution.about for caution in answer.cautions}


# --- soft jaws ------------------------------------------------------------------------------------------------------


@given(play=st.floats(0.001, 0.9), smaller=st.booleans(), width=st.floats(5.0, 35.0))
def test_the_gap_of_a_jaw_is_that_of_two_circles_laid_together(play: float, smaller: bool, width: float) -> None:
    """Points of both arcs over the jaw, moved together until they touch: the largest distance left is the gap."""
    bore = 42.0 + (-play if smaller else play)
    places = np.linspace(-width / 2, width / 2, 2001)
    work, jaw = np.sqrt(21.0**2 - places**2), np.sqrt((bore / 2) ** 2 - places**2)
    between = jaw - work
    answer = jaws(bore_play=bore - 42.0, jaw_width=width).results
    assert answer.gap == pytest.approx(np.ptp(between), rel=1e-6, abs=1e-9)
    assert answer.touches == (WHERE["edges"] if smaller else WHERE["middle"])


def test_a_jaw_in_a_bore_touches_the_other_way_round() -> None:
    assert jaws(gripped="inside", boring_diameter=50.0, bore_play=0.1).results.touches == WHERE["edges"]
    assert jaws(gripped="inside", boring_diameter=50.0, bore_play=-0.1).results.touches == WHERE["middle"]


def test_the_jaws_are_shown_on_the_smallest_and_the_largest_work() -> None:
    """36 h9, 0 to -62 um of ISO 286-2: bored to the middle it is held on edges at one end, on middles at the other."""
    rows = jaws(work_diameter=Given(35.969, nominal=36.0, limits=(35.938, 36.0))).tables["by_size"]
    assert [row.work for row in rows] == [35.938, 35.969, 36.0]
    assert [row.touches for row in rows] == [WHERE["middle"], WHERE["even"], WHERE["edges"]]


def test_the_ring_the_ledge_and_the_opening_of_an_ordinary_second_side() -> None:
    found = jaws(boring_diameter=36.0, boring_width=12.0, jaw_height=40.0, jaw_stroke=6.0, bore_play=0.02).results
    assert found.jaw_bore == pytest.approx(42.02)
    assert found.ledge == pytest.approx(3.01)
    assert found.jaw_left == pytest.approx(16.0)
    assert found.opening == pytest.approx(48.02)  # half of the stroke on each side
    assert jaws(gripped="inside", boring_diameter=50.0, jaw_stroke=6.0, stroke_used=2.0).results.opening == 38.0


def test_the_grip_on_the_first_side_is_that_of_the_holding_page() -> None:
    """700 N at the held diameter: 1.5 x 700 / 0.1 around; 1.5 x 2 root 3 x F L / (l + mu D) against the tilt."""
    answer = jaws(grip_force=15_000.0, cutting_force=700.0, length_out=28.0)
    assert answer.results.grip_needed == pytest.approx(10_500.0)
    assert answer.results.grip_against_tilt == pytest.approx(grip_against_tilt(1.5, 700.0, 28.0, 12.0, 0.1, 42.0))
    assert "grip_force" not in abouts(answer)
    assert "grip_force" in abouts(jaws(grip_force=10_000.0, cutting_force=700.0))


def test_what_a_setter_must_see_of_soft_jaws_is_said() -> None:
    assert "nose_radius" in abouts(jaws(edge_break=0.3, nose_radius=0.8))
    assert "nose_radius" not in abouts(jaws(edge_break=1.0, nose_radius=0.8))
    assert "bore_play" in abouts(jaws(bore_play=0.8))
    assert "bore_play" not in abouts(jaws(bore_play=0.05))
    assert "stroke_used" in abouts(jaws(jaw_stroke=6.0, stroke_used=5.8))
    assert "jaw_height" in abouts(jaws(jaw_height=28.0, boring_width=12.0))


# --- collets and mandrels -------------------------------------------------------------------------------------------


@given(theta=st.floats(0.01, 0.7), rho=st.floats(0.0, 0.5))
def test_a_cone_drawn_in_is_in_balance(theta: float, rho: float) -> None:
    """The normal force N at `theta` and friction N tan(rho) along the slope against the pull: sums along and across."""
    normal = 1.0 / (np.sin(theta) + tan(rho) * np.cos(theta))
    across = normal * (np.cos(theta) - tan(rho) * np.sin(theta))
    assert grip_of_cone(1.0, theta, rho) == pytest.approx(across, rel=1e-9)
    off = normal * (np.sin(theta) - tan(rho) * np.cos(theta))  # friction now holds it back from coming off
    back = normal * (np.cos(theta) + tan(rho) * np.sin(theta))
    assert push_off(back, theta, rho) == pytest.approx(-off, rel=1e-9, abs=1e-12)


def test_an_ordinary_collet_holds_more_than_twice_what_it_is_drawn_with() -> None:
    """15 degrees and a friction of 0.1: F / tan(15 + 5.71 degrees) = 2.645 F, the wedge of machine elements."""
    found = collet(cutting_force=700.0, range_from=19.5, range_to=20.0).results
    assert found.grip == pytest.approx(12_000.0 * 2.6449, rel=1e-4)
    assert found.torque_held == pytest.approx(0.1 * found.grip * 10.0 / 1.5)
    assert found.share_used == pytest.approx(1.5 * 700.0 / (0.1 * found.grip))
    assert found.push_off is None  # a cone of 15 degrees frees itself


def test_torque_and_push_together_use_their_resultant() -> None:
    one, other = collet(cutting_force=300.0).results, collet(cutting_force=300.0, axial_force=400.0).results
    assert other.share_used / one.share_used == pytest.approx(hypot(300.0, 400.0) / 300.0)


def test_work_outside_the_range_is_refused_at_the_end_of_its_limits() -> None:
    h9 = Given(19.974, nominal=20.0, limits=(19.948, 20.0))  # 20 h9, 0 to -52 um
    assert collet(grip_diameter=h9, range_from=19.5, range_to=20.0)
    with pytest.raises(Impossible, match=r"19\.948"):
        collet(grip_diameter=h9, range_from=19.96, range_to=20.0)
    with pytest.raises(Impossible, match=r"20\.000"):
        collet(grip_diameter=h9, range_from=19.0, range_to=19.99)


def test_parts_with_h7_bores_seat_forty_millimetres_apart_on_a_slight_taper() -> None:
    """0.021 mm of limits on 1:2000 are 42 mm; every turner knows that such parts do not come to one place."""
    answer = collet(holder_kind="taper", grip_diameter=H7, grip_length=21.0, range_from=24.99)
    assert answer.results.seats_within == pytest.approx(42.0)
    assert (answer.results.seat.lower, answer.results.seat.upper) == pytest.approx((20.0, 62.0))
    assert "seats_within" in abouts(answer)


def test_a_tapered_mandrel_holds_by_itself_and_comes_off_with_hardly_less_than_it_went_on() -> None:
    found = collet(holder_kind="taper", grip_diameter=25.0, draw_force=3000.0).results
    assert 0.99 * 3000.0 < found.push_off < 3000.0
    assert found.torque_held == pytest.approx(3000.0 * 12.5 / 1.5, rel=0.005)


@pytest.mark.parametrize("wall", [1.02, 1.5, 4.0])
def test_a_sleeve_spreads_as_the_equations_of_lame_do(wall: float) -> None:
    """Radial stress A - B / r^2, hoop stress A + B / r^2, with the pressure inside and none outside."""
    p, inner, outer = 10.0, 30.0, 30.0 * wall
    a = p * inner**2 / (outer**2 - inner**2)
    b = a * outer**2
    assert hoop_stress(p, 2 * inner, 2 * outer) == pytest.approx(a + b / inner**2)
    assert outside_spread(p, 2 * inner, 2 * outer, STEEL) == pytest.approx(2 * outer * (a + b / outer**2) / STEEL)


def test_a_thin_sleeve_spreads_as_a_boiler_does() -> None:
    assert hoop_stress(1.0, 100.0, 102.0) == pytest.approx(1.0 * 101.0 / 2.0, rel=0.001)  # p D / 2 t, mean diameter


# --- centres --------------------------------------------------------------------------------------------------------


def beam_of_bars(at: float, length: float, beyond: float, force_at: float) -> tuple[float, float]:
    """Reaction at a hinge `at` and deflection where the force of 1 stands, E I = 1, by integrating the curvature.

    Held fast at 0; the hinge is the force that keeps its place at 0.
    """
    places = np.linspace(0.0, length + beyond, 40_001)
    step = places[1] - places[0]

    def bent(where: float) -> np.ndarray:
        moment = np.maximum(where - places, 0.0)
        slope = np.concatenate(([0.0], np.cumsum((moment[1:] + moment[:-1]) / 2) * step))
        return np.concatenate(([0.0], np.cumsum((slope[1:] + slope[:-1]) / 2) * step))

    loaded, hinged = bent(force_at), bent(at)
    reaction = np.interp(at, places, loaded) / np.interp(at, places, hinged)
    return float(reaction), float(np.interp(force_at, places, loaded - reaction * hinged))


@pytest.mark.parametrize("share", [0.2, 0.5, 0.8, 1.0])
def test_a_centre_beside_a_chuck_carries_what_an_integrated_beam_says(share: float) -> None:
    reaction, _ = beam_of_bars(300.0, 300.0, 0.0, share * 300.0)
    assert reaction_with_chuck(1.0, share * 300.0, 300.0) == pytest.approx(reaction, rel=1e-4)


def test_the_printed_reaction_of_a_propped_beam_in_the_middle() -> None:
    assert reaction_with_chuck(16.0, 150.0, 300.0) == pytest.approx(5.0)  # 5 F / 16, handbooks' table of beams


@pytest.mark.parametrize(("steady", "beyond"), [(200.0, 50.0), (150.0, 150.0), (400.0, 20.0)])
def test_work_through_a_steady_bends_as_an_integrated_beam(steady: float, beyond: float) -> None:
    reaction, given_way = beam_of_bars(steady, steady, beyond, steady + beyond)
    assert load_on_steady(1.0, beyond, steady) == pytest.approx(reaction, rel=1e-4)
    assert deflection_beyond_steady(1.0, steady, beyond, 1.0, 1.0) == pytest.approx(given_way, rel=1e-3)


def test_the_force_that_keeps_work_on_its_centre_is_that_of_the_cone_with_both_loads() -> None:
    """60 degrees without friction: tan 30 degrees of the load, twice; weight 3/8 of a bar of 40 x 300 in steel."""
    found = centre(passive_force=700.0).results
    mass = 7.85e-6 * pi / 4 * 40.0**2 * 300.0
    assert found.work_mass == pytest.approx(mass)
    assert found.load_square == pytest.approx(hypot(1800.0, 700.0) + 0.375 * mass * 9.80665)
    assert found.force_to_keep == pytest.approx(2 * tan(radians(30.0)) * found.load_square)


def test_a_feed_toward_the_tailstock_presses_on_it_and_one_toward_the_chuck_does_not() -> None:
    push = centre(feed_force=900.0, feed_toward="tailstock", tailstock_force=3000.0).results
    assert push.load_along == 3900.0
    assert centre(feed_force=900.0, tailstock_force=3000.0).results.load_along == 3000.0


def test_slender_work_buckles_as_euler_says() -> None:
    """pi^2 E I / L^2 hinged at both ends, 2.046 times that with one end held (handbooks, four cases of Euler)."""
    section = pi * 10.0**4 / 64
    hinged = buckling_force(STEEL, section, 1.0, 400.0)
    assert hinged == pytest.approx(pi**2 * STEEL * section / 160_000.0)
    held, free = (centre(other_end=held, work_diameter=10.0, length_out=400.0) for held in ("tailstock", "centres"))
    assert held.results.buckling_force / free.results.buckling_force == pytest.approx(2.046, rel=0.001)
    assert "tailstock_force" in abouts(centre(work_diameter=10.0, length_out=400.0))
    assert "tailstock_force" not in abouts(centre())


def test_a_centres_own_limits_are_held_one_by_one_and_together() -> None:
    marked = {"square_allowed": 5000.0, "along_allowed": 8000.0, "centre_rpm": 5000.0, "mass_allowed": 100.0}
    assert not abouts(centre(**marked, rpm=1400.0, tailstock_force=3000.0))
    for name, little in (("square_allowed", 1000.0), ("along_allowed", 1000.0), ("mass_allowed", 1.0)):
        assert name in abouts(centre(**{**marked, name: little}))
    assert "centre_rpm" in abouts(centre(**marked, rpm=6000.0))
    assert "share_together" in abouts(centre(square_allowed=2000.0, along_allowed=4000.0, tailstock_force=3900.0))
    assert "square_allowed" in abouts(centre())  # nothing is known of the centre: it is said


# --- how far out ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("held", ["chuck", "tailstock", "centres"])
def test_at_the_length_by_its_deflection_the_work_stiffness_page_finds_what_is_allowed(held: str) -> None:
    length = far(held=held).results.by_deflection
    again = solve_work(asked(WorkInputs, held=held, work_diameter=20.0, length_out=length, passive_force=250.0))
    assert again.results.diameter_error == pytest.approx(0.02)


def test_an_ordinary_pin_may_stand_out_three_diameters_and_a_heavy_cut_makes_that_less() -> None:
    light, heavy = far(passive_force=100.0, tolerance=0.05).results, far(passive_force=2000.0).results
    assert (light.longest, light.by) == (60.0, "the rule of thumb")
    assert heavy.longest < 60.0
    assert heavy.by == "the deflection"


def test_long_work_asks_for_steadies_in_stretches_that_hold() -> None:
    found = far(held="centres", length_out=650.0, passive_force=50.0, tolerance=0.05).results
    assert found.longest == 200.0
    assert found.steadies == 3.0  # four stretches of 162.5
    assert far(held="centres", length_out=200.0, passive_force=50.0, tolerance=0.05).results.steadies == 0.0
    assert far(length_out=200.0).results.steadies is None


def test_the_load_of_a_steady_is_held_against_its_marking() -> None:
    about = abouts(far(steady_at=150.0, beyond_steady=150.0, steady_allowed=500.0))
    assert {"steady_load", "beyond_error"} <= about


@pytest.mark.parametrize(
    ("ask", "values", "problem"),
    [
        (jaws, {"work_diameter": None}, Missing),
        (jaws, {"jaw_count": 2.5}, Impossible),
        (jaws, {"work_diameter": 0.5, "bore_play": -0.9}, Impossible),
        (jaws, {"boring_diameter": 42.0}, Impossible),
        (jaws, {"gripped": "inside", "boring_diameter": 40.0}, Impossible),
        (jaws, {"jaw_height": 20.0, "boring_width": 10.0}, Impossible),
        (jaws, {"jaw_stroke": 5.0, "stroke_used": 6.0}, Impossible),
        (jaws, {"jaw_width": float("nan")}, OutOfRange),
        (collet, {"draw_force": None}, Missing),
        (collet, {"axial_force": 100.0}, Missing),
        (collet, {"range_from": 20.0, "range_to": 19.0}, Impossible),
        (collet, {"holder_kind": "expanding", "outer_diameter": 20.0}, Impossible),
        (collet, {"holder_kind": "taper", "range_from": 20.5}, Impossible),
        (collet, {"work_friction": 0.0}, OutOfRange),
        (centre, {"cut_at": 301.0}, Impossible),
        (centre, {"cutting_force": None}, Missing),
        (centre, {"length_out": -1.0}, OutOfRange),
        (far, {"work_bore": 20.0}, Impossible),
        (far, {"tolerance": None}, Missing),
        (far, {"tolerance": float("inf")}, OutOfRange),
    ],
)
def test_what_cannot_be_is_refused(ask: Any, values: dict[str, Any], problem: type[Exception]) -> None:
    with pytest.raises(problem):
        ask(**values)
