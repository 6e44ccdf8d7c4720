"""Cutting force against printed tables of specific force and worked examples."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.cutting.chip import Edge
from calc.cutting.force import (
    Chip,
    chip_of,
    cutting_force,
    cutting_power,
    cutting_torque,
    force_of,
    removal_rate,
    specific_force,
)
from calc.cutting.materials import Material, material, materials
from calc.language.problems import OutOfRange
from calc.language.quantities import POWER, TORQUE

FEEDS = (0.16, 0.25, 0.4, 0.63, 1.0, 1.6)
STRAIGHT = Edge(0.0, math.radians(95.0))


@pytest.mark.parametrize(
    ("code", "printed"),
    [
        ("E335", (3.05, 2.80, 2.60, 2.40, 2.20, 2.05)),
        ("42CrMo4", (4.35, 3.90, 3.45, 3.10, 2.75, 2.45)),
        ("16MnCr5", (3.75, 3.30, 2.95, 2.60, 2.30, 2.05)),
        ("GJL-250", (2.05, 1.80, 1.60, 1.45, 1.30, 1.15)),
    ],
)
def test_specific_force_agrees_with_works_standard_rn_1391_page_43_table_2(
    code: str, printed: tuple[float, ...]
) -> None:
    used = material(code).forces[0]
    ours = [specific_force(used.kc11, feed * math.sin(math.pi / 4), used.mc) / 1000 for feed in FEEDS]
    assert ours == pytest.approx(printed, abs=0.065)


@pytest.mark.parametrize(
    ("kc1", "mc", "depth", "feed", "kappa", "v", "kc", "force", "power"),
    [
        (2220, 0.14, 3.0, 0.3, 95, 200, 2628.98, 2366.08, 7.88695),
        (1500, 0.22, 3.0, 0.3, 95, 200, 1956.54, 1760.89, 5.86962),
        (2100, 0.26, 2.0, 0.25, 93, 220, 3012.38, 1506.19, 5.52270),
        (1160, 0.26, 3.0, 0.3, 95, 180, 1587.95, 1429.16, 4.28747),
    ],
)
def test_force_and_power_agree_with_the_formula_at_high_precision(
    kc1: float, mc: float, depth: float, feed: float, kappa: float, v: float, kc: float, force: float, power: float
) -> None:
    chip = chip_of(depth, feed, Edge(0.0, math.radians(kappa)))
    specific = specific_force(kc1, chip.thickness, mc)
    ours = cutting_force(specific, chip.width, chip.thickness)
    assert specific == pytest.approx(kc, abs=0.006)
    assert ours == pytest.approx(force, abs=0.006)
    assert POWER.shown(cutting_power(ours, v * 1000)) == pytest.approx(power, abs=6e-6)


def test_torque_and_power_agree_with_the_turned_rod_of_manufacturing_processes() -> None:
    # Manufacturing Processes for Engineering Materials: 12.5 to 12.0 mm at 400 1/min, 4 W s/mm3
    force, mean_diameter = 500.0, 12.25
    v = math.pi * mean_diameter * 400
    assert TORQUE.shown(cutting_torque(force, mean_diameter)) == pytest.approx(3.0625)
    assert POWER.shown(cutting_power(force, v)) == pytest.approx(0.12828, abs=5e-6)
    assert removal_rate(v, 0.5, 0.25) == pytest.approx(1924.2, abs=0.05)


@given(st.sampled_from(materials()), st.floats(0.01, 3.0), st.floats(0.1, 20.0))
def test_the_force_lies_in_its_spread(work: Material, thickness: float, width: float) -> None:
    found = force_of(Chip(thickness, width), work)
    assert found.low <= found.force * (1 + 1e-12)
    assert found.force <= found.high * (1 + 1e-12)


@given(st.sampled_from(materials()), st.floats(0.1, 5.0), st.floats(0.02, 1.0), st.floats(1.01, 2.0))
def test_more_feed_takes_more_force_but_less_for_each_area(
    work: Material, depth: float, feed: float, more: float
) -> None:
    thin, thick = (force_of(chip_of(depth, f, STRAIGHT), work) for f in (feed, feed * more))
    assert thin.force < thick.force < thin.force * more
    assert thick.specific < thin.specific


@given(st.floats(0.05, 4.0), st.floats(0.02, 1.0))
def test_a_round_edge_makes_a_thinner_wider_chip_of_the_same_area(depth: float, feed: float) -> None:
    round_, straight = chip_of(depth, feed, Edge(6.0)), chip_of(depth, feed, STRAIGHT)
    assert round_.thickness < straight.thickness
    assert round_.width > straight.width
    assert round_.thickness * round_.width == pytest.approx(feed * depth)


def test_a_tiny_nose_is_as_good_as_a_sharp_corner() -> None:
    sharp, nosed = chip_of(3.0, 0.3, STRAIGHT), chip_of(3.0, 0.3, Edge(1e-9, math.radians(95.0)))
    assert (nosed.thickness, nosed.width) == pytest.approx((sharp.thickness, sharp.width), rel=1e-8)


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan])
def test_a_chip_needs_depth_and_feed(bad: float) -> None:
    with pytest.raises(OutOfRange):
        chip_of(bad, 0.3, STRAIGHT)
    with pytest.raises(OutOfRange):
        chip_of(3.0, bad, STRAIGHT)
