"""A material looked up by any name, searched by a part of one, told with its sources."""

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.cutting.materials import GROUPS, PLASTIC, materials
from calc.cutting.tools import operations, tool_materials
from calc.language.problems import Missing, OutOfRange, Problem
from calc.language.quantities import SURFACE_SPEED, View
from calc.questions.cutting.material import FEATURE, MaterialInputs, fitting, solve

TABLES = ("speeds", "forces", "chips", "unit_power", "taylor")
CHOSEN = st.sampled_from(list(operations())), st.sampled_from(["", *(tool.name for tool in tool_materials())])


@pytest.mark.parametrize("typed", ["C45", "1.0503", "aisi 1045", "G10450", " ck 45 "])
def test_any_name_leads_to_the_same_material(typed: str) -> None:
    found = solve(MaterialInputs(material=typed)).results
    assert found.title == "C45 carbon steel"
    assert found.surface_speed == 180_000.0
    assert (found.speed_low, found.speed_high) == (150_000.0, 220_000.0)


def test_operation_and_tool_choose_the_speed() -> None:
    found = solve(MaterialInputs(material="C45", operation="drill", tool="HSS", diameter=10.0)).results
    assert found.surface_speed == 24_000.0
    assert found.rpm == pytest.approx(24_000 / (math.pi * 10))
    assert found.with_tool == "high-speed steel"


def test_what_is_not_done_in_a_material_is_said_and_the_rest_still_told() -> None:
    answer = solve(MaterialInputs(material="C45", operation="rough", tool="PCD"))
    assert answer.results.surface_speed is None
    assert answer.headline == "title"
    said = answer.notes[0].say()
    assert said == ("No starting speed is listed for roughing in C45 carbon steel with polycrystalline diamond, PCD.")
    assert all(answer.tables[name] for name in TABLES)


def test_a_part_of_a_name_lists_what_fits_and_says_what_to_do() -> None:
    answer = solve(MaterialInputs(material="mncr"))
    assert answer.headline == "fits"
    assert [row.code for row in answer.tables["fits"]][:3] == ["16MnCr5", "20MnCr5", "90MnCrV8"]
    assert answer.results.fits == len(answer.tables["fits"])
    said = answer.notes[0].say()
    assert said.startswith("These fit: 16MnCr5, 20MnCr5, 90MnCrV8")
    assert answer.tables["fits"][0].names.startswith("AISI 5115, UNS G51150")
    assert " and 7 more. Tap one" in solve(MaterialInputs(material="P")).notes[0].say()


@pytest.mark.parametrize("letter", [*(group for group in GROUPS if len(group) == 1), "p", " k "])
def test_a_letter_of_iso_513_lists_its_group(letter: str) -> None:
    assert {one.group for one in fitting(letter)} == {letter.strip().upper()}


@pytest.mark.parametrize(("typed", "part"), [("brass", "brass"), ("cast iron", "cast iron"), ("duplex", "duplex")])
def test_a_word_lists_the_materials_it_describes(typed: str, part: str) -> None:
    assert all(part in one.title for one in fitting(typed))
    assert len(fitting(typed)) >= 2


@pytest.mark.parametrize(
    ("typed", "part"), [("42CrMx", "is called “42CrMx”"), ("cheese", "is called “cheese”"), ("-", "“-”")]
)
def test_a_name_that_nothing_fits_is_refused_at_its_field(typed: str, part: str) -> None:
    with pytest.raises(OutOfRange) as raised:
        solve(MaterialInputs(material=typed))
    assert raised.value.faults[0].field == "material"
    assert part in raised.value.faults[0].message.say()


def test_without_a_name_one_is_asked_for() -> None:
    with pytest.raises(Missing, match="a letter of ISO 513"):
        solve(MaterialInputs())


@pytest.mark.parametrize("bad", [math.nan, math.inf, -1.0, 0.0, 1e9])
def test_a_diameter_that_cannot_be_meant_is_refused(bad: float) -> None:
    with pytest.raises(OutOfRange) as raised:
        solve(MaterialInputs(material="C45", diameter=bad))
    assert raised.value.faults[0].field == "diameter"


@pytest.mark.parametrize("one", materials(), ids=lambda one: one.code)
def test_every_row_of_every_material_names_its_source(one: Any) -> None:
    answer = solve(MaterialInputs(material=one.code))
    for name in ("speeds", "forces", "taylor", "unit_power"):
        assert all(len(row.source) > 10 for row in answer.tables[name])
    assert answer.tables["unit_power"] or one.group in ("H", PLASTIC)
    for row in answer.tables["chips"]:
        assert row.low <= row.used <= row.high
    used = [row.used for row in answer.tables["chips"]]
    assert used == sorted(used, reverse=True)


def test_the_taylor_constant_gives_the_usual_speed_back_at_its_life() -> None:
    for row in solve(MaterialInputs(material="C45")).tables["taylor"]:
        if row.constant is not None:
            start = materials()[8].speed("rough", row.tool)
            assert start is not None
            assert row.constant / row.life**row.n == pytest.approx(start.usual)


def test_inch_readers_get_feet() -> None:
    # 180 m/min are 590.55 ft/min
    assert SURFACE_SPEED.shown(180_000.0, View("inch")) == pytest.approx(590.55, abs=0.005)
    answer = solve(MaterialInputs(material="C45"))
    assert all("{" not in note.say(View("inch")) for note in answer.notes)


@given(st.text(max_size=12), *CHOSEN)
def test_any_text_gives_materials_or_a_sentence(typed: str, operation: str, tool: str) -> None:
    try:
        answer = solve(MaterialInputs(material=typed, operation=operation, tool=tool))
    except Problem:
        return
    assert answer.results.fits or answer.results.title


def test_a_single_material_fits_alone() -> None:
    assert solve(MaterialInputs(material="duplex stainless")).results.fits == 2
    assert solve(MaterialInputs(material="superduplex")).results.title is not None
    assert FEATURE.page == "/material"


def test_feed_and_depth_to_start_with_come_with_the_nose_or_the_insert() -> None:
    blank = solve(MaterialInputs(material="C45"))
    assert blank.results.start.feed is None
    assert "Give the nose radius or the insert" in blank.sentences["Feed and depth to start with"][0].say()
    found = solve(MaterialInputs(material="C45", insert="CNMG 120408"))
    assert found.results.start.feed == pytest.approx(0.32)
    assert found.results.start.depth_high == pytest.approx(0.4 * 12.8959, abs=0.01)
    assert len(found.sentences["Feed and depth to start with"]) == 2
    assert solve(MaterialInputs(material="C45", nose_radius=0.8, operation="drill")).results.start.feed is None
