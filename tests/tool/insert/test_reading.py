"""How designations are typed: spaces, case, parts of them, and what is wrong with them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.language.problems import Missing, OutOfRange, Problem
from calc.tool.insert import Insert, nose_of, read_insert
from tests.tool.insert.designations import INCH, METRIC

SIGNS = "ABCDEFGHKLMNOPRSTUVWX0123456789 .-()/"


def positions(text: str) -> dict[str, str]:
    return {row.number: row.code for row in read_insert(text).positions}


@pytest.mark.parametrize(
    "typed", ["dcmt 11t304", "DCMT11T304", " DCMT  11 T3 04 ", "D C M T 11T304", "DCMT-11T304", "DCMT 11-T3-04"]
)
def test_case_spaces_and_hyphens_change_nothing(typed: str) -> None:
    found, plain = read_insert(typed), read_insert("DCMT 11T304")
    assert found == plain


@pytest.mark.parametrize("typed", ["CNMG 4-3-2", "CNMG 4 3 2", "cnmg432", "CNMG 4/3/2", "CNMG 432"])
def test_the_inch_numbers_may_be_set_apart(typed: str) -> None:
    assert read_insert(typed) == read_insert("CNMG 432")


def test_a_comma_is_a_decimal_point() -> None:
    assert read_insert("CCMT 3(2,5)1") == read_insert("CCMT 3(2.5)1")


def test_a_designation_is_read_as_far_as_it_goes() -> None:
    assert positions("D") == {"1": "D"}
    assert positions("DCMT 11T3") == {"1": "D", "2": "C", "3": "M", "4": "T", "5": "11", "6": "T3"}
    insert = read_insert("DCMT 11")
    assert (insert.size, insert.thickness, insert.nose) == (9.525, None, None)
    assert [note.say() for note in insert.notes] == [
        "The designation ends too early to give: thickness, corner radius."
    ]


def test_a_round_insert_without_its_corner_code_may_be_of_either_series() -> None:
    open_, metric, inch = read_insert("RCMT 12"), read_insert("RCMT 1204M0"), read_insert("RCMT 120400")
    assert (open_.size, metric.size, inch.size) == (None, 12.0, 12.7)
    assert read_insert("RCMT 1003").size == 10.0


@pytest.mark.parametrize(("typed", "diameter"), [("RCMX 120400", 12.0), ("RCMX 160600", 16.0), ("RCMX 200600", 20.0),
                                                 ("RCMX 250700", 25.0), ("RCMX 320900", 32.0)])  # fmt: skip
def test_boxes_of_rcmx_carry_00_with_a_metric_diameter(typed: str, diameter: float) -> None:
    """Common practice on boxes, no source: 00 where the standard has M0."""
    insert = read_insert(typed)
    assert (insert.size, insert.nose) == (diameter, diameter / 2)
    assert "metric diameter" in insert.notes[0].say()


@pytest.mark.parametrize("typed", ["RNMG 120400", "RCMT 120400"])
def test_00_on_other_round_inserts_is_the_inch_series_and_the_metric_neighbour_is_named(typed: str) -> None:
    insert = read_insert(typed)
    assert insert.size == 12.7
    assert insert.notes[0].say() == "Read as 12.7 mm, the inch series, for which 00 stands. For 12 mm type M0 instead."
    assert read_insert("RNMG 090300").notes == ()


def test_three_letters_are_the_inch_form_without_hole_or_chip_breaker() -> None:
    row = next(row for row in read_insert("TPG 322").positions if row.number == "4")
    assert row.code == "blank"


@pytest.mark.parametrize(
    ("text", "more"),
    [
        ("CNMG 120408E", {"8": "E"}),
        ("CNMG 120408EN", {"8": "E", "9": "N"}),
        ("CNMG 120408 E N", {"8": "E", "9": "N"}),
        ("TNMG 160408L", {"9": "L"}),
        ("TNGA 160408S01020", {"8": "S01020"}),
        ("CNMG 120408-PM", {"10": "PM"}),
        ("CNMG 120408T-PM 4225", {"8": "T", "10": "PM 4225"}),
        ("TNMG 543 A", {"8": "A"}),
        ("CNMG120408MR", {"10": "MR"}),
    ],
)
def test_what_follows_the_corner_radius_is_told_apart(text: str, more: dict[str, str]) -> None:
    found = positions(text)
    assert {number: code for number, code in found.items() if int(number) > 7} == more


def test_letters_that_are_not_of_the_standard_are_said_to_be_the_makers() -> None:
    note = read_insert("CNMG120408MR").notes[0].say()
    assert note.startswith("“MR” is not of positions 8 (F, E, T, S, K, P) and 9 (R, L, N)")


def test_a_planing_edge_has_no_nose_radius() -> None:
    insert = read_insert("SPKN 1203EDTR")
    assert insert.nose is None
    assert positions("SPKN 1203EDTR")["7"] == "ED"
    with pytest.raises(Missing, match="does not give the nose radius"):
        nose_of("SPKN 1203EDTR")


def test_of_a_parallelogram_only_the_long_edge_is_told() -> None:
    insert = read_insert("KNUX 160405R11")
    assert (insert.size, insert.edge_length, insert.nose) == (None, 16.0, 0.5)


def test_a_sharp_corner_is_told_with_a_note() -> None:
    insert = read_insert("TCGT 110200")
    assert insert.nose == insert.exact_nose == 0.0
    assert "small radius" in insert.notes[0].say()


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("XNMG 120408", "Position 1, shape: “X” is not one of A, B, C, D, E, F, H, K, L, M, O, P, R, S, T, V, W."),
        ("120408", "Position 1, shape: “1” is not one of A, B, C, D, E, F, H, K, L, M, O, P, R, S, T, V, W."),
        ("CQMG 120408", "Position 2, clearance: “Q” is not one of A, B, C, D, E, F, G, N, P, O."),
        ("C9", "Position 2, clearance: “9” is not one of A, B, C, D, E, F, G, N, P, O."),
        ("CNTG 120408", "Position 3, tolerance class: “T” is not one of A, C, E, F, G, H, J, K, L, M, N, U."),
        ("CNML 120408", "Position 4, hole and chip breaker: “L” is not one of "),
        ("CNM 120408", "Position 4, hole and chip breaker: “1” is not one of "),
        ("CNMG 130408", "Position 5, size of a rhombus, 80°: “13” is not one of "),
        ("RCMT 1304M0", "Position 5, size of a round insert: “13” is not one of "),
        ("CNMG 120808", "Position 6, thickness: “08” is not one of 01, T1, 02, "),
        ("CNMG 1204M0", "Position 7, corner radius: “M0” is not one of 00, 02, 04, "),
        ("RCMT 120408", "Position 7, corner of a round insert: “08” is not one of M0 (diameter in mm), "),
        ("CNMG 120499", "Position 7: a corner of R9.900 mm does not fit on an inscribed circle of 12.700 mm."),
        ("CNMG 932", "Position 5, size: “932” is not one of 1.2, 1.5, "),
        ("CNMG 492", "Position 6, thickness: “92” is not one of 1, 1.2, "),
        ("CNMG 439", "Position 7, corner radius: “9” is not one of 0, "),
        ("CNMG 12040812", "After the corner radius come letters; “12” has no place there."),
        ("CNMG 120408 %", "“%” is not part of a designation."),
        ("CNMG 12040", "Position 7, corner radius, has two digits, such as 04 or 08; only “0” is there."),
        ("CNMG 12048", "Position 7, corner radius, has two digits, such as 04 or 08; only “8” is there."),
        ("VNMG 16040", "Position 7, corner radius, has two digits, such as 04 or 08; only “0” is there."),
        ("CNMG 12²408", "“²” is not part of a designation."),
        ("CNMG\x00 120408", "“?” is not part of a designation."),
        ("LNMX 432", "The inch form of shape L is not read here"),
        ("C" * 61, "A designation has about fifteen letters and digits; this has 61."),
    ],
)
def test_what_is_wrong_is_said_with_its_position_and_what_is_allowed_there(text: str, message: str) -> None:
    with pytest.raises(OutOfRange) as raised:
        read_insert(text)
    (fault,) = raised.value.faults
    assert fault.field == "designation"
    assert fault.message.say().startswith(message)


@pytest.mark.parametrize("text", ["", "  ", "-"])
def test_a_blank_designation_is_asked_for(text: str) -> None:
    with pytest.raises(Missing) as raised:
        read_insert(text, "insert")
    assert [fault.field for fault in raised.value.faults] == ["insert"]


def answered(text: str) -> Insert | None:
    try:
        return read_insert(text)
    except Problem:
        return None


@given(st.text(max_size=70))
def test_any_text_has_an_answer_or_a_sentence(text: str) -> None:
    answered(text)


@given(st.sampled_from(METRIC + INCH), st.lists(st.tuples(st.integers(0, 12), st.sampled_from(SIGNS)), max_size=3))
def test_any_slip_of_the_finger_has_an_answer_or_a_sentence(row: object, slips: list[tuple[int, str]]) -> None:
    text = str(row[0])  # type: ignore[index]  # a row's text; hypothesis shows the row
    for place, sign in slips:
        text = text[:place] + sign + text[place + 1 :]
    found = answered(text)
    if found is not None and found.nose is not None and found.size is not None:
        assert 0.0 <= found.nose <= found.size / 2


@given(st.sampled_from(METRIC + INCH), st.integers(1, 12))
def test_whatever_is_typed_so_far_is_no_contradiction_to_the_whole(row: object, length: int) -> None:
    text = str(row[0])  # type: ignore[index]
    found, whole = answered(text[:length]), read_insert(text)
    if found is not None and found.form == whole.form:
        assert found.shape == whole.shape
        assert found.clearance in (None, whole.clearance)
