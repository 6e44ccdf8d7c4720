"""The plan of a dish puts its parts together rightly, and as far as the question carries it."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from calc.language.fields import build, flat, specs
from calc.language.messages import Message
from calc.language.problems import Impossible, Missing, OutOfRange, Problem
from calc.language.quantities import View
from calc.questions.operations.dish_plan.dish import FEATURE, solve
from calc.questions.operations.dish_plan.inputs import DishPlanInputs
from server.query import read_query
from tests.drawn import mostly_answered

SEAT = dict(FEATURE.example)


def plan(**texts: str) -> Any:
    """The answer to a metric question as it would be typed."""
    query = read_query(texts.items(), DishPlanInputs)
    assert not query.faults
    return solve(query.inputs(DishPlanInputs))


def said(messages: Any) -> str:
    return " ".join((m if isinstance(m, Message) else m.message).say() for m in messages)


def test_the_finishing_pass_over_r_90_takes_its_closed_form_time() -> None:
    """220 m/min, 0.15 mm/rev, limit 2000: 2 pi R^2 (cos t0 - cos tm) / (f v) + R t0 / (f n), by first principles."""
    results = plan(radius="90", depth="4.5", surface_speed="220", feed="0.15", max_rpm="2000").results
    inner = 220_000 / (2 * math.pi * 2000)
    angle = math.asin(inner / 90)
    outer = 2 * math.pi * 90**2 * (math.cos(angle) - 85.5 / 90) / (0.15 * 220_000)
    assert results.times.finish_time == pytest.approx(outer + 90 * angle / (0.15 * 2000), rel=1e-12)
    assert results.times.finish_time == pytest.approx(0.106383, abs=5e-7)
    assert results.speed.limit_diameter == pytest.approx(35.0141, abs=5e-5)


def test_the_seat_is_roughed_in_five_equal_passes_after_facing_one_off() -> None:
    """Scenario: 4.2 as five equal passes of at most 1.0, 1 mm of face stock."""
    passes = plan(**SEAT).tables["passes"]
    assert [row.name for row in passes] == ["face 1", *(f"rough {n}" for n in range(1, 6)), "finish"]
    assert [row.depth for row in passes[1:6]] == pytest.approx([0.84] * 5, abs=1e-3), "as sure as the sweep is"
    assert passes[5].end_z == pytest.approx(-4.2)
    assert passes[6].end_z == pytest.approx(-4.5)
    assert [row.end_x * 2 for row in passes] == pytest.approx([-12.0] * 7), "point 3 ends one nose beyond the axis"


def test_the_whole_time_is_the_sum_of_the_passes() -> None:
    answer = plan(**SEAT)
    times = answer.results.times
    assert times.total_time == pytest.approx(sum(row.time for row in answer.tables["passes"]))
    assert times.total_time == pytest.approx(times.finish_time + times.rough_time + times.face_time)


def test_a_speed_held_at_the_tool_point_runs_the_contact_faster() -> None:
    """Sharp seat, nose 6, point 3: contact at diameter 51.18, tool point at X35.08, so 220 m/min becomes 321."""
    question = {"radius": "75", "depth": "4.5", "nose_radius": "6", "surface_speed": "220", "speed_at": "point"}
    answer = plan(**question)
    assert answer.results.nose.tool_x_at_mouth * 2 == pytest.approx(35.08, abs=0.005)
    assert answer.results.speed.true_speed_at_mouth / 1000 == pytest.approx(321, abs=0.5)
    assert "at the mouth, not 220 m/min" in said(answer.cautions)


def test_z_zero_on_the_raw_face_moves_every_z_and_nothing_else() -> None:
    finished, raw = plan(**SEAT), plan(**SEAT, z_zero="raw")
    along_z = {spec.name for spec in specs(FEATURE.results) if spec.kind is not None and spec.kind.role == "z"}
    for name, value in flat(finished.results).items():
        moved = flat(raw.results)[name]
        expected = value - 1.0 if name in along_z and value is not None else value
        assert moved == (pytest.approx(expected) if isinstance(expected, float) else expected), name
    assert [p.spot.z for p in raw.points] == pytest.approx([p.spot.z - 1.0 for p in finished.points])
    assert raw.drawn().part.start.z == pytest.approx(-1.0)


def test_only_the_print_still_gives_the_whole_geometry_and_says_what_the_rest_needs() -> None:
    answer = plan(radius="75", depth="4.5")
    assert answer.results.dish.mouth_diameter == pytest.approx(51.176, abs=5e-4)
    assert answer.results.times.total_time is None
    assert answer.tables["passes"] == ()
    needs = said(answer.sentences["Passes and time"])
    assert "surface speed" in needs
    assert "feed" in needs


def test_a_material_settles_the_speeds_and_says_so() -> None:
    answer = plan(radius="75", depth="4.5", material="C45")
    assert answer.results.speed.surface_speed == 220_000
    assert answer.results.speed.rough_surface_speed == 180_000
    assert "180 m/min to 260 m/min" in said(answer.notes)
    assert answer.results.work.dish_mass == pytest.approx(answer.results.dish.volume * 7.85e-6, rel=0.01)


def test_the_wanted_finish_gives_the_feed_and_the_depth_limits_it() -> None:
    """Seat, Ra 1.6 with nose 6: the finish formula alone would allow 0.57 mm/rev; 0.3 deep, so 0.3 at most."""
    answer = plan(radius="75", depth="4.5", nose_radius="6", ra="1.6", allowance_z="0.3")
    finish = answer.results.finish
    assert finish.finish_feed == pytest.approx(0.570, abs=5e-4)
    assert (finish.feed, finish.limited_by) == (pytest.approx(0.3), "depth")
    assert {row.name for row in answer.tables["limits"]} == {"finish", "depth", "chip", "nose", "ceiling"}


def test_a_finish_that_the_feed_misses_is_a_caution() -> None:
    assert "more than the 0.80 µm that is wanted" in said(
        plan(radius="75", depth="4.5", nose_radius="0.8", feed="0.3", ra="0.8").cautions
    )


def test_without_a_nose_the_finishing_pass_alone_is_timed_and_the_plan_says_why() -> None:
    texts = {
        "radius": "75",
        "depth": "4.5",
        "surface_speed": "220",
        "feed": "0.2",
        "rough_feed": "0.25",
        "pass_depth": "1",
    }
    answer = plan(**texts, max_rpm="2000")
    times = answer.results.times
    assert times.finish_time == times.total_time
    assert times.rough_time is None
    assert "Only the finishing pass is timed" in said(answer.sentences["Passes and time"])


def test_no_spindle_limit_and_a_limit_above_the_chucks_mark_are_cautions() -> None:
    speed = {"radius": "75", "depth": "4.5", "surface_speed": "220"}
    assert "Without a spindle limit" in said(plan(**speed).cautions)
    assert "marked on the chuck" in said(plan(**speed, max_rpm="4000", chuck_limit="3200").cautions)


@pytest.mark.parametrize(
    ("texts", "kind", "field", "part"),
    [
        ({"allowance_z": "5", "pass_depth": "1"}, Impossible, "allowance_z", "larger than the stock"),
        ({"allowance_x": "26", "pass_depth": "1"}, Impossible, "allowance_x", "larger than the stock"),
        ({"nose_radius": "75"}, Impossible, "nose_radius", "must be smaller"),
        ({"bar_diameter": "50"}, Impossible, "bar_diameter", "too small"),
        ({"pass_depth": "0.001"}, OutOfRange, "pass_depth", "at most 200 are planned"),
        ({"roughing": "facing", "pass_depth": "1"}, Missing, "nose_radius", "needs the nose radius"),
    ],
)
def test_what_cannot_be_is_said_at_its_field(texts: dict[str, str], kind: type[Problem], field: str, part: str) -> None:
    with pytest.raises(kind) as caught:
        plan(radius="75", depth="4.5", **texts)
    assert [fault.field for fault in caught.value.faults] == [field]
    assert part in caught.value.faults[0].message.say()


def test_an_inch_plan_is_the_metric_plan() -> None:
    metric = plan(**SEAT)
    inch = {spec.name: value for spec in specs(DishPlanInputs) for value in [SEAT.get(spec.name, "")] if value}
    for spec in specs(DishPlanInputs):
        if spec.name in inch and spec.kind is not None and spec.kind.metric.size != spec.kind.inch.size:
            inch[spec.name] += spec.kind.metric.label.replace("/rev", "")
    query = read_query([*inch.items(), ("units", "inch")], DishPlanInputs)
    assert not query.faults
    found = flat(solve(query.inputs(DishPlanInputs)).results)
    for name, value in flat(metric.results).items():
        assert found[name] == (pytest.approx(value, rel=1e-9, abs=1e-9) if isinstance(value, float) else value), name


def test_a_designation_says_the_nose_by_itself() -> None:
    answer = plan(radius="75", depth="4.5", insert="RCMT 1204M0", nose_radius="0.8")
    assert answer.results.nose.nose_path_radius == pytest.approx(69.0)


def test_a_designation_that_says_no_nose_is_refused_at_its_field() -> None:
    with pytest.raises(Problem) as caught:
        plan(radius="75", depth="4.5", insert="XCMT 12")
    assert {fault.field for fault in caught.value.faults} == {"insert"}


def test_the_working_leads_from_the_print_to_the_tool_point_and_to_the_time() -> None:
    query = read_query(SEAT.items(), DishPlanInputs)
    _, steps = FEATURE.answer(query.inputs(DishPlanInputs))
    shown = [step.symbols[0] for step in steps if step.where == "nose on the dish, outside"]
    assert shown == ["Z_c", "X_c", "Z_t", "X_t"]
    assert [str(step.plain()) for step in steps if step.symbols[0] == "t"][-1].startswith("t = t_v + t_n")


USUAL = {
    "bar_diameter": (80.0, 120.0),
    "length_out": (20.0, 120.0),
    "grip_length": (15.0, 60.0),
    "face_stock": (0.0, 3.0),
    "nose_radius": (0.2, 8.0),
    "surface_speed": (60e3, 400e3),
    "rough_surface_speed": (60e3, 300e3),
    "feed": (0.05, 0.4),
    "rough_feed": (0.1, 0.6),
    "inner_feed": (0.05, 0.2),
    "inner_feed_diameter": (2.0, 20.0),
    "ra": (4e-4, 6.3e-3),
    "pass_depth": (0.3, 3.0),
    "allowance_z": (0.0, 0.6),
    "allowance_x": (0.0, 0.6),
    "lead_in": (0.0, 4.0),
    "max_rpm": (500.0, 6000.0),
    "chuck_limit": (1000.0, 6000.0),
    "motor_power": (3e3, 30e3),
    "efficiency": (0.6, 1.0),
    "base_rpm": (300.0, 2000.0),
    "grip_force": (5e3, 90e3),
    "break_size": (0.2, 2.0),
}
"""What people type about a part of this size: mm, mm/min, 1/min, W, N."""


@st.composite
def _asked(draw: st.DrawFn) -> dict[str, Any]:
    """A dish as a print has it, and some of the fields beside it."""
    radius = draw(st.floats(20.0, 150.0))
    depth = draw(st.floats(0.5, 0.25 * radius))
    mouth = 2.0 * math.sqrt(depth * (2.0 * radius - depth))
    dish = {"radius": radius, "depth": depth, "mouth_diameter": mouth}
    del dish[draw(st.sampled_from(sorted(dish)))]
    kept = draw(st.sets(st.sampled_from(sorted(USUAL))))
    values = {name: draw(st.floats(*USUAL[name])) for name in sorted(kept)}
    chosen = {spec.name: draw(st.sampled_from(sorted(spec.choices))) for spec in specs(DishPlanInputs) if spec.choices}
    if "bar_diameter" in values:
        values["bar_diameter"] += mouth
    if chosen["break_kind"] != "none":
        values.setdefault("break_size", 0.8)
    return {"nose_radius": 0.8, **dish, **values, **chosen, "material": draw(st.sampled_from(["", "C45", "16MnCr5"]))}


@mostly_answered
@settings(max_examples=25, deadline=None)
@given(values=_asked())
@example({"radius": 20.0, "depth": 1.0, "nose_radius": 0.8, "allowance_x": 1e-75, "ra": 0.004})
def test_any_question_within_the_ranges_has_an_answer_or_a_problem(values: dict[str, Any]) -> None:
    answer = solve(build(DishPlanInputs, values))
    for name, value in flat(answer.results).items():
        assert not isinstance(value, float) or math.isfinite(value), name
    for message in (*answer.cautions, *answer.notes):
        assert "{" not in said([message])
    for view in (View(), View("inch", "radius", "in")):
        assert answer.points_note is not None
        assert "G41" in answer.points_note.say(view)


def test_feed_and_depth_to_start_with_are_offered_with_their_reasons_where_blank() -> None:
    """C45 with a nose 0.8: the ranges of the material's own page (common practice, from memory)."""
    asked = {"radius": "90", "depth": "4.5", "material": "C45", "nose_radius": "0.8"}
    answer = plan(**asked)
    reasons = said(answer.sentences["Feed and depth to start with"])
    assert "Roughing feed to start with: 0.200 mm/rev to 0.440 mm/rev, usually 0.320 mm/rev." in reasons
    assert "Depth per pass to start with: 0.800 mm to 4.800 mm, usually 2.400 mm." in reasons
    assert reasons.count("common practice") >= 3
    assert answer.picks["rough_feed"] == ("0.32mm",)
    assert answer.picks["pass_depth"] == ("2.4mm",)
    given_depth = plan(**asked, pass_depth="1")
    assert "pass_depth" not in given_depth.picks
    assert not plan(radius="90", depth="4.5", material="C45").picks, "without a nose nothing is known"


def test_the_slope_at_the_mouth_is_given_to_the_face_and_to_the_axis() -> None:
    results = plan(radius="90", depth="4.5").results.dish
    assert results.mouth_angle + results.mouth_angle_to_axis == pytest.approx(math.pi / 2.0)
    assert math.sin(results.mouth_angle) == pytest.approx(results.mouth_diameter / 180.0)
