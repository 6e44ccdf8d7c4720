"""The holder question from its declared inputs."""

import math

import pytest

from calc.language.fields import build
from calc.language.problems import Missing, OutOfRange, Problem
from calc.questions.tools.holder import HolderInputs, solve


@pytest.mark.parametrize(("holder", "end_angle"), [("PCLNR 2525M12", 5), ("SDJCR 2020K11", 32), ("SVJBR 2525M16", 52)])
def test_entering_angle_insert_angle_and_end_angle_make_half_a_turn(holder: str, end_angle: float) -> None:
    """ISO 3002-1: the angles of the working plane."""
    results = solve(HolderInputs(holder=holder)).results
    assert math.degrees(results.end_angle or 0.0) == pytest.approx(end_angle)
    assert results.fits is None


def test_round_inserts_and_shapes_that_leave_no_angle_have_no_end_angle() -> None:
    assert solve(HolderInputs(holder="SRDCN 2525M12")).results.end_angle is None
    assert solve(HolderInputs(holder="PSLNR 2525M12")).results.end_angle is None


def test_an_insert_that_does_not_belong_is_told_with_its_reason() -> None:
    found = solve(HolderInputs(holder="SDJCR 2020K11", insert="DCMT 070204"))
    assert found.results.fits is False
    assert [caution.severity for caution in found.cautions] == [3]
    assert solve(HolderInputs(holder="SDJCR 2020K11", insert="DCMT 11T304")).results.fits is True


def test_a_special_style_has_no_angle_and_is_told_in_words() -> None:
    found = solve(HolderInputs(holder="PCXNR 2525M12"))
    assert found.headline == "style"
    assert found.results.entering_angle is None


def test_faults_stand_at_the_field_that_they_belong_to() -> None:
    with pytest.raises(Missing) as missing:
        build(HolderInputs, {})
    assert missing.value.faults[0].field == "holder"
    with pytest.raises(OutOfRange) as wrong:
        solve(HolderInputs(holder="SDJCR 2020K11", insert="QQ"))
    assert wrong.value.faults[0].field == "insert"


# Printed catalogue 2016-17, page R32, corner radius and position of the cutting edge: shift per mm of corner radius.
SHIFTS = [
    ("PCLNR 2525M12", "CNMG 1204", 0.100, 0.100),
    ("PDJNR 2525M15", "DNMG 1506", 0.866, 0.099),
    ("PDHNR 2525M15", "DNMG 1506", 0.531, 0.531),
    ("PSBNR 2525M12", "SNMG 1204", 0.225, -0.293),
]


@pytest.mark.parametrize(("holder", "insert", "dx", "dz"), SHIFTS)
def test_another_nose_moves_the_tool_point_as_the_catalogue_prints_it(
    holder: str, insert: str, dx: float, dz: float
) -> None:
    found = solve(HolderInputs(holder=holder, insert=f"{insert}08", next_insert=f"{insert}04")).results
    change = 0.79375 - 0.396875  # the exact radii behind 08 and 04
    assert found.point_out_x == pytest.approx(dx * change, abs=3e-4)
    assert found.point_out_z == pytest.approx(dz * change, abs=3e-4)


def test_what_the_change_does_to_the_work_is_said_and_the_way_back_is_the_opposite() -> None:
    there = solve(HolderInputs(holder="PDJNR 2525M15", insert="DNMG 150608", next_insert="DNMG 150604"))
    back = solve(HolderInputs(holder="PDJNR 2525M15", insert="DNMG 150604", next_insert="DNMG 150608")).results
    assert there.results.point_out_x is not None
    assert back.point_out_x == pytest.approx(-there.results.point_out_x)
    assert "0.687 mm smaller on the diameter" in there.notes[-1].say()


@pytest.mark.parametrize(
    ("asked", "field"),
    [
        ({"next_insert": "CNMG 120404"}, "insert"),
        ({"insert": "CNMG 120408", "next_insert": "DNMG 150604"}, "next_insert"),
        ({"insert": "CNMG 120408", "next_insert": "CNMG 160608"}, "next_insert"),
        ({"insert": "CNMG 120408", "next_insert": "CCMT 120404"}, "next_insert"),
    ],
)
def test_an_insert_that_cannot_replace_it_is_told_at_its_field(asked: dict[str, str], field: str) -> None:
    with pytest.raises(Problem) as raised:
        solve(HolderInputs(holder="PCLNR 2525M12", **asked))
    assert [fault.field for fault in raised.value.faults] == [field]
