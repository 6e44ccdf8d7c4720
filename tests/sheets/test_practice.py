"""Practising: fresh numbers that keep the case sensible, answers judged as a shop would, hints from the working."""

from __future__ import annotations

import html
from typing import Any
from urllib.parse import parse_qsl, urlsplit

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from starlette.testclient import TestClient

from calc.language.quantities import View
from calc.threads.designation import read_designation
from server.catalogue import PAGES
from server.links import address
from server.sheets.attempts import _given, attempt_at
from server.sheets.model import MOST_SEED, Step
from server.sheets.practice import Case, case_of, hints, judge
from tests.sheets.test_api import create

DISH = "/dish?radius=75&depth=4.5"
TAPER = "/taper?large_diameter=22&length=22&taper_ratio=0.1"


def case(address: str, seed: int | None = None) -> Case:
    found = case_of(address, seed)
    assert isinstance(found, Case), found
    return found


def verdict(of: Case, name: str, typed: str) -> str:
    return judge(of, next(spec for spec in of.asked if spec.name == name), typed).kind


@pytest.mark.parametrize(
    ("typed", "kind"),
    [
        # 2 sqrt(4.5 (150 - 4.5)) = 51.1761 by hand
        ("51.176", "right"),
        ("51.18", "right"),
        ("51,18", "right"),
        ("51,176", "unread"),  # fifty-one thousand, or fifty-one: asked, not guessed
        ("Ø51.176", "right"),
        ("51.176mm", "right"),
        ("2.0148in", "right"),
        ("51.2", "wrong"),
        ("25.588", "near"),
        ("-51.176", "near"),
        ("2.0148", "near"),
        ("102.352", "wrong"),
        ("fifty", "unread"),
        ("1,500", "unread"),
        ("", "unread"),
    ],
)
def test_an_answer_is_judged_in_any_unit_and_a_mistaken_convention_is_named(typed: str, kind: str) -> None:
    assert verdict(case(DISH), "mouth_diameter", typed) == kind


@pytest.mark.parametrize(
    ("name", "typed", "kind"),
    [
        # a taper of 1:10 has a half angle of atan(0.05) = 2.8624 deg and ends at 22 - 2.2 = 19.8
        ("small_diameter", "19.8", "right"),
        ("small_diameter", "9.9", "near"),
        ("half_angle", "2.862", "right"),
        ("half_angle", "2°51'45\"", "right"),
        ("half_angle", "5.7248", "near"),
        ("included_angle", "2.8624", "near"),
        ("half_angle", "87.1376", "near"),
        ("half_angle", "0.05", "wrong"),
    ],
)
def test_half_and_included_angles_and_the_other_side_are_told_apart(name: str, typed: str, kind: str) -> None:
    assert verdict(case(TAPER), name, typed) == kind


def test_the_words_say_which_convention_was_mistaken() -> None:
    dish = case(DISH)
    words = [judge(dish, dish.asked[0], typed).words for typed in ("25.588", "-51.176", "2.0148")]
    assert [next(key for key in ("radius", "sign", "inches") if key in each) for each in words] == [
        "radius",
        "sign",
        "inches",
    ]


def test_in_inches_a_metric_number_is_the_mistaken_one() -> None:
    inch = case("/dish?radius=3&depth=0.2&units=inch")
    value = inch.expected(inch.asked[0])
    assert judge(inch, inch.asked[0], f"{value / 25.4:.4f}").kind == "right"
    assert "inches are asked" in judge(inch, inch.asked[0], f"{value:.3f}").words


EXAMPLES = {
    path: address(path, dict(feature.example))
    for path, feature in PAGES.items()
    if feature.example and not feature.version  # a part gives the questions of others to practise
}


@pytest.mark.parametrize("path", EXAMPLES)
@settings(max_examples=3, deadline=None)
@given(seed=st.integers(0, MOST_SEED))
def test_fresh_numbers_are_the_same_for_everybody_and_as_sensible_as_the_step(path: str, seed: int) -> None:
    own = case_of(EXAMPLES[path], None)
    if isinstance(own, str):
        assert "no answer" in own
        return
    fresh = case(EXAMPLES[path], seed)
    assert fresh.question.parameters == case(EXAMPLES[path], seed).question.parameters
    assert [spec.name for spec in fresh.asked] == [spec.name for spec in own.asked]
    assert own.is_guessed or len(fresh.answer.cautions) <= len(own.answer.cautions), "a mistake may have its caution"
    for spec in fresh.asked:
        assert judge(fresh, spec, spec.quantity.text(fresh.expected(spec), fresh.view)).kind == "right", spec.name


def test_different_seeds_give_different_numbers() -> None:
    drawn = {case(DISH, seed).question.parameters for seed in range(30)}
    assert len(drawn) > 20
    assert all(dict(parameters)["radius"].isdecimal() for parameters in drawn)  # as whole as the step's own


def test_fresh_inch_numbers_stay_sixteenths() -> None:
    for seed in range(10):
        radius = float(
            dict(case("/crown?radius=2.9375&edge_diameter=2.000&units=inch", seed).question.parameters)["radius"]
        )
        assert radius * 16 == int(radius * 16)


def test_hints_end_at_the_value_that_is_asked() -> None:
    taper = case(TAPER)
    for spec in taper.asked:
        steps = hints(taper, spec)
        if steps:
            assert steps[-1].value == pytest.approx(taper.expected(spec), rel=1e-12)
    assert len(hints(taper, taper.asked[0])) > 0


def test_a_step_that_waits_for_a_dimension_cannot_be_practised() -> None:
    assert "no answer" in str(case_of("/dish?radius=75", 1))
    assert "no page" in str(case_of("/gone", 1))


@pytest.mark.parametrize("settings", ["sqlite"], indirect=True)
class TestThePage:
    """`/sheet/{id}/practise/{step}`."""

    def test_the_answers_are_nowhere_until_they_are_worked_out(self, client: TestClient, seat: dict[str, Any]) -> None:
        path = f"/sheet/{create(client, seat)['id']}/practise/dsh222"
        for seed in ("own", "5", "17"):
            page = html.unescape(client.get(f"{path}?seed={seed}").text)
            found = case(seat["steps"][0]["address"], None if seed == "own" else int(seed))
            for spec in found.asked:
                assert spec.quantity.text(found.expected(spec), found.view) not in page
                assert spec.label in page

    def test_lead_and_trainee_see_the_same_numbers(self, client: TestClient, seat: dict[str, Any]) -> None:
        path = f"/sheet/{create(client, seat)['id']}/practise/dsh222"
        page = client.get(path).text
        assert "numbers 17" in page
        other = client.get(f"{path}?seed=17").text
        assert page.split("<footer")[0] == other.split("<footer")[0], "the languages below lead back to each address"

    def test_hints_come_in_three_steps(self, client: TestClient, seat: dict[str, Any]) -> None:
        path = f"/sheet/{create(client, seat)['id']}/practise/dsh222"
        value = (
            case(seat["steps"][0]["address"])
            .asked[0]
            .quantity.text(
                case(seat["steps"][0]["address"]).expected(case(seat["steps"][0]["address"]).asked[0]), View()
            )
        )
        pages = [client.get(f"{path}?seed=own&h.mouth_diameter={level}").text for level in ("1", "2", "3")]
        assert [page.count("<math") for page in pages] == [1, 2, 3]
        assert [value in page for page in pages] == [False, False, True]

    def test_a_result_is_a_link_that_shows_the_same_to_the_lead(self, client: TestClient, seat: dict[str, Any]) -> None:
        path = f"/sheet/{create(client, seat)['id']}/practise/dsh222"
        answers = {"seed": "own", "a.mouth_diameter": "51.18", "a.arc_centre_z": "-70.5", "h.mouth_diameter": "1"}
        page = client.get(path, params=answers).text
        link = html.unescape(page.split('data-copy="')[1].split('"')[0])
        assert link.startswith(f"http://shop.example{path}?seed=own&")
        again = client.get(link).text
        assert again == page
        assert "1 of 4 right, 1 hint" in page
        assert "the sign is the other one" in page

    @pytest.mark.parametrize("query", ["seed=-1", "seed=x", "seed=" + "9" * 40, "a.mouth_diameter=" + "9" * 500])
    def test_odd_addresses_are_no_fault(self, client: TestClient, seat: dict[str, Any], query: str) -> None:
        path = f"/sheet/{create(client, seat)['id']}/practise/dsh222"
        assert client.get(f"{path}?{query}").status_code == 200
        assert client.get(f"{path}?h.mouth_diameter=99&x=<script>").text.count("<script>") == 0

    def test_a_step_that_is_not_for_practice_is_told(self, client: TestClient, seat: dict[str, Any]) -> None:
        sheet = f"/sheet/{create(client, seat)['id']}"
        for key in ("tpr222", "nobody", "%00"):
            assert client.get(f"{sheet}/practise/{key}").status_code == 404


@pytest.mark.parametrize(
    "path",
    ["/thread?designation=M24x2-6g", "/thread?designation=1%2F2-13+UNC-2B", "/thread-passes?designation=M24x2-6g"],
)
def test_threads_are_practised_on_sizes_that_exist_in_the_same_class(path: str) -> None:
    own = case(path)
    drawn = {dict(case(path, seed).question.parameters)["designation"] for seed in range(25)}
    assert len(drawn) > 8
    first = read_designation(dict(own.question.parameters)["designation"])
    for text in drawn:
        found = read_designation(text)
        assert not found.own, text
        assert (found.family, found.series, found.classes) == (first.family, first.series, first.classes)


@pytest.mark.parametrize(
    ("typed", "kind"),
    [
        # M24x2-6g: pitch diameter 22.493 to 22.663 (ISO 965-2)
        ("22.578", "right"), ("22.5", "right"), ("22.66", "right"), ("22.70", "wrong"), ("22.45", "wrong"),
        ("11.289", "near"),
    ],
)  # fmt: skip
def test_a_size_within_the_limits_of_its_class_is_right(typed: str, kind: str) -> None:
    assert verdict(case("/thread?designation=M24x2-6g"), "pitch_diameter", typed) == kind


def test_limits_that_come_from_what_was_given_leave_one_right_answer() -> None:
    """R75 with limits of 0.1 and 4.5 deep: the mouth is 51.176, not all that the limits allow."""
    assert verdict(case(f"{DISH.replace('75', '75 ±0.1')}"), "mouth_diameter", "51.18") == "right"
    assert verdict(case(f"{DISH.replace('75', '75 ±0.1')}"), "mouth_diameter", "51.2") == "wrong"


def test_a_measured_thread_keeps_its_designation() -> None:
    measured = "/thread?designation=M24x2-6g&over_wires_measured=24.3&wires=three"
    assert {dict(case(measured, seed).question.parameters)["designation"] for seed in range(5)} == {"M24x2-6g"}


WRONG = "/error-by-cause?shape=stem&nose_radius=0.8mm&x_off=0.1mm"
STEM_WRONG = ("nose_change", "x_off", "z_off", "height")


def test_what_went_wrong_is_asked_of_the_part_that_came_out() -> None:
    """One cause a time, drawn anew with every seed; the others are 0."""
    met = set()
    for seed in range(40):
        fresh = case(WRONG, seed)
        expected = {spec.name: fresh.expected(spec) for spec in fresh.asked}
        assert tuple(expected) == STEM_WRONG
        off = [name for name, value in expected.items() if value]
        assert len(off) == 1
        met.add(off[0])
        for spec in fresh.asked:
            right = spec.quantity.text(fresh.expected(spec), fresh.view)
            assert judge(fresh, spec, right).kind == "right", (seed, spec.name)
            assert judge(fresh, spec, "0.7").kind == "wrong"
    assert met == set(STEM_WRONG)


def test_the_given_of_what_went_wrong_is_the_part_and_not_the_cause() -> None:
    fresh = case(WRONG, 3)
    given = dict(_given(fresh))
    labels = {spec.label for spec in fresh.asked}
    assert not labels & given.keys()
    assert any("off by" in text for text in given.values())
    assert hints(fresh, fresh.asked[0]) == ()


@pytest.mark.parametrize("seed", range(6))
def test_the_part_that_came_out_tells_its_cause(seed: int) -> None:
    """A tool off in X makes every cylinder larger by twice as much on diameter, off in Z every face by as much."""
    fresh = case(WRONG, seed)
    off = {spec.name: fresh.expected(spec) for spec in fresh.asked}
    rows = [row for row in fresh.answer.tables["elements"] if row.on_diameter is not None]
    if off["x_off"]:
        assert any(row.on_diameter == pytest.approx(2.0 * off["x_off"], abs=1e-6) for row in rows)
    faces = [row for row in fresh.answer.tables["elements"] if row.along_z is not None]
    if off["z_off"]:
        assert any(abs(row.along_z) == pytest.approx(abs(off["z_off"]), abs=1e-6) for row in faces)


def test_an_answer_typed_with_a_comma_travels_with_a_point_and_reads_the_same_in_another_language() -> None:
    """A segment of radius 75 and depth 4.5 is 51.176 wide; “51,18” alone would be asked back in English."""
    step = Step("a", "Seat", "/dish?radius=75&depth=4.5", practice=True)
    typed = attempt_at(step, "/sheet/x/practise/a", {"a.mouth_diameter": "51,18"}, "", "de")
    assert (typed.asked[0].text, typed.asked[0].verdict) == ("51,18", "right")
    sent = dict(parse_qsl(urlsplit(typed.result_address).query))
    assert sent["a.mouth_diameter"] == "51.18"
    assert attempt_at(step, "/sheet/x/practise/a", sent, "").asked[0].verdict == "right"


def test_a_point_that_groups_thousands_of_the_right_answer_is_asked_back() -> None:
    """1.061 1/min is 1061 to who writes decimals with a comma; 1000 x 200 / (pi 60) is 1061.03."""
    german = case_of("/spindle?surface_speed=200&diameter=60", None, "de")
    assert not isinstance(german, str)
    speed = next(spec for spec in german.asked if spec.name == "rpm")
    assert [judge(german, speed, text).kind for text in ("1.061", "1061", "2.061")] == ["unread", "right", "wrong"]
    assert "1,061 oder 1061" in str(judge(german, speed, "1.061").words)
