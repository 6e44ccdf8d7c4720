"""The whole part as its page asks for it: the demo's sleeve, what is wrong at its field."""

from __future__ import annotations

import math

import pytest

from calc.answer.feature import Answer
from calc.language.problems import Problem
from calc.questions.part.asking import job_of
from calc.questions.part.declared import PartInputs
from calc.questions.part.examples import BORING, EXAMPLES, SLEEVE, STEM
from calc.questions.part.feature import FEATURE
from calc.questions.part.results import PartResults
from calc.questions.part.run import run
from server.query import read_query


def asked(texts: dict[str, str]) -> Answer[PartResults]:
    """The answer to typed texts."""
    query = read_query(texts.items(), PartInputs)
    assert query.faults == ()
    return FEATURE.answer(query.inputs(PartInputs))[0]


def tube(outer: float, inner: float, length: float) -> float:
    """Volume of a tube, mm3."""
    return math.pi / 4 * (outer**2 - inner**2) * length


def cone(large: float, small: float, length: float) -> float:
    """Volume of a frustum, mm3."""
    return math.pi / 12 * (large**2 + large * small + small**2) * length


def test_the_sleeve_takes_off_what_its_print_says() -> None:
    """By hand: the facing takes 1 mm off a tube 45 by 24 and ends at Ø24, its smallest cut, at 180 m/min."""
    answer = asked(dict(SLEEVE))
    face = answer.tables["done"][0]
    assert face.removed == pytest.approx(tube(45, 24, 1))
    assert {each.max_rpm for each in answer.tables["done"]} == {2500.0}
    assert answer.results.rpm_max == pytest.approx(180_000.0 / (math.pi * 24.0))
    assert answer.results.total_time == pytest.approx(sum(each.time for each in answer.tables["done"]))
    assert answer.results.cut_too_deep == 0.0
    assert [each.place for each in answer.tables["tools"]] == ["T1", "T2", "T3"]


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_example_runs_without_a_hit(name: str) -> None:
    answer = asked(dict(EXAMPLES[name]))
    assert answer.results.cut_too_deep == 0.0
    assert [each.message.say() for each in answer.cautions if each.severity == 3] == []


@pytest.mark.parametrize(("over", "blank"), [("", "41.380"), ("42.7", "42.017")])
def test_a_knurl_has_its_form_and_may_say_what_it_measures_over_the_crests(over: str, blank: str) -> None:
    """Crossed, it grows by 0.67 pitches (DIN 82): 130 teeth close on 41.380, 132 on 42.017 (132 pitches over pi)."""
    row = f"kind:knurl~size:1~knurl_form:crossed~over_knurl:{over}~surface_speed:25~feed:0.2~from_row:2~to_row:2"
    answer = asked(dict(SLEEVE) | {"operations": SLEEVE["operations"] + "*" + row})
    notes = [each.message.say() for each in answer.cautions if "needs a blank" in each.message.say()]
    assert bool(notes) == (over == "")
    assert over or blank in notes[0]
    assert any("raises" in each.say() and blank in each.say() for each in answer.notes)


def test_an_operation_that_is_left_out_takes_nothing_and_keeps_its_place() -> None:
    texts = dict(SLEEVE) | {"operations": SLEEVE["operations"].replace("kind:finish", "use:off~kind:finish")}
    names = [each.operation for each in asked(texts).tables["done"]]
    assert len(names) == 4
    assert not any("finish" in name for name in names)


@pytest.mark.parametrize(
    ("name", "text", "field"),
    [
        ("operations", "kind:face~insert:DCMT 11T304", "operations.0.surface_speed"),
        ("operations", "insert:DCMT 11T304~surface_speed:180~feed:0.2", "operations.0.kind"),
        ("operations", "kind:rough~insert:DCMT 11T304~holder:SDJCR 2020K11~surface_speed:180~feed:0.2",
         "operations.0.depth"),
        ("operations", "kind:finish~insert:DCMT 11T304~surface_speed:180~feed:0.2", "operations.0.holder"),
        ("operations", "kind:finish~nose_radius:0.4~surface_speed:180~feed:0.2~from_row:9", "operations.0.from_row"),
        ("operations", "", "operations"),
        ("outside", "", "outside"),
        ("inside", "", "inside"),
        ("bar_diameter", "", "bar_diameter"),
        ("bar_diameter", "40", "bar_diameter"),
        ("stock_bore", "50", "stock_bore"),
        ("stock_length", "40.5", "stock_length"),
        ("material", "cheese", "material"),
        ("inside", "s_x28_z0*t_z-19*l_z-22*t_z-40", "inside.2"),
    ],
)  # fmt: skip
def test_what_is_wrong_or_missing_is_said_at_its_field(name: str, text: str, field: str) -> None:
    with pytest.raises(Problem) as caught:
        asked(dict(SLEEVE) | {name: text})
    assert field in [fault.field for fault in caught.value.faults]


def test_jaws_in_the_way_of_a_pass_are_a_caution_and_are_none_farther_back() -> None:
    """41 mm of stock lie behind the face: with 20 out the jaws begin at Z-19, where the outside is turned to Z-28."""

    def said(out: str) -> bool:
        answer = asked(dict(SLEEVE) | {"first_length_out": out, "first_jaw_diameter": "120"})
        return any("jaw" in each.message.say() for each in answer.cautions)

    assert said("20")
    assert not said("35")


def test_points_and_checks_speak_of_the_same_rows() -> None:
    answer = asked(dict(SLEEVE))
    named = {each.label for each in answer.points if each.label.startswith("row")}
    places = (each.what.split(", ")[1] for each in answer.tables["checks"] if each.what.startswith("outside"))
    checked = {place.removeprefix("after ") for place in places}  # a corner is called by the row before it
    assert checked <= named


def test_the_depth_of_a_dish_with_a_hole_is_measured_at_the_holes_edge() -> None:
    """By Pythagoras: R 75 is 4.5 deep on the axis and 4.5 - (75 - sqrt(75² - 10²)) at Ø20."""
    answer = asked(dict(EXAMPLES["Seat"]) | {"stock_bore": "20"})
    depth = next(each for each in answer.tables["checks"] if "edge of the hole" in each.what)
    assert depth.nominal == pytest.approx(4.5 - (75 - math.sqrt(75**2 - 10**2)))
    assert not any(each.what == "outside, start, length from Z 0" for each in answer.tables["checks"])


@pytest.mark.parametrize(
    ("where", "surface"), [("inside", "bore"), ("face", "face"), ("outside", "outside"), ("", None)]
)
def test_a_groove_is_cut_on_the_surface_that_its_row_names(where: str, surface: str | None) -> None:
    rows = f"kind:groove~size:2~from_row:2~to_row:2~where:{where}"
    query = read_query({**SLEEVE, "operations": rows}.items(), FEATURE.inputs)
    operation = job_of(query.inputs(FEATURE.inputs)).setups[0].operations[0]
    assert (operation.where, operation.first) == (surface, 2)


def test_one_row_that_holds_more_than_its_groove_is_plunged_in_its_groove_alone() -> None:
    """A thread with its relief is one row of the bore; the relief is all that lies outside the thread's crests."""
    inside = "s_z0*h_namedM30x1.5-6H_z-19_reliefD*f_x25 H7*t_z-40"
    bored = f"kind:bore~{BORING}~surface_speed:180~feed:0.1"
    given = {**SLEEVE, "inside": inside, "operations": f"{bored}*kind:groove~size:2.5~where:inside~from_row:1~to_row:1"}
    query = read_query(given.items(), FEATURE.inputs)
    groove = run(job_of(query.inputs(FEATURE.inputs))).operations[1]
    assert groove.left is not None
    assert groove.left.depth < 0.05
    assert groove.too_deep is None
    reached = [element.bounds() for move in groove.moves for element in move.elements]
    assert min(bounds.z_min for bounds in reached if bounds.r_max > 14.5) > -19.0


def test_most_left_counts_a_grooved_bore_apart_from_the_outside() -> None:
    """The outside is only roughed: its allowance of 0.3 stays whatever is grooved in the bore afterwards."""
    inside = "s_z0*h_namedM30x1.5-6H_z-19_reliefD*f_x25 H7*t_z-40"
    rough = SLEEVE["operations"].split("*")[1]
    groove = f"kind:bore~{BORING}~surface_speed:180~feed:0.1*kind:groove~size:2.5~where:inside~from_row:1~to_row:1"
    left = [
        asked({**SLEEVE, "inside": inside, "operations": rows}).results.material_left
        for rows in (rough, f"{rough}*{groove}")
    ]
    assert left[0] >= 0.3
    assert left[1] == pytest.approx(left[0])


def test_a_row_that_is_finished_later_no_longer_counts_as_left() -> None:
    face, rough, finish = STEM["operations"].split("*")
    half = asked({**STEM, "operations": f"{face}*{rough}*{finish}~to_row:3"}).results.material_left
    whole = asked({**STEM, "operations": f"{face}*{rough}*{finish}~to_row:3*{finish}~from_row:4"}).results.material_left
    assert half >= 0.3
    assert whole < 0.2
