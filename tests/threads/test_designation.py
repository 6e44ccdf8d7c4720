"""What a print writes of a thread, taken apart; and what is refused, with the reason."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.language.problems import OutOfRange
from calc.threads.designation import read_designation, standard_pitches

INCH = 25.4

# What each designation means follows from ISO 965-1, ISO 2902, ASME B1.1, B1.5, B1.20.1, ISO 228-1, ISO 7-1, DIN 405.
READ = {
    "M24x2-6g": ("M", 24.0, 2.0, 1, False, ("6g",)),
    "M10": ("M", 10.0, 1.5, 1, False, ()),
    "m 10 x 1": ("M", 10.0, 1.0, 1, False, ()),
    "M12x1.25 LH-6H": ("M", 12.0, 1.25, 1, True, ("6H",)),
    "M12×1,25-6H-LH": ("M", 12.0, 1.25, 1, True, ("6H",)),
    "M16xPh3P1.5-6H": ("M", 16.0, 1.5, 2, False, ("6H",)),
    "M20x2-7g6g-L-LH": ("M", 20.0, 2.0, 1, True, ("7g6g",)),
    "M24x2-6H/6g": ("M", 24.0, 2.0, 1, False, ("6H", "6g")),
    "Tr 40x7": ("Tr", 40.0, 7.0, 1, False, ()),
    "Tr40x7-7e": ("Tr", 40.0, 7.0, 1, False, ("7e",)),
    "Tr 40x14 P7": ("Tr", 40.0, 7.0, 2, False, ()),
    "Tr 40x14(P7)LH-8e": ("Tr", 40.0, 7.0, 2, True, ("8e",)),
    "Tr 40": ("Tr", 40.0, 7.0, 1, False, ()),
    "3/4-16 UNF-2A": ("UN", 0.75 * INCH, INCH / 16, 1, False, ("2A",)),
    "1/2-13 UNC": ("UN", 0.5 * INCH, INCH / 13, 1, False, ()),
    "10-32": ("UN", 0.19 * INCH, INCH / 32, 1, False, ()),
    "#10-32 UNF-2B": ("UN", 0.19 * INCH, INCH / 32, 1, False, ("2B",)),
    "1-8": ("UN", 1.0 * INCH, INCH / 8, 1, False, ()),
    "1-1/4-7 UNC-2A-LH": ("UN", 1.25 * INCH, INCH / 7, 1, True, ("2A",)),
    "1 1/4 - 7": ("UN", 1.25 * INCH, INCH / 7, 1, False, ()),
    "1/2 - 13 UNC - 2A": ("UN", 0.5 * INCH, INCH / 13, 1, False, ("2A",)),
    "M 24 x 2 - 6g": ("M", 24.0, 2.0, 1, False, ("6g",)),
    "3/4 - 14 NPT": ("NPT", 1.05 * INCH, INCH / 14, 1, False, ()),
    "4-40": ("UN", 0.112 * INCH, INCH / 40, 1, False, ()),
    "4-4 UN": ("UN", 4.0 * INCH, INCH / 4, 1, False, ()),
    ".164-32 UNC": ("UN", 0.164 * INCH, INCH / 32, 1, False, ()),
    "2-4.5 UNC": ("UN", 2.0 * INCH, INCH / 4.5, 1, False, ()),
    "G 1/2 A": ("G", 20.955, INCH / 14, 1, False, ("A",)),
    "G1½": ("G", 47.803, INCH / 11, 1, False, ()),
    "R 3/4": ("R", 26.441, INCH / 14, 1, False, ()),
    "Rc 3/4": ("R", 26.441, INCH / 14, 1, False, ()),
    "NPT 3/4": ("NPT", 1.05 * INCH, INCH / 14, 1, False, ()),
    "3/4-14 NPT": ("NPT", 1.05 * INCH, INCH / 14, 1, False, ()),
    "ACME 1-5": ("ACME", INCH, INCH / 5, 1, False, ()),
    "1 1/2-4 ACME-2G-LH": ("ACME", 1.5 * INCH, INCH / 4, 1, True, ("2G",)),
    "Rd 40x1/6": ("Rd", 40.0, INCH / 6, 1, False, ()),
    "Rd 40": ("Rd", 40.0, INCH / 6, 1, False, ()),
    "M25x1.7": ("M", 25.0, 1.7, 1, False, ()),
}


@pytest.mark.parametrize("text", READ)
def test_a_designation_means_what_its_standard_says(text: str) -> None:
    family, diameter, pitch, starts, left, classes = READ[text]
    found = read_designation(text)
    assert (found.family, found.starts, found.left, found.classes) == (family, starts, left, classes)
    assert (found.diameter, found.pitch) == pytest.approx((diameter, pitch))
    assert found.lead == pytest.approx(starts * pitch)


@pytest.mark.parametrize(
    ("text", "series"),
    [("10-32", "UNF"), ("10-24", "UNC"), ("1-12", "UNF"), ("1-14", "UNS"), ("1-20", "UNEF"), ("2-12", "UN")],
)
def test_a_bare_inch_thread_gets_the_series_that_has_it(text: str, series: str) -> None:
    """Source: ASME B1.1, tables of series."""
    assert read_designation(text).series == series


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("M24x0", "A pitch of 0 is not a thread"),
        ("1/2-0 UNC", "A pitch of 0 is not a thread"),
        ("M6x8", "A pitch of 8 mm leaves no core in Ø6 mm"),
        ("M25", "Ø25 mm has no coarse pitch in ISO 261. Add one of its fine pitches: 2, 1.5, 1."),
        ("M37", "has no standard pitch: write the pitch"),
        ("Tr 40x15 P7", "A lead of 15 mm is not a whole number of starts with a pitch of 7 mm"),
        ("G 7/9", "There is no G 7/9"),
        ("NPT 3/4-13", "NPT 3/4 has 14 threads per inch, not 13."),
        ("1/0-20", "its fraction has 0 below the line"),
        ("M0x1", "A diameter of Ø0 mm is not possible"),
        ("M9999x6", "A diameter of Ø9999 mm is not possible"),
        ("Tr 12x84 P7", "A lead of 84 mm on Ø12 mm is steeper than any thread"),
        ("banana", "is not a thread that is known here. Write it as M24x2-6g"),
        ("M" + "9" * 90, "too long"),
        ("", "is not a thread that is known here"),
    ],
)
def test_what_is_no_thread_is_refused_with_the_reason(text: str, sentence: str) -> None:
    with pytest.raises(OutOfRange) as raised:
        read_designation(text)
    assert raised.value.faults[0].field == "designation"
    assert sentence in raised.value.faults[0].message.say()


@given(st.text(max_size=70))
def test_any_text_is_read_or_refused(text: str) -> None:
    try:
        found = read_designation(text)
    except OutOfRange:
        return
    assert 0.0 < found.pitch < found.diameter


def test_standard_pitches_name_coarse_first() -> None:
    """Source: ISO 261; ASME B1.1."""
    assert standard_pitches(read_designation("M24x2")) == (3.0, 2.0, 1.5, 1.0)
    assert [round(INCH / pitch) for pitch in standard_pitches(read_designation("1/2-13"))] == [13, 20, 28]
    assert read_designation("M25x1.7").own
    assert not read_designation("M24x1.5").own
