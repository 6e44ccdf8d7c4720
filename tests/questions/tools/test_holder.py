"""The holder question from its declared inputs."""

import math

import pytest

from calc.language.fields import build
from calc.language.problems import Missing, OutOfRange
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
