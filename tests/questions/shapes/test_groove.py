"""The groove: ring grooves of a standard, another geometry library, and every refusal."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point as ShapelyPoint
from shapely import Polygon

from calc.contour import Arc, Point
from calc.contour.tolerance import SMOOTH
from calc.language.fields import build, specs
from calc.language.problems import Contradiction, Impossible, Missing, OutOfRange, Problem
from calc.questions.shapes.groove import GrooveResults, solve
from calc.shapes.groove.geometry import Groove, GrooveInputs, solve_groove
from calc.shapes.rounding import DoesNotFit, rounded
from tests.tries import tries

SPECS = {spec.name: spec for spec in specs(GrooveInputs)}
NUMBERS = [name for name, spec in SPECS.items() if spec.role == "quantity"]


def groove(**values: Any) -> Groove:
    return solve_groove(build(GrooveInputs, values))


def results(**values: Any) -> GrooveResults:
    return solve(build(GrooveInputs, values)).results


def refused(**values: Any) -> Problem:
    with pytest.raises(Problem) as caught:
        solve(build(GrooveInputs, values))
    return caught.value


@pytest.mark.parametrize(
    ("shaft", "bottom", "width", "depth"),
    [(10.0, 9.6, 1.1, 0.2), (20.0, 19.0, 1.3, 0.5), (25.0, 23.9, 1.3, 0.55), (50.0, 47.0, 2.15, 1.5)],
)
def test_a_ring_groove_on_a_shaft_has_the_depth_that_its_standard_prints(
    shaft: float, bottom: float, width: float, depth: float
) -> None:
    """DIN 471, retaining rings for shafts, from memory: d1, d2, m, t."""
    assert results(diameter=shaft, bottom_diameter=bottom, width=width).depth == pytest.approx(depth)


@pytest.mark.parametrize(("bore", "bottom", "depth"), [(20.0, 21.0, 0.5), (35.0, 37.0, 1.0), (50.0, 53.0, 1.5)])
def test_a_ring_groove_in_a_bore_has_the_depth_that_its_standard_prints(
    bore: float, bottom: float, depth: float
) -> None:
    """DIN 472, retaining rings for bores, from memory: d1, d2, t."""
    assert results(where="bore", diameter=bore, bottom_diameter=bottom, width=2.0).depth == pytest.approx(depth)


def test_the_seat_of_a_lip_seal_is_a_groove_of_its_own_dimensions() -> None:
    """ISO 6194-1, seal 40 x 52 x 7, from memory: housing 52, 7.3 long; behind a land of 46, a ring by hand."""
    found = results(where="bore", diameter=46.0, bottom_diameter=52.0, width=7.3)
    assert (found.depth, found.bottom_width) == pytest.approx((3.0, 7.3))
    assert found.volume == pytest.approx(math.pi / 4.0 * (52.0**2 - 46.0**2) * 7.3, rel=1e-9)
    broken = results(where="bore", diameter=46.0, bottom_diameter=52.0, width=7.3, bottom_radius=0.4)
    assert broken.flat == pytest.approx(7.3 - 2 * 0.4)


def test_leaning_walls_narrow_the_bottom_by_their_tangents() -> None:
    """Right triangles: 4 deep at 5 and 10 degrees from 8 wide leave 8 - 4 tan 5 - 4 tan 10."""
    walls = {"first_wall": math.radians(5.0), "second_wall": math.radians(10.0)}
    found = results(diameter=40.0, depth=4.0, width=8.0, **walls)
    assert found.bottom_width == pytest.approx(8.0 - 4.0 * (0.0874886635 + 0.1763269807))
    again = results(diameter=40.0, depth=4.0, bottom_width=found.bottom_width, **walls)
    assert again.width == pytest.approx(8.0)


def test_a_v_groove_has_no_bottom() -> None:
    walls = {"first_wall": math.radians(30.0), "second_wall": math.radians(30.0)}
    found = groove(diameter=60.0, depth=3.0, bottom_width=0.0, **walls)
    assert found.sizes["width"] == pytest.approx(2 * math.sqrt(3))
    assert len(found.cut) == 2


def test_a_bottom_of_full_radius_is_one_half_circle_of_two_arcs() -> None:
    found = groove(diameter=40.0, depth=5.0, width=4.0, bottom_radius=2.0)
    arcs = [element for element in found.cut if isinstance(element, Arc)]
    assert [arc.angle for arc in arcs] == pytest.approx([math.pi / 2] * 2)
    assert results(diameter=40.0, depth=5.0, width=4.0, bottom_radius=2.0).flat == 0.0


WHERE = st.sampled_from(["outside", "bore", "face"])


@st.composite
def prints(draw: st.DrawFn) -> dict[str, Any]:
    """A groove with walls and radii that fit."""
    depth, bottom = draw(st.floats(0.2, 20.0)), draw(st.floats(0.2, 20.0))
    walls = [math.radians(draw(st.floats(0.0, 40.0))) for _ in range(2)]
    share = draw(st.sampled_from([0.0, 0.2, 0.45]))
    return {
        "where": draw(WHERE),
        "diameter": 2.0 * (60.0 + depth + bottom),
        "depth": depth,
        "bottom_width": bottom,
        "first_wall": walls[0],
        "second_wall": walls[1],
        "bottom_radius": share * min(depth, bottom),
        "edge_radius": draw(st.sampled_from([0.0, 0.3])) * depth,
    }


@settings(max_examples=tries(120), deadline=None)
@given(prints())
def test_the_section_is_that_of_another_geometry_library(values: dict[str, Any]) -> None:
    """Shapely: opening the section by its bottom radius leaves what the rounded corners leave."""
    found = groove(**values | {"edge_radius": 0.0})
    sharp = groove(**values | {"edge_radius": 0.0, "bottom_radius": 0.0})
    outline = Polygon([tuple(sharp.cut.start), *(tuple(element.end) for element in sharp.cut)])
    radius = values["bottom_radius"]
    for element in found.cut:
        if isinstance(element, Arc):
            assert element.radius == pytest.approx(radius)
            assert outline.exterior.distance(ShapelyPoint(element.centre.z, element.centre.r)) == pytest.approx(
                radius, abs=1e-9
            )
    assert found.sizes["width"] == pytest.approx(outline_width(values["where"], outline))
    assert all(abs(joint.turn) <= SMOOTH for joint in found.cut.joints) or not radius


def outline_width(where: str, outline: Polygon) -> float:
    z_min, r_min, z_max, r_max = outline.bounds
    return float(r_max - r_min if where == "face" else z_max - z_min)


@settings(max_examples=tries(60), deadline=None)
@given(prints())
def test_the_volume_is_the_section_times_the_way_of_its_centre(values: dict[str, Any]) -> None:
    """Pappus and Guldin, with the area and the centroid by shapely."""
    sharp = values | {"edge_radius": 0.0, "bottom_radius": 0.0}
    found = groove(**sharp)
    outline = Polygon([tuple(found.cut.start), *(tuple(element.end) for element in found.cut)])
    assert results(**sharp).volume == pytest.approx(2 * math.pi * outline.centroid.y * outline.area, rel=1e-9)


def test_points_go_from_the_free_end_to_the_chuck_and_on_a_face_inward() -> None:
    outside = solve(build(GrooveInputs, {"diameter": 40.0, "depth": 4.0, "width": 8.0, "from_end": 12.0}))
    assert [(p.label, round(p.spot.z, 9), p.spot.r) for p in outside.points] == [
        ("first edge", -12.0, 20.0),
        ("line ends", -12.0, 16.0),
        ("line ends", -20.0, 16.0),
        ("second edge", -20.0, 20.0),
    ]
    face = solve(build(GrooveInputs, {"where": "face", "diameter": 40.0, "depth": 2.0, "width": 3.0}))
    assert [(p.spot.z, p.spot.r) for p in face.points] == [(0.0, 20.0), (-2.0, 20.0), (-2.0, 17.0), (0.0, 17.0)]
    assert face.results.bottom_diameter == 34.0
    assert outside.points_note is not None
    assert "right of travel, G42" in outside.points_note.say()


def test_a_deep_narrow_groove_is_cautioned() -> None:
    answer = solve(build(GrooveInputs, {"diameter": 40.0, "depth": 9.0, "width": 3.0}))
    assert "3.0 times deeper" in answer.cautions[0].message.say()
    assert solve(build(GrooveInputs, {"diameter": 40.0, "depth": 2.0, "width": 3.0})).cautions == ()


def test_dimensions_that_disagree_are_named() -> None:
    problem = refused(diameter=40.0, bottom_diameter=30.0, depth=4.0, width=3.0)
    assert isinstance(problem, Contradiction)
    assert problem.fields == ("diameter", "bottom_diameter", "depth")
    assert problem.otherwise["depth"].value == pytest.approx(5.0)
    problem = refused(diameter=40.0, depth=4.0, width=3.0, bottom_width=2.0)
    assert isinstance(problem, Contradiction)
    assert set(problem.fields) == {"width", "bottom_width"}


def test_too_little_says_what_would_do() -> None:
    problem = refused()
    assert isinstance(problem, Missing)
    assert problem.faults[0].message.say() == "Give the diameter, the depth (or the bottom diameter) and the width."
    problem = refused(diameter=40.0, width=3.0)
    assert {fault.field for fault in problem.faults} == {"bottom_diameter", "depth"}


@pytest.mark.parametrize(
    ("values", "field", "words"),
    [
        ({"diameter": 40.0, "bottom_diameter": 42.0, "width": 3.0}, "bottom_diameter", "must be smaller than Ø40 mm"),
        ({"where": "bore", "diameter": 40.0, "bottom_diameter": 38.0, "width": 3.0}, "bottom_diameter", "in a bore"),
        ({"where": "bore", "bottom_diameter": 40.0, "depth": 25.0, "width": 3.0}, "depth", "leaves no bore"),
        ({"diameter": 10.0, "depth": 5.0, "width": 3.0}, "depth", "reaches the axis"),
        ({"where": "face", "diameter": 10.0, "width": 6.0, "depth": 1.0}, "width", "reaches the axis"),
        ({"diameter": 40.0, "depth": 4.0, "width": 3.0, "bottom_radius": 2.0}, "bottom_radius", "at most R1.500 mm"),
        ({"diameter": 40.0, "depth": 4.0, "width": 8.0, "edge_radius": 5.0}, "edge_radius", "at most R4.000 mm"),
        (
            {"diameter": 40.0, "depth": 4.0, "width": 8.0, "edge_radius": 1.0, "from_end": 0.5},
            "edge_radius",
            "past the end face",
        ),
        ({"diameter": 40.0, "depth": 9.0, "width": 3.0, "first_wall": math.radians(30.0)}, "width", "closes before"),
    ],
)
def test_what_cannot_be_says_why_at_its_field(values: dict[str, Any], field: str, words: str) -> None:
    problem = refused(**values)
    assert isinstance(problem, Impossible)
    assert [fault.field for fault in problem.faults] == [field]
    assert words in problem.faults[0].message.say()


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan, math.inf, 1e9])
def test_a_value_that_cannot_be_meant_is_refused_at_its_field(bad: float) -> None:
    problem = refused(diameter=bad, depth=1.0, width=1.0)
    assert isinstance(problem, OutOfRange)
    assert problem.faults[0].field == "diameter"


def test_a_radius_takes_no_more_than_its_lines_have() -> None:
    points = (Point(0.0, 0.0), Point(5.0, 0.0), Point(5.0, 5.0))
    with pytest.raises(DoesNotFit) as caught:
        rounded(points, (6.0,))
    assert caught.value.index == 0
    assert caught.value.largest == pytest.approx(5.0)


wild = st.one_of(st.floats(), st.floats(-4.0, 3.0).map(lambda power: 10.0**power), st.just(0.0))


@settings(max_examples=tries(120), deadline=None)
@given(st.fixed_dictionaries({name: st.none() | wild for name in NUMBERS} | {"where": WHERE}))
def test_any_floats_give_a_right_groove_or_a_sentence(values: dict[str, Any]) -> None:
    try:
        found = groove(**values)
        volume = solve(build(GrooveInputs, values)).results.volume
    except Problem as problem:
        said = [fault.message.say() for fault in problem.faults if fault.field in SPECS]
    else:
        low = -1.0 if found.where == "bore" else 1.0
        half = found.sizes["width"] if found.where == "face" else found.sizes["depth"]
        assert found.sizes["diameter"] - found.sizes["bottom_diameter"] == pytest.approx(2 * low * half, abs=1e-6)
        assert volume > 0.0
        assert found.cut.bounds.r_min > -1e-6
        return
    assert said
    assert all(said)
