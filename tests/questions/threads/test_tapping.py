"""Tapping from its declared inputs."""

from __future__ import annotations

import math
from typing import Any

import pytest

from calc.cutting.machine import Machine
from calc.language.fields import build
from calc.language.problems import Impossible, Missing
from calc.questions.threads.tapping import TappingInputs, TappingResults, solve
from calc.threads.tapping import section_cut
from calc.threads.thread import thread_of


def found(**given: Any) -> TappingResults:
    return solve(TappingInputs(**{"designation": "M10-6H", "length": 20.0, "material": "C45", **given})).results


def test_the_hole_is_deeper_by_chamfer_reserve_and_point() -> None:
    """Tap form C, 2.5 threads (ISO 8830, from memory), one in reserve; point 0.3004303 d at 118 degrees (geometry)."""
    blind = found()
    assert blind.drill_depth == pytest.approx(20.0 + 3.5 * 1.5)
    assert blind.hole_depth == pytest.approx(blind.drill_depth + 0.3004303 * 8.5, abs=1e-5)
    assert found(hole="through").drill_depth == pytest.approx(20.0 + 2.5 * 1.5)
    assert found(chamfer="E").drill_depth < found(chamfer="C").drill_depth < found(chamfer="A").drill_depth


def test_torque_is_near_that_of_the_handbooks_formula() -> None:
    """Trade handbooks: M = P^2 D k_c / 8000 [Nm]; the section under a standard drill is 0.83 of P^2 / 4."""
    results = found()
    assert section_cut(thread_of("M10-6H"), 8.5) == pytest.approx(0.83 * 1.5**2 / 4.0, rel=0.01)
    assert 5.0 < results.torque / 1000.0 < 14.0, (
        "common practice: an M10 tap in steel of medium strength takes about 8 to 10 Nm"
    )
    assert found(designation="M20-6H").torque > 5.0 * results.torque
    assert results.torque_worn == 2.0 * results.torque
    assert results.power == pytest.approx(2.0 * math.pi * results.torque * results.rpm)


def test_feed_is_the_pitch_and_the_limit_holds_the_speed() -> None:
    results = found(machine=Machine(max_rpm=200.0))
    assert (results.feed, results.rpm) == (1.5, 200.0)
    assert results.surface_speed == pytest.approx(math.pi * 10.0 * 200.0)
    assert results.time == pytest.approx(2.0 * (25.25 + 2.0) / (1.5 * 200.0))


def test_an_inch_thread_is_tapped_after_its_drill() -> None:
    """1/4-20: number 7, 0.201 in (tap-drill charts)."""
    results = found(designation="1/4-20 UNC-2B", length=12.7)
    assert results.tap_drill_name == "#7"
    assert results.tap_drill / 25.4 == pytest.approx(0.201)
    assert 0.7 < results.thread_share < 0.8


@pytest.mark.parametrize(
    ("given", "about"),
    [
        ({"drill": 8.8}, "tap_drill"),
        ({"drill": 8.2}, "tap_drill"),
        ({"length": 30.0}, "length"),
        ({"chamfer": "B"}, "chamfer"),
    ],
)
def test_what_a_setter_would_warn_of_is_said(given: dict[str, Any], about: str) -> None:
    """M10: 8.8 is above 8.676 (ISO 965-2); 8.2 leaves 92 %; 30 deep are 3 diameters; a spiral point in a blind hole."""
    asked = TappingInputs(**{"designation": "M10-6H", "length": 20.0, "material": "C45", **given})
    assert about in [caution.about for caution in solve(asked).cautions]


def test_an_ordinary_hole_has_no_cautions() -> None:
    assert solve(TappingInputs(designation="M10-6H", length=20.0, material="C45")).cautions == ()


@pytest.mark.parametrize(
    ("given", "field"),
    [
        ({"designation": "Tr 20x4"}, "designation"),
        ({"designation": "NPT 1/2"}, "designation"),
        ({"designation": "M16xPh3P1.5"}, "designation"),
        ({"drill": 10.0}, "drill"),
        ({"drill": 3.0}, "drill"),
        ({"designation": "G 2"}, "drill"),
    ],
)
def test_what_cannot_be_tapped_is_refused(given: dict[str, Any], field: str) -> None:
    with pytest.raises(Impossible) as raised:
        found(**given)
    assert raised.value.faults[0].field == field


def test_what_is_missing_is_asked_for() -> None:
    with pytest.raises(Missing) as raised:
        build(TappingInputs, {})
    assert [fault.field for fault in raised.value.faults] == ["designation", "length", "material"]
