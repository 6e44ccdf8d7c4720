"""Designations of both systems against the standards' tables."""

import math

import pytest

from calc.tool.insert import nose_of, read_insert
from tests.tool.insert.designations import INCH, METRIC, PAIRS, Row

TABLE_ROUNDING = 0.006


def test_there_are_more_than_forty_designations_of_both_systems() -> None:
    assert len(METRIC) + len(INCH) >= 40
    assert min(len(METRIC), len(INCH)) >= 15


@pytest.mark.parametrize("row", METRIC + INCH, ids=lambda row: row.text)
def test_a_designation_means_what_the_tables_of_the_standards_say(row: Row) -> None:
    """ISO 1832:2017 and ANSI B212.4-1986, tables as printed in catalogues (see the module of the rows)."""
    insert = read_insert(row.text)
    assert insert.form == ("inch" if row in INCH else "metric")
    assert insert.shape.letter == row.shape
    assert (0.0 if insert.angle is None else math.degrees(insert.angle)) == pytest.approx(row.angle)
    assert insert.clearance is not None
    assert insert.clearance.angle == pytest.approx(math.radians(row.clearance))
    assert insert.size == pytest.approx(row.size, abs=TABLE_ROUNDING)
    assert insert.thickness == pytest.approx(row.thickness, abs=TABLE_ROUNDING)
    assert insert.nose == pytest.approx(row.nose, abs=1e-9)


@pytest.mark.parametrize("row", [row for row in METRIC if row.edge], ids=lambda row: row.text)
def test_the_size_code_is_the_edge_length_cut_to_whole_millimetres(row: Row) -> None:
    """The rule of ISO 1832, position 5: the length of the edge, given to a tenth, without its decimal."""
    length = read_insert(row.text).edge_length
    assert length is not None
    assert int(round(length, 1)) == row.edge


@pytest.mark.parametrize(("metric", "inch"), PAIRS)
def test_the_two_forms_of_one_insert_agree_in_all_but_the_named_nose(metric: str, inch: str) -> None:
    first, second = read_insert(metric), read_insert(inch)
    assert (first.shape, first.clearance, first.tolerance) == (second.shape, second.clearance, second.tolerance)
    assert (first.size, first.thickness, first.edge_length) == (second.size, second.thickness, second.edge_length)
    assert first.exact_nose == pytest.approx(second.exact_nose, abs=1e-12)
    assert first.nose != first.exact_nose
    assert second.nose == second.exact_nose


@pytest.mark.parametrize(
    ("code", "exact"), [("04", 0.396875), ("08", 0.79375), ("12", 1.190625), ("16", 1.5875), ("24", 2.38125)]
)
def test_the_exact_nose_is_the_sixty_fourths_behind_the_metric_code(code: str, exact: float) -> None:
    """Printed catalogue 2019-20, p. 175, computes with these values; 1/64 in = 0.396875 mm."""
    assert nose_of(f"CNMG 1204{code}", "exact") == pytest.approx(exact, abs=1e-12)
    assert nose_of(f"CNMG 1204{code}") == int(code) / 10


def test_a_metric_round_insert_has_no_other_exact_nose() -> None:
    assert nose_of("RCMT 1204M0") == nose_of("RCMT 1204M0", "exact") == 6.0


@pytest.mark.parametrize(
    ("text", "size", "nose_height", "thickness"),
    [
        ("CNMG 090308", 0.05, 0.08, 0.13),
        ("CNMG 120408", 0.08, 0.13, 0.13),
        ("CNMG 160608", 0.10, 0.15, 0.13),
        ("CNMG 250924", 0.13, 0.18, 0.13),
        ("SNUN 120408", 0.13, 0.20, 0.13),
        ("SNUN 190408", 0.18, 0.27, 0.13),
        ("SNUN 250408", 0.25, 0.38, 0.13),
        ("DNMG 110408", 0.05, 0.11, 0.13),
        ("DNMG 150608", 0.08, 0.15, 0.13),
        ("VNMG 160408", 0.05, 0.16, 0.13),
        ("CCGT 120404", 0.025, 0.025, 0.13),
        ("CNAA 120408", 0.025, 0.005, 0.025),
        ("TPKN 220408", 0.08, 0.013, 0.025),
        ("SNHN 120408", 0.013, 0.013, 0.025),
    ],
)
def test_the_class_letter_gives_the_printed_deviations(
    text: str, size: float, nose_height: float, thickness: float
) -> None:
    """ISO 1832:2017, tolerance classes, as printed in two catalogues."""
    tolerance = read_insert(text).tolerance
    assert tolerance is not None
    assert (tolerance.size, tolerance.nose_height, tolerance.thickness) == (size, nose_height, thickness)
