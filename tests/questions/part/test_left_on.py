"""What stays for grinding, hardening or plating: in the contour that is turned, points, check list, sheet and call."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Any

import pytest

from calc.answer.feature import Answer
from calc.contour import Arc, Chain, ContourError, Line, Point
from calc.contour.moved import moved
from calc.language.problems import Problem
from calc.language.quantities import View
from calc.questions.part.declared import PartInputs
from calc.questions.part.examples import SLEEVE, STEM
from calc.questions.part.feature import FEATURE
from calc.questions.part.results import PartResults
from server.part_api import answer as call
from server.query import read_query
from tests.server.test_part_api import part
from tests.sheets.whole_sleeve import WHOLE_SLEEVE


def asked(texts: dict[str, str], left_on: str) -> Answer[PartResults]:
    query = read_query({**texts, "left_on": left_on}.items(), PartInputs)
    assert query.faults == ()
    return FEATURE.answer(query.inputs(PartInputs))[0]


GROUND = "where:outside~from_row:2~to_row:2~per_side:0.2~purpose:grinding"


def test_a_ground_seat_of_the_stem_is_turned_larger_everywhere() -> None:
    """Row 4 is Ø24 g6 (23.980 to 23.993 by ISO 286-2), turned 0.2 per side larger: Ø24.4 in points and check list."""
    plain, left = asked(dict(STEM), ""), asked(dict(STEM), GROUND.replace("row:2", "row:4"))
    rows = {each.what: each for each in left.tables["checks"]}
    seat = next(each for what, each in rows.items() if "diameter" in what and each.lower is not None)
    assert (seat.lower, seat.upper) == (pytest.approx(24.380), pytest.approx(24.393))
    assert max(point.spot.r for point in left.points if point.label == "row 4") == pytest.approx(
        12.0 + 0.2 - 0.00675, abs=1e-3
    )
    limits = [point.x_limits for point in left.points if point.label == "row 4" and point.x_limits]
    assert limits[-1] == pytest.approx((12.190, 12.1965))
    assert [each.surface for each in left.tables["left_on"]] == ["outside, row 4"]
    assert left.tables["left_on"][0].turned == "larger than the print"
    assert left.results.cut_too_deep == 0.0
    assert left.results.volume_removed < plain.results.volume_removed


def test_the_volume_that_stays_is_that_of_the_ring() -> None:
    """By hand: 0.2 more on Ø42 over 27 mm behind the chamfer; the nose goes on a little behind Z-28."""
    plain, left = asked(dict(SLEEVE), ""), asked(dict(SLEEVE), GROUND)
    ring = math.pi * (21.2**2 - 21.0**2) * 27.0
    assert ring < plain.results.volume_removed - left.results.volume_removed < 1.04 * ring


def test_before_plating_a_bore_is_turned_larger() -> None:
    """Ø25 H7 less a coat of 0.02 per side: the bore is turned to Ø25.04, 25.040 to 25.061 by ISO 286-2."""
    left = asked(dict(SLEEVE), "where:inside~from_row:3~to_row:3~per_side:0.02~purpose:plating")
    bore = next(each for each in left.tables["checks"] if each.lower is not None)
    assert (bore.lower, bore.upper) == (pytest.approx(25.040), pytest.approx(25.061))
    assert left.tables["left_on"][0].turned == "larger than the print"


@pytest.mark.parametrize(
    ("row", "field", "said"),
    [
        ("where:outside~from_row:3", "left_on.0.per_side", "how much is left"),
        ("where:outside~from_row:30~per_side:0.2", "left_on.0.from_row", "row number from 1 to"),
        ("where:outside~from_row:4~to_row:2~per_side:0.2", "left_on.0.from_row", "must not come after"),
        ("where:outside~per_side:5", "bar_diameter", "smaller than the part"),
        ("where:inside~per_side:0.2", "inside", "give the bore"),
    ],
)
def test_what_cannot_be_left_is_said_at_its_field(row: str, field: str, said: str) -> None:
    with pytest.raises(Problem, match=said) as caught:
        asked({**SLEEVE, "inside": ""} if "inside" in row else dict(SLEEVE), row)
    assert caught.value.faults[0].field == field


def test_a_body_says_the_same() -> None:
    body: dict[str, Any] = part("face", "rough", "finish", to=2)
    plain = call(body, View())
    body["part"]["left_on"] = [{"where": "outside", "from_row": 2, "to_row": 2, "per_side": 0.2, "purpose": "grinding"}]
    left = call(body, View())
    after = [found["operations"][-1]["volume_after"]["value"] for found in (plain, left)]
    assert after[1] - after[0] == pytest.approx(math.pi * (21.2**2 - 21.0**2) * 28.0, rel=0.02)
    body["part"]["left_on"][0]["to_row"] = 99
    with pytest.raises(Problem) as caught:
        call(body, View())
    assert caught.value.faults[0].field == "part.left_on.0.to_row"


def test_a_smooth_joint_is_kept_where_both_sides_move_alike_and_stepped_where_they_do_not() -> None:
    quarter = Arc(Point(0.0, 0.0), Point(-5.0, 5.0), Point(-5.0, 0.0), "ccw")
    chain = Chain((quarter, Line(Point(-5.0, 5.0), Point(-9.0, 5.0))))
    alike, _ = moved(chain, "right", [0.5, 0.5])
    assert len(alike) == 2
    assert alike.elements[0].length == pytest.approx(5.5 * math.pi / 2)
    stepped, of = moved(chain, "right", [0.0, 0.5])
    assert of == (0, 0, 1)
    assert stepped.elements[1].length == pytest.approx(0.5)


def test_an_element_that_vanishes_is_refused() -> None:
    corners = [Point(0.0, 5.0), Point(-3.0, 5.0), Point(-3.0, 4.0), Point(-4.0, 4.0), Point(-4.0, 6.0)]
    groove = Chain(tuple(Line(a, b) for a, b in pairwise(corners)))
    with pytest.raises(ContourError):
        moved(groove, "right", [0.0, 0.6, 0.0, 0.6])


def test_the_far_end_is_left_longer_and_the_bore_goes_on_to_it() -> None:
    """0.3 on the far face of the whole sleeve: 40.3 long, the bore through it, turned without a cut into the print."""
    plain, left = asked(WHOLE_SLEEVE, ""), asked(WHOLE_SLEEVE, "from_row:13~to_row:13~per_side:0.3")
    assert (plain.results.part_length, left.results.part_length) == pytest.approx((40.0, 40.3))
    assert left.results.cut_too_deep == 0.0
    assert not any("Do not run" in each.message.say() for each in left.cautions)
    rows = {row.what: row.nominal for row in left.tables["checks"]}
    assert rows["outside, row 12, length from Z 0"] == pytest.approx(40.3)
    last = [each.tables["done"][-1].material_left for each in (plain, left)]
    assert last[1] == pytest.approx(last[0], abs=1e-6), "the finish of the second end reaches as far as without it"
