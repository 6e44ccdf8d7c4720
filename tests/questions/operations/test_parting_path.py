"""The path of parting: past the axis, chamfers before the core is thin, pip and ring of a lead angle, the blade."""

from __future__ import annotations

from math import radians, tan
from typing import Any

import pytest

from calc.cutting.blade import blade_deflection
from calc.language.problems import Impossible, OutOfRange
from calc.questions.operations.parting import PartingInputs, solve
from tests.asking import asked

BAR: dict[str, Any] = {"material": "C45", "outer_diameter": 42.0, "insert_width": 3.0}


def parted(**values: Any) -> Any:
    return solve(asked(PartingInputs, **{**BAR, **values}))


def test_a_neutral_edge_ends_on_the_axis_and_a_rounded_or_slanting_one_goes_past_it() -> None:
    assert parted().results.end.end_x == 0.0
    assert parted(edge_corner=0.2).results.end.end_x == pytest.approx(-0.2)
    lead = 3.0 * tan(radians(6.0))
    found = parted(edge_corner=0.2, edge_lead=radians(6.0)).results
    assert found.end.end_x == pytest.approx(-0.2 - lead)
    assert found.end.pip_diameter == pytest.approx(2 * lead)
    assert parted(past_end=1.0).results.end.past == pytest.approx(1.0)


def test_a_tube_keeps_a_ring_on_the_bar_and_no_pip() -> None:
    found = parted(inner_diameter=20.0, edge_lead=radians(6.0)).results.end
    assert found.pip_diameter is None
    assert found.ring_thickness == pytest.approx(3.0 * tan(radians(6.0)))
    assert found.end_x == pytest.approx(10.0 - found.past)


def test_going_past_the_axis_takes_the_time_of_that_much_feed() -> None:
    limited = {"max_rpm": 500.0, "slow_diameter": 0.0, "feed": 0.1}
    longer = parted(**limited, past_end=1.0).results.time - parted(**limited).results.time
    assert longer == pytest.approx(1.0 / (0.1 * 500.0))


def test_the_moves_cut_both_chamfers_before_the_slot_is_through() -> None:
    moves = parted(part_length=40.0, part_chamfer=1.0, bar_chamfer=0.5).tables["moves"]
    names = [row.move for row in moves]
    assert names.index("chamfer of the part") < names.index("chamfer of the bar") < names.index("feed in")
    first = moves[names.index("first plunge, below the chamfers")]
    assert first.x < 21.0 - 1.0
    for name, size, side in (("chamfer of the part", 1.0, 1.0), ("chamfer of the bar", 0.5, -1.0)):
        begins, ends = moves[names.index(name) - 1], moves[names.index(name)]
        assert ends.x == pytest.approx(21.0 - size)
        assert ends.z == -40.0
        assert side * (begins.z - ends.z) == pytest.approx(begins.x - ends.x)  # 45 degrees
        assert side * (begins.z - ends.z) > size
    assert moves[-1].x > 21.0
    assert moves[-1].z == -40.0


def test_the_feed_is_less_from_the_diameter_that_is_asked() -> None:
    moves = parted(slow_diameter=6.0).tables["moves"]
    assert [(row.x, row.feed) for row in moves if row.move == "feed in"] == [(3.0, pytest.approx(0.12))]
    assert moves[-2].feed == pytest.approx(0.06)
    assert parted(slow_diameter=6.0, max_rpm=2000.0).results.end.slow_rpm == 2000.0


def test_a_blade_bends_as_the_beam_of_the_handbooks() -> None:
    """F L^3 / (3 E I) with I = b h^3 / 12: 1000 N, 100 long, 10 x 20 of steel, worked out by hand: 0.2381 mm."""
    assert blade_deflection(1000.0, 100.0, 210_000.0, 10.0, 20.0) == pytest.approx(0.238095, abs=5e-7)
    found = parted(blade_height=26.0, blade_overhang=30.0, blade_thickness=2.4).results
    force = found.cutting_force
    assert found.blade.sinks_by == pytest.approx(force * 30**3 / (3 * 210_000 * 2.4 * 26**3 / 12))
    assert found.blade.sideways == 0.0


def test_a_lead_angle_bends_the_blade_sideways_far_more_than_down() -> None:
    found = parted(blade_height=26.0, edge_lead=radians(10.0)).results
    assert found.blade.side_force == pytest.approx(found.feed_force * tan(radians(10.0)))
    assert found.blade.sideways > 5 * found.blade.sinks_by


@pytest.mark.parametrize(
    ("values", "about"),
    [
        ({"blade_overhang": 15.0}, "blade_overhang"),
        ({"blade_overhang": 40.0}, "blade_overhang"),
        ({"blade_thickness": 3.0}, "blade_thickness"),
        ({"edge_lead": radians(12.0)}, "edge_lead"),
        ({"inner_diameter": 20.0}, "inner_diameter"),
        ({"blade_height": 8.0}, "sinks_by"),
    ],
)
def test_what_a_blade_or_edge_gives_cause_to_mind_is_said(values: dict[str, float], about: str) -> None:
    assert about in [caution.about for caution in parted(max_rpm=2000.0, **values).cautions]


@pytest.mark.parametrize(
    ("values", "problem"),
    [
        ({"part_chamfer": 11.0}, Impossible),
        ({"inner_diameter": 38.0, "bar_chamfer": 1.0}, Impossible),
        ({"edge_lead": radians(45.0)}, OutOfRange),
        ({"past_end": -1.0}, OutOfRange),
        ({"blade_height": float("nan")}, OutOfRange),
    ],
)
def test_what_cannot_be_is_refused(values: dict[str, float], problem: type[Exception]) -> None:
    with pytest.raises(problem):
        parted(**values)
