"""Centre holes: the standard's sizes against the geometry of their cones, the force that keeps a point in."""

from __future__ import annotations

from itertools import pairwise
from math import atan2, radians, sqrt, tan

import pytest

from calc.contour import Arc, Point
from calc.language.problems import OutOfRange
from calc.questions.shapes.centre_hole import CentreHoleInputs, solve
from calc.shapes.centre_holes import CentreForm, centre_holes


@pytest.mark.parametrize(
    ("size", "form", "depth"),
    [  # cone depths that ISO 6411 prints beside forms A and B, from memory
        ("1", "A", 0.97),
        ("2", "A", 1.95),
        ("4", "A", 3.90),
        ("10", "A", 9.70),
        ("1", "B", 1.27),
        ("2", "B", 2.54),
        ("4", "B", 5.05),
        ("6.3", "B", 7.36),
    ],
)
def test_the_cones_are_as_deep_as_the_standard_prints(size: str, form: CentreForm, depth: float) -> None:
    found = solve(CentreHoleInputs(centre_form=form, centre_size=size)).results
    assert found.cone_depth == pytest.approx(depth, abs=0.011)


@pytest.mark.parametrize(
    ("size", "depth"),
    [("1", 1.9), ("1.6", 2.9), ("2", 3.7), ("2.5", 4.6), ("3.15", 5.9), ("4", 7.4), ("6.3", 11.5), ("10", 18.4)],
)
def test_cone_and_pilot_together_are_the_depth_that_din_332_prints(size: str, depth: float) -> None:
    # DIN 332-1, least depth of form A, from memory
    assert solve(CentreHoleInputs(centre_size=size)).results.depth == pytest.approx(depth, abs=0.06)


def test_sizes_rise_by_the_r10_series_and_cones_are_a_little_more_than_twice_the_pilot() -> None:
    rows = list(centre_holes().values())
    for smaller, larger in pairwise(rows):
        assert larger.pilot / smaller.pilot == pytest.approx(10**0.1, rel=0.03)
        for name in ("cone", "protected", "pilot_length", "largest_arc", "smallest_arc"):
            assert getattr(larger, name) > getattr(smaller, name)
    for row in rows:
        assert 2.0 < row.cone / row.pilot < 2.2
        assert row.cone < row.protected
        assert row.smallest_arc < row.largest_arc


def test_the_contour_runs_from_the_rim_over_both_cones_to_the_tip() -> None:
    chain = solve(CentreHoleInputs(centre_form="B", centre_size="4")).contour
    assert chain is not None
    spots = [(round(2 * each.end.r, 3), round(each.end.z, 3)) for each in chain]
    assert 2 * chain.start.r == 12.5
    assert spots[:3] == [(8.5, -1.155), (4.0, -5.052), (4.0, -8.552)]
    assert spots[3][0] == 0.0


def test_the_force_that_keeps_a_point_in_is_its_cones() -> None:
    found = solve(CentreHoleInputs(radial_load=1000.0)).results
    assert found.force_to_keep == pytest.approx(2 * 1000.0 * tan(radians(30.0)))


def test_too_little_and_too_much_force_are_pointed_out() -> None:
    def about(force: float) -> list[str]:
        asked = CentreHoleInputs(radial_load=1000.0, tailstock_force=force)
        return [caution.about for caution in solve(asked).cautions]

    assert about(800.0) == ["tailstock_force"]
    assert about(2000.0) == []
    assert about(12_000.0) == ["pressure"]


def test_an_arc_has_its_limits_and_touches_the_points_cone_midway() -> None:
    answer = solve(CentreHoleInputs(centre_form="R", centre_size="4"))
    assert (answer.results.largest_arc, answer.results.smallest_arc) == (12.5, 10.0)
    assert answer.results.written == "ISO 6411 - R 4/8.5"
    assert answer.contour is not None
    arc = next(each for each in answer.contour if isinstance(each, Arc))
    assert arc.radius == pytest.approx(11.25)
    assert (2 * arc.start.r, 2 * arc.end.r) == pytest.approx((8.5, 4.0))
    middle = (8.5 + 4.0) / 4  # where a line of 30 degrees to the axis touches: the radius to it is square to the line
    touch = Point(arc.centre.z + sqrt(arc.radius**2 - (arc.centre.r - middle) ** 2), middle)
    assert atan2(arc.centre.r - touch.r, touch.z - arc.centre.z) == pytest.approx(radians(60.0))
    assert answer.results.cone_depth == pytest.approx(arc.start.z - arc.end.z)


@pytest.mark.parametrize("size", list(centre_holes()))
def test_the_recess_of_form_c_has_a_wall_of_sixty_degrees_between_its_listed_diameters(size: str) -> None:
    """DIN 332-1 lists floor, rim and depth one by one, from memory; its wall is drawn with 60 degrees."""
    row = centre_holes()[size]
    wall = (row.recess_rim - row.recess_floor) / 2 / row.recess_depth
    assert wall == pytest.approx(tan(radians(30.0)), abs=0.06 / row.recess_depth)
    assert row.cone < row.recess_floor < row.recess_rim


@pytest.mark.parametrize(("size", "rim"), [("1", 5.0), ("2", 8.5), ("4", 16.0), ("10", 40.0)])
def test_form_c_protects_its_cone_with_a_recess(size: str, rim: float) -> None:
    # DIN 332-1, rim of form C, from memory
    answer = solve(CentreHoleInputs(centre_form="C", centre_size=size))
    assert answer.results.rim_diameter == rim
    assert answer.results.written == f"DIN 332 - C {size}/{rim:g}"
    plain = solve(CentreHoleInputs(centre_form="A", centre_size=size)).results
    row = centre_holes()[size]
    assert (answer.results.recess_diameter, answer.results.recess_depth) == (row.recess_floor, row.recess_depth)
    assert answer.results.cone_depth == pytest.approx(plain.cone_depth + row.recess_depth)
    assert answer.contour is not None
    assert [point.label for point in answer.points][:3] == ["rim", "floor of the recess", "cone begins"]
    floor = list(answer.contour)[1]
    assert (floor.start.z, floor.start.r) == pytest.approx((floor.end.z, row.recess_floor / 2))


@pytest.mark.parametrize("force", [0.0, -1.0, float("nan"), float("inf")])
def test_a_force_that_cannot_be_meant_is_refused(force: float) -> None:
    with pytest.raises(OutOfRange):
        solve(CentreHoleInputs(tailstock_force=force))
