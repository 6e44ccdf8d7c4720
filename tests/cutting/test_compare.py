"""Cuts as whole arrays give, element by element and to the last bit, what a single cut gives."""

from __future__ import annotations

from itertools import product
from math import pi, radians
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.cutting.chip import RIGHT_ANGLE, Edge
from calc.cutting.compare import SHOWN, Bar, Cuts, ShownName, over
from calc.cutting.finish import finish
from calc.cutting.finish_formulas import peak_rule_flat, ra_rule
from calc.cutting.force import chip_of, cutting_power, force_of, removal_rate
from calc.cutting.materials import material
from calc.cutting.stiffness import BARS, Beam, deflection
from calc.cutting.thickest_chip import thickest_chip
from tests.tries import tries

C45 = material("C45")
BAR = Bar(Beam(80.0, 20.0, BARS["steel"]), 0.4)
SINGLE = {"surface_speed": 180_000.0, "feed": 0.2, "depth": 1.5, "nose_radius": 0.8, "entering_angle": radians(95.0),
          "diameter": 60.0}  # fmt: skip
RANGES = {"surface_speed": (50_000.0, 400_000.0), "feed": (0.05, 0.6), "depth": (0.1, 5.0), "nose_radius": (0.0, 6.0),
          "entering_angle": (radians(30.0), RIGHT_ANGLE), "diameter": (5.0, 200.0)}  # fmt: skip
PAIRS = [(a, b) for a, b in product(RANGES, RANGES) if a < b]


def swept(across: str, up: str, steps: int = 7) -> tuple[Cuts, Any, Any]:
    acrosses, ups = np.linspace(*RANGES[across], steps), np.linspace(*RANGES[up], steps)
    values: dict[str, Any] = {**SINGLE, across: acrosses, up: ups[:, np.newaxis]}
    return Cuts(C45, **values, length=100.0, max_rpm=2500.0, bar=BAR), acrosses, ups


@pytest.mark.parametrize(("across", "up"), PAIRS, ids=[f"{a} and {b}" for a, b in PAIRS])
def test_each_element_is_exactly_the_single_cut(across: str, up: str) -> None:
    cuts, acrosses, ups = swept(across, up)
    shape = (len(ups), len(acrosses))
    fields = {name: over(cuts, name, shape) for name in SHOWN}
    thickest = np.broadcast_to(cuts.largest_chip, shape)
    for row, column in product(range(shape[0]), range(shape[1])):
        at = {**SINGLE, across: float(acrosses[column]), up: float(ups[row])}
        v, feed, depth, nose = at["surface_speed"], at["feed"], at["depth"], at["nose_radius"]
        edge = Edge(nose, at["entering_angle"])
        chip = chip_of(depth, feed, edge)
        force = force_of(chip, C45).force
        wanted: dict[ShownName, float] = {
            "chip": chip.thickness,
            "force": force,
            "power": cutting_power(force, v),
            "removal": removal_rate(v, feed, depth),
            "time": 100.0 / (feed * min(v / (pi * at["diameter"]), 2500.0)),
            "deflection": deflection(BAR.beam, 0.4 * (1.2 * force), 80.0, "chuck", BAR.beam.section()),
        }
        if nose > 0.0:
            wanted["ra"] = ra_rule(peak_rule_flat(feed, nose))
        assert {name: fields[name][row, column] for name in wanted} == wanted
        assert thickest[row, column] == thickest_chip(feed, depth, edge)


@pytest.mark.parametrize("nose", [0.4, 6.0])
def test_a_round_insert_is_as_the_single_cut_has_it(nose: float) -> None:
    depths = np.linspace(0.05, nose, 9)
    cuts = Cuts(C45, 180_000.0, 0.15, depths, nose)
    assert over(cuts, "chip", (1, 9))[0].tolist() == [
        chip_of(depth, 0.15, Edge(nose)).thickness for depth in depths.tolist()
    ]


def test_ra_by_the_rule_is_near_the_exact_one_up_to_half_the_nose() -> None:
    """The rule takes the circle for a parabola; up to f = r/2 that is less than 2 percent (definition of Ra)."""
    feeds = np.linspace(0.05, 0.4, 8)
    rule = over(Cuts(C45, 180_000.0, feeds, 1.0, 0.8), "ra", (1, 8))[0]
    exact = [finish(feed, 0.8).ra for feed in feeds.tolist()]
    assert rule == pytest.approx(exact, rel=0.02)


@settings(max_examples=tries(30))
@given(st.floats(0.05, 0.5), st.floats(0.2, 5.0), st.floats(0.2, 2.0), st.floats(0.8, pi / 2))
def test_more_feed_and_more_depth_take_more_force_power_and_metal(
    feed: float, depth: float, nose: float, kappa: float
) -> None:
    feeds, depths = np.array([feed, 1.2 * feed]), np.array([[depth], [1.2 * depth]])
    cuts = Cuts(C45, 180_000.0, feeds, depths, nose, kappa)
    for name in ("power", "force", "removal"):
        field = over(cuts, name, (2, 2))
        assert np.all(np.diff(field, axis=0) > 0.0)
        assert np.all(np.diff(field, axis=1) > 0.0)


def test_a_deflection_without_a_bar_is_a_mistake_of_the_caller() -> None:
    with pytest.raises(TypeError, match="needs a bar"):
        over(Cuts(C45, 180_000.0, 0.2, 1.0, 0.8), "deflection", (1, 1))
