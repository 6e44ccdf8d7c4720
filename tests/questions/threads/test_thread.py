"""The question of a thread as asked on its page and by the API."""

from __future__ import annotations

from contextlib import suppress
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from starlette.testclient import TestClient

from calc.language.factor import INCH
from calc.language.fields import build
from calc.language.limited import Limited
from calc.language.problems import Contradiction, Impossible, Missing, OutOfRange, Problem
from calc.questions.threads.thread import solve
from calc.questions.threads.thread_fields import MeasuredInputs, ThreadInputs, ThreadResults, WiresInputs
from calc.threads.drills import tap_drill
from calc.threads.thread import thread_of


def found(**asked: Any) -> ThreadResults:
    return solve(ThreadInputs(**asked)).results


def limits(size: object) -> Limited:
    assert isinstance(size, Limited)
    return size


def test_the_api_gives_the_stems_thread_with_its_limits(client: TestClient) -> None:
    """M24x2-6g: ISO 965-1 limits 23.962/23.682 and 22.663/22.493; depth 17/24 H = 1.2269; drill 22 (ISO 2306)."""
    body = client.get("/api/geometry/thread", params={"designation": "M24x2-6g", "where": "outside"}).json()
    results = body["results"]
    assert results["major_diameter"]["value"] == 24.0
    assert (results["major_diameter"]["upper"], results["major_diameter"]["lower"]) == pytest.approx((23.962, 23.682))
    assert (results["pitch_diameter"]["upper"], results["pitch_diameter"]["lower"]) == pytest.approx((22.663, 22.493))
    assert results["pitch_diameter"]["value"] == pytest.approx(22.700962, abs=1e-6)
    assert results["pitch_diameter"]["aimed"] == pytest.approx(22.578)
    assert results["thread_depth"]["value"] == pytest.approx(1.226869, abs=1e-6)
    assert results["tap_drill"] == {"value": 22.0, "unit": "mm"}
    assert results["best_wire"]["value"] == pytest.approx(1.1547, abs=1e-4)
    assert results["over_wires"]["lower"] < results["over_wires"]["upper"]
    assert any("pitch diameter" in step["means"] for step in body["working"])


def test_inside_depth_is_five_eighths_of_the_triangle() -> None:
    """ISO 68-1: 5/8 H, H = 0.866025 P."""
    inside = found(designation="M30x1.5-6H")
    assert inside.thread_depth == pytest.approx(0.625 * 0.8660254 * 1.5, abs=1e-6)
    assert limits(inside.bore_diameter).aimed == pytest.approx(28.526)
    assert inside.turned_diameter is None
    assert inside.over.over_wires is None


@pytest.mark.parametrize("text", ["M24x3-6g", "3/4-16 UNF-2A", "Tr 40x7-7e", "NPT 1/2", "G 1/2 A"])
def test_inch_and_metric_pages_mean_the_same(client: TestClient, text: str) -> None:
    metric, inch = (
        client.get("/api/geometry/thread", params={"designation": text, "units": units}).json()["results"]
        for units in ("mm", "inch")
    )
    for name, value in metric.items():
        if isinstance(value, dict) and value["unit"] == "mm":
            for key in value.keys() - {"unit"}:
                assert inch[name][key] * float(INCH) == pytest.approx(value[key], rel=1e-12), (name, key)


@pytest.mark.parametrize("text", ["M24x3-6g", "Tr 40x14 P7-8e", "1/2-13 UNC-2A"])
def test_the_hand_changes_nothing_but_its_name(text: str) -> None:
    right, left = found(designation=text), found(designation=f"{text} LH")
    assert (right.hand, left.hand) == ("right", "left")
    for name in ("major_diameter", "pitch_diameter", "minor_diameter", "lead", "lead_angle", "tap_drill"):
        assert getattr(right, name) == getattr(left, name)


def test_more_starts_have_more_lead_and_the_same_profile() -> None:
    one, two = found(designation="Tr 40x7-7e"), found(designation="Tr 40x14 P7-7e")
    assert (two.starts, two.lead, two.pitch) == (2.0, 14.0, 7.0)
    assert two.thread_depth == one.thread_depth
    assert two.lead_angle > 1.9 * one.lead_angle


def test_a_measure_over_wires_says_in_or_out_and_how_far_to_move_x() -> None:
    """M24-6g, limits of d2 22.003 to 21.803: at its upper limit and 0.05 above it."""
    at_limit = limits(found(designation="M24-6g").over.over_wires).upper
    above = found(designation="M24-6g", over=WiresInputs(over_wires_measured=at_limit + 0.05)).over
    assert above.verdict == "too large"
    asked = ThreadInputs(designation="M24-6g", over=WiresInputs(over_wires_measured=at_limit + 0.05))
    assert [(caution.about, caution.severity) for caution in solve(asked).cautions] == [("verdict", 3)]
    assert above.pitch_diameter_measured == pytest.approx(22.053, abs=1e-4)
    assert above.x_change == pytest.approx(-0.15, abs=2e-4)
    inside = found(designation="M24-6g", over=WiresInputs(over_wires_measured=at_limit - 0.01)).over
    assert inside.verdict == "in its limits"


def test_a_pitch_diameter_measured_itself_is_judged_on_both_sides() -> None:
    """M24: 6g 22.003 to 21.803, 6H 22.051 to 22.316 (ASME B1.13M in mm)."""
    for text, at, word in (
        ("M24-6g", 22.1, "too large"),
        ("M24-6g", 21.9, "in its limits"),
        ("M24-6H", 22.0, "too small"),
        ("M24-6H", 22.4, "too large"),
    ):
        over = found(designation=text, otherwise=MeasuredInputs(pitch_measured=at)).over
        assert (over.verdict, over.pitch_diameter_measured) == (word, at)
    inside = found(designation="M24-6H", otherwise=MeasuredInputs(pitch_measured=22.0))
    assert inside.over.x_change == pytest.approx((22.051 + 22.316) / 2 - 22.0)


def test_gauges_check_the_limits_of_their_side() -> None:
    outside, inside = found(designation="M24-6g").gauge, found(designation="M24-6H").gauge
    assert (outside.go_pitch_diameter, outside.no_go_pitch_diameter) == (22.003, 21.803)
    assert (inside.go_pitch_diameter, inside.no_go_pitch_diameter) == (22.051, 22.316)


def test_a_taper_gauge_that_stands_short_asks_for_a_deeper_cut() -> None:
    """ASME B1.20.1: one turn each way; a turn of 1/2 NPT is 25.4/14/16 = 0.1134 mm on diameter."""
    short = found(designation="NPT 1/2", otherwise=MeasuredInputs(turns_short=1.5)).over
    assert short.verdict == "too large"
    assert short.x_change == pytest.approx(-1.5 * 25.4 / 14 / 16)
    assert found(designation="NPT 1/2", otherwise=MeasuredInputs(turns_short=-0.5)).over.verdict == "in its limits"
    inside = found(designation="Rc 1/2", otherwise=MeasuredInputs(turns_short=2.0)).over
    assert inside.verdict == "too small"
    assert inside.x_change is not None
    assert inside.x_change > 0.0


def test_wires_at_hand_read_more_by_what_is_said() -> None:
    best, thick = (found(designation="M24-6g", over=WiresInputs(wire=wire)).over for wire in (None, 1.8))
    assert best.wire_correction == 0.0
    assert thick.wire_correction == pytest.approx(limits(thick.over_wires).aimed - limits(best.over_wires).aimed)


@pytest.mark.parametrize(
    ("asked", "field"),
    [
        ({"designation": "M24-6H", "over": WiresInputs(over_wires_measured=24.5)}, "over_wires_measured"),
        ({"designation": "M24-6g", "otherwise": MeasuredInputs(turns_short=1.0)}, "turns_short"),
        (
            {
                "designation": "M24-6g",
                "over": WiresInputs(over_wires_measured=24.5),
                "otherwise": MeasuredInputs(pitch_measured=22.0),
            },
            "pitch_measured",
        ),
    ],
)
def test_a_measure_that_does_not_belong_to_the_thread_is_refused(asked: dict[str, Any], field: str) -> None:
    with pytest.raises(Problem) as raised:
        found(**asked)
    assert raised.value.faults[0].field == field


def test_plating_takes_four_times_its_thickness_from_a_sixty_degree_pitch_diameter() -> None:
    """Geometry of the flank, as ASME B1.1's appendix on coated threads has it: 4 t on pitch, 2 t on major diameter."""
    plain, plated = found(designation="M24-6g"), found(designation="M24-6g", plating=0.008)
    assert limits(plated.pitch_before_plating).upper == pytest.approx(22.003 - 0.032)
    assert limits(plated.turned_diameter).upper == pytest.approx(limits(plain.turned_diameter).upper - 0.016)
    assert plated.pitch_diameter == plain.pitch_diameter


# ISO 2306 (from memory; M12 10.2 there, another table has 10.3), and a published list of tap drills for 75 % thread.
METRIC = {"M3": 2.5, "M4": 3.3, "M5": 4.2, "M6": 5.0, "M8": 6.8, "M10": 8.5, "M12": 10.2, "M16": 14.0, "M20": 17.5}
INCHES = {
    "4-40": "#43", "6-32": "#36", "10-24": "#25", "10-32": "#21", "1/4-20": "#7", "1/4-28": "#3", "5/16-18": "F",
    "3/8-16": "5/16", "7/16-14": "U", "1/2-13": "27/64", "9/16-12": "31/64", "5/8-11": "17/32", "3/4-10": "21/32",
    "7/8-9": "49/64", "1-8": "7/8", "8-32": "#29",
}  # fmt: skip


@pytest.mark.parametrize("text", METRIC)
def test_metric_tap_drills_are_those_of_the_standard(text: str) -> None:
    drill = tap_drill(thread_of(text))
    assert drill is not None
    assert drill.diameter == METRIC[text]


@pytest.mark.parametrize("text", INCHES)
def test_inch_tap_drills_are_those_of_the_charts(text: str) -> None:
    drill = tap_drill(thread_of(text))
    assert drill is not None
    assert drill.name == INCHES[text]


def test_the_drill_at_hand_has_its_share_of_the_thread() -> None:
    """M8 with 6.8: 74 % by tap-drill charts (D less 1.299 P is the whole thread)."""
    assert found(designation="M8").thread_share == pytest.approx(1.2 / 1.62380, abs=1e-3)
    tight = solve(ThreadInputs(designation="M8", drill=6.4))
    assert tight.results.thread_share == pytest.approx(1.6 / 1.62380, abs=1e-3)
    assert "tap_drill" in [caution.about for caution in tight.cautions]


def test_what_is_asked_for_and_what_contradicts() -> None:
    with pytest.raises(Missing, match="Give the thread"):
        build(ThreadInputs, {})
    with pytest.raises(Contradiction) as raised:
        solve(ThreadInputs(designation="M24-6H", where="outside"))
    assert raised.value.faults[0].field == "where"
    with pytest.raises(OutOfRange, match="“6z” is not a class of this thread"):
        solve(ThreadInputs(designation="M24-6z"))


@pytest.mark.parametrize("bad", ["M24x0", "M6x8", "M24-6z", "1/2-13 UNC-7A", "G 5", "Rd 40-7h", "Rc 1/2 A"])
def test_the_call_refuses_with_a_sentence_at_the_field(client: TestClient, bad: str) -> None:
    answer = client.get("/api/geometry/thread", params={"designation": bad})
    if bad == "G 5":
        assert answer.status_code == 200
        return
    assert answer.status_code == 422
    assert answer.json()["errors"][0]["field"] == "designation"
    assert len(answer.json()["errors"][0]["message"]) > 20


def test_a_steep_lead_and_a_pitch_of_ones_own_are_said() -> None:
    assert [c.about for c in solve(ThreadInputs(designation="Tr 40x21 P7")).cautions] == ["lead_angle"]
    assert [c.about for c in solve(ThreadInputs(designation="M25x1.7")).cautions] == ["designation"]
    assert solve(ThreadInputs(designation="M24x2-6g")).cautions == ()


def test_the_sketch_shows_profile_limits_and_wire(client: TestClient) -> None:
    page = client.get("/thread", params={"designation": "M24-6g"}).text
    for words in ("23.952", "23.577", "22.003", "21.803"):
        assert words in page
    assert 'data-field="pitch_diameter"' in page


@pytest.mark.parametrize(
    "text", ["M24-6g", "M24-6H", "Tr 40x7-7e", "ACME 1-5", "G 1/2 A", "Rd 40x1/6", "NPT 1/2", "Rc 1/2"]
)
def test_every_family_is_drawn_to_scale(text: str) -> None:
    drawing = solve(ThreadInputs(designation=text)).drawn()
    assert drawing is not None
    assert drawing.profile is not None
    shown, thread = drawing.profile, thread_of(text)
    assert (shown.most.start.z, shown.most.end.z) == pytest.approx((0.0, thread.named.pitch))
    depth = shown.most.bounds.r_max - shown.most.bounds.r_min
    assert depth == pytest.approx(thread.sizes.depth, rel=0.12)


def test_problems_carry_their_field() -> None:
    with pytest.raises(Problem) as raised:
        solve(ThreadInputs(designation="M24", over=WiresInputs(wire=9.0)))
    assert raised.value.faults[0].field == "wire"


PITCHES = st.floats(0.2, 8.0)


@given(PITCHES, st.floats(4.0, 40.0), st.sampled_from(["", "-4h", "-8g", "-6f", "-6H", "-7G"]), st.floats(0.9, 1.1))
def test_any_pitch_of_ones_own_has_sizes_that_fit(pitch: float, ratio: float, written: str, read: float) -> None:
    """Limits in order, mates that go together, and a wire measure that is answered or refused at its field."""
    text = f"M{pitch * ratio:.4f}x{pitch:.4f}{written}"
    assume(1.0 < pitch * ratio < 300.0)
    assume(written != "-6f" or pitch >= 0.35)
    results = found(designation=text)
    for size in (results.major_diameter, results.pitch_diameter, results.minor_diameter):
        assert 0.0 < limits(size).lower < limits(size).upper
    assert limits(results.minor_diameter).upper < limits(results.pitch_diameter).lower
    assert limits(results.pitch_diameter).upper < limits(results.major_diameter).lower + 1e-9 or written in (
        "-8g",
        "-6H",
        "-7G",
    )
    if results.over.over_wires is None:
        return
    asked = WiresInputs(over_wires_measured=limits(results.over.over_wires).aimed * read)
    with suppress(Impossible):
        measured = found(designation=text, over=asked).over.pitch_diameter_measured
        assert measured is not None
        assert abs(measured - limits(results.pitch_diameter).value) < 2.0 * pitch
