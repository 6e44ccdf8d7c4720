"""The passes of a thread as asked on the page and by the API."""

from __future__ import annotations

import math
from typing import Any

import pytest
from starlette.testclient import TestClient

from calc.cutting.machine import Machine
from calc.language.factor import INCH
from calc.language.fields import build
from calc.language.problems import Impossible, Missing, OutOfRange
from calc.questions.threads.passes_fields import InfeedInputs, SpeedInputs, ThreadPassesInputs
from calc.questions.threads.thread_passes import solve
from calc.threads.infeed import Direction

STEM = {"designation": "M24x2-6g", "where": "outside", "length": "30", "surface_speed": "100", "max_rpm": "1200"}


def test_the_api_gives_speed_room_time_and_the_list_of_passes(client: TestClient) -> None:
    """Depth 17/24 H = 1.2269 (ISO 68-1), infeed by sqrt(i/n); 1.333 = 2 x 1200 / 1800 of run-out."""
    body = client.get("/api/plan/thread", params={**STEM, "pass_count": "8"}).json()
    results, passes = body["results"], body["passes"]
    assert results["rpm"] == {"value": 1200.0, "unit": "1/min"}
    assert results["run_out"]["value"] == pytest.approx(2.0 * 1200.0 / 1800.0)
    assert results["run_up"]["value"] == pytest.approx(results["run_out"]["value"] * (math.log(100.0) - 1.0))
    assert results["time"]["unit"] == "min"
    assert len(passes) == 8
    depth = 17 / 24 * 0.8660254 * 2.0
    done = 0.0
    for number, row in enumerate(passes, 1):
        done += row["infeed"]["value"]
        assert done == pytest.approx(depth * math.sqrt(number / 8), abs=1e-6)
        assert row["chip_thickness"]["value"] == pytest.approx(row["infeed"]["value"] / 2)
        assert row["force"]["unit"] == "N"
    assert passes[-1]["diameter"]["value"] == pytest.approx(
        passes[0]["diameter"]["value"] - 2 * (done - passes[0]["infeed"]["value"])
    )


def test_spring_passes_come_last_and_take_nothing(client: TestClient) -> None:
    body = client.get("/api/plan/thread", params={**STEM, "pass_count": "6", "spring_passes": "2"}).json()
    assert [row["infeed"]["value"] for row in body["passes"][6:]] == [0.0, 0.0]
    assert body["passes"][7]["diameter"] == body["passes"][5]["diameter"]


def test_inch_and_metric_mean_the_same(client: TestClient) -> None:
    metric = client.get("/api/plan/thread", params=STEM).json()
    question = {**STEM, "length": "30mm", "surface_speed": "100m/min", "units": "inch"}
    inch = client.get("/api/plan/thread", params=question).json()
    for before, after in zip(metric["passes"], inch["passes"], strict=True):
        assert after["diameter"]["value"] * float(INCH) == pytest.approx(before["diameter"]["value"], rel=1e-12)
        assert after["force"]["value"] * 4.4482216152605 == pytest.approx(before["force"]["value"], rel=1e-9)
    assert inch["results"]["time"] == metric["results"]["time"]


def test_left_is_right_but_for_how_it_is_cut(client: TestClient) -> None:
    right, left = (
        client.get("/api/plan/thread", params={**STEM, "designation": f"M24x2-6g{hand}"}).json() for hand in ("", " LH")
    )
    assert right["passes"] == left["passes"]
    assert right["settings"] != left["settings"]


def test_more_starts_are_turned_by_equal_angles_and_take_as_much_longer() -> None:
    """Tr 40x14 P7: two starts, 180 degrees or 7 mm apart."""
    one, two = (
        solve(ThreadPassesInputs(designation=text, length=60.0, machine=Machine(max_rpm=100.0))).results
        for text in ("Tr 40x7-7e", "Tr 40x14 P7-7e")
    )
    assert two.ends.start_angle == pytest.approx(math.pi)
    assert two.ends.start_shift == pytest.approx(7.0)
    assert one.ends.start_angle is None
    assert two.feed == 14.0
    assert two.rpm == one.rpm


def test_a_taper_thread_changes_x_by_half_its_taper_per_side() -> None:
    """1:16 on diameter is 1/32 per side (ASME B1.20.1); at the end face 1/2 NPT has E0 = 0.75843 in."""
    answer = solve(ThreadPassesInputs(designation="NPT 1/2", length=13.0))
    results, last = answer.results, answer.tables["passes"][-1]
    assert results.ends.x_change_along == pytest.approx((results.run_up + 13.0 + results.run_out) / 32.0)
    assert last.end_diameter - last.diameter == pytest.approx(13.0 / 16.0)
    assert last.diameter + 0.8 * 25.4 / 14 == pytest.approx(0.75843 * 25.4, abs=2e-3)


def test_a_relief_too_short_is_refused_at_its_field(client: TestClient) -> None:
    answer = client.get("/api/plan/thread", params={**STEM, "relief": "1.5"})
    assert answer.status_code == 422
    assert answer.json()["errors"][0]["field"] == "relief"
    assert "cannot stop" in answer.json()["errors"][0]["message"]


def test_a_standard_relief_that_is_too_short_at_this_speed_is_said() -> None:
    fast = solve(ThreadPassesInputs(designation="M24x2-6g", length=30.0, speed=SpeedInputs(surface_speed=900_000.0)))
    assert any(caution.about == "run_out" and caution.severity == 3 for caution in fast.cautions)
    slow = solve(ThreadPassesInputs(designation="M24x2-6g", length=30.0, speed=SpeedInputs(surface_speed=60_000.0)))
    assert not any(caution.about == "run_out" for caution in slow.cautions)


def test_the_contour_before_threading_has_chamfer_cylinder_and_relief() -> None:
    """Stem's end, M24x2-6g over 30: relief A of DIN 76-1 from Z-30 to Z-37, bottom 21."""
    answer = solve(ThreadPassesInputs(designation="M24x2-6g", length=30.0))
    assert [round(point.spot.z, 3) for point in answer.points] == [0.0, -1.28, -30.0, -32.444, -36.0, -37.0, -37.0]
    assert answer.points[3].spot.r == 10.5
    assert answer.contour is not None
    assert not answer.contour.self_intersections()


@pytest.mark.parametrize(
    ("infeed", "about"),
    [
        (InfeedInputs(pass_count=3.0, direction="flank"), "pass_count"),
        (InfeedInputs(pass_count=40.0), "pass_count"),
        (InfeedInputs(nose_radius=0.1), "nose_radius"),
        (InfeedInputs(nose_radius=0.4), "nose_radius"),
    ],
)
def test_what_a_setter_would_warn_of_is_said(infeed: InfeedInputs, about: str) -> None:
    """M24x2: 0.35 mm chips in 3 flank passes; 0.015 mm in the last of 40; a nose of 0.1 is too sharp, 0.4 too round."""
    answer = solve(ThreadPassesInputs(designation="M24x2-6g", length=30.0, infeed=infeed))
    assert about in [caution.about for caution in answer.cautions]


def test_an_ordinary_thread_has_no_cautions() -> None:
    asked = ThreadPassesInputs(
        designation="M24x2-6g", length=30.0, speed=SpeedInputs(material="C45"), machine=Machine(max_rpm=1200.0)
    )
    assert solve(asked).cautions == ()


def test_a_long_or_short_engagement_is_said_with_the_class_for_it() -> None:
    """ISO 965-1: M24x3 is normal from about 12 to 36 mm; 7g6g beyond, 5g6g below."""
    said = {}
    for length in (8.0, 30.0, 50.0):
        answer = solve(ThreadPassesInputs(designation="M24-6g", length=length))
        said[length] = " ".join(note.say() for note in answer.notes)
    assert "5g6g" in said[8.0]
    assert "7g6g" in said[50.0]
    assert "g6g" not in said[30.0]


def test_a_nose_that_does_not_reach_into_the_thread_is_refused() -> None:
    with pytest.raises(Impossible, match="too large for a pitch") as raised:
        solve(ThreadPassesInputs(designation="M6x0.5", infeed=InfeedInputs(nose_radius=0.4)))
    assert raised.value.faults[0].field == "nose_radius"


def test_what_is_missing_or_wrong_has_its_field() -> None:
    with pytest.raises(Missing, match="Give the thread"):
        build(ThreadPassesInputs, {})
    with pytest.raises(OutOfRange) as raised:
        solve(ThreadPassesInputs(designation="M24", infeed=InfeedInputs(pass_count=99.0)))
    assert raised.value.faults[0].field == "pass_count"
    with pytest.raises(Impossible):
        solve(ThreadPassesInputs(designation="M30x1.5-6H", relief=1.0, machine=Machine(max_rpm=2000.0)))


@pytest.mark.parametrize(
    "text", ["M3-6g", "M64-6g", "1/2-13 UNC-2B", "Tr 100x12-7e", "ACME 1-5", "G 1/2 A", "Rd 40", "Rc 1/2", "NPT 1"]
)
@pytest.mark.parametrize("direction", ["straight", "flank", "modified-flank", "alternating"])
def test_every_family_can_be_cut_in_every_way(text: str, direction: Direction) -> None:
    answer: Any = solve(ThreadPassesInputs(designation=text, length=20.0, infeed=InfeedInputs(direction=direction)))
    assert all(math.isfinite(row.force) and row.force >= 0.0 for row in answer.tables["passes"])
    assert answer.drawn() is not None
