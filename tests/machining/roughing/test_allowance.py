"""The contour with its allowances: against the Minkowski sum of part and rectangle by a general geometry library."""

import math
import random
from itertools import pairwise

import pytest
import shapely

from calc.contour import Arc, Chain, ContourError, Element, Line, Point, fillet
from calc.machining.roughing.allowance import kept
from tests.tool.nose_path.contours import polyline

FINE = 0.02
"""rad: steps along arcs of the reference; on an edge of 0.9 they miss less than 0.0001 mm² of area each."""


def shaft(corners: list[tuple[float, float]]) -> Chain:
    return Chain(tuple(Line(Point(*a), Point(*b)) for a, b in pairwise(corners)))


def metal(chain: Chain, back: float) -> shapely.Polygon:
    """The part below a contour from the axis, in front of a Z."""
    places = polyline(chain.elements, FINE)
    whole = shapely.Polygon([*places, (places[-1][0], -9.0), (places[0][0], -9.0)])
    return whole.intersection(shapely.box(back, 0.0, 99.0, 99.0))


def grown(chain: Chain, back: float, along_z: float, along_x: float) -> shapely.Polygon:
    """The part and the rectangle of the allowances at every place of its contour."""
    pieces = [metal(chain, -999.0)]
    steps = [(dz, dr) for dz in (-along_z, along_z) for dr in (-along_x, along_x)]
    for a, b in pairwise(polyline(chain.elements, FINE)):
        pieces.append(shapely.MultiPoint([(p[0] + dz, p[1] + dr) for p in (a, b) for dz, dr in steps]).convex_hull)
    return shapely.union_all(pieces).intersection(shapely.box(back, 0.0, 99.0, 99.0))


def random_shaft(seed: int) -> Chain:
    """Walls, cones and grooves larger than any allowance, some of their corners rounded."""
    chance = random.Random(seed)
    z, r, corners = 0.0, chance.uniform(20.0, 25.0), [(0.0, 0.0)]
    corners.append((0.0, r))
    for _ in range(chance.randint(2, 6)):
        z -= chance.uniform(2.5, 6.0)
        corners.append((z, r))
        r += chance.choice([-1.0, 1.0]) * chance.uniform(2.5, 5.0)
        z -= chance.choice([0.0, chance.uniform(0.5, 3.0)])
        corners.append((z, r))
    corners.append((z - 5.0, r))
    found: list[Element] = []
    for line in shaft(corners):
        size = chance.choice([0.0, 0.4, 0.9])
        try:
            found += fillet(found.pop(), line, size)[0].elements if size and found else [line]
        except (ContourError, IndexError):
            return random_shaft(seed + 1000)
    return Chain(tuple(found))


@pytest.mark.parametrize("seed", range(30))
@pytest.mark.parametrize(("along_z", "along_x"), [(0.1, 0.3), (0.3, 0.0), (0.0, 0.2)])
def test_a_part_keeps_the_rectangle_of_both_allowances_everywhere(seed: int, along_z: float, along_x: float) -> None:
    chain = random_shaft(seed)
    found = kept(chain, "right", along_z, along_x)
    assert found is not None
    back = chain.end.z + 1.0
    wanted, got = grown(chain, back, along_z, along_x), metal(found, back)
    assert wanted.symmetric_difference(got).area < 1e-3


def low_steps(seed: int) -> Chain:
    """Steps up and down, upright and sloped, most of them lower than what is kept along X."""
    chance = random.Random(seed)
    z, r, corners = 0.0, 20.0, [(0.0, 0.0), (0.0, 20.0)]
    for _ in range(4):
        z -= chance.uniform(2.5, 6.0)
        corners.append((z, r))
        r += chance.choice([-1.0, 1.0]) * chance.uniform(0.05, 0.4)
        z -= chance.choice([0.0, 0.0, 0.1, 1.0])
        corners.append((z, r))
    return shaft([*corners, (z - 5.0, r)])


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize(("along_z", "along_x"), [(0.1, 0.3), (0.0, 0.3)])
def test_steps_lower_than_what_is_kept_of_them_keep_it_too(seed: int, along_z: float, along_x: float) -> None:
    chain = low_steps(seed)
    found = kept(chain, "right", along_z, along_x)
    assert found is not None
    back = chain.end.z + 1.0
    wanted, got = grown(chain, back, along_z, along_x), metal(found, back)
    assert wanted.symmetric_difference(got).area < 1e-3


@pytest.mark.parametrize(("step", "wall"), [(0.2, -4.9), (-0.2, -5.1)])
def test_a_step_of_0_2_that_keeps_0_3_is_moved_with_both_its_diameters(step: float, wall: float) -> None:
    """Its wall keeps 0.1 on the side from which it is cut and stays 0.2 high."""
    found = kept(shaft([(0.0, 10.0), (-5.0, 10.0), (-5.0, 10.0 + step), (-9.0, 10.0 + step)]), "right", 0.1, 0.3)
    assert found is not None
    ends = [tuple(each.end) for each in found]
    assert ends == [pytest.approx(end) for end in ((wall, 10.3), (wall, 10.3 + step), (-9.0, 10.3 + step))]


@pytest.mark.parametrize("seed", range(8))
def test_travelled_the_other_way_with_the_tool_on_the_left_it_is_the_same(seed: int) -> None:
    chain = random_shaft(seed)
    there, back = kept(chain, "right", 0.2, 0.3), kept(chain.reversed(), "left", 0.2, 0.3)
    assert there is not None
    assert back is not None
    assert back.length == pytest.approx(there.length, abs=1e-9)
    assert metal(back.reversed(), -99.0).symmetric_difference(metal(there, -99.0)).area < 1e-6


@pytest.mark.parametrize(("wide", "leaves"), [(0.59, False), (0.61, True)])
def test_a_groove_narrower_than_both_walls_allowances_is_gone(wide: float, *, leaves: bool) -> None:
    """0.3 on each wall."""
    groove = shaft([(0.0, 9.0), (-5.0, 9.0), (-5.0, 7.0), (-5.0 - wide, 7.0), (-5.0 - wide, 9.0), (-12.0, 9.0)])
    assert (kept(groove, "right", 0.3, 0.1) is not None) == leaves


def test_a_cone_moves_along_both_axes_and_a_line_that_goes_on_stays_one_line() -> None:
    """A cone that rises toward the chuck keeps 0.1 along Z toward the front and 0.3 along X."""
    cone = shaft([(0.0, 5.0), (-4.0, 8.0), (-8.0, 11.0)])
    found = kept(cone, "right", 0.1, 0.3)
    assert found is not None
    assert [tuple(each.start) + tuple(each.end) for each in found] == [pytest.approx((0.1, 5.3, -7.9, 11.3))]


def test_without_allowances_it_is_the_contour_itself() -> None:
    chain = shaft([(0.0, 5.0), (-4.0, 8.0)])
    assert kept(chain, "right", 0.0, 0.0) is chain
    assert kept(chain, "right", 1e-9, 0.0) is chain
    assert kept(chain, "right", 2e-9, 0.0) is not chain


def test_half_a_ball_is_parted_where_its_wall_changes_sides() -> None:
    """A neck of R 5 from the front wall to the back wall: its halves move apart, a line of 0.2 between them at most."""
    neck = Chain((Arc(Point(5.0, 20.0), Point(-5.0, 20.0), Point(0.0, 20.0), "cw"),))
    found = kept(neck, "right", 0.1, 0.3)
    assert found is not None
    assert found.start.z == pytest.approx(4.9)
    assert found.end.z == pytest.approx(-4.9)
    lowest = math.sqrt(25.0 - 0.1 * 0.1)
    assert min(each.start.r for each in found) == pytest.approx(20.3 - lowest, abs=1e-6)
