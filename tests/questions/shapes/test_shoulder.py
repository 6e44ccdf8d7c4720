"""The shoulder with undercut: every printed size, tangency by other means, and every refusal."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString
from shapely import Point as ShapelyPoint

from calc.contour import Arc
from calc.contour.tolerance import SMOOTH
from calc.language.fields import build, specs
from calc.language.problems import Impossible, Missing, OutOfRange, Problem
from calc.language.quantities import METRIC
from calc.language.reading import read
from calc.questions.shapes.shoulder import ShoulderResults, solve
from calc.shapes.shoulder.geometry import Shoulder, ShoulderInputs, solve_shoulder
from calc.shapes.shoulder.standards import undercuts
from tests.tries import tries

SPECS = {spec.name: spec for spec in specs(ShoulderInputs)}
NUMBERS = [name for name, spec in SPECS.items() if spec.role == "quantity"]
# DIN 509:1998, table 1: radius x depth, width f, reference height g (1.6 x 0.3 and the t2 of 4 x 0.5 from memory).
PRINTED = {
    "0.2x0.1": (1.0, 0.9),
    "0.4x0.2": (2.0, 1.1),
    "0.6x0.2": (2.0, 1.4),
    "0.6x0.3": (2.5, 2.1),
    "0.8x0.3": (2.5, 2.3),
    "1x0.2": (2.5, 1.8),
    "1x0.4": (4.0, 3.2),
    "1.2x0.2": (2.5, 2.0),
    "1.2x0.4": (4.0, 3.4),
    "1.6x0.3": (4.0, 3.1),
    "2.5x0.4": (5.0, 4.8),
    "4x0.5": (7.0, 6.4),
}


def shoulder(**values: Any) -> Shoulder:
    return solve_shoulder(build(ShoulderInputs, values))


def results(**values: Any) -> ShoulderResults:
    return solve(build(ShoulderInputs, values)).results


def refused(**values: Any) -> Problem:
    with pytest.raises(Problem) as caught:
        solve(build(ShoulderInputs, values))
    return caught.value


@pytest.mark.parametrize(("code", "width", "height"), [(code, *row) for code, row in PRINTED.items()])
def test_the_geometry_of_form_f_gives_the_height_that_the_standard_prints(
    code: str, width: float, height: float
) -> None:
    """DIN 509:1998: g is a reference value there, found here from radius, depths and the run-out of 8 degrees."""
    found = results(diameter=100.0, size=code)
    assert found.width == width
    assert found.face_height == pytest.approx(height, abs=0.05)


@pytest.mark.parametrize(("allowance", "wider", "higher"), [(0.1, 0.37, 0.71), (0.2, 0.75, 1.42), (0.5, 1.87, 3.56)])
def test_a_grinding_allowance_makes_the_undercut_wider_and_higher(
    allowance: float, wider: float, higher: float
) -> None:
    """DIN 509, table of allowances e1 and e2, from memory."""
    found = results(diameter=100.0, allowance=allowance)
    plain = results(diameter=100.0)
    assert found.wider == pytest.approx(wider, abs=0.005)
    assert found.higher == pytest.approx(higher, abs=0.005)
    assert found.start_z - plain.start_z == pytest.approx(found.wider)
    assert (found.face_diameter - plain.face_diameter) / 2 == pytest.approx(found.higher)


@pytest.mark.parametrize(
    ("diameter", "load", "size"),
    [
        (2.0, "usual", "0.2 x 0.1"),
        (18.0, "usual", "0.4 x 0.2"),
        (24.0, "usual", "0.8 x 0.3"),
        (80.0, "usual", "0.8 x 0.3"),
        (80.1, "usual", "1.2 x 0.4"),
        (50.0, "alternating", "1.2 x 0.2"),
        (60.0, "alternating", "1.6 x 0.3"),
        (100.0, "alternating", "2.5 x 0.4"),
        (200.0, "alternating", "4 x 0.5"),
    ],
)
def test_the_diameter_chooses_the_preferred_size(diameter: float, load: str, size: str) -> None:
    """DIN 509:1998, assignment of sizes to diameters, series 1 preferred."""
    assert shoulder(diameter=diameter, load=load).undercut.size == size
    assert size in results(diameter=diameter, load=load).designation


@pytest.mark.parametrize("form", ["E", "F"])
@pytest.mark.parametrize("code", PRINTED)
def test_the_radius_is_smooth_where_it_must_be(form: str, code: str) -> None:
    chain = shoulder(diameter=100.0, undercut_form=form, size=code).cut
    arc = chain.elements[2]
    assert isinstance(arc, Arc)
    assert abs(chain.joints[1].turn) <= SMOOTH
    assert math.degrees(chain.joints[0].turn) == pytest.approx(-15.0)
    if form == "F":
        assert abs(chain.joints[2].turn) <= SMOOTH
        last = chain.elements[3].tangent_at(0.0)
        assert math.degrees(math.atan2(last.z, last.r)) == pytest.approx(8.0)
    else:
        assert arc.tangent_at(arc.length) == pytest.approx((0.0, 1.0), abs=1e-9)


def test_form_f_sinks_into_the_face_by_its_depth_by_another_geometry_library() -> None:
    stem = shoulder(diameter=24.0, end_to_shoulder=60.0)
    arc = stem.cut.elements[2]
    assert isinstance(arc, Arc)
    disc = ShapelyPoint(arc.centre.z, arc.centre.r).buffer(arc.radius, quad_segs=4096)
    assert disc.bounds[0] == pytest.approx(-60.2, abs=1e-6)
    assert disc.bounds[1] == pytest.approx(11.7, abs=1e-6)
    run_out = LineString([tuple(stem.cut.elements[3].start), tuple(stem.cut.elements[3].end)])
    assert run_out.distance(ShapelyPoint(arc.centre.z, arc.centre.r)) == pytest.approx(0.8, abs=1e-12)


def test_the_stems_shoulder_stands_where_its_print_says() -> None:
    """24 g6 (ISO 286-2: -7 and -20 micrometres) aims at mid-limit; DIN 509 F 0.8 x 0.3 against 31, 60 from the end."""
    diameter = read("24 -0.007/-0.020", SPECS["diameter"].quantity, METRIC)
    answer = solve(build(ShoulderInputs, {"diameter": diameter, "shoulder_diameter": 31.0, "end_to_shoulder": 60.0}))
    assert answer.results.undercut_diameter == pytest.approx(23.9865 - 0.6)
    first, *_, last = answer.points
    assert (first.spot.z, first.spot.r) == pytest.approx((-57.5, 23.9865 / 2))
    assert last.spot.z == pytest.approx(-60.0)
    assert answer.results.designation == "DIN 509 - F 0.8 x 0.3"


def test_every_size_of_the_table_has_a_source_and_room_for_its_radius() -> None:
    for each in undercuts():
        assert each.source.startswith("DIN 509")
        sunk = 0.0 if each.forms == "EF" else each.face_depth  # the radius begins that much nearer to the face
        assert each.width - each.depth / math.tan(math.radians(15.0)) > each.radius - sunk


@pytest.mark.parametrize(
    ("form", "diameter", "size", "width", "height", "sunk"),
    [
        ("G", 10.0, "0.4 x 0.2", 1.0, 1.2, 0.2),
        ("H", 12.0, "0.8 x 0.3", 2.0, 1.1, 0.05),
        ("H", 30.0, "1.2 x 0.3", 2.5, 1.5, 0.05),
    ],
)
def test_forms_g_and_h_come_out_as_printed(
    form: str, diameter: float, size: str, width: float, height: float, sunk: float
) -> None:
    """DIN 509:1998: sizes and the reference height g, found here from radius, depths and a run-out of 15 degrees."""
    found = results(diameter=diameter, undercut_form=form)
    assert found.designation == f"DIN 509 - {form} {size}"
    assert (found.width, found.face_depth) == (width, sunk)
    assert found.face_height == pytest.approx(height, abs=0.05)
    chain = shoulder(diameter=diameter, undercut_form=form, allowance=0.2).cut
    assert abs(chain.joints[1].turn) <= SMOOTH
    assert abs(chain.joints[2].turn) <= SMOOTH
    assert chain.bounds.z_min == pytest.approx(-sunk)


def test_a_size_of_another_form_is_refused_with_those_that_there_are() -> None:
    refusal = refused(diameter=24.0, undercut_form="G", size="0.8x0.3")
    assert refusal.faults[0].field == "size"
    assert refusal.faults[0].message.say() == "DIN 509 has no 0.8x0.3 of form G, but 0.4 x 0.2."


@pytest.mark.parametrize(
    ("values", "field", "words"),
    [
        ({"diameter": 1.0}, "diameter", "no undercut for Ø1 mm under usual load"),
        ({"diameter": 15.0, "load": "alternating"}, "diameter", "under alternating load"),
        ({"diameter": 0.8, "size": "4x0.5"}, "diameter", "cuts Ø0.8 mm off"),
        ({"diameter": 24.0, "shoulder_diameter": 25.0}, "shoulder_diameter", "reaches Ø27.958 mm on the face"),
        ({"diameter": 24.0, "end_to_shoulder": 2.0}, "end_to_shoulder", "begins 2.500 mm from the shoulder"),
    ],
)
def test_what_cannot_be_says_why_at_its_field(values: dict[str, Any], field: str, words: str) -> None:
    problem = refused(**values)
    assert isinstance(problem, Impossible)
    assert [fault.field for fault in problem.faults] == [field]
    assert words in problem.faults[0].message.say()


def test_the_cylinder_is_asked_for() -> None:
    problem = refused()
    assert isinstance(problem, Missing)
    assert [(fault.field, fault.message.say()) for fault in problem.faults] == [
        ("diameter", "Give the cylinder diameter.")
    ]


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan, math.inf, 1e9])
def test_a_value_that_cannot_be_meant_is_refused_at_its_field(bad: float) -> None:
    problem = refused(diameter=bad)
    assert isinstance(problem, OutOfRange)
    assert problem.faults[0].field == "diameter"


wild = st.one_of(st.floats(), st.floats(-3.0, 4.0).map(lambda power: 10.0**power))
choices = {name: st.sampled_from(sorted(spec.choices)) for name, spec in SPECS.items() if spec.role == "choice"}


@settings(max_examples=tries(120), deadline=None)
@given(st.fixed_dictionaries({name: st.none() | wild for name in NUMBERS} | choices))
def test_any_floats_give_a_right_shoulder_or_a_sentence(values: dict[str, Any]) -> None:
    try:
        found = shoulder(**values)
        solve(build(ShoulderInputs, values))
    except Problem as problem:
        said = [fault.message.say() for fault in problem.faults if fault.field in SPECS]
    else:
        assert found.bottom == pytest.approx(values["diameter"] - 2 * found.undercut.depth)
        assert found.cut.start.z - found.face_z == pytest.approx(found.undercut.width + found.on_cylinder, abs=1e-9)
        assert not found.cut.faults()
        return
    assert said
    assert all(said)
