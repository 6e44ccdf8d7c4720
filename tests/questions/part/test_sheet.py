"""What the operator's sheet of a part says beyond its cuts: touch-off, place, stick-out, points with their limits."""

from __future__ import annotations

import math
from typing import Any

import pytest

from calc.language.problems import Impossible
from calc.questions.part.examples import SEAT, SLEEVE, STEM
from calc.questions.part.feature import FEATURE
from server.query import read_query
from tests.sheets.whole_sleeve import WHOLE_SLEEVE


def answered(texts: dict[str, str]) -> dict[str, list[Any]]:
    query = read_query(texts.items(), FEATURE.inputs)
    assert not query.faults
    answer, _ = FEATURE.answer(query.inputs(FEATURE.inputs))
    return {**{name: list(rows) for name, rows in answer.tables.items()}, "points": list(answer.points)}


def tools(texts: dict[str, str]) -> dict[str, Any]:
    return {row.place: row for row in answered(texts)["tools"]}


def test_a_tool_is_touched_off_on_the_stock_that_it_first_finds() -> None:
    """By hand: the seat's bar is Ø60 with 1 mm to face; the round insert comes when it is faced. Point 3 stands on the
    side of the part along both axes, so the display reads the surface itself, whatever the nose.
    """
    found = tools(dict(SEAT))
    assert [row.touch_x for row in found.values()] == [30.0, 30.0]
    assert [row.touch_z for row in found.values()] == pytest.approx([1.0, 0.0])


def test_a_boring_bar_is_touched_off_in_the_hole() -> None:
    """The sleeve's stock has a bore of Ø24; point 2 of the bar stands toward the wall and the chuck."""
    bar = next(row for row in tools(dict(SLEEVE)).values() if row.holder == "S16R-SDUCR11")
    assert (bar.tool_point, bar.touch_x, bar.touch_z) == ("2", 12.0, pytest.approx(0.0))


def test_a_boring_bar_is_touched_off_in_a_hole_that_does_not_go_through_the_bar() -> None:
    """Drilled 23 from the solid, no more than 43 deep: behind it the bar is whole, and the reading stayed blank."""
    bored = {**SLEEVE, "stock_bore": "", "stock_length": "", "operations": "kind:drill~size:23*" + SLEEVE["operations"]}
    bar = next(row for row in tools(bored).values() if row.holder == "S16R-SDUCR11")
    assert bar.touch_x == pytest.approx(11.5)


def test_a_cone_is_checked_by_its_half_angle() -> None:
    """The stem: 1:10 over the diameter is atan(0.05) = 2.862 degrees to the axis, its cone has 30 as the print says."""
    rows = [row for row in answered(dict(STEM))["checks"] if row.angle is not None]
    assert [math.degrees(row.angle) for row in rows] == pytest.approx([2.8624, 30.0], abs=1e-4)
    assert all("half angle" in row.what for row in rows)
    limited = {**STEM, "outside": STEM["outside"].replace("ha30", "ha30 +0.5/-0.25")}
    first = answered(limited)["checks"]
    (cone,) = (row for row in first if row.least_angle is not None)
    assert [math.degrees(each) for each in (cone.least_angle, cone.largest_angle)] == pytest.approx([29.75, 30.5])


def test_places_and_stick_out_are_those_that_are_given() -> None:
    """The finishing tool at place 1 by its own row; the others take what is free, in the order of use."""
    given = {**SLEEVE, "operations": SLEEVE["operations"].replace("kind:finish", "kind:finish~turret:1~stick_out:32")}
    found = tools(given)
    assert [row.insert for row in found.values()] == ["DCMT 11T304", "CNMG 120408", "DCMT 11T304"]
    assert found["T1"].stick_out == 32.0


def test_one_place_for_two_tools_is_refused_at_its_field() -> None:
    rows = (
        SLEEVE["operations"].replace("kind:face", "kind:face~turret:4").replace("kind:finish", "kind:finish~turret:4")
    )
    with pytest.raises(Impossible) as caught:
        answered({**SLEEVE, "operations": rows})
    assert caught.value.faults[0].field == "operations.2.turret"
    assert "another tool's" in caught.value.faults[0].message.say()


def test_points_bear_the_limits_of_the_print() -> None:
    """24 g6 is -0.007 to -0.020 (ISO 286-2:2010, limits of shafts g, over 18 to 24 mm), from its begin to its end."""
    limited = {point.label: point.x_limits for point in answered(dict(STEM))["points"] if point.x_limits}
    assert set(limited) == {"row 3", "row 4"}
    assert limited["row 4"] == pytest.approx((23.980 / 2, 23.993 / 2))


def test_a_length_with_limits_bears_them_on_its_point() -> None:
    given = {**SLEEVE, "outside": SLEEVE["outside"].replace("z-28", "z-28 +0.1/0"), "operations": "kind:measure"}
    points = answered(given)["points"]
    limited = [point.z_limits for point in points if point.z_limits]
    assert limited == [pytest.approx((-28.1, -28.0))] * 2  # where the cylinder ends, and along the face to Ø36


def test_the_offset_to_enter_is_the_measured_one_of_the_tool() -> None:
    """Preset at X 42.35 (on diameter) and Z 81.204: given once, it stands with the tool whatever it does next."""
    rows = SLEEVE["operations"].replace("kind:face", "kind:face~offset_x:42.35~offset_z:81.204")
    found = tools({**SLEEVE, "operations": rows})
    assert (found["T1"].offset_x, found["T1"].offset_z) == (pytest.approx(42.35 / 2), pytest.approx(81.204))
    assert found["T2"].offset_x is None
    assert tools(dict(SLEEVE))["T1"].offset_x is None


def test_every_operation_says_what_is_set_also_where_speed_and_feed_come_from_the_material() -> None:
    """Drill, blades, thread and knurl of the whole sleeve give none of their own; a stop has none."""
    cuts = {row.operation.split(" ", 1)[1].partition(",")[0]: row for row in answered(WHOLE_SLEEVE)["cuts"]}
    lacking = [name for name, row in cuts.items() if row.surface_speed is None or row.feed is None]
    assert lacking == ["measure"]
    drill = next(row for row in answered(WHOLE_SLEEVE)["passes"] if row.operation.endswith("drill"))
    assert cuts["drill"].feed == drill.feed
    assert cuts["drill"].surface_speed == pytest.approx(math.pi * 24.0 * drill.rpm_start, rel=1e-9)


def test_what_runs_at_one_spindle_speed_says_which_and_what_holds_its_surface_speed_says_none() -> None:
    """On the axis, at a thread (constant surface speed would shift its start) and at a knurl (common practice)."""
    cuts = {row.operation.split(" ", 1)[1].partition(",")[0]: row for row in answered(WHOLE_SLEEVE)["cuts"]}
    fixed = {name: row.fixed_speed for name, row in cuts.items() if row.fixed_speed is not None}
    assert list(fixed) == ["drill", "thread", "knurl"]
    assert fixed["drill"] == pytest.approx(cuts["drill"].surface_speed / (math.pi * 24.0), rel=1e-9)
    assert all(row.max_rpm == pytest.approx(2500.0) for name, row in cuts.items() if name != "measure")


def test_the_points_of_the_bore_stand_behind_those_of_the_outside_with_their_limits() -> None:
    """25 H7 is 25.000 to 25.021 (ISO 286-2): its points aim at the middle."""
    points = {each.label: each for each in answered(dict(SLEEVE))["points"]}
    assert list(points)[-4:] == ["bore, start", "bore, row 1", "bore, row 2", "bore, row 3"]
    assert points["bore, start"].move == "", "a new run of points, not a move through the part"
    bore = points["bore, row 3"]
    assert (2.0 * bore.spot.r, bore.spot.z) == pytest.approx((25.0105, -40.0))
    assert [2.0 * each for each in bore.x_limits] == pytest.approx([25.0, 25.021])


def test_a_thread_is_measured_by_its_pitch_diameter() -> None:
    """M30x1.5-6H: 29.026 to 29.226 (ISO 965-2); a stop to measure has neither passes nor time."""
    found = answered(dict(WHOLE_SLEEVE))
    thread = next(row for row in found["checks"] if "M30x1.5-6H" in row.what)
    assert (thread.lower, thread.upper) == pytest.approx((29.026, 29.226))
    assert thread.measured_with == "thread plug gauge"
    stop = next(row for row in found["cuts"] if row.operation.startswith("7 measure"))
    assert (stop.passes, stop.max_rpm, stop.time) == (None, None, None)


def test_a_caution_says_which_operation_it_is_about_unless_it_is_about_all() -> None:
    query = read_query(WHOLE_SLEEVE.items(), FEATURE.inputs)
    said = [each.message.say() for each in FEATURE.answer(query.inputs(FEATURE.inputs))[0].cautions]
    assert any(each.startswith("Operation 2: Breaking through, the drill") for each in said)
    assert any(each.startswith("Operation 12: A ring comes free") for each in said)
    assert len(said) == len(set(said))
