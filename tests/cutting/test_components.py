"""Corrections of the force, and its companions: what the sources state, resolution of forces, limits."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.cutting.chip import Edge, engagement
from calc.cutting.components import components_of, edge_direction, ratio_of_thrust
from calc.cutting.corrections import WEAR_FACTORS, correction, rake_factor, rake_of_tables, speed_factor


@pytest.mark.parametrize(("degrees", "factor"), [(6, 1.0), (0, 1.09), (-6, 1.18), (16, 0.85)])
def test_rake_changes_the_force_by_one_and_a_half_percent_a_degree(degrees: float, factor: float) -> None:
    # Praxis der Zerspantechnik, from memory
    assert rake_factor(math.radians(degrees), rake_of_tables("P")) == pytest.approx(factor)


@pytest.mark.parametrize("metres", [20.0, 50.0, 80.0, 100.0, 150.0, 300.0, 600.0])
def test_the_speed_factor_is_that_of_zerspantechnik(metres: float) -> None:
    # Zerspantechnik, from memory: 2.023 / v^0.153 below 100 m/min, 1.380 / v^0.07 above
    printed = 2.023 / metres**0.153 if metres <= 100 else 1.380 / metres**0.07
    assert speed_factor(metres * 1000) == pytest.approx(printed, rel=5e-4)


@given(st.floats(10_000.0, 600_000.0), st.floats(1.0, 2.0))
def test_faster_cuts_take_less_force(v: float, more: float) -> None:
    assert speed_factor(v * more) <= speed_factor(v)


def test_wear_lies_between_the_factors_of_its_source_and_all_factors_multiply() -> None:
    # Praxis der Zerspantechnik, from memory: 1.3 to 1.5 for a worn edge
    assert WEAR_FACTORS == {"sharp": 1.0, "worn": 1.3, "blunt": 1.5}
    assert correction(1.1, 0.9, 1.3, 1.2) == pytest.approx(1.1 * 0.9 * 1.3 * 1.2)


@given(st.floats(0.01, 5.0), st.floats(0.0, 6.0), st.floats(20.0, 120.0))
def test_the_edge_points_from_one_end_of_its_cut_to_the_other(depth: float, nose: float, degrees: float) -> None:
    """Ends of the edge found by walking it: along the nose, then along the straight edge."""
    kappa = math.radians(degrees)
    edge = Edge(nose, kappa)
    reach = nose * (1 - math.cos(kappa))
    if depth <= edge.nose_depth() and nose > 0.0:
        if depth > nose:
            return  # the widest place of a nose past a right angle
        angle = math.acos(1 - depth / nose)
        end = (nose * math.sin(angle), depth)
    else:
        straight = (depth - reach) / math.sin(kappa)
        end = (nose * math.sin(kappa) + straight * math.cos(kappa), depth)
    assert edge_direction(engagement(depth, edge), edge) == pytest.approx(math.atan2(end[1], end[0]), abs=1e-6)


@given(st.floats(1.0, 1e5), st.floats(0.01, 1.5), st.sampled_from("PMKNSH"))
def test_feed_and_passive_force_are_the_sides_of_the_thrust(force: float, direction: float, group: str) -> None:
    found = components_of(force, 1.2 * force, direction, group)
    assert found.feed_force is not None
    assert found.passive_force is not None
    thrust = math.hypot(found.feed_force, found.passive_force)
    assert thrust == pytest.approx(ratio_of_thrust(group).usual * force)
    assert (found.passive_force_high or 0.0) > found.passive_force


def test_a_round_insert_pushes_the_tool_away_and_a_shoulder_tool_hardly_does() -> None:
    round_, square = Edge(6.0), Edge(0.0, math.radians(95.0))
    pushed = components_of(1000.0, 1000.0, edge_direction(engagement(0.3, round_), round_), "P").passive_force
    hardly = components_of(1000.0, 1000.0, edge_direction(engagement(3.0, square), square), "P").passive_force
    assert pushed == pytest.approx(700 * math.cos(math.acos(1 - 0.3 / 6) / 2))
    assert hardly == pytest.approx(700 * math.cos(math.radians(95.0)))
    assert hardly is not None
    assert hardly < 0.0
