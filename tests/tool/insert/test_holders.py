"""Holders and bars of both systems, and which inserts belong in them."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.language.problems import Missing, OutOfRange, Problem
from calc.tool.holder import Holder, misfits, read_holder, styles, usual_offset
from calc.tool.insert import read_insert
from tests.tool.insert.test_reading import SIGNS

# Style, entering angle, shank height and width or bar diameter, length, insert's inscribed circle (mm).
HOLDERS = [
    ("PCLNR 2525M12", "L", 95, (25.0, 25.0), 150.0, 12.7),
    ("SDJCR 2020K11", "J", 93, (20.0, 20.0), 125.0, 9.525),
    ("SVJBR 2525M16", "J", 93, (25.0, 25.0), 150.0, 9.525),
    ("PSBNL 3225P12", "B", 75, (32.0, 25.0), 170.0, 12.7),
    ("PTGNR 2020K16", "G", 90, (20.0, 20.0), 125.0, 9.525),
    ("PDHNR 2525M15", "H", 107.5, (25.0, 25.0), 150.0, 12.7),
    ("PDNNN 2525M15", "N", 62.5, (25.0, 25.0), 150.0, 12.7),
    ("S16R-SDUCR11", "U", 93, (16.0,), 200.0, 9.525),
    ("A25T-PCLNR12", "L", 95, (25.0,), 300.0, 12.7),
    ("E10M-SCLCR06", "L", 95, (10.0,), 150.0, 6.35),
    ("MCLNR 16-4D", "L", 95, (25.4, 25.4), 152.4, 12.7),
    ("DTGNL-123B", "G", 90, (19.05, 19.05), 114.3, 9.525),
    ("MCLNR 85-4D", "L", 95, (31.75, 25.4), 152.4, 12.7),
    ("A16T-DCLNR4", "L", 95, (25.4,), 304.8, 12.7),
    ("S08M-SCLPR2", "L", 95, (12.7,), 152.4, 6.35),
]


@pytest.mark.parametrize(("text", "style", "angle", "shank", "length", "size"), HOLDERS)
def test_a_designation_means_what_the_tables_say(
    text: str, style: str, angle: float, shank: tuple[float, ...], length: float, size: float
) -> None:
    """ISO 5608:2012 and ISO 6261:2011 as printed in catalogues; the inch form, ANSI B212.5, from memory."""
    holder = read_holder(text)
    assert holder.style.letter == style
    assert holder.style.angle == pytest.approx(math.radians(angle))
    found = (holder.bar_diameter,) if holder.is_bar else (holder.shank_height, holder.shank_width)
    assert found == pytest.approx(shank)
    assert holder.length == pytest.approx(length)
    assert holder.insert_size == pytest.approx(size)


@pytest.mark.parametrize(
    ("letter", "angle"),
    [("A", 90), ("B", 75), ("D", 45), ("E", 60), ("F", 90), ("G", 90), ("J", 93), ("K", 75), ("L", 95), ("S", 45),
     ("T", 60), ("Y", 85), ("H", 107.5), ("P", 117.5)],
)  # fmt: skip
def test_entering_angles_are_those_of_the_standard(letter: str, angle: float) -> None:
    """ISO 5608:2012, tool styles, as printed in two catalogues (one prints 91 for G; the standard has 90)."""
    assert styles()[letter].angle == pytest.approx(math.radians(angle))


@pytest.mark.parametrize(
    "typed", ["sdjcr 2020k11", "SDJCR2020K11", "S D J C R 20 20 K 11", "SDJCR-2020-K11", "SDJCR 20x20 K11"]
)
def test_case_spaces_and_hyphens_change_nothing(typed: str) -> None:
    assert read_holder(typed) == read_holder("SDJCR 2020K11")


@pytest.mark.parametrize(
    ("insert", "holder"),
    [
        ("RCMT 1204M0", "SRDCN 2525M12"),
        ("DCMT 11T304", "SDJCR 2020K11"),
        ("DCMT 11T304", "S16R-SDUCR11"),
        ("VBMT 160404", "SVJBR 2525M16"),
        ("CNMG 120408", "PCLNR 2525M12"),
        ("CNMG 432", "PCLNR 2525M12"),
        ("CNMG 120408", "MCLNR 16-4D"),
        ("DCMT", "SDJCR 2020K11"),
        ("DCMT 11T304", "SDJCR"),
    ],
)
def test_what_belongs_together_fits(insert: str, holder: str) -> None:
    assert list(misfits(read_insert(insert), read_holder(holder))) == []


@pytest.mark.parametrize(
    ("insert", "holder", "said"),
    [
        ("CCMT 11T304", "SDJCR 2020K11", None),
        ("CCMT 09T304", "SDJCR 2020K11", ["The holder takes shape D (rhombus, 55°), the insert is C (rhombus, 80°).",
                                          "The holder takes inserts of size 11, this one is 09."]),
        ("DPMT 11T304", "SDJCR 2020K11", ["The holder's seat is for clearance C (7°), the insert has P (11°)."]),
        ("DCMT 070204", "SDJCR 2020K11", ["The holder takes inserts of size 11, this one is 07."]),
        ("CNMG 543", "PCLNR 2525M12", ["The holder takes inserts of size 12, this one is 5."]),
    ],
)  # fmt: skip
def test_what_does_not_fit_is_said(insert: str, holder: str, said: list[str] | None) -> None:
    if said is None:
        with pytest.raises(OutOfRange, match="Position 5"):
            read_insert(insert)
        return
    assert [message.say() for message in misfits(read_insert(insert), read_holder(holder))] == said


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("KCLNR 2525M12", "Position 1, clamping: “K” is not one of C, D, M, P, S, W."),
        ("PXLNR 2525M12", "Position 2, insert shape: “X” is not one of A, "),
        ("PCZNR 2525M12", "Position 3, tool style: “Z” is not one of A, "),
        ("PCLXR 2525M12", "Position 4, insert clearance: “X” is not one of A, "),
        ("PCLNX 2525M12", "Position 5, hand of tool: “X” is not one of R, L, N."),
        ("PCLNR 2525Z12", "Position 8, tool length: “Z” is not one of A, "),
        ("PCLNR 2525M13", "Position 9, insert size for a rhombus, 80°: “13” is not one of "),
        ("PCLNR 2525M1", "Position 9, insert size: “1” is not one of the insert's size code"),
        ("SCLCR 09", "“09” is half a shank"),
        ("MCLNR 16", "“16” is half a shank"),
        ("PCLNR 252M12", "“252M12” is half a shank"),
        ("PCLNR 25M12", "“25M12” is half a shank"),
        ("S10K-SCLCR6", "Position 9, insert size: “6” is an inscribed circle of 19.050 mm, more than the bar's 15.875"),
        ("PCLNR XYZ", "After the hand comes the shank, such as 2525M12"),
        ("PCL", "The designation ends before position 4, insert clearance: one of A, "),
        ("Z16R-SDUCR11", "Position 1, kind of bar: “Z” is not one of S, A, "),
        ("S16Z-SDUCR11", "Position 3, tool length: “Z” is not one of A, "),
        ("S16R-SDZCR11", "Position 6, tool style: “Z” is not one of A, "),
        ("S00R-SDUCR11", "Position 2, bar diameter: it cannot be 00."),
        ("PCLNR 0000M12", "Positions 6 and 7, the shank's height and width, cannot be 00."),
        ("MCLNR 16-9D", "Position 9, insert size: “9” is not one of 1.2, "),
    ],
)
def test_what_is_wrong_is_said_with_its_position(text: str, message: str) -> None:
    with pytest.raises(OutOfRange) as raised:
        read_holder(text)
    (fault,) = raised.value.faults
    assert fault.field == "holder"
    assert fault.message.say().startswith(message)


@pytest.mark.parametrize("text", ["", " ", "-"])
def test_a_blank_designation_is_asked_for(text: str) -> None:
    with pytest.raises(Missing):
        read_holder(text)


def test_the_usual_offset_rises_with_the_size_and_keeps_the_tables_values() -> None:
    """ISO 5610 and ISO 6261, f: from memory."""
    assert [usual_offset(width, bar=False) for width in (20.0, 25.0, 32.0)] == [25.0, 32.0, 40.0]
    assert [usual_offset(bar, bar=True) for bar in (16.0, 25.0, 32.0)] == [11.0, 17.0, 22.0]
    found = [usual_offset(size / 4, bar=bar) for bar in (False, True) for size in range(8, 320)]
    for series in (found[:312], found[312:]):
        assert series == sorted(series)


def answered(text: str) -> Holder | None:
    try:
        return read_holder(text)
    except Problem:
        return None


@given(st.text(max_size=70))
def test_any_text_has_an_answer_or_a_sentence(text: str) -> None:
    answered(text)


@given(
    st.sampled_from([row[0] for row in HOLDERS]),
    st.lists(st.tuples(st.integers(0, 14), st.sampled_from(SIGNS)), max_size=3),
)
def test_any_slip_of_the_finger_has_an_answer_or_a_sentence(text: str, slips: list[tuple[int, str]]) -> None:
    for place, sign in slips:
        text = text[:place] + sign + text[place + 1 :]
    found = answered(text)
    if found is not None and found.shank_width is not None:
        assert found.shank_width > 0.0
