"""The question of reach from its declared inputs."""

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.contour import ContourError
from calc.language.problems import Contradiction, Impossible, Missing, OutOfRange, Problem
from calc.questions.tools.reach import FEATURE, solve
from calc.questions.tools.reach_asked import HoldInputs, PlainInsertInputs, ReachInputs, StockInputs
from calc.shapes.dish.bowl import EdgeInputs
from tests.tries import tries

SEAT: dict[str, Any] = {"radius": 75.0, "depth": 4.5}
EDGE = EdgeInputs(break_kind="radius", break_size=0.8)
anything = st.none() | st.floats(allow_nan=True, allow_infinity=True) | st.floats(0.01, 100.0)


def test_the_80_degree_insert_held_to_face_is_refused_and_told_where_and_what_passes() -> None:
    found = solve(ReachInputs(insert="CNMG 120408", holder="PCLNR 2525M12", **SEAT))
    results = found.results
    assert (results.verdict, results.reaches, results.stopped_by) == ("is stopped", False, "the dish")
    assert math.degrees(results.margin_behind or 0.0) == pytest.approx(-14.95, abs=0.005)
    assert (results.tool_point, results.fits) == ("3", True)
    words = found.cautions[0].message.say()
    assert words.startswith("The dish stops this tool: at X51.176 Z0.000 it stands 19.948° to the face,")
    assert "A round insert passes" in words
    assert "D" in [row.shape[0] for row in found.tables["passing"]]


def test_the_round_insert_passes_with_its_shank_along_the_axis_and_its_holder_does_not_across() -> None:
    tool: dict[str, Any] = {"insert": "RCMT 1204M0", "holder": "SRDCN 2525M12"}
    along, across = (
        solve(ReachInputs(hold=HoldInputs(mount=mount), edge=EDGE, **tool, **SEAT)) for mount in ("along", "across")
    )
    assert (along.results.verdict, along.results.margin_ahead) == ("passes", None)
    assert along.results.insert_beyond_axis == pytest.approx(6.0)
    assert across.results.verdict == "is stopped"
    assert any("holder would cut it" in caution.message.say() for caution in across.cautions)


def test_tool_point_3_ends_beyond_the_axis_by_the_nose_radius() -> None:
    found = solve(ReachInputs(insert="DCMT 11T304", holder="SDUCR 2020K11", edge=EDGE, **SEAT))
    assert found.results.verdict == "passes"
    assert found.results.point_beyond_axis == pytest.approx(0.4)


def test_the_bar_is_checked_against_the_far_wall() -> None:
    hold = HoldInputs(travel="out")
    large = solve(ReachInputs(insert="DCMT 11T304", holder="S16R-SDUCR11", hold=hold, **SEAT)).results
    small = solve(ReachInputs(insert="DCMT 070204", holder="S16R-SDUCR07", hold=hold, **SEAT)).results
    assert (large.stopped_by, large.point_beyond_axis) == ("the dish on the far side", 0.0)
    assert (small.verdict, small.least_bore_bar) == ("passes", 19.0)


def test_plain_angles_do_as_well_as_designations() -> None:
    plain = PlainInsertInputs(insert_angle=math.radians(80.0), nose_radius=0.8)
    found = solve(ReachInputs(hold=HoldInputs(entering_angle=math.radians(95.0)), plain=plain, **SEAT))
    named = solve(ReachInputs(insert="CNMG 120408", holder="PCLNR 2525M12", **SEAT))
    assert found.results.margin_behind == pytest.approx(named.results.margin_behind)
    assert found.results.stopped_by == named.results.stopped_by


def test_an_insert_that_does_not_fit_its_holder_does_not_reach() -> None:
    found = solve(ReachInputs(insert="DCMT 070204", holder="SDUCR 2020K11", edge=EDGE, **SEAT))
    assert (found.results.fits, found.results.reaches, found.results.verdict) == (False, False, "is stopped")
    assert found.results.stopped_by == "the holder's seat"
    assert found.cautions[0].message.say() == "The holder takes inserts of size 11, this one is 07."


def test_a_tool_off_the_centre_height_leaves_a_pip_and_another_mouth() -> None:
    """Right triangle: sqrt(25.588^2 + 0.5^2); the pip is as wide as twice the height."""
    hold = HoldInputs(above_centre=-0.5)
    found = solve(ReachInputs(insert="DCMT 11T304", holder="SDUCR 2020K11", hold=hold, **SEAT))
    assert found.results.pip_diameter == pytest.approx(1.0)
    assert found.results.mouth_turned == pytest.approx(2 * math.hypot(math.sqrt(4.5 * 145.5), 0.5))
    assert any("0.5 mm below the centre" in caution.message.say() for caution in found.cautions)


def test_the_exact_nose_is_taken_when_asked_for() -> None:
    plain = PlainInsertInputs(nose_as="exact")
    found = solve(ReachInputs(insert="CNMG 120408", holder="PCLNR 2525M12", plain=plain, **SEAT))
    assert found.results.nose_radius == 0.79375


@pytest.mark.parametrize(
    ("inputs", "error", "field"),
    [
        (ReachInputs(), Missing, "insert"),
        (ReachInputs(**SEAT), Missing, "insert"),
        (ReachInputs(insert="DCMT 11T304", **SEAT), Missing, "holder"),
        (ReachInputs(insert="DCMT 11", holder="SDUCR 2020K11", **SEAT), Missing, "insert"),
        (ReachInputs(insert="DCMT 11T304", holder="SDUCR 2020K11"), Missing, "radius"),
        (ReachInputs(insert="QQ", holder="SDUCR 2020K11", **SEAT), OutOfRange, "insert"),
        (ReachInputs(insert="DCMT 11T304", holder="Q", **SEAT), OutOfRange, "holder"),
        (
            ReachInputs(insert="DCMT 11T304", holder="SDUCR 2020K11", stock=StockInputs(bar_diameter=40.0), **SEAT),
            Impossible,
            "bar_diameter",
        ),
        (
            ReachInputs(insert="DCMT 11T304", holder="SDUCR 2020K11", plain=PlainInsertInputs(nose_radius=9.0), **SEAT),
            Impossible,
            "nose_radius",
        ),
        (
            ReachInputs(insert="DCMT 11T304", holder="SDUCR 2020K11", hold=HoldInputs(entering_angle=1.0), **SEAT),
            Contradiction,
            "entering_angle",
        ),
    ],
)
def test_what_is_missing_or_cannot_be_is_said_at_its_field(
    inputs: ReachInputs, error: type[Problem], field: str
) -> None:
    with pytest.raises(error) as raised:
        solve(inputs)
    assert raised.value.faults[0].field == field


@settings(deadline=None, max_examples=tries(150))
@given(
    st.sampled_from([None, "DCMT 11T304", "RCMT 1204M0", "KNUX 160405", "TCGT 110200", "SPKN 1203EDTR"]),
    st.sampled_from([None, "SDUCR 2020K11", "S16R-SDUCR11", "SRDCN 2525M12", "PCXNR 2525M12"]),
    anything, anything, anything, anything, anything, anything, anything,
)  # fmt: skip
def test_any_numbers_have_an_answer_or_a_sentence(
    insert: str | None,
    holder: str | None,
    radius: float | None,
    depth: float | None,
    angle: float | None,
    entering: float | None,
    nose: float | None,
    edge: float | None,
    pass_depth: float | None,
) -> None:
    inputs = ReachInputs(
        insert=insert,
        holder=holder,
        radius=radius,
        depth=depth,
        hold=HoldInputs(entering_angle=entering, above_centre=pass_depth),
        plain=PlainInsertInputs(insert_angle=angle, nose_radius=nose, edge_length=edge),
        stock=StockInputs(pass_depth=pass_depth),
    )
    try:
        answer, steps = FEATURE.answer(inputs)
    except Problem as problem:
        said = [fault.message.say() for fault in problem.faults]
    except ContourError as error:  # pragma: no cover - a defect, shown by its sentence
        pytest.fail(str(error))
    else:
        said = [caution.message.say() for caution in answer.cautions] + [str(step) for step in steps]
        assert answer.results.verdict in ("passes", "is tight", "is stopped")
    assert all(said)
