"""Checks of threads and tapers among the readings of a first part, and the side of centre from the pip."""

from __future__ import annotations

from typing import Any

import pytest

from calc.language.known import Known
from calc.language.problems import Missing, Problem
from calc.questions.measuring.first_part import solve
from calc.questions.measuring.first_part_fields import FirstPartInputs, Pip, Reading
from calc.shapes.chosen import given_by

SHAFT = "s_x0_z0*f*t_x24_z-30*f_x31*l_x41_z-130"
"""A face, a cylinder 24, a shoulder, and a cone that grows by 10 over 100: 1:10."""


def asked(*readings: Reading, **more: Any) -> FirstPartInputs:
    return FirstPartInputs(contour=given_by(SHAFT), readings=readings, **more)


def value(found: object) -> float:
    assert isinstance(found, Known)
    return float(found)


def test_over_wires_has_the_limits_of_its_thread_and_moves_x() -> None:
    """M24x3-6g, best wire 1.7321: upper 24.6034 (pitch diameter 22.003, ASME B1.2 with the helix); lower 0.2 less."""
    large = Reading(what="over_wires", thread="M24x3-6g", measured=24.6434, spread=0.004)
    answer = solve(asked(large, large))
    row = answer.tables["readings"][0]
    assert row.wanted == pytest.approx(24.5034, abs=1e-3)
    assert row.verdict == "rework"
    assert value(answer.results.offset_x) == pytest.approx(-(24.6434 - row.wanted) / 2.0, abs=1e-4)
    assert row.after_change == pytest.approx(row.wanted, abs=1e-3)
    small = Reading(what="over_wires", thread="M24x3-6g", measured=24.3, spread=0.004)
    assert solve(asked(small)).tables["readings"][0].verdict == "scrap"


def test_a_measured_pitch_diameter_is_judged_on_both_sides() -> None:
    """M24x2: 6g 22.493 to 22.663, 6H 22.701 to 22.925 (ISO 965-2)."""
    for thread, measured, said in (
        ("M24x2-6g", 22.60, "within limits"),
        ("M24x2-6g", 22.70, "rework"),
        ("M24x2-6g", 22.48, "scrap"),
        ("M24x2-6H", 22.68, "rework"),
        ("M24x2-6H", 22.95, "scrap"),
    ):
        reading = Reading(what="pitch_diameter", thread=thread, measured=measured, spread=0.004)
        assert solve(asked(reading)).tables["readings"][0].verdict == said, (thread, measured)


def test_a_taper_between_two_places_tells_the_taper_of_the_work() -> None:
    """The cone grows by 8 from Z-40 to Z-120 (1:10); 0.008 more over these 80 is a taper of 0.0001 to the chuck."""
    cone = Reading(what="taper", at=-120.0, to_z=-40.0, nominal=8.0, measured=8.008, spread=0.001)
    diameters = [Reading(at=z, measured=24.0 + 0.0001 * -z, spread=0.001) for z in (-2.0, -28.0)]
    answer = solve(asked(cone, *diameters))
    row = answer.tables["readings"][0]
    assert (row.wanted, row.deviation) == pytest.approx((8.0, 0.008), abs=1e-9)
    assert value(answer.results.taper) == pytest.approx(-0.0001, abs=2e-6)


def test_a_taper_out_of_limits_is_neither_scrap_nor_rework_by_itself() -> None:
    cone = Reading(what="taper", at=-120.0, to_z=-40.0, nominal=8.0, lower=7.99, upper=8.01, measured=8.05)
    assert solve(asked(cone)).tables["readings"][0].verdict == "out of limits"


def off_centre(pip: Pip) -> Any:
    """A tool 0.2 from centre height: 2 sqrt(r2 + 0.04) on each diameter."""
    readings = [
        Reading(at=z, nominal=2.0 * r, measured=2.0 * (r * r + 0.04) ** 0.5, spread=0.0005)
        for r, z in ((1.0, -3.0), (3.0, -8.0), (12.0, -15.0))
    ]
    contour = given_by("s_x2_z0*t_z-5*f_x6*t_z-10*f_x24*t_z-30")
    return solve(FirstPartInputs(contour=contour, readings=tuple(readings), pip=pip))


@pytest.mark.parametrize(
    ("pip", "height", "said"),
    [("", 0.2, "Face to the axis"), ("cone", 0.2, "above centre"), ("stub", -0.2, "below centre")],
)
def test_the_pip_says_on_which_side_of_centre_the_tool_stands(pip: Pip, height: float, said: str) -> None:
    """Common practice, no source: a tool below centre leaves a stub, one above pushes a cone off."""
    answer = off_centre(pip)
    assert value(answer.results.centre_height) == pytest.approx(height, abs=2e-3)
    assert any(said in note.say() for note in answer.notes)


def test_a_clean_face_against_diameters_that_say_otherwise_is_named() -> None:
    assert any(
        "a face without a pip that it is not" in caution.message.say() for caution in off_centre("none").cautions
    )
    assert not any("pip" in caution.message.say() for caution in off_centre("cone").cautions)


@pytest.mark.parametrize(
    ("reading", "field"),
    [
        ({"what": "pitch_diameter"}, "readings.0.thread"),
        ({"what": "over_wires"}, "readings.0.nominal"),
        ({"what": "over_wires", "thread": "M24x2-9z"}, "readings.0.thread"),
        ({"what": "over_wires", "thread": "M24x2-6g", "wire": 9.0}, "readings.0.wire"),
        ({"what": "over_wires", "thread": "M24x2-6H"}, "readings.0.what"),
        ({"what": "taper", "at": -40.0}, "readings.0.to_z"),
        ({"what": "taper", "to_z": -40.0}, "readings.0.at"),
        ({"what": "taper", "at": -40.0, "to_z": -400.0}, "readings.0.to_z"),
        ({"what": "taper", "at": -40.0, "to_z": -40.0}, "readings.0.to_z"),
    ],
)
def test_what_such_a_check_lacks_is_said_at_its_field(reading: dict[str, Any], field: str) -> None:
    with pytest.raises(Problem) as caught:
        solve(asked(Reading(measured=20.0, **reading)))
    assert [fault.field for fault in caught.value.faults] == [field]


def test_nothing_measured_asks_for_a_reading() -> None:
    with pytest.raises(Missing, match="Give a reading"):
        solve(asked())


DISH = "s_x0_z-5*a_r25_z0_cx0*f_x40*t_z-20"


def test_points_of_an_arc_are_read_at_the_balls_centre_with_limits() -> None:
    """R25 about Z 20: a ball of R2 in the middle stands 5 - 2 deep; at Ø24 on a circle of 23 about the same centre."""
    middle = Reading(what="point_z", on_diameter=0.0, ball_diameter=4.0, measured=3.01, spread=0.002)
    beside = Reading(what="point_z", on_diameter=24.0, ball_diameter=4.0, measured=-0.38, lower=-0.01, upper=0.01)
    answer = solve(FirstPartInputs(contour=given_by(DISH), readings=(middle, beside)))
    rows = answer.tables["readings"]
    assert [row.wanted for row in rows] == pytest.approx([3.0, (23.0**2 - 12.0**2) ** 0.5 - 20.0], abs=1e-9)
    assert [row.verdict for row in rows] == [None, "within limits"]
    assert not any("not on the contour" in note.say() for note in answer.notes)


def test_a_point_along_x_is_the_diameter_that_the_balls_centre_stands_on() -> None:
    cone = Reading(what="point_x", at=-100.0, ball_diameter=2.0, measured=37.0, spread=0.002)
    row = solve(asked(cone)).tables["readings"][0]
    slope = 0.05  # 5 in radius over 100: the ball stands off by r sqrt(1 + slope^2)
    assert row.wanted == pytest.approx(2.0 * (15.5 + 70.0 * slope + (1.0 + slope**2) ** 0.5), abs=1e-9)


@pytest.mark.parametrize(
    ("reading", "field"),
    [
        ({"what": "point_z"}, "readings.0.on_diameter"),
        ({"what": "point_x"}, "readings.0.at"),
        ({"what": "point_z", "on_diameter": 400.0}, "readings.0.on_diameter"),
    ],
)
def test_what_a_point_lacks_is_said_at_its_field(reading: dict[str, Any], field: str) -> None:
    with pytest.raises(Problem) as caught:
        solve(asked(Reading(measured=20.0, **reading)))
    assert [fault.field for fault in caught.value.faults] == [field]


def test_a_runout_among_the_readings_says_what_it_means() -> None:
    runs = [Reading(what="runout", at=z, measured=full, surface="before") for z, full in ((-5.0, 0.06), (-25.0, 0.02))]
    answer = solve(asked(Reading(at=-5.0, measured=24.0), *runs))
    assert [(row.number, row.off_axis) for row in answer.tables["runouts"]] == [(2.0, 0.03), (3.0, 0.01)]
    assert all("bent bar" in row.means for row in answer.tables["runouts"])
