"""Balls, crowns and plain ends as a proposal makes them: each end its half, the bar behind left, what holds it."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Any

import pytest
import shapely

from calc.answer.feature import Answer
from calc.contour import Arc, Chain, Line, Point
from calc.language.problems import Problem
from calc.machining.job import Cut
from calc.machining.removal.stock import Stock
from calc.questions.operations.contour_plan.inputs import ToolInputs
from calc.questions.part.feature import FEATURE
from calc.questions.part.held import turning_tool
from calc.questions.part.job import Grooving, Job, Operation, Print, Setup
from calc.questions.part.run import run
from server.query import read_query
from tests.questions.part.test_kinds import INSIDE, MACHINE, OUTSIDE
from tests.questions.part.test_proposed_for_shop_parts import LATHE, proposed
from tests.questions.part.turned_blanks import blank

BAR = {"material": "C45", "bar_diameter": "32", "face_stock": "1", **LATHE}
SPHERE = {**BAR, "outside": "s_x0_z0*a_r15_cx0_cz-15_x0_z-30_ccw"}
KNOB = {**BAR, "outside": "s_x0_z0*f*t_x10_z-20*a_r15_cx0_cz-34.142_x0_z-49.142_ccw"}


def rows_by_end(rows: list[dict[str, str]]) -> dict[str, list[tuple[str, str, str]]]:
    """Kind, first and last row of the turned operations, by their end."""
    ends: dict[str, list[tuple[str, str, str]]] = {"first": [], "second": []}
    for row in rows:
        if "insert" in row:
            ends[row.get("end", "first")].append((row["kind"], row["from_row"], row["to_row"]))
    return ends


def grave(answer: Answer[Any]) -> list[str]:
    return [each.message.say() for each in answer.cautions if each.severity == 3]


@pytest.mark.parametrize(("texts", "arc"), [(SPHERE, "1"), (KNOB, "3")])
def test_a_ball_drawn_as_one_arc_is_turned_up_to_its_largest_diameter_from_both_ends(
    texts: dict[str, str], arc: str
) -> None:
    """SR 15 as prints have it. From one end alone the sphere was turned off its bar, and the parting then cut 9.9 mm
    into it; the knob was turned from its ball alone, and 0.54 of its neck stayed.

    A nose of 0.8 leaves 0.8 (1 - 1/sqrt 2) and less in the corner at the neck, which is not a sharp one of 90 degrees.
    """
    rows, answer = proposed(texts)
    ends = rows_by_end(rows)
    assert [kind for kind, _, _ in ends["first"]] == [kind for kind, _, _ in ends["second"]]
    assert {last for kind, _, last in ends["first"] if kind != "face"} == {arc}
    assert {first for _, first, _ in ends["second"]} == {arc}
    assert next(row for row in rows if row["kind"] == "part-off")["allowance_z"] == "0.5 mm"
    assert grave(answer) == []
    assert answer.results.cut_too_deep == 0.0
    assert answer.results.material_left <= 0.8 * (1.0 - math.sqrt(0.5))


def test_a_ball_with_nothing_to_hold_it_by_is_said_to_have_none() -> None:
    for texts, said in ((SPHERE, True), (KNOB, False)):
        with pytest.raises(Problem) as caught:
            FEATURE.answer(read_query(texts.items(), FEATURE.inputs).inputs(FEATURE.inputs))
        assert ("no cylinder to hold the part by" in caught.value.faults[0].message.say()) == said


def test_a_row_that_one_end_alone_turns_is_turned_whole() -> None:
    """Only where both name the ball do they share it; from the first end alone it is roughed beyond its largest Ø."""
    tool = turning_tool(ToolInputs(insert="VBMT 160408", holder="SVJBR 2525M16"))
    ball = Print(Chain((Arc(Point(0.0, 0.0), Point(-29.0, math.sqrt(29.0)), Point(-15.0, 0.0), "ccw"),
                        Line(Point(-29.0, math.sqrt(29.0)), Point(-50.0, math.sqrt(29.0))))))  # fmt: skip
    rough = Operation("rough", tool, Cut(1.5, 0.2, 180_000.0, 0.1, 0.3), 1, 1)
    stock = blank((16.0, 0.0, -90.0))
    alone = run(Job(ball, stock, (Setup("first", (rough,)),), None, MACHINE, "C45")).operations[-1].after
    both = (Setup("first", (rough,)), Setup("second", (rough,)))
    shared = run(Job(ball, stock, both, None, MACHINE, "C45")).operations[0].after
    assert _at(alone, -22.0) < 14.0
    assert _at(shared, -22.0) == pytest.approx(16.0)
    assert _at(shared, -8.0) == pytest.approx(_at(alone, -8.0))
    assert _at(shared, -8.0) < 15.5


def _at(stock: Stock, z: float) -> float:
    """The outer radius (mm) of a stock at a z."""
    return float(stock.whole.intersection(_line(z)).bounds[3])


def _line(z: float) -> Any:
    return shapely.LineString([(z, 0.0), (z, 100.0)])


def test_the_bar_behind_a_part_that_ends_in_a_point_is_not_taken() -> None:
    """A cone to the axis at Z-35 in a bar to Z-90: roughed whole, the bar behind it was roughed away with it."""
    corners = [Point(0.0, 0.0), Point(0.0, 15.0), Point(-20.0, 15.0), Point(-35.0, 0.0)]
    cone = Print(Chain(tuple(Line(a, b) for a, b in pairwise(corners))))
    tool = turning_tool(ToolInputs(insert="VBMT 160408", holder="SVJBR 2525M16"))
    rough = Operation("rough", tool, Cut(2.0, 0.3, 180_000.0, 0.1, 0.3))
    setups = (Setup("first", (rough,)),)
    (one,) = run(Job(cone, blank((16.0, 1.0, -90.0)), setups, None, MACHINE, "C45")).operations
    assert _at(one.after, -38.0) == pytest.approx(16.0)
    assert _at(one.after, -30.0) < 8.0


def test_a_plain_cylinder_with_both_faces_on_the_print_is_faced_on_both_and_roughed_on_one() -> None:
    """It was said that no common tool reaches its second face."""
    rows, answer = proposed({**BAR, "outside": "s_x0_z0*f_x28*t_z-40*f_x0"})
    ends = rows_by_end(rows)
    assert ends["second"] == [("face", "3", "3"), ("finish", "3", "3")]
    assert [kind for kind, _, _ in ends["first"]] == ["face", "rough", "finish"]
    assert answer.results.material_left == 0.0


def test_a_crown_that_tools_follow_is_the_first_ends_alone() -> None:
    """R 200 over 40: it falls by 5.7 degrees. It was given to the second end, and the first had its face alone."""
    rows, answer = proposed({**BAR, "outside": "s_x0_z0*f_x28*a_r200_cx-369.995_cz-20_x28_z-40_ccw*f_x0"})
    ends = rows_by_end(rows)
    assert {last for kind, _, last in ends["first"] if kind != "face"} == {"2"}
    assert {first for _, first, _ in ends["second"]} == {"3"}
    assert grave(answer) == []


def test_a_solid_end_is_parted_to_past_the_axis_whatever_rounding_is_left_of_the_sweep() -> None:
    """A radius of 5e-17 was left there, and a ring was said to come free of a part without a bore."""
    texts = {**BAR, "bar_diameter": "16", "outside": "s_x0_z0*f*c0.5*t_x10_z-16*f_x14*t_z-20*l_x8_z-25"}
    _, answer = proposed(texts)
    assert not any("A ring comes free" in each.message.say() for each in answer.cautions)


def test_what_is_cut_in_two_before_its_parting_is_warned_of() -> None:
    """A groove to Ø18 over a bore of Ø20 cuts a ring off: what is in front of it is held by nothing."""
    groove = Operation("groove", Grooving(3.0), Cut(), 3, 5)
    deep = Print(Chain(tuple(_deeper(each) for each in OUTSIDE.chain)))
    setups = (Setup("first", (groove,)),)
    for print_, freed in ((OUTSIDE, False), (deep, True)):
        job = Job(print_, blank((21.0, 0.0, -60.0), (-1.0, 9.0, -61.0, 1.0)), setups, INSIDE, MACHINE, "C45")
        said = [each.message.say() for each in run(job).operations[-1].cautions]
        assert any("a piece of the work comes free" in each for each in said) == freed


def _deeper(line: Any) -> Line:
    """A line of the outside with its groove's bottom at r 9."""
    ends = (Point(at.z, 9.0) if at.r == 19.0 else at for at in (line.start, line.end))
    return Line(*ends)
